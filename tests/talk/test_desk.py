"""The assistant at the desk: what is answered, what is shown before it is done, and what is never done."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake.desk_talk import Heard, do, hear
from intake.model import State
from intake.talk_known import KNOWN

from .conftest import Shop
from .kit import cases

WORDS = [line["words"] for line in cases()]


def heard(shop: Shop, words: str, about: str = "dana") -> Heard:
    number = {"dana": shop.dana, "bea": shop.bea, "none": 0}[about]
    return hear(shop.desk, words, order_id=number)


@pytest.mark.parametrize(
    ("about", "words", "parts"),
    [
        ("dana", "what's due that week?", ("Sun 6 Dec to Sat 12 Dec", "Dana Reyes, 24 unicorn", "not booked")),
        ("none", "what's booked?", ("1 order, 36 cookies", "Bea Ortiz, 36 gnomes, pickup")),
        ("none", "what's due tomorrow?", ("Thu 26 Nov: nothing is due.",)),
        ("none", "when could I do 4 dozen?", ("48 detailed cookies", "at the soonest")),
        ("none", "is there room for 3 dozen on the 12th?", ("36 cookies for Sat 12 Dec: it fits",)),
        ("none", "is there room for 900 cookies tomorrow?", ("900 cookies for Thu 26 Nov: it can't be made",)),
        ("dana", "is there room?", ("It fits",)),
        ("none", "who hasn't paid?", ("1 to settle", "Bea Ortiz: deposit")),
        ("bea", "has she paid?", ("left to pay", "nothing has been put down yet")),
        ("none", "has Bea paid?", ("Bea Ortiz, 36 gnomes",)),
        ("dana", "has she paid?", ("no price yet",)),
        ("dana", "what did she order last year?", ("Nothing of Dana Reyes is in the book in 2025.",)),
        ("dana", "why Saturday?", ("Day: Sat 12 Dec 2026, 14:00.", "Dana Reyes wrote “")),
        ("dana", "why sunday?", ("It is not Sun 29 Nov.", "Sat 12 Dec")),
        ("bea", "why 36?", ("Count: 36.", "You set it yourself.")),
        ("dana", "how much is it?", ("in all", "“price it” keeps it")),
        ("bea", "how much would 4 dozen be?", ("48 instead of 36", "Nothing is changed.")),
        ("none", "how much are 4 dozen?", ("48 cookies, picked up in four weeks",)),
        ("bea", "what do I earn on it?", ("an hour",)),
        ("none", "what's left to do today?", ("Wed 25 Nov:",)),
        ("none", "who's waiting?", ("Dana Reyes",)),
        ("none", "find the unicorn order", ("1 conversation with “unicorn”", "Dana Reyes")),
        ("none", "find the zeppelin order", ("No message holds “zeppelin”.",)),
        ("dana", "what's the name on them?", ("lettering: MIA",)),
        ("dana", "any allergies?", ("diet: none", "ask her")),
        ("bea", "is it booked?", ("booked", "left to pay")),
        ("none", "how full is next week?", ("Sun 29 Nov to Sat 5 Dec:", "%")),
        ("none", "how much did I make this month?", ("November 2026: nothing taken",)),
        ("none", "which days am I off?", ("No days off are set.",)),
        ("none", "what did I just do?", ("booking of order 2 (Bea Ortiz)",)),
        ("none", "is it booked?", ("No order is open here.",)),
        ("dana", "how is the weather?", ("didn't understand", "·")),
    ],
)  # fmt: skip
def test_an_ask_is_answered_and_changes_nothing(shop: Shop, about: str, words: str, parts: tuple[str, ...]) -> None:
    before = shop.desk.version()
    found = heard(shop, words, about)
    assert found.plan is None
    assert all(part in found.answer for part in parts), found.answer
    assert shop.desk.version() == before


def test_a_correction_of_the_open_slip_is_done_at_once_and_undone(shop: Shop) -> None:
    found = heard(shop, "make it 3 dozen")
    assert (found.changed, found.plan) == (("count",), None)
    assert shop.order.draft.count.value == 36
    assert shop.desk.undo() == found.change
    assert shop.order.draft.count.value == 24


def test_a_correction_of_a_booked_order_is_shown_first(shop: Shop) -> None:
    found = heard(shop, "make it 4 dozen", "bea")
    assert found.plan
    assert "count: 36 -> 48" in found.plan.asks
    assert shop.desk.order(shop.bea).draft.count.value == 36
    assert "Count: 48" in do(shop.desk, found.plan).answer
    assert shop.desk.order(shop.bea).draft.count.value == 48


STEPS = [
    ("price it", "in all", "Priced:"),
    ("confirm it", "are right?", "Confirmed:"),
    ("price it", "in all", "Priced:"),
    ("book it", "It fits", "Booked:"),
    ("she paid 10 cash", "$10.00, cash, today", "left to pay"),
    ("give her back 4", "$4.00 given back", "left to pay"),
    ("next step", "at dough: it was not begun", "at dough"),
    ("ready", "its last step, pack", "at pack"),
    ("she picked it up", "is handed over?", "Handed over:"),
]


def test_an_order_is_taken_down_the_whole_road_by_words(shop: Shop) -> None:
    """Each step is shown before it is done, is one change, and is what undo takes back."""
    for words, asks, says in STEPS:
        before = shop.desk.version()
        found = heard(shop, words)
        if found.plan is None:
            assert words in ("confirm it", "price it"), found.answer
            assert "already" in found.answer
            continue
        assert asks in found.plan.asks
        assert found.plan.yes
        assert shop.desk.version() == before
        order = shop.order
        done = do(shop.desk, found.plan)
        assert says in done.answer
        assert shop.desk.undo() == done.change
        assert shop.order == order
        do(shop.desk, found.plan)
    assert shop.order.state is State.HANDED_OVER


@pytest.mark.parametrize(
    ("words", "asks"),
    [
        ("block december 5", "Take Sat 5 Dec off?"),
        ("block december 18", "Still handed over on these days"),
        ("add hours saturday 8am to 12pm", "Add 08:00-12:00 on Sat 28 Nov?"),
        ("undo", "Take back: booking of order 2 (Bea Ortiz)?"),
    ],
)
def test_an_act_on_the_book_is_shown_first(shop: Shop, words: str, asks: str) -> None:
    before = shop.desk.version()
    found = heard(shop, words, "none")
    assert found.plan
    assert asks in found.plan.asks
    assert shop.desk.version() == before
    do(shop.desk, found.plan)
    assert shop.desk.version() != before


def test_days_off_are_taken_and_given_back_in_one_change_each(shop: Shop) -> None:
    for words, left in (("block december 5 and 6", 2), ("I can work december 5 and 6 after all", 0)):
        found = heard(shop, words, "none")
        assert found.plan
        done = do(shop.desk, found.plan)
        assert len(shop.desk.kitchen.days()) == left
        assert done.change == shop.desk.last_change()
    assert shop.desk.undo()
    assert len(shop.desk.kitchen.days()) == 2


@pytest.mark.parametrize(
    ("about", "words", "says"),
    [
        ("dana", "book it", "there is no quote yet"),
        ("dana", "ready", "it is still a draft"),
        ("dana", "she paid 36", "no price yet"),
        ("dana", "bring it back", "is not dropped"),
        ("bea", "book it", "is booked already"),
        ("bea", "take the change", "No change is asked"),
        ("bea", "she paid 9999", "is not what can be paid"),
        ("bea", "set it aside", "aside"),
        ("dana", "set it aside", "it is still open"),
        ("none", "book it", "No order is open here"),
        ("none", "I can work december 5 after all", "as usual"),
        ("dana", "print the labels", "is not booked"),
    ],
)
def test_what_can_not_be_done_says_why(shop: Shop, about: str, words: str, says: str) -> None:
    before = shop.desk.version()
    found = heard(shop, words, about)
    assert says in found.answer
    assert shop.desk.version() == before


@pytest.mark.parametrize(
    ("words", "what", "careful"), [("bok it", "book", True), ("drp it", "drop", True), ("prise it", "price", False)]
)
def test_a_slip_of_the_fingers_is_said_and_booking_takes_more_than_enter(
    shop: Shop, words: str, what: str, careful: bool
) -> None:
    shop.desk.confirm(shop.dana)
    if what != "price":
        shop.desk.quote(shop.dana)
    found = heard(shop, words)
    assert found.plan
    assert found.plan.act.what == what
    assert found.plan.careful is careful
    assert "I read that as “" in found.plan.asks


@pytest.mark.parametrize(
    ("words", "where", "has"),
    [
        ("ask her the flavour", "reply", "Which flavor would you like?"),
        ("ask her", "reply", ""),
        ("write the quote", "reply", ""),
        ("open Bea's order", "thread", ""),
        ("go to the rack", "rack", ""),
        ("next one", "next", ""),
    ],
)
def test_some_words_lead_somewhere(shop: Shop, words: str, where: str, has: str) -> None:
    found = heard(shop, words)
    assert found.go
    assert found.go.where == where
    assert has in (found.go.reply.text if found.go.reply else "")
    assert found.plan is None


def test_of_two_orders_of_one_customer_it_is_asked_which(shop: Shop) -> None:
    again = shop.desk.paste("One more: 2 dozen pumpkins, pickup December 19", sender="Bea Ortiz").orders[0]
    shop.desk.join(f"t{shop.bea}", again.thread_id)
    found = heard(shop, "price Bea's order", "none")
    assert found.plan is None
    assert len(found.choices) == 2
    for choice, number in zip(sorted(found.choices), sorted((shop.bea, again.id)), strict=True):
        assert f"order {number}" in choice
        assert not heard(shop, choice, "none").choices


def test_a_learnt_next_friday_is_no_longer_asked_about(shop: Shop) -> None:
    assert heard(shop, "due next friday").choices
    case = shop.desk.paste("Hi, 2 dozen stars for pickup next Friday please", sender="Ines Vail").orders[0]
    other = case.draft.due.others
    assert other
    shop.desk.correct(case.id, {"due": other[0]})
    found = heard(shop, "due next friday")
    assert not found.choices
    assert shop.order.draft.due.value
    assert shop.order.draft.due.value.last == other[0].last


def test_paid_amounts_are_exact(shop: Shop) -> None:
    found = heard(shop, "she paid $10.50 by check", "bea")
    assert found.plan
    do(shop.desk, found.plan)
    assert shop.desk.order(shop.bea).paid == Decimal("10.50")


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.one_of(st.sampled_from(WORDS), st.sampled_from([known.says for known in KNOWN]), st.text(max_size=30)),
    st.sampled_from(["", " ", " zz", "?", " not", " please"]),
    st.sampled_from(["dana", "bea", "none"]),
)
def test_hearing_alone_changes_nothing_but_the_open_slip(shop: Shop, words: str, more: str, about: str) -> None:
    before = shop.desk.version()
    found = heard(shop, words + more, about)
    assert found.answer
    if shop.desk.version() != before:
        assert about == "dana"
        assert found.changed or found.change
        shop.desk.undo()
