"""What may be done in which state, up to the Rack and the hand-over."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest

from intake.desk import Desk
from intake.model import OrdertinError, State
from tests.desk.kit import FULL, NOW, Clock, Writes, booked, sent


def step(name: str, *args: Any) -> Any:
    return pytest.param(name, args, id=" ".join((name, *map(str, args))))


ALLOWED = {
    "correct": "draft asked quoted booked",
    "confirm": "draft asked quoted booked",
    "quote": "draft asked quoted booked",
    "book": "quoted",
    "drop": "draft asked quoted booked",
    "reopen": "dropped",
    "advance": "booked",
}


@pytest.mark.parametrize(
    ("name", "args"),
    [
        step("correct", {"count": 12}),
        *map(step, ("confirm", "quote", "book", "drop", "reopen")),
        step("advance", "bake"),
    ],
)
@pytest.mark.parametrize("state", list(State), ids=str)
def test_what_may_be_done_in_which_state(desk: Desk, writes: Writes, state: State, name: str, args: Any) -> None:
    order = writes("Dana", FULL)
    ways: dict[State, Callable[[], object]] = {
        State.DRAFT: lambda: None,
        State.ASKED: lambda: sent(desk, order),
        State.QUOTED: lambda: desk.quote(order.id),
        State.BOOKED: lambda: booked(desk, order),
        State.HANDED_OVER: lambda: (booked(desk, order), desk.advance(order.id, "handed over")),
        State.DROPPED: lambda: desk.drop(order.id),
    }
    ways[state]()
    before = desk.order(order.id)
    assert before.state is state
    if state.value in ALLOWED[name].split():
        assert getattr(desk, name)(order.id, *args) == desk.order(order.id)
        return
    with pytest.raises(OrdertinError) as error:
        getattr(desk, name)(order.id, *args)
    assert f"order {order.id} (Dana)" in str(error.value) and error.value.problem.todo
    assert desk.order(order.id) == before


def test_booking_says_what_is_still_open(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = writes("Dana", FULL + " colors=pink? cancelled=yes")
    refusals = [
        ("cancelled", lambda: desk.correct(order.id, {"cancelled": False})),
        ("colors not settled", lambda: desk.confirm(order.id)),
        ("no quote", lambda: desk.quote(order.id)),
    ]
    for said, then in refusals:
        with pytest.raises(OrdertinError, match=said):
            desk.book(order.id)
        then()
    clock.now += timedelta(days=8)
    with pytest.raises(OrdertinError, match="quote held until"):
        desk.book(order.id)
    clock.now = NOW
    after = desk.book(order.id)
    assert (after.state, after.booked_at) == (State.BOOKED, NOW)


def test_a_doubt_about_an_allergy_is_settled_before_booking(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", f"{FULL} dietary=?")
    assert order.draft.dietary.missing and order.draft.dietary.why
    desk.confirm(order.id)
    desk.quote(order.id)
    with pytest.raises(OrdertinError, match="diet not settled"):
        desk.book(order.id)
    desk.correct(order.id, {"dietary": ()})
    assert desk.book(order.id).state is State.BOOKED


def test_the_rack_goes_by_hand_over_day(desk: Desk, writes: Writes) -> None:
    for who, day in {"Ada": "2026-04-02", "Ben": "2026-03-20", "Cy": "2026-03-30"}.items():
        booked(desk, writes(who, f"count=12 theme=owls handover=pickup due={day}"))
    writes("Dana", FULL)
    assert [o.draft.customer.value for o in desk.rack()] == ["Ben", "Cy", "Ada"]


def test_orders_of_one_day_go_by_their_hour(desk: Desk, writes: Writes) -> None:
    for who, at in {"Ada": "", "Ben": "T16:00", "Cy": "T08:30"}.items():
        booked(desk, writes(who, f"count=12 theme=owls handover=pickup due=2026-04-02{at}"))
    assert [o.draft.customer.value for o in desk.rack()] == ["Cy", "Ben", "Ada"]


@pytest.mark.parametrize("way", ["pickup", "ship", "deliver"])
@pytest.mark.parametrize("hour", ["", "T14:00"])
def test_nothing_is_booked_on_the_partys_own_hour_but_what_is_brought_there(
    desk: Desk, writes: Writes, way: str, hour: str
) -> None:
    order = writes("Dana", f"count=24 theme=unicorns due=2026-03-21{hour} due_is=event handover={way} address=here")
    if way == "deliver" and hour:
        assert booked(desk, order).state is State.BOOKED
        return
    desk.quote(order.id)
    for step in (desk.confirm, desk.book):
        with pytest.raises(OrdertinError, match=r"the day is the party's.*pickup the day before at 5.*hand-over"):
            step(order.id)
    desk.correct(order.id, {"due": "2026-03-20 17:00", "due_is": "handover"})
    assert booked(desk, order).state is State.BOOKED


@pytest.mark.parametrize(
    ("said", "question"),
    [
        ("due_is=event", "When before it would you like to have the cookies?"),
        ("due_is=event?", "the day of your event, or the day you would like to have the cookies?"),
        ("due_is=handover?", "the day of your event, or the day you would like to have the cookies?"),
    ],
)
def test_when_she_has_them_is_asked(desk: Desk, writes: Writes, said: str, question: str) -> None:
    order = writes("Dana", f"{FULL} {said}")
    reply = desk.reply(order.id)
    assert (reply.kind, question in reply.text) == ("ask", True)
    assert "ask" in desk.answers(order.id)
    desk.correct(order.id, {"due_is": "handover"})
    assert "ask" not in desk.answers(order.id)


def test_a_doubt_about_the_day_goes_with_the_day(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=12 due=2026-03-21? due_is=handover?").id, {"due": "2026-03-22"})
    assert order.draft.due_is.sure


def test_a_booked_order_goes_through_its_steps(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    assert [desk.advance(order.id, s).step for s in ("dough", "bake", "dough")] == ["dough", "bake", "dough"]
    with pytest.raises(OrdertinError, match="no step"):
        desk.advance(order.id, "fry")
    assert desk.advance(order.id, "handed over").state is State.HANDED_OVER
    assert desk.rack() == ()


@pytest.mark.parametrize(
    "ask",
    [
        lambda desk: desk.case("t9"),
        lambda desk: desk.case("../t"),
        lambda desk: desk.order(9),
        lambda desk: desk.correct(9, {"count": 1}),
        lambda desk: desk.set_aside("t9"),
        lambda desk: desk.reply(9),
        lambda desk: desk.order(10**30),
    ],
    ids=["case", "no name", "order", "correct", "aside", "reply", "too large"],
)
def test_what_is_not_in_the_book(desk: Desk, ask: Callable[[Desk], object]) -> None:
    with pytest.raises(OrdertinError):
        ask(desk)
