"""What is corrected at the Counter, in words or in the field, is read right in the next message."""

from __future__ import annotations

from textual.widgets import Input

from tui.cell_edit import CellEdit
from tui.slip import Slip

from .conftest import SMALL, Opened, counter, paste, press, settle, write
from .seen import row, screen_text

FIRST = "Hi! 2 dozen gonk cookies for Saturday December 12 please, I'll pick up at 4. Maya"
SECOND = "hey, 18 gonks in mint for december 19, my sister will grab them from you at noon. Tess"


async def test_a_correction_in_words(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await paste(pilot, FIRST)
        await press(pilot, "enter")
        await write(pilot, "theme is gnomes")
        await press(pilot, "enter")
        assert "From now on I know: “gonk” is a theme" in " ".join(screen_text(pilot.app).split())
        await press(pilot, "f2")
        await paste(pilot, SECOND)
        await press(pilot, "enter")
        assert "gnomes" in row(pilot, "theme") and "ok" in row(pilot, "theme")


async def test_a_correction_in_the_field(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await paste(pilot, FIRST)
        await press(pilot, "enter")
        slip = counter(pilot).query_one(Slip)
        slip.point("theme")
        slip.action_open()
        await settle(pilot)
        assert isinstance(pilot.app.screen, CellEdit)
        pilot.app.screen.query_one(Input).value = "gnomes"
        await press(pilot, "enter")
        await press(pilot, "f2")
        await paste(pilot, SECOND)
        await press(pilot, "enter")
        assert "gnomes" in row(pilot, "theme") and "ok" in row(pilot, "theme")
