"""Text to be piped on cookies: quoted, said, written, by name, or refused.

A name is lettering only where the customer asks for it on cookies. A pronoun ("his name") is left as `HIS`, to be
settled by who is celebrated.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading import cues
from intake.reading.lettering_frames import SOME, changed, frames, named_beside, spelled
from intake.reading.mention import Mention
from intake.reading.turns import Turn

#: Stands for the celebrated person's name.
HIS = "(name)"

_SOME = (
    r"(?:like |about |just |only |maybe )?(?:a few|a couple|some|one|two|three|four|five|six|half|most|all|each|every|any|the (?:other|rest|others|big|front)|them|those|these|it|both|ten|twelve|twenty|\d+(?!\d|\s*[/.:-]\s*\d|\s*(?:st|nd|rd|th|am|pm|jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)|\s+(?:people|kids|guests))|a dozen|a (?:big|large) one|algunas|una|cada una|todas|ellas|las galletas"
    r"|cookies|the (?!(?:mon|tues|wednes|thurs|fri|satur|sun)day|phone|way|list|weekend|day|house|morning|evening|afternoon|same|first|second|calendar|books|fence|road|beach|lake|tab)[a-z]+(?: [a-z]+)?|one big|theirs|everything)"
)
_QUOTE = re.compile(r"[\"“”«»](?P<text>[^\"“”«»\n]{1,80})[\"“”«»]|(?<![\w])['‘](?P<t2>[^'‘’\n]{1,60})['’](?![\w])")
_CUE = re.compile(
    r"\b(?:say(?:s|ing)?|sez|read(?:s|ing)?|writ(?:e|es|ing|ten)|put|ic(?:e|ed|ing)|inscrib\w+|bear(?:s|ing)?|with|letter(?:s|ed|ing)?|word(?:s|ings?)?|texts?|phrases?|sayings?|messages?|initials?|on (?:them|one|it|half|each|every|all|most|a few|a couple|a dozen|a third|a quarter|some|the|\d+|two|three|four|five|six|ten|ten of)|gets?|carry|reading|diga[n]?|escrib\w*|pongan?|piped?|spell\w*|cookies?)\b"
)
_SAY = re.compile(
    r"(?P<subject>[\w'’)]+[,:]?\s+(?:of (?:them|em|the \w+|those) |big one |should |could |can |would |to |just |ought to |all |that |which )*)?"
    r"\b(?P<verb>says?|saying|sez|read(?:s|ing)?|que diga[n]?|diga[n]?)\b(?! glasses| nook| corner| books?\b| club)\s*(?:,|:|-|like)?\s*(?P<text>[^\n.!?;]{1,70})",
    re.IGNORECASE,
)
_COOKIE_SUBJECT = re.compile(
    r"(?<!team of )(?<!group of )\b(?:one|ones|1|two|some|half|few|that|which|them|it|cookies?|cookie|sign|signs|all|should|could|can|ought|would|to|each|every|rest|others?|(?<!of )\d+|couple|big|que|algunas|unas|una|ellas|hearts|dozen|banner|plaque|the \w+s)(?:\s+(?:just|simply|only|also))*\W*$",
    re.IGNORECASE,
)
_PERSON_SUBJECT = re.compile(
    r"\b(?:he|she|they|we|i|you|who|wife|husband|hubby|husbands|mom|mum|dad|boss|everyone|everybody|team|kids|sister|brother|principal|label|note|website|page|card|invitation|invite|calendar|it already|sam|who|(?:want|wanted|like|love|wanna|need|trying|here) to)\s*(?:just|always|also|still)?\s*$",
    re.IGNORECASE,
)
_TO_END = re.compile(
    r"\s*(?:\bon (?:one|two|three|some|half|a few|a couple|it|them|each|every|all|the|\d+|any)\b|\b(?:haha+|lol|lmao|pls|plz|please|plis|(?-i:thanks)|thx|if (?:you|u|that|its|it's|possible)|en (?:dos|tres|una|algunas|todas|cada|la mitad)\b|\(|and (?:his|her|my|our|their|the)\b(?! \w+$)|and the (?:other|rest)|n the (?:other|rest)|the (?:others?|rest)\b|and (?:\w+ )?(?:that|which|the others?) |with (?:a|the|his|her|some)|in (?:gold|silver|white|black|pink|red|blue|navy|cursive|script|green|purple|big)|my |i |we |for (?:the|my|his|her)|but |because |so |algunas|unas|por favor|and \d|and then)\b).*$",
    re.IGNORECASE | re.DOTALL,
)
_PUT = re.compile(
    r"\b(?:put|puts|write|writing|add|adding|pipe|have|want|wants|need|needs|get|with|w/|do|and|escribe|escribir|pon|poner|pongan|pongas|like|want)\s+(?:down |out |just |the (?:name|names|words?|phrase|text|letters?|number|initials?|message)\s+|a |an |con )?"
    r"(?P<text>(?:(?!\b(?:put|write|pipe)\b)[^\n.!?;,]){1,60}?)\s*,?\s+(?:written |piped |printed |iced |lettered )?(?:on(?:to)?|across|en)\s+"
    + _SOME
    + r"\b",
    re.IGNORECASE,
)
_ON = re.compile(
    r"\s*,?\s(?P<w>written |piped |lettered )?on(?:to)?\s+(?P<where>" + _SOME + r")\b(?! (?:dozen|doz|dz))",
    re.IGNORECASE,
)
#: The words in front of "on them", back to where their clause begins.
_IN_FRONT = re.compile(
    r"(?:[^\n.!?;,:()]|(?<=\bMrs)\.|(?<=\bMr)\.|(?<=\bMs)\.|(?<=\bDr)\.|(?<=\bSt)\.)*$", re.IGNORECASE
)
_INITIALS = re.compile(
    r"\b(?:initials?|monogram|letters?|lettering|wording|number)\b(?:\s(?:are|is|of))?[:\s]\s*(?P<text>[A-Z0-9](?:[\w]{0,4})?(?:\s?[&+]\s?[A-Z0-9]\w{0,3})?)(?![a-z])"
)
_LABEL = re.compile(
    r"^[^\n\w]*(?:lettering|wording|text|words?|writing|message|names?(?: on (?:the )?cookies)?)\s*[:=]\s*(?P<text>[^\n]{1,80})",
    re.IGNORECASE | re.MULTILINE,
)
_NAMES = re.compile(
    r"\b(?:[Nn]ames?(?: are| is|s are| will be)?|(?:one |a |first |the )?names? (?:per|for each|on each)[^:\n]{0,20}|los nombres(?: son)?|nombres)\s*(?::|-|are|son|is)?\s*(?P<text>[A-Z][\w'’-]+(?:(?:\s*,\s*(?:and\s+|y\s+)?|\s+(?:and|&|y|n)\s+|\n\s*)[A-Z][\w'’-]+)+)"
)
_SPELLED = re.compile(r"\b(?P<text>[A-Za-z](?:-[A-Za-z]){2,12})\b")
_POSSESSED = re.compile(
    r"\b(?P<who>his|her|their|both|both their|each|of each|the|la|su|sus|[a-z]+[’']?s) (?P<n>names?|initials?|nombres?)\b(?P<after>[^.!?\n]{0,30})|\b(?:con|llev[ea]n?) (?:su|sus|el) (?P<n2>nombres?)\b|(?<=[.!?,] )(?P<n4>names?)(?= (?:only )?on (?:the|them|it|all|each|half|some))",
    re.IGNORECASE,
)
_ON_COOKIES = re.compile(
    r"\b(?:on|onto|en)\b|\bput\b|\bwrite\b|\bwith\b|\bw/|\bcon\b|\badd\b|\bpls\b|\bplease\b|\bonly\b|\bw (?=his|her|their)"
)
#: Words by which a name is asked for on cookies.
_ASKED_FOR = re.compile(
    rf"\bon(?:to)?\s(?:top of\s)?(?:{SOME}|them|it\b|the [a-z]+s\b)|\bput\b|\bwrit(?:e|ten)\b|\b(?:with|w/?|add) (?:his|her|their)\b|\bacross\b|\bpiped\b"
)
_GENERIC = frozenset("baby babys bub bubs kid child boy girl couple bride groom mom mum dad".split())
_NONE = re.compile(
    r"\b(?:don'?t|do not|dont|please don'?t) (?:write|put|pipe|letter) (?:anything|any \w+|names?|nothing|that)\b|\bnothing on (?:the|those|any|these) (?:cookies|biscuits|other)\b|\bleave (?:'?em|them|it) blank\b|\bnothing (?:is to be )?written\b|\bdon'?t bother with (?:his|her|the|any) names?\b|\b(?:no|without(?: any)?|don'?t (?:need|want)(?: any)?|skip(?: the)?|not? need(?:ing)? (?:any )?|scratch the|forget the|drop the|leave off the|minus the|lose the|omit(?: the)?|ditch(?: the)?|remove(?: the)?|take off(?: the)?|leave out(?: the)?|sin|nada de|ning[uú]n)\s+(?:any |the |a |custom |need for )?(?:names?|words?|writing|wording|lettering|letters?|text|message|initials|logo|nombres?|letras?|texto)\b(?:,? (?:or|and|nor|ni) (?:names?|words?|writing|anything|text|letras?|numbers?))?(?: (?:needed|necessary|required|please|on (?:them|any|it)))?"
    r"|\bleave (?:the |his |her |their |all )?(?:names?|words?|writing|wording|lettering) (?:off|out)\b|\bnothing (?:needs to be |to be |need be )?(?:written|piped|printed|lettered)\b|\b(?:rather not|not want|n'?t want) (?:to )?(?:see |have )?(?:his|her|their|any|the) (?:name|words?|writing)|\b(?:nada|no) escrito\b|\bnothing on them\b|\bno need (?:for|to (?:write|put)) [\w ]{0,12}(?:names?|words?|anything|writing)|\bleave (?:them|it|em) (?:blank|plain)\b|\b(?:just )?plain,? no (?:text|names?)|\bnot? writing\b|\bno (?:le |les )?pong\w+ (?:el |los |ning[uú]n )?nombres?\b|\bnothing (?:in|with) writing\b"
)
_ONE_TEXT = re.compile(
    r"\b(?:and|with|plus|also|,)\s+(?:just\s+)?(?:one|1|a)\s+(?:big\s+one\s+)?(?P<text>(?:[A-Z][\w'’!]*)(?:\s+(?:[A-Z0-9][\w'’!]*|of|the|to|on|and|&)){1,6})(?=\s*(?:$|[.,!?;\n]|please|pls))"
)
_WITH = re.compile(
    r"\b(?:\d+|one|two|three|four|five|six|ten|half|some|a few|a couple)(?: [a-z]+){0,2}?(?: of (?:them|'?em|those|the \w+))? (?:with|w/?|con) (?:an? )?"
    r"(?P<text>[A-Z0-9][\w&+'’!]*(?:\s+(?:[A-Z0-9&+][\w&+'’!]*|of|the|to|and)(?=\s|$|[.,!?]))*)"
)
_COLON = re.compile(
    r"\b(?:[Oo]n (?:one|two|half|some|a few|\d+|the \w+)(?: of them| cookies?)?|(?:the )?(?:cookies?|wording|text|message|lettering))\s*:\s*(?P<text>[A-Z\"“][^\n.!?;]{1,60})"
)
_LATER = re.compile(
    r"\bhave ?n'?t (?:told|decided|picked|chosen|settled)\b|(?:will|'ll|ill|gonna|going to) (?:send|get|text|email|give|have)\b[^.!?\n]{0,24}\b(?:list|names?|them|it|wording|spelling)\b|\blist (?:to (?:come|follow)|attached|coming)\b|\bnames? (?:to (?:come|follow)|tbd|later)\b|\bsend (?:you )?(?:a|the) list\b"
)
_TAG = re.compile(r"\b(?:tags?|card|note|label|sticker|box(?:es)?|memo|subject)\b[^.!?\n]{0,24}$")
_NOT_TEXT = re.compile(
    r"^(?:me|us|you|it|them|a lot|your|the order|in\b|up\b|more|cookies|love to|some\b|order|to\b|that\b|this\b|our\b|an?\b(?! [A-Z0-9])|if\b|all\b|so\b|i\b|we\b|he\b|she\b|they\b|is\b|are\b|be\b|not\b|no\b|yes\b|half\b|any\b|going|coming|working|happy on|off|out|down|sitting|from\b|my\b|get\b|let\b|what\b|how\b)",
    re.IGNORECASE,
)
_LEAD = re.compile(
    r"^(?:put|write|add|pipe|just|please|pls|maybe|can (?:you|u|one)|could (?:you|u)|the (?:words?|name|phrase|text|letters?|number|initials?)|words?|name|letters?|number|one that says|like|also|and|with|yes|yea|yeah|yep|then|so|his name(?: is)?|her name(?: is)?|a|an|the name)\s+",
    re.IGNORECASE,
)


def find(turn: Turn) -> Iterator[Mention]:
    """Lettering wanted (`add`) or refused (`drop`), and lists promised for later (value (), with a doubt)."""
    taken: list[tuple[int, int]] = []
    text, low = turn.text, turn.low

    def give(value: str, start: int, end: int, rule: str) -> Iterator[Mention]:
        if any(start < e and end > s for s, e in taken):
            return
        value = " ".join(value.strip(" \t,:;-–—'\"“”‘’").split())
        if not value or value == "I" or len(value) > 80:
            return
        taken.append((start, end))
        yield Mention("lettering", value, turn.index, start, end, rule, op="add")

    for m in _NONE.finditer(low):
        if re.match(r"\s*(?:that|cute)", low[m.end() : m.end() + 6]):
            continue
        taken.append(m.span())
        yield Mention("lettering", "", turn.index, m.start(), m.end(), "no lettering wanted", op="drop")
    for m in _LATER.finditer(low):
        sentence = turn.shadow.sentence(m.start())
        if re.search(r"\bnames?|wording|spelling|list\b", low[sentence[0] : sentence[1]]):
            yield Mention(
                "lettering",
                (),
                turn.index,
                m.start(),
                m.end(),
                "a list of names to come",
                op="later",
                doubt="the names are still to come",
            )
    for m in _QUOTE.finditer(text):
        said = m["text"] or m["t2"] or ""
        start, end = m.start("text" if m["text"] else "t2"), m.end("text" if m["text"] else "t2")
        clause = turn.shadow.sentence(m.start())
        before, after = low[clause[0] : m.start()], low[m.end() : max(clause[1], m.end() + 24)]
        if (
            re.search(r"\btheme(?:'s| is| of|:)?\s*$|\btema(?: de)?\s*$", before)
            or re.match(r"\s*themed?\b", after)
            or _TAG.search(before)
        ):
            taken.append((m.start(), m.end()))
            continue
        if re.search(r"\b(?:nothing|not|don'?t|no)\b[^.]{0,20}\b(?:says?|saying|with)\s*$", before):
            continue
        near = before[-70:] + " " + after[:50]
        number = re.search(r"\b\d{1,3}\s*$", before)
        chained = bool(taken) and re.fullmatch(r"[\"“”'’]?\s*(?:,|and|&|or|/|;|\s)*\s*", text[taken[-1][1] : m.start()]) is not None
        if number or chained or _CUE.search(near) or turn.asked & {"lettering"}:
            yield from give(said, start, end, "quoted text")
    for m in _LABEL.finditer(text):
        if not re.match(r"\s*(?:none|no|n/a)\b", m["text"], re.IGNORECASE):
            yield from give(m["text"], m.start("text"), m.end("text"), "a line for the lettering")
    for m in _NAMES.finditer(text):
        names = [
            n.strip() for n in re.split(r"\s*,\s*(?:and\s+|y\s+)?|\s+(?:and|&|y|n)\s+|\n\s*", m["text"]) if n.strip()
        ]
        if any(m.start() < e and m.end() > s for s, e in taken):
            continue
        at = m.start("text")
        for name in names:
            begin = text.index(name, at)
            yield from give(name, begin, begin + len(name), "a list of names")
            at = begin + len(name)
    for said, start, end, rule in frames(text, low, turn.asked == {"lettering"}):
        yield from give(said, start, end, rule)
    for said, start, end, rule in changed(text, low):
        yield from give(said, start, end, rule)
    for m in _SAY.finditer(text):
        before = low[turn.shadow.sentence(m.start("verb"))[0] : m.start("verb")]
        if (
            _TAG.search(before)
            or re.search(r"\b(?:nothing|not|don'?t|no|without anything)\b(?:\s\w+){0,2}\s*(?:that\s)?$", before)
            or _PERSON_SUBJECT.search(before)
            or (re.search(r"\b(?:is|was|keeps|are|were)\s*$", before) and m["verb"].lower() == "saying")
        ):
            continue
        if m["verb"].lower() in ("say", "read", "reads", "reading") and not _COOKIE_SUBJECT.search(before):
            continue
        if (
            not _COOKIE_SUBJECT.search(before)
            and before.strip()
            and m["verb"].lower() not in ("saying", "que digan", "que diga", "digan", "diga")
        ):
            continue
        said, start = m["text"], m.start("text")
        if before.endswith("to ") and re.match(r"\s*(?:thanks?|thank you)\W*$", said.lower()):
            continue
        if re.match(r"\s*(?:thank(?:s| you)?|hi|hello|goodbye|bye|farewell|sorry|congrat\w*) (?:to|for)\b|\s*(?:on|in|at) (?:your|the|my)\b|\s*(?:this|that|so|it)\b", said.lower()):
            continue
        second = re.search(
            r"\b(?:and|n|&)\s+(?:the (?:other|rest)[\w ]{0,12}?|half|one|some|another)\s+(?P<v>say(?:s|ing)?\s+|)(?P<t>[A-Z\"“][^\n.!?;]{1,40})$",
            said,
        )
        if second:
            yield from give(
                _trim(second["t"]), start + second.start("t"), start + second.end("t"), "words after “says”"
            )
            said = said[: second.start()]
        kept = _trim(said)
        if kept and not (
            re.match(r"(?:hi|hello|its|it's|yes|no|i|we|she|he|they|you|that)\b", kept.lower())
            and kept.islower()
            and len(kept.split()) > 3
        ):
            yield from give(kept, start, start + len(kept), "words after “says”")
    for m in _COLON.finditer(text):
        if re.search(r"\bon\b", m[0].lower()[:4]) or "lettering" in turn.asked:
            yield from give(m["text"], m.start("text"), m.end("text"), "a text after a colon")
    for m in re.finditer(r"\b(?:have|with|has|put) an? (?P<text>\d{1,3})(?= on\b|\s*[?.!,]|\s*$)", low):
        yield from give(m["text"], m.start("text"), m.end("text"), "a number on cookies")
    for m in _WITH.finditer(text):
        if not re.fullmatch(r"\d+", m["text"]) or re.match(r"\s+on\b", low[m.end() :]):
            yield from give(m["text"], m.start("text"), m.end("text"), "so many with a text")
    for m in _ONE_TEXT.finditer(text):
        yield from give(m["text"], m.start("text"), m.end("text"), "one with a text")
    for m in _PUT.finditer(text):
        yield from _named_or_text(
            turn,
            m["text"],
            m.start("text"),
            give,
            "words to put on cookies",
            strict=m[0].split()[0].lower() not in ("put", "write", "writing", "add", "pipe"),
        )
    floor = 0
    for m in _ON.finditer(text):
        front = text[max(0, m.start() - 60, floor) : m.start()]
        found = _IN_FRONT.search(front)
        clause_text, at = (found[0], m.start() - len(found[0])) if found else ("", m.start())
        floor = m.end()
        if m["w"]:
            words = _LEAD.sub("", clause_text.strip())
            yield from give(
                words,
                at + clause_text.rindex(words) if words in clause_text else at,
                m.start(),
                "words written on cookies",
            )
    for m in _INITIALS.finditer(text):
        if m["text"].isdigit() and "lettering" not in turn.asked and not re.match(r"\s*(?:on|in|across)\b", low[m.end() :]):
            continue
        if m["text"].islower() or cues.SKIP.search(low, m.end(), m.end() + 30):
            continue
        yield from give(m["text"], m.start("text"), m.end("text"), "initials or letters")
    for name, start, end in named_beside(text):
        sentence = turn.shadow.sentence(start)
        if _ASKED_FOR.search(low[turn.shadow.sentence(max(0, start - 40))[0] : sentence[1]]):
            yield from give(name[:1].upper() + name[1:], start, end, "a name told beside “name”")
    for said, start, end, rule in spelled(text):
        yield from give(said, start, end, rule)
    for m in _POSSESSED.finditer(text):
        if any(m.start() < e and m.end() > s for s, e in taken):
            continue
        sentence = turn.shadow.sentence(m.start())
        around = low[sentence[0] : sentence[1]]
        if re.match(r"\s*(?:is|'s|are|was|es)\b|\s+[A-Z]", m["after"] or "") and not re.search(
            r"\bon\b", m["after"] or ""
        ):
            continue
        if m["n2"] or m["n4"] or _ON_COOKIES.search(around):
            who = (m["who"] or "").lower()
            if re.fullmatch(
                r"(?:kid|child|person|swimmer|player|guest|student|girl|boy|lad|one|everyone|teacher)['’]?s|kids|lads['’]?|girls['’]?|boys['’]?",
                who,
            ):
                continue
            if re.search(r"\b(?:under|in) (?:the|my|his|her) name", around) or (
                who == "the" and not re.search(r"\bon\b", around)
            ):
                continue
            yield from give(
                HIS
                if re.sub(r"['’]?s$", "", who) in _GENERIC or who in ("both", "both their", "of each", "his", "her", "their", "the", "la", "su", "sus", "")
                else re.sub(r"['’]?s$", "", m["who"]).capitalize(),
                m.start(),
                m.end("n") if m["n"] else m.end(),
                "the name of who is celebrated",
            )
    for m in _SPELLED.finditer(text):
        if len(m["text"]) > 6 or "lettering" in turn.asked:
            yield from give(m["text"].replace("-", "").capitalize(), m.start(), m.end(), "spelled out")


def _named_or_text(turn: Turn, said: str, start: int, give: object, rule: str, *, strict: bool) -> Iterator[Mention]:
    words = said.strip()
    begin = start + said.index(words) if words else start
    pronoun = re.fullmatch(
        r"(?:his|her|their|the|each|su|sus)\s+(?:names?|initials?|nombres?)(?: down)?", words.lower()
    )
    if pronoun:
        yield from give(HIS, begin, begin + len(words), "the name of who is celebrated")  # type: ignore[operator]
        return
    lead = _LEAD.match(words)
    if lead:
        words, begin = words[lead.end() :], begin + lead.end()
    if not words or re.search(r"\bnames?\b", words.lower()) or re.match(r"\d{1,2}:\d\d|(?:about|around) \d", words):
        return
    if strict and not re.match(r"[A-Z0-9\"“]", words):
        return
    if _NOT_TEXT.match(words) or (strict and not re.search(r"[A-Z0-9]", words)):
        return
    if strict and re.match(r"(?:\d+$|\d+ [a-z])", words) and not re.fullmatch(r"\d{1,3}", words):
        return
    if len(words.split()) > 8:
        return
    pair = re.fullmatch(r"(?P<a>[A-Z][\w'’-]+) (?:and|&|y) (?P<b>[A-Z][\w'’-]+)", words)
    if pair and re.match(r"[^.!?\n]{0,30}\b(?:each|respectively)\b", turn.low[begin + len(words) :]):
        yield from give(pair["a"], begin, begin + len(pair["a"]), rule)  # type: ignore[operator]
        yield from give(pair["b"], begin + pair.start("b"), begin + pair.end("b"), rule)  # type: ignore[operator]
        return
    yield from give(words, begin, begin + len(words), rule)  # type: ignore[operator]


def _trim(said: str) -> str:
    """The words after "says" up to where the customer goes on to something else."""
    said = said.strip(" \t\"“”'‘’")
    loud = re.match(r"(?:[A-Z0-9][A-Z0-9'’&!+-]*(?:\s+|$)){1,8}", said)
    if loud and len(re.sub(r"[^A-Z]", "", loud[0])) >= 2 and len(loud[0].strip()) < len(said):
        rest = said[loud.end() :]
        if rest[:1].islower():
            return loud[0].strip()
    cut = _TO_END.sub("", said).strip() or re.split(r"\s+(?:lol|haha+|lmao|please|pls|plz|thx)\b|[.,!?\n]", said)[0].strip()
    cut = re.split(r",\s+(?!\w+\s*$)|\s{2,}|\n", cut)[0]
    return cut.strip(' ,:-"“”')
