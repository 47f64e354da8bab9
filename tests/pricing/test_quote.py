"""Quotes worked out by hand, and what holds for every quote."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.house import House, RatesPart, default_house
from intake.house_rates import rates_of_text
from intake.model import Cell, Design, Draft, Due, Problem, Quote, QuoteLine, Terms
from intake.money import decimals
from intake.pricing.quote import quote

D = Decimal
TODAY = date(2026, 3, 2)  # a Monday
FAR = Due.on(date(2026, 4, 18))


def house(**changes: Any) -> House:
    """House rules with rates of these tests' own, so that a change of the defaults changes no sum here."""
    rates: dict[str, Any] = {
        "per_dozen": {"plain": D("36"), "detailed": D("48"), "elaborate": D("60")},
        "minimum_count": 12,
        "lettering_each": D("0.50"),
        "extra_design": D("4"),
        "free_designs": 2,
        "extra_color": D("2"),
        "free_colors": 4,
        "individually_bagged_each": D("0.45"),
        "heat_sealed_each": D("0.60"),
        "ribbon_each": D("0.35"),
        "tags_each": D("0.25"),
        "gift_box_dozen": D("3"),
        "shipping": D("14"),
        "delivery": D("12"),
        "rush": [{"under_days": 7, "percent": D("25")}],
        "deposit_percent": D("50"),
        "balance_days": 3,
        "valid_days": 7,
        "round_to": D("0.01"),
    }
    currency = changes.pop("currency", "USD")
    base = default_house()
    parts = {
        "house": base.house.model_copy(update={"currency": currency}),
        "rates": RatesPart.model_validate(rates | changes),
    }
    return base.model_copy(update=parts)


def draft(**values: Any) -> Draft:
    values = {"count": 24, "due": FAR, "handover": "pickup"} | values
    return Draft(**{name: Cell(value, sure=True) for name, value in values.items() if value is not None})


def priced(wanted: Draft, rules: House, today: date = TODAY, **terms: Any) -> Quote:
    made = quote(wanted, rules, today=today, terms=Terms(**terms))
    assert isinstance(made, Quote)
    return made


def shapes(*names: str) -> tuple[Design, ...]:
    return tuple(Design(name) for name in names)


BY_HAND = [
    # 24 x 36.00 / 12 = 72.00
    ("two dozen plain", {}, [("24 cookies, plain", "72.00")], "72.00"),
    # 18 x 36.00 / 12 = 54.00
    ("a dozen and a half", {"count": 18}, [("18 cookies, plain", "54.00")], "54.00"),
    # 8 is below 12, so 12 x 36.00 / 12 = 36.00
    ("below the minimum", {"count": 8}, [("8 cookies, plain", "36.00")], "36.00"),
    # 3 designs are detailed: 24 x 48.00 / 12 = 96.00; 3 - 2 = 1 extra at 4.00; together 100.00
    (
        "one extra design",
        {"designs": shapes("owls", "foxes", "bears")},
        [("24 cookies, detailed", "96.00"), ("1 extra design", "4.00")],
        "100.00",
    ),
    # 6 colors are detailed: 96.00; 6 - 4 = 2 extra at 2.00 = 4.00; together 100.00
    (
        "two extra colors",
        {"colors": ("red", "blue", "pink", "gold", "teal", "gray")},
        [("24 cookies, detailed", "96.00"), ("2 extra colors", "4.00")],
        "100.00",
    ),
    # 72.00 + 2 x 0.50 = 73.00
    (
        "two texts",
        {"lettering": ("Leo", "Happy 4th")},
        [("24 cookies, plain", "72.00"), ("Lettering on 2 cookies", "1.00")],
        "73.00",
    ),
    # 30 x 36 / 12 = 90.00; 30 x 0.45 = 13.50; 30 x 0.35 = 10.50; boxes: 30 / 12 = 2.5, so 3 x 3.00 = 9.00; 123.00
    (
        "packaging",
        {"count": 30, "packaging": ("individually bagged", "ribbon", "gift box")},
        [
            ("30 cookies, plain", "90.00"),
            ("Individually bagged", "13.50"),
            ("Ribbon", "10.50"),
            ("3 gift boxes", "9.00"),
        ],
        "123.00",
    ),
    # 25 x 36 / 12 = 75.00; 25 / 24 begins a second parcel: 2 x 14.00 = 28.00; 103.00
    (
        "shipped in two parcels",
        {"count": 25, "handover": "ship"},
        [("25 cookies, plain", "75.00"), ("Shipping, 2 parcels", "28.00")],
        "103.00",
    ),
    # 72.00 + 12.00 = 84.00
    ("delivered", {"handover": "deliver"}, [("24 cookies, plain", "72.00"), ("Delivery", "12.00")], "84.00"),
    # 6 days' notice is under 7: 72.00 x 25 / 100 = 18.00, and the way is not rushed; 102.00
    (
        "a rush",
        {"handover": "deliver", "due": Due.on(date(2026, 3, 8))},
        [("24 cookies, plain", "72.00"), ("Rush", "18.00"), ("Delivery", "12.00")],
        "102.00",
    ),
    # 7 days' notice is not under 7
    ("a week's notice", {"due": Due.on(date(2026, 3, 9))}, [("24 cookies, plain", "72.00")], "72.00"),
    # 13 x 36 / 12 = 39.00; 13 x 0.45 = 5.85; (39.00 + 5.85) x 25 / 100 = 11.2125, so 11.21; 56.06
    (
        "a rush that needs rounding",
        {"count": 13, "packaging": ("individually bagged",), "due": Due.on(TODAY)},
        [("13 cookies, plain", "39.00"), ("Individually bagged", "5.85"), ("Rush", "11.21")],
        "56.06",
    ),
]


@pytest.mark.parametrize(("values", "lines", "total"), [c[1:] for c in BY_HAND], ids=[c[0] for c in BY_HAND])
def test_by_hand(values: dict[str, Any], lines: list[tuple[str, str]], total: str) -> None:
    made = priced(draft(**values), house())
    assert [(line.label, line.amount) for line in made.lines] == [(label, D(amount)) for label, amount in lines]
    assert made.total == D(total)
    assert all(line.why for line in made.lines)


# 13 cookies at 35 a dozen: 37.9166...
@pytest.mark.parametrize(
    ("currency", "round_to", "expected"),
    [
        ("USD", "0.01", "37.92"),
        ("USD", "0.25", "38.00"),
        ("USD", "5", "40.00"),
        ("JPY", "0.01", "38"),
        ("KWD", "0.001", "37.917"),
        ("KWD", "0.01", "37.920"),
    ],
)
def test_amounts_are_rounded_to_money_that_exists(currency: str, round_to: str, expected: str) -> None:
    rules = house(
        currency=currency, round_to=D(round_to), per_dozen={"plain": D("35"), "detailed": D("48"), "elaborate": D("60")}
    )
    assert str(priced(draft(count=13), rules).total) == expected


def test_the_minimum_is_said_in_its_line() -> None:
    why = priced(draft(count=8), house()).lines[0].why
    assert "fewer than the 12" in why
    assert "12 are charged" in why


DATES = [
    # name, due, hand-over, deposit_percent, valid_until, deposit_by, balance_by
    # 2 March + 7 days; 18 April - 3 days
    ("in good time", FAR, "pickup", "50", date(2026, 3, 9), date(2026, 3, 9), date(2026, 4, 15)),
    # hand-over in 2 days: the balance would have been due yesterday, so today
    ("in a hurry", Due.on(date(2026, 3, 4)), "pickup", "50", date(2026, 3, 4), TODAY, TODAY),
    # a balance due on the 5th comes before the 9th, so the deposit can't wait until then
    ("soon", Due.on(date(2026, 3, 8)), "pickup", "50", date(2026, 3, 8), date(2026, 3, 5), date(2026, 3, 5)),
    ("no deposit", FAR, "pickup", "0", date(2026, 3, 9), None, date(2026, 4, 15)),
    ("all in advance", FAR, "pickup", "100", date(2026, 3, 9), date(2026, 3, 9), None),
    # to be there on Saturday 18 April it arrives on Friday 17, 3 business days after Tuesday 14; less 3 days
    ("shipped", FAR, "ship", "50", date(2026, 3, 9), date(2026, 3, 9), date(2026, 4, 11)),
    # a window counts from its first day
    (
        "window",
        Due(date(2026, 4, 18), date(2026, 4, 25)),
        "pickup",
        "50",
        date(2026, 3, 9),
        date(2026, 3, 9),
        date(2026, 4, 15),
    ),
]


@pytest.mark.parametrize(
    ("due", "handover", "percent", "valid", "deposit", "balance"), [c[1:] for c in DATES], ids=[c[0] for c in DATES]
)
def test_dates(
    due: Due, handover: str, percent: str, valid: date, deposit: date | None, balance: date | None
) -> None:
    made = priced(draft(due=due, handover=handover), house(deposit_percent=D(percent)))
    assert (made.valid_until, made.deposit_by, made.balance_by) == (valid, deposit, balance)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"budget": D("60")}, "$12.00 over the customer's budget of $60.00"),
        ({"handover": None}, "Pick-up is assumed"),
        ({"lettering": ("Leo",)}, "priced for 1 cookie"),
        ({"packaging": ("glitter tin",)}, 'Nothing is charged for "glitter tin"'),
        ({"designs": (Design("owls", 12), Design("foxes", 6))}, "add up to 18 cookies and the order is for 24"),
        ({"due": Due(date(2026, 3, 5), date(2026, 3, 12))}, "handed over before 2026-03-09"),
    ],
)
def test_notes_for_the_baker(values: dict[str, Any], words: str) -> None:
    assert any(words in note for note in priced(draft(**values), house()).notes)


@pytest.mark.parametrize("values", [{"budget": D("72")}, {"budget": D("100")}, {}])
def test_nothing_to_note(values: dict[str, Any]) -> None:
    assert priced(draft(**values), house()).notes == ()


def test_what_is_unsure_is_noted() -> None:
    wanted = Draft(count=Cell(24), due=Cell(FAR, sure=True), handover=Cell("pickup", sure=True))
    assert "Still to check, and the price rests on it: count." in priced(wanted, house()).notes


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"count": None}, "the count is missing"),
        ({"count": 0}, "the count is missing"),
        ({"due": None}, "the day is missing"),
        ({"count": None, "due": None}, "the count and the day are missing"),
        ({"due": Due.on(date(2026, 3, 1))}, "2026-03-01, has passed"),
        ({"cancelled": True}, "has cancelled"),
    ],
)
def test_what_cannot_be_priced(values: dict[str, Any], words: str) -> None:
    problem = quote(draft(**values), house(), today=TODAY)
    assert isinstance(problem, Problem)
    assert words in str(problem)
    assert problem.todo


MONEY = st.decimals(0, 500, places=3)
PERCENT = st.decimals(0, 100, places=2)
TEXTS = st.lists(st.text(max_size=6), max_size=9).map(tuple)
EDITS = st.lists(st.integers(-300, 3000), max_size=3)


@given(data=st.data())
def test_every_quote_adds_up(data: st.DataObject) -> None:
    """For any rates and any currency: the lines are the total, the deposit and the balance are the total, and every
    amount is money that there is."""
    draw = data.draw
    currency = draw(st.sampled_from(["USD", "EUR", "JPY", "KWD", "CLF"]))
    names = ["extra_design", "extra_color", "lettering_each", "ribbon_each", "shipping", "delivery", "minimum_total"]
    rules = house(
        currency=currency,
        per_dozen={level: draw(MONEY) for level in ("plain", "detailed", "elaborate")},
        round_to=draw(st.sampled_from([D("0.001"), D("0.01"), D("0.05"), D("1"), D("2.5")])),
        rounding=draw(st.sampled_from(["half up", "half even", "up"])),
        rush=[{"under_days": 7, "percent": draw(PERCENT), "flat": draw(MONEY)}],
        discounts=[{"from_count": 24, "percent": draw(st.decimals("0.01", "99.99", places=2))}],
        tax_percent=draw(st.decimals(0, 50, places=3)),
        tax_on_the_way=draw(st.booleans()),
        deposit_percent=draw(PERCENT),
        valid_days=draw(st.integers(1, 60)),
        balance_days=draw(st.integers(0, 60)),
        **{name: draw(MONEY) for name in names},
    )
    unit = D(1).scaleb(-decimals(currency))
    edits = tuple(QuoteLine("by hand", units * unit, "", "edit") for units in draw(EDITS))
    first = TODAY + timedelta(days=draw(st.integers(-3, 60)))
    due = Due(first, max(first, TODAY) + timedelta(days=draw(st.integers(0, 9))))
    wanted = draft(
        count=draw(st.integers(1, 500)),
        due=due,
        handover=draw(st.sampled_from(["pickup", "ship", "deliver", None])),
        designs=shapes(*draw(TEXTS)),
        colors=draw(TEXTS),
        lettering=draw(TEXTS),
        packaging=("ribbon", "gift box"),
    )
    made = quote(wanted, rules, today=TODAY, terms=Terms(edits=edits, level=draw(st.sampled_from(["", "elaborate"]))))
    if isinstance(made, Problem):
        assert "less than nothing" in made.what
        return
    assert sum(line.amount for line in made.lines) == made.total
    assert made.deposit + made.balance == made.total
    assert min(made.deposit, made.balance) >= 0
    assert all(amount % unit == 0 for amount in (made.deposit, made.balance, *(line.amount for line in made.lines)))
    kinds = {line.kind for line in made.lines if line.amount < 0}
    assert kinds <= {"discount", "edit", "rounding"}
    days = [TODAY, made.deposit_by or TODAY, made.balance_by or max(due.first, TODAY), max(due.first, TODAY)]
    assert days == sorted(days)
    assert TODAY <= made.valid_until <= max(due.first, TODAY)
    assert rates_of_text(made.rates) == rules.rates
