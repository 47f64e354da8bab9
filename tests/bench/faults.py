"""Kills at any moment of what a baker does. After each the book is whole, nothing that was confirmed is lost, and
nothing is there twice.

A program that does the work is a fork of this one, which says over a pipe what it has confirmed; so a kill costs
milliseconds, and can hit any of them.
"""

from __future__ import annotations

import logging
import os
import random
import shutil
import signal
import sqlite3
import tempfile
import traceback
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from functools import partial
from pathlib import Path
from time import monotonic, sleep
from zoneinfo import ZoneInfo

from intake.book import copies, migrations, store
from intake.book.marks import left_behind
from intake.desk import Desk
from intake.home import Home
from intake.house import default_text
from intake.model import Fate
from tests.bench.mailboxes import ADDRESS, write_mailbox
from tests.bench.post import _set_up
from tests.bench.row import Row
from tests.replies.office import PASSWORD, papers, post_office

TIMES = int(os.environ.get("ORDERTIN_FAULTS", "300"))
NOW = datetime(2026, 11, 25, 10, tzinfo=ZoneInfo("America/Chicago"))
MESSAGE = "2 dozen unicorn cookies please, pickup December 12 at 2pm. Dana"
Say = Callable[[], None]


@dataclass(frozen=True)
class Work:
    """Work that is killed: how a book for it is made, what is done (`say` after each confirmed part), and what the book
    then holds: the number of parts that are there, or -1 where it is none of the states it may be in."""

    name: str
    make: Callable[[Home], None]
    do: Callable[[Home, Say], None]
    held: Callable[[Home], int]


def home_of(folder: Path) -> Home:
    home = Home.at(folder)
    home.rules.parent.mkdir(parents=True, exist_ok=True)
    rules = default_text().replace('timezone = ""', 'timezone = "America/Chicago"')
    home.rules.write_text(rules.replace("senders = []", f'senders = ["{ADDRESS}"]'), encoding="utf-8")
    return home


def desk_of(home: Home) -> Desk:
    return Desk(home, now=lambda: NOW)


def asked(home: Home, sql: str) -> int:
    with closing(sqlite3.connect(home.book)) as db:
        return int(db.execute(sql).fetchone()[0])


# Take: all of an export or nothing of it


def _boxes(home: Home) -> None:
    write_mailbox(home.rules.with_name("box.mbox"), 60)
    part = home.rules.with_name("box.mbox").read_bytes()
    home.rules.with_name("part.mbox").write_bytes(part[: len(part) // 5])
    with desk_of(home) as desk:
        desk.take([home.rules.with_name("part.mbox")])


def _take(home: Home, say: Say) -> None:
    with desk_of(home) as desk:
        desk.take([home.rules.with_name("box.mbox")])
        say()


def _taken(home: Home) -> int:
    messages, words = (asked(home, f"SELECT count(*) FROM {table}") for table in ("messages", "message_words"))
    threads = asked(home, "SELECT count(DISTINCT thread) FROM messages")
    if messages != words or threads != asked(home, "SELECT count(*) FROM threads"):
        return -1
    return {_taken_before: 0, 60: 1}.get(messages, -1)


_taken_before = 0


# Book, pay, undo: one part after another


def _orders(home: Home) -> None:
    with desk_of(home) as desk:
        for n in range(4):
            order = desk.paste(MESSAGE.replace("Dana", f"Dana {n}"), sender=f"Dana {n}", at=NOW).orders[0]
            desk.correct(order.id, {"due_is": "handover", "handover": "pickup", "theme": "unicorn", "count": 6})
            desk.confirm(order.id)
            desk.quote(order.id)


def _book(home: Home, say: Say) -> None:
    with desk_of(home) as desk:
        for n in range(1, 5):
            desk.book(n)
            say()


def _booked(home: Home) -> int:
    with desk_of(home) as desk:
        desk.kitchen.bench()
    states = asked(home, "SELECT count(*) FROM orders WHERE state = 'booked' AND booked_at IS NOT NULL")
    stray = "SELECT count(*) FROM plans WHERE order_id NOT IN (SELECT id FROM orders WHERE state = 'booked')"
    return -1 if asked(home, stray) else states


def booked_ones(home: Home) -> None:
    _orders(home)
    with desk_of(home) as desk:
        desk.book(1)


def _pay(home: Home, say: Say) -> None:
    with desk_of(home) as desk:
        for n in range(8):
            desk.till.pay(1, Decimal(1), "cash", note=f"{n}")
            say()


def paid(home: Home) -> int:
    notes = asked(home, "SELECT count(DISTINCT note) FROM payments")
    return notes if notes == asked(home, "SELECT count(*) FROM payments") else -1


def _paid_ones(home: Home) -> None:
    booked_ones(home)
    _pay(home, lambda: None)


def _undo(home: Home, say: Say) -> None:
    with desk_of(home) as desk:
        for _ in range(8):
            desk.undo()
            say()


def _undone(home: Home) -> int:
    left = asked(home, "SELECT count(*) FROM payments")
    undone = asked(home, "SELECT count(*) FROM changes WHERE undone AND what NOT LIKE 'undid%'")
    return 8 - left if 8 - left == undone else -1


# Migrate: an older book, as it was or up to date, and its copy whole


def _older(home: Home) -> None:
    store.make_empty(home.book, 4)
    with closing(sqlite3.connect(home.book)) as db:
        for n in range(300):
            db.execute("INSERT INTO threads (key, channel, subject, made_by) VALUES (?, 'chat', '', 1)", (f"k{n}",))
            for m in range(5):
                db.execute(
                    "INSERT INTO messages (thread, content_key, sender, mine, at, moment, text, address, attachments,"
                    " made_by) VALUES (?, ?, 'Dana', 0, ?, ?, ?, '', '[]', 1)",
                    (n + 1, f"{n}.{m}", NOW.isoformat(), int(NOW.timestamp()) + m, MESSAGE * 4),
                )
            db.execute(
                "INSERT INTO orders (thread, place, state, draft, as_read, made_by)"
                " VALUES (?, 0, 'draft', '{}', '{}', 1)",
                (n + 1,),
            )
        store.journal.search.fill(db)
        db.commit()


def _migrate(home: Home, say: Say) -> None:
    with desk_of(home) as desk:
        desk.version()
        say()


def _migrated(home: Home) -> int:
    steps = asked(home, "SELECT count(*) FROM _sqlite_migrations")
    if asked(home, "SELECT count(*) FROM messages") != 1500 or asked(home, "SELECT count(*) FROM orders") != 300:
        return -1
    for copy in home.book.parent.glob("orders-before-*.db"):
        # The name alone may be there; a copy that has anything in it is whole.
        if copy.stat().st_size and copies.check(copy) != 4:
            return -1
    return {4: 0, len(migrations.STEPS): 1}.get(steps, -1)


WORKS = (
    Work("take", _boxes, _take, _taken),
    Work("book", _orders, _book, _booked),
    Work("pay", booked_ones, _pay, paid),
    Work("undo", _paid_ones, _undo, _undone),
    Work("migrate", _older, _migrate, _migrated),
)


def whole_book(home: Home) -> bool:
    with closing(sqlite3.connect(home.book)) as db:
        return bool(db.execute("PRAGMA integrity_check").fetchone()[0] == "ok")


def forked(work: Callable[[Say], None]) -> tuple[int, int]:
    """Runs `work` in a fork; gives its process and the end of the pipe on which it says a byte for each part."""
    read, write = os.pipe()
    process = os.fork()
    if process:
        os.close(write)
        return process, read
    status = 1
    try:
        os.close(read)
        work(lambda: (os.write(write, b"."), None)[1])
        status = 0
    except BaseException:
        with suppress(BaseException):
            traceback.print_exc()
    finally:
        os._exit(status)


def ended(process: int, read: int) -> int:
    """Waits for a fork to end; gives how many parts it said were confirmed."""
    with os.fdopen(read, "rb") as pipe:
        said = len(pipe.read())
    os.waitpid(process, 0)
    return said


def kills() -> Iterator[Row]:
    """TIMES in all, over take, book, pay, undo, migrate and send, at random moments of the time it takes."""
    global _taken_before
    dice = random.Random(11)
    each = TIMES // (len(WORKS) + 1)
    print(f"{'killed while it':<20}{'injected':>10}{'survived':>10}{'lost':>6}{'doubled':>9}   where it stood")
    survived = injected = 0
    with tempfile.TemporaryDirectory(dir="/dev/shm") as folder:
        for work in WORKS:
            clean, home = home_of(Path(folder, work.name)), Home.at(Path(folder, "home"))
            work.make(clean)
            _taken_before = asked(clean, "SELECT count(*) FROM messages") if work.name == "take" else 0
            took = min(_whole(work, clean, home) for _ in range(3))
            lost = doubled = within = marked = 0
            for number in range(each):
                fresh(clean, home)
                process, read = forked(partial(work.do, home))
                # The last part, in which it writes, is where it hurts.
                sleep(took * (dice.random() if number % 3 == 0 else dice.uniform(0.6, 1.0)))
                with suppress(ProcessLookupError):
                    os.kill(process, signal.SIGKILL)
                said = ended(process, read)
                marked += bool(left_behind(home.book))
                # Before the program opens it: an older book would then be brought up to date.
                held = work.held(home) if whole_book(home) else -1
                with desk_of(home) as desk:
                    whole = desk.version() >= 0 and whole_book(home)
                lost += not whole or held < said
                doubled += whole and held > said + 1
                within += held == said
            injected, survived = injected + each, survived + each - lost - doubled
            told = f"{within} as confirmed, {each - within} one part on; {marked} left a mark"
            print(f"{work.name:<20}{each:>10}{each - lost - doubled:>10}{lost:>6}{doubled:>9}   {told}", flush=True)
        rest = TIMES - injected
        wrong, told = _sends(Path(folder), rest, dice)
        print(f"{'send':<20}{rest:>10}{rest - wrong:>10}{wrong:>6}{wrong:>9}   {told}")
    yield Row(f"killed {TIMES} times", f"{survived + rest - wrong} right", "", f"{injected - survived + wrong} wrong")


def fresh(clean: Home, home: Home) -> None:
    shutil.rmtree(home.book.parent, ignore_errors=True)
    shutil.copytree(clean.book.parent, home.book.parent)


def _whole(work: Work, clean: Home, home: Home) -> float:
    fresh(clean, home)
    begun = monotonic()
    ended(*forked(partial(work.do, home)))
    return monotonic() - begun


def _sends(folder: Path, times: int, dice: random.Random) -> tuple[int, str]:
    """Killed at any moment of a sending; what may have gone is looked up at the server, as the baker would."""
    signed = papers(folder)
    os.environ |= {"SSL_CERT_FILE": str(signed.authority), "ORDERTIN_MAIL_PASSWORD": PASSWORD}
    wrong, asked_about = 0, 0
    with post_office(certificate=signed.server) as office:
        clean, home = Home.at(folder / "post"), Home.at(folder / "home")
        _set_up(clean, office.at)

        def send(say: Say) -> None:
            with Desk(home) as desk:
                desk.send(1, desk.reply(1, "quote"))
                say()

        def once() -> float:
            fresh(clean, home)
            begun = monotonic()
            ended(*forked(send))
            return monotonic() - begun

        took = min(once() for _ in range(3))
        # Lines that are cut are what it is about.
        logging.getLogger("mail.log").setLevel(logging.CRITICAL)
        for _ in range(times):
            fresh(clean, home)
            office.mails.clear()
            process, read = forked(send)
            sleep(took * dice.random())
            with suppress(ProcessLookupError):
                os.kill(process, signal.SIGKILL)
            ended(process, read)
            sleep(0.02)  # the server has what was on its way
            with Desk(home) as desk:
                letter = next(iter(desk.outbox()), None)
                went = bool(office.mails)
                if letter is None:
                    desk.send(1, desk.reply(1, "quote"))
                elif letter.state == Fate.UNKNOWN:
                    asked_about += 1
                    desk.letters.settle(letter.id, went=went)
                    if not went:
                        desk.letters.send_again(letter.id)
                elif letter.state != Fate.ACCEPTED:
                    desk.letters.send_again(letter.id)
                notes = sum(message.mine for message in desk.case("t1").thread.messages)
                wrong += not (len(office.mails) == 1 and notes == 1 and desk.outbox()[0].state == Fate.ACCEPTED)
    return wrong, f"{asked_about} asked about, one mail and one note of each"
