"""The book's file: opening it, writing to it one change at a time, copying it.

SQLite in one file that only its owner can read, with a DELETE journal: a write-ahead log beside the file is what
breaks in folders that sync. A transaction that writes begins IMMEDIATE, since one that reads first and writes later
fails at once where another has written in between. Each thread has a connection of its own.
"""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlite_utils import Database, Migrations

from intake.book import copying, journal, migrations
from intake.book.copying import unused
from intake.book.marks import Mark, left_behind
from intake.model import OrdertinError

_WAIT_SECONDS = copying.WAIT_SECONDS
_SET = "ordertin"
DAMAGED = "the order book is damaged"
MEND = "ordertin salvage saves what can be read of it; ordertin restore puts a backup in its place"


class Book:
    """One order book. The file is opened, and made where there is none, when something is first asked of it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._mine = threading.local()
        self._open: dict[threading.Thread, Database] = {}
        self._mark = Mark(path)
        self._lock = threading.Lock()

    @property
    def db(self) -> Database:
        """This thread's connection. Raises OrdertinError where the file can't be opened or is no book of ours."""
        db: Database | None = getattr(self._mine, "db", None)
        if db is None:
            with self._lock:
                for thread in [t for t in self._open if not t.is_alive()]:
                    self._open.pop(thread).close()
                db = self._mine.db = self._open[threading.current_thread()] = self._connect()
        return db

    def close(self) -> None:
        """Closes every thread's connection; what is asked of the book later opens it again."""
        with self._lock:
            for db in self._open.values():
                db.close()
            self._open.clear()
            self._mine = threading.local()
            self._mark.take_away()

    def rows(self, sql: str, values: Sequence[Any] = ()) -> list[dict[str, Any]]:
        """All rows of a SELECT, each a dict by column."""
        with self._in_words():
            return list(self.db.query(sql, values))

    def close_gaps(self) -> None:
        """Writes the file anew without what was deleted in it. Not within a change."""
        with self._in_words():
            self.db.execute("VACUUM")

    def version(self) -> int:
        """The number of the last change: another one means that the book is not what it was."""
        return int(self.rows("SELECT ifnull(max(id), 0) AS last FROM changes")[0]["last"])

    def last(self) -> str:
        """The words of the last change that stands; empty where none does."""
        rows = self.rows("SELECT what FROM changes WHERE NOT undone ORDER BY id DESC LIMIT 1")
        return str(rows[0]["what"]) if rows else ""

    @contextmanager
    def change(self, what: str, at: datetime) -> Iterator[journal.Change]:
        """One transaction: everything written through the Change given is kept, or none of it.

        Raises OrdertinError where the book can't be written, such as while another program is writing for long.
        """
        with self._writing() as db:
            change = journal.Change(db, what, at.isoformat())
            yield change
            change.finish()

    def undo(self, at: datetime) -> str | None:
        """Takes back the last change; gives its words, None where there is nothing to take back."""
        with self._writing() as db:
            return journal.undo(db, at.isoformat())

    def copy(self, to: Path) -> None:
        """A whole copy of the book in a new file at `to`. Raises OrdertinError where it can't be made."""
        self.version()
        try:
            with self._in_words():
                copying.copy(self.path, to)
        except OrdertinError as error:
            if not isinstance(error.__cause__, OSError):
                raise
            why = error.__cause__.strerror or error.__cause__
            raise OrdertinError(f"no copy can be made: {why}", where=str(to), todo="Choose another name") from None

    @contextmanager
    def _writing(self) -> Iterator[Database]:
        with self._in_words():
            db = self.db
            with self._lock:
                self._mark.set()
            db.execute("BEGIN IMMEDIATE")
            try:
                yield db
                db.commit()
            except BaseException:
                db.rollback()
                raise

    def _connect(self) -> Database:
        with self._in_words():
            fresh = _make(self.path)
            connection = sqlite3.connect(self.path, timeout=_WAIT_SECONDS, check_same_thread=False)
            try:
                connection.execute("PRAGMA foreign_keys = ON")
                db = Database(connection, execute_plugins=False)
                _look_over(db, self.path)
                _bring_up_to_date(db, self.path)
            except BaseException:
                connection.close()
                if fresh:
                    with suppress(OSError):
                        if self.path.stat().st_size == 0:
                            self.path.unlink()
                raise
            return db

    @contextmanager
    def _in_words(self) -> Iterator[None]:
        """Turns what SQLite and the file system report into a line for the baker."""
        try:
            yield
        except sqlite3.Error as error:
            what, todo = _words(error)
            raise OrdertinError(what, where=str(self.path), todo=todo) from error
        except UnicodeError as error:  # the names of what is in it
            raise OrdertinError(DAMAGED, where=str(self.path), todo=MEND) from error
        except OSError as error:
            raise OrdertinError(
                f"the order book can't be opened: {error.strerror or error}",
                where=str(self.path),
                todo="Check that the folder exists and is yours to write, or name another in ORDERTIN_HOME",
            ) from error


def _make(path: Path) -> bool:
    """Makes an empty file that only its owner can read; an existing one is made so. Gives whether it was made."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    try:
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        return True
    except FileExistsError:
        if path.is_file() and path.stat().st_mode & 0o077:
            with suppress(OSError):
                path.chmod(0o600)
        return False


def _look_over(db: Database, path: Path) -> None:
    """Has a book checked as a whole that a program has left without closing it. Raises OrdertinError where it is
    damaged; it is then checked each time, until it is mended or another is in its place."""
    marks = left_behind(path)
    if not marks:
        return
    found = db.execute("PRAGMA integrity_check(1)").fetchone()[0]
    if found != "ok":
        raise OrdertinError(DAMAGED, where=str(path), todo=MEND)
    for mark in marks:
        with suppress(OSError):
            mark.unlink()


def _bring_up_to_date(db: Database, path: Path) -> None:
    """Applies the steps that the book lacks, after a copy of the file where there is a book in it.

    What is pending is looked up first, reading only: a book that is up to date is not written to.
    """
    steps = _steps()
    if not _pending(db, path, steps):
        return
    db.execute("BEGIN IMMEDIATE")
    try:
        # Another window may have got here first.
        if _pending(db, path, steps):
            done = len(steps.applied(db))
            if done:
                copying.copy(path, unused(path.with_name(f"{path.stem}-before-{done + 1}{path.suffix}")))
            steps.apply(db)
        db.commit()
    except BaseException:
        db.rollback()
        raise


def make_empty(path: Path, steps: int) -> None:
    """Makes an empty book of the first so many steps in a new file. Raises OSError or sqlite3.Error where it can't."""
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    connection = sqlite3.connect(path)
    try:
        _steps(steps).apply(Database(connection, execute_plugins=False))
        connection.commit()
    finally:
        connection.close()


def _steps(first: int | None = None) -> Migrations:
    steps = Migrations(_SET)
    for step in migrations.STEPS[:first]:
        steps(name=step.__name__)(step)
    return steps


def _pending(db: Database, path: Path, steps: Migrations) -> bool:
    tables = set(db.table_names())
    owner = int(db.execute("PRAGMA application_id").fetchone()[0])
    if tables and owner != migrations.APPLICATION_ID:
        raise OrdertinError(
            "this file is not an order book", where=str(path), todo="Move it away, or name another in ORDERTIN_HOME"
        )
    known = {step.__name__ for step in migrations.STEPS}
    if any(done.name not in known for done in steps.applied(db)):
        raise OrdertinError(
            "this book was last opened by a newer ordertin than this one",
            where=str(path),
            todo="Update ordertin and open it again; nothing was changed",
        )
    return bool(steps.pending(db))


def _words(error: sqlite3.Error) -> tuple[str, str]:
    """What happened and what to do, by SQLite's primary result code (sqlite.org/rescode.html)."""
    match getattr(error, "sqlite_errorcode", 0) & 0xFF:
        case sqlite3.SQLITE_BUSY | sqlite3.SQLITE_LOCKED:
            return "another window or program is writing in the order book", "Wait a moment and try again"
        case sqlite3.SQLITE_READONLY | sqlite3.SQLITE_PERM:
            return "the order book can't be written to", "Check the permissions of the file and its folder"
        case sqlite3.SQLITE_CANTOPEN:
            return "the order book can't be opened", "Check that the folder exists and is yours to write"
        case sqlite3.SQLITE_FULL:
            return "there is no room left on the disk", "Make room and try again; nothing was changed"
        case sqlite3.SQLITE_IOERR:
            return "the disk can't be read or written", "See whether it is full or failing; nothing was changed"
        case sqlite3.SQLITE_NOTADB:
            return "this file is not an order book", "Move it away, or name another in ORDERTIN_HOME"
        case sqlite3.SQLITE_CORRUPT:
            return DAMAGED, MEND
        case sqlite3.SQLITE_CONSTRAINT:
            return "another program has changed the order book", "Nothing was changed; try again"
    return f"the order book can't be read or written: {error}", "Try again; keep a copy of the file"
