"""Start ticks as a timetable that a baker can read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from intake.house import House
from intake.kitchen.hours import TICK, Timeline, ticks
from intake.kitchen.listing import Starts
from intake.kitchen.steps import SITTING, Step, way_minutes
from intake.kitchen.tasks import Row
from intake.model import STEPS, Plan, Work

# When each stretch begins, by order, label of its step and number within it.
Standing = Mapping[tuple[int, str, int], datetime]


def standing_of(plan: Plan) -> dict[tuple[int, str, int], datetime]:
    """When each stretch of work of a plan begins. Half hours that were joined are told apart again."""
    return {
        (work.order_id, work.task, part): work.start + timedelta(minutes=SITTING * (part - work.parts[0]))
        for work in plan.works if work.task and not work.label.startswith("turn")
        for part in range(*work.parts)
    }  # fmt: skip


def plan_of(rows: Sequence[Row], starts: Starts, line: Timeline, house: House) -> Plan:
    """The plan of `rows` started at `starts`. Slack is counted to the moment the order must be packed."""
    works: list[Work] = []
    slack: dict[int, int] = {}
    for row, of_row in zip(rows, starts, strict=True):
        works += _joined(row, of_row, line)
        ends = [start + task.length for start, task in zip(of_row, row.tasks, strict=True)]
        slack[row.job.order_id] = (row.due - max([0, *ends, *(held.until for held in row.under_way)])) * TICK
        if row.errand:
            due = row.job.due.astimezone(line.zone)
            leaves = due - timedelta(minutes=way_minutes(row.job, house))
            label = "post office" if row.job.handover == "ship" else "deliver"
            works.append(Work(row.job.order_id, "pack", label, leaves, due, uses=()))
    return Plan(tuple(sorted(works, key=lambda w: (w.start, w.end, w.order_id, w.label))), slack)


def _joined(row: Row, starts: Sequence[int], line: Timeline) -> list[Work]:
    """The stretches of one order; half hours of the same step that follow on each other are one."""
    joined: list[Work] = []
    under_way = [
        work for held in row.under_way
        for work in _works(row, held.step, 0, held.until - ticks(held.step.parts[0]), held.until, line)
    ]  # fmt: skip
    planned = [
        work for task, start in zip(row.tasks, starts, strict=True)
        for work in _works(row, task.step, task.part, start, start + task.length, line)
    ]  # fmt: skip
    for work in sorted((*under_way, *planned), key=lambda w: (STEPS.index(w.step), w.start)):
        before = joined[-1] if joined else None
        if before and before.label == work.label and before.end == work.start:
            joined[-1] = replace(before, end=work.end, parts=(before.parts[0], work.parts[1]))
        else:
            joined.append(work)
    return joined


def _works(row: Row, step: Step, part: int, start: int, end: int, line: Timeline) -> Iterator[Work]:
    number, this, of = row.job.order_id, step.gone + part + 1, step.gone + len(step.parts)
    parts = (this - 1, this)
    if step.oven:
        load = f"load {this} of {of}"
        hands = ticks(step.hands or 0)
        yield Work(
            number, step.name, f"{step.label}, {load}", line.at(start), line.at(end), ("oven",), step.label, parts
        )
        if hands:
            label = f"turn, {load}"
            yield Work(number, step.name, label, line.at(end - hands), line.at(end), ("hands",), step.label, parts)
        return
    batch = f", batch {this} of {of}" if step.name == "dough" and of > 1 else ""
    yield Work(number, step.name, step.label + batch, line.at(start), line.at(end), ("hands",), step.label, parts)
