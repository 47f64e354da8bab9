"""What a baker types about money, and what she can't have meant."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.model import QuoteLine, Terms
from intake.pricing.said import amount_of, payment, settled

D = Decimal
HELD = Terms(edits=(QuoteLine("Courtesy", D("-5"), "set by you", "edit"),))


def said(words: str, terms: Terms = HELD) -> Terms:
    return settled(terms, words, count=24, sizes=("mini", "large"), currency="USD")


@pytest.mark.parametrize(
    ("words", "changed"),
    [
        ("elaborate", {"level": "elaborate"}),
        ("level Plain", {"level": "plain"}),
        ("level auto", {"level": ""}),
        ("mini", {"size": "mini"}),
        ("size usual", {"size": "usual"}),
        ("size auto", {"size": ""}),
        ("4 lettered", {"lettered": 4}),
        ("lettered 0", {"lettered": 0}),
        ("lettered auto", {"lettered": None}),
        ("6 miles", {"distance": D(6)}),
        ("2.5mi", {"distance": D("2.5")}),
        ("5.5 lb", {"pounds": D("5.5")}),
        ("box 12x10x6", {"box": (D(12), D(10), D(6))}),
        ("box 12.5 x 10 × 6 inches", {"box": (D("12.5"), D(10), D(6))}),
    ],
)
def test_terms(words: str, changed: dict[str, Any]) -> None:
    before = Terms("detailed", "large", 9, D(1), (D(1), D(1), D(1)), D(1))
    after = said(words, before)
    assert {name: getattr(after, name) for name in changed} == changed
    for name in ("level", "size", "lettered", "distance", "box", "pounds"):
        assert name in changed or getattr(after, name) == getattr(before, name)


@pytest.mark.parametrize(
    ("words", "lines"),
    [
        ("stand $12.50", [("Courtesy", "-5"), ("stand", "12.50")]),
        ("stand: 12.50", [("Courtesy", "-5"), ("stand", "12.50")]),
        ("courtesy -$7", [("courtesy", "-7")]),
        ("courtesy $-7", [("courtesy", "-7")]),
        ("courtesy \N{MINUS SIGN}7", [("courtesy", "-7")]),
        ("courtesy 0", []),
        ("no courtesy", []),
        ("cake stand for 2 1,250", [("Courtesy", "-5"), ("cake stand for 2", "1250")]),
        ("no stand 3", [("Courtesy", "-5"), ("no stand", "3")]),
    ],
)
def test_lines_of_her_own(words: str, lines: list[tuple[str, str]]) -> None:
    assert [(line.label, line.amount) for line in said(words).edits] == [(label, D(n)) for label, n in lines]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("", "a level"),
        ("make it nice", "a level"),
        ("no stand", "a level"),
        ("25 lettered", "0 to 24 cookies lettered; it is 25"),
        ("20000 miles", "0 to 10000 miles"),
        ("0 lb", "0.01 to 150 pounds"),
        ("box 100x10x6", "1 to 60 inches"),
        ("courtesy -0.005", "at most 2 decimals in USD"),
        ("gift 99999999", "up to 1,000,000"),
        ("courtesy -5 and more", "a level"),
    ],
)
def test_what_can_not_be_meant(words: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        said(words)


def test_no_more_lines_than_fit_on_a_slip() -> None:
    terms = Terms()
    for number in range(20):
        terms = said(f"line {chr(65 + number)} 1", terms)
    with pytest.raises(ValueError, match="at most 20"):
        said("one more 1", terms)


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("36", (D(36), "", False)),
        ("$36.50 cash", (D("36.50"), "cash", False)),
        ("36 by check", (D(36), "check", False)),
        ("36, bank transfer", (D(36), "bank transfer", False)),
        ("back 10 card", (D(10), "card", True)),
        ("refund $10", (D(10), "", True)),
        ("1,250.00 in cash", (D(1250), "cash", False)),
    ],
)
def test_payments(words: str, expected: tuple[Decimal, str, bool]) -> None:
    assert payment(words) == expected


@pytest.mark.parametrize("words", ["", "cash", "cash 36", "36cash", "thirty", "back", "12.3.4"])
def test_what_is_no_payment(words: str) -> None:
    with pytest.raises(ValueError, match="36 cash"):
        payment(words)


@pytest.mark.parametrize("text", ["", "x", "1,2", "--5", "1e5", "nan", "5 5"])
def test_what_is_no_amount(text: str) -> None:
    with pytest.raises(ValueError, match="an amount"):
        amount_of(text)


@given(st.text(max_size=200))
def test_any_text_is_understood_or_refused_in_words(text: str) -> None:
    for read in (said, payment, amount_of):
        try:
            read(text)
        except ValueError as error:
            assert str(error)
