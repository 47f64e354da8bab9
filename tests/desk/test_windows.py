"""Two windows on one book, and what looking at it loads."""

from __future__ import annotations

import subprocess
import sys
import threading
from contextlib import closing
from pathlib import Path
from typing import Any

from intake.desk import Desk
from intake.home import Home
from tests.desk.kit import FULL, NOW, Export, Writes


def test_two_windows_see_each_others_changes(desk: Desk, home: Home, writes: Writes) -> None:
    order = writes("Dana", FULL)
    with closing(Desk(home, now=lambda: NOW)) as other:
        version = other.version()
        desk.correct(order.id, {"count": 48})
        assert other.version() != version
        assert other.order(order.id).draft.count.value == 48
        version = desk.version()
        other.undo()
        assert desk.version() != version
        assert desk.order(order.id) == order


def test_two_windows_that_take_the_same_file_at_once(reader: None, home: Home, export: Export) -> None:
    for who in "abcdef":
        export.writes(who, FULL)
    desks = [Desk(home, now=lambda: NOW) for _ in range(2)]
    reports: list[Any] = []
    threads = [threading.Thread(target=lambda desk=desk: reports.append(desk.take([export.path]))) for desk in desks]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sum(report.threads_new for report in reports) == sum(report.orders_new for report in reports) == 6
    assert len(desks[0].waiting()) == 6
    for desk in desks:
        desk.close()


LOADS = """
import sys
from pathlib import Path
from intake.desk import Desk
from intake.home import Home
with Desk(Home.at(Path(sys.argv[1]))) as desk:
    desk.waiting(), desk.rack(), desk.version(), desk.undo()
print(sorted({"spacy", "ortools", "jinja2", "textual", "dateparser"} & set(sys.modules)))
"""


def test_looking_at_the_book_loads_no_heavy_part(tmp_path: Path) -> None:
    out = subprocess.run(
        [sys.executable, "-W", "error", "-c", LOADS, str(tmp_path)], capture_output=True, text=True, timeout=60
    )
    assert (out.stdout.strip(), out.stderr) == ("[]", "")
