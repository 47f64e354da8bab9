"""What is pasted or typed at the Counter: a new message, a correction, or neither."""

from __future__ import annotations

import pytest
from textual.widget import Widget
from textual.widgets import Input

from intake.desk import Desk
from tui.ask import Ask
from tui.conversation import Conversation
from tui.slip import Slip
from tui.tray import Tray

from .conftest import (
    MESSAGE,
    SMALL,
    Opened,
    box,
    counter,
    paste,
    press,
    settle,
    slip,
    whole_slip,
    write,
)
from .seen import notice, row, screen_text, text_of


async def test_a_paste_over_an_open_slip_asks_what_it_is(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await paste(pilot, "Hello\r\ncan I get 4 dozen robots\r\nfor pickup?")
        assert isinstance(pilot.app.screen, Ask)
        assert "3 lines" in screen_text(pilot.app)
        await press(pilot, "n")
        assert len(desk.waiting()) == 2
        order = counter(pilot).view.order
        assert order and order.draft.count.value == 48


@pytest.mark.parametrize(
    ("key", "count", "left"), [("c", 60, ""), ("k", 24, "make it 5 dozen\n"), ("escape", 24, "")]
)
async def test_a_paste_may_be_a_correction_or_stay(
    opened: Opened, desk: Desk, key: str, count: int, left: str
) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        await paste(pilot, "make it 5 dozen\nplease")
        await press(pilot, key)
        assert desk.order(order.id).draft.count.value == count
        assert box(pilot).text.startswith(left)
        assert len(desk.waiting()) == 1


@pytest.mark.parametrize(
    ("text", "asks"), [("3 dozen", False), ("3 dozen\n", False), ("a\nb", True), ("very " * 40, True)]
)
async def test_only_a_long_or_many_lined_paste_asks(opened: Opened, desk: Desk, text: str, asks: bool) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await paste(pilot, text)
        assert isinstance(pilot.app.screen, Ask) is asks


async def test_a_paste_reaches_the_box_from_anywhere(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened() as pilot:
        counter(pilot).query_one(Slip).focus()
        await paste(pilot, "3 dozen")
        assert box(pilot).text == "3 dozen"
        assert box(pilot).has_focus


async def test_a_new_message_with_its_sender(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f2")
        counter(pilot).query_one("#say-from", Input).value = "Lee [b]Park[/]"
        await paste(pilot, "4 dozen robots\nfor pickup")
        await press(pilot, "enter")
        assert counter(pilot).view.case and counter(pilot).view.case.thread.customer == "Lee [b]Park[/]"
        assert not counter(pilot).wants_new


async def test_new_message_goes_back_without_a_trace(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f2")
        assert "Typing: new message" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert "Typing: about Dana Whitlock" in screen_text(pilot.app)


async def test_keys_that_come_all_at_once_keep_their_order(opened: Opened, desk: Desk) -> None:
    """As from a terminal that sends a paste as keys."""
    slip(desk)
    async with opened(SMALL) as pilot:
        await write(pilot, "make it 3 dozen\r")
        assert counter(pilot).view.order is not None
        assert desk.order(counter(pilot).view.order.id).draft.count.value == 36
        assert box(pilot).text == ""


async def test_lines_typed_with_ctrl_j_are_one_message(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await write(pilot, "2 dozen\npickup")
        assert box(pilot).text == "2 dozen\npickup"
        await press(pilot, "enter")
        assert box(pilot).text == ""
        assert len(desk.waiting()) == 1


async def test_words_that_are_not_understood_stay_in_the_box(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await write(pilot, "hmm")
        await press(pilot, "enter")
        assert box(pilot).text == box(pilot).selected_text == "hmm"
        assert "hmm" in text_of(counter(pilot).query_one(Conversation))
        assert desk.order(order.id).draft == order.draft


async def test_a_message_that_can_not_be_read_is_told(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await paste(pilot, "x" * 300_000)
        await press(pilot, "enter")
        assert notice(pilot)
        assert desk.waiting() == ()


@pytest.mark.parametrize("outside", [Slip, Conversation, Tray])
async def test_a_sentence_typed_outside_the_box_is_typed_into_it(
    opened: Opened, desk: Desk, outside: type[Widget]
) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        counter(pilot).set_focus(counter(pilot).query_one(outside))
        await write(pilot, "make it 3 dozen")
        await settle(pilot)
        assert box(pilot).text == "make it 3 dozen"
        await press(pilot, "enter")
        assert desk.order(order.id).draft.count.value == 36


async def test_escape_and_a_sentence_change_nothing_but_what_it_says(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    before = desk.version()
    async with opened(SMALL) as pilot:
        await pilot.press("escape")
        await write(pilot, "due saturday, book pack drop undo")
        await settle(pilot)
        assert box(pilot).has_focus
        assert box(pilot).text == "due saturday, book pack drop undo"
        assert (desk.version(), desk.order(order.id).state) == (before, order.state)


async def test_the_line_above_the_box_says_where_keys_go(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        mode = counter(pilot).query_one("#say-mode")
        assert text_of(mode) == "Typing: about Dana Whitlock, 24 cookies (arrows: slip)"
        await write(pilot, "x")
        assert "arrows: text" in text_of(mode)
        await press(pilot, "backspace")
        assert "arrows: slip" in text_of(mode)
        counter(pilot).query_one(Conversation).focus()
        await settle(pilot)
        assert "arrows: conversation" in text_of(mode)
        await press(pilot, "f2")
        assert text_of(mode) == "Typing: new message"


async def test_what_was_taken_back_is_marked_and_the_next_typing_replaces_it(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened() as pilot:
        talk = counter(pilot).query_one(Conversation)
        for words in ("make it 3 dozen", "pickup at 4pm"):
            await write(pilot, words)
            await press(pilot, "enter")
        await write(pilot, "hmm")
        await press(pilot, "f10")
        assert "taken back: pickup at 4pm" in text_of(talk)
        assert "taken back: make it 3 dozen" not in text_of(talk)
        await write(pilot, "z")
        assert box(pilot).text == "z"
        await press(pilot, "f10")
        assert "taken back: make it 3 dozen" in text_of(talk)


async def test_words_left_for_one_customer_are_not_added_to_for_another(opened: Opened, desk: Desk) -> None:
    for name in ("Ana", "Bea"):
        slip(desk, f"{MESSAGE} {name}", sender=name)
    async with opened(SMALL) as pilot:
        await write(pilot, "due satur")
        await press(pilot, "f3")
        await write(pilot, "3")
        assert box(pilot).text == "3"


async def test_a_field_changed_by_hand_is_not_taken_for_what_was_said(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened() as pilot:
        await write(pilot, "make it 3 dozen")
        await press(pilot, "enter")
        counter(pilot).query_one(Slip).point("count")
        await press(pilot, "enter")
        pilot.app.screen.query_one(Input).value = "48"
        pilot.app.screen.query_one(Input).focus()
        await press(pilot, "enter", "f10")
        talk = counter(pilot).query_one(Conversation)
        assert "36 (3 dozen)" in row(pilot, "count")
        assert "taken back" not in text_of(talk)
        await press(pilot, "f10")
        assert "taken back: make it 3 dozen" in text_of(talk)


async def test_much_talk_leaves_the_customers_words_in_sight(opened: Opened, desk: Desk) -> None:
    desk.paste("2 dozen unicorns please, pickup Saturday, December 12 at 2pm", sender="Dana")
    async with opened(SMALL) as pilot:
        for _ in range(6):
            await write(pilot, "say something that is not understood at all")
            await press(pilot, "enter")
        assert "2 dozen unicorns" in screen_text(pilot.app)
        assert "you » say something" in screen_text(pilot.app)


@pytest.mark.parametrize(("new", "text"), [(False, "make it 3 do"), (True, "Hello, can I\nhave 4 dozen [b] robots")])
async def test_what_was_half_typed_outlives_the_terminal(opened: Opened, desk: Desk, new: bool, text: str) -> None:
    slip(desk, f"{MESSAGE} one", sender="Ana")
    second = slip(desk, f"{MESSAGE} two", sender="Bea")
    async with opened(SMALL) as pilot:
        counter(pilot).open(second.thread_id)
        await settle(pilot)
        if new:
            await press(pilot, "f2")
        box(pilot).text = text
        await settle(pilot)
        counter(pilot)._keep_typed()
    kept = desk.home.book.with_name("unsent.json")
    assert kept.stat().st_mode & 0o077 == 0
    async with opened(SMALL) as pilot:
        assert box(pilot).text == text
        assert counter(pilot).wants_new is new
        assert new or counter(pilot).view.thread_id == second.thread_id
        box(pilot).text = ""
        await settle(pilot)
        counter(pilot)._keep_typed()
    assert not kept.exists()
