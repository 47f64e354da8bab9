"""Whether a set of orders can be made in time: a quick plan, a proof by counting, or the solver's word.

The time to decide is counted in work done, not by the clock, so that the same orders get the same answer on a busy
machine. The clock only ends what has gone far beyond its time.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from time import monotonic

from intake.kitchen.bounds import overloads
from intake.kitchen.dispatch import dispatch
from intake.kitchen.hours import Free, Timeline
from intake.kitchen.listing import Starts
from intake.kitchen.standing import settled
from intake.kitchen.tasks import Row, Task, open_for
from intake.kitchen.timetable import Standing

_QUICK, _PATIENT = 12, 60
# About what it takes to put one task down once.
_SECONDS_A_TASK = 10e-6
_OVERTIME = 4


class Watch:
    """What is left of the time to decide: seconds on the wall, and the solver's effort, near to seconds."""

    def __init__(self, seconds: float) -> None:
        self._end = monotonic() + seconds * _OVERTIME
        self.effort = seconds

    @property
    def seconds(self) -> float:
        return self._end - monotonic()

    @property
    def out(self) -> bool:
        return self.seconds <= 0 or self.effort <= 0


class Room:
    """Answers for sets of rows, by place; what is known of one set is used for its subsets and supersets."""

    def __init__(self, rows: Sequence[Row], line: Timeline, watch: Watch) -> None:
        self.rows, self.line, self.watch = rows, line, watch
        self._plans: dict[frozenset[int], Starts] = {}
        self._clashes: set[frozenset[int]] = set()
        self._unknown: dict[frozenset[int], float] = {}

    def fits(self, places: Iterable[int], *, share: float = 0.5) -> bool | None:
        """True with a plan, False with a proof, None where `share` of the effort left did not settle it.

        A share of nothing asks for what can be seen at a glance.
        """
        chosen = frozenset(places)
        if not chosen or any(chosen <= known for known in self._plans):
            return True
        if any(known <= chosen for known in self._clashes):
            return False
        effort = self.watch.effort * share
        if (known := self._unknown.get(chosen)) is not None and effort <= 2 * known:
            return None
        rows, free = self._of(chosen)
        if not all(row.fits_alone for row in rows):
            return self._clash(chosen)
        if plan := self._dispatch(rows, free, _QUICK):
            return self._plan(chosen, plan)
        if next(overloads(rows, free), None):
            return self._clash(chosen)
        if self.watch.out or not share:
            self._unknown[chosen] = 0
            return None
        if plan := self._dispatch(rows, free, _PATIENT):
            return self._plan(chosen, plan)
        from intake.kitchen.solver import solve

        answer = solve(rows, free, effort=effort, seconds=self.watch.seconds * share)
        self.watch.effort -= answer.used
        if answer.starts is not None:
            return self._plan(chosen, answer.starts)
        if answer.fits is False:
            return self._clash(chosen)
        self._unknown[chosen] = effort
        return None

    def plan(self, places: Iterable[int], standing: Standing | None = None) -> Starts:
        """A plan of a set that fits, rows in order of place, which leaves work where it stood before as it can."""
        chosen = frozenset(places)
        rows, free = self._of(chosen)
        whole = next(known for known in self._plans if chosen <= known)
        found = dict(zip(sorted(whole), self._plans[whole], strict=True))
        stood = standing or {}
        wishes = [[self._stood(row, task, stood) for task in row.tasks] for row in rows]
        return settled(rows, free, tuple(found[i] for i in sorted(chosen)), wishes, self.line.late)

    def _stood(self, row: Row, task: Task, standing: Standing) -> int | None:
        at = standing.get((row.job.order_id, task.step.label, task.step.gone + task.part))
        return None if at is None else self.line.up(at)

    def _dispatch(self, rows: Sequence[Row], free: Free, rounds: int) -> Starts | None:
        plan = dispatch(rows, free, rounds=rounds)
        tried = rounds if plan is None else 1
        self.watch.effort -= tried * sum(len(row.tasks) for row in rows) * _SECONDS_A_TASK
        return plan

    def _of(self, chosen: frozenset[int]) -> tuple[list[Row], Free]:
        rows = [self.rows[i] for i in sorted(chosen)]
        return rows, open_for(rows, self.line)

    def _plan(self, chosen: frozenset[int], plan: Starts) -> bool:
        self._plans[chosen] = plan
        return True

    def _clash(self, chosen: frozenset[int]) -> bool:
        self._clashes.add(chosen)
        return False
