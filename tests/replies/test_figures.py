"""Prices, days, times and counts that are not the order's are found; those that are its own raise no alarm."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time, timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.house import default_house
from intake.model import Cell, Clash, Design, Due, Order, Shift, State
from intake.replies.figures import differences
from intake.replies.wording import KINDS, write
from tests.replies.orders import PRICE, order, sure

HOUSE = default_house()
DAY = date(2026, 6, 19)


def told(text: str, language: str = "en", **values: Any) -> str:
    return " ".join(differences(text, order(**values), HOUSE, language))


#: The order: 36 cookies (24 and 12) for Friday, June 19, 2026 at 2:30 pm; $154.00, of which $77.00 down by June 8.
WRONG = [
    ("It comes to $145.", "It says $145, which is no amount of this order; in all it comes to $154.00."),
    ("Total: $1540.00", "$1540.00"),
    ("It comes to 145 USD.", "145 USD"),
    ("It comes to 145.00 €", "145.00 €"),
    ("The deposit is $78", "$78"),
    ("I have 48 cookies for you", "It says 48 cookies; the order is for 36."),
    ("your 35 lovely cookies", "35 lovely cookies; the order is for 36"),
    ("4 dozen are ready", "It says 4 dozen; the order is for 36."),
    ("ready on June 20", "It says June 20; the order is for Friday, June 19, 2026."),
    ("ready on 20 June", "20 June"),
    ("ready on Jun. 20th", "Jun. 20th"),
    ("on June 19, 2027", "June 19, 2027"),
    ("on Saturday, June 19", "It says Saturday, June 19, but that is a Friday."),
    ("el sábado 20 de junio", "sábado 20 de junio"),
    ("at 3 pm", "It says 3 pm; the order is for 2:30 pm."),
    ("at 2 PM", "It says 2 PM"),
    ("a las 2:30 a. m.", "2:30 a. m"),
]
RIGHT = [
    *("$154", "$154.00", "154 USD", "Deposit: $77.00", "36 cookies", "3 dozen", "24 cookies", "1 dozen", "2 cookies"),
    *("June 19", "Friday, June 19, 2026", "19 June", "el viernes 19 de junio de 2026", "by Monday, June 8"),
    *("at 2:30 pm", "a las 2:30 p. m.", "route 66", "for 12 guests", "bake at 350 F", "I may 20 times", "5th birthday"),
    *("12 Elm St", "section 3, page 4", "1/2 cup", "call 555-0163", "lot 20-24 cookies", "in 2026\nyour cookies"),
]


@pytest.mark.parametrize(("text", "says"), WRONG, ids=[case[0] for case in WRONG])
def test_what_differs_is_told(text: str, says: str) -> None:
    assert says in told(text)


@pytest.mark.parametrize("text", RIGHT)
def test_what_is_the_orders_own_is_not(text: str) -> None:
    assert told(text) == ""


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("I have $50.00 of it, $104.00 is left", {"paid": Decimal("50")}),
        ("Lettering: “Class of June 5”", {"lettering": ("Class of June 5",)}),
        ("Theme: 99 cookies", {"theme": "99 cookies"}),
        ("your 48 cookies", {"count": Cell(36, others=(48,))}),
        ("June 26", {"due": Cell(Due.on(DAY), others=(Due.on(DAY + timedelta(7)),))}),
        ("Your budget of $200 is enough", {"budget": Decimal(200)}),
    ],
)
def test_what_else_an_answer_may_name(text: str, values: dict[str, Any]) -> None:
    assert told(text, **values) == ""
    assert told(text) != ""


def test_what_the_customer_asks_otherwise_may_be_named() -> None:
    asked = replace(order(), change=(Shift("count", 36, Cell(48, True)),))
    assert differences("48 cookies from now on", asked, HOUSE, "en") == ()
    assert differences("60 cookies from now on", asked, HOUSE, "en") != ()


@pytest.mark.parametrize(
    ("text", "says"), [("$10", "no price yet"), ("6 cookies", "no count yet"), ("June 3", "no day yet")]
)
def test_an_order_that_lacks_it(text: str, says: str) -> None:
    assert says in " ".join(differences(text, order(only={}, quote=None), HOUSE, "en"))


def test_hostile_text_is_gone_through_quickly() -> None:
    for text in ("1,2" * 100_000, "$" * 300_000, "1 a " * 100_000, "May " * 100_000, "12 de " * 100_000, "9" * 300_000):
        differences(text, order(), HOUSE, "en")


MONEY = st.integers(1, 500_000).map(lambda minor: Decimal(minor) / 100)


@st.composite
def orders(draw: st.DrawFn) -> Order:
    """An order with a price, some of it paid, of which some things are known."""
    total, day = draw(MONEY), draw(st.dates(date(2026, 1, 1), date(2031, 12, 31)))
    deposit = (total * draw(st.integers(0, 100)) / 100).quantize(Decimal("0.01"))
    count = draw(st.integers(1, 600))
    line = replace(PRICE.lines[0], label=f"{count} cookies, detailed", amount=total)
    quote = replace(
        PRICE,
        lines=(line,),
        total=total,
        deposit=deposit,
        balance=total - deposit,
        deposit_by=day - timedelta(draw(st.integers(1, 30))),
        balance_by=day - timedelta(draw(st.integers(0, 10))),
        valid_until=day - timedelta(draw(st.integers(0, 40))),
    )
    clock = draw(st.none() | st.times().map(lambda at: at.replace(second=0, microsecond=0)))
    return Order(
        7,
        "t1",
        0,
        draw(st.sampled_from([State.DRAFT, State.QUOTED, State.BOOKED, State.HANDED_OVER])),
        sure(
            customer="Gwen Ashdown",
            count=count,
            designs=(Design("owls", draw(st.none() | st.integers(1, count))),),
            theme=draw(st.sampled_from(["owls", "99 balloons", "route 66"])),
            lettering=tuple(draw(st.lists(st.sampled_from(["Leo", "31 years", "June 5", "$5 off"]), max_size=2))),
            due=Due(day, day + timedelta(draw(st.sampled_from([0, 0, 2]))), clock),
            due_is=draw(st.sampled_from(["handover", "arrival", "event"])),
            handover=draw(st.sampled_from(["pickup", "ship", "deliver"])),
            address=draw(st.sampled_from(["12 Alder Ct", ""])) or None,
        ),
        quote=quote,
        paid=min(total, draw(MONEY | st.just(Decimal(0)))),
        tracking=draw(st.sampled_from(["", "9400 1000 0000", "1 dozen $5"])),
    )


@settings(max_examples=500)
@given(made=orders(), kind=st.sampled_from(KINDS), language=st.sampled_from(["en", "es"]))
def test_no_answer_by_a_template_differs_from_its_order(made: Order, kind: str, language: str) -> None:
    """500 orders: every amount, day, time and count in what the templates write is the order's."""
    earliest = date(2026, 6, 27)
    verdict = Clash((7,), 7, "", earliest)
    text = write(kind, made, HOUSE, templates=None, verdict=verdict, language=language).text
    assert differences(text, made, HOUSE, language, [earliest]) == (), text


@settings(max_examples=200)
@given(made=orders(), language=st.sampled_from(["en", "es"]))
def test_a_figure_that_is_changed_in_it_is_found(made: Order, language: str) -> None:
    text = write("quote", made, HOUSE, templates=None, language=language).text
    assert made.quote is not None
    other = replace(made, quote=replace(made.quote, total=made.quote.total + Decimal("10000.01")))
    assert differences(text, made, HOUSE, language) == ()
    changed = write("quote", other, HOUSE, templates=None, language=language).text
    assert differences(changed, made, HOUSE, language) != ()
    more = replace(made, draft=replace(made.draft, count=Cell((made.draft.count.value or 0) + 1009, True)))
    changed = write("quote", more, HOUSE, templates=None, language=language).text
    assert differences(changed, made, HOUSE, language) != ()
    due = made.draft.due.value
    assert due is not None
    moved = Due(due.first + timedelta(180), due.last + timedelta(180), time(3, 7))
    later = replace(made, draft=replace(made.draft, due=Cell(moved, True)))
    changed = write("quote", later, HOUSE, templates=None, language=language).text
    assert differences(changed, made, HOUSE, language) != ()
