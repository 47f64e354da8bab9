"""Changes of the book that can be taken back: what each altered, and how undo puts it back.

An altered row is kept as its altered columns before and after. Added rows carry the change's number, so that a take
of thousands of messages is undone by that number; a digest of them tells whether anything has touched them since.
"""

from __future__ import annotations

import hashlib
import json
import marshal
from collections.abc import Mapping, Sequence
from typing import Any

from intake.book import search
from intake.model import OrdertinError

# Children before parents, so that no row is left pointing at one that has gone.
_TABLES = (
    *("messages", "payments", "quotes", "marks", "plans", "days", "orders"),
    *("ties", "apart", "threads", "words", "pantry"),
)
_CHILDREN = {
    "threads": (("messages", "thread"), ("orders", "thread")),
    "orders": tuple((table, "order_id") for table in ("payments", "quotes", "marks", "plans", "letters")),
}
KEPT = 500


class Change:
    """One use case's writes. Made by `Book.change`; leaves nothing behind where nothing is written."""

    def __init__(self, db: Any, what: str, at: str) -> None:
        self.db, self.what, self._at = db, what, at
        self._id = 0
        self._added: set[str] = set()

    @property
    def id(self) -> int:
        if not self._id:
            self._id = self.db.execute(
                "INSERT INTO changes (what, at) VALUES (?, ?)", (self.what, self._at)
            ).lastrowid
        return self._id

    def add(self, table: str, rows: Sequence[Mapping[str, Any]]) -> int:
        """Adds rows that all have the same columns; gives the id of the last."""
        if not rows:
            return 0
        columns = ", ".join((*rows[0], "made_by"))
        marks = ", ".join("?" * (len(rows[0]) + 1))
        insert = f"INSERT INTO {table} ({columns}) VALUES ({marks})"
        self._added.add(table)
        number = self.id
        if len(rows) > 1:
            self.db.conn.executemany(insert, [(*row.values(), number) for row in rows[:-1]])
        return int(self.db.conn.execute(insert, (*rows[-1].values(), number)).lastrowid)

    def alter(self, table: str, row_id: int, values: Mapping[str, Any]) -> bool:
        """Sets columns of one row; gives whether any of them was different."""
        now = _row(self.db, table, row_id)
        after = {name: value for name, value in values.items() if now[name] != value}
        if not after:
            return False
        if now["made_by"] != self.id:
            before = {name: now[name] for name in after}
            self._keep(table, row_id, json.dumps(before), json.dumps(after))
        _set(self.db, table, row_id, after)
        return True

    def finish(self) -> None:
        """Writes what undo needs of the added rows, and forgets the oldest changes."""
        if "messages" in self._added:
            search.note(self.db, self.id)
        for table in sorted(self._added):
            self._keep(table, None, None, _digest(self.db, table, self.id))
        if self._id:
            self.db.execute("DELETE FROM images WHERE change <= ?", (self._id - KEPT,))
            self.db.execute("DELETE FROM changes WHERE id <= ?", (self._id - KEPT,))

    def _keep(self, table: str, row_id: int | None, before: str | None, after: str) -> None:
        self.db.execute(
            'INSERT INTO images (change, "table", row, before, after) VALUES (?, ?, ?, ?, ?)',
            (self.id, table, row_id, before, after),
        )


def undo(db: Any, at: str) -> str | None:
    """Takes back the last change that stands, within the caller's transaction; gives its words, None where none stands.

    Raises OrdertinError where another program has touched the same rows since: nothing is then put back.
    """
    last = db.execute("SELECT id, what FROM changes WHERE NOT undone ORDER BY id DESC LIMIT 1").fetchone()
    if last is None:
        return None
    change, what = int(last[0]), str(last[1])
    images = db.execute(
        'SELECT "table", row, before, after FROM images WHERE change = ? ORDER BY id DESC', (change,)
    ).fetchall()
    for table, row_id, _, after in images:
        if row_id is None and not _untouched(db, table, change, after):
            raise _touched(what)
    for table, row_id, before, after in images:
        if row_id is None:
            continue
        now = _row(db, table, row_id)
        if not now or any(now[name] != value for name, value in json.loads(after).items()):
            raise _touched(what)
        _set(db, table, row_id, json.loads(before))
    added = {table for table, row_id, _, _ in images if row_id is None}
    for table in _TABLES:
        if table in added:
            _forget(db, table, change, what)
    db.execute("UPDATE changes SET undone = 1 WHERE id = ?", (change,))
    # Kept as a change of its own, so that another window sees that something has happened.
    db.execute("INSERT INTO changes (what, at, undone) VALUES (?, ?, 1)", (f"undid: {what}", at))
    return what


def _forget(db: Any, table: str, change: int, what: str) -> None:
    for child, column in _CHILDREN.get(table, ()):
        if db.execute(
            f"SELECT 1 FROM {child} WHERE {column} IN (SELECT id FROM {table} WHERE made_by = ?) LIMIT 1", (change,)
        ).fetchone():
            raise _left(what) if child == "letters" else _touched(what)
    if table == "messages":
        search.forget(db, change)
    if table == "threads":
        # Those that a migration has made are no change's.
        theirs = "thread IN (SELECT id FROM threads WHERE made_by = ?)"
        db.execute(f"DELETE FROM ties WHERE made_by = 0 AND {theirs}", (change,))
    db.execute(f"DELETE FROM {table} WHERE made_by = ?", (change,))


def _touched(what: str) -> OrdertinError:
    return OrdertinError(
        f'"{what}" can\'t be undone: another program has changed the same lines of the book since',
        todo="Nothing was put back; set it right by hand",
    )


def _left(what: str) -> OrdertinError:
    return OrdertinError(
        f'"{what}" can\'t be undone: an answer to it has been handed to the mail', todo="Drop the order instead"
    )


def _row(db: Any, table: str, row_id: int) -> dict[str, Any]:
    cursor = db.execute(f"SELECT * FROM {table} WHERE id = ?", (row_id,))
    row = cursor.fetchone()
    return dict(zip((column[0] for column in cursor.description), row, strict=True)) if row else {}


def _set(db: Any, table: str, row_id: int, values: Mapping[str, Any]) -> None:
    places = ", ".join(f"{name} = ?" for name in values)
    db.execute(f"UPDATE {table} SET {places} WHERE id = ?", (*values.values(), row_id))


def _digest(db: Any, table: str, change: int, columns: int | None = None) -> str:
    """A digest of the rows that a change added, of all columns or only the first so many."""
    digest = hashlib.sha256()
    for row in db.execute(f"SELECT * FROM {table} WHERE made_by = ? ORDER BY id", (change,)):
        digest.update(marshal.dumps(row[:columns], 2))
    return digest.hexdigest()


def _untouched(db: Any, table: str, change: int, digest: str) -> bool:
    """Whether added rows are as the change left them. Columns that a migration has added since stand after those that
    the digest was made of, and are no matter."""
    columns = len(db.execute(f"SELECT * FROM {table} LIMIT 0").description)
    return any(_digest(db, table, change, first) == digest for first in range(columns, 0, -1))
