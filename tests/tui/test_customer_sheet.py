"""The customer's sheet, from the Counter and the Rack: her diet in bold words, her orders, the same again."""

from __future__ import annotations

from datetime import date, time

from textual.widgets import OptionList

from intake.desk import Desk
from intake.model import Due, State
from tui.counter import Counter
from tui.customer_sheet import CustomerSheet
from tui.rack import Rack

from .conftest import LARGE, SMALL, Opened, booked, click, counter, press
from .seen import notice, row, screen_text, text_of

PAST = Due.on(date(2026, 12, 5), time(14))


def handed_over(desk: Desk) -> int:
    order = booked(
        desk, honoree="Leo", age=5, dietary=("nut free",), colors=("green", "white"), due=PAST, occasion="birthday"
    )
    desk.advance(order.id, State.HANDED_OVER.value)
    return order.id


async def test_the_same_as_last_time_by_keyboard_and_taken_back(opened: Opened, desk: Desk) -> None:
    past = handed_over(desk)
    desk.paste("Hi, it's Dana again: the same as last time please, for January 16!", sender="Dana Whitlock",
               to=desk.order(past).thread_id)  # fmt: skip
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+x")
        assert isinstance(pilot.app.screen, CustomerSheet)
        told = screen_text(pilot.app)
        for said in ("DIET: NUT FREE", "Leo turns 5 around Sat 5 Dec", "likes colors: green", "24 unicorns"):
            assert said in told
        await press(pilot, "f4")
        assert isinstance(pilot.app.screen, Counter)
        assert "check" in row(pilot, "dietary")
        assert "nut free" in row(pilot, "dietary")
        assert "check" in row(pilot, "theme")
        assert counter(pilot).view.order.id != past  # type: ignore[union-attr]
        assert f"As in slip {past}" in notice(pilot)
        await press(pilot, "f10")
        assert "same again" in notice(pilot)


async def test_from_the_rack_by_mouse_to_her_conversation(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "f9")
        assert isinstance(pilot.app.screen, Rack)
        await press(pilot, "ctrl+x")
        sheet = pilot.app.screen
        assert "not the same as none: ask" in text_of(sheet)
        rows = sheet.query_one(OptionList)
        assert rows.highlighted == 1
        await click(pilot, "#talk")
        assert isinstance(pilot.app.screen, Counter)
        assert counter(pilot).view.thread_id == order.thread_id
