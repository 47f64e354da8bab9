"""The quotes of the demo that `sheets` prints, worked out by hand from the default rate card."""

from __future__ import annotations

import pytest

from tests.pricing.sheets import CUSTOMERS, sheets


@pytest.fixture(scope="module")
def printed() -> dict[str, str]:
    return dict(zip(CUSTOMERS, sheets().split("\n\n"), strict=True))


@pytest.mark.parametrize(
    ("customer", "lines"),
    [
        # 24 x 36.00 / 12; half of it down, and the deposit came
        ("Delia Quarles", ("$72.00  In all", "deposit $36.00", "balance $36.00", "paid $36.00, still to pay $36.00")),
        # 3 designs make it detailed: 36 x 48.00 / 12 = 144.00; 1 design more than 2 at 4.00; 1 text at 0.50
        ("Ebony Lathrop", ("$144.00  36 cookies, detailed", "$4.00  1 extra design", "$148.50  In all", "$74.25 by")),
        # 12 x 36.00 / 12 + one box at 3.00 + one parcel at 14.00
        ("Zelda Constantine", ("$36.00  12 cookies, plain", "$3.00  1 gift box", "$14.00  Shipping", "$53.00  In all")),
    ],
)
def test_quotes_by_hand(printed: dict[str, str], customer: str, lines: tuple[str, ...]) -> None:
    assert all(line in printed[customer] for line in lines)


# Oven by the load of 24 in 20 minutes at 0.60 an hour; a box 12 x 42 + 350 = 854 g is 1.88 lb, so 2 at 3.00
@pytest.mark.parametrize(
    ("customer", "lines"),
    [
        ("Delia Quarles", ("$1.20  2 plain boxes", "$0.20  Oven", "$72.00  price")),
        ("Ebony Lathrop", ("$1.80  3 plain boxes", "$0.40  Oven", "$148.50  price")),
        ("Zelda Constantine", ("$1.20  1 gift box", "$2.50  1 mailing box", "$6.00  Postage", "your least")),
    ],
)
def test_costs_by_hand(printed: dict[str, str], customer: str, lines: tuple[str, ...]) -> None:
    assert all(line in printed[customer] for line in lines)
