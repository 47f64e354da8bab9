"""The Rack: booked orders by day, their steps, and the way back to the conversation."""

from __future__ import annotations

from datetime import date, time

import pytest
from textual.pilot import Pilot

from intake.desk import Desk
from intake.model import STEPS, Due, State
from tui.counter import Counter
from tui.rack import Rack

from .conftest import LARGE, MESSAGE, SMALL, Opened, booked, click, press
from .seen import notice, screen_text


def rack(pilot: Pilot[int]) -> Rack:
    assert isinstance(pilot.app.screen, Rack)
    return pilot.app.screen


async def test_an_empty_rack_says_so(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "f9")
        assert "The Rack is empty" in screen_text(pilot.app)
        for key in ("f4", "f8", "f3", "ctrl+r", "f10", "enter"):
            await press(pilot, key)
            assert isinstance(pilot.app.screen, Rack)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_orders_hang_by_day_with_their_step(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    late = booked(desk, f"{MESSAGE} one", sender="Ana", due=Due.on(date(2026, 12, 19), time(9)))
    booked(desk, f"{MESSAGE} two", sender="Bea [b]", due=Due.on(date(2026, 12, 12)))
    booked(desk, f"{MESSAGE} three", sender="Cleo", due=Due.on(date(2026, 12, 12), time(8)))
    desk.advance(late.id, "bake")
    async with opened(size) as pilot:
        await press(pilot, "f9")
        shown = screen_text(pilot.app)
        places = [shown.index(text) for text in ("Sat 12 Dec", "Cleo", "Bea [b]", "Sat 19 Dec", "Ana")]
        assert places == sorted(places)
        assert "48 cookies" in shown
        assert "bake" in shown


async def test_a_step_at_a_time_then_handed_over_and_back(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f9")
        for step in STEPS:
            await press(pilot, "f4")
            assert desk.order(order.id).step == step
        await press(pilot, "f4")
        assert "F8" in notice(pilot)
        await press(pilot, "f8")
        assert desk.order(order.id).state is State.HANDED_OVER
        assert "The Rack is empty" in screen_text(pilot.app)
        await press(pilot, "f10")
        assert desk.order(order.id).state is State.BOOKED


async def test_enter_leads_to_the_conversation_and_a_click_only_points(opened: Opened, desk: Desk) -> None:
    first = booked(desk, f"{MESSAGE} one", sender="Ana", due=Due.on(date(2026, 12, 12)))
    second = booked(desk, f"{MESSAGE} two", sender="Bea", due=Due.on(date(2026, 12, 19)))
    async with opened() as pilot:
        await press(pilot, "f9")
        assert rack(pilot).order and rack(pilot).order.id == first.id
        await click(pilot, "#rails", offset=(5, 6))
        assert rack(pilot).order and rack(pilot).order.id == second.id
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, Counter)
        assert pilot.app.screen.view.thread_id == second.thread_id


async def test_drop_from_the_rack(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened() as pilot:
        await press(pilot, "f9", "ctrl+r", "l")
        assert desk.order(order.id).state is State.BOOKED
        await press(pilot, "ctrl+r", "d")
        assert desk.order(order.id).state is State.DROPPED


async def test_another_window_shows_on_the_rack(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened() as pilot:
        await press(pilot, "f9")
        with Desk(desk.home) as other:
            other.advance(order.id, "flood")
        pilot.app._peek()  # type: ignore[attr-defined]
        await pilot.pause()
        await press(pilot, "f1", "escape")
        assert rack(pilot).order and rack(pilot).order.step == "flood"
