"""Who waits for the baker, and why."""

from __future__ import annotations

from datetime import timedelta

import pytest

from intake.desk import Desk
from intake.model import OrdertinError
from tests.desk.kit import FULL, NOW, Clock, Export, Writes, booked, sent


def test_who_waits_and_why(desk: Desk, export: Export) -> None:
    for who, words in {
        "Sam": "intent=spam",
        "Ada": "count=24? theme=owls due=2026-04-01",
        "Dana": FULL,
        "Past": "count=6 due=2026-02-01",
        "Eve": "hello there\nagain",
    }.items():
        export.writes(who, words)
    desk.take([export.path])
    sent(desk, desk.case("t3").orders[0])
    assert [(w.customer, w.headline, w.state, w.why) for w in desk.waiting()] == [
        ("Ada", "24 owls", "draft", "wants cookies; to check: count; missing: hand-over"),
        ("Sam", "intent=spam", "unread", "looks like spam"),
        ("Eve", "hello there", "unread", "writes, no order in it"),
        ("Dana", "24 unicorns", "asked", "waits for an answer"),
        ("Past", "6 cookies", "draft", "wants cookies; missing: hand-over"),
    ]


def test_the_soonest_day_comes_first(desk: Desk, export: Export) -> None:
    for who, day in {"Ada": "2026-04-02", "Ben": "2026-03-20", "Cy": "2026-03-30"}.items():
        export.writes(who, f"count=12 due={day}")
    desk.take([export.path])
    assert [w.customer for w in desk.waiting()] == ["Ben", "Cy", "Ada"]


def standing(desk: Desk) -> list[tuple[str, str, bool]]:
    return [(w.customer, w.stands, w.theirs) for w in desk.waiting()]


def test_a_price_counts_as_quoted_once_an_answer_has_told_it(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", FULL)
    desk.confirm(order.id)
    desk.quote(order.id)
    assert standing(desk) == [("Dana", "priced", False)]
    sent(desk, order, "quote")
    assert standing(desk) == [("Dana", "quoted", True)]
    desk.paste("sounds good", to=order.thread_id, at=NOW + timedelta(hours=1))
    assert standing(desk) == [("Dana", "quoted", False)]
    desk.correct(order.id, {"count": 48})
    desk.quote(order.id)
    assert standing(desk) == [("Dana", "priced", False)]


def test_no_room_and_a_question_wait_for_the_customer(desk: Desk, writes: Writes) -> None:
    order = sent(desk, writes("Ada", FULL), "no room")
    sent(desk, writes("Ben", FULL), "ask")
    assert standing(desk) == [("Ada", "no room", True), ("Ben", "asked", True)]
    desk.paste("how about a week later", to=order.thread_id, at=NOW + timedelta(hours=1))
    assert standing(desk) == [("Ada", "draft", False), ("Ben", "asked", True)]


def test_what_is_booked_waits_until_it_is_answered(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = booked(desk, writes("Dana", FULL))
    (row,) = desk.waiting()
    assert (row.customer, row.stands, row.state) == ("Dana", "booked, answer not sent", "booked")
    assert (row.headline, row.due) == ("24 unicorns", order.draft.due.value)
    sent(desk, order, "confirm")
    assert desk.waiting() == ()
    desk.paste("can it be 3 dozen?", to=order.thread_id, at=NOW + timedelta(hours=2))
    assert standing(desk) == [("Dana", "booked, wrote again", False)]


@pytest.mark.parametrize("end", ["drop", "hand over"])
def test_what_is_over_leaves_the_list_until_its_customer_writes_again(desk: Desk, writes: Writes, end: str) -> None:
    order = writes("Dana", FULL)
    if end == "drop":
        desk.drop(order.id)
    else:
        booked(desk, order)
        desk.advance(order.id, "handed over")
    assert desk.waiting() == ()
    writes("Dana", "thank you")
    ((customer, stands, _),) = standing(desk)
    assert (customer, stands) == ("Dana", f"{desk.order(order.id).state}, wrote again")
    desk.undo()
    desk.undo()
    assert standing(desk)[0][1] in ("draft", "booked, answer not sent")


def test_setting_aside_lasts_until_the_customer_writes_again(desk: Desk, writes: Writes) -> None:
    thread = writes("Sam", "intent=spam").thread_id
    desk.set_aside(thread)
    assert desk.waiting() == ()
    writes("Sam", "intent=ask")
    assert [w.why for w in desk.waiting()] == ["asks a question"]


def test_a_conversation_with_an_open_order_is_not_set_aside(desk: Desk, writes: Writes) -> None:
    thread = writes("Dana", FULL).thread_id
    with pytest.raises(OrdertinError, match="still open"):
        desk.set_aside(thread)
    assert len(desk.waiting()) == 1
