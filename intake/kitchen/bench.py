"""The days ahead: what to do on each with clock times, how full each is, what is late."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from intake.house import House
from intake.kitchen.hours import TICK, Timeline, span
from intake.kitchen.jobs import Begun, hand_over, moved
from intake.kitchen.plan import decide
from intake.kitchen.steps import steps_of
from intake.kitchen.timetable import Standing, standing_of
from intake.model import Clash, Fits, Job, Mark, Work

_DAYS = 42
# After the planned end of a session so much time may pass before it counts as missed.
_GRACE = timedelta(minutes=30)


@dataclass(frozen=True, slots=True)
class Late:
    """Work that was planned for `planned` and is not ticked off."""

    order_id: int
    task: str
    planned: datetime


@dataclass(frozen=True, slots=True)
class Load:
    """How full a day is, in minutes: hands there are (over the whole day), hands and oven planned, hands late at night.
    `hand_overs` counts orders that leave; `off` is a day without hours."""

    day: date
    room: int
    hands: int
    oven: int
    late: int
    hand_overs: int

    @property
    def off(self) -> bool:
        return not self.room


@dataclass(frozen=True, slots=True)
class Sheet:
    """The plan of all booked orders as of `now`. `behind` are orders planned past the moment they are due, with the
    moment that they could be ready by; `unplanned` those for which no plan was found."""

    now: datetime
    works: tuple[Work, ...]
    dues: Mapping[int, datetime]
    late: tuple[Late, ...] = ()
    behind: Mapping[int, datetime] | None = None
    unplanned: tuple[int, ...] = ()
    loads: tuple[Load, ...] = ()

    def on(self, day: date) -> tuple[Work, ...]:
        """The work of one day, in order."""
        return tuple(work for work in self.works if work.start.date() == day)


def presumed(job: Job, house: House, standing: Standing, now: datetime) -> Job:
    """`job` with the sessions under way that are planned for now: she ticks them off when they are over."""
    marks = list(job.marks) if isinstance(job, Begun) else []
    for step in steps_of(job, house):
        if step.after or step.begun or (step.ready and step.ready > now):
            continue
        starts: list[datetime] = []
        for part in range(len(step.parts)):
            at = standing.get((job.order_id, step.label, step.gone + part))
            lasted = timedelta(minutes=step.parts[part - 1]) if part else None
            if at is None or (lasted is not None and at != starts[-1] + lasted):
                break
            starts.append(at)
        if not starts:
            continue
        end = starts[-1] + timedelta(minutes=step.parts[len(starts) - 1])
        if starts[0] <= now < end + _GRACE:
            at = max(start for start in starts if start <= now)
            last = next((m.at for m in marks if m.step == step.label), None)
            marks = [m for m in marks if m.step != step.label]
            marks.append(Mark(job.order_id, step.label, step.gone + starts.index(at), last, at))
    if isinstance(job, Begun):
        return replace(job, marks=tuple(marks))
    if not marks:
        return job
    values = {name: getattr(job, name) for name in Job.__dataclass_fields__}
    return Begun(**values, marks=tuple(marks))


def sheet_of(jobs: Sequence[Job], house: House, *, now: datetime, standing: Standing, seconds: float = 2.0) -> Sheet:
    """The sheet of `jobs`. Orders that can't be made in time are planned for as soon as they can."""
    dues = {job.order_id: job.due for job in jobs}
    going = [presumed(job, house, standing, now) for job in jobs]
    behind: dict[int, datetime] = {}
    unplanned: list[int] = []
    plan = None
    while going and plan is None:
        verdict = decide(going, house, now=now, seconds=seconds, standing=standing)
        match verdict:
            case Fits():
                plan = verdict.plan
            case Clash(newest=newest, earliest=earliest) if earliest and newest not in behind:
                place = next(i for i, job in enumerate(going) if job.order_id == newest)
                going[place] = moved(going[place], earliest, house)
                behind[newest] = going[place].due
            case Clash(newest=newest):
                unplanned.append(newest)
                going = [job for job in going if job.order_id != newest]
            case _:
                last = max(going, key=lambda job: (job.due, job.order_id))
                unplanned.append(last.order_id)
                going.remove(last)
    works = plan.works if plan else ()
    begun = {(w.order_id, w.task) for w in works if w.start < now}
    late: dict[tuple[int, str], datetime] = {}
    for (order, task, part), _ in (standing_of(plan) if plan else {}).items():
        was = standing.get((order, task, part))
        if was and was + _GRACE <= now and (order, task) not in begun:
            late[order, task] = min(was, late.get((order, task), was))
    found = tuple(Late(order, task, was) for (order, task), was in sorted(late.items(), key=lambda item: item[1]))
    works = tuple(_whole_session(work, standing, now) for work in works)
    return Sheet(now, works, dues, found, behind, tuple(unplanned), loads_of(works, jobs, house, now))


def _whole_session(work: Work, standing: Standing, now: datetime) -> Work:
    """Of work under way, all of its session: from when it was planned to begin."""
    if work.start >= now or not work.task:
        return work
    first, start = work.parts[0], work.start
    while (at := standing.get((work.order_id, work.task, first - 1))) and start - at <= timedelta(minutes=30):
        first, start = first - 1, at
    return replace(work, start=start, parts=(first, work.parts[1])) if "oven" not in work.uses else work


def loads_of(works: Sequence[Work], jobs: Sequence[Job], house: House, now: datetime) -> tuple[Load, ...]:
    """How full each of the next six weeks' days is, today first."""
    first = now.astimezone(house.zone).date()
    midnight = datetime.combine(first, time(0), house.zone)
    days = [first + timedelta(days=n) for n in range(_DAYS)]
    line = Timeline.of(house, now=midnight, until=midnight + timedelta(days=_DAYS + 1))
    busy = {"hands": 0, "oven": 0}
    for work in works:
        for use in work.uses:
            busy[use] |= span(max(0, line.down(work.start)), max(0, line.up(work.end)))
    leaves = [hand_over(job, house).date() if job.handover != "ship" else job.due.date() for job in jobs]

    def minutes(bits: int, day: date) -> int:
        begins = datetime.combine(day, time(0), house.zone)
        ends = datetime.combine(day + timedelta(days=1), time(0), house.zone)
        return (bits & span(line.up(begins), line.up(ends))).bit_count() * TICK

    return tuple(
        Load(
            day,
            minutes(line.open, day),
            minutes(busy["hands"], day),
            minutes(busy["oven"], day),
            minutes(busy["hands"] & line.late, day),
            leaves.count(day),
        )
        for day in days
    )


def planned_on(standing: Standing, plan: Standing, now: datetime) -> dict[tuple[int, str, int], datetime]:
    """The plan to keep: where work stood that should have been done by now stays, so that it shows as late."""
    return {key: standing[key] if key in standing and standing[key] < now else at for key, at in plan.items()}
