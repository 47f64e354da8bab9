"""How the screens begin: quickly, only on a terminal, and with a word where the book can't be opened."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pytest

from intake.home import Home
from intake.model import OrdertinError
from tui.app import OrdertinApp, run
from tui.counter import Counter
from tui.themes import first_theme

from .conftest import SMALL, settle
from .seen import notice, screen_text

HEAVY = ("spacy", "ortools", "jinja2", "pydantic", "dateparser", "sqlite_utils", "rapidfuzz", "intake.desk")
FIRST_PAINT = """
import sys
from pathlib import Path
from intake.home import Home
from tui.app import OrdertinApp

class Probe(OrdertinApp):
    def _open(self):
        print(*(name for name in sys.argv[2:] if name in sys.modules))
        self.exit(0)

Probe(Home.at(Path(sys.argv[1]))).run(headless=True)
"""


def test_the_first_paint_loads_nothing_heavy(tmp_path: Path) -> None:
    command = [sys.executable, "-c", FIRST_PAINT, str(tmp_path), *HEAVY]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True)

    assert done.stdout.split() == []
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("stream", ["stdin", "stdout", "stderr"])
def test_a_pipe_is_pointed_to_the_command_that_reads_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stream: str
) -> None:
    monkeypatch.setattr(sys, stream, io.StringIO("Hi! 2 dozen please"))

    with pytest.raises(OrdertinError, match="ordertin read -"):
        run(Home.at(tmp_path))


async def test_wrong_house_rules_are_told_in_one_line(home: Home) -> None:
    home.rules.write_text("[house\n", encoding="utf-8")
    app = OrdertinApp(home)
    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)

        assert "house.toml" in notice(pilot)
        assert "TOML" in notice(pilot)
        assert "Traceback" not in screen_text(app)


async def test_nobody_is_said_to_wait_before_the_book_is_open(home: Home, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(OrdertinApp, "_open", lambda app: None)
    app = OrdertinApp(home)
    async with app.run_test(size=SMALL) as pilot:
        await pilot.pause()

        assert "Opening the book" in screen_text(app)
        assert "Nobody" not in screen_text(app)


async def test_a_new_baker_is_told_how_to_begin(home: Home) -> None:
    app = OrdertinApp(home, demo=True)
    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)

        assert isinstance(app.screen, Counter)
        assert "Nothing here yet" in screen_text(app)
        assert "demo book" in screen_text(app)
        assert app.focused and app.focused.id == "words"
    app.desk.close()


@pytest.mark.parametrize(
    ("environ", "theme"),
    [
        ({}, "evening"),
        ({"COLORFGBG": "15;0"}, "evening"),
        ({"COLORFGBG": "0;15"}, "morning"),
        ({"COLORFGBG": ""}, "evening"),
    ],
)
def test_the_look_follows_the_terminal(environ: dict[str, str], theme: str) -> None:
    assert first_theme(environ) == theme


@pytest.mark.parametrize("theme", ["evening", "morning"])
async def test_without_colour_every_sign_still_stands(
    home: Home, monkeypatch: pytest.MonkeyPatch, theme: str
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = OrdertinApp(home)
    app.theme = theme
    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)
        colours = {
            (segment.style.color.triplet, segment.style.bgcolor.triplet)
            for line in app.screen._compositor.render_strips()
            for segment in line.apply_filter(app._filters[-1], app.screen.styles.background)
            if segment.style and segment.style.color and segment.style.bgcolor
        }

        assert all(len(set(triplet)) == 1 for pair in colours for triplet in pair if triplet)
    app.desk.close()
