"""Days counted on the calendar: the next such weekday, the next such day of a month; weeks start on Sunday."""

from __future__ import annotations

import calendar
from datetime import date, timedelta

DAY = timedelta(days=1)


def on_or_after(month: int, day: int, base: date) -> date | None:
    """The first day of that month and day on or after `base`, within the next five years (29 February)."""
    for year in range(base.year, base.year + 5):
        try:
            found = date(year, month, day)
        except ValueError:
            continue
        if found >= base:
            return found
    return None


def coming(weekday: int, base: date) -> date:
    """The next such weekday on or after `base`."""
    return base + timedelta(days=(weekday - base.weekday()) % 7)


def next_week(weekday: int, base: date) -> date:
    """Such a weekday in the week after the one of `base`; weeks start on Sunday."""
    sunday = base - timedelta(days=(base.weekday() + 1) % 7) + timedelta(days=7)
    return sunday + timedelta(days=(weekday + 1) % 7)


def ordinal_near(day: int, weekday: int, base: date, anchor: date | None = None) -> tuple[date, bool] | None:
    """The day-of-month meant by "the 14th": on or after `base`, near `anchor` where there is one.

    A said `weekday` (-1 for none) picks the month in which it falls; the second value tells whether it agrees.
    """
    found = []
    for step in range(-1, 13):
        year, month = divmod(base.year * 12 + base.month - 1 + step, 12)
        if day <= calendar.monthrange(year, month + 1)[1] and (d := date(year, month + 1, day)) >= base:
            found.append(d)
    if not found:
        return None
    agreeing = [d for d in ([d for d in found if d <= anchor + 35 * DAY] if anchor and anchor >= base else found[:4]) if weekday in (-1, d.weekday())]
    pool = agreeing or found
    if anchor:
        before = [d for d in pool if d <= anchor + 3 * DAY]
        return (before[-1] if before else pool[0]), bool(agreeing)
    return pool[0], bool(agreeing)


def month_span(year: int, month: int) -> tuple[date, date]:
    return date(year, month, 1), date(year, month, calendar.monthrange(year, month)[1])
