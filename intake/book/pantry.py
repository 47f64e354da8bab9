"""The pantry as the book keeps it, and what the baker's calendar has been given."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from intake.book.journal import Change
from intake.book.rows import readable
from intake.book.store import Book


@dataclass(frozen=True, slots=True)
class Stock:
    """What is on the shelf of one thing: `grams`, as `typed`, put there on `since`."""

    what: str
    typed: str
    grams: float
    since: date


@dataclass(frozen=True, slots=True)
class Given:
    """An entry of the calendar as it was last written: `entry` is its content, `stamp` when it last changed."""

    uid: str
    entry: str
    sequence: int
    stamp: str
    gone: bool = False


class Pantry:
    def __init__(self, book: Book) -> None:
        self._book = book

    @readable("the pantry")
    def stock(self) -> tuple[Stock, ...]:
        """What is there, by name."""
        rows = self._book.rows("SELECT * FROM pantry WHERE grams > 0 ORDER BY what")
        return tuple(Stock(r["what"], r["typed"], r["grams"], date.fromisoformat(r["since"])) for r in rows)

    def put(self, change: Change, stock: Stock) -> None:
        """What is there now, in place of what was; no grams where it has run out."""
        values: dict[str, Any] = {"typed": stock.typed, "grams": stock.grams, "since": stock.since.isoformat()}
        held = self._book.rows("SELECT id FROM pantry WHERE what = ?", (stock.what,))
        if held:
            change.alter("pantry", held[0]["id"], values)
        else:
            change.add("pantry", [{"what": stock.what, **values}])

    def name(self) -> str:
        """What tells this book's calendar entries from another book's."""
        return str(self._book.rows("SELECT name FROM books")[0]["name"])

    def given(self) -> tuple[Given, ...]:
        rows = self._book.rows("SELECT * FROM calendar_entries ORDER BY uid")
        return tuple(Given(r["uid"], r["entry"], r["sequence"], r["stamp"], bool(r["gone"])) for r in rows)

    def give(self, change: Change, entries: Iterable[Given]) -> None:
        """Keeps what the calendar has been given. It can't be taken back from there, so it is no change to undo."""
        for given in entries:
            change.db.execute(
                "INSERT INTO calendar_entries (uid, entry, sequence, stamp, gone) VALUES (?, ?, ?, ?, ?)"
                " ON CONFLICT (uid) DO UPDATE SET entry = excluded.entry, sequence = excluded.sequence,"
                " stamp = excluded.stamp, gone = excluded.gone",
                (given.uid, given.entry, given.sequence, given.stamp, int(given.gone)),
            )
