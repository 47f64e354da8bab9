"""A change that is asked of a booked order: shown beside what is booked, taken or refused by key or by mouse."""

from __future__ import annotations

from datetime import timedelta

import pytest

from intake.desk import Desk
from intake.model import Order, State
from tui.ask import Ask
from tui.caps import Cap
from tui.counter import Counter
from tui.slip import Slip

from .conftest import LARGE, MESSAGE, NOW, SIZES, SMALL, Opened, booked, click, counter, press, slip
from .seen import notice, row, screen_text, text_of

MORE, OFF = "Actually, could you make it 3 dozen?", "Sorry, I have to cancel the order."


def asked(desk: Desk, text: str = MORE) -> Order:
    order = booked(desk)
    desk.paste(text, sender="Dana Whitlock", at=NOW + timedelta(minutes=1), to=order.thread_id)
    after = desk.order(order.id)
    assert after.change and after.draft == order.draft
    return after


@SIZES
async def test_it_stands_beside_what_is_booked(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    asked(desk)
    async with opened(size) as pilot:
        assert row(pilot, "count").startswith("▸▲ asks count 24 (2 dozen)")
        assert "asks: 36 (3 dozen)" in row(pilot, "count")
        assert "asks" not in row(pilot, "theme")
        shown = screen_text(pilot.app)
        assert "change to accept" in shown
        assert "take the change ($108.00)" in shown and "keep it as booked ($72.00)" in shown


async def test_without_one_nothing_of_it_is_in_sight(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(LARGE) as pilot:
        counter(pilot).open(order.thread_id)
        await press(pilot)
        await press(pilot, "f4", "ctrl+k")
        assert "no change" in notice(pilot)
        shown = screen_text(pilot.app)
        assert "F4 Confirm" in shown and "Take change" not in shown and "keep it as booked" not in shown
        assert desk.order(order.id) == order


@SIZES
@pytest.mark.parametrize("by", ["key", "mouse", "cap"])
async def test_it_is_taken(opened: Opened, desk: Desk, size: tuple[int, int], by: str) -> None:
    order = asked(desk)
    async with opened(size) as pilot:
        if by == "key":
            await press(pilot, "f4")
        elif by == "mouse":
            await click(pilot, "#slip-take")
        else:
            cap = next(cap for cap in pilot.app.screen.query(Cap) if cap.does == "take_change")
            assert cap.has_class("due") and await pilot.click(cap)
            await press(pilot)
        after = desk.order(order.id)
        assert (after.draft.count.value, after.state, after.change) == (36, State.BOOKED, ())
        assert "The price was $72.00; it is $108.00 now." in notice(pilot)
        await press(pilot, "f10")
        assert desk.order(order.id) == order


@SIZES
@pytest.mark.parametrize(("answer", "left"), [("k", False), ("l", True), ("escape", True)])
async def test_keeping_it_as_booked_asks_first(
    opened: Opened, desk: Desk, size: tuple[int, int], answer: str, left: bool
) -> None:
    order = asked(desk)
    async with opened(size) as pilot:
        await press(pilot, "ctrl+k")
        assert isinstance(pilot.app.screen, Ask)
        assert "count 24 (2 dozen) → 36 (3 dozen)" in screen_text(pilot.app)
        await press(pilot, answer)
        after = desk.order(order.id)
        assert (after.draft, after.state) == (order.draft, State.BOOKED)
        assert bool(after.change) is left
        assert ("It still waits" in notice(pilot)) is left


@pytest.mark.parametrize(("answer", "state"), [("d", State.DROPPED), ("l", State.BOOKED)])
async def test_an_order_called_off_is_dropped_after_a_question(
    opened: Opened, desk: Desk, answer: str, state: State
) -> None:
    order = asked(desk, OFF)
    async with opened(SMALL) as pilot:
        assert "drop it, as asked" in text_of(counter(pilot).query_one("#slip-take"))
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, answer)
        assert desk.order(order.id).state is state


async def test_what_does_not_fit_is_asked_about_first(opened: Opened, desk: Desk) -> None:
    order = asked(desk, "Actually, could you make it 900 cookies?")
    async with opened(LARGE) as pilot:
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, Ask) and "can't be made in time" in screen_text(pilot.app)
        await press(pilot, "l")
        assert desk.order(order.id) == order


async def test_the_words_that_ask_are_marked(opened: Opened, desk: Desk) -> None:
    order = asked(desk)
    async with opened(LARGE) as pilot:
        (evidence,) = counter(pilot).query_one(Slip).evidence
        last = desk.case(order.thread_id).thread.messages[-1]
        assert (evidence.message, last.text[evidence.start : evidence.end]) == (last.id, "3 dozen")


@SIZES
async def test_the_rack_marks_it_and_leads_there(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    asked(desk)
    async with opened(size) as pilot:
        await press(pilot, "f9")
        shown = screen_text(pilot.app)
        assert "▲ asks for a change" in shown and "count 24 (2 dozen) → 36 (3 dozen)" in shown
        await press(pilot, "f3")
        assert isinstance(pilot.app.screen, Counter)
        assert "asks: 36" in row(pilot, "count")


async def test_what_has_moved_in_an_open_slip_is_beside_it_until_confirmed(opened: Opened, desk: Desk) -> None:
    order = slip(desk, MESSAGE)
    desk.paste(MORE, sender="Dana Whitlock", at=NOW + timedelta(minutes=1), to=order.thread_id)
    async with opened(LARGE) as pilot:
        assert "was 24 (2 dozen) when you last looked" in row(pilot, "count")
        desk.correct(order.id, {"age": 5})
        counter(pilot).reload()
        await press(pilot)
        assert "when you last looked" not in screen_text(pilot.app)
