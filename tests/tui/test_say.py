"""What is pasted or typed at the Counter: a new message, a correction, or neither."""

from __future__ import annotations

import pytest
from textual.widgets import Input

from intake.desk import Desk
from tui.ask import Ask
from tui.conversation import Conversation
from tui.slip import Slip

from .conftest import (
    SMALL,
    Opened,
    box,
    counter,
    paste,
    press,
    whole_slip,
    write,
)
from .seen import notice, screen_text, text_of


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
        assert "New message" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert "Correction to Dana Whitlock" in screen_text(pilot.app)


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
        assert box(pilot).text == "hmm"
        assert "hmm" in text_of(counter(pilot).query_one(Conversation))
        assert desk.order(order.id).draft == order.draft


async def test_a_message_that_can_not_be_read_is_told(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await paste(pilot, "x" * 300_000)
        await press(pilot, "enter")
        assert notice(pilot)
        assert desk.waiting() == ()
