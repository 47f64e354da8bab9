"""The number of a parcel: kept with its order, told in the answer that it is on its way, and never made up."""

from __future__ import annotations

import pytest

from intake.book import migrations
from intake.book.store import Book
from intake.desk import Desk
from intake.home import Home
from intake.model import OrdertinError
from tests.desk.kit import FULL, Clock, Writes, booked

SHIP = "count=24 theme=unicorns due=2026-03-21 handover=ship address=12-Alder-Ct"


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("9400 1000 0000", "9400 1000 0000"), ("  94\n00 ", "94 00"), ("94\x1b[31m00", "9400"), ("9" * 60, "9" * 60)],
)
def test_it_is_told_as_it_was_given(desk: Desk, writes: Writes, typed: str, kept: str) -> None:
    order = booked(desk, writes("Dana", SHIP))
    assert desk.track(order.id, typed).tracking == kept
    reply = desk.reply(order.id, "sent")
    assert f"Tracking number: {kept}\n" in reply.text
    assert desk.doubts(order.id, reply) == ()


def test_without_one_nothing_is_said_of_it(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", SHIP))
    reply = desk.reply(order.id, "sent")
    assert "racking" not in reply.text
    assert reply.missing == ()
    desk.track(order.id, "9400")
    assert desk.track(order.id, "").tracking == ""
    assert desk.reply(order.id, "sent").text == reply.text


def test_it_can_be_taken_back_and_stays_through_other_changes(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", SHIP))
    desk.track(order.id, "9400")
    desk.advance(order.id, "handed over")
    assert desk.order(order.id).tracking == "9400"
    desk.undo()
    assert desk.undo() == "tracking number of order 1 (Dana)"
    assert desk.order(order.id).tracking == ""


def test_what_is_no_number_is_refused(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", SHIP))
    with pytest.raises(OrdertinError, match="at most 60"):
        desk.track(order.id, "9" * 61)
    assert desk.order(order.id).tracking == ""


def test_an_older_book_has_room_for_it(
    home: Home, clock: Clock, reader: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    earlier = migrations.STEPS[: migrations.STEPS.index(migrations.parcel_numbers)]
    with monkeypatch.context() as patch:
        patch.setattr(migrations, "STEPS", earlier)
        book = Book(home.book)
        book.version()
        book.close()
    with Desk(home, now=clock) as desk:
        order = desk.paste(FULL, sender="Dana").orders[0]
        assert (order.tracking, desk.track(order.id, "9400").tracking) == ("", "9400")
