"""Taking a large mailbox, beside the standard library walking it; searching and opening as the book grows."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from statistics import median, quantiles
from time import perf_counter
from typing import Any

from intake.book.shelf import Shelf
from intake.book.store import Book
from intake.desk_search import Hit, hits
from tests.bench.mailboxes import ADDRESS, START, ZONE, threads, vocabulary, write_mailbox
from tests.bench.row import Row

MAILS = 100_000
LARGEST = int(os.environ.get("ORDERTIN_MESSAGES", "100000"))
SIZES = [size for size in (10_000, 100_000, 1_000_000) if size <= LARGEST]
ROUNDS = 3

_TAKE = """
import json, resource, sys, time
from functools import partial
from pathlib import Path
from intake import desk_taking, house
from intake.desk import Desk
from intake.home import Home
folder, box, read = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3] == "read"
folder.mkdir()
text = house.default_text().replace("senders = []", 'senders = ["%s"]')
(folder / "house.toml").write_text(text)
if not read:
    desk_taking.MOST_READ = 0
begun = time.perf_counter()
with Desk(Home.at(folder)) as desk:
    report = desk.take([box])
    taken = time.perf_counter() - begun
    assert desk.search("cookies")
print(json.dumps([taken, report.messages_new, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024]))
""" % ADDRESS  # noqa: UP031 the text is full of braces
_WALK = """
import json, mailbox, resource, sys, time
begun = time.perf_counter()
count = 0
for mail in mailbox.mbox(sys.argv[1], create=False):
    for part in mail.walk():
        part.get_payload(decode=True)
    count += 1
print(json.dumps([time.perf_counter() - begun, count, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024]))
"""


def _ran(code: str, *arguments: str) -> list[Any]:
    done = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, check=True)
    found: list[Any] = json.loads(done.stdout)
    return found


def taking() -> Iterator[Row]:
    """The whole of 100,000 mails; the times are medians of runs in turns, the memory the most of any run."""
    with tempfile.TemporaryDirectory() as folder:
        box = Path(folder, "box.mbox")
        write_mailbox(box, MAILS)
        kept, read, walk = [], [], []
        for turn in range(ROUNDS):
            walk.append(_ran(_WALK, str(box)))
            kept.append(_ran(_TAKE, f"{folder}/kept{turn}", str(box), "keep"))
            read.append(_ran(_TAKE, f"{folder}/read{turn}", str(box), "read"))
        assert {run[1] for run in (*kept, *read, *walk)} == {MAILS}
        beside = median(run[0] for run in walk)
        for runs, what in ((kept, "into the book, searchable"), (read, "and the newest read")):
            ours, memory = median(run[0] for run in runs), max(run[2] for run in runs)
            shown = f"mailbox walk {beside:.1f} s"
            yield Row(f"{MAILS:,} mails {what}, {memory:.0f} MB", f"{ours:.1f} s", shown, f"{ours / beside:.2f}")


def searching() -> Iterator[Row]:
    """What the baker waits for, as the book grows; beside a search of the same words without the index."""
    words, weights = vocabulary()
    dice = random.Random(5)
    common = ["cookies", "birthday", "pickup", "please", "the", "dozen", "Saturday", "deposit"]

    def asked() -> str:
        rare = dice.choices(words, cum_weights=weights, k=2)
        both = " ".join(dice.sample(common, 2))
        return dice.choice((rare[0], " ".join(rare), f"{dice.choice(common)} {rare[0]}", both, rare[0][:4], both[:5]))

    for size in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            book = Book(Path(folder, "orders.db"))
            shelf = Shelf(book, ZONE)
            begun = perf_counter()
            with book.change("bench", START) as change:
                for thread in threads(size):
                    shelf.add(change, thread, shelf.arrival(thread))
            filled = perf_counter() - begun
            questions = [asked() for _ in range(200)]
            searched = [_took(partial(_hits, shelf), question) for question in questions]
            opened = [_took(shelf.thread, dice.randrange(1, size // 5)) for _ in range(200)]
            plain = [_took(partial(book.rows, _PLAIN), [f"%{question}%"]) for question in questions[:5]]
            book.close()
        yield Row(f"search, {size:,} messages, p95", f"{_p95(searched):.1f} ms", f"LIKE {_p95(plain):.0f} ms",
                  f"{_p95(searched) / _p95(plain):.3f}")  # fmt: skip
        yield Row(f"open a thread, {size:,} messages, p95", f"{_p95(opened):.1f} ms")
        yield Row(f"{size:,} messages into the book", f"{1e6 * filled / size:.0f} µs each")


_PLAIN = "SELECT id FROM messages WHERE text LIKE ? ORDER BY moment DESC LIMIT 50"


def _hits(shelf: Shelf, words: str) -> tuple[Hit, ...]:
    return hits(shelf.search(words, 50), words)


def _took(work: Callable[[Any], object], asked: Any) -> float:
    """Milliseconds."""
    begun = perf_counter()
    work(asked)
    return 1000 * (perf_counter() - begun)


def _p95(times: list[float]) -> float:
    return quantiles(times, n=20)[-1]
