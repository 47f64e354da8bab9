"""A day of the Bench as lines to read and to tick off, and its load as a bar."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from intake.kitchen.bench import Load, Sheet
from intake.kitchen.words import hours
from intake.model import Mark, Work

TODO, UNDER_WAY, DONE, LATE, LEAVES = "to do", "under way", "done", "late", "leaves"
SIGNS = {TODO: "○", UNDER_WAY: "◐", DONE: "●", LATE: "!", LEAVES: "→"}
_AWAY = ("post office", "deliver")


@dataclass(frozen=True, slots=True)
class Line:
    """One thing to do or done. `clock` such as "18:00-18:20"; `parts` are the stretches that a tick settles, of `task`;
    both are empty where there is nothing to tick."""

    state: str
    clock: str
    what: str
    order_id: int
    task: str = ""
    parts: tuple[int, int] = (0, 0)
    note: str = ""

    @property
    def sign(self) -> str:
        return SIGNS[self.state]


def agenda(sheet: Sheet, day: date, marks: Sequence[Mark] = ()) -> tuple[Line, ...]:
    """The lines of one day: what was ticked off on it (`marks`), then what there is to do, by the clock."""
    done = [
        Line(DONE, f"{mark.at:%H:%M}", mark.step, mark.order_id, mark.step, (0, mark.parts))
        for mark in marks if mark.at
    ]  # fmt: skip
    was = {(late.order_id, late.task): late.planned for late in sheet.late}
    timed: list[tuple[datetime, int, Line]] = []
    for work in sheet.on(day):
        if not work.label.startswith("turn"):
            timed.append((work.start, 1, _line(work, sheet.now, was.get((work.order_id, work.task)))))
    sent = {work.order_id for work in sheet.works if work.label in _AWAY}
    for order, due in sheet.dues.items():
        if due.date() == day and order not in sent:
            late = (sheet.behind or {}).get(order)
            note = f"not ready before {late:%a} {late.day} {late:%b %H:%M}" if late else ""
            timed.append((due, 0, Line(LATE if late else LEAVES, f"{due:%H:%M}", "picked up", order, note=note)))
    return (*done, *(line for _, _, line in sorted(timed, key=lambda item: item[:2])))


def _line(work: Work, now: datetime, was: datetime | None) -> Line:
    clock = f"{work.start:%H:%M}-{work.end:%H:%M}"
    if work.label in _AWAY:
        what = "to the post office" if work.label == "post office" else "deliver"
        return Line(LEAVES, clock, what, work.order_id)
    state = UNDER_WAY if work.start < now else LATE if was else TODO
    note = f"was {was:%a %H:%M}" if was else ""
    return Line(state, clock, work.label, work.order_id, work.task, work.parts, note)


def day_line(load: Load) -> str:
    """Such as "3 h 10 of work in 3 h 30"."""
    if load.off:
        return "a day off" + (f", {hours(load.hands)} of work" if load.hands else "")
    late = f", {hours(load.late)} at night" if load.late else ""
    return f"{hours(load.hands)} of work in {hours(load.room)}{late}"


def bar(load: Load, width: int) -> str:
    """A bar of `width` letters: full for hours taken, light for hours free; dots on a day off."""
    if load.off:
        return "·" * width
    taken = min(width, round(width * load.hands / load.room))
    # A little work is not none, and a little room is not full.
    taken = max(taken, 1) if load.hands else taken
    taken = min(taken, width - 1) if load.hands < load.room else taken
    return "█" * taken + "░" * (width - taken)


def percent(load: Load) -> int:
    """How full a day is, of a hundred."""
    return round(100 * load.hands / load.room) if load.room else 0


def missing(sheet: Sheet, names: Mapping[int, str]) -> tuple[str, ...]:
    """What the plan can't keep, one line each."""
    found = []
    for order, ready in (sheet.behind or {}).items():
        due = sheet.dues[order]
        found.append(
            f"{names.get(order, f'order {order}')}: due {due:%a} {due.day} {due:%b %H:%M}, "
            f"planned for {ready:%a} {ready.day} {ready:%b %H:%M}"
        )
    found += [f"{names.get(order, f'order {order}')}: no plan was found for it" for order in sheet.unplanned]
    return tuple(found)
