"""Ways out of a clash for the order that gives way, each tried: another day, fewer or plainer cookies, longer hours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from intake.house import House
from intake.kitchen.hours import working_hours
from intake.kitchen.plan import room_of
from intake.kitchen.room import Watch
from intake.kitchen.words import day_words
from intake.model import Clash, Job, Way

_SHARE = 0.15
_LEVELS = ("plain", "detailed", "elaborate")
_MOST_HOURS = 3
_MANY = 36


def ways_out(
    clash: Clash, jobs: Sequence[Job], house: House, *, now: datetime, seconds: float = 3.0
) -> tuple[Way, ...]:
    """What would make room for the newest order of `clash`, as far as it is found in about `seconds`.

    Where the other orders clash without it as well, each way is one out of this clash alone.
    """
    newest = next(job for job in jobs if job.order_id == clash.newest)
    others = [job for job in jobs if job is not newest]
    if not _fits(others, house, now, Watch(seconds / 4)):
        others = [job for job in others if job.order_id in clash.orders]
    ways = [*_day(clash), *_count(newest, others, house, now, Watch(seconds / 3))]
    if newest.due > now:
        ways += _plainer(newest, others, house, now, Watch(seconds / 3))
        ways += _hours(newest, others, house, now, Watch(seconds / 3))
    return tuple(ways)


def _fits(jobs: Sequence[Job], house: House, now: datetime, watch: Watch) -> bool:
    if watch.out:
        return False
    room = room_of(jobs, house, now, watch)
    return room.fits(range(len(jobs)), share=_SHARE) is True


def _day(clash: Clash) -> Iterator[Way]:
    if clash.earliest:
        yield Way("day", f"hand it over on {day_words(clash.earliest)}")


def most_that_fit(job: Job, others: Sequence[Job], house: House, now: datetime, watch: Watch) -> int:
    """The largest count, up to near its own, with which `job` is shown to go together with `others`."""
    # Of many, half dozens are near enough.
    step = 1 if job.count <= _MANY else 6
    fits, too_many = 0, job.count // step * step + step
    while too_many - fits > step:
        count = (fits + too_many) // (2 * step) * step
        # As many of them lettered as before, at most.
        fewer = replace(job, count=count, lettered=min(job.lettered, count))
        if _fits([*others, fewer], house, now, watch):
            fits = count
        else:
            too_many = count
    return fits


def _count(newest: Job, others: Sequence[Job], house: House, now: datetime, watch: Watch) -> Iterator[Way]:
    most = most_that_fit(newest, others, house, now, watch)
    # A handful is no way out for an order of dozens.
    if most * 2 >= house.rates.minimum_count:
        few = "" if most >= house.rates.minimum_count else f" (fewer than the {house.rates.minimum_count} you take on)"
        yield Way("count", f"make {most} of the {newest.count} by then{few}")


def _plainer(newest: Job, others: Sequence[Job], house: House, now: datetime, watch: Watch) -> Iterator[Way]:
    for colors in range(newest.colors - 1, 0, -1):
        if _fits([*others, replace(newest, colors=colors)], house, now, watch):
            yield Way("colors", f"{colors} {'color' if colors == 1 else 'colors'} instead of {newest.colors}")
            break
    for level in reversed(_LEVELS[: _LEVELS.index(newest.level)]):
        if _fits([*others, replace(newest, level=level)], house, now, watch):
            yield Way("level", f"decorate them {level} instead of {newest.level}")
            break


def _hours(newest: Job, others: Sequence[Job], house: House, now: datetime, watch: Watch) -> Iterator[Way]:
    """The fewest hours more on one day: at its end, or where she sleeps by then, before its beginning."""
    last = newest.due.astimezone(house.zone).date()
    for hours in range(1, _MOST_HOURS + 1):
        day = now.astimezone(house.zone).date()
        while day <= last and not watch.out:
            for start, end in _longer(house, day, hours):
                if _fits([*others, newest], with_hours(house, day, start, end), now, watch):
                    many = "one hour" if hours == 1 else f"{hours} hours"
                    yield Way("hours", f"work {many} more on {day_words(day)}, {start:%H:%M} to {end:%H:%M}")
                    return
            day += timedelta(days=1)


def _longer(house: House, day: date, hours: int) -> Iterator[tuple[time, time]]:
    spans = sorted(working_hours(house, day))
    if not spans:
        return
    more = timedelta(hours=hours)
    for start in (datetime.combine(day, spans[-1][1]), datetime.combine(day, spans[0][0]) - more):
        end = start + more
        minutes = (start + timedelta(minutes=15 * n) for n in range(4 * hours))
        if end.date() == start.date() == day and not any(house.kitchen.asleep(m.time()) for m in minutes):
            yield start.time(), end.time()


def with_hours(house: House, day: date, start: time, end: time) -> House:
    """The house with hours added on one day."""
    added = (*house.kitchen.extra_hours.get(day, ()), (start, end))
    kitchen = house.kitchen.model_copy(update={"extra_hours": {**house.kitchen.extra_hours, day: added}})
    return house.model_copy(update={"kitchen": kitchen})
