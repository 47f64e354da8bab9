"""Spoilt words and files for what is no export: the reader, what the baker types, her house rules, a book that is
restored and one that is imported. Each must give a value or a word to the baker, no exception, no hang.

ORDERTIN_FUZZ_SECONDS (60 where it isn't set) are shared by the five, in two processes.
"""

from __future__ import annotations

import hashlib
import json
import os
import random
import shutil
import signal
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from datetime import datetime
from functools import cache
from pathlib import Path
from time import monotonic
from zoneinfo import ZoneInfo

from intake import house
from intake.book import copies
from intake.book.unload import load, unload
from intake.desk import Desk
from intake.house import default_house, default_text
from intake.model import DRAFT_FIELDS, Message, OrdertinError, Thread
from intake.papers.ledger import guarded
from intake.reading.pipeline import read
from intake.talk_meant import meant
from tests.bench.fuzz import LONGEST, _hangs, spoilt
from tests.bench.row import Row
from tests.book import full
from tests.talk.kit import ORDERS, cases, hand

SECONDS = int(os.environ.get("ORDERTIN_FUZZ_SECONDS", "60"))
WORKERS = 2
AT = datetime(2026, 3, 11, 9, tzinfo=ZoneInfo("America/Chicago"))
_CASES = Path(__file__).parents[1] / "reading" / "cases"


@cache
def messages() -> list[bytes]:
    found = []
    for path in sorted(_CASES.glob("*.jsonl")):
        for line in path.read_text(encoding="utf-8").splitlines():
            found += [message["text"].encode() for message in json.loads(line)["messages"]]
    return found


@cache
def lines() -> list[bytes]:
    return [next(iter(case.values())).encode() for case in cases()] + messages()[:200]


@cache
def work() -> Path:
    """A folder of this process with a book and its export, to be spoilt."""
    folder = Path(tempfile.mkdtemp(prefix="ordertin-fuzz-", dir="/dev/shm" if Path("/dev/shm").is_dir() else None))
    full.fill(folder / "orders.db")
    unload(folder / "orders.db", folder / "out", guarded)
    return folder


def _text(dice: random.Random, known: list[bytes]) -> str:
    return spoilt(dice.choice(known), dice.choice(known), dice).decode("utf-8", "replace")


def reader(dice: random.Random) -> str:
    texts = [_text(dice, messages()) for _ in range(dice.randint(1, 3))]
    thread = Thread("t", dice.choice(("chat", "mail")), tuple(
        Message(f"m{n}", "Ada Quill", dice.random() < 0.2, AT, text) for n, text in enumerate(texts)
    ))  # fmt: skip
    reading = read(thread, default_house().reading)
    lengths = {message.id: len(message.text) for message in thread.messages}
    for draft in reading.drafts:
        for name in DRAFT_FIELDS:
            for where in draft.cell(name).evidence:
                assert 0 <= where.start <= where.end <= lengths[where.message]
    return "drafts" if reading.drafts else "none"


def talk(dice: random.Random) -> str:
    return type(meant(_text(dice, lines())[:2000], hand(dice.choice((*ORDERS, "none"))))).__name__


def rules(dice: random.Random) -> str:
    text = bytearray(default_text().encode())
    for _ in range(dice.randint(1, 4)):
        at = dice.randrange(len(text))
        start = dice.randrange(len(text))
        text[at : at + dice.randint(0, 12)] = dice.choice(
            (text[start : start + 12], b"0", b"-1", b"1e999", b'"', b"[", b"nan", b"true", b"= ", b"\xff", b"9" * 30)
        )
    house.parse(text.decode("utf-8", "replace"))
    return "rules"


def restored(dice: random.Random) -> str:
    """A spoilt file that is given as a backup; one that passes is looked at as a book."""
    data = bytearray((work() / "orders.db").read_bytes())
    for _ in range(dice.randint(1, 6)):
        at = dice.randrange(100 if dice.random() < 0.2 else len(data))
        data[at : at + dice.randint(1, 8)] = dice.randbytes(dice.randint(1, 8))
    path = work() / "home" / "orders.db"
    shutil.rmtree(path.parent, ignore_errors=True)
    path.parent.mkdir()
    path.write_bytes(data)
    copies.check(path)
    return _looked_at(path)


def imported(dice: random.Random) -> str:
    """A spoilt export whose list says that it is as it was written."""
    out = work() / "spoilt"
    shutil.rmtree(out, ignore_errors=True)
    shutil.copytree(work() / "out", out)
    path = dice.choice(sorted(out.glob("*.json*")))
    data = spoilt(path.read_bytes()[:9000], (out / "orders.jsonl").read_bytes()[:2000], dice)
    path.write_bytes(data)
    if path.suffix == ".jsonl":
        told = json.loads((out / "book.json").read_text())
        told["tables"][path.stem].update(rows=data.count(b"\n"), sha256=hashlib.sha256(data).hexdigest())
        (out / "book.json").write_text(json.dumps(told))
    book = work() / "home" / "orders.db"
    shutil.rmtree(book.parent, ignore_errors=True)
    book.parent.mkdir()
    load(out, book)
    return _looked_at(book)


def _looked_at(path: Path) -> str:
    from intake.home import Home

    with Desk(Home.at(path.parent), now=lambda: AT) as desk:
        looks: tuple[Callable[[], object], ...] = (
            desk.waiting, desk.rack, desk.customers, desk.till.till, desk.till.told, desk.outbox, desk.words,
            lambda: desk.search("cookies"), lambda: desk.case("t3"), lambda: desk.order(5), desk.till.ledger,
            desk.papers.pantry, desk.kitchen.bench, desk.undo,
        )  # fmt: skip
        for look in looks:
            try:
                look()
            except OrdertinError as error:
                assert "\n" not in str(error)
    return "a book"


TARGETS: dict[str, Callable[[random.Random], str]] = {
    "reader": reader, "talk": talk, "house rules": rules, "restored": restored, "imported": imported,
}  # fmt: skip


def _share(arguments: tuple[int, float]) -> tuple[dict[str, Counter[str]], list[str], float]:
    seed, seconds = arguments
    came: dict[str, Counter[str]] = {name: Counter() for name in TARGETS}
    faults: list[str] = []
    slowest = 0.0
    signal.signal(signal.SIGALRM, _hangs)
    try:
        for name, target in TARGETS.items():
            end, number = monotonic() + seconds / len(TARGETS), 0
            while (begun := monotonic()) < end:
                number += 1
                signal.alarm(LONGEST)
                try:
                    came[name][target(random.Random(seed * 10**9 + number))] += 1
                except OrdertinError:
                    came[name]["a word only"] += 1
                except Exception as fault:
                    faults.append(f"{name}, seed {seed}, number {number}: {type(fault).__name__} {fault!s:.90}")
                finally:
                    signal.alarm(0)
                slowest = max(slowest, monotonic() - begun)
    finally:
        shutil.rmtree(work(), ignore_errors=True)
    return came, faults, slowest


def words() -> Iterator[Row]:
    came: dict[str, Counter[str]] = {name: Counter() for name in TARGETS}
    faults: list[str] = []
    slowest = 0.0
    with ProcessPoolExecutor(WORKERS) as pool:
        for part, wrong, slow in pool.map(_share, [(seed, SECONDS) for seed in range(1, WORKERS + 1)]):
            for name, counts in part.items():
                came[name] += counts
            faults += wrong
            slowest = max(slowest, slow)
    for fault in faults[:40]:
        print(fault)
    for name, counts in came.items():
        told = ", ".join(f"{count:,} {what}" for what, count in counts.most_common(3))
        mine = sum(fault.startswith(f"{name},") for fault in faults)
        yield Row(f"fuzz, {name}: {counts.total() + mine:,}", f"{mine} faults", told[:34])
    yield Row("slowest of them", f"{slowest:.1f} s")
