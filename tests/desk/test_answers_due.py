"""Which answer is due after the last: a change that costs nothing, a second payment, and what was told before."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from intake.desk import Desk
from intake.desk_waiting import answers_told
from intake.model import Order
from tests.desk.kit import FULL, Writes, booked, sent


def due(desk: Desk, order: Order) -> str:
    return desk.reply(order.id).kind


@pytest.mark.parametrize(
    "asks",
    ["due=2026-03-22", "theme=owls", "handover=deliver", "age=5", "lettering=Leo", "count=36", "dietary=nut-free"],
)
def test_a_change_that_was_taken_is_answered_whatever_it_costs(desk: Desk, writes: Writes, asks: str) -> None:
    order = booked(desk, writes("Dana", FULL))
    sent(desk, order, "confirm")
    assert due(desk, order) == "confirm"
    writes("Dana", asks)
    desk.accept(order.id)
    assert due(desk, order) == "change"
    sent(desk, order, "change")
    assert due(desk, order) == "confirm"


def test_what_the_baker_changes_herself_is_told_and_undone(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    sent(desk, order, "confirm")
    desk.correct(order.id, {"theme": "owls"})
    reply = desk.reply(order.id)
    assert (reply.kind, reply.why) == ("change", "it is another than you confirmed, at the same price")
    desk.undo()
    assert due(desk, order) == "confirm"


@pytest.mark.parametrize("field", ["phone", "email", "customer", "budget"])
def test_who_she_is_is_no_change_of_the_order(desk: Desk, writes: Writes, field: str) -> None:
    order = booked(desk, writes("Dana", FULL))
    sent(desk, order, "confirm")
    value = {"phone": "555-0142", "email": "dana@example.org", "customer": "Dana Reyes", "budget": "90"}[field]
    desk.correct(order.id, {field: value})
    assert due(desk, order) == "confirm"


def test_each_payment_is_answered_once(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    sent(desk, order, "confirm")
    for amount in (20, 16):
        desk.till.pay(order.id, Decimal(amount), "cash")
        reply = desk.reply(order.id)
        assert reply.kind == "deposit"
        assert "has come for it" in reply.why
        sent(desk, order, "deposit")
        assert due(desk, order) == "confirm"
    desk.till.refund(order.id, Decimal(5), "cash")
    assert due(desk, order) == "confirm"


def test_a_payment_that_the_confirmation_names_needs_no_other_word(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    desk.till.pay(order.id, Decimal(20), "cash")
    assert "Received: $20.00" in desk.reply(order.id, "confirm").text
    sent(desk, order, "confirm")
    assert due(desk, order) == "confirm"


def test_an_older_note_holds_the_price_alone(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    sent(desk, order, "confirm")
    messages = desk.case(order.thread_id).thread.messages

    older = [replace(message, id=message.id.partition("|")[0]) for message in messages]
    (told,) = answers_told(desk.order(order.id), older)
    assert (told.kind, told.at_price, told.as_is, told.paid) == ("confirm", True, True, None)
    assert desk.case(order.thread_id).thread.messages[-1].id != older[-1].id
