"""Days and clock times as they are printed beside messages, and which way round a whole text writes its days.

English and Spanish month names. A day is a `date` where it can only be read one way, else its three numbers as they
stand (`Numbers`), to be read by an order: MDY, DMY or YMD. Nothing here raises: what can't be read is None.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone
from functools import lru_cache
from itertools import pairwise
from zoneinfo import ZoneInfo

Numbers = tuple[str, str, str]

#: By their first three letters.
MONTHS = {
    word: number
    for number, words in enumerate("jan ene|feb|mar|apr abr|may|jun|jul|aug ago|sep set|oct|nov|dec dic".split("|"), 1)
    for word in words.split()
}
_WEEK = {
    word: number
    for number, words in enumerate("mon lun|tue mar|wed mié mie|thu jue|fri vie|sat sáb sab|sun dom".split("|"))
    for word in words.split()
}

# Pieces of patterns, without groups of their own; all are meant for re.IGNORECASE and for text without odd spaces.
MONTH = rf"(?:{'|'.join(MONTHS)})[a-z]{{0,9}}\.?"
WEEKDAY = rf"(?:{'|'.join(_WEEK)})[a-zé]{{0,7}}\.?"
NUMERIC = r"(?:\d{1,4}/\d{1,2}/\d{1,4}|\d{1,4}-\d{1,2}-\d{1,4}|\d{1,4}\. ?\d{1,2}\. ?\d{1,4}\.?)"
_NTH = r"(?:st|nd|rd|th|\.|º)?"
DATE = (
    rf"(?:{NUMERIC}|{MONTH} \d{{1,2}}{_NTH},? \d{{4}}"
    rf"|\d{{1,2}}{_NTH}(?: de |[ -]){MONTH}(?: de |,? |-)(?:\d{{4}}|\d{{2}}))(?!\d)"
)
# "14:05", "2:05 PM", "2:05:10 p. m.", "14.05", "14h05". The last branch: an "AM" is never left over to be a name.
CLOCK = (
    r"\d{1,2}[:.h]\d{2}(?:[:.]\d{2}(?:[.,]\d{1,6})?)?(?!\d)"
    r"(?: ?[ap]\.? ?m\b\.?|[ap]\b| ?(?:hrs?|h)\b\.?|(?! ?[ap]\.? ?m\b))"
    r"(?: ?(?:z|utc|gmt)\b| ?[+-]\d\d:?\d\d\b)?"
)
_BETWEEN = r"(?:T|\t|,? {1,2}(?:(?:at|a las?|@|[-–|]) {0,2})?|,)"
_DAY_OF = rf"(?:{WEEKDAY},? )?{DATE}(?: ?\(?{WEEKDAY}\)?)?"
WHEN = rf"(?:{_DAY_OF}{_BETWEEN}{CLOCK}|{CLOCK},? (?:on |[-–] )?{_DAY_OF})"

_MONTH_FIRST = re.compile(rf"(?P<month>{MONTH}) (?P<day>\d{{1,2}}){_NTH}(?!\d)(?:,? (?P<year>\d{{4}}))?", re.IGNORECASE)
_DAY_FIRST = re.compile(
    rf"(?P<day>\d{{1,2}}){_NTH}(?: de |[ -])(?P<month>{MONTH})(?:(?: de |,? |-)(?P<year>\d{{4}}|\d{{2}}))?",
    re.IGNORECASE,
)
_CLOCK = re.compile(
    r"(?P<hour>\d{1,2})[:.h](?P<minute>\d{2})(?:[:.](?P<second>\d{2}))?(?:[.,]\d{1,6})?"
    r"\s?(?P<half>[ap](?=\b|\.| m|m\b))?[^\d+-]*(?P<offset>[+-]\d\d:?\d\d)?",
    re.IGNORECASE,
)
_UTC = re.compile(r"(?:\bz|\dz|utc|gmt)$", re.IGNORECASE)
_PARTS = re.compile(
    rf"(?:{WEEKDAY},? )?(?P<day>{DATE})(?: ?\(?{WEEKDAY}\)?)?{_BETWEEN}(?P<clock>{CLOCK})", re.IGNORECASE
)
_CLOCK_THEN_DAY = re.compile(rf"(?P<clock>{CLOCK}),? (?:on |[-–] )?(?:{WEEKDAY},? )?(?P<day>{DATE})", re.IGNORECASE)
_MARKS = re.compile("[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]")
_SPACES = str.maketrans(dict.fromkeys("\xa0\u2007\u2009\u202f", " ") | {"\u2011": "-"})
_SPANS_APART = 10  # a way of reading whose dates lie this many times closer together is the likelier one


@dataclass(frozen=True, slots=True)
class Clock:
    """A time of day. `second` is None where none is printed; `offset` is None where the time is the house's own."""

    hour: int
    minute: int
    second: int | None = None
    offset: timezone | None = None


def even_text(text: str) -> tuple[str, str]:
    """`text` without marks of direction and with plain line ends; and the same, as long, with plain spaces."""
    plain = _MARKS.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
    return plain, plain if plain.isascii() else plain.translate(_SPACES)


@lru_cache(maxsize=4096)
def clock_of(text: str) -> Clock | None:
    said = _CLOCK.match(text)
    if not said:
        return None
    hour, half = int(said["hour"]), said["half"]
    if half and hour <= 12:
        hour = hour % 12 + (12 if half in "pP" else 0)
    minute, second = int(said["minute"]), int(said["second"]) if said["second"] else None
    if hour > 23 or minute > 59 or (second or 0) > 59:
        return None
    offset = timezone.utc if _UTC.search(text) else None  # noqa: UP017
    if said["offset"]:
        digits = said["offset"].replace(":", "")
        ahead = timedelta(hours=int(digits[1:3]), minutes=int(digits[3:5]))
        if ahead >= timedelta(days=1):
            return None
        offset = timezone(-ahead if digits[0] == "-" else ahead)
    return Clock(hour, minute, second, offset)


@lru_cache(maxsize=4096)
def day_of(text: str) -> date | Numbers | None:
    """The day that `text` begins with: a date, or the numbers of one that an order has to settle."""
    numbers = re.match(r"(\d{1,4})(?:/|-|\. ?)(\d{1,2})(?:/|-|\. ?)(\d{1,4})(?!\d)", text)
    if numbers:
        first, second, third = numbers.groups()
        if len(first) == 4:
            return _date(int(first), int(second), int(third))
        return (first, second, third) if len(first) <= 2 and len(third) in (2, 4) else None
    year, month, day = worded(text) or (None, 0, 0)
    return _date(year, month, day) if year else None


def worded(text: str) -> tuple[int | None, int, int] | None:
    """Year, month and day of a date with a month's name at the start of `text`; the year is None where none stands."""
    said = _MONTH_FIRST.match(text) or _DAY_FIRST.match(text)
    if not said:
        return None
    year = _year(said["year"]) if said["year"] else None
    return year, MONTHS[said["month"][:3].lower()], int(said["day"])


def weekday_of(text: str) -> int | None:
    """0 for Monday, by the first letters of `text`."""
    return _WEEK.get(text[:3].lower())


def stamp_of(when: str) -> tuple[date | Numbers | None, Clock | None]:
    """Day and clock of a text that WHEN or CLOCK matched; None for what is not there or can't be."""
    said = _PARTS.match(when) or _CLOCK_THEN_DAY.match(when)
    if said:
        return day_of(said["day"]), clock_of(said["clock"])
    return None, clock_of(when)


def moment(day: date, clock: Clock, zone: ZoneInfo) -> datetime | None:
    """The aware time in `zone`. A time that the clocks skip or pass twice is taken as `zone` has it."""
    try:
        at = datetime(day.year, day.month, day.day, clock.hour, clock.minute, clock.second or 0)
        return at.replace(tzinfo=clock.offset).astimezone(zone) if clock.offset else at.replace(tzinfo=zone)
    except (ValueError, OverflowError):
        return None


@lru_cache(maxsize=8192)
def dated(day: date | Numbers, order: str) -> date | None:
    """`day` where its numbers stand in `order`."""
    if isinstance(day, date):
        return day
    said = dict(zip(order, day, strict=True))
    if len(said["M"]) > 2 or len(said["D"]) > 2:
        return None
    return _date(_year(said["Y"]), int(said["M"]), int(said["D"]))


def order_of(days: Sequence[date | Numbers], house: str) -> tuple[str, Numbers | None]:
    """The one order in which all `days` (in the order of the text) are read, and a day that could be read otherwise
    where only `house`, the order of the house rules, decided."""
    numbers = list(dict.fromkeys(day for day in days if not isinstance(day, date)))
    house = house if house in ("MDY", "DMY", "YMD") else "MDY"
    if not numbers:
        return house, None
    counts = {order: sum(dated(day, order) is not None for day in numbers) for order in ("MDY", "DMY", "YMD")}
    if any(len(part) < 2 for day in numbers for part in day):
        counts["YMD"] = -1  # years of two digits come first only where all numbers have two
    best = max(counts.values())
    if best <= 0:
        return house, None
    left = [order for order, count in counts.items() if count == best]
    for forward in (True, False):
        steady = [order for order in left if _is_steady(days, order, forward)]
        if steady:
            left = steady
            break
    if "YMD" in left and len(left) > 1:
        spans = {order: _span(numbers, order) for order in left}
        year_last = min(span for order, span in spans.items() if order != "YMD")
        closer = spans["YMD"] * _SPANS_APART <= year_last and year_last > timedelta(0)
        if closer:
            left = ["YMD"]
        elif house != "YMD":
            left.remove("YMD")
    taken = house if house in left else left[0]
    other = (day for day in numbers for order in left if dated(day, order) != dated(day, taken))
    return taken, next(other, None)


def _is_steady(days: Sequence[date | Numbers], order: str, forward: bool) -> bool:
    said = [day for day in (dated(day, order) for day in days) if day]
    return all(a <= b if forward else a >= b for a, b in pairwise(said))


def _span(numbers: Sequence[Numbers], order: str) -> timedelta:
    said = [day for day in (dated(day, order) for day in numbers) if day]
    return max(said) - min(said)


def _year(digits: str) -> int:
    year = int(digits)
    return year if len(digits) > 2 else year + (1900 if year >= 90 else 2000)


def _date(year: int | None, month: int, day: int) -> date | None:
    try:
        return date(year or 0, month, day)
    except (ValueError, OverflowError):
        return None
