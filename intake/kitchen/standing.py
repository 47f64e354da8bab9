"""A plan that leaves standing what was planned before: a new order moves old work as little as it can.

First everything stays and the new work goes into what is left. Where that finds no plan, the solver looks for one in
which the fewest stretches of old work move, as far as its effort reaches.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from intake.kitchen.dispatch import dispatch
from intake.kitchen.hours import Free, first_from
from intake.kitchen.listing import Bench, Starts, drawn_together
from intake.kitchen.tasks import Row

Wishes = Sequence[Sequence[int | None]]
_EFFORT = 0.6


def settled(rows: Sequence[Row], free: Free, found: Starts, wishes: Wishes, late: int) -> Starts:
    """A plan of `rows`, given one that keeps every rule and the starts that each task had before (None: it had none).

    What has no wish, or one that can't be kept, is put as early as it goes, off the `late` hours where it can be.
    """
    kept = _kept(rows, free, wishes)
    if not kept:
        return drawn_together(rows, found, free, late=late)
    whole = _filled(rows, free, kept, wishes)
    if whole is None:
        from intake.kitchen.solver import solve

        moved = solve(rows, free, effort=_EFFORT, seconds=4 * _EFFORT, stay=kept, begin_with=found).starts or found
        whole = [list(of_row) for of_row in moved]
        kept = {(r, t): start for (r, t), start in kept.items() if whole[r][t] == start}
    return drawn_together(rows, tuple(map(tuple, whole)), free, late=late, fixed=kept.keys())


def _kept(rows: Sequence[Row], free: Free, wishes: Wishes) -> dict[tuple[int, int], int]:
    """The wishes that can stand beside each other, the earlier ones first."""
    bench = Bench(free)
    kept: dict[tuple[int, int], int] = {}
    asked = [(start, r, t) for r, of_row in enumerate(wishes) for t, start in enumerate(of_row) if start is not None]
    for start, r, t in sorted(asked):
        row, task = rows[r], rows[r].tasks[t]
        soonest = [kept[r, i] + row.tasks[i].length + wait for i, wait in task.after if (r, i) in kept]
        in_time = max([task.earliest, *soonest]) <= start <= task.latest
        made = [(kept[r, first], window) for first, last, window in row.keeps if last == t and (r, first) in kept]
        fresh = all(start - at <= window for at, window in made)
        if in_time and fresh and bench.starts(task) >> start & 1:
            kept[r, t] = start
            bench.take(task, start)
    return kept


def _filled(
    rows: Sequence[Row], free: Free, kept: dict[tuple[int, int], int], wishes: Wishes
) -> list[list[int]] | None:
    """All of `kept` where it is and the rest put in beside it, or None where that does not go.

    What has been planned before comes first, by when it is due, and then what is new.
    """
    bench = Bench(free)
    starts = [[kept.get((r, t), -1) for t in range(len(row.tasks))] for r, row in enumerate(rows)]
    for (r, t), start in kept.items():
        bench.take(rows[r].tasks[t], start)
    new = []
    for r in sorted(range(len(rows)), key=lambda r: (rows[r].due, r)):
        if all(wish is None for wish in wishes[r]):
            new.append(r)
            continue
        before, hands, oven = list(starts[r]), bench.hands, bench.oven
        if not _put_in(rows[r], starts[r], bench):
            if max(before) >= 0:
                return None
            starts[r], bench.hands, bench.oven = before, hands, oven
            new.append(r)
    found = dispatch([rows[r] for r in new], Free(bench.hands, bench.oven), rounds=30)
    if found is None:
        return None
    for r, of_row in zip(new, found, strict=True):
        starts[r] = list(of_row)
    return starts


def _put_in(row: Row, starts: list[int], bench: Bench) -> bool:
    """Puts the tasks that have no start yet (-1) between those of their order that have one, as early as they go."""
    until = [task.latest if start < 0 else start for task, start in zip(row.tasks, starts, strict=True)]
    for index in reversed(range(len(starts))):
        for place, wait in row.tasks[index].after:
            until[place] = min(until[place], until[index] - wait - row.tasks[place].length)
    for index in range(len(starts)):
        task = row.tasks[index]
        ready = max([task.earliest, *(starts[i] + row.tasks[i].length + wait for i, wait in task.after)])
        if starts[index] >= 0:
            if starts[index] < ready:
                return False
            continue
        for first, last, window in row.keeps:
            if first == index and starts[last] >= 0:
                ready = max(ready, starts[last] - window)
        start = first_from(bench.starts(task), ready)
        if start is None or start > until[index]:
            return False
        starts[index] = start
        bench.take(task, start)
    return not any(row.too_old(first, starts) for first, _, _ in row.keeps)


def moves(before: Wishes, after: Starts) -> Iterator[tuple[int, int]]:
    """The tasks, by row and place, that had a start and have another now."""
    for r, (was, now) in enumerate(zip(before, after, strict=True)):
        for t, (old, new) in enumerate(zip(was, now, strict=True)):
            if old is not None and old != new:
                yield r, t
