"""Clock times of a text: "at 2", "3:30 pm", "around noon", "9ish", "a las 10 de la mañana", "1215"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import time


@dataclass(frozen=True, slots=True)
class TimeSaid:
    """One clock time, characters `start` to `end`. `bare` where only a lone number was said, to be taken up by what
    was asked; `half` is "am", "pm" or "" where neither was said and `value` follows from habit."""

    start: int
    end: int
    value: time
    rule: str
    half: str = ""
    bare: bool = False
    until: bool = False


_ = r"\x20*\n?\x20*"
_AMPM = r"(?:a\.?\s?m\.?|p\.?\s?m\.?)(?![a-z])"
_LEAD = r"(?:at|by|before|after|around|'?round|about|'?bout|abt|near|towards?|from|@|till|until|til|say|like|circa|approx|past|come|a las|a la|tipo|como a las|sobre las|antes de las?|despu[eé]s de las)"
_UNIT_AFTER = (
    r"(?!\s*(?:-\s*\d|/|%|dozen|doz\b|dz\b|docenas?|of\b|cookies?|biscuits?|galletas|people|ppl|person|kids?|guests?|each|boxes|bags"
    r"|days?|weeks?|wks?|months?|years?|yrs?|hours?|hrs?|min|minutes|miles?|mins|dollars|bucks|more|st\b|nd\b|rd\b|th\b|inch|in\b(?! the)|different|designs?|colou?rs"
    r"|girls?|boys?|adults|students|staff|sets?|total|percent|apiece|[a-z]+ (?:st|street|ave|rd|road|ln|lane|ct|dr)\b"
    r"|[a-z]+ cookies))"
)
_EXACT = re.compile(
    rf"(?<![\d:/$£€.#-])(?P<h>[01]?\d|2[0-3])(?::|\.|h)(?P<m>[0-5]\d){_}(?P<ap>{_AMPM})?(?P<ish>{_}-?ish\b)?(?![\d%/])"
    rf"|(?<![\d:/$£€.#-])(?P<h2>1[0-2]|0?[1-9])(?P<m2>[0-5]\d)?{_}(?P<ap2>{_AMPM})(?P<ish2>{_}-?ish\b)?"
    rf"|(?<![\d:/$£€.#-])(?P<h3>1[0-2]|0?[1-9]){_}(?P<ish3>-?ish\b|o'?{_}clock|sharp\b|on the dot|en punto|(?:in|de){_}(?:the|la){_}(?:morning|afternoon|arvo|evening|mañana|tarde|noche)\b|(?={_}that{_}(?:same{_})?(?:morning|afternoon|evening)\b))",
)
_DOTTED = re.compile(r"\b(?:at|by|around|about|after|before|till|say|for)\s+\Z")
_HOURS = "one two three four five six seven eight nine ten eleven twelve".split()
_HOUR = rf"(?:1[0-2]|[1-9]|{'|'.join(_HOURS)})"
_HALF_PAST = re.compile(
    rf"\b(?P<w>half past|(?:a )?quarter (?:past|after)|(?:a )?quarter (?:to|till|of|til)|(?:ten|10) past|(?:twenty|20) past|(?:ten|10) to|(?:twenty|20) to)\s+(?P<h>{_HOUR})\b(?! (?:dozen|cookies))"
)
_AND_HALF = re.compile(r"\b(?P<h>1[0-2]|[1-9]|una|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez|once|doce) y (?P<m>media|cuarto)\b(?! docena)")
_SPANISH_HOURS = "una dos tres cuatro cinco seis siete ocho nueve diez once doce".split()
_ISH = re.compile(r"(?<![\d:/$£€.#-])(?P<h>1[0-2]|[1-9])(?P<m>[0-5]\d)\s?-?ish\b")
_HOURS_SPAN = re.compile(
    rf"(?<![\d/$:-])(?P<h>1[0-2]|[1-9])(?::(?P<m>[0-5]\d))?\s?(?:-|to|until|till)\s?(?:1[0-2]|[1-9])(?::[0-5]\d)?\s?(?P<ap>{_AMPM})"
    r"|\bfrom (?P<h2>1[0-2]|[1-9])(?::(?P<m2>[0-5]\d))? ?(?:-|to|until|till?) ?(?:1[0-2]|[1-9])(?::[0-5]\d)?(?![\d/]| (?:dozen|dz|doz|cookies|kids|people|guests))"
)
_SPOKEN = re.compile(
    rf"(?<!one )\b(?P<lead>at|by|around|round|about|before|after|till|until|for|say)\s+(?P<h>{'|'.join(_HOURS)})(?:[ -](?P<m>thirty|fifteen|forty[ -]five))?(?P<oc>\s+o'?clock)?(?![\w-])"
    r"(?!\s+(?:dozen|doz|dz|of|cookies|biscuits|people|kids|more|each|boxes|different|designs|colou?rs|days?|weeks?|months|years|hundred|per|box|bag|last))"
)
#: An hour in words that needs no word before it: "five-ish", "two o'clock", "ten thirty", "eleven in the morning".
_HOUR_WORD = re.compile(
    rf"\b(?P<h>{'|'.join(_HOURS)})(?:-?\s?ish\b|\s+o'?clock|[ -](?P<m>thirty|fifteen|forty[ -]five)\b|\s+in\s+the\s+(?:morning|afternoon|evening)|\s?(?P<ap>[ap]\.?m\b\.?))(?!\s+(?:dozen|cookies|people|kids|of\b))"
)
#: "Thurs 530": hour and minutes run together right behind a weekday.
_AFTER_DAY = re.compile(
    r"\b(?:mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun)[a-z]*\.?,? (?P<h>1[0-2]|[1-9])(?P<m>[0-5]\d)\b(?!\s*(?:cookies|dozen|people|[a-z]+ (?:st|ave|rd|ln)\b)|[/:.]\d)"
)
_HALF_FIVE = re.compile(rf"\bhalf (?P<h>{_HOUR})\b(?! (?:dozen|doz|dz|of|and|cookies|hearts|[a-z]+s\b))")
_NAMED = re.compile(
    r"\b(?P<noon>noon(?:[ -]?ish|time)?|midday|mediod[ií]a|12 noon)\b|\b(?P<midnight>midnight|medianoche)\b"
    r"(?! (?:blue|snack|theme|black|sky))"
)
_LED = re.compile(
    rf"(?<![\w])(?P<lead>{_LEAD}){_}(?:about{_}|around{_}|like{_}|the{_})?(?P<n>1[0-2]|0?[1-9]|(?:1[0-2]|0?[1-9])[0-5]\d)"
    rf"(?![\d:/.,]\d)(?!\d)(?P<ish>{_}-?ish\b)?{_UNIT_AFTER}"
)
_BARE = re.compile(
    rf"(?<![\d:/$£€.#\w-])(?P<n>1[0-2]|0?[1-9]|(?:1[0-2]|[1-9])(?:00|15|30|45))(?![\d:/.,]\d)(?![\w$%/-]){_UNIT_AFTER}"
)
_RANGE = re.compile(
    r"(?<![\d/$-])(?:1[0-2]|[1-9])(?::\d\d)?\s?(?:am|pm)?\s?(?:-|to)\s?(?:1[0-2]|[1-9])(?::\d\d)?\s?(?:am|pm)?(?![\d/])"
)
_MORNING = re.compile(
    r"\b(?:morning|mornin|forenoon|on my way to (?:school|work)|on (?:my|the|his|her) way in(?:to)?\b|school run|before (?:school|work|class|the bell)|am|a\.m|breakfast|mañana|brunch|school drop|early)\b"
)
_AFTERNOON = re.compile(
    r"\b(?:afternoon|afternon|arvo|evening|eve|night|tonight|dinner|supper|pm|tarde|noche|after work|after school)\b"
)


_MINUTES = (("half", 30), ("quarter", 15), ("ten", 10), ("10", 10), ("twenty", 20), ("20", 20))


def _hour(said: str) -> int:
    return int(said) if said.isdigit() else _HOURS.index(said) + 1


def find(low: str) -> list[TimeSaid]:
    """The clock times in shadow text `low`, in order. Lone numbers come last in rank and are marked `bare`."""
    said: list[TimeSaid] = []
    taken: list[tuple[int, int]] = []

    def add(
        m: re.Match[str],
        hour: int,
        minute: int,
        ap: str | None,
        rule: str,
        *,
        bare: bool = False,
        until: bool = False,
        at: int | None = None,
    ) -> None:
        # A word in front may belong to the day: "the wednesday before around 530".
        start = m.start() if at is None else at
        if any(start < e and m.end() > s for s, e in taken):
            return
        half = "am" if ap and ap[0] == "a" else "pm" if ap else ""
        value = _clock(low, m.start(), m.end(), hour, minute, half)
        if value:
            taken.append((start, m.end()))
            said.append(TimeSaid(start, m.end(), value, rule, half, bare, until))

    for m in _HOURS_SPAN.finditer(low):
        add(m, int(m["h"] or m["h2"]), int(m["m"] or m["m2"] or 0), m["ap"], "a span of hours", until=True)
    for m in _ISH.finditer(low):
        add(m, int(m["h"]), int(m["m"]), None, "an hour, about")
    for m in _HALF_PAST.finditer(low):
        minute = next((n for word, n in _MINUTES if word in m["w"]), 30)
        back = re.search(r"\b(?:to|til|till|of)$", m["w"]) is not None
        hour = _hour(m["h"])
        add(m, (hour - 1 or 12) if back else hour, 60 - minute if back else minute, None, "half past")
    for m in _SPOKEN.finditer(low):
        minute = {"thirty": 30, "fifteen": 15}.get(m["m"] or "", 45 if m["m"] else 0)
        add(m, _HOURS.index(m["h"]) + 1, minute, None, "a clock time in words")
    for m in _AFTER_DAY.finditer(low):
        add(m, int(m["h"]), int(m["m"]), None, "an hour behind a weekday", at=m.start("h"))
    for m in _HOUR_WORD.finditer(low):
        add(m, _hour(m["h"]), {"thirty": 30, "fifteen": 15, None: 0}.get(m["m"], 45), m["ap"], "a clock time in words")
    for m in _HALF_FIVE.finditer(low):
        add(m, _hour(m["h"]), 30, None, "half past the hour")
    for m in _AND_HALF.finditer(low):
        hour = int(m["h"]) if m["h"].isdigit() else _SPANISH_HOURS.index(m["h"]) + 1
        add(m, hour, 30 if m["m"] == "media" else 15, None, "half past the hour")
    for m in _NAMED.finditer(low):
        add(m, 12 if m["noon"] else 0, 0, "pm" if m["noon"] else "am", "noon or midnight")
    for m in _EXACT.finditer(low):
        if m["h"] and "." in m[0][:3] and not m["ap"] and not _DOTTED.search(low[: m.start()]):
            continue
        add(m, int(m["h"] or m["h2"] or m["h3"]), int(m["m"] or m["m2"] or 0), m["ap"] or m["ap2"], "clock time")
    ranges = [m.span() for m in _RANGE.finditer(low)]
    for m in _LED.finditer(low):
        if any(s <= m.start("n") < e for s, e in ranges):
            continue
        if m["lead"].lstrip("'") in _LOOSE_LEADS and not _time_context(low, m.start(), m.end(), len(m["n"])):
            continue
        number = m["n"]
        hour, minute = (int(number[:-2]), int(number[-2:])) if len(number) > 2 else (int(number), 0)
        add(m, hour, minute, None, "time after a word", at=m.start("n"))
    for m in _BARE.finditer(low):
        number = m["n"]
        hour, minute = (int(number[:-2]), int(number[-2:])) if len(number) > 2 else (int(number), 0)
        add(m, hour, minute, None, "lone number", bare=True)
    return sorted(said, key=lambda t: t.start)


#: Words that stand before any number; after them a number is a time only beside words of coming and going.
_LOOSE_LEADS = frozenset("like say about around round bout abt come near toward towards".split())
_GOES_ON = re.compile(
    r"\s+(?:on|when|if|to|for|that|so|and|but|or|at|in|then|please|pls|plz|is|works?|maybe|once|cause|because|tomorrow|tonight|ok|okay|lol|xx?)\b"
)
_TIME_WORDS = re.compile(
    r"\b(?:pick\w*|get|grab|come|coming|collect\w*|swing\w*|stop|pop|run|call|fetch|round|over|ready|by|drop|bring|there|here|yours|morning|evening|afternoon|night|day|am|pm|mon\w*|tues?\w*|wed\w*"
    r"|thu\w*|fri\w*|sat\w*|sun\w*|on his way|work|recoj\w+|paso)\b"
)


def _time_context(low: str, start: int, end: int, digits: int) -> bool:
    """After "about", "say" or "like" a number is a time only beside words of coming and going."""
    sentence = max(low.rfind(c, 0, start) for c in ".!?\n") + 1
    return bool(_TIME_WORDS.search(low, sentence, start)) and (
        digits > 2
        or not re.match(r"\s*[a-z]", low[end : end + 2])
        or _GOES_ON.match(low, end) is not None
        or bool(_MORNING.match(low, end) or _AFTERNOON.match(low, end))
    )


def _clock(low: str, start: int, end: int, hour: int, minute: int, half: str) -> time | None:
    """The time of day; where neither am nor pm was said, by the words near it and the habits of hand-overs:
    12 is noon, 1 to 7 are in the afternoon, 8 to 11 in the morning."""
    if hour > 12 or (hour == 0 and not half):
        return time(hour, minute) if hour < 24 else None
    if not half:
        near = low[max(0, start - 40) : end + 34]
        around = low[max(low.rfind(c, 0, start) for c in ".!?\n") + 1 : end + 34] if len(near) else near
        before = around[-68:]
        if _AFTERNOON.search(before) and not _MORNING.search(before):
            half = "pm"
        elif _MORNING.search(before) and not _AFTERNOON.search(before):
            half = "am" if hour != 12 else "pm"
        else:
            half = "pm" if hour == 12 or hour <= 7 else "am"
        if half == "am" and hour < 5:
            half = "pm"
        if half == "pm" and hour in (10, 11) and not re.search(r"night|noche|pm", before):
            half = "am"
    if half == "am":
        return time(0 if hour == 12 else hour, minute)
    return time(12 if hour == 12 else hour + 12, minute)
