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
# Days: longer than any run of days on which nothing may be sent, and than any parcel is on the road.
_SEARCHED = 70


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
    """The last day with its weekday in `send_on` from which a parcel arrives by `arrive_by`.

    No holiday, and no day before one or before a weekend, unless `send_on` leaves no other.
    """
    day = arrive_by
    while not _may_send(day, arrive_by, transit_days, send_on) or not is_business_day(day + _DAY):
        day -= _DAY
        if (arrive_by - day).days > _SEARCHED:
            day = arrive_by
            while not _may_send(day, arrive_by, transit_days, send_on):
                day -= _DAY
            return day
    return day


def _may_send(day: date, arrive_by: date, transit_days: int, send_on: Collection[str]) -> bool:
    on = WEEKDAYS[day.weekday()] in send_on and not post_holiday(day)
    return on and arrival_day(day, transit_days) <= arrive_by
