"""The house rules that only the kitchen goes by: sleep, supper, breaks, one-off hours, and how icing work is laid out.

Every rule has a default here, so that house rules written before it still load.
"""

from __future__ import annotations

import itertools
import re
from datetime import date, time
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field

_SPAN = re.compile(r"(\d\d?):(\d\d)-(\d\d?):(\d\d)")
_DAYS = re.compile(r"(\d{4}-\d\d-\d\d)(?: to (\d{4}-\d\d-\d\d))?")


def _clocks(text: Any, such: str) -> tuple[time, time]:
    found = _SPAN.fullmatch(text.strip()) if isinstance(text, str) else None
    if not found:
        raise ValueError(f'hours such as "{such}"')
    h1, m1, h2, m2 = map(int, found.groups())
    if h1 > 23 or h2 > 24 or m1 > 59 or m2 > 59 or (h2 == 24 and m2):
        raise ValueError(f'hours such as "{such}", from 0:00 to 24:00')
    return time(h1, m1), time(23, 59) if h2 == 24 else time(h2, m2)


def span(text: Any) -> tuple[time, time]:
    """Hours of one day from "18:00-21:30"; 24:00 is held as the last minute a clock can show. Raises ValueError."""
    start, end = _clocks(text, "18:00-21:30")
    if start >= end:
        raise ValueError("hours whose end is after their start")
    return start, end


def _night(text: Any) -> tuple[time, time] | None:
    return None if text in ("", None) else _clocks(text, "22:30-06:30")


def _apart(spans: tuple[tuple[time, time], ...]) -> tuple[tuple[time, time], ...]:
    ordered = tuple(sorted(spans))
    if any(a[1] > b[0] for a, b in itertools.pairwise(ordered)):
        raise ValueError("hours that don't overlap")
    return ordered


def days(text: Any) -> tuple[date, date]:
    """The first and the last day of "2026-12-24 to 2027-01-02", or of one day alone. Raises ValueError."""
    found = _DAYS.fullmatch(text.strip()) if isinstance(text, str) else None
    try:
        if not found:
            raise ValueError
        first = date.fromisoformat(found[1])
        last = date.fromisoformat(found[2]) if found[2] else first
    except ValueError:
        raise ValueError('days such as "2026-12-24 to 2027-01-02"') from None
    if last < first:
        raise ValueError("days whose last is not before their first")
    return first, last


Span = Annotated[tuple[time, time], BeforeValidator(span)]
Spans = Annotated[tuple[Span, ...], AfterValidator(_apart)]
Night = Annotated[tuple[time, time] | None, BeforeValidator(_night)]
Days = Annotated[tuple[date, date], BeforeValidator(days)]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Passes(_Part):
    """In how many passes the sections of a cookie are flooded, by level."""

    plain: int = Field(default=1, ge=1, le=6)
    detailed: int = Field(default=2, ge=1, le=6)
    elaborate: int = Field(default=2, ge=1, le=6)


class KitchenPart(_Part):
    """`sleep` may go over midnight; None where there is none."""

    sleep: Night = None
    late_after: time = time(23, 59)
    supper: Spans = ()
    holidays: tuple[Days, ...] = ()
    extra_hours: dict[date, Spans] = {}
    flood_passes: Passes = Passes()
    design_each: int = Field(default=0, ge=0, le=600)
    color_rest: int = Field(default=0, ge=0, le=10_080)
    icing_days: int = Field(default=5, ge=1, le=60)
    delivery_way: int = Field(default=0, ge=0, le=600)

    def away(self, day: date) -> bool:
        """Whether the baker is on a break on `day`."""
        return any(first <= day <= last for first, last in self.holidays)

    def asleep(self, at: time) -> bool:
        """Whether the baker sleeps at this time of day."""
        if self.sleep is None:
            return False
        start, end = self.sleep
        return start <= at < end if start < end else at >= start or at < end
