"""What the orders of a day take together."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.house_recipes import IngredientPart
from intake.kitchen.jobs import job_of
from intake.kitchen.plan import decide
from intake.kitchen.pooling import NOTHING_SAID, Left, Session, When, at_once, sessions, when
from intake.kitchen.recipes import Recipe, recipe_for
from intake.kitchen.shopping import shopping
from intake.model import Cell, Design, Draft, Due, Fits, Job, Order, State, Terms, Work
from tests.kitchen.kit import house

RULES = house()
MONDAY = date(2026, 3, 9)
TUESDAY = date(2026, 3, 10)
WEDNESDAY = date(2026, 3, 11)


def order(number: int, **values: Any) -> Order:
    cells = {name: Cell(value, sure=True) for name, value in values.items()}
    return Order(number, "t1", number, State.BOOKED, Draft(**cells))


def one_day(*orders: Order, left: tuple[Left, ...] = ()) -> Session:
    (session,) = (s for s in sessions(orders, at_once(orders, MONDAY), RULES, left) if s.doughs or s.problems)
    return session


def vanilla() -> Recipe:
    found = recipe_for(RULES, "dough")
    assert isinstance(found, Recipe)
    return found


def test_two_orders_share_a_batch_that_each_would_begin() -> None:
    """24 of 3 in are one batch of the default dough, 12 and 12 as well: each alone would take one."""
    (pool,) = one_day(order(1, count=12), order(2, count=12)).doughs
    assert (pool.count, pool.batches, pool.orders) == (24, 1, (1, 2))
    assert pool.needed == pytest.approx(906.4, abs=1)
    assert pool.left == pytest.approx(vanilla().grams - pool.needed)


def test_flavors_are_doughs_of_their_own() -> None:
    pools = one_day(order(1, count=24, flavors=("chocolate",)), order(2, count=24)).doughs
    assert [(pool.recipe.name, pool.batches, pool.orders) for pool in pools] == [
        ("chocolate", 1, (1,)), ("vanilla", 1, (2,)),
    ]  # fmt: skip


def days(**by_kind: dict[int, date]) -> When:
    return When(**{"dough": {}, "icing": {}, "cut": {}, "bake": {}, "pack": {}, **by_kind})


@pytest.mark.parametrize(
    ("later", "used", "batches"),
    [(1, True, 1), (3, True, 1), (4, False, 2)],
    ids=["the next day", "the last day it keeps", "too old"],
)
def test_dough_that_is_left_is_used_first_while_it_keeps(later: int, used: bool, batches: int) -> None:
    """Dough keeps three days by the house rules: 30 cookies leave 18 of 48 over, 40 then take those and one batch."""
    orders = [order(1, count=30), order(2, count=40)]
    first, second = sessions(orders, days(dough={1: MONDAY, 2: MONDAY + timedelta(days=later)}), RULES)
    assert first.doughs[0].batches == 2
    assert first.doughs[0].keeps_until == MONDAY + timedelta(days=3)
    (pool,) = second.doughs
    assert pool.from_left == pytest.approx(first.doughs[0].left if used else 0)
    assert pool.batches == batches


def test_the_oldest_dough_goes_first_and_of_its_own_kind() -> None:
    older = Left("vanilla", 300, MONDAY - timedelta(days=2))
    left = (Left("vanilla", 200, MONDAY), older, Left("chocolate", 900, MONDAY))
    (pool,) = one_day(order(1, count=6), left=left).doughs
    assert (pool.from_left, pool.batches) == (pytest.approx(pool.needed), 0)
    after = sessions(
        [order(1, count=6), order(2, count=24)], days(dough={1: MONDAY, 2: MONDAY + timedelta(days=1)}), RULES, left
    )
    # 227 g of the older 300 g are used; what is left of those and the 200 g are there the next day.
    assert after[1].doughs[0].from_left == pytest.approx(500 - pool.needed)


@given(st.lists(st.integers(1, 200), min_size=1, max_size=8), st.integers(0, 3000))
@settings(max_examples=60)
def test_what_goes_in_comes_out(counts: list[int], there: int) -> None:
    """Whole batches and what was there are what is needed and what is left; never a batch too many."""
    orders = [order(number, count=count) for number, count in enumerate(counts, 1)]
    (pool,) = one_day(*orders, left=(Left("vanilla", there, MONDAY),)).doughs
    batch = vanilla().grams
    assert pool.from_left + pool.batches * batch == pytest.approx(pool.needed + pool.left)
    assert pool.left < batch
    assert pool.from_left <= there


def test_icing_of_a_color_is_mixed_once_for_all() -> None:
    """The least amount is of the bag, not of each order: white for three orders is three floors less two."""
    orders = [order(number, count=6, colors=("white",)) for number in (1, 2, 3)]
    session = sessions(orders, at_once(orders, MONDAY), RULES)[-1]
    assert [(p.icing.color, p.icing.consistency, p.orders) for p in session.icings] == [
        ("white", "outline", (1, 2, 3)), ("white", "flood", (1, 2, 3)),
    ]  # fmt: skip
    outline, flood = session.icings
    assert outline.icing.mixed == pytest.approx(67.2)
    assert flood.icing.mixed == pytest.approx(18 * 11.857 * 0.75 * 1.12, abs=0.5)
    assert session.icing_batches == math.ceil(session.icing_grams / session.icing.grams if session.icing else 0)


def test_deep_colors_are_put_down_for_the_day_before() -> None:
    orders = [order(1, count=24, colors=("navy", "white")), order(2, count=24, colors=("red",))]
    found = sessions(orders, days(icing={1: WEDNESDAY, 2: WEDNESDAY}), RULES)
    assert [(session.day, session.to_tint) for session in found] == [
        (WEDNESDAY - timedelta(days=1), ("navy", "red")), (WEDNESDAY, ()),
    ]  # fmt: skip
    assert sessions([orders[0]], days(icing={1: WEDNESDAY}), house(icing={"day_before": ()}))[0].day == WEDNESDAY


def test_a_size_that_the_baker_set_is_cut_and_weighed() -> None:
    """Eight of 3.5 in lie on a half sheet; 3.5 in is 49/36 of the area of 3 in."""
    usual = order(1, count=24, designs=(Design("mini stars"),))
    session = one_day(replace(usual, terms=Terms(size="large")))
    assert [(cut.what, cut.count) for cut in session.cutters] == [("mini stars", 24)]
    assert [(each.count, each.trays) for each in session.trays] == [(24, 3)]
    plain = one_day(order(1, count=24))
    assert session.doughs[0].needed / plain.doughs[0].needed == pytest.approx(49 / 36)
    assert sum(pool.icing.grams for pool in session.icings) / sum(
        pool.icing.grams for pool in plain.icings
    ) == pytest.approx(49 / 36)


def test_sizes_share_trays_across_shapes_and_orders() -> None:
    """48 of 3 in are four half sheets, whatever they are; two trays at once make two loads."""
    session = one_day(
        order(1, count=30, designs=(Design("moons", 20), Design("Stars", 10))),
        order(2, count=18, designs=(Design("stars", 18),)),
    )
    assert [(cut.what, cut.count) for cut in session.cutters] == [("moons", 20), ("stars", 28)]
    assert [(each.count, each.trays) for each in session.trays] == [(48, 4)]
    assert session.loads == 2


def test_packaging() -> None:
    orders = [
        order(1, count=30, packaging=("Gift box", "ribbon"), handover="ship"),
        order(2, count=12, packaging=("individually bagged", "tin")),
        order(3, count=18),
    ]
    assert dict(one_day(*orders).packaging) == {
        "gift box": 3, "ribbon": 30, "parcel": 2, "individually bagged": 12, "tin": 1, NOTHING_SAID: 18,
    }  # fmt: skip


def test_what_can_not_be_worked_out_is_said_and_the_rest_goes_on() -> None:
    session = one_day(order(1, customer="Bea Ortiz", theme="moons"), order(2, count=12, flavors=("lemon",)))
    said = [str(problem) for problem in session.problems]
    assert "Bea Ortiz" in said[0]
    assert "no recipe for lemon: vanilla is taken" in said[1]
    assert [pool.orders for pool in session.doughs] == [(2,)]


def test_the_days_of_a_plan() -> None:
    def work(number: int, step: str, label: str, day: int, task: str) -> Work:
        at = datetime(2026, 3, day, 18, tzinfo=RULES.zone)
        return Work(number, step, label, at, at + timedelta(minutes=30), task=task)

    found = when((
        work(1, "dough", "mix dough, batch 2 of 2", 10, "mix dough"),
        work(1, "dough", "mix dough, batch 1 of 2", 9, "mix dough"),
        work(1, "bake", "roll and cut", 10, "roll and cut"),
        work(1, "bake", "bake, load 1 of 1", 11, "bake"),
        work(1, "flood", "outline and flood", 10, "outline and flood"),
        work(1, "flood", "mix and tint icing", 11, "mix and tint icing"),
        work(2, "pack", "pack", 12, "pack"),
        work(1, "pack", "post office", 13, ""),
    ))  # fmt: skip
    assert found == When(
        {1: MONDAY}, {1: WEDNESDAY}, {1: TUESDAY}, {1: WEDNESDAY}, {2: WEDNESDAY + timedelta(days=1)},
    )  # fmt: skip


def test_a_plan_of_the_kitchen_gives_every_order_its_days() -> None:
    due = Due.on(date(2026, 3, 21))
    orders = [order(number, count=12, due=due, handover="pickup", colors=("white",)) for number in (1, 2)]
    jobs = [job_of(each, RULES, newest=False) for each in orders]
    now = datetime(2026, 3, 9, 9, tzinfo=RULES.zone)
    verdict = decide([job for job in jobs if isinstance(job, Job)], RULES, now=now)
    assert isinstance(verdict, Fits)
    found = when(verdict.plan.works)
    assert all(set(of) == {1, 2} for of in found.all)
    assert all(found.dough[n] <= found.cut[n] <= found.bake[n] <= found.pack[n] for n in (1, 2))


def test_shopping_is_what_the_batches_take_less_what_is_there() -> None:
    made = [one_day(order(1, count=24), order(2, count=24, colors=("white",)))]
    found = {need.what: need for need in shopping(made, RULES, {"flour": 500.0, "butter": 2000.0}).needs}
    # Two batches of 3 1/3 cups at 125 g, in packages of 5 lb.
    assert found["flour"].grams == pytest.approx(2 * 10 / 3 * 125)
    assert found["flour"].short == pytest.approx(833.3 - 500, abs=0.1)
    assert (found["flour"].packages, found["flour"].cost) == (1, Decimal("4.00"))
    assert (found["butter"].packages, found["butter"].cost) == (0, Decimal(0))
    assert found["water"].packages == 0
    assert "white" in shopping(made, RULES, {}).colors


def test_an_ingredient_without_a_package_is_bought_by_weight() -> None:
    rules = RULES.model_copy(update={"ingredients": {"flour": IngredientPart(package="a sack")}})
    need = next(need for need in shopping([one_day(order(1, count=24))], rules, {}).to_buy if need.what == "flour")
    assert (need.packages, need.cost) == (None, None)
    assert need.short > 400
