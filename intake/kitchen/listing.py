"""A quick plan by hand, so to speak: orders are put in one after another, each as late as it still goes.

Finding none proves nothing. One that is found keeps every rule, and is then drawn together towards now, which
leaves the baker slack before each due moment and the coming evenings for orders that are not there yet.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from random import Random

from intake.kitchen.hours import Free, first_from, last_until, span
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


def lay_out(rows: Sequence[Row], free: Free, *, tries: int) -> Starts | None:
    """Start ticks for every task of every row, or None where `tries` orders of putting rows in have found none."""
    numbers = range(len(rows))
    work = [sum(task.hands for task in row.tasks) for row in rows]
    spare = [min((task.latest - task.earliest for task in row.tasks), default=0) for row in rows]
    orders = [
        sorted(numbers, key=lambda i: (rows[i].due, i)),
        sorted(numbers, key=lambda i: (spare[i], i)),
        sorted(numbers, key=lambda i: (-rows[i].due, i)),
        sorted(numbers, key=lambda i: (-work[i], i)),
    ]
    shuffled = Random(len(rows))
    seen: set[tuple[int, ...]] = set()
    sooner: list[int] = []
    for count in range(tries):
        order = orders[count] if count < len(orders) else sooner
        while tuple(order) in seen and len(seen) < math.factorial(len(rows)):
            shuffled.shuffle(order)
        seen.add(tuple(order))
        bench = Bench(free)
        found: dict[int, tuple[int, ...]] = {}
        for place in order:
            starts = _late(rows[place], bench) or _early(rows[place], bench)
            if starts is None:
                # The order that found no place is put in sooner next time.
                at = shuffled.randint(0, order.index(place) // 2)
                sooner = [*order[:at], place, *(i for i in order[at:] if i != place)]
                break
            found[place] = starts
        else:
            return tuple(found[i] for i in numbers)
    return None


def _late(row: Row, bench: Bench) -> tuple[int, ...] | None:
    """Every task as late as it goes, put on the bench; or None, and the bench as it was."""
    hands, oven = bench.hands, bench.oven
    starts = [0] * len(row.tasks)
    until = [task.latest for task in row.tasks]
    for index in reversed(range(len(row.tasks))):
        task = row.tasks[index]
        start = last_until(bench.starts(task), until[index])
        if start is None or start < task.earliest:
            bench.hands, bench.oven = hands, oven
            return None
        starts[index] = start
        if row.too_old(index, starts):
            bench.hands, bench.oven = hands, oven
            return None
        bench.take(task, start)
        for place, wait in task.after:
            until[place] = min(until[place], start - wait - row.tasks[place].length)
    return tuple(starts)


def _early(row: Row, bench: Bench) -> tuple[int, ...] | None:
    """Every task as early as it goes, put on the bench; or None, and the bench as it was."""
    hands, oven = bench.hands, bench.oven
    starts = [0] * len(row.tasks)
    for index, task in enumerate(row.tasks):
        ready = max([task.earliest, *(starts[i] + row.tasks[i].length + wait for i, wait in task.after)])
        start = first_from(bench.starts(task), ready)
        if start is None or start > task.latest:
            bench.hands, bench.oven = hands, oven
            return None
        starts[index] = start
        bench.take(task, start)
    if any(row.too_old(first, starts) for first, _, _ in row.keeps):
        bench.hands, bench.oven = hands, oven
        return None
    return tuple(starts)


def goes_beside(row: Row, free: Free) -> bool:
    """Whether `row` finds its places in what the others leave free, its own errand taken off."""
    return row.fits_alone and _late(row, Bench(free)) is not None


def drawn_together(rows: Sequence[Row], starts: Starts, free: Free) -> Starts:
    """The same plan with each task as early as the others let it; never later than it was."""
    bench = Bench(free)
    bench.take_all(rows, starts)
    moved = [list(of_row) for of_row in starts]
    for _ in range(_ROUNDS):
        before = [tuple(of_row) for of_row in moved]
        line = sorted((start, r, t) for r, of_row in enumerate(moved) for t, start in enumerate(of_row))
        for start, r, t in line:
            task = rows[r].tasks[t]
            bench.give_back(task, start)
            found = first_from(bench.starts(task), _ready(rows[r], t, moved[r]))
            moved[r][t] = start if found is None else min(start, found)
            bench.take(task, moved[r][t])
        if before == [tuple(of_row) for of_row in moved]:
            break
    return tuple(tuple(of_row) for of_row in moved)


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
