"""The pictures of the README: `python -m tests.tui.pictures` draws the real screens on the demo's book, at a fixed
moment, as SVG. The same screens give the same files.
"""

from __future__ import annotations

import asyncio
import os
import re
import sys
import tempfile
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from intake import demo
from intake.desk import Desk
from intake.home import Home
from tui.app import OrdertinApp

from .conftest import counter, press, settle

FOLDER = Path(__file__).parents[2] / "tui" / "pictures"
NOW = datetime(2027, 5, 12, 10, 0, tzinfo=ZoneInfo("America/Chicago"))
SIZE = (120, 36)
#: Each picture with the keys that lead to it from the Counter.
SHOTS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("counter", ()),
    ("customer", ("ctrl+x",)),
    ("rack", ("f9",)),
    ("bench", ("ctrl+d", "right")),
    ("till", ("ctrl+y",)),
    ("rules", ()),
)


def steady(svg: str) -> str:
    """The picture without the number by which the library tells one picture's styles from another's, and without the
    fonts that it would fetch from elsewhere."""
    svg = re.sub(r"@font-face \{.*?\}\s*", "", svg, flags=re.S)
    found = re.search(r"terminal-(\d+)-", svg)
    return svg.replace(found[1], "1") if found else svg


async def picture(home: Home, name: str, keys: tuple[str, ...]) -> str:
    """One screen of the book at `home`, as SVG."""
    with Desk(home, now=lambda: NOW) as desk:
        app = OrdertinApp(home, demo=True, desk=desk)
        async with app.run_test(size=SIZE) as pilot:
            await settle(pilot)
            if name == "rules":
                await counter(pilot).do("go_rules")
                await settle(pilot)
                await press(pilot, "down", "enter")
            await press(pilot, *keys)
            # The cursor of a box blinks: it stands still here.
            if app.focused is not None and hasattr(app.focused, "cursor_blink"):
                app.focused.cursor_blink = False
            await settle(pilot)
            return steady(app.export_screenshot(title=f"ordertin: {name}"))


async def draw(folder: Path) -> None:
    folder.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as throwaway:
        home = demo.make(Path(throwaway) / "book", now=NOW)
        for name, keys in SHOTS:
            (folder / f"{name}.svg").write_text(await picture(home, name, keys), encoding="utf-8")


if __name__ == "__main__":
    os.environ.pop("NO_COLOR", None)
    os.environ.pop("COLORFGBG", None)
    asyncio.run(draw(Path(sys.argv[1]) if sys.argv[1:] else FOLDER))
