"""Phone, e-mail, budget and postal address. The only file of the reader that imports phonenumbers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal

from intake.reading import numbers
from intake.reading.mention import Mention
from intake.reading.turns import Turn

# Atoms of RFC 5322 3.2.3 with dots between them; a domain of letters, digits and hyphens.
_EMAIL = re.compile(
    r"(?<![\w.+-])[a-z0-9!#$%&'*+/=?^_`{|}~-]{1,64}(?:\.[a-z0-9!#$%&'*+/=?^_`{|}~-]{1,64}){0,8}"
    r"@(?:[a-z0-9](?:[a-z0-9-]{0,62})\.){1,6}[a-z]{2,24}(?![\w@])",
    re.IGNORECASE,
)
_PHONE = re.compile(
    r"\+\d{1,3}(?:[ .-]?\d{1,4}){3,6}(?![\w/]|[.-]\d|:\d)|(?<![\w$£€#/.-])(?:\+\d{1,3}[ .-]?)?(?:\(\d{2,5}\)[ .-]?|\d{1,5}[ .-]){0,4}\d{3,10}(?![\w/]|[.-]\d|:\d)"
)
_PHONE_WORD = re.compile(
    r"\b(?:call|text|cell|phone|ph|tel|mobile|mob|ring|number|reach|whats|m|c|p|t|cel|llam\w+|tel[eé]fono)\b\W*(?:me |us |is |on |at |him |her |al )*\W*$"
)
_NOT_MINE = re.compile(
    r"\b(?:fax|school|venue|church|house|invoice|order|account|ref)\b\W*(?:is|at|number|no)?\W*$"
)
_MONEY = r"(?P<cur>[$£€]|usd ?|us\$)?\s?(?P<n>\d{1,3}(?:,\d{3})+(?:\.\d\d)?|\d{1,6}(?:\.\d\d)?)"
_BUDGET = (
    re.compile(
        rf"\b(?:budget(?:ed)?|presupuesto|limit|max(?:imum)?|(?:can|could|want to|looking to|willing to|like to|only) spend|(?:spend|pay|go)(?: any)? (?:more than|over)|(?:stay|keep (?:it|this|things))(?: \w+){0, 2}? (?:at|around|under|near|within|below)|set aside|doing (?:it|this) on|ceiling(?: is)?|reimburse(?: up to)?|i have|we have|spending|gastar|puedo pagar)\b"
        rf"(?:'s| is| of| around| about| max| like| up to| de| es| was| for (?:this|the cookies|these)| no more than|:|=| a?round| approximately| roughly| hasta| unos)*\s*[:~]?\s*{_MONEY}"
        r"(?P<to>\s?(?:-|to|or)\s?[$£€]?\d+)?"
    ),
    re.compile(
        rf"\b(?:under|below|less than|no more than|not more than|at most|up to|within|keep it (?:under|to|at)|max(?:imum)? of|stay under|hasta|menos de)\s+(?=[$£€]|\d+ (?:dollars|bucks|pounds|euros|pesos)){_MONEY}(?P<to>\s?(?:-|to)\s?[$£€]?\d+)?"
    ),
    re.compile(
        rf"{_MONEY}(?P<to>\s?(?:-|to)\s?[$£€]?\d+)?(?:\s?ish)?\s+(?:dollars |bucks |or so )?(?:is|was|would be|es)?\s*(?:about |around )?(?:my|our|the|mi)?\s*(?:budget|limit|max\b|maximum|ceiling|tops|presupuesto|l[ií]mite|all (?:i|we) (?:have|can))"
    ),
)
_SPENT = re.compile(
    rf"\b(?:to spend|(?:i'?m|we'?re) allowed|allowed|allows? (?:us|me|for)|approved?(?: up to)?|collected|raised|pooled|gave (?:me|us)|got us|voted(?: to spend)?|set aside|put (?:by|aside)|can'?t (?:go|do|run|stretch) (?:above|over|past|more than|beyond)|(?:no|not) more than|stretch to|tengo(?: hasta)?|(?:i|we)(?:'?ve)? got|(?:i|we)(?:'?ve| have)|stay (?:around|near|under)|aim(?:ing)? for|can do)\s+(?:about |around |up to |hasta |a total of )?{_MONEY}(?P<tail>[^.!?\n]{{0,24}})"
)
_MOST = re.compile(rf"{_MONEY}(?: bucks| dollars| pounds| quid)? (?:is (?:the most|all|as (?:high|far)|my|our|where)|to spend|set aside|put (?:by|aside)|tops|at (?:the )?most|max\b|and not a penny|is what (?:i|we) have|for (?:this|it|the cookies)\b)")
_IN_WORDS = re.compile(
    rf"\b(?:spend|over|got|have|budget(?: is| of)?|stretch to|up to|under)\s+(?P<n>{numbers.WORDS}) (?:dollars|bucks|pounds|quid|euros?)\b"
)
_QUID = re.compile(
    rf"\b(?:budget(?:'s| is)?|spend|limit(?: is)?|around|about)\s+(?:is |about |around )?(?P<n>{numbers.WORDS}) (?:quid|pounds|dollars|bucks|euros?)\b"
)
_STREET = (
    r"(?:street|st|avenue|ave|av|road|rd|lane|ln|court|ct|drive|dr|boulevard|blvd|way|place|pl|trail|trl|parkway|pkwy|terrace|ter"
    r"|circle|cir|highway|hwy|square|sq|mews|loop|row|walk|close|crescent|cres|gardens|gdns|alley|aly|path|pike|run|point|pt|cove"
    r"|bend|ridge|crossing|xing|commons|plaza|park|hill|grove|green|heights|hts|landing|manor|meadow|meadows|pass|turnpike)"
)
#: Kinds of places that are words of other things as well: only with a capital, behind words with one.
_PLACE_KIND = r"(?:Yard|Quay|Quayside|Wharf|Mill|Gate|Rise|Fields?|Bank|Vale|View|Mount|Chase|Common|End|Dock|Docks|Arcade|Parade|Mall|Pier|Cottages?|Lodge|House|Farm|Towers?|Estate|Buildings?|Side)"
_STATE = r"(?:A[KLRZ]|C[AOT]|D[CE]|FL|GA|HI|I[ADLN]|K[SY]|LA|M[ADEINOST]|N[CDEHJMVY]|O[HKR]|P[AR]|RI|S[CD]|T[NX]|UT|V[AT]|W[AIVY])"
#: A full stop only behind a short word ("St. James"): a longer one ends its sentence.
_WORD = r"(?:[A-Za-z][\w'’-]*|[A-Za-z]{1,4}\.)"
_UNIT = r"(?i:,?\s*(?:#\s?\w+|(?:apt|apartment|unit|suite|ste|floor|fl|rm|room|box|bldg|building)\.?\s?#?\w+|(?:\d+(?:st|nd|rd|th)|first|second|third|fourth|fifth|ground|top) floor))"
_CITY = rf"(?:,?\s+(?:[A-Z](?:[\w'’-]*|\w{{0,3}}\.)\s?){{1,4}},?\s+(?:{_STATE})\b\.?(?:,?\s+\d{{5}}(?:-\d{{4}})?)?|,\s*(?:[A-Z][\w'’-]*\s?){{1,3}}\s+\d{{5}}(?:-\d{{4}})?)"
_BOX = r"(?:(?:P\.?\s?O\.?\s?)?Box\s+\d+,?\s+)?"
#: A place by its name, in front of its number: "Larkspur Elementary, 300 Quarry Rd".
_PLACE_NAME = (
    r"(?:(?:[Tt]he )?(?:[A-Z][\w'’&-]*\s|\d\s){0,4}(?:Hall|School|Elementary|Church|Center|Centre|Inn|Library|Clinic|Hospital"
    r"|Pavilion|House|Club|Academy|College|University|Barn|Farm|Museum|Hotel|Studio|Gym|Arena|Chapel|Temple|kitchen|Kitchen)"
    r",\s+(?=\d))?"
)
_ADDRESS = re.compile(
    rf"{_PLACE_NAME}(?:{_BOX}\b\d{{1,5}}[A-Za-z]?\s+(?:(?:[NSEWnsew]\.?|North|South|East|West)\s+)?(?:(?!and\b|of\b|or\b|for\b|to\b|people\b|kids\b|dozen\b|dz\b|at\b|on\b|in\b|by\b|cookies\b)(?:{_WORD}|\d{{1,3}}(?:st|nd|rd|th))\s+){{1,3}}?(?i:{_STREET})\b\.?(?:\s\d{{1,4}}\b(?!\s?(?:am|pm|dozen|th|cookies)))?"
    rf"|{_BOX}\b\d{{1,5}}\s+(?i:route|rte|highway|hwy|county road|county rd|cr|state road|sr)\s+\d{{1,4}}\b)"
    rf"{_UNIT}?{_UNIT}?(?:{_CITY})?(?:{_UNIT})?"
    rf"|\b\d{{1,5}}[A-Za-z]?\s+(?:[A-Z][\w'’-]*\s+){{0,2}}{_PLACE_KIND}\b(?!\s+(?i:{_STREET})\b){_UNIT}?{_UNIT}?(?:{_CITY})?"
    rf"|\b\d{{1,5}}\s+(?:[A-Z][\w'’.-]*\s?){{1,3}}{_UNIT}?{_CITY}"
    rf"|\b(?:[Cc]alle|[Aa]venida|[Aa]v\.?)\s+(?:[A-ZÁÉÍÓÚÑ][\wáéíóúñ]*\s){{1,3}}(?:#|[Nn]o\.?\s)?\d{{1,5}}\b"
    rf"|P\.?\s?O\.?\s?Box\s+\d+{_CITY}"
    rf"|(?<=[Tt]o )(?:[A-Z][\w'’-]*\s){{1,3}}{_STATE}\s+\d{{5}}(?:-\d{{4}})?"
)
_LOOSE_ADDRESS = re.compile(rf"\b\d{{1,5}}\s+[A-Z][a-z]{{2,}}(?:['’]s)?(?:\s[A-Z][a-z]+){{0,2}}\b(?!\s+(?:cookies|dozen|people|kids)){_UNIT}?")


def emails(turn: Turn) -> Iterator[Mention]:
    for m in _EMAIL.finditer(turn.text):
        yield Mention("email", m[0], turn.index, m.start(), m.end(), "e-mail address")
    if turn.signature and (found := _EMAIL.search(turn.signature)):
        yield Mention("email", found[0], turn.index, 0, 0, "e-mail address in the signature")


def phones(turn: Turn) -> Iterator[Mention]:
    """Telephone numbers: of 10 to 15 digits, or 7 written as 3 and 4; marked `mine` where a word says whose."""
    for where, text in (("", turn.text), (" in the signature", turn.signature)):
        low = text.lower()
        for m in _PHONE.finditer(text):
            said = m[0].strip(" .-")
            if not _possible(said):
                continue
            before = low[max(0, m.start() - 32) : m.start()]
            if _NOT_MINE.search(before):
                continue
            role = "mine" if _PHONE_WORD.search(before) else ""
            start, end = (0, 0) if where else (m.start() + m[0].index(said), m.start() + m[0].index(said) + len(said))
            yield Mention("phone", said, turn.index, start, end, f"telephone number{where}", role)


def _possible(said: str) -> bool:
    digits = re.sub(r"\D", "", said)
    if len(digits) == 7:
        return bool(re.fullmatch(r"\d{3}[ .-]\d{4}", said))
    if not 10 <= len(digits) <= 15:
        return False
    from phonenumbers import NumberParseException, is_possible_number, parse

    for region in (None,) if said.startswith("+") else ("US", "GB", "MX"):
        try:
            if is_possible_number(parse(said, region)):
                return True
        except NumberParseException:
            continue
    return False


def budgets(turn: Turn) -> Iterator[Mention]:
    for m in _QUID.finditer(turn.low):
        spoken = numbers.value(m["n"])
        if spoken is not None:
            yield Mention("budget", Decimal(int(spoken)), turn.index, m.start(), m.end(), "budget")
    for m in _IN_WORDS.finditer(turn.low):
        if (spoken := numbers.value(m["n"])) is not None:
            yield Mention("budget", Decimal(int(spoken)), turn.index, m.start(), m.end(), "budget")
    for m in (*_SPENT.finditer(turn.low), *_MOST.finditer(turn.low)):
        unit = re.match(r"\s?(?:dollars|bucks|pounds|quid|euros?|pesos|d[oó]lares)\b", turn.low[m.end("n") :])
        kept = re.search(r"\bfor (?:all of it|it all|everything|the lot)\b|\b(?:to spend|put by|put aside|set aside|is the most)\b", m[0])
        if m["cur"] or unit or kept:
            yield Mention("budget", Decimal(m["n"].replace(",", "")), turn.index, m.start(), m.end("n"), "budget")
    for pattern in _BUDGET:
        for m in pattern.finditer(turn.low):
            if re.match(r"(?:i|we)(?:'?ve)? (?:have|got)", m[0]) and not (
                m["cur"] or re.match(r" (?:dollars|bucks|pounds|quid|euros?|pesos)\b", turn.low[m.end() :])
            ):
                continue
            amount = Decimal(m["n"].replace(",", ""))
            doubt = "a range of money: ask which is the limit" if m["to"] else ""
            yield Mention("budget", amount, turn.index, m.start(), m.end(), "budget", doubt=doubt)


def addresses(turn: Turn) -> Iterator[Mention]:
    found = False
    for m in _ADDRESS.finditer(turn.text):
        found = True
        said = " ".join(m[0].split()).strip(" ,.")
        yield Mention(
            "address",
            said,
            turn.index,
            m.start(),
            m.end(),
            "postal address",
            "full" if re.search(r"\d{5}$", said) else "",
        )
    if not found:
        for m in _LOOSE_ADDRESS.finditer(turn.text):
            if not re.match(
                r"\d+ (?:January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Sept|Oct|Nov|Dec)\b",
                m[0],
            ):
                yield Mention(
                    "address", m[0], turn.index, m.start(), m.end(), "number and street without its kind", "loose"
                )
