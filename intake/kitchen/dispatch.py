"""A plan drawn up backwards, from the last hand-over towards now, as one counts back from a party.

Tasks are put down one by one, each as late as it still goes: of those whose followers have their places, the one that
may begin soonest comes last. What keeps only so long (dough, icing) pulls what it is used in along with it. Where an
order finds no place, it is served sooner the next time round. Finding no plan proves nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from random import Random

from intake.kitchen.hours import DAY_TICKS, Free, last_until
from intake.kitchen.listing import Bench, Starts
from intake.kitchen.tasks import Row

_SOONER = DAY_TICKS // 8
_PATIENCE = 12


@dataclass(frozen=True, slots=True)
class _Links:
    """Of one row: for each task those that wait for it with their waits; of each thing that keeps only so long the
    task that uses up the last of it, for how long it keeps, and how long after its making each task on the way can
    begin at the soonest."""

    then: tuple[tuple[tuple[int, int], ...], ...]
    keeps: tuple[tuple[int, int, dict[int, int]], ...]


def dispatch(rows: Sequence[Row], free: Free, *, rounds: int) -> Starts | None:
    """Start ticks for every task of every row, or None where `rounds` have found none."""
    links = [_links(row) for row in rows]
    chance = Random(len(rows))
    sooner = [0] * len(rows)
    best, kept, stuck = len(rows) + 1, sooner, 0
    for number in range(rounds):
        starts, without = _once(rows, links, free, sooner)
        if not without:
            return tuple(tuple(of_row) for of_row in starts)
        stuck += 1
        if len(without) < best:
            best, kept, stuck = len(without), list(sooner), 0
        if stuck > _PATIENCE:
            # From the best that was seen, shaken a little.
            sooner, stuck = [was + chance.randint(-1, 1) * _SOONER for was in kept], 0
        for row in without:
            sooner[row] += _SOONER + (chance.randint(0, _SOONER) if number > 2 else 0)
    return None


def _links(row: Row) -> _Links:
    then: list[list[tuple[int, int]]] = [[] for _ in row.tasks]
    for place, task in enumerate(row.tasks):
        for before, wait in task.after:
            then[before].append((place, wait))
    keeps = []
    for first, last, window in row.keeps:
        soonest = {first: 0}
        for place in range(first + 1, last):
            made = [soonest[b] + row.tasks[b].length + w for b, w in row.tasks[place].after if b in soonest]
            if made:
                soonest[place] = max(made)
        keeps.append((last, window, soonest))
    return _Links(tuple(map(tuple, then)), tuple(keeps))


def _once(
    rows: Sequence[Row], links: Sequence[_Links], free: Free, sooner: Sequence[int]
) -> tuple[list[list[int]], set[int]]:
    """One pass: the starts, and the rows that found no place."""
    bench = Bench(free)
    starts = [[0] * len(row.tasks) for row in rows]
    earliest = [[task.earliest for task in row.tasks] for row in rows]
    open_after = [[len(then) for then in link.then] for link in links]
    placed: list[list[int]] = [[] for _ in rows]
    without: set[int] = set()
    heap = [
        (-task.earliest - task.length - sooner[r], r, t)
        for r, row in enumerate(rows) for t, task in enumerate(row.tasks) if not links[r].then[t]
    ]  # fmt: skip
    heapify(heap)
    while heap:
        _, r, t = heappop(heap)
        if r in without:
            continue
        task = rows[r].tasks[t]
        until = min([task.latest, *(starts[r][after] - wait - task.length for after, wait in links[r].then[t])])
        start = last_until(bench.starts(task), until)
        if start is None or start < earliest[r][t]:
            without.add(r)
            for index in placed[r]:
                bench.give_back(rows[r].tasks[index], starts[r][index])
            continue
        starts[r][t] = start
        placed[r].append(t)
        bench.take(task, start)
        for last, window, soonest in links[r].keeps:
            if last == t:
                for place, after in soonest.items():
                    earliest[r][place] = max(earliest[r][place], start - window + after)
        for before, _ in task.after:
            open_after[r][before] -= 1
            if not open_after[r][before]:
                heappush(heap, (-earliest[r][before] - rows[r].tasks[before].length - sooner[r], r, before))
    return starts, without
