"""Copies of the book: those kept of each week in a folder beside it, and putting one in the book's place."""

from __future__ import annotations

import os
import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from datetime import date, timedelta
from pathlib import Path

from intake.book import copying, migrations
from intake.model import OrdertinError

FOLDER = "backups"
KEPT = 8
WEEK = timedelta(days=7)
_NO_BOOK = "this file is not an order book"
# Of SQLite and of the tool that applies the steps; none of ours.
_NOT_OURS = re.compile(r"sqlite_|(idx_)?_sqlite_migrations|message_words_")


def folder_of(book: Path) -> Path:
    return book.with_name(FOLDER)


def kept(book: Path) -> list[tuple[date, Path]]:
    """The weekly copies with their days, the newest first."""
    found = []
    for path in folder_of(book).glob(f"{book.stem}-????-??-??{book.suffix}"):
        with suppress(ValueError):
            found.append((date.fromisoformat(path.stem[-10:]), path))
    return sorted(found, reverse=True)


def all_of(book: Path) -> list[Path]:
    """Every copy of the book that the program has made beside it or in its folder."""
    beside = (path for path in book.parent.glob(f"{book.stem}-*{book.suffix}") if path.is_file())
    return sorted({*beside, *folder_of(book).glob(f"*{book.suffix}")})


def weekly(book: Path, today: date) -> Path | None:
    """Makes this week's copy, where there is a book and none was made within a week; gives it.

    A copy is checked before an older one makes way for it. Days that are yet to come are of a clock that was wrong:
    those copies count for none, and go first. Raises OrdertinError.
    """
    days = [day for day, _ in kept(book)]
    if not book.is_file() or any(today - WEEK < day <= today for day in days):
        return None
    to = folder_of(book) / f"{book.stem}-{today.isoformat()}{book.suffix}"
    with _in_words(to):
        to.parent.mkdir(mode=0o700, exist_ok=True)
        copying.copy(book, to)
    try:
        check(to)
    except OrdertinError:
        with suppress(OSError):
            to.unlink()
        raise
    aged = sorted(kept(book), key=lambda held: (held[0] <= today, held[0]), reverse=True)
    for _, old in aged[KEPT:]:
        with suppress(OSError):
            old.unlink()
    return to


def check(path: Path) -> int:
    """Whether a file is a whole order book that this program knows; gives how many steps it has. It is only read.

    Raises OrdertinError where it isn't: no book, damaged, or a newer program's.
    """
    with _in_words(path):
        if not path.is_file():
            raise OrdertinError("there is no such file", where=str(path), todo="Name a backup of the book")
        with closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True, timeout=3)) as db:
            if db.execute("PRAGMA application_id").fetchone()[0] != migrations.APPLICATION_ID:
                raise _refused(path, _NO_BOOK)
            if db.execute("PRAGMA integrity_check(1)").fetchone()[0] != "ok":
                raise _refused(path, "this book is damaged")
            steps = _steps_of(db, path)
            if _shape(db) != _shape_of(steps):
                raise _refused(path, "this book has not the shape that ordertin gives one")
            if db.execute("PRAGMA foreign_key_check").fetchone():
                raise _refused(path, "parts of this book are missing")
            return steps


def _steps_of(db: sqlite3.Connection, path: Path) -> int:
    done = [name for (name,) in db.execute("SELECT name FROM _sqlite_migrations ORDER BY id")]
    return steps_known(done, path)


def steps_known(done: list[str], path: Path) -> int:
    """How many steps a book has by their names. Raises OrdertinError where one is not known here."""
    names = [step.__name__ for step in migrations.STEPS]
    if done != names[: len(done)]:
        raise _refused(path, "this is of a newer ordertin than this one", "Update ordertin, and try again")
    return len(done)


def _shape(db: sqlite3.Connection) -> set[tuple[str, str, str]]:
    """What a book is made of, each with its own words. Not a trigger or a view more may be in it: they would act."""
    rows = db.execute("SELECT type, name, ifnull(sql, '') FROM sqlite_master").fetchall()
    return {(kind, name, "".join(sql.split())) for kind, name, sql in rows if not _NOT_OURS.match(name)}


def _shape_of(steps: int) -> set[tuple[str, str, str]]:
    with closing(sqlite3.connect(":memory:")) as db:
        for step in migrations.STEPS[:steps]:
            step(db)
        return _shape(db)


def restore(book: Path, source: Path) -> Path | None:
    """Puts a checked book in the place of `book`, for every window that has it open; gives where that is kept now,
    None where there was none. Whenever it is stopped, the one or the other is there, whole.

    Raises OrdertinError, having changed nothing, where `source` is no whole book or the place can't be written.
    """
    check(source)
    with _in_words(book):
        if book.exists() and source.resolve() == book.resolve():
            raise _refused(source, "this is the book itself", "Name a backup of it")
        book.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        if not book.exists():
            copying.copy(source, book)
            return None
        aside = copying.unused(book.with_name(f"{book.stem}-before-restoring{book.suffix}"))
        try:
            copying.copy(book, aside)
            copying.pour(source, book)
        except sqlite3.DatabaseError as error:
            if getattr(error, "sqlite_errorcode", 0) & 0xFF not in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
                raise
            _replace_damaged(book, source, aside)
        return aside


def _replace_damaged(book: Path, source: Path, aside: Path) -> None:
    """A file that SQLite can't open is put aside as it is, with the journal that belongs to it."""
    fresh = copying.unused(book.with_name(f"{book.stem}-new{book.suffix}"))
    copying.copy(source, fresh)
    aside.unlink(missing_ok=True)
    journal = book.with_name(f"{book.name}-journal")
    if journal.exists():
        os.replace(journal, aside.with_name(f"{aside.name}-journal"))
    os.replace(book, aside)
    os.replace(fresh, book)


def _refused(path: Path, what: str, todo: str = "Nothing was changed; name another") -> OrdertinError:
    return OrdertinError(what, where=str(path), todo=todo)


@contextmanager
def _in_words(path: Path) -> Iterator[None]:
    """What SQLite and the file system report, as a line for the baker about `path`."""
    try:
        yield
    except sqlite3.Error as error:
        code = getattr(error, "sqlite_errorcode", 0) & 0xFF
        if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            raise _refused(path, "another window or program is writing in it", "Wait a moment, and again") from error
        if code == sqlite3.SQLITE_FULL:
            raise _refused(path, "there is no room left on the disk", "Make room, and again") from error
        if code in (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT):
            what = _NO_BOOK if code == sqlite3.SQLITE_NOTADB else "this book is damaged"
            raise _refused(path, what) from error
        raise _refused(path, f"it can't be read or written: {error}") from error
    except UnicodeError as error:  # the names of what is in it
        raise _refused(path, "this book is damaged") from error
    except OSError as error:
        raise _refused(path, f"it can't be read or written: {error.strerror or error}", "Name another") from error


