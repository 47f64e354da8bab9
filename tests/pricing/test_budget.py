"""What is proposed where a budget does not reach: each total worked out by hand from the rates of test_quote."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.model import Terms
from intake.pricing.budget import fitting
from intake.pricing.quote import quote

from .test_quote import TODAY, D, draft, house, shapes

COLORS = ("red", "blue", "pink", "gold", "teal", "gray")
CASES: list[tuple[str, dict[str, Any], dict[str, Any], str, list[tuple[str, str]]]] = [
    # name, draft, terms, budget, offers
    # 24 plain are 72.00; 18 are 54.00
    ("fewer", {}, {}, "60", [("18 cookies instead of 24", "54.00")]),
    ("it fits as it is", {}, {}, "72", [("", "72.00")]),
    # 24 plain and bagged: 72.00 + 24 x 0.45 = 82.80; without bags 72.00; 18 bagged 54.00 + 8.10 = 62.10
    (
        "no packaging comes closer than fewer",
        {"packaging": ("individually bagged",)},
        {},
        "80",
        [("no packaging", "72.00"), ("18 cookies instead of 24", "62.10")],
    ),
    # 24 of 5 designs and 6 colors, elaborate: 120.00 + 3 x 4.00 + 2 x 2.00 = 136.00
    # detailed: 4 designs and 3 colors: 96.00 + 2 x 4.00 = 104.00; plain: 72.00; 18 elaborate: 90.00 + 16.00 = 106.00
    (
        "plainer",
        {"designs": shapes("a", "b", "c", "d", "e"), "colors": COLORS},
        {},
        "110",
        [
            ("18 cookies instead of 24", "106.00"),
            ("4 designs instead of 5, 3 colors instead of 6", "104.00"),
            ("2 designs instead of 5, 3 colors instead of 6", "72.00"),
        ],
    ),
    # nearer to the budget than 12 of the elaborate ones at 60.00 + 16.00 = 76.00
    (
        "plainer before far fewer",
        {"designs": shapes("a", "b", "c", "d", "e"), "colors": COLORS},
        {},
        "105",
        [("4 designs instead of 5, 3 colors instead of 6", "104.00"), ("12 cookies instead of 24", "76.00")],
    ),
    # lettered alone makes it detailed: 96.00 + 24 x 0.50; 18 of them lettered is 72.00 + 9.00 = 81.00
    (
        "no lettering",
        {"lettering": ("Leo",)},
        {"lettered": 24},
        "90",
        [("18 cookies instead of 24", "81.00"), ("no lettering", "72.00")],
    ),
    (
        "a level set by hand",
        {},
        {"level": "elaborate"},
        "100",
        [
            ("detailed work instead of elaborate", "96.00"),
            ("18 cookies instead of 24", "90.00"),
            ("plain work instead of elaborate", "72.00"),
        ],
    ),
    # 12 is the least taken on: 36.00
    ("nothing fits", {}, {}, "35.99", []),
    ("no count", {"count": None}, {}, "60", []),
]


@pytest.mark.parametrize(("values", "terms", "budget", "offers"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_by_hand(values: dict[str, Any], terms: dict[str, Any], budget: str, offers: list[tuple[str, str]]) -> None:
    found = fitting(draft(**values), house(), D(budget), today=TODAY, terms=Terms(**terms))
    assert [(offer.words, offer.quote.total) for offer in found[: len(offers)]] == [(w, D(t)) for w, t in offers]
    assert bool(found) == bool(offers)


@given(count=st.integers(1, 3000), budget=st.integers(0, 20_000), bagged=st.booleans(), designs=st.integers(0, 7))
def test_what_is_proposed_fits_and_is_priced_like_any_order(
    count: int, budget: int, bagged: bool, designs: int
) -> None:
    names = shapes(*(f"design {n}" for n in range(designs)))
    wanted = draft(count=count, designs=names, packaging=("individually bagged",) if bagged else ())
    for offer in fitting(wanted, house(), Decimal(budget), today=TODAY):
        assert offer.quote.total <= budget
        assert quote(offer.draft, house(), today=TODAY, terms=offer.terms) == offer.quote
        assert offer.draft.count.value and offer.draft.count.value <= count


def test_an_order_that_can_not_be_priced_has_no_offers() -> None:
    assert fitting(draft(due=None), house(), D(60), today=TODAY) == ()
    assert fitting(draft(cancelled=True), house(), D(60), today=TODAY) == ()
