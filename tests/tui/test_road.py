"""Which step is due next, and why another is not."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any

import pytest

from intake.desk import Case
from intake.desk_waiting import Waiting
from intake.model import (
    Cell,
    Clash,
    Draft,
    Due,
    Fits,
    Message,
    NotProven,
    Order,
    Plan,
    Quote,
    Reading,
    Shift,
    State,
    Thread,
)
from tui.road import Room, View, about, book_anyway, greeting, next_of, previous_of, suggested, why_not

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
PARTY = replace(SURE, due_is=Cell("event", True))
BROUGHT = replace(
    PARTY,
    handover=Cell("deliver", True),
    address=Cell("1 Elm St", True),
    due=Cell(Due.on(date(2026, 12, 12), time(14)), True),
)
MAYBE = replace(SURE, dietary=Cell(why="an allergy may be meant"))
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


MORE = Shift("count", 24, Cell(36, True))
OFF_NOW = Shift("cancelled", None, Cell(True, True))
NO_DAY = Shift("due", SURE.due.value, Cell())


def asking(shift: Shift) -> View:
    """A booked order of which something else is asked."""
    shown = view(SURE, State.BOOKED, quote=QUOTE)
    assert shown.case
    return replace(shown, case=replace(shown.case, orders=(replace(shown.case.orders[0], change=(shift,)),)))


@pytest.mark.parametrize(
    ("shown", "due"),
    [
        (View(TODAY), "new_message"),
        (view(OPEN), "reply"),
        (view(UNSURE), "confirm"),
        (view(SURE), "price"),
        (view(OFF), "drop"),
        (view(PARTY), "reply"),
        (view(SURE, State.QUOTED, quote=QUOTE), "room"),
        (view(SURE, State.QUOTED, quote=QUOTE, verdict=FITS), "reply"),
        (view(SURE, State.QUOTED, quote=QUOTE, verdict=FITS, answered=True), "book"),
        (view(SURE, State.QUOTED, quote=QUOTE, verdict=CLASH, answered=True), "reply"),
        (view(OPEN, State.ASKED, answered=True), "next_waiting"),
        (view(SURE, State.BOOKED, quote=QUOTE), "go_rack"),
        (asking(MORE), "take_change"),
        (asking(OFF_NOW), "take_change"),
        (asking(NO_DAY), "reply"),
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
        ("confirm", view(PARTY), "The day is the party's"),
        ("book", view(PARTY, quote=QUOTE), "pickup the day before at 5"),
        ("book", view(replace(PARTY, handover=Cell()), quote=QUOTE), "hand-over, when she has them"),
        ("book", view(BROUGHT, quote=QUOTE), ""),
        ("price", view(PARTY), ""),
        ("book", view(MAYBE, quote=QUOTE), "Diet: an allergy may be meant"),
        ("price", view(SURE, State.HANDED_OVER), "handed over"),
        ("drop", view(SURE, State.DROPPED), ""),
        ("reply", View(TODAY), "No conversation"),
        ("next_waiting", View(TODAY), "Nobody waits"),
        ("undo", View(TODAY), ""),
        ("take_change", asking(MORE), ""),
        ("take_change", asking(NO_DAY), "Day not agreed"),
        ("take_change", view(SURE, State.BOOKED, quote=QUOTE), "no change"),
        ("take_change", view(SURE), "no change"),
        ("refuse_change", asking(NO_DAY), ""),
        ("refuse_change", view(SURE, State.BOOKED, quote=QUOTE), "no change"),
    ],
)
def test_why_it_can_not_be_done_yet(action: str, shown: View, reason: str) -> None:
    found = why_not(action, shown)

    assert bool(found) is bool(reason)
    assert reason in found


@pytest.mark.parametrize(
    ("shown", "told"),
    [
        (asking(MORE), "asks for a change: count 24 (2 dozen) → 36 (3 dozen). F4 takes it"),
        (asking(OFF_NOW), "called off. F4 takes it"),
        (asking(NO_DAY), "Day not agreed"),
    ],
    ids=["more", "called off", "unfit"],
)
def test_what_is_asked_of_a_booked_order_is_said(shown: View, told: str) -> None:
    assert told in about(shown)


@pytest.mark.parametrize(("moved", "told"), [((MORE,), True), ((), False)], ids=["moved", "not moved"])
def test_what_has_moved_in_an_open_order_is_said(moved: tuple[Shift, ...], told: bool) -> None:
    shown = view(SURE)
    assert shown.case
    (order,) = shown.case.orders
    shown = replace(shown, case=replace(shown.case, orders=(replace(order, moved=moved),)))
    assert ("Since you last looked: count 24 (2 dozen) → 36 (3 dozen)." in about(shown)) is told


def test_a_verdict_on_what_is_asked_is_none_on_what_is_booked() -> None:
    shown = asking(MORE)
    assert shown.case
    looked = replace(shown, rooms={1: Room(FITS, {}, shown.basis)})
    kept = replace(looked, case=view(SURE, State.BOOKED, quote=QUOTE).case)
    assert looked.room and kept.room is None


def test_a_booking_leaves_its_own_verdict_standing() -> None:
    shown = view(SURE, State.QUOTED, quote=QUOTE, verdict=FITS)
    assert shown.case
    (order,) = shown.case.orders
    other = replace(order, id=2)

    assert replace(shown, booked=(order,)).room
    assert replace(shown, booked=(order, other)).room is None


def waits(*keys: str, theirs: str = "") -> tuple[Waiting, ...]:
    at = datetime(2026, 11, 24, tzinfo=UTC)
    return tuple(Waiting(key, key, "", "draft", None, at, "", theirs=key in theirs) for key in keys)


@pytest.mark.parametrize(
    ("walk", "waiting", "following", "before"),
    [
        # The open conversation is t1.
        (("t0", "t1", "t2"), waits("t0", "t2", "t1", theirs="t1"), "t2", "t0"),
        (("t0", "t1", "t2", "t3"), waits("t0", "t3", "t2", "t1", theirs="t2 t1"), "t3", "t0"),
        (("t0", "t1"), waits("t0", "t1"), "t0", "t0"),
        (("t1", "t2"), waits("t9", "t1"), "t9", "t2"),
        (("t1",), waits("t1"), "", "t1"),
        ((), waits("t1", "t4", theirs="t4"), "", ""),
    ],
)
def test_the_next_and_the_one_before(
    walk: tuple[str, ...], waiting: tuple[Waiting, ...], following: str, before: str
) -> None:
    shown = replace(view(SURE), waiting=waiting)

    assert (next_of(walk, shown), previous_of(walk, shown)) == (following, before)


@pytest.mark.parametrize(
    ("waiting", "said"),
    [((), "Nobody waits for you"), (waits("a", "b", theirs="b"), "One conversation"), (waits("a", "b"), "2 conv")],
)
def test_only_who_waits_for_the_baker_is_counted(waiting: tuple[Waiting, ...], said: str) -> None:
    assert greeting(waiting).startswith(said)


def test_a_verdict_holds_for_what_it_was_made_from() -> None:
    shown = view(SURE, quote=QUOTE, verdict=FITS)
    assert shown.room and not shown.room_is_old

    tomorrow = replace(shown, today=date(2026, 11, 26))
    assert tomorrow.room is None and tomorrow.room_is_old


@pytest.mark.parametrize(("verdict", "asks"), [(FITS, False), (CLASH, True), (NotProven("time ran out"), True)])
def test_only_what_fits_is_booked_without_a_question(verdict: Any, asks: bool) -> None:
    assert bool(book_anyway(Room(verdict, {}))) is asks
