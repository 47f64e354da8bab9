"""The exact decision, by constraint programming. The one file that imports OR-tools, and only when it is needed.

One worker, a fixed seed and an effort counted in the solver's own deterministic time: the same orders get the
same answer on any machine, unless the clock on the wall runs out first.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from time import monotonic
from typing import Any

from intake.kitchen.hours import Free, span, stretches
from intake.kitchen.listing import Starts
from intake.kitchen.tasks import Row, places

# Timetables are found at once or not for long, by the luck of the first choices: so begin afresh, with more patience.
_ROUNDS = (0.025,) * 8 + (0.05,) * 6 + (0.1,) * 5
# The solver's deterministic time runs slower than the clock on models with many holes in their domains.
_EFFORT_OF_A_SECOND = 0.05
# What it takes to put a task before the solver, which it does not count itself.
_SECONDS_A_TASK = 0.0003


@dataclass(frozen=True, slots=True)
class Answer:
    """`fits` is None where the effort ran out. `used` is the effort spent, near to seconds."""

    fits: bool | None
    starts: Starts | None = None
    used: float = 0.0


def solve(
    rows: Sequence[Row],
    free: Free,
    *,
    effort: float,
    seconds: float,
    stay: Mapping[tuple[int, int], int] | None = None,
    begin_with: Starts | None = None,
) -> Answer:
    """Start ticks for every task of every row, or the proof that there are none.

    With `stay` (starts by row and place) it looks for the plan in which the most of these hold, from `begin_with` on.
    """
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    used = _SECONDS_A_TASK * sum(len(row.tasks) for row in rows)
    if used > effort:
        return Answer(None)
    hands: list[Any] = []
    oven: list[Any] = []
    variables: list[list[Any]] = []
    starts: dict[tuple[int, int, bool], int] = {}
    for r, row in enumerate(rows):
        of_row: list[Any] = []
        for t, task in enumerate(row.tasks):
            kind = (task.length, task.hands, task.oven)
            if kind not in starts:
                starts[kind] = places(task, free)
            allowed = starts[kind] & span(task.earliest, task.latest + 1)
            if not allowed:
                return Answer(False, None, used)
            intervals = [[first, end - 1] for first, end in stretches(allowed)]
            start = model.new_int_var_from_domain(cp_model.Domain.from_intervals(intervals), f"s{r}_{t}")
            if task.hands:
                at = start + (task.length - task.hands)
                hands.append(model.new_fixed_size_interval_var(at, task.hands, f"h{r}_{t}"))
            if task.oven:
                oven.append(model.new_fixed_size_interval_var(start, task.length, f"o{r}_{t}"))
            for place, wait in task.after:
                model.add(start >= of_row[place] + row.tasks[place].length + wait)
            of_row.append(start)
        for first, last, window in row.keeps:
            model.add(of_row[last] - of_row[first] <= window)
        variables.append(of_row)
    for a, b in () if stay else _twins(rows):
        model.add(variables[a][-1] <= variables[b][-1])
    begin = min(task.earliest for row in rows for task in row.tasks)
    end = max(row.due for row in rows)
    # Closed hours are in the domains already; as fixed work they let the solver count how little room there is.
    for held, open_ticks in ((hands, free.hands), (oven, free.oven)):
        closed = stretches(~(open_ticks >> begin) & span(0, end - begin))
        fixed = [model.new_fixed_size_interval_var(begin + a, b - a, f"c{a}") for a, b in closed]
        model.add_no_overlap([*held, *fixed])
    _wish(model, variables, stay or {}, begin_with)
    rounds = (1.0,) if stay else _ROUNDS
    building = used
    ends = monotonic() + seconds
    for seed, part in enumerate(rounds):
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = seed
        solver.parameters.linearization_level = 0
        solver.parameters.max_deterministic_time = max((effort - building) * part * _EFFORT_OF_A_SECOND, 1e-4)
        solver.parameters.max_time_in_seconds = max(ends - monotonic(), 1e-2)
        status = solver.solve(model)
        used += float(solver.response_proto.deterministic_time) / _EFFORT_OF_A_SECOND
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return Answer(True, tuple(tuple(int(solver.value(v)) for v in of_row) for of_row in variables), used)
        if status == cp_model.INFEASIBLE:
            return Answer(False, None, used)
        if monotonic() >= ends:
            break
    return Answer(None, None, used)


def _wish(
    model: Any, variables: Sequence[Sequence[Any]], stay: Mapping[tuple[int, int], int], begin_with: Starts | None
) -> None:
    if begin_with:
        for of_row, starts in zip(variables, begin_with, strict=True):
            for variable, start in zip(of_row, starts, strict=True):
                model.add_hint(variable, start)
    kept = []
    for (r, t), start in stay.items():
        holds = model.new_bool_var(f"k{r}_{t}")
        model.add(variables[r][t] == start).only_enforce_if(holds)
        kept.append(holds)
    if kept:
        model.maximize(sum(kept))


def _twins(rows: Sequence[Row]) -> list[tuple[int, int]]:
    """Pairs of rows that could change places without anyone noticing."""
    last: dict[object, int] = {}
    pairs = []
    for place, row in enumerate(rows):
        if (before := last.get((row.tasks, row.due))) is not None:
            pairs.append((before, place))
        last[(row.tasks, row.due)] = place
    return pairs
