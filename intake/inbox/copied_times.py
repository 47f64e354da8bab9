"""Times as pages show them beside messages: "3:41 PM", "Tue 9:12 PM", "Yesterday at 8:15 PM", "2h". What they leave
out is filled from when they were copied and from the times around them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

from intake.inbox.chat_times import (
    CLOCK,
    DATE,
    MONTH,
    WEEKDAY,
    Clock,
    Numbers,
    clock_of,
    dated,
    day_of,
    moment,
    order_of,
    weekday_of,
    worded,
)

_UNITS = {"s": 1, "m": 60, "h": 3600, "d": 86400, "w": 7 * 86400}
AGO = (
    r"(?:[Jj]ust now|[Aa]hora mismo|\d{1,3}(?:s|m|min|h|hr|d|w)(?: ago)?"
    r"|(?:\d{1,3}|[Aa]n?) (?:s|secs?|seconds?|m|mins?|minutes?|h|hrs?|hours?|d|days?|w|wks?|weeks?) ago"
    r"|[Hh]ace \d{1,3} ?(?:s|m|min|h|hora|d|día)s?)"
)
_NEAR = r"(?:[Tt]oday|[Yy]esterday|[Hh]oy|[Aa]yer)"
_MONTH_DAY = (
    rf"(?:{MONTH} \d{{1,2}}(?:st|nd|rd|th)?(?!\d)|\d{{1,2}}(?:st|nd|rd|th|\.)?(?: de |[ -]){MONTH})"
    r"(?:,? (?:de )?\d{4})?"
)
_FULL = rf"(?:(?:{WEEKDAY},? )?(?:{DATE}|{_MONTH_DAY}))"
DAY = rf"(?i:{_NEAR}|{_FULL}|{WEEKDAY})"
STAMP = rf"(?i:(?:(?:{_NEAR}|{_FULL}|{WEEKDAY})(?:,? (?:at |a las? )?|, ?| ?[·•|-] ?))?{CLOCK})"

_STAMP = re.compile(rf"(?P<day>{DAY})?[ ,·•|-]{{0,4}}(?:at |a las? )?(?P<clock>(?i:{CLOCK}))")
_WHOLE = re.compile(STAMP)
_AGO = re.compile(AGO)
_LEADING = re.compile(rf"{WEEKDAY},? (?=\S)", re.IGNORECASE)
_LONGEST_BACK = timedelta(days=330)


@dataclass(frozen=True, slots=True)
class Stamp:
    """A time as it stands. `day`: a date, numbers that an order has to settle, or None; `month_day`: without its year;
    `weekday`: 0 for Monday; `back`: days before the copying; `ago`: time before it. `style`: how its clock is written.
    """

    day: date | Numbers | None = None
    month_day: tuple[int, int] | None = None
    weekday: int | None = None
    back: int | None = None
    ago: timedelta | None = None
    clock: Clock | None = None
    style: str = ""

    @property
    def is_dated(self) -> bool:
        return (self.day, self.month_day, self.weekday, self.back) != (None, None, None, None)


def stamp_in(text: str, *, whole_day: bool = False) -> Stamp | None:
    """The time that all of `text` is; with `whole_day`, a day without a clock."""
    if whole_day:
        return _day(text)
    if _AGO.fullmatch(text):
        return Stamp(ago=_ago(text), style="ago")
    if not _WHOLE.fullmatch(text):
        return None
    found = _STAMP.fullmatch(text)
    clock = clock_of(found["clock"]) if found else None
    if not found or not clock or not re.search(r":|[ap]\.? ?m", found["clock"], re.IGNORECASE):
        return None  # "12.50" is a price
    style = re.sub(r"\d+", "0", found["clock"]).replace("AM", "PM").replace("am", "pm").replace("a", "p")
    day = _day(found["day"]) if found["day"] else Stamp()
    return Stamp(day.day, day.month_day, day.weekday, day.back, None, clock, style) if day else None


def _day(text: str) -> Stamp | None:
    low = text.lower()
    if re.fullmatch(_NEAR, text, re.IGNORECASE):
        return Stamp(back=0 if low in ("today", "hoy") else 1)
    rest = _LEADING.sub("", text, count=1) if _LEADING.match(text) and not worded(text) else text
    weekday = weekday_of(text) if rest is not text else None
    if day := day_of(rest):
        return Stamp(day=day)
    if said := worded(rest):
        year, month, number = said
        try:
            date(year or 2024, month, number)
        except ValueError:
            return None
        return Stamp(month_day=(month, number), weekday=weekday)
    only = weekday_of(text)
    return Stamp(weekday=only) if only is not None and re.fullmatch(WEEKDAY, text, re.IGNORECASE) else None


@lru_cache(maxsize=256)
def _ago(text: str) -> timedelta:
    found = re.search(r"(\d+|\ban?\b) ?([a-zí])", text.lower())
    if not found:
        return timedelta(0)
    count = int(found[1]) if found[1].isdigit() else 1
    return timedelta(seconds=count * _UNITS.get(found[2], 0))


def is_likely_day(stamp: Stamp, at: datetime) -> bool:
    """False for a day that can't be the day of a message copied at `at`: to come, of another weekday or too long ago.
    People write such days: as the days of their parties."""
    day = _date(stamp, at.date(), order_of([stamp.day] if stamp.day else [], "MDY")[0])
    if not day or day > at.date():
        return False
    if stamp.month_day and at.date() - day > _LONGEST_BACK:
        return False
    return not (stamp.month_day and stamp.weekday is not None and day.weekday() != stamp.weekday)


def moments(stamps: Sequence[Stamp], at: datetime, zone: ZoneInfo) -> list[datetime | None]:
    """The time of each of `stamps`, which follow each other; of a day without a clock, its noon, or `at` if sooner.

    A clock alone is of the day above it, past midnight of the next. Where no day is above, it is the latest time with
    that clock that is not after the time below it, and so for weekdays and for dates without a year.
    """
    at = at.astimezone(zone)
    order, _ = order_of([*(stamp.day for stamp in stamps if stamp.day), at.date()], "MDY")
    days: list[date | None] = [None] * len(stamps)
    bound = at
    for index in reversed(range(len(stamps))):
        stamp = stamps[index]
        if stamp.ago is not None or not stamp.is_dated:
            continue
        day = _date(stamp, (at if stamp.back is not None else bound).date(), order)
        found = _at(day, stamp.clock, zone) if day else None
        if day and found and stamp.clock and found > bound and stamp.back is None and not stamp.day:
            day = _date(stamp, bound.date() - timedelta(days=1), order)
            found = _at(day, stamp.clock, zone) if day else None
        days[index] = day
        if found and found < bound:
            bound = found
    times: list[datetime | None] = []
    today, last = None, None
    for stamp, day in zip(stamps, days, strict=True):
        found = None
        if stamp.ago is not None:
            found = at - stamp.ago
        elif stamp.is_dated:
            today, found = day, _at(day, stamp.clock, zone) if day else None
            last = stamp.clock and found
            if found and not stamp.clock:
                found = min(found, at)
        elif today:
            found = _at(today, stamp.clock, zone)
            if found and last and found < last:
                today += timedelta(days=1)
                found = _at(today, stamp.clock, zone)
            last = found or last
        times.append(found)
    return _leading(stamps, times, at, zone)


def _leading(
    stamps: Sequence[Stamp], times: list[datetime | None], at: datetime, zone: ZoneInfo
) -> list[datetime | None]:
    """`times` with those of clocks that no day is above, from the last to the first."""
    bound = at
    for index in reversed(range(len(stamps))):
        clock, found = stamps[index].clock, times[index]
        if not found and clock and not stamps[index].is_dated:
            found = _at(bound.date(), clock, zone)
            if found and found > bound:
                found = _at(bound.date() - timedelta(days=1), clock, zone)
            times[index] = found
        if found and found < bound:
            bound = found
    return times


def _at(day: date, clock: Clock | None, zone: ZoneInfo) -> datetime | None:
    return moment(day, clock or Clock(12, 0), zone)


def _date(stamp: Stamp, latest: date, order: str) -> date | None:
    """The day of `stamp`; where it can be several, the last that is not after `latest`."""
    if stamp.day:
        return dated(stamp.day, order)
    if stamp.back is not None:
        return latest - timedelta(days=stamp.back)
    if stamp.month_day:
        for year in range(latest.year, max(latest.year - 5, 1), -1):
            try:
                day = date(year, *stamp.month_day)
            except ValueError:
                continue
            if day <= latest:
                return day
        return None
    if stamp.weekday is None:
        return None
    return latest - timedelta(days=(latest.weekday() - stamp.weekday) % 7)
