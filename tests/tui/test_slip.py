"""The slip: walking it, changing its fields, and the words that they were read from."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from intake.desk import Desk
from intake.model import Quote
from tui.cell_edit import CellEdit
from tui.conversation import MARK, Bubble
from tui.slip import Slip, price

from .conftest import (
    MESSAGE,
    SIZES,
    SMALL,
    Opened,
    click,
    counter,
    press,
    whole_slip,
)
from .seen import row, screen_text


async def test_arrows_walk_the_slip_and_mark_the_words(opened: Opened, desk: Desk) -> None:
    desk.paste(MESSAGE, sender="Dana Whitlock")
    async with opened() as pilot:
        slip_ = counter(pilot).query_one(Slip)
        for _ in slip_.fields:
            await press(pilot, "up")
        walked = [slip_.field]
        for _ in slip_.fields[1:]:
            await press(pilot, "down")
            walked.append(slip_.field)
            if slip_.field == "count":
                assert "2 dozen" in marked_words(pilot)
        assert tuple(walked) == slip_.fields


def marked_words(pilot: Pilot[int]) -> str:
    return " ".join(
        bubble.content.plain[span.start : span.end]
        for bubble in counter(pilot).query(Bubble)
        for span in bubble.content.spans
        if span.style == MARK
    )


def test_money_due_on_one_day_names_it_once() -> None:
    day = date(2026, 12, 1)
    made = Quote((), Decimal(72), Decimal(36), Decimal(36), "USD", "plain", day, day, day, day)
    assert "deposit $36.00, rest $36.00, both by Tue 1 Dec" in price(made, day).plain

    later = replace(made, balance_by=date(2026, 12, 9))
    assert "deposit $36.00 by Tue 1 Dec, rest $36.00 by Wed 9 Dec" in price(later, day).plain


@SIZES
async def test_every_field_comes_into_sight(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    whole_slip(desk)
    async with opened(size) as pilot:
        await press(pilot, "ctrl+l")
        slip_ = counter(pilot).query_one(Slip)
        for field in slip_.fields:
            slip_.point(field)
            await pilot.pause()
            assert slip_.region.contains_region(counter(pilot).query_one(f"#row-{field} .head").region), field


@pytest.mark.parametrize(
    ("field", "typed", "shown"),
    [
        ("count", "4 dozen", "48 (4 dozen)"),
        ("due", "19 dec 11am", "Sat 19 Dec 11am"),
        ("lettering", "Leo; Happy Birthday", "\u201cLeo\u201d, \u201cHappy Birthday\u201d"),
        ("designs", "12 stars; 12 moons", "12 stars, 12 moons"),
        ("budget", "95", "95.00"),
        ("customer", "[red]Mallory[/", "[red]Mallory[/"),
    ],
)
async def test_a_field_is_changed_by_typing(opened: Opened, desk: Desk, field: str, typed: str, shown: str) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+l")
        counter(pilot).query_one(Slip).point(field)
        await press(pilot, "enter")
        pilot.app.screen.query_one(Input).focus()
        pilot.app.screen.query_one(Input).value = typed
        await press(pilot, "enter")
        assert shown in row(pilot, field)
        assert row(pilot, field).startswith("\u25b8\u25cf ok")


async def test_a_wrong_value_is_told_and_the_sheet_stays(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        counter(pilot).query_one(Slip).point("count")
        await press(pilot, "enter")
        pilot.app.screen.query_one(Input).value = "lots"
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, CellEdit)
        assert "a number of cookies" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert desk.order(order.id).draft.count.value == 24


async def test_a_fixed_word_is_chosen_and_a_field_emptied(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        counter(pilot).query_one(Slip).point("handover")
        await press(pilot, "enter")
        options = pilot.app.screen.query_one(OptionList)
        assert options.has_focus
        options.highlighted = 1
        await press(pilot, "enter")
        assert desk.order(order.id).draft.handover.value == "ship"
        counter(pilot).query_one(Slip).point("theme")
        await press(pilot, "enter")
        await click(pilot, "#clear")
        assert desk.order(order.id).draft.theme.missing
