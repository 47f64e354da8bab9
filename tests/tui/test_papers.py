"""The papers of the Rack and the Bench: where they are written, what is listed, what is said."""

from __future__ import annotations

from datetime import date, time

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Due
from tests.papers.kit import pages

from .conftest import LARGE, Opened, booked, press, settle
from .seen import notice, screen_text


@pytest.mark.parametrize(
    ("action", "name"), [("day_sheet", "day-2026-11-25.pdf"), ("calendar_file", "orders.ics")]
)
async def test_a_paper_is_written_and_it_is_said_where(
    opened: Opened, desk: Desk, home: Home, action: str, name: str
) -> None:
    booked(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "f9")
        await pilot.app.run_action(f"screen.{action}")
        await settle(pilot)
        assert (home.papers / name).stat().st_size > 200
        assert "Written: " in notice(pilot)
        assert home.papers.name in notice(pilot)


async def test_labels_of_the_order_pointed_at_and_what_they_lack(opened: Opened, desk: Desk, home: Home) -> None:
    order = booked(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "f9")
        await pilot.app.run_action("screen.labels")
        await settle(pilot)
        shown = screen_text(pilot.app)
        assert "your address" in shown
        assert "local code" in shown
        assert "NOT COMPLETE" in pages((home.papers / f"labels-{order.id}.pdf").read_bytes())[0]
        await press(pilot, "escape")
        assert f"labels-{order.id}.pdf" in notice(pilot)


async def test_without_an_order_there_are_no_labels(opened: Opened, home: Home) -> None:
    async with opened(LARGE) as pilot:
        await press(pilot, "f9")
        await pilot.app.run_action("screen.labels")
        await settle(pilot)
        assert "Point at an order" in notice(pilot)
        assert not home.papers.exists()


@pytest.mark.parametrize(("action", "says"), [("batch", "vanilla dough: 1 batch"), ("shopping", "flour: 1 x 5 lb")])
async def test_lists_are_shown_to_read_and_close(opened: Opened, desk: Desk, action: str, says: str) -> None:
    booked(desk, due=Due.on(date(2026, 12, 3), time(14)))
    async with opened(LARGE) as pilot:
        await press(pilot, "f9")
        await pilot.app.run_action(f"screen.{action}")
        await settle(pilot)
        assert says in screen_text(pilot.app)
        await press(pilot, "escape")
        assert says not in screen_text(pilot.app)


async def test_at_the_bench_they_are_of_the_day_and_the_line_chosen(opened: Opened, desk: Desk, home: Home) -> None:
    order = booked(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+d")
        while not desk.kitchen.bench().on(pilot.app.screen.day):
            await press(pilot, "down")
        await press(pilot, "down")
        day = pilot.app.screen.day
        assert day > desk.now().date()
        for action, name in (
            ("day_sheet", f"day-{day}.pdf"), ("labels", f"labels-{order.id}.pdf"), ("calendar_file", "orders.ics"),
        ):  # fmt: skip
            if action == "labels":
                await press(pilot, "up", "right")
            await pilot.app.run_action(f"screen.{action}")
            await settle(pilot)
            if action == "labels":
                await press(pilot, "escape")
            assert name in notice(pilot)
            assert (home.papers / name).stat().st_size > 200
        assert f"{day:%B} {day.day}" in pages((home.papers / f"day-{day}.pdf").read_bytes())[0]


async def test_a_line_of_no_order_has_no_labels(opened: Opened, home: Home) -> None:
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+d")
        await pilot.app.run_action("screen.labels")
        await settle(pilot)
        assert "Point at an order" in notice(pilot)
        assert not home.papers.exists()


async def test_a_paper_that_can_not_be_written_is_said(opened: Opened, desk: Desk, home: Home) -> None:
    booked(desk)
    home.papers.write_text("a file where the folder would be")
    async with opened(LARGE) as pilot:
        await press(pilot, "f9")
        await pilot.app.run_action("screen.day_sheet")
        await settle(pilot)
        assert "it can't be written" in notice(pilot)
