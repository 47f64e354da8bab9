"""A take that is killed: whenever it dies, the book is as it was before or whole, and the next take finishes it."""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from time import monotonic

from intake.house import default_text
from tests.bench.mailboxes import ADDRESS, write_mailbox
from tests.bench.row import Row

TIMES = 50
MAILS = 3_000
# Few are read, so that much of the time is writing.
_RUN = """
import sys
from intake import desk_taking
from intake.cli import main
desk_taking.MOST_READ = 5
sys.exit(main(["take", sys.argv[1]]))
"""


def _take(box: Path, home: Path) -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-c", _RUN, str(box)],
        env=os.environ | {"ORDERTIN_HOME": str(home)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )


def _count(book: Path) -> tuple[int, int, str]:
    """Messages, entries of the word index, and what SQLite's own check says."""
    if not book.exists():
        return 0, 0, "ok"
    with closing(sqlite3.connect(book)) as db:
        if not db.execute("SELECT 1 FROM sqlite_master WHERE name = 'message_words'").fetchone():
            return 0, 0, str(db.execute("PRAGMA integrity_check").fetchone()[0])
        messages = db.execute("SELECT count(*) FROM messages").fetchone()[0]
        words = db.execute("SELECT count(*) FROM message_words").fetchone()[0]
        return messages, words, str(db.execute("PRAGMA integrity_check").fetchone()[0])


def _clear(home: Path) -> None:
    for path in home.glob("orders*"):
        path.unlink()


def _timed(box: Path, home: Path) -> float:
    _clear(home)
    begun = monotonic()
    _take(box, home).wait()
    return monotonic() - begun


def takes() -> Iterator[Row]:
    """Kills at random moments of a take, the whole of which is timed first; each on a book that holds an older part."""
    dice = random.Random(3)
    found: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        box, part, home = Path(folder, "box.mbox"), Path(folder, "part.mbox"), Path(folder, "home")
        write_mailbox(box, MAILS)
        part.write_bytes(box.read_bytes()[: box.stat().st_size // 10])
        book = home / "orders.db"
        home.mkdir()
        rules = default_text().replace("senders = []", f'senders = ["{ADDRESS}"]')
        (home / "house.toml").write_text(rules, encoding="utf-8")
        took = min(_timed(box, home) for _ in range(2))
        whole = _count(book)[0]
        for number in range(TIMES):
            _clear(home)
            if number % 2:
                _take(part, home).wait()
            before = _count(book)[0]
            # The last part, in which it writes, is where it hurts.
            at = took * (dice.random() if number % 3 == 0 else dice.uniform(0.7, 1.0))
            running = _take(box, home)
            try:
                running.wait(at)
                found["was done before"] += 1
            except subprocess.TimeoutExpired:
                running.send_signal(signal.SIGKILL)
                running.wait()
            messages, words, check = _count(book)
            right = check == "ok" and messages == words and messages in (before, whole)
            found["whole" if messages == whole else "as before" if messages == before else "torn"] += 1
            status = _take(box, home).wait()
            right = right and status == 0 and _count(book) == (whole, whole, "ok")
            found["right" if right else "wrong"] += 1
    told = ", ".join(f"{count} {what}" for what, count in sorted(found.items()) if what not in ("right", "wrong"))
    yield Row(f"take killed {TIMES} times", f"{found['right']} right", told, f"{found['wrong']} wrong")
