"""A proof by counting: work that has to be done between two moments against the free hours between them.

Where the work that can't start before `a` and must be done by `b` is more than the ticks free from `a` to `b`, no
plan exists, however cleverly it is interleaved. For one pair of hands whose work may be put down at any time, no
such pair is also proof that a plan exists (Horn, Naval Research Logistics Quarterly 21, 1974).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from intake.kitchen.hours import Free, span
from intake.kitchen.tasks import Row


@dataclass(frozen=True, slots=True)
class Overload:
    """More `work` than `free` ticks of the hands or the oven from tick `start` to `end`; `shares` by row place."""

    start: int
    end: int
    work: int
    free: int
    oven: bool
    shares: dict[int, int]

    def fewest(self, needed: int | None) -> tuple[int, ...]:
        """The fewest rows whose work alone is too much, with row `needed` among them where it has a share."""
        order = sorted(self.shares, key=lambda i: (i != needed, -self.shares[i], i))
        total = 0
        for count, place in enumerate(order, 1):
            total += self.shares[place]
            if total > self.free:
                return tuple(sorted(order[:count]))
        raise AssertionError("an overload has more work than room")


def overloads(rows: Sequence[Row], free: Free) -> Iterator[Overload]:
    """All that can be counted out, first the hands, then the oven."""
    for oven in (False, True):
        items = sorted(
            (task.latest + task.length, task.earliest + task.length - (task.length if oven else task.hands),
             task.length if oven else task.hands, place)
            for place, row in enumerate(rows)
            for task in row.tasks
            if task.oven or not oven
        )
        points = {point for item in items for point in item[:2]}
        line = free.oven if oven else free.hands
        passed = {point: (line & span(0, point)).bit_count() for point in points}
        for start in sorted({item[1] for item in items}, reverse=True):
            work = 0
            inside: list[tuple[int, int]] = []
            for end, earliest, amount, place in items:
                if earliest < start:
                    continue
                work += amount
                inside.append((place, amount))
                if work > (room := max(0, passed[end] - passed[start])):
                    shares: dict[int, int] = {}
                    for who, part in inside:
                        shares[who] = shares.get(who, 0) + part
                    yield Overload(start, end, work, room, oven, shares)
