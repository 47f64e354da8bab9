"""Rounding, splitting and writing of money."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.money import decimals, in_language, known_locale, minor, of_minor, shown
from intake.pricing.money import rounded, split, step_of

D = Decimal


# ISO 4217 (List One, column "Minor unit").
@pytest.mark.parametrize(
    ("currency", "expected"),
    [
        *[(code, 2) for code in ("USD", "CAD", "EUR", "MXN", "GBP", "MGA")],
        *[(code, 0) for code in ("JPY", "KRW", "CLP", "ISK", "VND", "XOF")],
        *[(code, 3) for code in ("KWD", "BHD", "TND", "OMR")],
        *[(code, 4) for code in ("CLF", "UYW")],
    ],
)
def test_minor_units_are_those_of_the_standard(currency: str, expected: int) -> None:
    assert decimals(currency) == expected


@pytest.mark.parametrize(
    ("amount", "currency", "expected"),
    [
        (D("84"), "USD", "$84.00"),
        (D("1250.5"), "USD", "$1,250.50"),
        (D("0"), "USD", "$0.00"),
        (D("-3.5"), "USD", "-$3.50"),
        (D("84"), "EUR", "€84.00"),
        (D("84"), "JPY", "¥84"),
        (D("84"), "KWD", "KWD\N{NO-BREAK SPACE}84.000"),
        (D("-84"), "KWD", "-KWD\N{NO-BREAK SPACE}84.000"),
        (D("0.505"), "USD", "$0.505"),
        (D("1E+2"), "USD", "$100.00"),
    ],
)
def test_shown(amount: Decimal, currency: str, expected: str) -> None:
    assert shown(amount, currency) == expected


@pytest.mark.parametrize(
    ("amount", "step", "expected"),
    [
        (D("2.004"), D("0.01"), D("2.00")),
        (D("2.005"), D("0.01"), D("2.01")),
        (D("2.015"), D("0.01"), D("2.02")),
        (D("10.12"), D("0.25"), D("10.00")),
        (D("10.125"), D("0.25"), D("10.25")),
        (D("2.5"), D("1"), D("3")),
        (D("3.5"), D("1"), D("4")),
        (D("-2.5"), D("1"), D("-2")),
        (D("-2.51"), D("1"), D("-3")),
    ],
    ids=str,
)
def test_a_half_goes_up(amount: Decimal, step: Decimal, expected: Decimal) -> None:
    assert rounded(amount, step) == expected


@pytest.mark.parametrize(
    ("amount", "rule", "expected"),
    [
        ("2.5", "half even", "2"),
        ("3.5", "half even", "4"),
        ("2.51", "half even", "3"),
        ("2.01", "up", "3"),
        ("2", "up", "2"),
        ("-2.9", "up", "-2"),
    ],
)
def test_the_other_rules(amount: str, rule: str, expected: str) -> None:
    assert rounded(D(amount), D(1), rule) == D(expected)


@pytest.mark.parametrize(
    ("amount", "currency", "units"), [("12.34", "USD", 1234), ("-5", "JPY", -5), ("0.125", "KWD", 125), ("0", "EUR", 0)]
)
def test_minor_units_and_back(amount: str, currency: str, units: int) -> None:
    assert minor(D(amount), currency) == units
    assert of_minor(units, currency) == D(amount)


@pytest.mark.parametrize(("amount", "currency"), [("0.005", "USD"), ("0.5", "JPY")])
def test_what_is_finer_than_the_currency_is_no_amount(amount: str, currency: str) -> None:
    with pytest.raises(ValueError, match="finer"):
        minor(D(amount), currency)


@pytest.mark.parametrize(
    ("locale", "language", "expected"),
    [("en_US", "en", "en_US"), ("en_US", "es", "es_US"), ("de_DE", "es", "es_DE"), ("en", "es", "es")],
)
def test_the_locale_of_a_text(locale: str, language: str, expected: str) -> None:
    found = in_language(locale, language)
    assert found == (expected if known_locale(expected) else locale)


@pytest.mark.parametrize("name", ["xx_YY", "nonsense!", "", "en US"])
def test_what_is_no_locale(name: str) -> None:
    assert not known_locale(name)


@pytest.mark.parametrize(
    ("round_to", "currency", "expected"),
    [
        ("0.01", "USD", "0.01"),
        ("0.25", "USD", "0.25"),
        ("0.001", "USD", "0.01"),
        ("0.015", "USD", "0.02"),
        ("0.01", "JPY", "1"),
        ("10", "JPY", "10"),
        ("0.01", "KWD", "0.010"),
        ("0.0001", "KWD", "0.001"),
    ],
)
def test_a_step_is_money_that_exists(round_to: str, currency: str, expected: str) -> None:
    assert step_of(D(round_to), currency) == D(expected)


# 19.99 at 50% is 9.995: the half cent goes to the deposit.
@pytest.mark.parametrize(
    ("total", "percent", "expected"),
    [
        ("19.99", "50", ("10.00", "9.99")),
        ("10", "33", ("3.3", "6.7")),
        ("20", "0", ("0", "20")),
        ("20", "100", ("20", "0")),
    ],
)
def test_split(total: str, percent: str, expected: tuple[str, str]) -> None:
    assert split(D(total), D(percent), D("0.01")) == tuple(D(part) for part in expected)


@given(
    total=st.integers(0, 10**9),
    percent=st.decimals(0, 100, places=4),
    round_to=st.sampled_from(["0.01", "0.05", "0.25", "1", "5"]),
    currency=st.sampled_from(["USD", "JPY", "KWD"]),
)
def test_the_parts_are_the_whole(total: int, percent: Decimal, round_to: str, currency: str) -> None:
    step = step_of(D(round_to), currency)
    deposit, balance = split(step * total, percent, step)
    assert deposit + balance == step * total
    assert deposit >= 0
    assert balance >= 0
    assert deposit % step == 0
