"""Five years of a busy baker, 4,000 orders and 200,000 messages: how long each command and each screen takes.

By the clock, and beside it what the processor was at work for: on a busy machine the first says little."""

from __future__ import annotations

import asyncio
import json
import os
import random
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal
from pathlib import Path
from statistics import quantiles
from time import perf_counter, process_time
from zoneinfo import ZoneInfo

from intake.book import rows
from intake.book.store import Book
from intake.desk import Desk
from intake.home import Home
from intake.inbox.keys import key_of
from intake.model import Message, Thread
from tests.bench.faults import home_of
from tests.bench.mailboxes import BAKER, FIRST, Letters, vocabulary
from tests.bench.row import Row
from tests.bench.start import OURS, shown
from tests.tui.conftest import settle
from tui.app import OrdertinApp

NOW = datetime(2026, 11, 25, 10, tzinfo=ZoneInfo("America/Chicago"))
MESSAGES = int(os.environ.get("ORDERTIN_GROWN", "200000"))
ORDERS = MESSAGES // 50
COMMAND_BAR, KEY_BAR = 2.0, 0.050  # seconds
SAID = "2 dozen unicorn cookies please, pickup on {day} at 2pm. {name}"
COMMANDS = (
    "rack", "customers", "search unicorn", "search zzz", "bench", "bench --load", "when 24", "batch", "shopping",
    "till", "till --ledger -", "price 40", "outbox", "words", "hours", "pantry", "calendar", "sheet --out s.pdf",
    "labels 1 --out l.pdf", "backup copy.db", "export all", "undo", "restore copy.db --yes", "forget c40 --yes",
)  # fmt: skip
SCREENS = ("rack", "bench", "till", "counter")


def grown(home: Home, count: int = MESSAGES) -> None:
    """The book: old orders handed over and paid by copies of one that went the whole way, then a dozen booked and
    thirty that wait, by the real road."""
    with Desk(home, now=lambda: NOW) as desk:
        first = desk.paste(SAID.format(day="December 12", name="Ada Quill"), sender="Ada Quill", at=NOW).orders[0]
        desk.correct(first.id, {"due_is": "handover", "handover": "pickup", "theme": "unicorn"})
        desk.confirm(first.id)
        desk.quote(first.id)
        desk.book(first.id)
        desk.till.pay(first.id, Decimal(5), "cash")
        words, _ = vocabulary()
        with desk._book.change("five years", NOW) as change:
            _past(desk._book, change, words, count)
        for n in range(42):
            name = f"{FIRST[n % 16]} {words[n].title()}"
            day = f"{NOW + timedelta(days=6 + n):%B %-d}"
            order = desk.paste(SAID.format(day=day, name=name), sender=name, at=NOW).orders[0]
            if n % 4 == 0:
                desk.correct(order.id, {"due_is": "handover", "handover": "pickup", "theme": "unicorn", "count": 12})
                desk.confirm(order.id)
                desk.quote(order.id)
                desk.book(order.id)


def _past(book: Book, change: object, words: list[str], count: int) -> None:
    from intake.book.journal import Change

    assert isinstance(change, Change)
    letters, dice = Letters(count, seed=13), random.Random(13)
    (order,) = book.rows("SELECT * FROM orders WHERE id = 1")
    (quote,) = book.rows("SELECT quote FROM quotes WHERE order_id = 1 LIMIT 1")
    start, each = NOW - timedelta(days=5 * 365), timedelta(days=5 * 365 - 20) / (count // 50)
    ties: list[dict[str, object]] = []
    for n in range(count // 50):
        name, day = f"{dice.choice(FIRST)} {words[n % len(words)].title()}", start + each * n
        messages = []
        for m in range(50):
            mine, at = bool(m % 3), day + timedelta(minutes=m)
            messages.append(Message(key_of("bench", f"{n}.{m}"), BAKER if mine else name, mine, at, letters.said()))
        thread = Thread("", "mail", tuple(messages), f"bench:{n}", "Cookies")
        number = change.add("threads", [{**rows.thread_row(thread), "aside": 1, "intent": "order"}])
        change.add("messages", [rows.message_row(message, number) for message in messages])
        draft = json.loads(order["draft"]) | {"customer": {"value": name, "sure": True}}
        due = (day + timedelta(days=14)).date().isoformat()
        draft["due"]["value"] = {"date": due, "time": "14:00"}
        row = {**order, "thread": number, "place": 0, "state": "handed over", "draft": json.dumps(draft)}
        row |= {"due_first": due, "due_last": due, "booked_at": day.isoformat()}
        added = change.add("orders", [{k: v for k, v in row.items() if k not in ("id", "made_by")}])
        change.add("quotes", [{"order_id": added, "quote": quote["quote"]}])
        paid = {"order_id": added, "what": "part", "currency": "USD", "how": "cash"}
        total = round(Decimal(json.loads(quote["quote"])["total"]) * 100)
        change.add("payments", [{**paid, "minor": part, "day": due} for part in (total // 2, total - total // 2)])
        like = " ".join(sorted(word[:2].lower() for word in name.split()))
        keys = (("phone", f"217555{n:04}"), ("name", name.lower()), ("like", like))
        ties += [{"thread": number, "kind": kind, "key": key} for kind, key in keys]
    change.add("ties", ties)


def growth() -> Iterator[Row]:
    with tempfile.TemporaryDirectory() as folder:
        home = home_of(Path(folder, "home"))
        begun = perf_counter()
        grown(home)
        size = home.book.stat().st_size / 1e6
        made = f"made in {perf_counter() - begun:.0f} s"
        yield Row(f"{ORDERS:,} orders, {MESSAGES:,} messages", f"{size:.0f} MB", made)
        yield from _painted(home)
        yield from asyncio.run(_screens(home))
        yield from _commands(home, Path(folder))


def _commands(home: Home, folder: Path) -> Iterator[Row]:
    code = "import sys; from intake.cli import main; sys.exit(main())"
    env = os.environ | {"ORDERTIN_HOME": str(home.book.parent), "ORDERTIN_NOW": NOW.isoformat()}
    env["PYTHONPATH"] = str(Path(__file__).parents[2])
    for command in COMMANDS:
        begun, worked = perf_counter(), _children()
        done = subprocess.run([sys.executable, "-c", code, *command.split()], cwd=folder, env=env, capture_output=True)
        took, worked = perf_counter() - begun, _children() - worked
        told = f"{worked:.2f} s of work" if not done.returncode else done.stderr.decode()[-60:].strip()
        yield Row(f"ordertin {command}", f"{took:.2f} s", told[:34], "" if worked <= COMMAND_BAR else "OVER")


def _children() -> float:
    """Seconds of work of the processes that this one has started and that have ended."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def _painted(home: Home) -> Iterator[Row]:
    for what, sign in (("painted", 0), ("opened", 1)):
        took = min(shown(OURS, home.book.parent, what)[sign] for _ in range(3))
        yield Row(f"from the start to {what}", f"{took * 1000:.0f} ms")


async def _screens(home: Home) -> list[Row]:
    found: list[Row] = []
    with Desk(home, now=lambda: NOW) as desk:
        begun = perf_counter()
        app = OrdertinApp(home, desk=desk)
        async with app.run_test(size=(140, 45)) as pilot:
            await settle(pilot)
            found.append(Row("Counter, first shown and at rest", f"{(perf_counter() - begun) * 1000:.0f} ms"))
            for screen in SCREENS:
                begun, worked = perf_counter(), process_time()
                app.action_go(screen)
                await settle(pilot)
                shown_in, worked = perf_counter() - begun, process_time() - worked
                keys = []
                for key in ("down", "down", "up", "pagedown", "pageup") * 8:
                    before = process_time()
                    await pilot.press(key)
                    keys.append(process_time() - before)
                await settle(pilot)
                p95 = quantiles(keys, n=20)[-1]
                told = f"{worked * 1000:.0f} ms of work; a key {p95 * 1000:.0f} ms"
                over = "" if p95 <= KEY_BAR else "OVER"
                found.append(Row(f"{screen} at rest; a key, p95", f"{shown_in * 1000:.0f} ms", told, over))
                app.action_go("counter")
                await settle(pilot)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    found.append(Row("memory of it all, at most", f"{peak:.0f} MB"))
    return found
