"""Who the customer of the open conversation is: where else she wrote, what she ordered, who she may be."""

from __future__ import annotations

from datetime import date, time

import pytest

from intake.desk import Desk
from intake.model import Due
from tui.ask import Ask

from .conftest import LARGE, MESSAGE, SIZES, SMALL, Opened, booked, click, counter, press, slip, whole_slip
from .seen import notice, screen_text, text_of


@SIZES
async def test_where_else_she_wrote_and_what_she_ordered(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    first = booked(desk, phone="217-555-0142", due=Due.on(date(2026, 12, 5), time(9)))
    desk.advance(first.id, "handed over")
    order = slip(desk, f"{MESSAGE} again", sender="D. W.", phone="217-555-0142")
    async with opened(size) as pilot:
        assert counter(pilot).view.thread_id == order.thread_id
        told = " ".join(text_of(counter(pilot).query_one("#slip-known")).split())
        assert told == f"Also wrote: {first.thread_id} (chat). 1 other order, the last for Sat 5 Dec: ^x."
        assert "Also wrote" in screen_text(pilot.app)


async def test_of_a_new_customer_nothing_is_said(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    slip(desk, f"{MESSAGE} again", sender="Bea Ortiz", customer="Bea Ortiz")
    async with opened(LARGE) as pilot:
        assert not counter(pilot).query_one("#slip-known").display
        await pilot.app.screen.run_action("screen.same_customer")
        await press(pilot)
        assert "Nobody else" in notice(pilot)


@pytest.mark.parametrize("by", ["mouse", "palette"])
@pytest.mark.parametrize(("answer", "customers", "asks"), [("y", 1, False), ("n", 2, False), ("l", 2, True)])
async def test_a_like_name_is_asked_about(
    opened: Opened, desk: Desk, by: str, answer: str, customers: int, asks: bool
) -> None:
    whole_slip(desk, customer="Dana Whitlock")
    whole_slip(desk, f"{MESSAGE} again", sender="Dana  Whitlock", customer="Dana Whitlock")
    async with opened(SMALL) as pilot:
        known = counter(pilot).query_one("#slip-known")
        assert "The same as Dana Whitlock" in " ".join(text_of(known).split())
        if by == "mouse":
            await click(pilot, "#slip-known")
        else:
            await press(pilot, "ctrl+p", *"same", "enter")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, answer)
        assert len(desk.customers()) == customers
        assert ("The same as" in text_of(known)) is asks
        assert len(desk.alike()) == asks
