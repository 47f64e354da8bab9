"""Words chosen in a message and said to be a field: read by the reader, kept as hers, taken back."""

from __future__ import annotations

from datetime import date, time

import pytest

from intake.desk import Desk
from intake.model import Due, OrdertinError
from tui.conversation import Bubble
from tui.what_sheet import FIELDS, WhatSheet

from .conftest import LARGE, SMALL, Opened, booked, counter, press, settle, slip
from .seen import notice, row


@pytest.mark.parametrize(
    ("field", "said", "value"),
    [
        ("count", "3 dozen", 36),
        ("due", "Saturday, December 19 at noon", Due.on(date(2026, 12, 19), time(12))),
        ("handover", "ship it to my mom", "ship"),
        ("colors", "pink and gold", ("pink", "gold")),
        ("count", "whatever you like", None),
    ],
)
def test_words_alone_are_read_as_a_field(desk: Desk, field: str, said: str, value: object) -> None:
    assert desk.read_as(slip(desk).id, field, said) == value


async def test_words_are_chosen_by_keys_and_taken_back(opened: Opened, desk: Desk) -> None:
    slip(desk, "Hello there!\nunicorn cookies for Ada please, 2 dozen, pickup on December 12 at 2pm")
    async with opened(SMALL) as pilot:
        await counter(pilot).do("what")
        await settle(pilot)
        assert isinstance(pilot.app.screen, WhatSheet)
        await press(pilot, "tab", "enter")
        assert isinstance(pilot.app.screen, WhatSheet)
        await press(pilot, "down", *["right"] * 20, *["shift+right"] * 3, "tab")
        await press(pilot, *["down"] * FIELDS.index("honoree"), "enter")
        assert "is now Ada" in notice(pilot)
        assert "Ada" in row(pilot, "honoree")
        order = counter(pilot).view.order
        assert order
        assert order.draft.honoree.rule == "baker"
        await press(pilot, "f10")
        assert "Taken back" in notice(pilot)


async def test_words_that_are_no_such_field_are_refused_in_words(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    with pytest.raises(OrdertinError):
        desk.correct(order.id, {"count": "please"})
    async with opened(LARGE) as pilot:
        seen = counter(pilot)
        await seen.do("what")
        await settle(pilot)
        await press(pilot, "shift+right", "shift+right", "tab", "enter")
        assert "can't hold that" in notice(pilot)
        assert desk.order(order.id).draft.count.value == 24


async def test_words_are_chosen_with_the_mouse(opened: Opened, desk: Desk) -> None:
    slip(desk, "Ada wants cookies, 2 dozen unicorns, pickup on December 12 at 2pm")
    async with opened(LARGE) as pilot:
        # Below the line with who and when, behind the border and the padding.
        await pilot.mouse_down(Bubble, offset=(2, 1))
        await pilot.hover(Bubble, offset=(4, 1))
        await pilot.mouse_up(Bubble, offset=(4, 1))
        await settle(pilot)
        assert counter(pilot).get_selected_text() == "Ada"
        await counter(pilot).do("what")
        await settle(pilot)
        await press(pilot, *["down"] * FIELDS.index("honoree"), "enter")
        assert "Ada" in row(pilot, "honoree")
