"""Sets of orders that can't stand together, where counting the hours shows nothing: no break holds two of the tasks."""

from datetime import timedelta

import pytest

from intake.kitchen.clash import newest_of, smallest
from intake.kitchen.hours import Timeline
from intake.kitchen.room import Room, Watch
from intake.kitchen.steps import Step
from intake.kitchen.tasks import Row, Task
from tests.kitchen.kit import at, house, job

RULES = house()
NOW = at("2026-03-11T18:00", RULES)
# Breaks of four ticks with a tick closed between.
BREAKS = 0b1111_0_1111_0_1111_0_1111_0_1111_0_1111


def _room(asked):
    """Rows of one task each, `asked` as (length, first tick, due tick)."""
    rows = [
        Row(job(n, NOW + timedelta(minutes=5 * due)),
            (Task(Step("flood", "flood", (5 * length,)), 0, length, length, (), first, due - length),), due)
        for n, (length, first, due) in enumerate(asked)
    ]
    return Room(rows, Timeline(RULES.zone, 0, 29, BREAKS), Watch(5))


@pytest.mark.parametrize(
    ("asked", "clash"),
    [
        pytest.param([(3, 0, 4)] * 2, {0, 1}, id="two for one break"),
        pytest.param([(3, 0, 9)] * 3, {0, 1, 2}, id="three for two"),
        pytest.param([(1, 0, 29)] * 3 + [(3, 0, 19)] * 5 + [(1, 20, 29)] * 2, {3, 4, 5, 6, 7}, id="five among ten"),
        pytest.param([(3, 0, 24)] * 6 + [(4, 25, 29), (1, 0, 24)], {0, 1, 2, 3, 4, 5}, id="six among eight"),
    ],
)
def test_the_smallest_clash(asked, clash):
    room = _room(asked)
    assert smallest(room, frozenset(range(len(asked)))) == (clash, True)
    assert room.fits(clash) is False
    assert all(room.fits(clash - {place}) for place in clash)


@pytest.mark.parametrize(
    ("ages", "newest"),
    [
        pytest.param([1, 0, 1], 1, id="the one that is asked for"),
        pytest.param([1, 1, 1], 2, id="else the highest number"),
        pytest.param([1, 2, 2], 0, id="else the youngest"),
    ],
)
def test_the_newest_gives_way(ages, newest):
    rows = [Row(job(n, NOW, age=age), (), 0) for n, age in enumerate(ages)]
    assert newest_of(rows, range(len(ages))) == newest
