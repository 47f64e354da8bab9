"""What an order takes of dough and icing."""

from __future__ import annotations

from typing import Any

import pytest

from intake.kitchen.amounts import (
    FLOOD,
    OUTLINE,
    UNSAID,
    cuts,
    deepens,
    doughs,
    icing,
    icing_on,
    per_tray,
    unknown_flavors,
)
from intake.model import Cell, Design, Draft, Problem
from tests.kitchen.kit import house

RULES = house()


def draft(**values: Any) -> Draft:
    return Draft(**{name: Cell(value, sure=True) for name, value in values.items()})


@pytest.mark.parametrize(
    ("values", "found"),
    [
        pytest.param({"count": 24}, [("cookies", 24, 76.2)], id="nothing but a count"),
        pytest.param({"count": 24, "theme": "mini stars"}, [("mini stars", 24, 50.8)], id="a size in the theme"),
        pytest.param(
            {"count": 25, "designs": (Design("moons"), Design("large stars"))},
            [("moons", 13, 76.2), ("large stars", 12, 88.9)],
            id="shared",
        ),
        pytest.param(
            {"count": 24, "designs": (Design("moons", 6), Design("stars"))},
            [("moons", 6, 76.2), ("stars", 18, 76.2)],
            id="the rest",
        ),
        pytest.param(
            {"count": 24, "designs": (Design("moons", 6),)},
            [("moons", 6, 76.2), ("not said", 18, 76.2)],
            id="unsaid rest",
        ),
        pytest.param(
            {"count": 10, "designs": (Design("moons", 8), Design("stars", 8))},
            [("moons", 8, 76.2), ("stars", 2, 76.2)],
            id="more than ordered",
        ),
        pytest.param({"designs": (Design("moons", 6),)}, [("moons", 6, 76.2)], id="no count"),
        pytest.param({"theme": "moons"}, [], id="nothing counted"),
        pytest.param({"count": -3}, [], id="less than nothing"),
    ],
)
def test_cutters(values: dict[str, Any], found: list[tuple[str, int, float]]) -> None:
    assert [(cut.what, cut.count, cut.across) for cut in cuts(draft(**values), RULES)] == found


def test_dough_of_an_order() -> None:
    (one,) = doughs(draft(count=24), RULES)
    # 34.8 g for a 3 in round 1/4 in thick, at 1.20 g/cm3; 8 % is lost.
    assert one.on_tray == pytest.approx(24 * 34.75, abs=1)
    assert one.grams == pytest.approx(one.on_tray / 0.92)
    assert one.baked == pytest.approx(one.on_tray * 0.88)


def test_flavors_share_the_cookies() -> None:
    two = doughs(draft(count=25, flavors=("chocolate", "vanilla")), RULES)
    assert not isinstance(two, Problem)
    assert [(dough.recipe.name, dough.count) for dough in two] == [("chocolate", 13), ("vanilla", 12)]
    asked = draft(count=25, flavors=("lemon", "vanilla"))
    stood_in = doughs(asked, RULES)
    assert not isinstance(stood_in, Problem)
    assert [(dough.recipe.name, dough.count) for dough in stood_in] == [("vanilla", 25)]
    assert unknown_flavors(asked, RULES) == ("lemon",)


def test_without_a_count_there_is_no_dough() -> None:
    refused = doughs(draft(theme="moons"), RULES)
    assert isinstance(refused, Problem)
    assert "count" in refused.what


def test_icing_covers_the_cookies_whatever_the_colors() -> None:
    """3 in at 2 mm is 9.1 mL, at 1.3 g/mL 11.9 g: within the 9 to 25 g a cookie of published batches."""
    for colors in ((), ("white",), ("white", "sage"), ("navy", "red", "white", "gold")):
        on = icing_on(draft(count=48, colors=colors), RULES)
        assert sum(on.values()) / 48 == pytest.approx(11.9, abs=0.05)
        assert {color for color, _ in on} == (set(colors) or {UNSAID})


def test_the_first_color_has_its_share_and_each_two_bags() -> None:
    on = icing_on(draft(count=48, colors=("Navy", "white ", "white", "gold")), RULES)
    whole = sum(on.values())
    by_color = {color: on[color, OUTLINE] + on[color, FLOOD] for color in ("navy", "white", "gold")}
    assert [round(100 * of / whole) for of in by_color.values()] == [50, 25, 25]
    assert on["navy", OUTLINE] == pytest.approx(by_color["navy"] / 4)
    assert len(icing(draft(count=48, colors=("navy", "white", "gold")), RULES)) == 6


@pytest.mark.parametrize(
    ("size", "across"), [("large", 88.9), ("usual", 76.2), ("mini", 50.8)]
)
def test_a_size_that_is_set_counts_for_every_cutter(size: str, across: float) -> None:
    """Which cutters they are stays as the customer said it; the dough goes by the square of the width."""
    asked = draft(count=25, designs=(Design("moons"), Design("mini stars", 5)))
    assert [(cut.what, cut.count, cut.across) for cut in cuts(asked, RULES, size)] == [
        ("moons", 20, across), ("mini stars", 5, across),
    ]  # fmt: skip
    plain = draft(count=25)
    (one,), (usual,) = doughs(plain, RULES, size), doughs(plain, RULES)
    assert one.grams / usual.grams == pytest.approx((across / 76.2) ** 2)
    iced = [sum(icing_on(plain, RULES, of).values()) for of in (size, "")]
    assert iced[0] / iced[1] == pytest.approx((across / 76.2) ** 2)


@pytest.mark.parametrize(
    ("inches", "fits"), [(2, 24), (2.5, 15), (3, 12), (3.5, 8), (4, 6)], ids=lambda value: str(value)
)
def test_rounds_on_a_half_sheet(inches: float, fits: int) -> None:
    """17 x 12 in usable, 1 in apart: floor((L + gap) / (d + gap)) each way, common geometry."""
    usual_is_other = house(cookies={"across": 1})
    assert per_tray(inches * 25.4, usual_is_other) == fits


def test_the_bakers_own_count_for_her_usual_cutter() -> None:
    assert per_tray(76.2, house(oven={"cookies_per_tray": 15})) == 15


def test_least_amount_then_the_loss_of_the_bags() -> None:
    few = icing(draft(count=2, colors=("red",)), RULES)
    assert [(each.mixed, each.bags) for each in few] == [(pytest.approx(67.2), 1)] * 2
    many = icing(draft(count=100, colors=("red",)), RULES)
    flood = next(each for each in many if each.consistency == FLOOD)
    assert flood.mixed == pytest.approx(flood.grams * 1.12)
    assert flood.bags == 4


@pytest.mark.parametrize(
    ("color", "deep"),
    [
        *(("black", True), ("Navy Blue", True), ("dark red", True)),
        *(("pale red", False), ("baby pink", False), ("redwood", False)),
    ],
)
def test_deep_colors(color: str, deep: bool) -> None:
    assert deepens(color, RULES) is deep
