"""Pickup, shipping or delivery: what a customer says of how the cookies reach her."""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading import cues
from intake.reading.mention import Mention
from intake.reading.turns import Turn

#: The cookies, as the object of fetching, bringing or sending.
_THEM = (
    r"(?:them(?: all| both)?|'?em|it|these|those|the (?:cookies|biscuits|order|lot|batch|dozen|goods|goodies|box(?:es)?|first|(?:\d+ )?(?:dozen )?(?:[a-z]+ )?[a-z]+s)|my (?:cookies|order|lot|[a-z]+s)"
    r"|both(?: \w+)?|all of (?:them|it)|everything|each one|mine|ours|(?:his|hers|theirs)|\w+'s|las|los|las galletas)"
)
#: Who may come for them: anybody but the baker.
_WHO = (
    r"(?:i|we|he|she|they|someone|somebody|one of (?:us|the \w+|my \w+|our \w+)|(?:my|our|his|her|the|their) (?:[\w'-]+ ){1,3}?|[a-z]+ )"
)
_MAY = r"(?:'?ll|'?d|'?m| will| can| could| would| might| may| should| shall| am| is| are|'?re|'?s)?(?: (?:just|probably|then|also|prob|happily|maybe|gonna|going to|able to|happy to|plan(?:ning)? to|want to|need to|hoping to|like to|prefer to|have to|be))*"
_COME = r"(?:come|comes|coming|swing(?:s|ing)?|stop(?:s|ping)?|pop(?:s|ping)?|run(?:s|ning)?|drop(?:s|ping)?|nip(?:s|ping)?|call(?:s|ing)?|pass(?:es|ing)?|head(?:s|ing)?|drive|drives|driving|cycle|cycling|bik(?:e|ing)|walk(?:s|ing)?|go|goes|going|zip|dash|whip|roll|shoot|scoot|duck|hop|dart|slide|cruise|nick|skip|trundle|jog|cut|be)(?! for it\b)"
_DIRECTION = r"(?:on )?(?:thru|here|there|by|thru|over|past|round|around|in|out|through|up|down|along)"
_FETCH = r"(?:get|gets|getting|grab|grabs|grabbing|fetch(?:es|ing)?|collect(?:s|ing)?|pick(?:s|ing)?(?: (?:them|'?em|it|these|those|both|mine|the [a-z]+))? ?up|scoop|snag|nab|nick|take|retrieve|claim)"
_BRING = r"(?:bring|run|carry|drop|take|haul|drive|get|cart|leave|deliver|pop|walk|hand|cycle|bike)"
#: Who comes and how, in front of "for them" and "to your door".
_ONE = r"(?:i|we|he|she|they|someone|somebody|(?:my|our|his|her|the|their) (?:[\w'-]+ ){1,3}?|[a-z]+(?= will| can|'ll))"
_MOVE = rf"(?:{_COME}|cross(?:es|ing)?|knock(?:s|ing)?|send(?:s|ing)?|stroll|trot|ride|fly|get|turn up|show up|wander|scurry|hurry|travel|make it|make my way)"
_YOURS = r"(?:yours|your (?:front |back |side )?(?:door|doorstep|place|house|kitchen|shop|step|stall|porch|gate|stand|booth|table|stoop|way|end|bakery))"
_PATTERNS: dict[str, re.Pattern[str]] = {
    "pickup": re.compile(
        rf"\bpick(?:ing|in'?|ed|s)?[ -]?up\b(?! trucks?| the (?:phone|kids|tab|slack|pace|check|cake|balloons))|\bpick-?ups?\b(?! trucks?)|\bpick(?:ing)? {_THEM}(?: \w+)? ?up\b|\b(?:come|coming|comes|swing|swinging|stop|stopping|pop|bike|walk|cycle|call|nip|run|drive|zip|dash|hop|scoot)(?:ing)? (?:on )?(?:by|over|past|round|around|out for|in for|up for)\b(?! the phone| low| out of| them| 'em| em)"
        rf"|\b{_COME}(?: {_DIRECTION})?(?: (?:to|at|from) (?:you|u|your \w+))?,?(?: and| to| &| n)? {_FETCH}(?: (?:{_THEM}|up))"
        rf"|\b{_COME} {_DIRECTION}\b[^.!?\n]{{0,28}}? (?:to|and) {_FETCH} {_THEM}(?! (?:to|there|here)\b)|(?<!how )(?<!you )\bto (?:collect|fetch|grab|pick up) {_THEM}|\b{_COME}(?: {_DIRECTION})? (?:for|after) {_THEM}(?! to\b)|\b{_COME} {_DIRECTION} (?:to )?(?:you|u|yours|your (?:house|place|kitchen|shop|door|porch|street|bakery))\b|\bcome (?:for|get|grab) {_THEM}|\bcome (?:and )?(?:get|collect) (?=at|on|around|by|the|sat|sun|mon|tue|wed|thu|fri)|\b(?:for|ready for) (?:me|us|him|her|my \w+) to (?:grab|get|collect|fetch|take)\b|\bcollect(?:ing|ed|s|ion)?\b(?! quotes| money| donations|ing quotes)"
        rf"|\b(?:{_FETCH}|have) {_THEM} (?:from|off) (?:you|u|ya|your|of you)\b|\b(?:get|grab|fetch|scoop|snag|have) {_THEM} (?:that morning|myself|in person)|\b(?:grab|grabbing|fetch|fetching|scoop|scooping|nab|snag) {_THEM}|(?<!you )(?<!u )\b(?:will|'ll|ill|can|could|would|gonna|going to|'d|id) (?:get|git|collect|pick) {_THEM}(?! (?:to|over|at)\b)"
        rf"|\b{_WHO}{_MAY} (?:get|getting|collect|take) {_THEM}(?= (?:the|on|from|that|at|after|before|around|about|this|next|wed\w*|thu\w*|fri\w*|sat\w*|sun\w*|mon\w*|tue\w*)\b)"
        rf"|\b(?:i|we|he|she|they)(?:'?ll| will|'?d| would| can| could) be with (?:you|u)\b|\bcome to (?:you|u|your)\b|\b(?:i|we|she|he|they)(?:'?ll| can| could| will|d|'d) (?:be (?:by|in|there|over|round|along|at yours)|make it (?:by|over)|come (?:at|on|the|that|by|around|over|get|up|down|mon|tue|wed|thu|fri|sat|sun)[a-z]*)\b|(?<!his )(?<!her )(?<!their )\bporch\b|\b(?:those|these) (?:i|we)(?:'?d| would|'?ll| will| can) (?:get|grab|pick|collect)\b|\b(?:be )?at (?:your|ur|yr) (?:place|house|door|kitchen)\b|\b(?:i|we|he|she|they)(?:'?d|'?ll| will| would| can| could) (?:fetch|collect|grab|get|pick up)(?= (?:from (?:you|u)|on |the \d|that |by |at |after |sat|sun|mon|tue|wed|thu|fri))|\b(?:will|to) come for (?:them|it)\b|\bsomeone will (?:pick|come|get|collect)"
        rf"|\b{_ONE}{_MAY} {_MOVE}(?: [a-z']+){{0,3}} for (?:them|'?em|these|those|mine|ours)\b(?! to (?:be|arrive|get|have|go))"
        rf"|\b{_ONE}{_MAY} (?!send|ship|mail|post|pay|drop|bring|leave){_MOVE}(?: [a-z']+){{0,2}} (?:at|to|on|by|past) {_YOURS}\b"
        rf"|\bsend(?:ing)? (?:(?:my|our|the|a|an|one of) )?(?:[\w'-]+ ){{1,3}}(?:round|over|around|by|down|up|along|out)(?: (?:to|for) (?:you|them|it|yours|'?em)\b)?(?=\s*(?:on\b|at\b|for\b|to\b|that\b|the\b|sat|sun|mon|tue|wed|thu|fri|[.,!?;\n]|$))(?! to (?:my|her|his|our|the))"
        rf"|\b(?:ready|waiting) (?:for (?:you|us|me)|at my|in my)\b"
        rf"|\b(?:cruzo|voy|paso|vengo|camino|llego|bajo|subo|mando|va|pasa|pasan|van)\b[^.!?\n]{{0,24}} por (?:ellas|ellos|las galletas|mis galletas)|\bpas(?:o|amos) yo\b|\byo mism[ao] (?:paso|voy)|\busted(?:es)? (?:pasan?|recogen?)\b"
        rf"|\b(?:i|we|he|she|(?:my|our) [\w'-]+){_MAY} (?!dropping){_MOVE} (?:by|thru|over|past|round|around|through)\b(?= (?:the|on|at|around|about|this|that|next|after|before|by|mon|tue|wed|thu|fri|sat|sun|\d)|\s*[.,!\n]|\s*$)(?! the (?:store|mall|road|cake|party|venue|dress|numbers?|list))"
        r"|\bp/u\b|\bsend (?:[\w']+ ){{1,3}}(?:for|to (?:get|fetch|collect|grab)) (?:them|it|em)\b".replace("{{", "{").replace("}}", "}")
        + r"|\b(?:las?|los?) (?:recojo|recogemos|recoge|paso a recoger)|\brecoj[oa]n?\b|\brecog(?:er\w*|emos|e|en)\b|\bpas(?:o|amos|ar|a) (?:yo )?(?:por|a recoger)|\bpas(?:o|amos) (?:el|la|ese|esa|mañana|un d[ií]a|a las)\b|\bpasa (?:el|un d[ií]a|a las)\b|\byo (?:paso|voy)|\bretir(?:o|ar)\b|\bi'?ll (?:pick|grab|come|fetch|collect)\b|\bvoy (?:por|a recoger)\b|\bvengo (?:por|a recoger)|\bbuscar(?:las|los)\b"
    ),
    "deliver": re.compile(
        rf"\bdeliver(?:y|ed|ing|s|ies)?\b(?! (?:boys?|guys?|girls?|drivers?|m[ae]n|vans?|persons?|people|trucks?|teams?|crews?|rooms?|dates?|nurses?))|\b(?:brought|carried|run|carted|driven|walked) (?:over|round|out|up|down|along|across)\b|\b(?:have|has|need|needs|want|wanted|got|must|should|ought|would like|like)\b[^.!?\n]{{0,16}} (?:to )?(?:reach|get to|arrive at|be at|go to|come to) (?=\d{{1,5}} [a-z])(?![^.!?\n]{{0,60}}\b\d{{5}}\b)|\bdrop(?:ped|ping)?(?: {_THEM})?[ -]?off\b|\bdrop(?:ped|ping)? (?:at|to|with|w/|round to|around to|over (?:at|to))\b|\bdrop(?:ped|ping)? {_THEM} (?:at|to|by|with|w/|round|around|over|off)\b(?! (?:a |just )?(?:\d{{1,3}}\b(?! [a-z]+ (?:st|street|rd|road|ave|ln|lane|dr|way|ct)\b)|dozen|half|one|two|three))|(?:please|pls|could you|can you|could u|can u|would you|you'?d|you) bring {_THEM}|\bbring(?:ing)? (?:{_THEM} ?)?(?:to|out|over|by|here|along|round|up|down)\b|\b(?:you|u) (?:could |can |would |to |be )?(?:bring|bringing) {_THEM}"
        rf"|(?<!i'll )(?<!we'll )(?<!ill )(?<!i will )(?<!we will )(?<!i can )(?<!we can )(?<!to )(?<!and )\b{_BRING}(?:ing)? {_THEM} (?:(?:over|round|around|down|up|out|across|along|straight|right|back) )*(?:to|at|by|here|in to|into)\b(?! (?:you|u|your|the post)\b)|\bbring {_THEM}(?=\s*(?:please|pls|[.,!?;\n]|$))|\bdrop {_THEM} (?:round|over|in|there|here)\b|\bdrop (?:them|em|'em)(?=\s*(?:[.,!?;\n]|$))|\b(?:be )?left (?:at|with|on|by) (?:the|my|our|\d)|\b(?:be )?brought (?:\w+ )?to\b|\b(?:have|get) (?:them|it|the \w+) (?:at|to) (?=\d|the |our |my )"
        rf"|\bleave {_THEM} (?:w/|with|at|on|by)|\ba domicilio\b|\b(?:me|nos|se|te) (?:las|los) (?:puedes? |podr[ií]as? )?(?:tra(?:es|e|er|ig\w+)|llev(?:as?|ar|o))|\b(?:las|los) llevo\b|\bentreg(?:a|ar|arlas|an|as|ues?|uen)\b|\bllev(?:ar|arlas|as|a)\b(?! \w+ colou?r)|\btra(?:er|erlas|[eé]rmelas|igan)\b"
    ),
    "ship": re.compile(
        rf"(?<!pirate )(?<!space )(?<!cruise )(?<!sailing )(?<!viking )(?<!steam )(?<!tall )(?<!rocket )\bship(?:ped|ping|s|ment)?\b(?! out\b| off\b| shape| theme| cookies| wheel| and)|\b(?:mail|post|overnight)(?:ed|ing)?(?! (?:truck|carrier|man|box|lady|call|party|man's|van)) (?:[\w'&-]+ ){{0,9}}(?:to|for) (?:\d|my|her|him|them|our|the|his|me|us|a|[a-z]+\b)|\b(?:mail|post)(?:ing)? (?:her|him|them|my \w+|me|us)\b|\bneeds? to (?:get to|reach) (?:her|him|them|my \w+)\b|\bsend (?:[\w']+ ){{0,5}}(?:cookies|biscuits|something|some|dozen|them|these|it) (?:out |off |over )?to (?:my|her|him|our|a)\b|\breach (?:her|him)\b(?=[^.!?]{{0,30}}(?:by|between|before|day))|\b(?:mail|post|send|sent)(?:ed|ing)? (?:{_THEM}|a dozen|cookies|some|her|him)? ?(?:directly |straight )?(?:to (?:my|her|him|our|the|his|\d)|my (?:mom|mum|dad|son|sister|brother|daughter|friend|grand\w+)(?! (?:\w+ )?(?:by|over|round|around|to (?:get|grab|pick|collect|fetch)|for (?:them|it|em)))|out to)"
        r"|\b(?:do|can|could|would) (?:you|u|y'?all) (?:mail|post|send)\b(?! (?:me|us|over|the (?:list|invoice|quote|total|details)|a (?:quote|picture|photo|pic|menu|list)|pics|photos|you))|\bby (?:mail|post|parcel|courier)\b|\bin the (?:mail|post)\b|\bpor (?:paqueter[ií]a|mensajer[ií]a|correo)\b|\benv[ií](?:o|os|ar|arlas|en|an|e|arle)\b|\bmand(?:ar|arlas|arle|en|an|e|arselas)\b|\bsend cookies\b|\bsend (?:my|her|him) (?:\w+ ){1,4}(?:a dozen|cookies|some|\d+)|\btracking\b"
    ),
}
_SOMEONE_ELSES = re.compile(
    r"\b(?:can i pick up some|pick up the (?:kids|cake|balloons|phone|slack|tab)|(?<!be )picked up (?:some|a|the))\b"
)
_TO_KNOW = re.compile(r"\b(?:do (?:you|u|ya|y'?all)(?: guys)?|hacen|hace)\b")
_NEGATED = re.compile(r"\b(?:not|no|can'?t|cannot|don'?t|won'?t|without|no need to|sin|en vez de)\b(?:\s\w+){0,2}\s*$")
_IF = re.compile(r"\bif\b[^.!?\n]{0,60}$")


def find(turn: Turn) -> Iterator[Mention]:
    """Ways of handing over, in text order. Role: `chosen`, `asked` (do you ship?), `if` (a fallback); op `drop` if refused."""
    hits = [(m.start(), m.end(), way) for way, pattern in _PATTERNS.items() for m in pattern.finditer(turn.low)]
    last_end = -1
    for start, end, way in sorted(hits, key=lambda h: (h[0], -h[1])):
        if start < last_end:
            continue
        last_end = end
        clause_start, _ = turn.shadow.clause(start)
        sentence_start, sentence_end = turn.shadow.sentence(start)
        before = turn.low[clause_start:start]
        if _SOMEONE_ELSES.match(turn.low, start) or cues.is_past(turn.low, sentence_start, start, end):
            continue
        answers_no = re.fullmatch(r"\W*no,?\s*", before) and re.match(r"(?:i|we|he|she|they|my)\b", turn.low[start:])
        if _NEGATED.search(before) and not answers_no:
            yield Mention("handover", way, turn.index, start, end, f"{way} refused", "chosen", "drop")
            continue
        question = "?" in turn.low[end:sentence_end]
        if question and _TO_KNOW.search(turn.low, sentence_start, start):
            role = "asked"
        elif _IF.search(turn.low, sentence_start, start) and way == "pickup":
            role = "if"
        else:
            role = "chosen"
        yield Mention("handover", way, turn.index, start, end, f"words for {way}", role)
