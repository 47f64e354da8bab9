"""The whole book as plain files, and a book from them again with nothing changed.

A folder with `book.json` (which steps the book has; of each table its columns, how many rows, and the SHA-256 of its
file) and, of each table, NAME.jsonl and NAME.csv. A line of NAME.jsonl is a row: a JSON array by column, bytes as
`{"base64": "..."}`; a book is made again from these. NAME.csv (RFC 4180) is for spreadsheets: what one would run as a
formula has an apostrophe before it. The word index is made anew from the messages.
"""

from __future__ import annotations

import base64
import csv
import hashlib
import json
import os
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing, suppress
from pathlib import Path
from typing import Any

from intake.book import copies, migrations, search
from intake.book.store import make_empty
from intake.model import OrdertinError

LIST = "book.json"
_KIND = "ordertin order book"
_LONGEST_LINE = 64_000_000  # characters; a message of 10 MB is far below
_INDEX = "message_words"


def tables_of(db: sqlite3.Connection) -> dict[str, list[str]]:
    """Each table that holds something of its own, with its columns. `sqlite_sequence` keeps which numbers were used."""
    names = [name for (name,) in db.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")]
    return {
        name: [column[1] for column in db.execute(f'PRAGMA table_info("{name}")')]
        for name in names
        if not name.startswith((_INDEX, "message_word_places"))
    }


def unload(book: Path, folder: Path, guarded: Callable[[str], str]) -> dict[str, int]:
    """Writes the book into a new folder; gives how many rows of each table. `guarded` makes a text harmless in CSV.

    Raises OrdertinError where the folder holds anything or can't be written; OSError and sqlite3.Error for the rest.
    """
    folder.mkdir(mode=0o700, exist_ok=True)
    if any(folder.iterdir()):
        raise OrdertinError("this folder holds files", where=str(folder), todo="Name a new folder")
    told: dict[str, Any] = {}
    with closing(sqlite3.connect(book, timeout=3, isolation_level=None)) as db:
        # Reading in one go, so that all tables are of the same moment.
        db.execute("BEGIN")
        for name, columns in tables_of(db).items():
            digest, count = hashlib.sha256(), 0
            with _new(folder / f"{name}.jsonl") as lines, _new(folder / f"{name}.csv") as sheet:
                cells = csv.writer(sheet, lineterminator="\r\n", quoting=csv.QUOTE_NONNUMERIC)
                cells.writerow(columns)
                for row in db.execute(f'SELECT * FROM "{name}" ORDER BY rowid'):
                    line = json.dumps([_plain(value) for value in row], ensure_ascii=False) + "\n"
                    lines.write(line)
                    digest.update(line.encode())
                    cells.writerow([_cell(value, guarded) for value in row])
                    count += 1
            told[name] = {"columns": columns, "rows": count, "sha256": digest.hexdigest()}
        steps = [name for (name,) in db.execute("SELECT name FROM _sqlite_migrations ORDER BY id")]
    with _new(folder / LIST) as file:
        json.dump({"kind": _KIND, "steps": steps, "tables": told}, file, indent=1)
    return {name: about["rows"] for name, about in told.items()}


def _new(path: Path) -> Any:
    return open(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8", newline="")


def _plain(value: Any) -> Any:
    return {"base64": base64.b64encode(value).decode()} if isinstance(value, bytes) else value


def _cell(value: Any, guarded: Callable[[str], str]) -> Any:
    if isinstance(value, str):
        # A spreadsheet ends a text at a NUL.
        return guarded(value.replace("\0", "\ufffd"))
    return base64.b64encode(value).decode() if isinstance(value, bytes) else value


def load(folder: Path, to: Path) -> None:
    """Makes a book in a new file from what `unload` has written. Raises OrdertinError, leaving no file, where the
    folder is not that, whole and unchanged, or a newer program's."""
    try:
        told = _list(folder)
        steps = copies.steps_known(told["steps"], folder / LIST)
        make_empty(to, steps)
        with closing(sqlite3.connect(to)) as db:
            own = tables_of(db)
            if own != {name: about["columns"] for name, about in told["tables"].items()}:
                raise _wrong(folder / LIST, "its tables are not those of a book")
            for name in own:
                db.execute(f'DELETE FROM "{name}"')
            # The numbers used come last: adding rows would change them.
            for name in sorted(own, key=lambda name: name == "sqlite_sequence"):
                if name == "sqlite_sequence":
                    db.execute("DELETE FROM sqlite_sequence")
                marks = ", ".join("?" * len(own[name]))
                rows = _rows(folder / f"{name}.jsonl", told["tables"][name], len(own[name]))
                db.executemany(f'INSERT INTO "{name}" ({", ".join(map(_quoted, own[name]))}) VALUES ({marks})', rows)
            if migrations.STEPS.index(migrations.message_words) < steps:
                search.fill(db)
            db.commit()
        copies.check(to)
    except BaseException as error:
        with suppress(OSError):
            to.unlink()
        if isinstance(error, OSError):
            raise _wrong(folder, f"it can't be read or written: {error.strerror or error}") from error
        if isinstance(error, sqlite3.Error | OverflowError):
            raise _wrong(folder, f"its rows make no book: {error}") from error
        raise


def _quoted(name: str) -> str:
    return f'"{name}"'


def _list(folder: Path) -> dict[str, Any]:
    path = folder / LIST
    try:
        text = path.read_text(encoding="utf-8")
        told = json.loads(text) if len(text) < 1_000_000 else None
        if not (isinstance(told, dict) and told.get("kind") == _KIND):
            raise ValueError("no list")
        tables, steps = told["tables"], told["steps"]
        if not (isinstance(tables, dict) and isinstance(steps, list)):
            raise ValueError("no tables")
        for about in tables.values():
            if not (isinstance(about["rows"], int) and isinstance(about["columns"], list)):
                raise ValueError("no rows")
            about["sha256"] += ""
        return told
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        raise _wrong(path, "this is not the list of an exported book") from None


def _rows(path: Path, about: dict[str, Any], columns: int) -> Iterator[list[Any]]:
    digest, count = hashlib.sha256(), 0
    with path.open(encoding="utf-8", newline="") as file:
        while line := _line(file, path, count):
            digest.update(line.encode())
            count += 1
            try:
                row = [_value(each) for each in json.loads(line)]
            except (ValueError, TypeError, KeyError, RecursionError):
                row = []
            if len(row) != columns:
                raise _wrong(path, f"line {count} is not a row of it")
            yield row
    if count != about["rows"] or digest.hexdigest() != about["sha256"]:
        raise _wrong(path, "it is not as it was written")


def _line(file: Any, path: Path, count: int) -> str:
    try:
        line = str(file.readline(_LONGEST_LINE))
    except UnicodeError:
        raise _wrong(path, f"line {count + 1} is not text") from None
    if line and not line.endswith("\n"):
        raise _wrong(path, f"line {count + 1} is cut off")
    return line


def _value(plain: Any) -> Any:
    if isinstance(plain, dict):
        return base64.b64decode(plain["base64"], validate=True)
    if plain is None or isinstance(plain, int | float):
        return plain
    if isinstance(plain, str):
        plain.encode()  # half a character is none: ValueError
        return plain
    raise TypeError


def _wrong(path: Path, what: str) -> OrdertinError:
    return OrdertinError(what, where=str(path), todo="Nothing was changed; export the book again, or name a backup")
