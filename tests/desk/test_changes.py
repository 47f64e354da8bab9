"""What a customer wants otherwise: a change to accept of a booked order, and what has moved in an open one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given, settings

from intake.desk import Desk
from intake.desk_change import as_asked, asked, moved, shift_line
from intake.home import Home
from intake.model import Cell, Draft, Evidence, Order, OrdertinError, State
from tests.desk.kit import FULL, Clock, Writes, booked, everything, sent, values
from tests.test_record import DRAFTS


def lines(order: Order) -> list[str]:
    return [shift_line(shift) for shift in order.change]


# What the customer writes after an order of 24 unicorns is booked, and the change that is then asked for.
ASKED = [
    pytest.param(["count=36"], ["count: 24 -> 36"], id="another count"),
    pytest.param(["count=36 due=2026-03-20"], ["count: 24 -> 36", "day: Sat 21 Mar 2026 -> Fri 20 Mar 2026"], id="2"),
    pytest.param(["thanks so much"], [], id="nothing new"),
    pytest.param(["count=24"], [], id="what is booked, said again"),
    pytest.param(["count=36", "thanks"], ["count: 24 -> 36"], id="it stays"),
    pytest.param(["count=36", "count=48"], ["count: 24 -> 48"], id="it follows, and does not stack"),
    pytest.param(["count=36", "theme=owls"], ["count: 24 -> 36", "theme: unicorns -> owls"], id="it grows"),
    pytest.param(["count=36", "count=24"], [], id="it goes where she comes back to what is booked"),
    pytest.param(["count=36 theme=owls", "count=24"], ["theme: unicorns -> owls"], id="field by field"),
    pytest.param(["lettering=Leo"], ["lettering: none -> Leo"], id="something more"),
    pytest.param(["theme=-"], ["theme: unicorns -> none"], id="something less"),
    pytest.param(["cancelled=yes"], ["called off"], id="called off"),
    pytest.param(["cancelled=yes", "cancelled=no"], [], id="and on again"),
]


@pytest.mark.parametrize(("then", "change"), ASKED)
def test_a_booked_order_is_not_changed_but_a_change_asked_for(
    desk: Desk, writes: Writes, then: Sequence[str], change: Sequence[str]
) -> None:
    before = booked(desk, writes("Dana", FULL))
    for words in then:
        writes("Dana", words)
    after = desk.order(before.id)
    assert lines(after) == change
    assert replace(after, change=()) == before


def test_the_evidence_is_in_the_message_that_asks(desk: Desk, writes: Writes) -> None:
    before = booked(desk, writes("Dana", FULL))
    writes("Dana", "could it be count=36")
    (shift,) = desk.order(before.id).change
    (evidence,) = shift.reads.evidence
    asks = desk.case(before.thread_id).thread.messages[-1]
    assert (evidence.message, asks.text[evidence.start : evidence.end]) == (asks.id, "count=36")


@pytest.mark.parametrize("state", ["asked", "quoted", "handed over", "dropped"])
def test_only_a_booked_order_gets_one(desk: Desk, writes: Writes, state: str) -> None:
    order = writes("Dana", FULL)
    if state == "asked":
        sent(desk, order)
    elif state == "quoted":
        desk.quote(order.id)
    elif state == "dropped":
        desk.drop(order.id)
    else:
        booked(desk, order)
        desk.advance(order.id, "handed over")
    writes("Dana", "count=36")
    assert desk.order(order.id).change == ()


# What is asked, the values then, the state, what the note says of the price.
TAKEN = [
    pytest.param("count=36", {"count": 36, "theme": "unicorns"}, "booked", "The price was $", id="count"),
    pytest.param("age=5", {"count": 24}, "booked", "", id="what costs nothing more leaves the price"),
    pytest.param("cancelled=yes", {"count": 24}, "dropped", "", id="called off"),
]


@pytest.mark.parametrize(("asks", "holds", "state", "told"), TAKEN)
def test_a_change_is_taken(
    desk: Desk, writes: Writes, clock: Clock, asks: str, holds: dict[str, Any], state: str, told: str
) -> None:
    before = booked(desk, writes("Dana", FULL))
    writes("Dana", asks)
    asked_for = desk.order(before.id)
    clock.now += timedelta(hours=3)
    after = desk.accept(before.id)
    assert after == desk.order(before.id)
    assert (after.change, after.state) == ((), state)
    assert values(after).items() >= holds.items()
    assert all(after.draft.cell(s.field).value == s.reads.value for s in asked_for.change)
    assert shift_line(asked_for.change[0]) in after.note
    assert ("The price was" in after.note) is bool(told) and told in after.note
    assert before.quote and after.quote and (after.quote.total != before.quote.total) is bool(told)
    assert desk.undo() == "taking the change of order 1 (Dana)"
    assert desk.order(before.id) == asked_for


def test_the_new_price_is_at_todays_rates(desk: Desk, writes: Writes, home: Home, clock: Clock) -> None:
    order = booked(desk, writes("Dana", FULL))
    writes("Dana", "count=36")
    clock.now += timedelta(days=2)
    after = desk.accept(order.id)
    assert after.quote and after.quote.made_on == clock.now.date()
    assert after.quote == desk.quote(order.id).quote


def test_taking_a_change_makes_an_answer_due(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = booked(desk, writes("Dana", FULL))
    sent(desk, order, "confirm")
    assert desk.waiting() == ()
    desk.paste("count=36", to=order.thread_id, at=clock.now + timedelta(hours=1))
    clock.now += timedelta(hours=2)
    assert [w.stands for w in desk.waiting()] == ["change to accept"]
    desk.accept(order.id)
    assert [w.stands for w in desk.waiting()] == ["booked, answer not sent"]


# After 36 was asked for and refused: what she writes next, and what is asked for then.
REFUSED = [
    pytest.param("thanks anyway", [], id="nothing new"),
    pytest.param("count=24", [], id="what is booked"),
    pytest.param("count=48", ["count: 24 -> 48"], id="something else"),
    pytest.param("theme=owls", ["theme: unicorns -> owls"], id="another thing"),
    pytest.param("really, count=36", ["count: 24 -> 36"], id="the same in a new message: she insists"),
]


@pytest.mark.parametrize(("then", "change"), REFUSED)
def test_a_refused_change_stays_away_until_there_is_something_new(
    desk: Desk, writes: Writes, then: str, change: list[str]
) -> None:
    before = booked(desk, writes("Dana", FULL))
    writes("Dana", "count=36")
    after = desk.refuse(before.id)
    assert (after.draft, after.state, after.quote, after.change) == (before.draft, State.BOOKED, before.quote, ())
    assert "not taken" in after.note and "count: 24 -> 36" in after.note
    writes("Dana", then)
    assert lines(desk.order(before.id)) == change


def test_undo_brings_a_refused_change_back(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    writes("Dana", "count=36")
    before = everything(desk)
    desk.refuse(order.id)
    assert desk.undo() == "refusing the change of order 1 (Dana)"
    assert everything(desk) == before


@pytest.mark.parametrize(
    ("by_hand", "left"),
    [({"count": 36}, ["theme: unicorns -> owls"]), ({"count": 30}, ["theme: unicorns -> owls"]), ({"age": 5}, None)],
    ids=["as asked", "otherwise", "another field"],
)
def test_a_field_that_the_baker_sets_is_answered(
    desk: Desk, writes: Writes, by_hand: dict[str, Any], left: list[str] | None
) -> None:
    order = booked(desk, writes("Dana", FULL))
    writes("Dana", "count=36 theme=owls")
    both = ["count: 24 -> 36", "theme: unicorns -> owls"]
    assert lines(desk.correct(order.id, by_hand)) == (both if left is None else left)


# What can't be taken as it stands, and the word that says so.
NOT_FIT = [
    pytest.param("due=-", "day missing", id="no day"),
    pytest.param("count=-", "count", id="no count"),
    pytest.param("due_is=event", "the party's", id="the party's day"),
]


@pytest.mark.parametrize(("asks", "said"), NOT_FIT)
def test_a_change_that_leaves_the_order_unfit_is_not_taken(desk: Desk, writes: Writes, asks: str, said: str) -> None:
    order = booked(desk, writes("Dana", FULL))
    writes("Dana", asks)
    before = everything(desk)
    with pytest.raises(OrdertinError, match=said) as error:
        desk.accept(order.id)
    assert "order 1 (Dana)" in str(error.value) and error.value.problem.todo
    assert everything(desk) == before


@pytest.mark.parametrize("do", ["accept", "refuse"])
@pytest.mark.parametrize("state", ["draft", "booked"])
def test_where_nothing_is_asked_there_is_nothing_to_take(desk: Desk, writes: Writes, do: str, state: str) -> None:
    order = writes("Dana", FULL)
    if state == "booked":
        booked(desk, order)
    with pytest.raises(OrdertinError, match=r"no change|still a draft"):
        getattr(desk, do)(order.id)


@pytest.mark.parametrize("do", ["accept", "refuse"])
def test_what_was_seen_must_still_be_what_is_asked(desk: Desk, writes: Writes, do: str) -> None:
    order = booked(desk, writes("Dana", FULL))
    writes("Dana", "count=36")
    seen = desk.order(order.id).change
    writes("Dana", "count=48")
    with pytest.raises(OrdertinError, match="something else by now"):
        getattr(desk, do)(order.id, seen=seen)
    assert getattr(desk, do)(order.id, seen=desk.order(order.id).change).change == ()


@pytest.mark.parametrize("end", ["drop", "hand over"])
def test_what_was_not_taken_in_time_is_left_in_the_note(desk: Desk, writes: Writes, end: str) -> None:
    order = booked(desk, writes("Dana", FULL))
    writes("Dana", "count=36")
    after = desk.drop(order.id) if end == "drop" else desk.advance(order.id, "handed over")
    assert after.change == () and "not taken" in after.note and "24 -> 36" in after.note


def test_a_change_to_accept_waits_before_all_others(desk: Desk, writes: Writes) -> None:
    writes("Ada", "count=12 due=2026-03-12")
    order = booked(desk, writes("Dana", FULL))
    sent(desk, order, "confirm")
    writes("Dana", "count=36")
    first, second = desk.waiting()
    assert (first.customer, first.stands, first.theirs) == ("Dana", "change to accept", False)
    assert "count: 24 -> 36" in first.why and second.customer == "Ada"


def test_it_waits_beside_another_order_and_after_an_answer_or_setting_aside(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    writes("Dana", "count=36 | count=12 theme=eggs")
    (row,) = desk.waiting()
    assert (row.stands, row.headline) == ("change to accept", "24 unicorns + 12 eggs")
    desk.drop(order.id + 1)
    sent(desk, desk.order(order.id), "confirm")
    assert [w.stands for w in desk.waiting()] == ["change to accept"]
    desk.set_aside(order.thread_id)
    assert [w.stands for w in desk.waiting()] == ["change to accept"]
    desk.refuse(order.id)
    assert desk.waiting() == ()


def test_the_room_is_looked_at_for_what_is_asked(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    before = desk.room(order.id)
    writes("Dana", "count=900")
    assert type(desk.room(order.id)) is not type(before)
    desk.refuse(order.id)
    assert type(desk.room(order.id)) is type(before)


# What has moved in an open order: the messages after the first, what the baker does between, what is then told.
MOVED = [
    pytest.param(["count=36"], None, ["count: 24 -> 36"], id="another count"),
    pytest.param(["thanks"], None, [], id="nothing"),
    pytest.param(["count=36", "count=48"], None, ["count: 24 -> 48"], id="since she last looked"),
    pytest.param(["count=36", "count=24"], None, [], id="there and back"),
    pytest.param(["age=5"], None, ["age: none -> 5"], id="something more"),
    pytest.param(["count=36"], "confirm", [], id="she has confirmed it"),
    pytest.param(["count=36"], "correct", [], id="she has changed something"),
    pytest.param(["count=36"], "reply", [], id="she has answered"),
]


@pytest.mark.parametrize(("then", "does", "told"), MOVED)
def test_what_has_moved_in_an_open_order_since_she_last_did_something(
    desk: Desk, writes: Writes, then: Sequence[str], does: str | None, told: list[str]
) -> None:
    order = writes("Dana", FULL)
    for words in then:
        writes("Dana", words)
    if does == "confirm":
        desk.confirm(order.id)
    elif does == "correct":
        desk.correct(order.id, {"age": 4})
    elif does == "reply":
        sent(desk, order)
    after = desk.order(order.id)
    assert [shift_line(shift) for shift in after.moved] == told
    assert after.change == ()


def test_what_the_baker_set_does_not_move(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", FULL).id, {"count": 30})
    writes("Dana", "count=36")
    assert desk.order(order.id).moved == ()


# Properties over any drafts.


@settings(max_examples=30)
@given(DRAFTS, DRAFTS, DRAFTS)
def test_taking_leaves_nothing_to_ask_but_doubts(before: Draft, standing: Draft, fresh: Draft) -> None:
    order = Order(1, "t1", 0, State.BOOKED, standing)
    order = replace(order, change=asked(order, before, fresh))
    after = replace(order, draft=as_asked(order), change=())
    assert all(s.field == "dietary" and s.reads.missing for s in asked(after, fresh, fresh))
    for shift in order.change:
        assert after.draft.cell(shift.field).value == fresh.cell(shift.field).value


@settings(max_examples=30)
@given(DRAFTS, DRAFTS)
def test_the_same_reading_asks_for_nothing(before: Draft, standing: Draft) -> None:
    assert asked(Order(1, "t1", 0, State.BOOKED, standing), before, before) == ()


@settings(max_examples=30)
@given(DRAFTS, DRAFTS, DRAFTS)
def test_moving_twice_tells_of_the_first_and_the_last(first: Draft, second: Draft, third: Draft) -> None:
    order = Order(1, "t1", 0, State.DRAFT, first)
    once = replace(order, draft=second, moved=moved(order, second))
    assert [shift_line(shift) for shift in moved(once, third)] == [shift_line(shift) for shift in moved(order, third)]


@pytest.mark.parametrize(
    ("reads", "told"),
    [
        (Cell(None, why="nuts may be meant", evidence=(Evidence("m2", 0, 4),)), ["diet: to check, nuts may be meant"]),
        (Cell(("nut",), True, (Evidence("m2", 0, 4),)), ["diet: none -> nut"]),
        (Cell(), []),
    ],
    ids=["a doubt", "an allergy", "none"],
)
def test_an_allergy_that_may_be_meant_is_never_passed_over(reads: Cell[tuple[str, ...]], told: list[str]) -> None:
    order = Order(1, "t1", 0, State.BOOKED, Draft())
    order = replace(order, change=asked(order, Draft(), Draft(dietary=reads)))
    assert lines(order) == told
    diet = as_asked(order).dietary
    assert (diet.why, diet.value) == (("" if reads.value else reads.why), reads.value)
