"""Payments at the desk: entered, struck out, given back, and those that a message tells of."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal

import pytest

from intake.desk import Desk
from intake.model import Order, OrdertinError
from tests.desk.kit import NOW, ORDER, Clock, Writes, booked

D = Decimal
TODAY = NOW.date()


@pytest.fixture
def order(desk: Desk, writes: Writes) -> Order:
    return booked(desk, writes("Dana", ORDER))



def test_deposit_and_balance(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(20), "cash")
    desk.till.pay(order.id, D("16"), "check", on=TODAY - timedelta(days=1))
    after = desk.till.pay(order.id, D("36.00"), "card", note="thanks")
    assert after == desk.order(order.id)
    assert after.paid == 72
    told = {(p.what, p.amount, p.how, p.day) for p in desk.till.payments(order.id)}
    # the day of the second is before that of the first
    assert told == {
        ("part", D(20), "cash", TODAY),
        ("deposit", D(16), "check", TODAY - timedelta(days=1)),
        ("balance", D(36), "card", TODAY),
    }
    assert desk.till.owed() == ()


def test_all_at_once(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(72))
    assert [p.what for p in desk.till.payments()] == ["in full"]


@pytest.mark.parametrize(
    ("do", "says"),
    [
        (lambda desk, n: desk.till.pay(n, D("72.01")), r"\$72.01 is \$0.01 more than is left to pay \(\$72.00\)"),
        (lambda desk, n: desk.till.pay(n, D(0)), "above zero"),
        (lambda desk, n: desk.till.pay(n, D(-5)), "above zero"),
        (lambda desk, n: desk.till.pay(n, D("0.005")), "at most 2 decimals"),
        (lambda desk, n: desk.till.pay(n, D(5), on=TODAY + timedelta(days=1)), "no day on which money can have come"),
        (lambda desk, n: desk.till.pay(n, D(5), on=date(1990, 1, 1)), "no day on which money can have come"),
        (lambda desk, n: desk.till.refund(n, D(5)), r"\$5.00 is more than was paid for it \(nothing\)"),
        (lambda desk, n: desk.till.strike(9), "no payment 9"),
        (lambda desk, n: desk.till.pay(99, D(5)), "no order 99"),
    ],
    ids=["over", "zero", "negative", "half a cent", "tomorrow", "long ago", "refund", "strike", "no order"],
)
def test_what_is_refused(desk: Desk, order: Order, do: Callable[[Desk, int], object], says: str) -> None:
    version = desk.version()
    with pytest.raises(OrdertinError, match=says):
        do(desk, order.id)
    assert desk.version() == version
    assert desk.till.payments() == ()


def test_a_refund_over_what_was_paid_and_one_within_it(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    with pytest.raises(OrdertinError, match=r"\$36.01 is more than was paid for it \(\$36.00\)"):
        desk.till.refund(order.id, D("36.01"))
    assert desk.till.refund(order.id, D("10"), "card").paid == 26
    assert [(p.what, p.signed) for p in desk.till.payments()] == [("deposit", D(36)), ("refund", D(-10))]


@pytest.mark.parametrize(
    ("text", "says"),
    [(ORDER, "no price yet"), (None, "was dropped")],
    ids=["not priced", "dropped"],
)
def test_orders_that_take_no_payment(desk: Desk, writes: Writes, text: str | None, says: str) -> None:
    order = writes("Dana", ORDER)
    if text is None:
        desk.quote(order.id)
        desk.drop(order.id)
    with pytest.raises(OrdertinError, match=says):
        desk.till.pay(order.id, D(5))


def test_what_was_paid_for_a_dropped_order_can_be_given_back(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    desk.drop(order.id)
    (kept,) = desk.till.owed()
    assert (kept.what, kept.amount, kept.left) == ("paid, then dropped", D(36), 0)
    assert desk.till.refund(order.id, D(36)).paid == 0
    assert desk.till.owed() == ()


def test_a_payment_entered_by_mistake_is_struck_out(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    (payment,) = desk.till.payments()
    assert desk.till.till().taken == 36
    assert desk.till.strike(payment.id).paid == 0
    assert desk.till.till().taken == 0
    assert [p.struck for p in desk.till.payments()] == [True]
    with pytest.raises(OrdertinError, match="no payment"):
        desk.till.strike(payment.id)


def test_a_payment_that_a_refund_rests_on_stays(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    desk.till.refund(order.id, D(30))
    (payment, _) = desk.till.payments()
    with pytest.raises(OrdertinError, match="a refund rests on"):
        desk.till.strike(payment.id)


# What customers say


def test_a_message_that_tells_of_a_payment_is_proposed_and_never_booked_by_itself(
    desk: Desk, writes: Writes, clock: Clock
) -> None:
    order = booked(desk, writes("Dana", ORDER))
    clock.now += timedelta(days=1)
    desk.paste("just sent the deposit by transfer!", to=order.thread_id)
    assert desk.order(order.id).paid == 0
    (told,) = desk.till.told()
    assert (told.order.id, told.amount, told.how, told.doubt) == (order.id, D(36), "transfer", "")
    assert desk.till.take(told).paid == 36
    assert desk.till.told() == ()
    assert [(p.what, p.how, p.message) for p in desk.till.payments()] == [("deposit", "transfer", told.message)]
    desk.undo()
    assert len(desk.till.told()) == 1


@pytest.mark.parametrize(
    ("words", "amount", "doubt"),
    [
        ("just paid the deposit", "36", ""),
        ("just sent you $20", "20", ""),
        ("just paid", "36", ""),
        ("paid in full just now", "72", ""),
        ("sent the whole thing, $90", "72", "the message says $90.00, and $72.00 is owed"),
        ("just sent $500", "36", "the message says $500.00, and $72.00 is owed"),
    ],
)
def test_what_a_message_most_likely_paid(
    desk: Desk, order: Order, clock: Clock, words: str, amount: str, doubt: str
) -> None:
    clock.now += timedelta(hours=2)
    desk.paste(words, to=order.thread_id)
    (told,) = desk.till.told()
    assert (told.amount, told.doubt) == (D(amount), doubt)


def test_a_message_put_aside_is_not_asked_about_again(desk: Desk, order: Order, clock: Clock) -> None:
    clock.now += timedelta(hours=2)
    desk.paste("just sent the deposit", to=order.thread_id)
    (told,) = desk.till.told()
    desk.till.not_paid(told)
    assert desk.till.told() == desk.till.payments() == ()
    assert desk.order(order.id).paid == 0
    desk.undo()
    assert len(desk.till.told()) == 1


@pytest.mark.parametrize("words", ["how do I pay the deposit?", "I'll send the deposit tomorrow", "see you then!"])
def test_what_is_no_payment_is_not_proposed(desk: Desk, order: Order, clock: Clock, words: str) -> None:
    clock.now += timedelta(hours=2)
    desk.paste(words, to=order.thread_id)
    assert desk.till.told() == ()


def test_what_was_paid_for_an_earlier_order_is_not_proposed(desk: Desk, writes: Writes) -> None:
    booked(desk, writes("Dana", "just sent the deposit for last month", ORDER))
    # both were written two days before the price was made
    assert desk.till.told() == ()


# Owed and reminded
