"""A conversation read again: what the baker did and what the customer writes next."""

from __future__ import annotations

from typing import Any

import pytest

from intake.desk import Desk
from intake.model import State
from tests.desk.kit import FULL, Writes, booked, sent, values


def test_a_later_message_updates_an_open_order(desk: Desk, writes: Writes) -> None:
    writes("Dana", "count=24?")
    order = writes("Dana", "count=36 theme=unicorns")
    assert (order.id, order.place, values(order)) == (1, 0, {"count": 36, "theme": "unicorns"})


# What the reader said, what the baker made of it, what the customer writes next, the cell (value, sure) then.
REREAD = [
    pytest.param("count=24?", {"count": 30}, "thanks", (30, True), id="the baker's word stays"),
    pytest.param("count=24?", {"count": 30}, "count=36", (30, False), id="but is shown to check when they differ"),
    pytest.param("count=24?", {"count": 36}, "count=36", (36, True), id="and not when they agree"),
    pytest.param("count=24", {"count": None}, "thanks", (None, True), id="what the baker cleared stays clear"),
    pytest.param("count=24?", "confirm", "thanks", (24, True), id="what was confirmed stays so"),
    pytest.param("count=24?", "confirm", "count=36?", (36, False), id="until the customer says otherwise"),
    pytest.param("count=24?", "confirm", "count=24?", (24, False), id="or doubts it again"),
    pytest.param("count=24?", "confirm", "count=24", (24, True), id="the same said surely"),
    pytest.param("count=24", {}, "count=-", (None, True), id="what the customer takes back goes"),
    pytest.param("count=24", {"count": 30}, "count=-", (30, True), id="unless the baker has set it"),
]


@pytest.mark.parametrize(("first", "baker", "then", "cell"), REREAD)
def test_what_the_baker_did_and_what_the_customer_writes_next(
    desk: Desk, writes: Writes, first: str, baker: Any, then: str, cell: tuple[Any, bool]
) -> None:
    order = writes("Dana", f"theme=owls due=2026-03-21 handover=pickup {first}")
    if baker == "confirm":
        desk.confirm(order.id)
    else:
        desk.correct(order.id, baker)
    count = writes("Dana", then).draft.count
    assert (count.value, count.sure) == cell
    assert count.sure or count.why


def test_an_order_that_was_handed_over_only_gets_a_note(desk: Desk, writes: Writes) -> None:
    writes("Dana", FULL + " | count=12 theme=eggs")
    before = desk.advance(booked(desk, desk.order(1)).id, "handed over")
    writes("Dana", "count=36")
    after = desk.order(before.id)
    assert (after.draft, after.state, after.change) == (before.draft, State.HANDED_OVER, ())
    assert "36" in after.note and "24" in after.note
    writes("Dana", "thanks")
    assert desk.order(before.id).note == after.note


def test_another_order_beside_a_booked_one_is_drafted(desk: Desk, writes: Writes) -> None:
    first = booked(desk, writes("Dana", FULL))
    writes("Dana", "| count=12 theme=eggs")
    case = desk.case(first.thread_id)
    assert [(o.place, o.state, o.draft.count.value) for o in case.orders] == [(0, "booked", 24), (1, "draft", 12)]


def test_orders_are_told_apart_by_what_is_in_them_and_not_by_their_place(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=24 theme=unicorns").id, {"handover": "ship"})
    writes("Dana", "gone count=12 theme=eggs | count=24 theme=unicorns")
    orders = desk.case(order.thread_id).orders
    assert [(o.id, o.draft.theme.value, o.draft.handover.value) for o in orders] == [
        (order.id, "unicorns", "ship"),
        (order.id + 1, "eggs", None),
    ]


def test_an_untouched_draft_that_the_messages_no_longer_give_is_dropped_with_a_note(
    desk: Desk, writes: Writes
) -> None:
    order = writes("Dana", "count=24")
    writes("Dana", "gone")
    assert desk.order(order.id).state is State.DROPPED and desk.order(order.id).note
    writes("Dana", "count=24")
    assert [o.state for o in desk.case(order.thread_id).orders] == ["dropped", "draft"]


def test_a_draft_that_the_baker_has_worked_on_is_kept_with_a_note(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=24").id, {"theme": "owls"})
    writes("Dana", "gone")
    assert desk.order(order.id).state is State.DRAFT and desk.order(order.id).note


def test_wanting_a_dropped_order_otherwise_is_a_new_order(desk: Desk, writes: Writes) -> None:
    order = desk.drop(writes("Dana", FULL).id)
    writes("Dana", "thanks anyway")
    assert [o.state for o in desk.case(order.thread_id).orders] == ["dropped"]
    writes("Dana", "count=12")
    writes("Dana", "count=18")
    orders = desk.case(order.thread_id).orders
    assert [(o.state, o.draft.count.value) for o in orders] == [("dropped", 24), ("draft", 18)]


def test_after_the_hand_over_a_conversation_is_read_afresh(desk: Desk, writes: Writes) -> None:
    first = booked(desk, writes("Dana", FULL))
    desk.advance(first.id, "handed over")
    writes("Dana", "they were lovely")
    assert [o.id for o in desk.case(first.thread_id).orders] == [first.id]
    writes("Dana", "count=12")
    case = desk.case(first.thread_id)
    assert [(o.state, o.draft.count.value, o.draft.theme.value) for o in case.orders] == [
        ("handed over", 24, "unicorns"),
        ("draft", 12, None),
    ]
    assert len(case.thread.messages) == 3 and case.orders[0].note == ""


def test_an_answer_ends_the_waiting_for_it(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", "count=24")
    assert sent(desk, order).state is State.ASKED
    assert writes("Dana", "theme=owls").state is State.DRAFT
