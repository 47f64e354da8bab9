"""Whether a program that wrote in the book went without closing it: killed, or the power gone.

A program that writes leaves a small file beside the book, locked for as long as it runs; the system lets go of the
lock of a program that dies. One that nobody holds is of a program that did not get to take it away.
"""

from __future__ import annotations

import os
import secrets
import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path


class Mark:
    """The mark of this program on one book."""

    def __init__(self, book: Path) -> None:
        self._book = book
        self._path: Path | None = None
        self._held: sqlite3.Connection | None = None

    def set(self) -> None:
        """Sets it, once. Where no file can be made there, there is no mark, and the book is written all the same."""
        if self._path is not None:
            return
        self._path = self._book.with_name(f".{self._book.name}-writing-{secrets.token_hex(4)}")
        with suppress(OSError, sqlite3.Error):
            os.close(os.open(self._path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
            self._held = _locked(self._path)

    def take_away(self) -> None:
        if self._held is not None:
            self._held.close()
        if self._path is not None:
            with suppress(OSError):
                self._path.unlink()
        self._path = self._held = None


def left_behind(book: Path) -> list[Path]:
    """The marks of programs that are no more."""
    return list(_left(book))


def _left(book: Path) -> Iterator[Path]:
    for path in sorted(book.parent.glob(f".{book.name}-writing-????????")):
        with suppress(sqlite3.Error):
            _locked(path).close()
            yield path


def _locked(path: Path) -> sqlite3.Connection:
    """Raises sqlite3.OperationalError where another holds it."""
    held = sqlite3.connect(path, timeout=0, isolation_level=None, check_same_thread=False)
    try:
        held.execute("PRAGMA journal_mode = MEMORY")  # no second file beside it
        held.execute("BEGIN EXCLUSIVE")
    except sqlite3.Error:
        held.close()
        raise
    return held
