"""The Counter from a pasted message to a booked order, by keys alone and by mouse alone, on both sizes of terminal."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest
from textual.widgets import Button, Input, TextArea

from intake.desk import Desk
from intake.model import Cell, Due, State
from tui.ask import Ask
from tui.cell_edit import CellEdit
from tui.counter import Counter
from tui.rack import Rack
from tui.reply_sheet import ReplySheet
from tui.slip import Slip

from .conftest import (
    MESSAGE,
    NOW,
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


async def test_a_diet_is_to_check_until_it_is_confirmed_by_name(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk, f"{MESSAGE} He is allergic to nuts, so nut free please.")
    doubt = replace(order.draft, dietary=Cell(("nut-free",), False, order.draft.dietary.evidence, "ask about it"))
    with desk._book.change("as read", NOW) as change:
        desk._shelf.keep_order(change, replace(order, draft=doubt))
    desk.quote(order.id)
    async with opened(SMALL) as pilot:
        assert row(pilot, "dietary").lstrip("\u25b8").startswith("\u25d0 check diet nut-free")
        await press(pilot, "f8")
        assert "Still to check: diet" in notice(pilot)
        assert desk.order(order.id).state is State.QUOTED
        await press(pilot, "f4")
        assert "Diet settled: nut-free." in notice(pilot)
        assert row(pilot, "dietary").lstrip("\u25b8").startswith("\u25cf ok")
        await press(pilot, "f8")
        assert desk.order(order.id).state is State.BOOKED


async def test_an_allergy_that_may_be_meant_is_told_at_booking(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    with desk._book.change("as read", NOW) as change:
        kept = replace(order.draft, dietary=Cell(None, False, (), "an allergy may be meant"))
        desk._shelf.keep_order(change, replace(order, draft=kept))
    async with opened(SMALL) as pilot:
        await press(pilot, "f4", "f5", "f8")
        assert "Diet: an allergy may be meant" in notice(pilot)


async def test_the_partys_own_day_is_not_booked(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk, due_is="event")
    async with opened(SMALL) as pilot:
        assert "ask that is the party" in row(pilot, "due_is")
        for key in ("f4", "f5", "f8"):
            await press(pilot, key)
        assert "The day is the party's" in notice(pilot)
        assert "pickup the day before at 5" in notice(pilot)
        await press(pilot, "f7")
        assert "When before it would you like to have the cookies?" in pilot.app.screen.query_one(TextArea).text
        await press(pilot, "escape")
        counter(pilot).query_one(Slip).point("due_is")
        await press(pilot, "enter")
        pilot.app.screen.query_one(Input).value = "hand-over"
        pilot.app.screen.query_one(Input).focus()
        await press(pilot, "enter", "f4", "f5", "f8")
        assert desk.order(order.id).state is State.BOOKED


async def test_a_price_is_quoted_once_the_answer_has_gone_out(opened: Opened, desk: Desk, copied: list[str]) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        title = counter(pilot).query_one("#slip-title")
        await press(pilot, "f4", "f5")
        assert "priced" in text_of(title) and "quoted" not in text_of(title)
        await press(pilot, "f7", "f7")
        assert len(copied) == 1
        assert "quoted" in text_of(title)
        assert "quoted" in screen_text(pilot.app)
        desk.correct(order.id, {"count": 48})
        desk.quote(order.id)
        counter(pilot).reload()
        await settle(pilot)
        assert "priced" in text_of(title) and "quoted" not in text_of(title)


async def test_no_room_that_was_sent_shows_as_such(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk, count=600, due=Due.on(date(2026, 11, 27), time(9)))
    desk.replied(order.id, desk.reply(order.id, "no room"), "copied")
    async with opened() as pilot:
        assert "no room" in text_of(counter(pilot).query_one("#slip-title"))
        assert "Nobody waits for you" in notice(pilot)


async def test_a_booking_without_an_answer_is_told_and_its_room_stands(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "f4", "f5", "f6", "f8")
        assert desk.order(order.id).state is State.BOOKED
        assert "Fits" in text_of(counter(pilot).query_one("#part-room"))
        shown = screen_text(pilot.app)
        assert "booked, answer not sent" in shown
        assert "unread" not in shown and "no name" not in shown and "no day yet" not in shown


async def test_a_dropped_order_asks_once_and_leaves_the_list(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "ctrl+r")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, "l")
        assert (notice(pilot), desk.order(order.id).state) == ("Not dropped.", State.DRAFT)
        await press(pilot, "ctrl+r", "d")
        assert desk.order(order.id).state is State.DROPPED
        assert desk.waiting() == ()
        await press(pilot, "f10")
        assert len(desk.waiting()) == 1


async def test_another_answer_passes_over_a_question_with_nothing_to_ask(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    desk.confirm(order.id)
    desk.quote(order.id)
    async with opened() as pilot:
        await press(pilot, "f7")
        kinds = []
        for _ in range(4):
            assert isinstance(pilot.app.screen, ReplySheet)
            kinds.append(pilot.app.screen._reply.kind)
            await press(pilot, "f6")
        assert kinds == ["quote", "confirm", "no room", "quote"]


async def test_a_changed_answer_outlives_the_terminal_while_it_still_holds(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f7")
        pilot.app.screen.query_one(TextArea).text = "Hi Dana, half"
        await settle(pilot)
        pilot.app.screen._keep()  # type: ignore[attr-defined]
    async with opened(SMALL) as pilot:
        await press(pilot, "f7")
        assert pilot.app.screen.query_one(TextArea).text == "Hi Dana, half"
        await press(pilot, "escape")
        desk.correct(order.id, {"customer": "Bea"})
        counter(pilot).reload()
        await press(pilot, "f7")
        assert "half" not in pilot.app.screen.query_one(TextArea).text


@pytest.mark.parametrize("size", [(60, 15), SMALL])
async def test_sheets_keep_their_buttons_and_the_foot_its_last_keys(
    opened: Opened, desk: Desk, size: tuple[int, int]
) -> None:
    whole_slip(desk)
    async with opened(size) as pilot:
        screen = pilot.app.screen.region
        for cap in ("#cap-undo", "#cap-more"):
            assert screen.contains_region(pilot.app.screen.query_one(cap).region), cap
        assert "F10 Undo" in screen_text(pilot.app) and "^p More" in screen_text(pilot.app)
        await press(pilot, "f7")
        for button in pilot.app.screen.query(Button):
            assert screen.contains_region(button.region), button.id
        assert pilot.app.screen.query_one(TextArea).region.height >= 3
        await press(pilot, "escape")
        for field in ("due_is", "count", "lettering"):
            counter(pilot).query_one(Slip).all_fields = True
            counter(pilot).query_one(Slip).point(field)
            counter(pilot).action_edit()
            await settle(pilot)
            for button in pilot.app.screen.query(Button):
                assert screen.contains_region(button.region), (field, button.id)
            await press(pilot, "escape")


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
