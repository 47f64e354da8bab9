"""What is still free while a plan is drawn up, and a plan drawn together towards now once it is found."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from intake.kitchen.hours import Free, first_from, span
from intake.kitchen.tasks import Row, Task, places

Starts = tuple[tuple[int, ...], ...]
_ROUNDS = 4


class Bench:
    """Which ticks of the hands and the oven are still free, while a plan is drawn up."""

    def __init__(self, free: Free) -> None:
        self.hands, self.oven = free.hands, free.oven

    def starts(self, task: Task) -> int:
        """The ticks at which `task` could start."""
        return places(task, Free(self.hands, self.oven))

    def take(self, task: Task, start: int) -> None:
        end = start + task.length
        self.hands &= ~span(end - task.hands, end)
        if task.oven:
            self.oven &= ~span(start, end)

    def take_all(self, rows: Sequence[Row], starts: Starts) -> None:
        for row, of_row in zip(rows, starts, strict=True):
            for task, start in zip(row.tasks, of_row, strict=True):
                self.take(task, start)

    def give_back(self, task: Task, start: int) -> None:
        end = start + task.length
        self.hands |= span(end - task.hands, end)
        if task.oven:
            self.oven |= span(start, end)


def drawn_together(
    rows: Sequence[Row], starts: Starts, free: Free, *, late: int = 0, fixed: Collection[tuple[int, int]] = ()
) -> Starts:
    """The same plan with each task as early as the others let it; those in `fixed` (row, place) stay.

    Work in `late` ticks goes to a later place that is not late where there is none before, and none is moved there.
    """
    bench = Bench(free)
    bench.take_all(rows, starts)
    moved = [list(of_row) for of_row in starts]
    for _ in range(_ROUNDS):
        before = [tuple(of_row) for of_row in moved]
        line = sorted((start, r, t) for r, of_row in enumerate(moved) for t, start in enumerate(of_row))
        for start, r, t in line:
            if (r, t) in fixed:
                continue
            task = rows[r].tasks[t]
            bench.give_back(task, start)
            moved[r][t] = _place(rows[r], t, moved[r], bench, late)
            bench.take(task, moved[r][t])
        if before == [tuple(of_row) for of_row in moved]:
            break
    return tuple(tuple(of_row) for of_row in moved)


def _place(row: Row, index: int, starts: Sequence[int], bench: Bench, late: int) -> int:
    """Where a task that has been taken up is best put down: never later than it was, but to keep an evening short."""
    task, was = row.tasks[index], starts[index]
    ready = _ready(row, index, starts)
    good = first_from(places(task, Free(bench.hands & ~late, bench.oven)), ready)
    if good is not None and good <= was:
        return good
    if not late & span(was + task.length - task.hands, was + task.length):
        return was
    until = task.latest
    for place, other in enumerate(row.tasks):
        for before, wait in other.after:
            if before == index:
                until = min(until, starts[place] - wait - task.length)
    for first, last, window in row.keeps:
        if last == index:
            until = min(until, starts[first] + window)
    if good is not None and good <= until:
        return good
    found = first_from(bench.starts(task), ready)
    return was if found is None else min(was, found)


def _ready(row: Row, index: int, starts: Sequence[int]) -> int:
    task = row.tasks[index]
    ready = task.earliest
    for place, wait in task.after:
        ready = max(ready, starts[place] + row.tasks[place].length + wait)
    for first, last, window in row.keeps:
        if first == index:
            ready = max(ready, starts[last] - window)
    if not task.after and index:
        # Icing could be mixed long before, but who would: it keeps best fresh.
        ready = max(ready, starts[0])
    return ready
