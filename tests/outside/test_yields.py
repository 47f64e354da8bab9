"""Areas, weights and yields of rolled cookies against figures published elsewhere; the source stands beside each."""

from __future__ import annotations

import pytest

from intake.kitchen.amounts import doughs
from intake.kitchen.recipes import area
from intake.model import Cell, Draft, Problem
from tests.kitchen.kit import house

INCH = 25.4


@pytest.mark.parametrize(
    ("across", "square"), [(2, 20.268), (2.5, 31.669), (3, 45.604), (3.5, 62.072), (4, 81.073)]
)
def test_area_of_a_round_cutter(across: float, square: float) -> None:
    """pi/4 x d2, to a thousandth of a square centimetre."""
    assert area(across * INCH) == pytest.approx(square, abs=0.001)


@pytest.mark.parametrize(
    ("thick", "each"),
    [
        ("1/8 in", (7.7, 12.1, 17.4, 23.7, 30.9)),
        ("1/4 in", (15.4, 24.1, 34.8, 47.3, 61.8)),
        ("3/8 in", (23.2, 36.2, 52.1, 71.0, 92.7)),
    ],
)
def test_dough_of_a_round_cookie(thick: str, each: tuple[float, ...]) -> None:
    """Area x thickness x 1.20 g/cm3, to a tenth of a gram: cutters of 2, 2.5, 3, 3.5 and 4 in."""
    for across, weight in zip((2, 2.5, 3, 3.5, 4), each, strict=True):
        assert on_tray(100, across * INCH, thick) / 100 == pytest.approx(weight, abs=0.1)


def on_tray(count: int, across: float, thick: str) -> float:
    from fractions import Fraction

    from intake.measures import millimetres

    rules = house(cookies={"across": Fraction(across), "thick": millimetres(thick)})
    found = doughs(Draft(count=Cell(count)), rules)
    assert not isinstance(found, Problem)
    return found[0].on_tray


# Whole dough, what was published of it, and how far off that may be. A yield without its cutter and thickness is no
# check, and a soft dough's may be 40 % off.
@pytest.mark.parametrize(
    ("weight", "across", "thick", "published", "off"),
    [
        pytest.param(793, 3, "1/4 in", 21, 0.10, id="US magazine, December 1989: about 21"),
        pytest.param(758, 3, "1/8 in", 42, 0.06, id="cooks.com g52zq333: 3 1/2 dozen"),
        pytest.param(6392, 3.5, "1/8 in", 300, 0.12, id="Richards & Treat, Quantity Cookery, 1922: 300"),
        pytest.param(1200, 3.6, "1/4 in", 24, 0.01, id="Goodheart-Willcox textbook: 24 of 1 3/4 oz"),
        pytest.param(1372, 2.5, "1/8 in", 72, 0.60, id="message board: the outlier, 0.63 of the sum"),
    ],
)
def test_cookies_of_a_published_dough(weight: float, across: float, thick: str, published: int, off: float) -> None:
    one = on_tray(100, across * INCH, thick) / 100
    assert weight / one == pytest.approx(published, rel=off)


@pytest.mark.parametrize(
    ("weight", "thick", "smallest", "largest", "published"),
    [
        pytest.param(783, "3/16 in", 2, 2.5, 60, id="cooks.com cb55r10p: about 60 of 2 to 2.5 in"),
        pytest.param(730, "1/4 in", 2, 3, 36, id="memack.com 2301201: about 36 of 2 to 3 in"),
    ],
)
def test_a_published_yield_lies_between_its_cutters(
    weight: float, thick: str, smallest: float, largest: float, published: int
) -> None:
    least, most = (weight / (on_tray(100, across * INCH, thick) / 100) for across in (largest, smallest))
    assert least < published < most
