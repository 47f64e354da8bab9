"""Pickup, shipping or delivery: what a customer says of how the cookies reach her."""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading import cues
from intake.reading.mention import Mention
from intake.reading.turns import Turn

_THEM = r"(?:them|'?em|it|these|those|the cookies|both|everything|the order|each one|'em|mine|(?:the )?biscuits|the first|las|los)"
_PATTERNS: dict[str, re.Pattern[str]] = {
    "pickup": re.compile(
        rf"\bpick(?:ing|ed)?[ -]?up\b(?! trucks?)|\bpickup\b(?! trucks?)|\bpick(?:ing)? {_THEM}(?: \w+)? ?up\b|\b(?:come|coming|swing|stop|pop|bike|walk|cycle|call|nip|run|drive)(?:ing)? (?:by|over|past|round|around|out for|in for|up for)\b(?! the phone)"
        rf"|\b(?:come|comes|coming|go|drive|run|swing by|stop by|pop over|drive over)(?: and| to| over and| by and)? (?:get|grab|fetch|collect|pick) (?:{_THEM}|up)|\bcome (?:for|get|grab) {_THEM}|\bcollect(?:ing|ed)?\b(?! quotes| money| donations|ing quotes)"
        rf"|\b(?:get|grab|fetch|scoop|snag|have) (?:{_THEM}) (?:from you|from u|off you|that morning|myself)|\b(?:grab|fetch|scoop) {_THEM}|\b(?:i|we|he|she|they|would|'?ll|ill|'d|can|could|will) (?:get|collect) {_THEM}(?= (?:the|on|from|that|at|after|before|wed\w*|thu\w*|fri\w*|sat\w*|sun\w*|mon\w*|tue\w*)\b)"
        rf"|\bcome to (?:you|u|your)\b|\b(?:i|we|she|he)(?:'?ll| can| could| will|d|'d)? come (?:at|on|the|that|by|around|over|get)\b|\bporch\b|\b(?:those|these) (?:i|we)(?:'?d| would|'?ll| will| can) (?:get|grab|pick|collect)\b|\bat your (?:place|house|door)\b|\b(?:will|to) come for (?:them|it)\b|\bsomeone will (?:pick|come|get|collect)"
        r"|\b(?:las?|los?) (?:recojo|recogemos|recoge|paso a recoger)|\brecog(?:er|erlas|erlos|emos)|\bpas(?:o|amos|ar|a) (?:por|a recoger)|\byo (?:paso|voy)|\bretir(?:o|ar)\b|\bi'?ll (?:pick|grab|come)"
    ),
    "deliver": re.compile(
        rf"\bdeliver(?:y|ed|ing|s)?\b|\bdrop(?:ped|ping)?(?: {_THEM})?[ -]?off\b|\bdrop(?:ped|ping)?(?: {_THEM})? (?:at|to|by|with|w/)\b|\bbring(?:ing)? (?:{_THEM} ?)?(?:to|out|over|by|here|along|round)\b|\b(?:you|u) (?:could |can |would |to )?bring {_THEM}\b|\b(?:run|take|carry|get) {_THEM} (?:over |round |down |up |out )?to (?:the|my|our|us|me)\b|\bdrop {_THEM} (?:round|over|in)\b|\bdelivery\b|\b(?:be )?brought to\b"
        rf"|\bleave {_THEM} (?:w/|with|at|on|by)|\ba domicilio\b|\b(?:me|nos) (?:las|los) (?:tra(?:es|e|ig\w+)|llevas?)|\b(?:las|los) llevo\b|\bentreg(?:a|ar|arlas|an|as)\b|\bllev(?:ar|arlas|as|a)\b(?! \w+ colou?r)|\btra(?:er|erlas|igan)\b"
    ),
    "ship": re.compile(
        rf"\bship(?:ped|ping|s)?\b(?! shape| theme| cookies| wheel| and)|\b(?:mail|post)(?:ing)? (?:her|him|them|my \w+|me|us)\b|\bneeds? to (?:get to|reach) (?:her|him|them|my \w+)\b|\bsend (?:[\w']+ ){{0,5}}(?:cookies|biscuits|something|some) to (?:my|her|him|our)\b|\breach (?:her|him)\b(?=[^.!?]{{0,30}}(?:by|between|before|day))|\b(?:mail|post|send|sent)(?:ed|ing)? (?:{_THEM}|a dozen|cookies|some|her|him)? ?(?:directly |straight )?(?:to (?:my|her|him|our|the|his|\d)|my (?:mom|mum|dad|son|sister|brother|daughter|friend|grand\w+)|out to)"
        r"|\bdo (?:you|u) (?:mail|post)\b|\bby (?:mail|post|usps|ups|fedex)\b|\benv[ií](?:o|os|ar|arlas|en|an)\b|\bmand(?:ar|arlas|en|an)\b|\bsend cookies\b|\bsend (?:my|her|him) (?:\w+ ){1,4}(?:a dozen|cookies|some|\d+)"
    ),
}
_SOMEONE_ELSES = re.compile(
    r"\b(?:can i pick up some|pick up the (?:kids|cake|balloons|phone|slack|tab)|picked up (?:some|a|the))\b"
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
        if _NEGATED.search(before):
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
