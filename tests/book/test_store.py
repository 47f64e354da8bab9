"""The book's file: made, opened, refused, copied, and written to from several sides."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from intake.book import migrations, store
from intake.book.store import Book
from intake.model import OrdertinError

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)
THREAD = {"key": "chat:dana", "channel": "chat", "subject": ""}


def add_thread(book: Book, key: str) -> None:
    with book.change(f"added {key}", AT) as change:
        change.add("threads", [{**THREAD, "key": key}])


def keys(book: Book) -> list[str]:
    return [row["key"] for row in book.rows("SELECT key FROM threads ORDER BY id")]


def test_opening_makes_a_book_that_only_its_owner_reads(book: Book, path: Path) -> None:
    assert not path.exists()
    assert book.version() == 0
    assert (path.stat().st_mode & 0o777, path.parent.stat().st_mode & 0o777) == (0o600, 0o700)


def test_a_book_that_others_could_read_is_closed_to_them(book: Book, path: Path) -> None:
    book.version()
    path.chmod(0o644)
    with closing(Book(path)) as again:
        again.version()
    assert path.stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize(
    ("pragma", "value"), [("foreign_keys", 1), ("journal_mode", "delete"), ("integrity_check", "ok")]
)
def test_how_the_book_is_opened(book: Book, pragma: str, value: Any) -> None:
    assert book.rows(f"PRAGMA {pragma}")[0][pragma] == value


def other_program(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute("CREATE TABLE recipes (name TEXT)")
        other.commit()


def newer(path: Path) -> None:
    with closing(Book(path)) as made:
        made.version()
    with closing(sqlite3.connect(path)) as other:
        other.execute(
            "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('ordertin', 'in_a_year', '')"
        )
        other.commit()


def damaged(path: Path) -> None:
    with closing(Book(path)) as made:
        add_thread(made, "chat:dana")
    whole = path.read_bytes()
    path.write_bytes(whole[:100] + b"\xff" * (len(whole) - 100))


@pytest.mark.parametrize(
    ("left", "said"),
    [
        (lambda path: path.write_text("Dear diary, " * 100), "not an order book"),
        (other_program, "not an order book"),
        (newer, "newer ordertin"),
        (damaged, "damaged"),
        (lambda path: path.mkdir(), "can't be opened"),
    ],
    ids=["text", "another program's", "newer", "damaged", "a folder"],
)
def test_what_is_no_book_of_ours_is_refused_and_left_alone(
    tmp_path: Path, left: Callable[[Path], object], said: str
) -> None:
    path = tmp_path / "orders.db"
    left(path)
    before = path.read_bytes() if path.is_file() else None
    with closing(Book(path)) as book, pytest.raises(OrdertinError, match=said) as error:
        book.version()
    assert str(path) in str(error.value) and "\n" not in str(error.value)
    assert (path.read_bytes() if path.is_file() else None) == before


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "data").write_text("")
    with pytest.raises(OrdertinError, match="can't be opened"):
        Book(tmp_path / "data" / "orders.db").version()


def test_a_folder_that_may_not_be_written(monkeypatch: pytest.MonkeyPatch, path: Path) -> None:
    def refuse(*_: object, **__: object) -> int:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(store.os, "open", refuse)
    with pytest.raises(OrdertinError, match="Permission denied"):
        Book(path).version()


def test_a_book_that_may_not_be_written_can_still_be_looked_at(book: Book) -> None:
    add_thread(book, "chat:dana")
    book.db.execute("PRAGMA query_only = ON")
    assert keys(book) == ["chat:dana"]
    with pytest.raises(OrdertinError, match="can't be written to"):
        add_thread(book, "chat:leo")


def test_another_program_that_writes_for_long(monkeypatch: pytest.MonkeyPatch, book: Book, path: Path) -> None:
    monkeypatch.setattr(store, "_WAIT_SECONDS", 0.05)
    add_thread(book, "chat:dana")
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(OrdertinError, match="another window or program"):
            add_thread(book, "chat:leo")
        other.execute("ROLLBACK")
    add_thread(book, "chat:leo")
    assert keys(book) == ["chat:dana", "chat:leo"]


@pytest.mark.parametrize("error", [ValueError, KeyboardInterrupt, sqlite3.OperationalError], ids=str)
def test_a_change_that_fails_leaves_nothing(book: Book, error: type[BaseException]) -> None:
    with pytest.raises((error, OrdertinError)), book.change("added", AT) as change:
        change.add("threads", [THREAD])
        raise error
    assert (keys(book), book.version()) == ([], 0)


def test_a_change_that_changes_nothing_is_none(book: Book) -> None:
    add_thread(book, "chat:dana")
    before = book.version()
    with book.change("looked", AT) as change:
        assert not change.alter("threads", 1, {"key": "chat:dana"})
    assert book.version() == before
    assert book.undo(AT) == "added chat:dana"


def test_each_window_sees_what_another_does(book: Book, path: Path) -> None:
    with closing(Book(path)) as other:
        versions = [other.version()]
        add_thread(book, "chat:dana")
        versions.append(other.version())
        other.undo(AT)
        versions.append(book.version())
        assert len(set(versions)) == 3
        assert keys(book) == keys(other) == []


def test_many_threads_write_and_none_is_lost(book: Book) -> None:
    wrong: list[BaseException] = []

    def write(name: str) -> None:
        try:
            for i in range(10):
                add_thread(book, f"{name}{i}")
        except BaseException as error:
            wrong.append(error)

    threads = [threading.Thread(target=write, args=(name,)) for name in "abcd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert not wrong
    assert sorted(keys(book)) == sorted(f"{name}{i}" for name in "abcd" for i in range(10))


PROGRAM = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from intake.book.store import Book
book = Book(Path(sys.argv[1]))
for i in range(10):
    with book.change("added", datetime(2026, 3, 11, tzinfo=UTC)) as change:
        change.add("threads", [{"key": f"{sys.argv[2]}{i}", "channel": "chat", "subject": ""}])
if sys.argv[3] == "die":
    import os, signal
    with book.change("half", datetime(2026, 3, 11, tzinfo=UTC)) as change:
        change.add("threads", [{"key": f"half{i}", "channel": "chat", "subject": "x" * 9000} for i in range(500)])
        os.kill(os.getpid(), signal.SIGKILL)
book.close()
"""


def test_two_programs_open_a_new_book_at_once_and_write(book: Book, path: Path) -> None:
    started = [subprocess.Popen([sys.executable, "-c", PROGRAM, str(path), name, "end"]) for name in "ab"]
    assert [each.wait(60) for each in started] == [0, 0]
    assert len(keys(book)) == 20


def test_a_program_killed_halfway_leaves_whole_changes_only(book: Book, path: Path) -> None:
    subprocess.run([sys.executable, "-c", PROGRAM, str(path), "a", "die"], timeout=60)
    assert keys(book) == [f"a{i}" for i in range(10)]
    assert book.rows("PRAGMA integrity_check")[0]["integrity_check"] == "ok"


def test_connections_of_threads_that_have_ended_are_closed(book: Book) -> None:
    for _ in range(5):
        thread = threading.Thread(target=book.version)
        thread.start()
        thread.join()
    book.version()
    assert len(book._open) == 1


def test_a_closed_book_opens_again_when_asked(book: Book) -> None:
    add_thread(book, "chat:dana")
    book.close()
    assert keys(book) == ["chat:dana"]


def test_a_copy_is_whole_and_its_owners_alone(book: Book, tmp_path: Path) -> None:
    add_thread(book, "chat:dana")
    to = tmp_path / "copy.db"
    book.copy(to)
    assert to.stat().st_mode & 0o777 == 0o600
    with closing(Book(to)) as copy:
        assert keys(copy) == ["chat:dana"]
    with pytest.raises(OrdertinError, match="exists"):
        book.copy(to)


def dump(path: Path) -> list[str]:
    with closing(sqlite3.connect(path)) as found:
        return list(found.iterdump())


def loaded(db: Any) -> None:
    db.execute("ALTER TABLE threads ADD COLUMN colour TEXT NOT NULL DEFAULT 'plain'")


def failing(db: Any) -> None:
    db.execute("DROP TABLE images")
    db.execute("SELECT nothing FROM nowhere")


class TestAnOlderBook:
    @pytest.fixture(autouse=True)
    def filled(self, book: Book) -> None:
        add_thread(book, "chat:dana")
        book.close()

    def copies(self, path: Path) -> list[str]:
        return sorted(found.name for found in path.parent.iterdir() if found != path)

    def test_is_copied_and_then_brought_up_to_date(
        self, monkeypatch: pytest.MonkeyPatch, book: Book, path: Path
    ) -> None:
        old = dump(path)
        monkeypatch.setattr(migrations, "STEPS", [*migrations.STEPS, loaded])
        assert book.rows("SELECT key, colour FROM threads") == [{"key": "chat:dana", "colour": "plain"}]
        (copy,) = self.copies(path)
        assert dump(path.parent / copy) == old
        book.close()
        book.version()
        assert self.copies(path) == [copy]

    def test_stays_as_it_was_where_a_step_fails(
        self, monkeypatch: pytest.MonkeyPatch, book: Book, path: Path
    ) -> None:
        with monkeypatch.context() as patch:
            patch.setattr(migrations, "STEPS", [*migrations.STEPS, loaded, failing])
            with pytest.raises(OrdertinError):
                book.version()
        assert "colour" not in book.rows("SELECT * FROM threads")[0]
        assert book.undo(AT) == "added chat:dana"

    def test_is_left_alone_where_no_copy_can_be_made(
        self, monkeypatch: pytest.MonkeyPatch, book: Book, path: Path
    ) -> None:
        def full(*_: object) -> None:
            raise OSError(28, "No space left on device")

        old = path.read_bytes()
        monkeypatch.setattr(migrations, "STEPS", [*migrations.STEPS, loaded])
        monkeypatch.setattr(store.copying, "copy", full)
        with pytest.raises(OrdertinError, match="No space left"):
            book.version()
        assert path.read_bytes() == old

    def test_an_up_to_date_one_is_not_written_when_opened(self, book: Book, path: Path) -> None:
        old = path.stat().st_mtime_ns
        book.version()
        assert path.stat().st_mtime_ns == old
