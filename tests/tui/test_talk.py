"""What is typed at the Counter and answered there: asks, acts that are shown first, doubts, and keys in a hurry."""

from __future__ import annotations

import threading
from typing import Any

import pytest

from intake import desk_talk
from intake.desk import Desk
from intake.model import State
from tui.ask import Ask
from tui.conversation import Conversation
from tui.slip import Slip

from .conftest import SIZES, SMALL, Opened, booked, box, counter, press, settle, slip, whole_slip, write
from .seen import notice, row, screen_text, text_of


async def say(pilot: Any, words: str) -> None:
    await write(pilot, words)
    await press(pilot, "enter")


def talk(pilot: Any) -> str:
    return text_of(counter(pilot).query_one(Conversation))


@SIZES
async def test_an_ask_is_answered_in_the_conversation(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    booked(desk, sender="Bea Ortiz")
    whole_slip(desk)
    before = desk.version()
    async with opened(size) as pilot:
        await say(pilot, "whats due that week?")
        shown = screen_text(pilot.app)
        assert "you » whats due that week?" in shown
        assert "Bea Ortiz" in shown
        assert box(pilot).text == ""
        assert notice(pilot).endswith("…")
    assert desk.version() == before


@pytest.mark.parametrize("by", ["enter", "y", "click"])
@SIZES
async def test_an_act_is_shown_done_with_a_yes_and_taken_back(
    opened: Opened, desk: Desk, size: tuple[int, int], by: str
) -> None:
    order = whole_slip(desk)
    async with opened(size) as pilot:
        await say(pilot, "price it")
        assert isinstance(pilot.app.screen, Ask)
        assert "in all" in screen_text(pilot.app)
        assert desk.order(order.id).quote is None
        if by == "click":
            await pilot.click("#answer-y")
            await settle(pilot)
        else:
            await press(pilot, by)
        assert desk.order(order.id).quote
        assert "» Priced:" in talk(pilot)
        await press(pilot, "f10")
        assert desk.order(order.id).quote is None
        assert "taken back: price it" in talk(pilot)


async def test_undo_by_a_word_marks_what_was_taken_back(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await say(pilot, "price it")
        await press(pilot, "enter")
        await say(pilot, "undo")
        await press(pilot, "enter")
        assert desk.order(order.id).quote is None
        assert "taken back: price it" in talk(pilot)


@pytest.mark.parametrize(("words", "keys"), [("price it", ["escape"]), ("price it", ["n"]), ("drp it", ["enter"])])
async def test_a_no_changes_nothing(opened: Opened, desk: Desk, words: str, keys: list[str]) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        await say(pilot, words)
        await press(pilot, *keys)
        assert desk.order(order.id) == order
        assert "Left as it was." in talk(pilot)


async def test_a_doubt_is_asked_about_and_settled_by_a_figure(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await say(pilot, "due next friday")
        assert "27 Nov" in screen_text(pilot.app)
        await press(pilot, "2")
        assert "Fri 4 Dec" in row(pilot, "due")


async def test_the_up_arrow_brings_back_what_was_typed(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await say(pilot, "make it 3 dozen")
        await say(pilot, "no names")
        await write(pilot, "du")
        seen = []
        for key in ("up", "up", "up", "down", "down"):
            await press(pilot, key)
            seen.append(box(pilot).text)
        assert seen == ["no names", "make it 3 dozen", "make it 3 dozen", "no names", "du"]


async def test_the_up_arrow_walks_the_slip_but_right_after_a_line(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await say(pilot, "make it 3 dozen")
        await press(pilot, "up")
        assert box(pilot).text == "make it 3 dozen"
        await press(pilot, "down", "down")
        assert box(pilot).text == ""
        here = counter(pilot).query_one(Slip).field
        await press(pilot, "up")
        assert box(pilot).text == ""
        assert counter(pilot).query_one(Slip).field != here


class Slow:
    """Hears words only once `go` is set."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.go = threading.Event()
        hear = desk_talk.hear

        def waits(*given: Any, **more: Any) -> Any:
            assert self.go.wait(20)
            return hear(*given, **more)

        monkeypatch.setattr(desk_talk, "hear", waits)


async def test_keys_pressed_while_words_are_read_wait_their_turn(
    opened: Opened, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    """F4 confirms what the words have just set; what is typed meanwhile stays in the box."""
    order = whole_slip(desk, count=None)
    slow = Slow(monkeypatch)
    async with opened(SMALL) as pilot:
        await write(pilot, "make it 3 dozen")
        await pilot.press("enter", "n", "o", "f4")
        assert box(pilot).text == "no"
        assert not desk.order(order.id).draft.count.value
        slow.go.set()
        await settle(pilot)
        await settle(pilot)
        after = desk.order(order.id).draft
        assert after.count.value == 36
        assert all(cell.sure for cell in (after.due, after.theme, after.count))
        assert "Confirmed" in notice(pilot) or "confirmed already" in notice(pilot)
        assert box(pilot).text == "no"


async def test_a_key_pressed_before_the_question_is_seen_does_not_answer_it(
    opened: Opened, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    order = whole_slip(desk)
    slow = Slow(monkeypatch)
    async with opened(SMALL) as pilot:
        await write(pilot, "drop it")
        await pilot.press("enter", "enter", "enter")
        slow.go.set()
        await settle(pilot)
        assert isinstance(pilot.app.screen, Ask)
        assert desk.order(order.id).state is not State.DROPPED


@pytest.mark.parametrize(("key", "messages"), [("m", 0), ("c", 1), ("l", 0)])
async def test_with_no_slip_open_it_is_asked_whose_words_they_are(
    opened: Opened, desk: Desk, key: str, messages: int
) -> None:
    async with opened(SMALL) as pilot:
        await say(pilot, "when could I do 4 dozen?")
        assert "Is this said to me" in screen_text(pilot.app)
        await press(pilot, key)
        assert len(desk.waiting()) == messages
        assert (box(pilot).text != "") is (key == "l")


async def test_words_lead_to_a_conversation_a_screen_and_an_answer(opened: Opened, desk: Desk) -> None:
    first = slip(desk, sender="Ana Brook")
    slip(desk, "3 dozen gnomes, pickup December 19", sender="Bea Ortiz")
    async with opened(SMALL) as pilot:
        await say(pilot, "open Ana's order")
        assert counter(pilot).view.thread_id == first.thread_id
        assert "you » open Ana's order" in talk(pilot)
        await say(pilot, "ask her the flavour")
        assert "Which flavor would you like?" in text_of(pilot.app.screen) or "flavor" in screen_text(pilot.app)
        await press(pilot, "escape")
        await say(pilot, "go to the rack")
        assert pilot.app.screen is not counter(pilot)
