"""Dates in figures, such as "3/4/2026 9:05 PM": which number is the day is told from all dates of a file together.

Dates with the month in letters are read too, in English and Spanish. Nothing here raises: what can't be read is None.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

from intake.inbox import chat_times

LONGEST = 80

_MARKS = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]")
_NAME = rf"(?:{'|'.join(chat_times.MONTHS)})[a-z]{{0,8}}\.?"
#: A weekday in letters; its first three tell which.
WEEKDAY = (
    r"(?:(?:mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?|lun(?:es)?|mar(?:tes)?|mi[eé](?:rcoles)?"
    r"|jue(?:ves)?|vie(?:rnes)?|s[aá]b(?:ado)?|dom(?:ingo)?)"
)
_WEEKDAY = rf"(?:{WEEKDAY}\.?,?\s)?"
_DATE = (
    r"(?:(?P<a>\d{1,4})(?P<sign>[/.\-])\s?(?P<b>\d{1,2})(?P=sign)\s?(?P<c>\d{4}|\d{1,2})\.?"
    rf"|(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.|º)?[\s\-/](?:de\s)?(?P<month>{_NAME}),?[\s\-/](?:del?\s)?(?P<year>\d{{4}})"
    rf"|(?P<month_2>{_NAME})\s(?P<day_2>\d{{1,2}})(?:st|nd|rd|th)?,?\s(?P<year_2>\d{{4}}))"
)
_CLOCK = (
    r"(?P<hour>\d{1,2})(?:[:.h](?P<minute>\d\d)(?:[:.](?P<second>\d\d)(?:[.,]\d{1,9})?)?)?"
    r"\s?(?P<half>[ap]\.?\s?m\.?)?"
)
_HOURS = {"EDT": -4, "EST": -5, "CDT": -5, "CST": -6, "MDT": -6, "MST": -7, "PDT": -7, "PST": -8}  # RFC 5322, 4.3
_ZONE = rf"(?:\s?(?P<zone>Z|UTC|GMT|{'|'.join(_HOURS)}|[+-]\d\d:?\d\d))?"
_DAY_FIRST = re.compile(
    rf"{_WEEKDAY}{_DATE}(?:(?:,?\s(?:at\s|a\slas?\s|[\-·|]\s)?|,|T|\s?[·|]\s?){_CLOCK}{_ZONE})?", re.IGNORECASE
)
_CLOCK_FIRST = re.compile(rf"{_CLOCK}(?:,?\s(?:on\s|el\s|[\-·|]\s)?){_WEEKDAY}{_DATE}", re.IGNORECASE)
_ONLY_CLOCK = re.compile(_CLOCK, re.IGNORECASE)
_SECONDS = re.compile(r"\d:\d\d:\d\d(?!\d)|^\s*[+-]?\d{9,}")


def order_of(said: Iterable[str], fallback: str = "MDY") -> tuple[str, bool]:
    """`MDY`, `DMY` or `YMD` for all of the date texts, and whether they show it themselves.

    Dates that begin with a year of four digits, or that name the month, have no say; `fallback` decides what the others
    leave open, see `chat_times.order_of`.
    """
    found = [(m["a"], m["b"], m["c"]) for text in said if (m := _date_in(text)) and m["a"] and len(m["a"]) < 3]
    order, other = chat_times.order_of(found, fallback)
    return order, other is None


def at_of(said: str, order: str, zone: ZoneInfo) -> datetime | None:
    """The moment of a date with or without a clock time, in `zone`; midnight where there is none."""
    text = _plain(said)
    found = _DAY_FIRST.fullmatch(text) or _CLOCK_FIRST.fullmatch(text)
    day = _day_of(found, order) if found else None
    if not found or not day:
        return None
    clock = _clock(found) if found["hour"] else time()
    if not clock:
        return None
    at = datetime.combine(day, clock)
    mark = found.groupdict().get("zone")
    try:
        return at.replace(tzinfo=_offset(mark)).astimezone(zone) if mark else at.replace(tzinfo=zone)
    except (ValueError, OverflowError):
        return None


def day_of(said: str, order: str) -> date | None:
    """The day of a text that is nothing but a date."""
    found = _DAY_FIRST.fullmatch(_plain(said))
    return _day_of(found, order) if found and not found["hour"] else None


def clock_of(said: str) -> time | None:
    """The time of day of a text that is nothing but a clock time."""
    found = _ONLY_CLOCK.fullmatch(_plain(said))
    return _clock(found) if found else None


def kind_of(said: str) -> str:
    """`full`, `day` or `clock` by what a text gives, else an empty text. The day is not tried on a calendar."""
    text = _plain(said)
    if found := _DAY_FIRST.fullmatch(text):
        return "full" if found["hour"] else "day"
    if _CLOCK_FIRST.fullmatch(text):
        return "full"
    return "clock" if clock_of(text) else ""


def has_seconds(said: str) -> bool:
    """True for "9:05:10" and for a count of seconds since 1970."""
    found = _date_in(said) or _ONLY_CLOCK.fullmatch(_plain(said))
    return bool(found["second"] if found else _SECONDS.search(said[:LONGEST]))


def _plain(said: str) -> str:
    return "" if len(said) > LONGEST else " ".join(_MARKS.sub("", said).split())


def _date_in(said: str) -> re.Match[str] | None:
    text = _plain(said)
    return _DAY_FIRST.fullmatch(text) or _CLOCK_FIRST.fullmatch(text)


def _day_of(found: re.Match[str], order: str) -> date | None:
    if found["a"]:
        return _day(order, int(found["a"]), int(found["b"]), int(found["c"]), len(found["c"]))
    month = chat_times.MONTHS[(found["month"] or found["month_2"])[:3].lower()]
    return _date(int(found["year"] or found["year_2"]), month, int(found["day"] or found["day_2"]))


def _day(order: str, a: int, b: int, c: int, size: int) -> date | None:
    """`size` is the number of figures in `c`."""
    if a > 99:
        return _date(a, b, c) if a > 999 and size < 3 else None
    if order == "YMD" and size < 3:
        return _date(_century(a), b, c)
    month, day = (b, a) if order == "DMY" else (a, b)
    return _date(c if size == 4 else _century(c), month, day)


def _century(year: int) -> int:
    return year + (2000 if year < 70 else 1900)  # POSIX strptime has 69 as its turn; nobody's messages are that old


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _clock(found: re.Match[str]) -> time | None:
    hour, half = int(found["hour"]), (found["half"] or "").lower()
    if not found["minute"] and not half:
        return None
    if half and hour <= 12:
        hour = hour % 12 + (12 if half.startswith("p") else 0)
    try:
        return time(hour, int(found["minute"] or 0), int(found["second"] or 0))
    except ValueError:
        return None


def _offset(mark: str) -> timezone:
    if mark[0] not in "+-":
        return timezone(timedelta(hours=_HOURS.get(mark.upper(), 0)))
    size = timedelta(hours=int(mark[1:3]), minutes=int(mark[-2:]))
    return timezone(-size if mark[0] == "-" else size)
