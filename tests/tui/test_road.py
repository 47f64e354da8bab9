"""Which step is due next, and why another is not."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any

import pytest

from intake.desk import Case
from intake.model import Cell, Clash, Draft, Due, Fits, Message, NotProven, Order, Plan, Quote, Reading, State, Thread
from tui.road import Room, View, about, book_anyway, suggested, why_not

TODAY = date(2026, 11, 25)
SURE = Draft(
    customer=Cell("Dana", True),
    count=Cell(24, True),
    theme=Cell("unicorns", True),
    due=Cell(Due.on(date(2026, 12, 12)), True),
    handover=Cell("pickup", True),
)
UNSURE = replace(SURE, count=Cell(24, False, why="2 dozen, or 2?"))
OPEN = replace(SURE, handover=Cell())
OFF = replace(SURE, cancelled=Cell(True, True))
QUOTE = Quote((), Decimal(72), Decimal(36), Decimal(36), "USD", "plain", TODAY, TODAY)
FITS = Fits(Plan((), {1: 60}))
CLASH = Clash((1,), 1, "no hands", None)


def view(
    draft: Draft, state: State = State.DRAFT, *, quote: Quote | None = None, verdict: Any = None, answered: bool = False
) -> View:
    """The Counter with one order in one conversation."""
    message = Message("m1", "Dana", answered, datetime(2026, 11, 24, tzinfo=UTC), "Hi")
    order = Order(1, "t1", 0, state, draft, quote=quote)
    case = Case(Thread("t1", "chat", (message,)), Reading(Cell("order", True), (draft,)), (order,))
    bare = View(TODAY, case=case)
    return replace(bare, rooms={1: Room(verdict, {}, bare.basis)}) if verdict else bare


@pytest.mark.parametrize(
    ("shown", "due"),
    [
        (View(TODAY), "new_message"),
        (view(OPEN), "reply"),
        (view(UNSURE), "confirm"),
        (view(SURE), "price"),
        (view(OFF), "drop"),
        (view(SURE, State.QUOTED, quote=QUOTE), "room"),
        (view(SURE, State.QUOTED, quote=QUOTE, verdict=FITS), "reply"),
        (view(SURE, State.QUOTED, quote=QUOTE, verdict=FITS, answered=True), "book"),
        (view(SURE, State.QUOTED, quote=QUOTE, verdict=CLASH, answered=True), "reply"),
        (view(OPEN, State.ASKED, answered=True), "next_waiting"),
        (view(SURE, State.BOOKED, quote=QUOTE), "go_rack"),
    ],
)
def test_the_step_that_is_due(shown: View, due: str) -> None:
    assert suggested(shown) == due
    assert about(shown)


@pytest.mark.parametrize(
    ("action", "shown", "reason"),
    [
        ("confirm", view(UNSURE), ""),
        ("confirm", view(SURE), "confirmed already"),
        ("confirm", view(OPEN), "hand-over"),
        ("price", view(OPEN), ""),
        ("room", view(OPEN), "hand-over"),
        ("book", view(UNSURE, quote=QUOTE), "Still to check: count"),
        ("book", view(SURE), "Not priced"),
        ("book", view(SURE, quote=QUOTE), ""),
        ("book", view(SURE, State.BOOKED, quote=QUOTE), "booked"),
        ("price", view(SURE, State.HANDED_OVER), "handed over"),
        ("drop", view(SURE, State.DROPPED), ""),
        ("reply", View(TODAY), "No conversation"),
        ("next_waiting", View(TODAY), "Nobody waits"),
        ("undo", View(TODAY), ""),
    ],
)
def test_why_it_can_not_be_done_yet(action: str, shown: View, reason: str) -> None:
    found = why_not(action, shown)

    assert bool(found) is bool(reason)
    assert reason in found


def test_a_verdict_holds_for_what_it_was_made_from() -> None:
    shown = view(SURE, quote=QUOTE, verdict=FITS)
    assert shown.room and not shown.room_is_old

    tomorrow = replace(shown, today=date(2026, 11, 26))
    assert tomorrow.room is None and tomorrow.room_is_old


@pytest.mark.parametrize(("verdict", "asks"), [(FITS, False), (CLASH, True), (NotProven("time ran out"), True)])
def test_only_what_fits_is_booked_without_a_question(verdict: Any, asks: bool) -> None:
    assert bool(book_anyway(Room(verdict, {}))) is asks
