"""The outbox as the book keeps it: each answer that goes by mail, written down before it is sent.

What has left can't be taken back, so a letter is no change to undo.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from intake.book.journal import Change
from intake.book.rows import readable
from intake.book.store import Book
from intake.model import Fate, OrdertinError

_STOPPED = "the program was stopped before it knew"
_NEVER_LEFT = "the program was stopped before the mail left"


@dataclass(frozen=True, slots=True)
class Letter:
    """An answer to order `order_id` by mail. `state` is how far it got, `at` since when, `why` in words.

    `mail_id` is the id of the mail, `mail` what goes over the line.
    """

    id: int
    order_id: int
    kind: str
    sender: str
    to: str
    subject: str
    text: str
    mail_id: str
    mail: bytes
    state: Fate
    why: str
    at: datetime

    @property
    def may_have_gone(self) -> bool:
        return self.state in (Fate.LEAVING, Fate.UNKNOWN)

    @property
    def unsent(self) -> bool:
        """Whether it is certain that it has not left."""
        return self.state in (Fate.WRITTEN, Fate.REFUSED, Fate.UNREACHED)


class Letters:
    """The letters of one book. `zone` is the time zone in which moments are given out."""

    def __init__(self, book: Book, zone: ZoneInfo) -> None:
        self._book, self._zone = book, zone

    def all(self) -> tuple[Letter, ...]:
        """Every letter, the newest first."""
        return self._found("")

    def of_order(self, order_id: int) -> tuple[Letter, ...]:
        return self._found("WHERE order_id = ?", order_id)

    def one(self, letter_id: int) -> Letter:
        """Raises OrdertinError where the outbox has no such letter."""
        found = self._found("WHERE id = ?", letter_id) if abs(letter_id) < 2**63 else ()
        if not found:
            raise OrdertinError(f"there is no letter {letter_id} in the outbox", todo="ordertin outbox lists them")
        return found[0]

    @readable("the outbox")
    def _found(self, where: str, *values: Any) -> tuple[Letter, ...]:
        rows = self._book.rows(f"SELECT * FROM letters {where} ORDER BY id DESC", values)
        return tuple(
            Letter(
                row["id"],
                row["order_id"],
                row["kind"],
                row["sender"],
                row["recipient"],
                row["subject"],
                row["text"],
                row["mail_id"],
                bytes(row["mail"]),
                Fate(row["state"]),
                row["why"],
                datetime.fromisoformat(row["at"]).astimezone(self._zone),
            )
            for row in rows
        )

    def add(self, change: Change, letter: Letter) -> int:
        """Writes a letter down; gives its number."""
        values = {
            "order_id": letter.order_id,
            "kind": letter.kind,
            "sender": letter.sender,
            "recipient": letter.to,
            "subject": letter.subject,
            "text": letter.text,
            "mail_id": letter.mail_id,
            "mail": letter.mail,
            "state": letter.state,
            "at": letter.at.isoformat(),
        }
        marks = ", ".join("?" * len(values))
        insert = f"INSERT INTO letters ({', '.join(values)}) VALUES ({marks})"
        return int(change.db.execute(insert, tuple(values.values())).lastrowid)

    def put(
        self, change: Change, letter_id: int, state: Fate, why: str, at: datetime, *, was: tuple[Fate, ...]
    ) -> None:
        """Notes how far a letter has got. Raises OrdertinError where it is in none of the states `was`: another window
        has done something with it."""
        marks = ", ".join("?" * len(was))
        done = change.db.execute(
            f"UPDATE letters SET state = ?, why = ?, at = ? WHERE id = ? AND state IN ({marks})",
            (state, why, at.isoformat(), letter_id, *was),
        )
        if done.rowcount != 1:
            raise OrdertinError(
                "another window has done something with this letter", where=f"letter {letter_id}", todo="Look again"
            )

    def wake(self, change: Change, at: datetime) -> None:
        """Says of each letter that a stopped program has left behind what is known of it. Only for who sends alone."""
        for was, now, why in ((Fate.WRITTEN, Fate.UNREACHED, _NEVER_LEFT), (Fate.LEAVING, Fate.UNKNOWN, _STOPPED)):
            change.db.execute(
                "UPDATE letters SET state = ?, why = ?, at = ? WHERE state = ?", (now, why, at.isoformat(), was)
            )

    @contextmanager
    def alone(self) -> Iterator[bool]:
        """Gives whether nobody else is sending from this book, and keeps it so meanwhile.

        It is the lock of a small file beside the book, which the system lets go of when a program dies.
        """
        path = self._book.path.with_suffix(".sending")
        try:
            with closing(sqlite3.connect(path, timeout=0, isolation_level=None)) as lock:
                try:
                    lock.execute("BEGIN EXCLUSIVE")
                except sqlite3.OperationalError:
                    yield False
                    return
                yield True
        except sqlite3.Error as error:
            raise OrdertinError(
                f"the outbox can't be locked: {error}", where=str(path), todo="Check the folder's permissions"
            ) from None
