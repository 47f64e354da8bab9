"""The Counter from a pasted message to a booked order, by keys alone and by mouse alone, on both sizes of terminal."""

from __future__ import annotations

from datetime import date, time

import pytest
from textual.widgets import Input, TextArea

from intake.desk import Desk
from intake.model import Due, State
from tui.ask import Ask
from tui.cell_edit import CellEdit
from tui.counter import Counter
from tui.rack import Rack
from tui.reply_sheet import ReplySheet
from tui.slip import Slip

from .conftest import (
    MESSAGE,
    SIZES,
    SMALL,
    Opened,
    box,
    click,
    counter,
    paste,
    press,
    settle,
    whole_slip,
    write,
)
from .seen import notice, row, screen_text, text_of


@SIZES
async def test_the_whole_road_by_keyboard(opened: Opened, desk: Desk, copied: list[str], size: tuple[int, int]) -> None:
    async with opened(size) as pilot:
        await paste(pilot, MESSAGE)
        assert box(pilot).text == MESSAGE
        await press(pilot, "enter")
        order = counter(pilot).view.order
        assert order and order.draft.count.value == 24

        await write(pilot, "make it 3 dozen, pickup")
        await press(pilot, "enter")
        assert "36 (3 dozen)" in row(pilot, "count")

        desk.correct(order.id, {"due": Due.on(date(2026, 12, 12), time(14)), "customer": "Dana", "theme": "unicorns"})
        counter(pilot).reload()
        await settle(pilot)
        await press(pilot, "f4", "f5")
        assert "in all" in text_of(counter(pilot).query_one("#part-price"))
        await press(pilot, "f6")
        assert "Fits" in text_of(counter(pilot).query_one("#part-room"))
        await press(pilot, "f7")
        assert isinstance(pilot.app.screen, ReplySheet)
        await press(pilot, "f7")
        assert notice(pilot).startswith("Sent to the terminal's clipboard")
        assert len(copied) == 1 and "Dana" in copied[0]
        assert desk.case(order.thread_id).thread.messages[-1].mine
        await press(pilot, "f8")
        assert desk.order(order.id).state is State.BOOKED
        await press(pilot, "f9")
        assert isinstance(pilot.app.screen, Rack)
        assert "Sat 12 Dec" in screen_text(pilot.app)
        assert "Dana" in screen_text(pilot.app)


@SIZES
async def test_the_whole_road_by_mouse(opened: Opened, desk: Desk, copied: list[str], size: tuple[int, int]) -> None:
    order = whole_slip(desk)
    async with opened(size) as pilot:
        await click(pilot, "#row-count .value")
        await click(pilot, "#row-count .value")
        assert isinstance(pilot.app.screen, CellEdit)
        pilot.app.screen.query_one(Input).value = "36"
        await click(pilot, "#save")
        assert "36 (3 dozen)" in row(pilot, "count")
        await click(pilot, "#cap-confirm")
        await click(pilot, "#cap-price")
        await click(pilot, "#cap-room")
        await click(pilot, "#cap-reply")
        await click(pilot, "#copy")
        assert len(copied) == 1
        await click(pilot, "#cap-book")
        assert desk.order(order.id).state is State.BOOKED
        await click(pilot, "#cap-go_rack")
        assert isinstance(pilot.app.screen, Rack)
        await click(pilot, "#cap-go_counter")
        assert isinstance(pilot.app.screen, Counter)


async def test_headings_of_the_slip_are_buttons(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    desk.confirm(order.id)
    async with opened() as pilot:
        await click(pilot, "#part-price .heading")
        assert desk.order(order.id).quote
        await click(pilot, "#part-reply .heading")
        assert isinstance(pilot.app.screen, ReplySheet)


@pytest.mark.parametrize("keys", [["escape"], ["tab"]])
async def test_letters_are_keys_outside_the_box(opened: Opened, desk: Desk, keys: list[str]) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "shift+tab", *keys) if keys == ["tab"] else await press(pilot, *keys)
        box(pilot).screen.query_one(Slip).focus()
        await press(pilot, "c", "p")
        assert desk.order(order.id).state is State.QUOTED


@pytest.mark.parametrize(
    ("values", "keys", "said"),
    [
        ({"count": None}, ["f5"], "Not agreed yet: count"),
        ({"due": Due(date(2026, 12, 10), date(2026, 12, 12))}, ["f4"], "Not agreed yet: day"),
        ({}, ["f4", "f8"], "Not priced yet"),
        ({}, ["ctrl+g"], "still open"),
    ],
)
async def test_what_can_not_be_done_yet_says_why(
    opened: Opened, desk: Desk, values: dict[str, object], keys: list[str], said: str
) -> None:
    whole_slip(desk, **values)
    async with opened(SMALL) as pilot:
        await press(pilot, *keys)
        assert said in notice(pilot)


async def test_a_clash_is_told_and_booking_asks_first(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk, count=600, due=Due.on(date(2026, 11, 27), time(9)))
    async with opened() as pilot:
        await press(pilot, "f4", "f5", "f6")
        room = text_of(counter(pilot).query_one("#part-room"))
        assert "Clash: it can't be made in time" in room
        assert "First day that would work" in room or "No day ahead" in room

        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, "l")
        assert notice(pilot) == "Not booked."
        await press(pilot, "f8", "b")
        assert desk.order(order.id).state is State.BOOKED


async def test_booking_looks_at_the_room_by_itself(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    desk.confirm(order.id)
    desk.quote(order.id)
    async with opened() as pilot:
        await press(pilot, "f8")
        assert desk.order(order.id).state is State.BOOKED


async def test_a_verdict_does_not_outlive_what_it_rests_on(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "f6")
        assert counter(pilot).view.room
        await paste(pilot, "make it 5 dozen")
        await press(pilot, "enter")
        assert counter(pilot).view.room is None
        assert "has changed" in text_of(counter(pilot).query_one("#part-room"))




async def test_an_answer_is_changed_and_written_to_a_file(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f7")
        pilot.app.screen.query_one(TextArea).text = "Hi Dana, [b]yes[/b]!"
        await press(pilot, "f8")
        path = next((desk.home.book.parent / "answers").iterdir())
        assert path.read_text(encoding="utf-8") == "Hi Dana, [b]yes[/b]!\n"
        assert path.stat().st_mode & 0o077 == 0
        assert path.name in notice(pilot).replace("\n", "")
        assert desk.case(order.thread_id).thread.messages[-1].text.strip() == "Hi Dana, [b]yes[/b]!"


async def test_another_answer_and_none_at_all(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "f7")
        sheet = pilot.app.screen
        assert isinstance(sheet, ReplySheet)
        first = sheet._reply.kind
        await press(pilot, "f6")
        assert isinstance(pilot.app.screen, ReplySheet)
        assert pilot.app.screen._reply.kind != first
        await press(pilot, "escape")
        assert "went nowhere" in notice(pilot)
        assert not desk.case(order.thread_id).thread.messages[-1].mine
