"""On which days a parcel moves, and when it must be sent to arrive in time. The one file that imports `holidays`.

A business day is Monday to Friday without the post's own holidays: the eleven of 5 USC 6103(a). One that falls on
a Sunday closes the Monday after; one that falls on a Saturday closes that Saturday and leaves the Friday open,
as the post keeps it. Transit days are an estimate: no carrier promises them.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, timedelta
from functools import lru_cache

from intake.house import WEEKDAYS

_DAY = timedelta(days=1)
_SUNDAY = 6


@lru_cache(maxsize=64)
def _holidays(year: int) -> frozenset[date]:
    from holidays import country_holidays

    return frozenset(country_holidays("US", years=year, observed=False))


def post_holiday(day: date) -> bool:
    """Whether the post rests on `day` for a holiday."""
    eve = day - _DAY
    return day in _holidays(day.year) or (eve.weekday() == _SUNDAY and eve in _holidays(eve.year))


def is_business_day(day: date) -> bool:
    return day.weekday() < 5 and not post_holiday(day)


def arrival_day(sent: date, transit_days: int) -> date:
    """The day a parcel sent on `sent` is expected, `transit_days` business days later."""
    day = sent
    while transit_days:
        day += _DAY
        transit_days -= is_business_day(day)
    return day


def last_send_day(arrive_by: date, transit_days: int, send_on: Collection[str]) -> date:
    """The last day with its weekday in `send_on`, and no holiday, from which a parcel arrives by `arrive_by`."""
    day = arrive_by
    while (
        WEEKDAYS[day.weekday()] not in send_on or post_holiday(day) or arrival_day(day, transit_days) > arrive_by
    ):
        day -= _DAY
    return day
