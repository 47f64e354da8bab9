"""The baker's hours as a line of ticks, five minutes each, counted in real time from now.

A line is an integer used as a row of bits: bit `t` is set where her hands are free from tick `t` to `t + 1`. A plan
of weeks is a few kilobytes, and looking for the next free stretch a handful of operations on whole numbers.
Ticks count real minutes, so that a night on which the clocks change is as long as it is.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

from intake.house import House

TICK = 5
DAY_TICKS = 24 * 60 // TICK
# The house rules hold 24:00 as the last minute a clock can show.
_MIDNIGHT = time(23, 59)


def ticks(minutes: int | Decimal) -> int:
    """Ticks that hold `minutes` of work or of waiting: rounded up, so that a plan never promises too much."""
    return math.ceil(minutes / TICK)


def runs(free: int, length: int) -> int:
    """Bit `t` set where the `length` ticks from `t` on are all set in `free`."""
    found, have = free, 1
    while have < length:
        step = min(have, length - have)
        found &= found >> step
        have += step
    return found


def first_from(line: int, tick: int) -> int | None:
    """The first set bit at `tick` or after."""
    rest = line >> tick
    return tick + (rest & -rest).bit_length() - 1 if rest else None


def last_until(line: int, tick: int) -> int | None:
    """The last set bit at `tick` or before."""
    rest = line & ((1 << tick + 1) - 1) if tick >= 0 else 0
    return rest.bit_length() - 1 if rest else None


def span(start: int, end: int) -> int:
    """Bits `start` to `end` (half-open)."""
    return ((1 << max(0, end - start)) - 1) << start


def stretches(line: int) -> Iterator[tuple[int, int]]:
    """The unbroken stretches of set bits, as (start, end), half-open, in order."""
    end = 0
    while (start := first_from(line, end)) is not None:
        rest = ~(line >> start)
        end = start + (rest & -rest).bit_length() - 1
        yield start, end


@dataclass(frozen=True, slots=True)
class Free:
    """Ticks at which her hands are free, and ticks at which she is in the kitchen and the oven is free."""

    hands: int
    oven: int

    def without(self, hands: int, oven: int = 0) -> Free:
        return Free(self.hands & ~hands, self.oven & ~oven)


@dataclass(frozen=True, slots=True)
class Timeline:
    """`length` ticks from `origin`, a tick number since 1970 in UTC; `open` are the baker's hours among them.

    In the ticks of `supper` the oven is the household's. `late` are those after which an evening gets long.
    """

    zone: ZoneInfo
    origin: int
    length: int
    open: int
    supper: int = 0
    late: int = 0

    @classmethod
    def of(cls, house: House, *, now: datetime, until: datetime) -> Timeline:
        """The hours from `now`, rounded up to a tick, to `until`."""
        zone, rules = house.zone, house.kitchen
        origin = _up(now)
        length = max(0, _down(until) - origin)

        def bits(day: date, start: time, end: time, *, inwards: bool = True) -> int:
            opens, closes = datetime.combine(day, start, zone), _end(day, end, zone)
            first, last = (_up(opens), _down(closes)) if inwards else (_down(opens), _up(closes))
            return span(max(0, first - origin), max(0, min(length, last - origin)))

        hours = supper = late = asleep = 0
        # The night that began yesterday reaches into today.
        day = now.astimezone(zone).date() - timedelta(days=1)
        last = until.astimezone(zone).date()
        while day <= last:
            for start, end in working_hours(house, day):
                hours |= bits(day, start, end)
            for start, end in rules.supper:
                supper |= bits(day, start, end, inwards=False)
            late |= bits(day, rules.late_after, _MIDNIGHT)
            if rules.sleep:
                falls, wakes = rules.sleep
                if falls < wakes:
                    asleep |= bits(day, falls, wakes, inwards=False)
                else:
                    asleep |= bits(day, falls, _MIDNIGHT, inwards=False)
                    asleep |= bits(day + timedelta(days=1), time(0), wakes, inwards=False)
            day += timedelta(days=1)
        return cls(zone, origin, length, hours & ~asleep, supper, late)

    @property
    def free(self) -> Free:
        return Free(self.open, self.open & ~self.supper)

    def up(self, moment: datetime) -> int:
        """The first tick that begins at `moment` or after; negative where that is past."""
        return _up(moment) - self.origin

    def down(self, moment: datetime) -> int:
        """The last tick that begins at `moment` or before."""
        return _down(moment) - self.origin

    def at(self, tick: int) -> datetime:
        return datetime.fromtimestamp((self.origin + tick) * TICK * 60, self.zone)


def working_hours(house: House, day: date) -> tuple[tuple[time, time], ...]:
    """The hours of one day before sleep is taken off: the week's, none on a break; and those that were added."""
    usual = () if house.kitchen.away(day) else house.hours.on(day)
    return (*usual, *house.kitchen.extra_hours.get(day, ()))


def _end(day: date, end: time, zone: ZoneInfo) -> datetime:
    if end == _MIDNIGHT:
        return datetime.combine(day + timedelta(days=1), time(0), zone)
    return datetime.combine(day, end, zone)


def _up(moment: datetime) -> int:
    return math.ceil(moment.timestamp() / (TICK * 60))


def _down(moment: datetime) -> int:
    return math.floor(moment.timestamp() / (TICK * 60))
