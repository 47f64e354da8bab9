"""From a pasted message to a booked order that is answered, counted in keys; and a photo that is not to be had."""

from __future__ import annotations

import pytest

from intake.desk import Desk
from intake.model import State

from .conftest import SIZES, SMALL, Opened, counter, paste, press
from .seen import notice

SURE = """\
Hi! I'd like to order 24 unicorn cookies, pickup on Saturday, December 12 at 2pm please. No names on them.

Thanks, Dana Reyes"""


@SIZES
async def test_all_sure_from_paste_to_confirmed_in_six_keys(
    opened: Opened, desk: Desk, copied: list[str], size: tuple[int, int]
) -> None:
    keys = ["paste", "enter", "f5", "f8", "f7", "f7"]
    async with opened(size) as pilot:
        await paste(pilot, SURE)
        for key in keys[1:]:
            await press(pilot, key)
        order = desk.case(counter(pilot).view.thread_id).orders[0]
        assert order.state is State.BOOKED
        assert len(copied) == 1
        assert "12" in copied[0]
        assert desk.case(order.thread_id).thread.messages[-1].mine
    assert len(keys) <= 6


@pytest.mark.parametrize(
    ("photos", "said"),
    [
        (("../secret.png",), "no plain file name"),
        (("cake.jpg",), "no folder is known"),
        ((), "No photo or file is named"),
    ],
    ids=["a path", "nowhere", "none"],
)
async def test_a_photo_that_is_not_opened_says_why(
    opened: Opened, desk: Desk, monkeypatch: pytest.MonkeyPatch, photos: tuple[str, ...], said: str
) -> None:
    def never(path: object) -> None:
        raise AssertionError(path)

    monkeypatch.setattr("intake.photos.show", never)
    desk.paste("Hi, 2 dozen please", sender="Dana")
    async with opened(SMALL) as pilot:
        seen = counter(pilot)
        for message in seen.view.case.thread.messages:  # type: ignore[union-attr]
            object.__setattr__(message, "attachments", photos)
        seen.action_photos()
        await press(pilot, "home")
        assert said in notice(pilot)
