from dataclasses import replace
from datetime import date, time

import pytest

from intake.kitchen.jobs import Begun, hand_over, job_of, moved
from intake.model import Cell, Design, Draft, Due, Order, Problem, State, Terms
from tests.kitchen.kit import house


def _order(step="", **cells):
    draft = Draft(**{name: Cell(value, sure=True) for name, value in cells.items()})
    return Order(7, "t1", 0, State.BOOKED, draft, step=step)


SATURDAY = date(2026, 3, 14)


@pytest.mark.parametrize(
    ("due", "due_is", "handover", "packed"),
    [
        pytest.param(Due.on(SATURDAY, time(14)), "handover", "pickup", "Sat 14 14:00", id="day and time"),
        pytest.param(Due.on(SATURDAY), "handover", "pickup", "Sat 14 17:00", id="day alone: the house's time"),
        pytest.param(Due(date(2026, 3, 11), SATURDAY), "handover", "pickup", "Sat 14 17:00", id="window: its last day"),
        pytest.param(Due.on(SATURDAY, time(14)), "event", "deliver", "Sat 14 14:00", id="event with a time"),
        pytest.param(Due.on(SATURDAY), "event", "pickup", "Fri 13 21:00", id="event without: the evening before"),
        pytest.param(Due.on(SATURDAY), "arrival", "ship", "Tue 10 17:00", id="parcel to arrive on Saturday"),
        pytest.param(Due.on(SATURDAY, time(9)), "arrival", "ship", "Tue 10 17:00", id="a parcel knows no hour"),
        pytest.param(Due.on(date(2026, 3, 13)), "event", "ship", "Mon 09 17:00", id="parcel for a Friday event"),
        pytest.param(Due.on(SATURDAY), "arrival", None, "Tue 10 17:00", id="an arrival is a parcel"),
        pytest.param(Due.on(date(2026, 11, 27)), "arrival", "ship", "Mon 23 17:00", id="after Thanksgiving"),
        pytest.param(Due.on(SATURDAY), None, None, "Sat 14 17:00", id="nothing more known"),
    ],
)
def test_packed_by(due, due_is, handover, packed):
    job = job_of(_order(count=24, due=due, due_is=due_is, handover=handover), house(), newest=True)
    assert f"{job.due:%a %d %H:%M}" == packed
    assert job.due.utcoffset() is not None


@pytest.mark.parametrize(
    ("cells", "named"),
    [
        pytest.param({"count": 24}, ["`due`"], id="no day"),
        pytest.param({"due": Due.on(SATURDAY)}, ["`count`"], id="no count"),
        pytest.param({"due": Due.on(SATURDAY), "count": 0}, ["`count`"], id="none ordered"),
        pytest.param({"customer": "Ida Wren"}, ["Ida Wren", "`count` and `due`"], id="neither"),
    ],
)
def test_what_is_missing_is_named(cells, named):
    problem = job_of(_order(**cells), house(), newest=False)
    assert isinstance(problem, Problem)
    assert all(words in str(problem) for words in named)


def test_what_the_order_says_is_carried_over():
    order = _order(
        customer="Ida Wren", count=24, due=Due.on(SATURDAY), handover="deliver", colors=("white", "sage", "gold"),
        designs=(Design("moons"), Design("stars")), lettering=("Leo", "Four"),
    )
    job = job_of(order, house(), newest=True)
    assert (job.order_id, job.name, job.count, job.colors, job.designs, job.lettered, job.handover) == (
        7, "Ida Wren", 24, 3, 2, 2, "deliver",
    )
    assert job.age < job_of(order, house(), newest=False).age


@pytest.mark.parametrize(
    ("terms", "cells", "level", "lettered", "sizes"),
    [
        pytest.param(Terms(), {}, "plain", 0, (), id="nothing settled"),
        pytest.param(Terms(), {"theme": "mini moons"}, "plain", 0, ((50.8, 24),), id="a size the customer said"),
        pytest.param(Terms(), {"designs": (Design("mini moons", 6), Design("stars"))}, "plain", 0,
                     ((50.8, 6), (76.2, 18)), id="two sizes"),
        pytest.param(Terms(size="large"), {"designs": (Design("mini moons"),)}, "plain", 0, ((88.9, 24),),
                     id="a size she set"),
        pytest.param(Terms(size="usual"), {"theme": "mini moons"}, "plain", 0, (), id="the usual size she set"),
        pytest.param(Terms(level="elaborate"), {}, "elaborate", 0, (), id="a level she set"),
        pytest.param(Terms(), {"designs": (Design("a"), Design("b"), Design("c"))}, "detailed", 0, (), id="by designs"),
        pytest.param(Terms(lettered=20), {"lettering": ("Leo",)}, "detailed", 20, (), id="lettered as she said"),
    ],
)  # fmt: skip
def test_what_the_baker_has_settled_is_carried_over(terms, cells, level, lettered, sizes):
    order = replace(_order(count=24, due=Due.on(SATURDAY), **cells), terms=terms)
    job = job_of(order, house(), newest=True)
    assert (job.level, job.lettered, job.sizes) == (level, lettered, sizes)


@pytest.mark.parametrize(
    ("step", "begun"),
    [("", False), ("dough", False), ("bake", True), ("flood", True), ("detail", True), ("pack", True)],
)
def test_an_order_under_way(step, begun):
    job = job_of(_order(step, count=24, due=Due.on(SATURDAY)), house(), newest=False)
    assert isinstance(job, Begun) is begun
    assert not begun or job.step == step


def test_a_parcel_is_moved_by_its_arrival():
    rules = house()
    job = job_of(_order(count=24, due=Due.on(SATURDAY), handover="ship"), rules, newest=True)
    assert hand_over(job, rules).date() == date(2026, 3, 13)
    later = moved(job, date(2026, 3, 20), rules)
    assert f"{later.due:%a %d %H:%M}" == "Tue 17 17:00"
    assert hand_over(later, rules).date() == date(2026, 3, 20)
