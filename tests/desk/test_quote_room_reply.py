"""Prices that are kept or go, room in the kitchen, and answers."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from intake.desk import Desk
from intake.model import Clash, Fits, OrdertinError, State
from tests.desk.kit import FULL, NOW, Clock, Writes, booked, sent


def test_a_quote_is_kept_with_the_order(desk: Desk, writes: Writes) -> None:
    order = desk.quote(writes("Dana", FULL).id)
    assert order.state is State.QUOTED and order.quote is not None
    assert desk.order(order.id) == order
    assert order.quote.made_on == NOW.date()


def test_what_can_not_be_priced_says_why(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", "theme=owls")
    with pytest.raises(OrdertinError, match=rf"order {order.id} \(Dana\).*missing"):
        desk.quote(order.id)


@pytest.mark.parametrize(
    ("changes", "state"), [({"count": 48}, "draft"), ({"honoree": "Leo"}, "quoted"), ({}, "quoted")], ids=str
)
def test_a_quote_goes_when_the_order_changes_its_price(
    desk: Desk, writes: Writes, changes: dict[str, Any], state: str
) -> None:
    quoted = desk.quote(writes("Dana", FULL).id)
    order = desk.correct(quoted.id, changes)
    assert order.state == state
    assert (order.quote is None) == (state == "draft") == bool(order.note)


def test_a_customer_who_changes_a_quoted_order_has_no_quote(desk: Desk, writes: Writes) -> None:
    quoted = desk.quote(writes("Dana", FULL).id)
    assert writes("Dana", "sounds good").quote == quoted.quote
    order = writes("Dana", "count=48")
    assert (order.state, order.quote) == (State.DRAFT, None)


def test_a_booked_order_keeps_what_was_agreed(desk: Desk, writes: Writes) -> None:
    before = booked(desk, writes("Dana", FULL))
    after = desk.correct(before.id, {"count": 48})
    assert (after.state, after.quote) == (State.BOOKED, before.quote)
    assert "after booking" in after.note
    assert desk.quote(before.id).state is State.BOOKED


def test_room_counts_the_booked_orders_still_ahead(desk: Desk, writes: Writes, clock: Clock) -> None:
    big = booked(desk, writes("Dana", "count=480 theme=owls due=2026-03-15 handover=pickup"))
    order = writes("Leo", "count=240 theme=owls due=2026-03-15 handover=pickup")
    assert isinstance(desk.room(order.id), Clash)
    clock.now += timedelta(days=7)
    desk.correct(order.id, {"due": "2026-03-28", "count": 12})
    assert isinstance(desk.room(order.id), Fits)
    assert desk.order(big.id).state is State.BOOKED


@pytest.mark.parametrize(
    ("words", "kind"), [("count=24", "ask"), (FULL, "quote")], ids=["something missing", "all there"]
)
def test_the_reply_that_fits_best(desk: Desk, writes: Writes, words: str, kind: str) -> None:
    order = writes("Dana", words)
    version = desk.version()
    reply = desk.reply(order.id)
    assert (reply.kind, reply.to, "Dana" in reply.text) == (kind, "Dana", True)
    assert desk.version() == version


def test_an_answer_by_mail_goes_to_where_the_mail_came_from(desk: Desk, tmp_path: Path) -> None:
    mail = tmp_path / "dana.eml"
    mail.write_bytes(
        b"From: Dana Whitlock <dana@example.org>\r\nTo: nell@example.com\r\nSubject: Cookies\r\n"
        b"Date: Mon, 9 Mar 2026 10:00:00 -0500\r\nMessage-ID: <1@example.org>\r\n\r\ncount=24 email=d@example.net\r\n"
    )
    desk.take([mail])
    assert desk.reply(1, "ask").to == "dana@example.org"


def test_a_reply_is_kept_as_the_bakers_message(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", FULL)
    sent(desk, order, "quote")
    last = desk.case(order.thread_id).thread.messages[-1]
    assert (last.sender, last.mine, last.at, last.text) == ("Nell", True, NOW, "About quote?")
    assert desk.order(order.id).state is State.DRAFT
