"""Which reply is proposed, and what the baker should bear in mind."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from intake.house import default_house
from intake.model import Cell, Clash, Fits, NotProven, Plan, State, Verdict
from intake.replies.cautions import cautions
from intake.replies.told import Told
from intake.replies.which import kinds, proposed
from intake.replies.wording import KINDS
from tests.replies.orders import PRICE, order

CLASH = Clash((3, 7), 7, "4 hours are lacking", date(2026, 6, 27))
CASES: list[tuple[str, dict[str, Any], Verdict | None, str, str]] = [
    ("something is open", {"state": State.DRAFT, "count": Cell(why="a range")}, None, "ask", "count: a range"),
    ("open comes before a clash", {"state": State.DRAFT, "handover": Cell()}, CLASH, "ask", "handover: not said yet"),
    ("a clash", {"state": State.DRAFT}, CLASH, "no room", "4 hours are lacking"),
    ("a clash of others", {"state": State.DRAFT}, Clash((3, 4), 4, "x", None), "quote", "known"),
    ("no price", {"state": State.DRAFT, "quote": None}, Fits(Plan((), {})), "quote", "no price yet"),
    ("priced", {"state": State.QUOTED, "quote": PRICE}, Fits(Plan((), {})), "quote", "priced"),
    ("not proven", {"state": State.QUOTED}, NotProven("time ran out"), "quote", "time ran out"),
    ("booked", {"state": State.BOOKED}, None, "confirm", "booked"),
    ("booked in a full week", {"state": State.BOOKED}, CLASH, "confirm", "doesn't hold"),
    ("over", {"state": State.HANDED_OVER}, None, "thanks", "has the cookies"),
    ("dropped", {"state": State.DROPPED}, None, "cancelled", "dropped"),
    ("cancelled", {"state": State.QUOTED, "cancelled": True}, None, "", "cancelled"),
    ("perhaps cancelled", {"state": State.QUOTED, "cancelled": Cell(True, why="may skip")}, None, "ask", "may skip"),
]


@pytest.mark.parametrize(("values", "verdict", "kind", "why"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_proposed(values: dict[str, Any], verdict: Verdict | None, kind: str, why: str) -> None:
    found, reason = proposed(order(**values), verdict)
    assert found == kind
    assert why in reason


def told(kind: str, paid: int | None = 0, **how: bool) -> Told:
    return Told(kind, paid=None if paid is None else Decimal(paid), **how)


CONFIRMED = told("confirm")
HALF, WHOLE = {"paid": Decimal(77)}, {"paid": Decimal(154)}
LATER: list[tuple[str, dict[str, Any], list[Told], str]] = [
    ("confirmed", {}, [CONFIRMED], "confirm"),
    ("the price has changed since", {}, [told("confirm", at_price=False)], "change"),
    ("and she knows", {}, [told("confirm", at_price=False), told("change")], "confirm"),
    ("another shape at the same price", {}, [told("confirm", as_is=False)], "change"),
    ("and she knows that, too", {}, [told("confirm", as_is=False), told("change")], "confirm"),
    ("changed again since", {}, [told("confirm", as_is=False), told("change", as_is=False)], "change"),
    ("a quote told otherwise", {}, [told("quote", as_is=False), CONFIRMED], "confirm"),
    ("money has come", HALF, [CONFIRMED], "deposit"),
    ("and she knows that", HALF, [CONFIRMED, told("deposit", 77)], "confirm"),
    ("the confirmation said so", HALF, [told("confirm", 77)], "confirm"),
    ("more money has come", WHOLE, [CONFIRMED, told("deposit", 77)], "deposit"),
    ("and she knows of both", WHOLE, [CONFIRMED, told("deposit", 77), told("deposit", 154)], "confirm"),
    ("money has gone back", {"paid": Decimal(50)}, [CONFIRMED, told("deposit", 77)], "confirm"),
    ("a change comes before a receipt", HALF, [told("confirm", as_is=False)], "change"),
    ("it was not written down how much", HALF, [told("confirm", None), told("deposit", None)], "confirm"),
    ("nor whether any", HALF, [told("confirm", None)], "deposit"),
    ("money before she was confirmed", HALF, [told("quote")], "confirm"),
    ("packed, picked up", {"step": "pack"}, [CONFIRMED], "ready"),
    ("packed, and she knows", {"step": "pack"}, [CONFIRMED, told("ready")], "confirm"),
    ("packed, by post", {"step": "pack", "handover": "ship"}, [CONFIRMED], "sent"),
    ("the rest came when it was ready", {"step": "pack"} | WHOLE, [CONFIRMED, told("ready", 77)], "deposit"),
    ("baking", {"step": "bake"}, [CONFIRMED], "confirm"),
    ("thanked", {"state": State.HANDED_OVER}, [told("thanks")], ""),
    ("thanked, then paid", {"state": State.HANDED_OVER} | WHOLE, [told("thanks", 77)], "deposit"),
    ("paid, to be thanked", {"state": State.HANDED_OVER} | WHOLE, [told("deposit", 77)], "thanks"),
    ("dropped, and she knows", {"state": State.DROPPED}, [told("cancelled")], ""),
    ("dropped for want of room", {"state": State.DROPPED}, [told("no room")], ""),
]


@pytest.mark.parametrize(("values", "told", "kind"), [c[1:] for c in LATER], ids=[c[0] for c in LATER])
def test_what_has_been_told_is_not_proposed_again(
    values: dict[str, Any], told: list[Told], kind: str
) -> None:
    step = values.get("step", "")
    made = order(**{name: value for name, value in values.items() if name != "step"})
    found, reason = proposed(replace(made, step=step), None, told)
    assert found == kind
    assert reason


@pytest.mark.parametrize("state", list(State))
def test_what_is_proposed_can_be_picked_again(state: State) -> None:
    made = order(state=state)
    kind = proposed(made, None)[0]
    assert kind in kinds(made)
    assert set(kinds(made)) <= set(KINDS)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"handover": "ship", "dietary": None}, ("state line", "licensing office", "estimate")),
        ({"handover": "pickup", "dietary": ("egg-free",)}, ("egg-free", "local code")),
        ({"handover": "pickup", "dietary": Cell(("egg-free",))}, ("to check with the customer",)),
        ({"handover": "pickup", "dietary": Cell(why="an allergy is named")}, ("an allergy is named", "Ask before")),
    ],
)
def test_cautions(values: dict[str, Any], words: tuple[str, ...]) -> None:
    said = " ".join(cautions(order(**values), default_house()))
    assert all(word in said for word in words)


def test_no_cautions_without_a_reason() -> None:
    assert cautions(order(handover="pickup", dietary=None), default_house()) == ()


@pytest.mark.parametrize(
    ("values", "reminds"),
    [
        ({"state": State.BOOKED}, True),
        ({"state": State.HANDED_OVER}, True),
        ({"state": State.BOOKED, "paid": Decimal("153.99")}, True),
        ({"state": State.BOOKED, "paid": Decimal("154")}, False),
        ({"state": State.BOOKED, "quote": None}, False),
        ({"state": State.QUOTED}, False),
    ],
    ids=str,
)
def test_a_reminder_is_offered_while_money_of_an_agreed_order_is_to_come(values: dict[str, Any], reminds: bool) -> None:
    assert ("remind" in kinds(order(**values))) == reminds
