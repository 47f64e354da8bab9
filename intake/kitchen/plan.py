"""The kitchen's verdict: a timetable that keeps every hour, wait and due moment, or a proof that there is none."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, timedelta

from intake.house import House
from intake.kitchen.clash import crowd, newest_of, smallest
from intake.kitchen.dispatch import dispatch
from intake.kitchen.hours import Free, Timeline, span
from intake.kitchen.jobs import hand_over, moved
from intake.kitchen.listing import Bench
from intake.kitchen.room import Room, Watch
from intake.kitchen.tasks import Row, open_for, row_of
from intake.kitchen.timetable import Standing, plan_of
from intake.kitchen.words import moment, shortage
from intake.model import Clash, Fits, Job, NotProven, Plan, Verdict

_SEARCHED = timedelta(days=60)
_FURTHEST = timedelta(days=730)
# A plan that ends later than this before the due moment leaves no night to make good for a bad evening.
_TIGHT_MINUTES = 12 * 60


def decide(
    jobs: Sequence[Job], house: House, *, now: datetime, seconds: float | None = None, standing: Standing | None = None
) -> Verdict:
    """Whether all of `jobs` can be made in time from `now` on, decided within about `seconds` (one for ten orders or
    fewer, five for thirty).

    The same jobs give the same verdict; where the time to decide runs out, it is NotProven. The orders of a Clash
    come the newest first. A plan leaves work where it is `standing` as far as it can.
    """
    if not jobs:
        return Fits(Plan((), {}))
    for job in jobs:
        if job.due > now + _FURTHEST:
            return NotProven(f"{job.name} is due {moment(job.due, house.zone)}: two years ahead is too far to plan.")
    room = room_of(jobs, house, now, Watch(time_for(len(jobs)) if seconds is None else seconds))
    everything = frozenset(range(len(jobs)))
    past = [place for place, job in enumerate(jobs) if job.due <= now]
    if past:
        late = newest_of(room.rows, past)
        short = f"its due moment, {moment(jobs[late].due, house.zone)}, is past"
        return _clash(room, frozenset({late}), short, house, now)
    alone = next((place for place in sorted(everything) if room.fits({place}, share=0.1) is False), None)
    answer = False if alone is not None else room.fits(everything, share=0.6)
    if answer:
        plan = plan_of(room.rows, room.plan(everything, standing), room.line, house)
        return Fits(plan, tuple(job.order_id for job in jobs if plan.slack[job.order_id] < _TIGHT_MINUTES))
    if alone is not None:
        found, fewest = frozenset({alone}), True
    elif answer is False:
        found, fewest = smallest(room, everything)
    elif first := crowd(room, everything):
        found, fewest = smallest(room, first)
    else:
        return NotProven("There was no time to find a plan, nor to prove that there is none.")
    short = shortage([room.rows[place] for place in sorted(found)], room.line)
    return _clash(room, found, short, house, now, fewest=fewest)


def time_for(orders: int) -> float:
    """Seconds to decide in."""
    return min(max(0.9, orders / 7 - 0.6), 9.0)


def earliest_day(job: Job, others: Sequence[Job], house: House, *, now: datetime, seconds: float = 5.0) -> date | None:
    """The first hand-over day, from its own on, on which `job` goes together with `others`, at the same time of day.

    None where no day of sixty does, or `others` don't go together. Where the seconds run out, the first day that is
    shown to work.
    """
    return _earliest(room_of([*others, job], house, now, Watch(seconds)), len(others), house, now)


def room_of(jobs: Sequence[Job], house: House, now: datetime, watch: Watch) -> Room:
    """Where `jobs` can be asked for in sets, on a line long enough for any of them to be moved."""
    last = min(max(now, *(job.due for job in jobs)), now + _FURTHEST) if jobs else now
    # A parcel moved by the days that are searched may be sent a few days later than that.
    line = Timeline.of(house, now=now, until=last + _SEARCHED + timedelta(days=7))
    return Room([row_of(job, house, line) for job in jobs], line, watch)


def _clash(
    room: Room, found: frozenset[int], short: str, house: House, now: datetime, *, fewest: bool = True
) -> Clash:
    newest = newest_of(room.rows, found)
    orders = tuple(room.rows[place].job.order_id for place in sorted(found, key=lambda i: (i != newest, i)))
    return Clash(orders, orders[0], short, _earliest(room, newest, house, now), fewest)


def _earliest(room: Room, place: int, house: House, now: datetime) -> date | None:
    job = room.rows[place].job
    others = [row for other, row in enumerate(room.rows) if other != place]
    beside = frozenset(range(len(room.rows))) - {place}
    if not room.fits(beside):
        return None
    bench = Bench(open_for(others, room.line))
    if others:
        bench.take_all(others, room.plan(beside))
    left = Free(bench.hands, bench.oven)
    first = max(now.astimezone(house.zone).date(), hand_over(job, house).date())
    days = [first + timedelta(days=count) for count in range(_SEARCHED.days + 1)]
    offers = [(day, offer) for day in days if (offer := moved(job, day, house)).due > now]
    # Of days with too few hours before them nothing more need be asked.
    work = sum(task.hands for task in room.rows[place].tasks)
    hours = room.line.free.hands
    made = [
        (day, row_of(offer, house, room.line))
        for day, offer in offers
        if (hours & span(0, room.line.down(offer.due))).bit_count() >= work
    ]
    # The days on which it goes beside the plan of the others are found at once; an earlier one may need another plan.
    sure = next((day for day, row in made if _beside(row, others, left, room)), None)
    for day, row in made:
        if day == sure or Room([*others, row], room.line, room.watch).fits(range(len(others) + 1), share=0.1):
            return day
    return None


def _beside(row: Row, others: Sequence[Row], left: Free, room: Room) -> bool:
    """Whether `row` goes into what is `left` beside the others' plan, and its way into hours they don't need."""
    taken = open_for(others, room.line).hands & ~left.hands
    goes = row.fits_alone and dispatch([row], left.without(row.errand, row.errand), rounds=1) is not None
    return goes and not taken & row.errand
