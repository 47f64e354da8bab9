"""The number of a parcel is asked for once, before the word that it is on its way, and stands in that word."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot
from textual.widgets import TextArea

from intake.desk import Desk
from intake.model import Reply
from tui.counter_tracking import with_number
from tui.reply_sheet import ReplySheet
from tui.typed import Typed

from .conftest import SIZES, SMALL, Opened, booked, click, counter, press, settle, write
from .seen import screen_text, text_of


def text(pilot: Pilot[int]) -> str:
    assert isinstance(pilot.app.screen, ReplySheet)
    return pilot.app.screen.query_one(TextArea).text


def packed(desk: Desk) -> None:
    order = booked(desk, handover="ship", address="12 Alder Ct")
    desk.replied(order.id, desk.reply(order.id, "confirm"), "by hand")
    desk.advance(order.id, "pack")


@SIZES
async def test_it_is_asked_for_and_told(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    packed(desk)
    async with opened(size) as pilot:
        counter(pilot).open("t1")
        await settle(pilot)
        await press(pilot, "f7")
        assert isinstance(pilot.app.screen, Typed)
        await write(pilot, "94 00")
        await press(pilot, "enter")
        assert "Tracking number: 94 00\n" in text(pilot)
        assert desk.order(1).tracking == "94 00"
        # It is not asked for again, but can be changed: here by mouse.
        await press(pilot, "escape", "f7")
        assert "Tracking number: 94 00" in screen_text(pilot.app)
        await click(pilot, "#tracking")
        await press(pilot, "end", "5")
        await click(pilot, "#save")
        assert "Tracking number: 94 005\n" in text(pilot)


async def test_it_may_be_left_empty(opened: Opened, desk: Desk) -> None:
    packed(desk)
    async with opened(SMALL) as pilot:
        counter(pilot).open("t1")
        await settle(pilot)
        await press(pilot, "f7", "enter")
        assert "racking" not in text(pilot)
        await press(pilot, "escape", "f7")
        assert "on their way" in text(pilot)
        assert desk.order(1).tracking == ""


async def test_what_to_bear_in_mind_of_a_parcel_is_in_sight_and_is_not_sent(
    opened: Opened, desk: Desk, copied: list[str]
) -> None:
    packed(desk)
    async with opened(SMALL) as pilot:
        counter(pilot).open("t1")
        await settle(pilot)
        await press(pilot, "f7", "enter")
        seen = " ".join(text_of(pilot.app.screen).split())
        assert "Bear in mind: Selling across a state line may not be allowed" in seen
        assert "on their way" in screen_text(pilot.app)
        await press(pilot, "f7")
        assert "state line" not in copied[0]


async def test_other_answers_do_not_ask_for_it(opened: Opened, desk: Desk) -> None:
    booked(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f7", "f3")
        assert text(pilot).startswith("Hi Dana")
        assert not counter(pilot).ordertin.screen.query("#tracking")


#: What the baker made of the answer, the number before, and what is left of it with the number 77.
CHANGED = [
    ("Hi.\n\nBye", "", "Hi.\n\nNumber: 77\n\nBye"),
    ("Hi my dear.", "", "Hi my dear.\n\nNumber: 77\n"),
    ("Hi my dear, it is 55, yes 55.", "55", "Hi my dear, it is 77, yes 77."),
    ("Hi my dear.", "55", "Hi my dear.\n\nNumber: 77\n"),
]


@pytest.mark.parametrize(("now", "old", "then"), CHANGED)
def test_what_she_has_changed_is_kept(now: str, old: str, then: str) -> None:
    before = Reply("sent", "", "", "Hi.\n\nBye")
    fresh = Reply("sent", "", "", "Hi.\n\nNumber: 77\n\nBye")
    assert with_number(Reply("sent", "", "", now), before, fresh, old, "77").text == then
