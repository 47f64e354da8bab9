"""How long until there is something to see: the help text, and the first screen."""

from __future__ import annotations

import fcntl
import os
import select
import struct
import subprocess
import sys
import tempfile
import termios
from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from time import perf_counter
from zoneinfo import ZoneInfo

from intake import demo
from tests.bench.row import Row, in_turns

HELP = "import sys; from intake.cli import main; sys.exit(main(['--help']))"
ARGPARSE = "import argparse"

# Textual posts Ready once its first frame has been drawn; a word then goes down the pipe.
EMPTY_APP = """
import os, sys
from textual.app import App
class Empty(App):
    def on_ready(self):
        os.write(int(sys.argv[1]), b"!")
        self.exit()
Empty().run()
"""
OURS = """
import os, sys
import tui.app
class Timed(tui.app.OrdertinApp):
    def on_ready(self):
        os.write(int(sys.argv[1]), b"!")
        if sys.argv[2] == "painted":
            self.exit()
        else:
            self.set_interval(0.002, self.when_opened)
    def when_opened(self):
        if self.opened:
            os.write(int(sys.argv[1]), b"!")
            self.exit()
tui.app.OrdertinApp = Timed
from intake.cli import main
main([])
"""


def help_text() -> Iterator[Row]:
    def command(code: str) -> Callable[[], float]:
        def run() -> float:
            begun = perf_counter()
            subprocess.run([sys.executable, "-c", code], stdout=subprocess.DEVNULL, check=True)
            return perf_counter() - begun

        return run

    ours, plain = in_turns([command(HELP), command(ARGPARSE)], 15)
    beside = f"import argparse {plain * 1000:.0f} ms"
    yield Row("ordertin --help", f"{ours * 1000:.0f} ms", beside, f"{ours / plain:.2f}")


def first_paint() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as folder:
        filled, empty = Path(folder) / "filled", Path(folder) / "empty"
        demo.make(filled, now=datetime.now(ZoneInfo("America/Chicago")).replace(microsecond=0))
        runs = [
            lambda: shown(EMPTY_APP, empty)[0],
            lambda: shown(OURS, empty, "painted")[0],
            lambda: shown(OURS, filled, "painted")[0],
            lambda: shown(OURS, filled, "opened")[1],
        ]
        app, *ours = in_turns(runs, 9)
    for what, took in zip(("empty book", "filled book", "filled book, list in place"), ours, strict=True):
        beside = f"an empty Textual App {app * 1000:.0f} ms"
        yield Row(f"first paint, {what}", f"{took * 1000:.0f} ms", beside, f"{took / app:.2f}")


def shown(code: str, home: Path, *words: str) -> list[float]:
    """Seconds from the start of the process to each sign of life, on a terminal of 120 by 40."""
    outside, inside = os.openpty()
    fcntl.ioctl(inside, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    heard, spoken = os.pipe()
    env = os.environ | {"ORDERTIN_HOME": str(home), "TERM": "xterm-256color"}
    signs: list[float] = []
    begun = perf_counter()
    app = subprocess.Popen(
        [sys.executable, "-c", code, str(spoken), *words],
        stdin=inside,
        stdout=inside,
        stderr=inside,
        env=env,
        pass_fds=[spoken],
        start_new_session=True,
    )
    os.close(spoken)
    os.close(inside)
    open_ends = [outside, heard]
    while open_ends:
        for end in select.select(open_ends, [], [], 60)[0]:
            said = b""
            with suppress(OSError):  # the terminal is gone once the process is
                said = os.read(end, 65536)
            if not said:
                open_ends.remove(end)
            elif end == heard:
                signs += [perf_counter() - begun] * len(said)
    app.wait()
    os.close(outside)
    os.close(heard)
    return signs
