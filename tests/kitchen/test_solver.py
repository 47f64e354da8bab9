"""The solver by itself: what the quick plan finds first never gets to it."""

import pytest

from intake.kitchen.hours import Free, Timeline
from intake.kitchen.room import Room, Watch
from intake.kitchen.solver import solve
from intake.kitchen.steps import Step
from intake.kitchen.tasks import Row, Task
from tests.kitchen.kit import at, house, job

RULES = house()
NOW = at("2026-03-11T18:00", RULES)
# Forty breaks of four ticks with a tick closed between.
BREAKS = sum(0b1111 << 5 * n for n in range(40))


def _row(number, length, first, due, oven=False):
    step = Step("bake" if oven else "flood", "work", (5 * length,), oven=oven, hands=0 if oven else None)
    task = Task(step, 0, length, 0 if oven else length, (), first, due - length)
    return Row(job(number, NOW), (task,), due)


@pytest.mark.parametrize(
    ("rows", "fits"),
    [
        pytest.param([_row(1, 4, 0, 9), _row(2, 4, 0, 9)], True, id="two alike in two breaks"),
        pytest.param([_row(1, 4, 0, 4), _row(2, 4, 0, 4)], False, id="two alike in one"),
        pytest.param([_row(1, 4, 0, 4, oven=True), _row(2, 4, 0, 4)], True, id="oven and hands at once"),
        pytest.param([_row(1, 4, 0, 4, oven=True), _row(2, 4, 0, 4, oven=True)], False, id="one oven"),
        pytest.param([_row(1, 5, 0, 50)], False, id="longer than any break"),
        pytest.param([_row(1, 2, 0, 4), _row(2, 1, 0, 4), _row(3, 1, 0, 4)], True, id="a full break"),
    ],
)
def test_decisions(rows, fits):
    answer = solve(rows, Free(BREAKS, BREAKS), effort=1, seconds=5)
    assert answer.fits is fits
    assert (answer.starts is not None) is fits


def test_effort_that_runs_out_is_neither_a_plan_nor_a_proof():
    rows = [_row(n, 3, n % 3, 195 + n % 5) for n in range(41)]
    watch = Watch(5)
    watch.effort = 1e-6
    room = Room(rows, Timeline(RULES.zone, 0, 200, BREAKS), watch)
    assert room.fits(range(41)) is None
    assert solve(rows, Free(BREAKS, BREAKS), effort=1e-6, seconds=5).fits is None
