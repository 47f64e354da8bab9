"""Jobs as tasks on a timeline: every stretch of every step with the earliest and the latest tick it may start at.

These bounds hold for the order alone in an empty kitchen, so they hold in any company.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from intake.house import House
from intake.kitchen.hours import Free, Timeline, first_from, last_until, runs, span, ticks
from intake.kitchen.steps import Step, bake_from, steps_of, way_minutes
from intake.model import Job

NEVER = 1 << 40


@dataclass(frozen=True, slots=True)
class Task:
    """One stretch, done in one go. All in ticks; `hands` at its end; `after` pairs earlier tasks with waits."""

    step: Step
    part: int
    length: int
    hands: int
    after: tuple[tuple[int, int], ...]
    earliest: int = 0
    latest: int = NEVER

    @property
    def oven(self) -> bool:
        return self.step.oven


@dataclass(frozen=True, slots=True)
class UnderWay:
    """A stretch that has begun: it goes on to tick `until`, whatever else is planned."""

    step: Step
    until: int


@dataclass(frozen=True, slots=True)
class Row:
    """The tasks of one job, each after those it waits for, all done by tick `due`.

    Of each of `keeps`, tasks `[0]` and `[1]` start at most `[2]` ticks apart: dough and icing keep no longer.
    `errand` are the ticks in which the baker carries a parcel to the post office or cookies to a customer, between
    packing and the moment they are due there. The counter keeps its own hours, so these may lie outside the kitchen's;
    inside them her hands are gone. Parcels of one day go together: two errands at one time are one.
    """

    job: Job
    tasks: tuple[Task, ...]
    due: int
    keeps: tuple[tuple[int, int, int], ...] = ()
    errand: int = 0
    under_way: tuple[UnderWay, ...] = ()

    @property
    def fits_alone(self) -> bool:
        """False where even an empty kitchen is too slow for one of the tasks."""
        return all(task.earliest <= task.latest for task in self.tasks)

    def too_old(self, first: int, starts: Sequence[int]) -> bool:
        """Whether what task `first` makes would be kept too long, were the tasks started at `starts`."""
        return any(a == first and starts[b] - starts[a] > window for a, b, window in self.keeps)


def places(task: Task, free: Free) -> int:
    """The ticks at which `task` could start."""
    if not task.oven:
        return runs(free.hands, task.length)
    found = runs(free.oven, task.length)
    return found & (runs(free.hands, task.hands) >> (task.length - task.hands)) if task.hands else found


def row_of(job: Job, house: House, line: Timeline) -> Row:
    steps = steps_of(job, house)
    firsts: list[int] = []
    ends: list[tuple[int | None, int]] = []
    tasks: list[Task] = []
    under_way: list[UnderWay] = []
    for step in steps:
        waits = [(*ends[at], ticks(wait)) for at, wait in step.after]
        before = tuple((place, wait) for place, _, wait in waits if place is not None)
        ready = max([0, *(until + wait for place, until, wait in waits if place is None)])
        if step.ready:
            ready = max(ready, line.up(step.ready))
        if step.oven:
            ready = max(ready, line.up(bake_from(job, house)))
        firsts.append(len(tasks))
        for part, minutes in enumerate(step.parts):
            length = ticks(minutes)
            if step.begun and not part:
                # What has taken longer than planned is taken to be nearly done.
                ready = max(1, line.up(step.begun) + length)
                under_way.append(UnderWay(step, ready))
                continue
            hands = length if step.hands is None else ticks(step.hands)
            tasks.append(Task(step, part, length, hands, before, ready))
            before = ((len(tasks) - 1, 0),)
        ends.append((len(tasks) - 1 if len(tasks) > firsts[-1] else None, ready))
    due = line.down(job.due)
    way = ticks(way_minutes(job, house))
    keeps = []
    for number, step in enumerate(steps):
        last = firsts[number] + len(step.parts) - 1 - bool(step.begun)
        if step.keeps and firsts[step.keeps[0]] < firsts[number] <= last:
            keeps.append((firsts[step.keeps[0]], last, step.keeps[1]))
        if step.by and firsts[number] <= last:
            tasks[last] = replace(tasks[last], latest=line.down(step.by))
    row = Row(job, tuple(tasks), due - way, tuple(keeps), span(max(0, due - way), due), tuple(under_way))
    return _bounded(row, open_for([row], line, errands=False))


def open_for(rows: Iterable[Row], line: Timeline, *, errands: bool = True) -> Free:
    """What is free on the line beside the errands of `rows` and the work that is under way."""
    free = line.free
    for row in rows:
        free = free.without(row.errand, row.errand) if errands else free
        for held in row.under_way:
            hands = ticks(held.step.parts[0] if held.step.hands is None else held.step.hands)
            begin = max(0, held.until - ticks(held.step.parts[0]))
            free = free.without(
                span(max(0, held.until - hands), held.until), span(begin, held.until) if held.step.oven else 0
            )
    return free


def _bounded(row: Row, free: Free) -> Row:
    tasks = row.tasks
    found = {(task.length, task.hands, task.oven): places(task, free) for task in tasks}
    starts = [found[task.length, task.hands, task.oven] for task in tasks]
    earliest = _earliest(tasks, starts, [task.earliest for task in tasks])
    for first, last, window in row.keeps:
        if earliest[last] - window > earliest[first]:
            earliest[first] = earliest[last] - window
            earliest = _earliest(tasks, starts, earliest)
    # What has been kept too long already can't be helped: it is not held against the plan.
    latest = [
        row.due - task.length if task.latest < at else min(row.due - task.length, task.latest)
        for task, at in zip(tasks, earliest, strict=True)
    ]
    for index in reversed(range(len(tasks))):
        found_at = last_until(starts[index], latest[index])
        latest[index] = at = -1 if found_at is None else found_at
        for place, wait in tasks[index].after:
            latest[place] = min(latest[place], at - wait - tasks[place].length)
    bounds = zip(tasks, earliest, latest, strict=True)
    return replace(row, tasks=tuple(replace(task, earliest=a, latest=b) for task, a, b in bounds))


def _earliest(tasks: Sequence[Task], starts: Sequence[int], bounds: Sequence[int]) -> list[int]:
    done: list[int] = []
    for task, allowed, ready in zip(tasks, starts, bounds, strict=True):
        for place, wait in task.after:
            ready = max(ready, done[place] + tasks[place].length + wait)
        found = first_from(allowed, ready) if ready < NEVER else None
        done.append(NEVER if found is None else found)
    return done
