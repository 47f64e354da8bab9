"""A key at the Counter until its frame is drawn, on a book of 300 conversations and 5,000 messages, and looking at it.

What is measured is the processor's time for the key and its frames: the clock's would count the pauses of the pilot
that presses, and whatever else the machine does. Beside it stands an arrow key in an empty screen of the same library
with one list of 300 lines.
"""

from __future__ import annotations

import asyncio
import json
import tempfile
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from statistics import quantiles
from time import perf_counter, process_time
from typing import Any
from zoneinfo import ZoneInfo

from textual.app import App, ComposeResult
from textual.widgets import OptionList

from intake.desk import Desk
from intake.home import Home
from intake.house import default_text
from tests.bench.row import Row

THREADS, EACH = 300, 17
NOW = datetime(2026, 11, 25, 10, 0, tzinfo=ZoneInfo("America/Chicago"))
THEMES = ("unicorn", "dinosaur", "pumpkin", "snowflake", "sunflower", "rainbow", "tractor", "ballet")
SIZES = ((80, 24), (140, 45), (200, 60))
KEYS = (*["down"] * 12, *["up"] * 8, *"make it 3 dozen", *["backspace"] * 15) * 3
OPENS = ("f3", "f3", "f3", "ctrl+b", "f9", "f9") * 5


class Lines(App[None]):
    """The measure of what a key and a frame take at the least."""

    def compose(self) -> ComposeResult:
        yield OptionList(*(f"line {n}" for n in range(THREADS)))


def export(folder: Path) -> Path:
    """300 chats of 17 messages, the newest 120 of which are read when they are taken."""
    talks = []
    for number in range(THREADS):
        day = NOW - timedelta(hours=2 * number + 20)
        said = [f"Hi! Could I order {number % 5 + 1} dozen {THEMES[number % len(THEMES)]} cookies for December 18?"]
        said += [f"And one more thought about it, number {n}." for n in range(EACH - 2)] + ["Thanks so much!"]
        talks.append({
            "title": f"Customer {number}",
            "messages": [
                {"sender": f"Customer {number}", "time": (day + timedelta(minutes=n)).isoformat(), "text": text}
                for n, text in enumerate(said)
            ],
        })  # fmt: skip
    path = folder / "chats.json"
    path.write_text(json.dumps(talks), encoding="utf-8")
    return path


def book(folder: Path) -> Desk:
    home = Home.at(folder / "home")
    home.rules.parent.mkdir()
    home.rules.write_text(default_text().replace('timezone = ""', 'timezone = "America/Chicago"'), encoding="utf-8")
    desk = Desk(home, now=lambda: NOW)
    desk.take([export(folder)])
    return desk


async def pressed(app: Any, size: tuple[int, int], keys: tuple[str, ...]) -> list[float]:
    """Milliseconds of work for each key and the frames that it draws."""
    taken = []
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        while not getattr(app, "idle", True):
            await pilot.pause(0.05)
        for key in keys:
            begun = process_time()
            await pilot.press("space" if key == " " else key)
            taken.append((process_time() - begun) * 1000)
            while not getattr(app, "idle", True):
                await pilot.pause(0.01)
    return taken


def screens() -> Iterator[Row]:
    from tui.app import OrdertinApp

    def words(taken: list[float]) -> str:
        return f"p50 {quantiles(taken, n=20)[9]:.0f}, p95 {quantiles(taken, n=20)[18]:.0f} ms"

    with tempfile.TemporaryDirectory() as folder, book(Path(folder)) as desk:
        looks = []
        for _ in range(12):
            begun = perf_counter()
            waits = len(desk.waiting())
            looks.append((perf_counter() - begun) * 1000)
        once, again = looks[0], sorted(looks[1:])[len(looks) // 2]
        what = f"who waits, {waits} of {THREADS} ({THREADS * EACH} messages)"
        yield Row(what, f"{again:.0f} ms", f"first {once:.0f} ms")
        for size in SIZES:
            ours = asyncio.run(pressed(OrdertinApp(desk.home, desk=desk), size, KEYS))
            beside = asyncio.run(pressed(Lines(), size, tuple(key for key in KEYS if key in ("up", "down"))))
            ratio = quantiles(ours, n=20)[18] / quantiles(beside, n=20)[18]
            yield Row(f"a key at {size[0]}x{size[1]}", words(ours), f"a bare list {words(beside)}", f"{ratio:.1f}")
            opens = asyncio.run(pressed(OrdertinApp(desk.home, desk=desk), size, OPENS))
            yield Row(f"another conversation or screen, {size[0]}x{size[1]}", words(opens))
