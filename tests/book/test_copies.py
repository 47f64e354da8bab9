"""Copies of the book: the weekly ones, checking one, putting one in the book's place, and what a crash leaves."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from intake.book import copies, copying, migrations, store
from intake.book.marks import left_behind
from intake.book.store import Book
from intake.model import OrdertinError

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)
DAY = AT.date()


def add(book: Book, *keys: str) -> None:
    with book.change("added", AT) as change:
        change.add("threads", [{"key": key, "channel": "chat", "subject": ""} for key in keys])


def keys(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as db:
        return [key for (key,) in db.execute("SELECT key FROM threads ORDER BY id")]


def names(path: Path) -> list[str]:
    return [each.name for _, each in copies.kept(path)]


class TestWeekly:
    def test_one_a_week_and_eight_of_them(self, book: Book, path: Path) -> None:
        add(book, "dana")
        made = [copies.weekly(path, DAY + timedelta(days)) for days in range(0, 80, 3)]
        assert len([copy for copy in made if copy]) > copies.KEPT
        days = [day for day, _ in copies.kept(path)]
        assert len(days) == copies.KEPT
        assert all(later - earlier >= copies.WEEK for later, earlier in pairwise(days))
        assert keys(copies.kept(path)[0][1]) == ["dana"]
        assert {each.stat().st_mode & 0o777 for _, each in copies.kept(path)} == {0o600}

    def test_none_where_there_is_no_book(self, path: Path) -> None:
        assert copies.weekly(path, DAY) is None
        assert not path.parent.exists()

    def test_a_clock_that_was_ahead_keeps_none_from_being_made(self, book: Book, path: Path) -> None:
        add(book, "dana")
        copies.weekly(path, DAY + timedelta(900))
        for week in range(9):
            assert copies.weekly(path, DAY + week * copies.WEEK)
        assert len(names(path)) == copies.KEPT
        assert max(day for day, _ in copies.kept(path)) == DAY + 8 * copies.WEEK

    def test_a_damaged_book_pushes_no_good_copy_out(self, book: Book, path: Path) -> None:
        add(book, *(f"k{n}" * 50 for n in range(400)))
        for week in range(copies.KEPT):
            copies.weekly(path, DAY + week * copies.WEEK)
        before = names(path)
        book.close()
        spoil(path)
        with pytest.raises(OrdertinError, match="damaged"):
            copies.weekly(path, DAY + 20 * copies.WEEK)
        assert names(path) == before

    def test_half_a_copy_never_has_the_name_of_one(
        self, book: Book, path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        add(book, "dana")

        def full(*_: object) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(copying, "pour", full)
        with pytest.raises(OrdertinError, match="No space left"):
            copies.weekly(path, DAY)
        assert list(copies.folder_of(path).iterdir()) == []


def spoil(path: Path) -> None:
    """Spoils the pages in the middle, as a failing disk does."""
    data = bytearray(path.read_bytes())
    data[len(data) // 4 : len(data) // 2] = os.urandom(len(data) // 2 - len(data) // 4)
    path.write_bytes(data)


def text(path: Path) -> None:
    path.write_text("Dear diary, " * 100)


def another(path: Path) -> None:
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE recipes (name TEXT)")
        db.commit()


def altered(*statements: str) -> Callable[[Path], None]:
    def left(path: Path) -> None:
        with closing(Book(path)) as book:
            add(book, *(f"k{n}" * 50 for n in range(400)))
        with closing(sqlite3.connect(path)) as db:
            for statement in statements:
                db.execute(statement)
            db.commit()

    return left


def damaged(path: Path) -> None:
    altered()(path)
    spoil(path)


def misnamed(path: Path) -> None:
    """A name in the list of what is in it is no text any more."""
    with closing(Book(path)) as book:
        add(book, "dana")
    path.write_bytes(path.read_bytes().replace(b"CREATE TABLE payments", b"CREATE TABLE paym\xff\xffts", 1))


NEWER = "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('ordertin', 'in_a_year', '')"
TRIGGER = "CREATE TRIGGER t AFTER INSERT ON threads BEGIN DELETE FROM payments; END"
ORPHAN = "INSERT INTO orders (thread, place, state, draft, as_read, made_by) VALUES (999999, 0, 'draft', '{}', '{}', 1)"


@pytest.mark.parametrize(
    ("left", "said"),
    [
        (lambda path: None, "no such file"),
        (text, "not an order book"),
        (another, "not an order book"),
        (damaged, "damaged"),
        (misnamed, "damaged"),
        (altered(NEWER), "newer ordertin"),
        (altered(TRIGGER), "shape"),
        (altered("DROP TABLE payments"), "shape"),
        (altered("PRAGMA foreign_keys = OFF", ORPHAN), "missing"),
    ],
    ids=[
        *("nothing", "text", "another program's", "damaged", "misnamed", "newer"),
        *("a trigger", "a table less", "an orphan"),
    ],
)
def test_what_is_no_whole_book_is_not_restored(
    book: Book, path: Path, tmp_path: Path, left: Callable[[Path], None], said: str
) -> None:
    add(book, "dana")
    source = tmp_path / "source.db"
    left(source)
    with pytest.raises(OrdertinError, match=said) as error:
        copies.restore(path, source)
    assert str(source) in str(error.value)
    assert keys(path) == ["dana"]
    assert sorted(each.name for each in path.parent.iterdir() if not each.name.startswith(".")) == ["orders.db"]


def test_a_restored_book_is_seen_by_a_window_that_has_it_open(book: Book, path: Path, tmp_path: Path) -> None:
    add(book, "dana")
    book.copy(tmp_path / "old.db")
    add(book, "leo")
    with closing(Book(path)) as window:
        assert len(window.rows("SELECT * FROM threads")) == 2
        aside = copies.restore(path, tmp_path / "old.db")
        assert [row["key"] for row in window.rows("SELECT key FROM threads")] == ["dana"]
        add(window, "mia")
    assert aside is not None
    assert (keys(path), keys(aside)) == (["dana", "mia"], ["dana", "leo"])


def test_an_older_book_is_restored_and_then_brought_up_to_date(book: Book, path: Path, tmp_path: Path) -> None:
    store.make_empty(tmp_path / "old.db", 3)
    add(book, "dana")
    book.close()
    copies.restore(path, tmp_path / "old.db")
    assert book.rows("SELECT count(*) AS n FROM payments") == [{"n": 0}]
    assert copies.check(path) == len(migrations.STEPS)


@pytest.mark.parametrize("left", [text, damaged], ids=["no book", "damaged"])
def test_a_damaged_book_is_kept_as_it_is_when_a_backup_takes_its_place(
    path: Path, tmp_path: Path, left: Callable[[Path], None]
) -> None:
    with closing(Book(tmp_path / "good.db")) as good:
        add(good, "dana")
    path.parent.mkdir()
    left(path)
    before = path.read_bytes()
    aside = copies.restore(path, tmp_path / "good.db")
    assert keys(path) == ["dana"]
    assert aside is not None and aside.read_bytes()[100:] == before[100:]  # the head holds a counter


def test_a_book_being_written_is_waited_for_and_then_said(
    book: Book, path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(copying, "WAIT_SECONDS", 0.1)
    add(book, "dana")
    book.copy(tmp_path / "old.db")
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(OrdertinError, match="another window"):
            copies.restore(path, tmp_path / "old.db")
    assert keys(path) == ["dana"]


DIES = """
import os, signal, sys
from datetime import UTC, datetime
from pathlib import Path
from intake.book.store import Book
book = Book(Path(sys.argv[1]))
with book.change("added", datetime(2026, 3, 11, tzinfo=UTC)) as change:
    change.add("threads", [{"key": f"k{n}" * 50, "channel": "chat", "subject": ""} for n in range(400)])
if sys.argv[2] == "dies":
    os.kill(os.getpid(), signal.SIGKILL)
book.close()
"""


class TestAProgramThatWentWithoutClosing:
    def ended(self, path: Path, how: str) -> int:
        return subprocess.run([sys.executable, "-c", DIES, str(path), how], timeout=60).returncode

    def test_is_noticed_and_the_book_looked_over(self, book: Book, path: Path) -> None:
        assert self.ended(path, "dies") == -signal.SIGKILL
        assert len(left_behind(path)) == 1
        assert len(book.rows("SELECT * FROM threads")) == 400
        assert left_behind(path) == []

    def test_is_not_one_that_closed_or_runs(self, book: Book, path: Path) -> None:
        assert self.ended(path, "ends") == 0
        assert left_behind(path) == []
        add(book, "dana")
        assert (len(list(path.parent.glob(".*-writing-*"))), left_behind(path)) == (1, [])
        book.close()
        assert list(path.parent.glob(".*-writing-*")) == []

    def test_a_damage_is_told_each_time_until_it_is_mended(self, book: Book, path: Path, tmp_path: Path) -> None:
        self.ended(path, "dies")
        copying.copy(path, tmp_path / "good.db")
        spoil(path)
        for _ in range(2):
            with pytest.raises(OrdertinError, match="salvage"):
                book.version()
        copies.restore(path, tmp_path / "good.db")
        assert len(book.rows("SELECT * FROM threads")) == 400


def test_the_days_of_copies_are_those_of_their_names(path: Path) -> None:
    folder = copies.folder_of(path)
    folder.mkdir(parents=True)
    for name in ("orders-2026-03-11.db", "orders-2026-13-11.db", "orders-by-hand-2026-03-11.db", "cakes-2026-03-11.db"):
        (folder / name).touch()
    assert copies.kept(path) == [(date(2026, 3, 11), folder / "orders-2026-03-11.db")]
