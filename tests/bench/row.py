from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import median


@dataclass(frozen=True)
class Row:
    """One line of the table: what was measured, our figure, what it is held against with its figure, the ratio."""

    what: str
    ours: str
    beside: str = ""
    ratio: str = ""


def in_turns(runs: Sequence[Callable[[], float]], times: int) -> list[float]:
    """The median of each of `runs`, each called `times` times after one that does not count, all in turns."""
    taken = [[run() for run in runs] for _ in range(times + 1)][1:]
    return [median(column) for column in zip(*taken, strict=True)]
