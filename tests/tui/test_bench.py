"""The Bench: the days ahead, work ticked off, days off and hours, and all of it taken back."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from textual.pilot import Pilot

from intake.desk import Desk
from tui.bench import Bench
from tui.counter import Counter
from tui.rack import Rack

from .conftest import LARGE, NOW, SMALL, Opened, booked, press, whole_slip
from .seen import notice, screen_text


def bench(pilot: Pilot[int]) -> Bench:
    assert isinstance(pilot.app.screen, Bench)
    return pilot.app.screen


async def to_work(pilot: Pilot[int]) -> None:
    """From the Counter to the first day that has work, and to its lines."""
    await press(pilot, "ctrl+d")
    for _ in range(42):
        if any(line.task for line in bench(pilot)._lines):
            break
        await press(pilot, "down")
    await press(pilot, "right")


async def test_an_empty_bench_can_be_walked(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+d")
        assert "Nothing to do on this day." in screen_text(pilot.app)
        for key in ("f3", "f4", "f5", "enter", "down", "f4", "left", "f10"):
            await press(pilot, key)
            assert isinstance(pilot.app.screen, Bench)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Counter)


@pytest.mark.parametrize("size", [SMALL, LARGE])
async def test_days_with_their_load_and_the_work_of_one(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    booked(desk, sender="Bea [b]")
    async with opened(size) as pilot:
        await to_work(pilot)
        shown = screen_text(pilot.app)
        assert "Wed 25 Nov" in shown and "0%" in shown
        assert "○ 18:00-18:20 " in shown and "mix dough" in shown
        assert "Dana Whitlock" in shown or "Bea [b]" in shown
        assert "of work in 3 h 30" in shown


async def test_done_under_way_and_back(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(SMALL) as pilot:
        await to_work(pilot)
        await press(pilot, "f5")
        assert "under way" in notice(pilot)
        await press(pilot, "f10")
        await press(pilot, "f4")
        assert notice(pilot).startswith("mix dough: done.")
        assert desk.order(order.id).step == "bake"
        await press(pilot, "f10")
        assert notice(pilot).startswith("Taken back: mix dough done")
        assert desk.order(order.id).step == ""


async def test_a_tick_is_taken_off_by_pressing_again(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    desk.kitchen.tick(order, "mix dough", 1)
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+d", "right")
        assert "● 10:00" in screen_text(pilot.app)
        await press(pilot, "enter")
        assert desk.order(order.id).step == "dough"
        assert "to do again" in notice(pilot)


async def test_a_day_off_and_its_usual_hours(opened: Opened, desk: Desk) -> None:
    booked(desk)
    day = NOW.date() + timedelta(days=1)
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+d", "down", "f7")
        assert [(rule.day, rule.kind) for rule in desk.kitchen.days()] == [(day, "off")]
        assert "a day off" in screen_text(pilot.app) and "········  off" in screen_text(pilot.app)
        await press(pilot, "f7")
        assert desk.kitchen.days() == ()


@pytest.mark.parametrize(
    ("typed", "kept"), [("06:30-08:00", "06:30-08:00"), ("", None), ("soon", None), ("03:00-04:00", None)]
)
async def test_hours_more(opened: Opened, desk: Desk, typed: str, kept: str | None) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+d", "down", "f8")
        for letter in typed:
            await pilot.press({":": "colon", "-": "minus"}.get(letter, letter))
        await press(pilot, "enter")
        assert [rule.hours for rule in desk.kitchen.days()] == ([kept] if kept else [])
        if typed and not kept:
            assert "!" in screen_text(pilot.app) and typed in notice(pilot)


async def test_the_month(opened: Opened, desk: Desk) -> None:
    booked(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+d", "f6")
        shown = screen_text(pilot.app)
        assert "Mon      Tue      Wed      Thu      Fri      Sat      Sun" in shown
        assert "12 →1" in shown
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Bench)


async def test_the_conversation_of_a_line(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened() as pilot:
        await press(pilot, "f9")
        assert isinstance(pilot.app.screen, Rack)
        await to_work(pilot)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Rack)
        await to_work(pilot)
        await press(pilot, "f3")
        assert isinstance(pilot.app.screen, Counter)
        assert pilot.app.screen.view.thread_id == order.thread_id


async def test_another_window_shows_on_the_bench(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened() as pilot:
        await to_work(pilot)
        assert any(line.task == "mix dough" for line in bench(pilot)._lines)
        with Desk(desk.home, now=lambda: NOW) as other:
            other.kitchen.tick(order, "mix dough", 1)
        pilot.app._peek()  # type: ignore[attr-defined]
        await pilot.pause()
        await press(pilot, "f1", "escape")
        assert all(line.task != "mix dough" or line.state == "done" for line in bench(pilot)._lines)


async def test_a_click_points_at_a_day(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+d")
        await pilot.click("#days", offset=(5, 3))
        await press(pilot, "f6", "escape")
        assert bench(pilot).day == date(2026, 11, 28)


async def test_a_key_pressed_twice_ticks_one_line(opened: Opened, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tui.bench.TWICE", 1e6)
    order = booked(desk)
    async with opened(SMALL) as pilot:
        await to_work(pilot)
        await pilot.press("f4", "f4")
        await press(pilot, "f4")
        assert [mark.step for mark in desk.kitchen.ticked_on(NOW.date())] == ["mix dough"]
        assert desk.order(order.id).step == "bake"


@pytest.mark.parametrize(
    ("state", "said"), [("draft", True), ("booked", False)], ids=["not booked", "booked"]
)
def test_labels_of_an_order_that_is_not_booked_say_so(desk: Desk, state: str, said: bool) -> None:
    order = booked(desk) if state == "booked" else whole_slip(desk)
    _, found = desk.papers.labels(order)
    assert any("is not booked (draft)" in note for note in found.notes) is said
