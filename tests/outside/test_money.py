"""Prices, parcels and amounts against published figures and reference sources, each named beside its rows."""

from __future__ import annotations

import csv
import io
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from babel.core import get_global
from babel.numbers import format_currency
from hypothesis import given
from hypothesis import strategies as st

from intake.model import Payment
from intake.money import CURRENCIES, decimals, shown
from intake.papers.ledger import FIELDS, guarded, ledger
from intake.pricing.money import rounded, split
from intake.pricing.parcels import charged_pounds, dimensional_pounds
from intake.pricing.sums import break_even, margin, markup, price_at_margin, price_at_markup, yearly

D = Decimal
CENT = D("0.01")

# Break-even


@pytest.mark.parametrize(
    ("fixed", "price", "variable", "units"),
    [
        # North Dakota State Univ. Extension, Pricing Your Food Product, 2007
        ("500", "5", "2.50", 200),
        # Alberta Agriculture, Agdex 845-3
        ("1200", "2.25", "1.50", 1600),
        # Iowa State Univ. Extension, AgDM C5-201: fixed 100, variable 5, at prices of 7, 9, 10 and 15
        ("100", "7", "5", 50),
        ("100", "9", "5", 25),
        ("100", "10", "5", 20),
        ("100", "15", "5", 10),
        # the same: a price that is no more than what one costs covers nothing
        ("100", "5", "5", None),
        ("100", "4", "5", None),
    ],
)
def test_break_even(fixed: str, price: str, variable: str, units: int | None) -> None:
    assert break_even(D(fixed), D(price), D(variable)) == units


@pytest.mark.parametrize(("units", "profit"), [(50, 150), (10, -50), (20, 0)])
def test_profits_about_the_break_even(units: int, profit: int) -> None:
    """AgDM C5-202, at a price of 10."""
    assert units * (10 - 5) - 100 == profit
    covered = break_even(100, 10, 5)
    assert covered is not None
    assert (units >= covered) == (profit >= 0)


@pytest.mark.parametrize(("units", "percent"), [(100, "25"), (200, "14")])
def test_the_share_of_fixed_costs(units: int, percent: str) -> None:
    """North Dakota State Univ. Extension: fixed 50, variable 1.50 each."""
    variable = D("1.50") * units
    share = margin(50 + variable, variable)
    assert share is not None
    assert rounded(share * 100, D(1)) == D(percent)


# Margin against markup


def test_margin_is_not_markup() -> None:
    """A bread-pricing note: on a cost of 1.00, 40 % markup is 1.40, 40 % margin 1.67, which is 66.7 % markup."""
    assert rounded(price_at_markup(1, D("0.40")), CENT) == D("1.40")
    assert rounded(price_at_margin(1, D("0.40")), CENT) == D("1.67")
    over = markup(price_at_margin(1, D("0.40")), 1)
    assert over is not None and rounded(over * 100, D("0.1")) == D("66.7")


def test_a_sellers_margin() -> None:
    """Alberta Agdex 845-3: of a shelf price of 2.49, 40 % margin leaves the maker 1.494."""
    assert D("2.49") * (1 - D("0.40")) == D("1.4940")
    assert price_at_margin(D("1.494"), D("0.40")) == Fraction("2.49")


@given(cost=st.decimals("0.01", 10_000, places=2), share=st.decimals(0, "0.99", places=2))
def test_margin_and_price_are_each_others_inverse(cost: Decimal, share: Decimal) -> None:
    assert margin(price_at_margin(cost, share), cost) == Fraction(share)
    assert markup(price_at_markup(cost, share), cost) == Fraction(share)


@pytest.mark.parametrize("share", [1, D("1.5")])
def test_no_price_leaves_all_of_it(share: Decimal) -> None:
    with pytest.raises(ValueError, match="less than the whole price"):
        price_at_margin(1, share)
    assert margin(0, 5) is markup(5, 0) is None


# What lasts for years: a cottage-food budgeting example (US extension-type sheet), over 5 product lines and 500 units
TOOLS = [
    ("161.94", 10, "16.19", "3.24", "0.01"),
    ("21.99", 5, "4.40", "0.88", None),
    ("125", 5, "25.00", "5.00", None),
    ("114.15", 5, "22.83", "4.57", None),
]


@pytest.mark.parametrize(("price", "years", "a_year", "a_line", "each"), TOOLS, ids=[t[0] for t in TOOLS])
def test_a_tool_over_its_years(price: str, years: int, a_year: str, a_line: str, each: str | None) -> None:
    share = yearly(D(price), years)
    assert rounded(share, CENT) == D(a_year)
    assert rounded(share / 5, CENT) == D(a_line)
    if each:
        assert rounded(share / 5 / 500, CENT) == D(each)


def test_the_sum_is_rounded_once() -> None:
    """The same sheet: six lines rounded for each unit sum to 0.26; 127.28 over 500 units is 0.2546, so 0.25."""
    assert rounded(Fraction("127.28") / 500, CENT) == D("0.25")


def test_a_rate_is_shown_rounded_and_used_whole() -> None:
    """The same sheet: ten hours are 114.15, though the hour is shown as 11.42."""
    hour = Fraction("114.15") / 10
    assert rounded(hour, CENT) == D("11.42")
    assert rounded(hour * 10, CENT) == D("114.15") != 10 * rounded(hour, CENT)


@pytest.mark.parametrize(("price", "years", "a_year"), [("100", 20, "5.00"), ("30", 20, "1.50")])
def test_life_cost(price: str, years: int, a_year: str) -> None:
    """New Mexico State Univ. slides."""
    assert yearly(D(price), years) == Fraction(a_year)


# Parcels: DMM 123.1.4 and 604.7.1 until 11 July 2026; 91 FR 27837 (its opening) and trade press for the figures since
BEFORE, SINCE = date(2026, 7, 11), date(2026, 7, 12)


def sides(*inches: str) -> tuple[Decimal, ...]:
    return tuple(D(side) for side in inches)


@pytest.mark.parametrize(
    ("box", "before", "since"),
    [
        (sides("15", "15", "22"), 30, 36),
        (sides("12", "12", "14"), 13, 15),
        # 1,728 cubic inches are not above 1,728
        (sides("12", "12", "12"), 0, 0),
        # to the nearest inch 12 x 12 x 12; upwards 13 x 12 x 12 = 1,872
        (sides("12.2", "12", "12"), 0, 14),
        # a half inch goes up in both
        (sides("12.5", "12", "12"), 12, 14),
    ],
    ids=str,
)
def test_the_posts_dimensional_weight_either_side_of_its_day(box: tuple[Decimal, ...], before: int, since: int) -> None:
    assert dimensional_pounds(box, "post", BEFORE) == before
    assert dimensional_pounds(box, "post", SINCE) == since


@pytest.mark.parametrize(
    ("box", "sent", "pounds"),
    [
        # carriers' notices; every box counts
        (sides("12", "12", "12"), date(2025, 8, 17), 13),
        (sides("12", "12", "12"), date(2025, 8, 18), 13),
        # 11.1 goes up to 12 since 18 August 2025: 11 x 12 x 12 = 1,584, 12 x 12 x 12 = 1,728
        (sides("11.1", "12", "12"), date(2025, 8, 17), 12),
        (sides("11.1", "12", "12"), date(2025, 8, 18), 13),
    ],
    ids=str,
)
def test_the_private_carriers_dimensional_weight(box: tuple[Decimal, ...], sent: date, pounds: int) -> None:
    assert dimensional_pounds(box, "courier", sent) == pounds


@pytest.mark.parametrize(
    ("grams", "charged", "actual"),
    [
        # NIST Handbook 44, Appendix C: a pound is 453.59237 g exactly
        ("453.59237", 15, 1),
        ("453.59238", 15, 2),
        ("6803.88555", 15, 15),
        ("6803.88556", 16, 16),
    ],
)
def test_the_greater_of_weight_and_size_is_charged(grams: str, charged: int, actual: int) -> None:
    assert charged_pounds(D(grams), sides("12", "12", "14"), "post", SINCE) == (charged, actual)


# Amounts: ISO 4217, List One, and CLDR as babel holds it

# Where CLDR shows fewer decimals than the standard has, since the small coin is out of use.
CLDR_DEPARTS = frozenset("AFN ALL IQD IRR KPW LAK LBP MGA MMK RSD SOS SYP YER".split())


def test_the_currencies_are_those_in_use() -> None:
    """By CLDR's list of what each country pays with today. Bulgaria has had the euro since January 2026."""
    in_use = {
        code
        for rows in get_global("territory_currencies").values()
        for code, _, end, tender in rows
        if tender and not end
    }
    assert in_use - CURRENCIES <= {"BGN", "ANG", "HRK", "CUC"}
    # SVC and VED are in List One and no longer paid with; CLF and UYW are accounting units.
    assert CURRENCIES - in_use <= {"SVC", "VED", "CLF", "UYW", "XCG"}


@pytest.mark.parametrize("currency", sorted(CURRENCIES))
def test_minor_units_are_cldrs_but_for_those_it_departs_in(currency: str) -> None:
    fractions = get_global("currency_fractions")
    theirs = fractions.get(currency, fractions["DEFAULT"])[0]
    if currency in CLDR_DEPARTS:
        assert theirs == 0 and decimals(currency) in (2, 3)
    else:
        assert decimals(currency) == theirs


@pytest.mark.parametrize(
    ("currency", "places"), [("USD", 2), ("CAD", 2), ("EUR", 2), ("JPY", 0), ("KWD", 3), ("BHD", 3)]
)
def test_minor_units_of_the_standard(currency: str, places: int) -> None:
    """ISO 4217, List One."""
    assert decimals(currency) == places


@pytest.mark.parametrize("locale", ["en_US", "es_US", "es_MX", "en_CA", "fr_CA", "de_DE", "ja_JP", "en_IN", "pt_BR"])
@given(
    units=st.integers(-(10**9), 10**9),
    currency=st.sampled_from(["USD", "EUR", "CAD", "JPY", "MXN", "GBP", "BRL", "INR"]),
)
def test_amounts_are_written_as_cldr_writes_them(locale: str, units: int, currency: str) -> None:
    amount = D(units).scaleb(-decimals(currency))
    theirs = format_currency(amount, currency, locale=locale)
    assert "".join(shown(amount, currency, locale).split()) == "".join(theirs.split())


@pytest.mark.parametrize(
    ("total", "percent", "parts"), [("10.00", "33.33", ("3.33", "6.67")), ("0.01", "50", ("0.01", "0.00"))]
)
def test_split_parts_sum_to_the_whole(total: str, percent: str, parts: tuple[str, str]) -> None:
    """Common practice, no authority: half a cent goes up, and what is left is exact."""
    assert split(D(total), D(percent), CENT) == tuple(D(part) for part in parts)


# The ledger: RFC 4180, section 2, and OWASP's page on CSV injection

DAY = date(2026, 3, 11)


def one(note: str = "", amount: str = "36.00", what: str = "deposit") -> Payment:
    return Payment(1, 7, what, D(amount), "USD", "cash", DAY, note)


@pytest.mark.parametrize(
    ("given", "written"),
    [('=1+2";=1+2', '"\'=1+2"";=1+2"'), ("=1+2'\" ;,=1+2", '"\'=1+2\'"" ;,=1+2"')],
    ids=["first vector", "second vector"],
)
def test_owasps_own_examples(given: str, written: str) -> None:
    assert ledger([one(given)], {}).split("\r\n")[1].endswith(f",{written}")


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", "\t", "\r", "\n"])
def test_no_text_begins_as_a_formula(sign: str) -> None:
    assert guarded(f"{sign}1+1") == f"'{sign}1+1"
    assert guarded(f"  {sign}1+1").startswith("'")


@pytest.mark.parametrize("text", ["", "cash", "1+1", "a=b", "12-5", "dana@example.org"])
def test_other_texts_stay_as_they_are(text: str) -> None:
    assert guarded(text) == text


def test_a_refund_stays_a_number() -> None:
    """The rule: what the program writes is a number, below zero too; what anybody typed is text, and guarded."""
    lines = ledger([one("-12.50", amount="12.50", what="refund")], {7: "+15555550142"}).split("\r\n")
    assert lines[1] == '1,"2026-03-11",7,"\'+15555550142","refund","cash",-12.50,"USD","\'-12.50"'
    assert float(next(csv.reader([lines[1]]))[6]) == -12.5


@given(st.lists(st.tuples(st.text(max_size=40), st.integers(1, 10**8), st.booleans()), max_size=6))
def test_the_ledger_read_back(rows: list[tuple[str, int, bool]]) -> None:
    payments = [one(text, str(D(units) / 100), "refund" if back else "part") for text, units, back in rows]
    text = ledger(payments, {7: "Dana"})
    assert text.endswith("\r\n")
    held = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert held[0] == list(FIELDS)
    assert {len(record) for record in held} == {len(FIELDS)}
    assert [record[8] for record in held[1:]] == [guarded(text) for text, _, _ in rows]
    assert [D(record[6]) for record in held[1:]] == [payment.signed for payment in payments]
