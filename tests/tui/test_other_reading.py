"""Where words can be read two ways, one key takes the other reading, and undo brings the first back."""

from __future__ import annotations

from dataclasses import replace

from intake.desk import Desk
from intake.model import Cell
from tui.slip import Slip

from .conftest import SMALL, Opened, counter, press, slip
from .seen import notice, row


async def test_the_right_arrow_takes_the_other_reading(opened: Opened, desk: Desk) -> None:
    order = slip(desk)
    twofold = replace(order.draft, count=Cell(24, False, why="2 dozen, or 2?", others=(2,)))
    with desk._book.change("a reading", desk.now()) as change:
        desk._shelf.keep_order(change, replace(order, draft=twofold))
    async with opened(SMALL) as pilot:
        counter(pilot).query_one(Slip).point("count")
        await press(pilot, "right")
        assert "The count is now 2" in notice(pilot)
        assert "ok count 2" in row(pilot, "count")
        assert desk.order(order.id).draft.count.sure
        await press(pilot, "right")
        assert "one reading" in notice(pilot)
        await press(pilot, "f10")
        assert desk.order(order.id).draft.count.value == 24
