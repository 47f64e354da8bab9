"""What the baker's words name: days, counts, money, customers, hours. The kind of each is put in its place."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from intake.talk_days import Said, days_said
from intake.talk_shapes import Days, Hand
from intake.talk_words import shadow

_MONEY = re.compile(
    r"(?<![\w.])(?:[$£€]\s?\d{1,6}(?:[.,]\d{1,2})?"
    r"|\d{1,6}(?:\.\d{1,2})?\s?(?:dollars|bucks|euros?|usd|eur|pounds(?= |$)))"
)
_BARE = re.compile(r"(?<![\w.$/:-])\d{1,6}(?:\.\d{1,2})?(?![\w/:.]|-\d)")
_HOURS = re.compile(
    r"\b(?:from )?(?P<a>\d{1,2})(?::(?P<am>\d\d))?\s?(?P<ah>am|pm)?\s?(?:-|to|till|until)"
    r"\s?(?P<b>\d{1,2})(?::(?P<bm>\d\d))?\s?(?P<bh>am|pm)?(?![\d/])(?=\s|$|[,.!?])"
)
_NUMBER = re.compile(
    r"\b(?:order|slip)(?: number| no\.?)? #?(?P<n>\d{1,6})\b(?! (?:more|cookies|dozen))|#(?P<m>\d{1,6})\b"
)
_WHOSE = re.compile(r"(day|row|week|month|end)'s\b")
_NOT_NAMES = frozenset("will may mark bill price book rose art grace june april august summer ivy due order".split())


@dataclass(frozen=True, slots=True)
class Slots:
    """`low` is the shadow of what was typed, `text` the same with `<day>`, `<count>`, `<money>`, `<who>` in the places
    of what was found. `who` holds every customer whom a name may mean."""

    low: str
    text: str
    days: tuple[Said, ...] = ()
    counts: tuple[tuple[int, int], ...] = ()
    money: tuple[Decimal, ...] = ()
    who: tuple[str, ...] = ()
    hours: str = ""

    @property
    def span(self) -> Days | None:
        return self.days[0].days if self.days else None


def slots(words: str, hand: Hand, *, payment: bool = False) -> Slots:
    """What `words` name. With `payment` a bare figure is money, else it counts cookies."""
    low = _WHOSE.sub(r"\1  ", shadow(words))
    today = hand.at.date()
    spans: list[tuple[int, int, str]] = []
    hours = ""
    if m := _HOURS.search(low):
        hours = _clock(m)
        if hours:
            spans.append((m.start(), m.end(), "hours"))
    days = [d for d in days_said(low, today, hand.rules, held(hand)) if _free(spans, d.start, d.end)]
    spans += [(d.start, d.end, "past" if d.past else "day") for d in days]
    money = [m for m in _MONEY.finditer(low) if _free(spans, m.start(), m.end())]
    if payment and not money:
        money = [m for m in _BARE.finditer(low) if _free(spans, m.start(), m.end())]
    spans += [(m.start(), m.end(), "money") for m in money]
    numbered = [m for m in _NUMBER.finditer(low) if _free(spans, m.start(), m.end())][:1]
    spans += [(m.start(), m.end(), "who") for m in numbered]
    counts = _counts(low, [(start, end) for start, end, _ in spans])
    spans += [(start, end, "count") for start, end, *_ in counts]
    people, places = _people(low, hand.people, spans)
    if numbered:
        people, places = (f"#{numbered[0]['n'] or numbered[0]['m']}",), []
    spans += [(start, end, "who") for start, end in places]
    text = low
    for start, end, kind in sorted(spans, reverse=True):
        text = f"{text[:start]} <{kind}> {text[end:]}"
    return Slots(
        low,
        text,
        tuple(days),
        tuple((lo, hi) for _, _, lo, hi in counts),
        tuple(Decimal(re.sub(r"[^\d.]", "", m[0].replace(",", "."))) for m in money),
        people,
        hours,
    )


def held(hand: Hand) -> date | None:
    """The day of the order in hand."""
    due = hand.order.draft.due.value if hand.order else None
    return due.last if due else None


def _free(spans: list[tuple[int, int, str]], start: int, end: int) -> bool:
    return all(end <= s or start >= e for s, e, _ in spans)


def _counts(low: str, taken: list[tuple[int, int]]) -> list[tuple[int, int, int, int]]:
    from intake.reading.counts import quantities

    found = []
    for q in quantities(low, taken):
        # "One", "a few": too little to be a figure that was typed.
        if q.high > 5 or q.dozens or low[q.start : q.end].strip().isdigit():
            after = re.match(r"(?: ?(?:sugar )?(?:cookies|biscuits|cookie))?", low[q.end :])
            found.append((q.start, q.end + (after.end() if after else 0), q.low, q.high))
    return found


def _clock(m: re.Match[str]) -> str:
    """`8 to 12` as "08:00-12:00"; empty where these are no hours of a day."""
    start, end = int(m["a"]), int(m["b"])
    if m["ah"] is None and m["bh"] is None and m["am"] is None and m["bm"] is None and not m[0].startswith("from"):
        return ""
    if m["bh"] == "pm" and end < 12:
        end += 12
    if (m["ah"] == "pm" or (m["ah"] is None and m["bh"] == "pm" and start + 12 < end)) and start < 12:
        start += 12
    if m["bh"] is None and end <= start and end < 12:
        end += 12
    low, high = int(m["am"] or 0), int(m["bm"] or 0)
    if not (start < end <= 23 or (start, low) < (end, high)) or low > 59 or high > 59 or end > 23:
        return ""
    return f"{start:02}:{low:02}-{end:02}:{high:02}"


def _people(
    low: str, people: tuple[str, ...], spans: list[tuple[int, int, str]]
) -> tuple[tuple[str, ...], list[tuple[int, int]]]:
    """The customers that the first name in the words may mean, and where it stands."""
    said = [m for m in re.finditer(r"[^\W\d_]+", low) if _free(spans, m.start(), m.end())]
    words = {m[0] for m in said} | {m[0].removesuffix("s") for m in said if len(m[0]) > 3}
    known: dict[str, list[str]] = {}
    for name in people:
        parts = [part for part in shadow(name).split() if len(part) > 1]
        if parts and parts[0] in words:
            known.setdefault(parts[0], []).append(name)
        elif len(parts) > 1 and parts[-1] in words and parts[-1] not in _NOT_NAMES:
            known.setdefault(parts[-1], []).append(name)
    for m in said:
        name = m[0] if m[0] in known else m[0].removesuffix("s")
        if name not in known:
            continue
        names = known[name]
        whole = [name for name in names if low.startswith(shadow(name), m.start())]
        if m[0] in _NOT_NAMES and not whole:
            continue
        end = m.start() + len(whole[0]) if whole else m.end()
        if low.startswith("'s", end):
            end += 2
        return tuple(dict.fromkeys(whole or names)), [(m.start(), end)]
    return (), []
