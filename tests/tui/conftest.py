"""A real book in a temporary folder, the real desk on it at a fixed moment, and the app over both."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import AbstractAsyncContextManager, asynccontextmanager, suppress
from datetime import date, datetime, time
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from textual.events import Key, Paste
from textual.message_pump import MessagePump
from textual.pilot import Pilot
from textual.worker import WorkerCancelled, WorkerFailed

from intake.desk import Desk
from intake.home import Home
from intake.house import default_text
from intake.model import Due, Order
from tui.app import OrdertinApp
from tui.counter import Counter
from tui.say import Words

SMALL, LARGE = (80, 24), (140, 45)
NOW = datetime(2026, 11, 25, 10, 0, tzinfo=ZoneInfo("America/Chicago"))
MESSAGE = """\
Hi! Could I order 2 dozen unicorn cookies for my daughter's birthday?
Pickup on Saturday, December 12 at 2pm please.

Thanks, Dana"""

SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "140x45"])
Opened = Callable[..., AbstractAsyncContextManager[Pilot[int]]]


@pytest.fixture
def home(tmp_path: Path) -> Home:
    home = Home.at(tmp_path / "home")
    home.rules.parent.mkdir()
    home.rules.write_text(default_text().replace('timezone = ""', 'timezone = "America/Chicago"'), encoding="utf-8")
    return home


@pytest.fixture
def desk(home: Home) -> Iterator[Desk]:
    with Desk(home, now=lambda: NOW) as desk:
        yield desk


@pytest.fixture
def opened(desk: Desk) -> Opened:
    """`async with opened(size) as pilot`: the app on the desk, at rest."""

    @asynccontextmanager
    async def open_app(size: tuple[int, int] = LARGE) -> AsyncIterator[Pilot[int]]:
        app = OrdertinApp(desk.home, desk=desk)
        async with app.run_test(size=size) as pilot:
            await settle(pilot)
            yield pilot

    return open_app


@pytest.fixture
def copied(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What was copied; nothing reaches a real clipboard."""
    texts: list[str] = []

    def copy(text: str) -> str:
        texts.append(text)
        return "sent to the terminal's clipboard (it does not confirm)"

    monkeypatch.setattr("intake.replies.clipboard.copy", copy)
    return texts


async def settle(pilot: Pilot[int]) -> None:
    """Wait until no work is under way and every message has been handled.

    What work gives is laid out by a later message of its screen, so that the last work's end is not the end of it.
    """
    app = pilot.app
    assert isinstance(app, OrdertinApp)
    await pilot.pause()
    while True:
        while not app.idle:
            with suppress(WorkerFailed, WorkerCancelled):
                await app.workers.wait_for_complete()
            await pilot.pause()
        for pump in (app, *app.screen_stack):
            await _handled(pump)
        if app.idle:
            break
    await pilot.pause()


async def _handled(pump: MessagePump) -> None:
    """Wait until `pump` has handled what was sent to it before."""
    done = asyncio.Event()
    if pump.call_later(done.set):
        await asyncio.wait_for(done.wait(), 10)


async def press(pilot: Pilot[int], *keys: str) -> None:
    for key in keys:
        await pilot.press(key)
        await settle(pilot)


async def click(pilot: Pilot[int], selector: str, **more: Any) -> None:
    """Click, once the layout has brought it in sight."""
    for _ in range(20):
        if await pilot.click(selector, **more):
            break
        await settle(pilot)
    else:
        raise AssertionError(f"{selector} is not in sight")
    await settle(pilot)


async def write(pilot: Pilot[int], text: str) -> None:
    """Type letters, as keys, faster than anybody could."""
    for letter in text:
        name = {" ": "space", "\n": "ctrl+j", "\r": "enter"}.get(letter, letter)
        pilot.app.post_message(Key(name, None if letter == "\n" else letter))
    await settle(pilot)


def slip(desk: Desk, text: str = MESSAGE, *, sender: str = "Dana Whitlock", **values: Any) -> Order:
    """An order read from a pasted message, with `values` set by hand."""
    order = desk.paste(text, sender=sender).orders[0]
    return desk.correct(order.id, values) if values else order


def whole_slip(desk: Desk, text: str = MESSAGE, *, sender: str = "Dana Whitlock", **values: Any) -> Order:
    """An order with all that a booking needs, not yet confirmed."""
    known = {
        "count": 24,
        "theme": "unicorns",
        "handover": "pickup",
        "due": Due.on(date(2026, 12, 12), time(14)),
        "due_is": "handover",
    }
    return slip(desk, text, sender=sender, **(known | values))


def booked(desk: Desk, text: str = MESSAGE, *, sender: str = "Dana Whitlock", **values: Any) -> Order:
    order = whole_slip(desk, text, sender=sender, **values)
    desk.confirm(order.id)
    desk.quote(order.id)
    return desk.book(order.id)


async def paste(pilot: Pilot[int], text: str) -> None:
    pilot.app.post_message(Paste(text))
    await pilot.pause()
    await settle(pilot)


def counter(pilot: Pilot[int]) -> Counter:
    found = pilot.app.screen_stack[0]
    assert isinstance(found, Counter)
    return found


def box(pilot: Pilot[int]) -> Words:
    return counter(pilot).query_one(Words)
