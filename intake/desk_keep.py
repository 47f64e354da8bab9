"""Keeping the book: copies of it, another in its place, all of it as files, and a customer taken out of it for good."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext, suppress
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from intake.book.letters import Letters
from intake.book.people import People
from intake.book.store import Book
from intake.desk_customers import Customer, customers, number_of
from intake.model import OrdertinError

if TYPE_CHECKING:
    from intake.book.forgetting import Forgotten


class Keeping:
    """What is done with one book as a whole."""

    def __init__(self, book: Book, people: People, zone: ZoneInfo, now: Callable[[], datetime]) -> None:
        self._book, self._people, self._zone, self._now = book, people, zone, now

    def weekly(self) -> str:
        """Makes this week's copy of the book where it is due; gives a word where that can't be done, which keeps
        nobody from working."""
        from intake.book.copies import weekly

        try:
            weekly(self._book.path, self._now().date())
        except OrdertinError as error:
            return f"this week's backup of the book could not be made: {error}"
        return ""

    def backup(self, to: Path | None) -> Path:
        """A checked copy of the book, in the folder of backups where no file is named. Raises OrdertinError."""
        from intake.book import copies, copying

        if to is None:
            folder = copies.folder_of(self._book.path)
            name = f"{self._book.path.stem}-by-hand-{self._now():%Y-%m-%d}{self._book.path.suffix}"
            self._there()
            with suppress(OSError):
                folder.mkdir(mode=0o700, exist_ok=True)
            to = copying.unused(folder / name)
        elif to.is_dir():
            to = copying.unused(to / f"orders-{self._now():%Y-%m-%d}.db")
        self._there()
        self._book.copy(to)
        copies.check(to)
        return to

    def copies(self) -> list[Path]:
        """The copies of the book that lie beside it and in its folder of backups."""
        from intake.book.copies import all_of

        return all_of(self._book.path)

    def restore(self, source: Path) -> Path | None:
        """Puts a backup (a file) or an export (a folder) in the place of the book; gives where the book that was there
        is kept. Raises OrdertinError, having changed nothing, where it is no whole book."""
        with Letters(self._book, self._zone).alone() if self._book.path.exists() else nullcontext(True) as alone:
            if not alone:
                raise OrdertinError("another window is sending just now", todo="Wait a moment, and again")
            if not source.is_dir():
                return self._restored(source)
            made = self._made(source)
            try:
                return self._restored(made)
            finally:
                with suppress(OSError):
                    made.unlink()

    def check(self, source: Path) -> None:
        """Raises OrdertinError where `source` can't be put in the place of the book."""
        from intake.book import copies

        if source.is_dir():
            made = self._made(source)
            with suppress(OSError):
                made.unlink()
        else:
            copies.check(source)

    def _made(self, folder: Path) -> Path:
        from intake.book import copying
        from intake.book.unload import load

        self._book.path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        made = copying.unused(self._book.path.with_name(f".{self._book.path.stem}-from-export.db"))
        load(folder, made)
        return made

    def _restored(self, source: Path) -> Path | None:
        from intake.book.copies import restore

        self._book.close()
        return restore(self._book.path, source)

    def export(self, folder: Path) -> dict[str, int]:
        """Writes all of the book into a new folder; gives how many rows of each table. Raises OrdertinError."""
        import sqlite3

        from intake.book.unload import unload
        from intake.papers.ledger import guarded

        self._there()
        self._book.version()
        try:
            return unload(self._book.path, folder, guarded)
        except (OSError, sqlite3.Error) as error:
            what = getattr(error, "strerror", None) or error
            raise OrdertinError(f"it can't be written: {what}", where=str(folder), todo="Name another folder") from None

    def salvage(self, source: Path | None) -> tuple[Path, dict[str, int]]:
        """A new book beside the damaged one with what can be read of it, and how many rows of each table that is."""
        import sqlite3

        from intake.book import copies, copying
        from intake.book.salvage import salvage

        book = source or self._book.path
        if not book.is_file():
            raise OrdertinError("there is no such file", where=str(book), todo="Name the damaged book")
        to = copying.unused(self._book.path.with_name(f"{self._book.path.stem}-salvaged.db"))
        try:
            found = salvage(book, to)
        except (OSError, sqlite3.Error) as error:
            what = getattr(error, "strerror", None) or error
            raise OrdertinError(f"it can't be written: {what}", where=str(to), todo="Make room, and again") from None
        copies.check(to)
        return to, found

    def who(self, name: str) -> Customer:
        """The customer called `c3`, or whose conversation `t12` is."""
        return customers(self._people.talks(number_of(name, self._people)), self._zone)[0]

    def forget(self, name: str) -> Forgotten:
        """Takes a customer out of the book for good. Raises OrdertinError where an order of hers is still booked."""
        from intake.book.forgetting import forget

        threads = [int(thread[1:]) for thread in self.who(name).threads]
        gone = forget(self._book, threads, self._now())
        with suppress(OSError):
            # What was half typed may have been to her.
            self._book.path.with_name("unsent.json").unlink(missing_ok=True)
        return gone

    def _there(self) -> None:
        if not self._book.path.is_file():
            raise OrdertinError("there is no book yet", where=str(self._book.path), todo="Take messages in first")
