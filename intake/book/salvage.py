"""What can still be read of a damaged book, as a new one.

Each table is read from both ends up to where it can't be read; what lies between is tried row by row. Rows whose
conversation or order is lost get an empty one in its place, so that no payment falls out with it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

from intake.book import migrations, search
from intake.book.store import make_empty
from intake.book.unload import tables_of
from intake.model import OrdertinError

# So many rows between the two ends of a table are tried one by one.
MOST_TRIED = 200_000
_LOST = "(lost)"


def salvage(book: Path, to: Path) -> dict[str, int]:
    """Makes a whole book in the new file `to` from what `book` still holds; gives how many rows of each table, and
    under "lost" how many conversations and orders had to be put in empty. `book` is only read.

    Raises OrdertinError where nothing can be read, sqlite3.Error or OSError where `to` can't be written.
    """
    try:
        source = sqlite3.connect(f"{book.resolve().as_uri()}?mode=ro", uri=True, timeout=3)
    except sqlite3.Error as error:
        raise _nothing(book) from error
    with closing(source):
        # What is no text any more is kept with a mark for each broken letter.
        source.text_factory = lambda raw: raw.decode("utf-8", "replace")
        try:
            held = tables_of(source)
        except sqlite3.Error as error:
            raise _nothing(book) from error
        if not {"threads", "messages", "orders"} <= held.keys():
            raise _nothing(book)
        make_empty(to, _steps(source, held))
        try:
            with closing(sqlite3.connect(to)) as db:
                found = {name: _moved(source, db, name, columns) for name, columns in tables_of(db).items() if columns}
                found["lost"] = _stand_ins(db)
                with suppress(sqlite3.Error):
                    search.fill(db)
                db.commit()
        except BaseException:
            to.unlink(missing_ok=True)
            raise
    return found


def _nothing(book: Path) -> OrdertinError:
    return OrdertinError(
        "nothing can be read of this file", where=str(book), todo="Put a backup in its place: ordertin restore"
    )


def _steps(source: sqlite3.Connection, held: dict[str, list[str]]) -> int:
    """How many steps the book had; where its own list is lost, by the tables that are there."""
    try:
        return len(source.execute("SELECT name FROM _sqlite_migrations").fetchall()) or len(migrations.STEPS)
    except sqlite3.Error:
        return len(migrations.STEPS)


def _moved(source: sqlite3.Connection, db: sqlite3.Connection, name: str, columns: list[str]) -> int:
    """Puts what can be read of one table into the new book; gives how many rows."""
    if name in ("_sqlite_migrations", "sqlite_sequence"):
        return 0
    db.execute(f'DELETE FROM "{name}"') if name == "books" else None
    marks = ", ".join("?" * len(columns))
    insert = f'INSERT OR IGNORE INTO "{name}" ({", ".join(columns)}) VALUES ({marks})'.replace("row,", '"row",')
    insert = insert.replace("table,", '"table",')
    count = 0
    for row in _rows(source, name, columns):
        with suppress(sqlite3.IntegrityError):
            count += db.execute(insert, row).rowcount
    if name == "books" and not count:
        db.execute("INSERT INTO books (name) VALUES (lower(hex(randomblob(8))))")
    return count


def _rows(source: sqlite3.Connection, name: str, columns: list[str]) -> Iterator[tuple[Any, ...]]:
    what = f'SELECT rowid, {", ".join(f"{chr(34)}{column}{chr(34)}" for column in columns)} FROM "{name}" NOT INDEXED'
    first, last = -(2**63), 2**63 - 1
    whole = True
    try:
        for row in source.execute(f"{what} ORDER BY rowid"):
            first = row[0]
            yield row[1:]
    except sqlite3.Error:
        whole = False
    if whole:
        return
    with suppress(sqlite3.Error):
        for row in source.execute(f"{what} WHERE rowid > ? ORDER BY rowid DESC", (first,)):
            last = row[0]
            yield row[1:]
    if last == 2**63 - 1:
        last = max(first, 0) + MOST_TRIED
    for number in range(max(first, 0) + 1, min(last, max(first, 0) + MOST_TRIED)):
        with suppress(sqlite3.Error):
            if row := source.execute(f"{what} WHERE rowid = ?", (number,)).fetchone():
                yield row[1:]


def _stand_ins(db: sqlite3.Connection) -> int:
    """Empty conversations and orders for rows that have lost theirs. What the work was planned as is left out."""
    for table in ("marks", "plans", "quotes"):
        db.execute(f"DELETE FROM {table} WHERE order_id NOT IN (SELECT id FROM orders)")
    db.execute("DELETE FROM ties WHERE thread NOT IN (SELECT id FROM threads)")
    db.execute('DELETE FROM images WHERE "change" NOT IN (SELECT id FROM changes)')
    threads = {number for table in ("messages", "orders") for (number,) in db.execute(f"SELECT thread FROM {table}")}
    orders = {number for table in ("payments", "letters") for (number,) in db.execute(f"SELECT order_id FROM {table}")}
    orders -= {number for (number,) in db.execute("SELECT id FROM orders")}
    threads -= {number for (number,) in db.execute("SELECT id FROM threads")}
    added = "INSERT INTO threads (id, key, channel, subject, made_by) VALUES (?, ?, 'chat', ?, 0)"
    db.executemany(added, [(number, f"lost:{number}", _LOST) for number in sorted(threads)])
    if orders:
        home = db.execute(
            "INSERT INTO threads (key, channel, subject, made_by) VALUES ('lost:orders', 'chat', ?, 0)", (_LOST,)
        ).lastrowid
        db.executemany(
            "INSERT INTO orders (id, thread, place, state, draft, as_read, note, made_by)"
            " VALUES (?, ?, ?, 'handed over', '{}', '{}', ?, 0)",
            [(number, home, place, _LOST) for place, number in enumerate(sorted(orders))],
        )
    return len(threads) + len(orders)
