"""Grams as they are read; an ounce is 28.349523125 g (NIST SP 811)."""

from __future__ import annotations

import pytest

from intake.papers.weights import both, grams, us


@pytest.mark.parametrize(
    ("weight", "shown"), [(4.2, "4.2 g"), (9.94, "9.9 g"), (9.96, "10 g"), (906.4, "906 g"), (2500, "2,500 g")]
)
def test_grams(weight: float, shown: str) -> None:
    assert grams(weight) == shown


@pytest.mark.parametrize(
    ("weight", "places", "shown"),
    [
        (85.05, 1, "3 oz"),
        (453.59237, 1, "1 lb"),
        (516, 1, "1 lb 2.2 oz"),
        (453.5, 0, "1 lb"),
        (907, 0, "2 lb"),
        (10, 1, "0.4 oz"),
        (0, 1, "0 oz"),
        (452.2, 1, "1 lb"),
    ],
)
def test_pounds_and_ounces(weight: float, places: int, shown: str) -> None:
    assert us(weight, places) == shown


def test_both() -> None:
    assert both(680.4) == "680 g (1 lb 8 oz)"
