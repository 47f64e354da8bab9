"""Start ticks as a timetable that a baker can read."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import timedelta

from intake.house import House
from intake.kitchen.hours import TICK, Timeline
from intake.kitchen.listing import Starts
from intake.kitchen.tasks import Row, Task
from intake.model import Plan, Work


def plan_of(rows: Sequence[Row], starts: Starts, line: Timeline, house: House) -> Plan:
    """The plan of `rows` started at `starts`. Slack is counted to the moment the order must be packed."""
    works: list[Work] = []
    slack: dict[int, int] = {}
    for row, of_row in zip(rows, starts, strict=True):
        works += _joined(row, of_row, line)
        slack[row.job.order_id] = (row.due - of_row[-1] - row.tasks[-1].length) * TICK
        if row.errand:
            due = row.job.due.astimezone(line.zone)
            leaves = due - timedelta(minutes=house.steps.post_office)
            works.append(Work(row.job.order_id, "pack", "post office", leaves, due, uses=()))
    return Plan(tuple(sorted(works, key=lambda w: (w.start, w.end, w.order_id, w.label))), slack)


def _joined(row: Row, starts: Sequence[int], line: Timeline) -> list[Work]:
    """The stretches of one order; half hours of the same step that follow on each other are one."""
    joined: list[Work] = []
    for task, start in zip(row.tasks, starts, strict=True):
        for work in _works(row, task, start, line):
            before = joined[-1] if joined else None
            if before and before.label == work.label and before.end == work.start:
                joined[-1] = replace(before, end=work.end)
            else:
                joined.append(work)
    return joined


def _works(row: Row, task: Task, start: int, line: Timeline) -> Iterator[Work]:
    step, end = task.step, start + task.length
    number = row.job.order_id
    if step.oven:
        load = f"load {task.part + 1} of {len(step.parts)}"
        yield Work(number, step.name, f"{step.label}, {load}", line.at(start), line.at(end), ("oven",))
        if task.hands:
            yield Work(number, step.name, f"turn, {load}", line.at(end - task.hands), line.at(end))
        return
    batch = f", batch {task.part + 1} of {len(step.parts)}" if step.name == "dough" and len(step.parts) > 1 else ""
    yield Work(number, step.name, step.label + batch, line.at(start), line.at(end))
