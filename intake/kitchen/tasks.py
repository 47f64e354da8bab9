"""Jobs as tasks on a timeline: every stretch of every step with the earliest and the latest tick it may start at.

These bounds hold for the order alone in an empty kitchen, so they hold in any company.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from intake.house import House
from intake.kitchen.hours import Timeline, first_from, last_until, runs, span, ticks
from intake.kitchen.steps import Step, bake_from, dough_ticks, steps_of
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
class Row:
    """The tasks of one job, each after those it waits for, all done by tick `due`.

    Tasks `dough[0]` and `dough[1]` (the first mixing, the last load) start at most `dough[2]` ticks apart.
    `errand` are the ticks in which the baker carries a parcel to the post office, between packing and the moment the
    parcel is due there. The counter keeps its own hours, so these may lie outside the kitchen's; inside them her
    hands are gone. Parcels of one day go together: two errands at one time are one.
    """

    job: Job
    tasks: tuple[Task, ...]
    due: int
    dough: tuple[int, int, int] | None = None
    errand: int = 0

    @property
    def fits_alone(self) -> bool:
        """False where even an empty kitchen is too slow for one of the tasks."""
        return all(task.earliest <= task.latest for task in self.tasks)


def row_of(job: Job, house: House, line: Timeline) -> Row:
    steps = steps_of(job, house)
    ends: list[int] = []
    tasks: list[Task] = []
    for step in steps:
        before = tuple((ends[place], ticks(wait)) for place, wait in step.after)
        for part, minutes in enumerate(step.parts):
            hands = ticks(minutes if step.hands is None else step.hands)
            tasks.append(Task(step, part, ticks(minutes), hands, before))
            before = ((len(tasks) - 1, 0),)
        ends.append(len(tasks) - 1)
    first_load = next((i for i, task in enumerate(tasks) if task.oven), None)
    dough = None
    if first_load is not None:
        tasks[first_load] = replace(tasks[first_load], earliest=max(0, line.up(bake_from(job, house))))
        if tasks[0].step.name == "dough":
            dough = (0, max(i for i, task in enumerate(tasks) if task.oven), dough_ticks(house))
    due = line.down(job.due)
    way = ticks(house.steps.post_office) if job.handover == "ship" else 0
    row = Row(job, tuple(tasks), due - way, dough, span(max(0, due - way), due))
    return _bounded(row, line.open)


def open_for(rows: Iterable[Row], line: Timeline) -> int:
    """The open ticks of the line that no errand of `rows` takes."""
    free = line.open
    for row in rows:
        free &= ~row.errand
    return free


def _bounded(row: Row, free: int) -> Row:
    starts = {length: runs(free, length) for length in {task.length for task in row.tasks}}
    tasks = _earliest(row.tasks, starts)
    if row.dough:
        first, last, window = row.dough
        tasks[first] = replace(tasks[first], earliest=max(tasks[first].earliest, tasks[last].earliest - window))
        tasks = _earliest(tasks, starts)
    until = [row.due - task.length for task in tasks]
    for index in reversed(range(len(tasks))):
        found = last_until(starts[tasks[index].length], until[index])
        latest = -1 if found is None else found
        tasks[index] = replace(tasks[index], latest=latest)
        for place, wait in tasks[index].after:
            until[place] = min(until[place], latest - wait - tasks[place].length)
    return replace(row, tasks=tuple(tasks))


def _earliest(tasks: Sequence[Task], starts: dict[int, int]) -> list[Task]:
    done: list[Task] = []
    for task in tasks:
        ready = max([task.earliest, *(done[i].earliest + done[i].length + wait for i, wait in task.after)])
        found = first_from(starts[task.length], ready) if ready < NEVER else None
        done.append(replace(task, earliest=NEVER if found is None else found))
    return done
