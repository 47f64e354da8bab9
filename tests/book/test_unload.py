"""The whole book as files and back with nothing changed; what is no such folder; what is saved of a damaged book."""

from __future__ import annotations

import csv
import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from shutil import copyfile
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake.book import copies, salvage, store
from intake.book.store import Book
from intake.book.unload import load, tables_of, unload
from intake.model import OrdertinError
from intake.papers.ledger import guarded
from tests.book import full
from tests.book.full import everything

#: Which column points at which table; rows are generated from the parents down.
PARENTS = {
    "messages": ("thread", "threads"), "orders": ("thread", "threads"), "ties": ("thread", "threads"),
    "payments": ("order_id", "orders"), "quotes": ("order_id", "orders"), "marks": ("order_id", "orders"),
    "plans": ("order_id", "orders"), "letters": ("order_id", "orders"), "images": ("change", "changes"),
}  # fmt: skip

OURS = ("threads", "messages", "orders", "quotes", "payments", "letters", "ties")


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("full") / "orders.db"
    full.fill(path)
    return path


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("empty") / "orders.db"
    store.make_empty(path, len(store.migrations.STEPS))
    return path


def test_a_book_with_something_in_every_table_comes_back_as_it_was(filled: Path, tmp_path: Path) -> None:
    found = unload(filled, tmp_path / "out", guarded)
    load(tmp_path / "out", tmp_path / "again.db")
    before = everything(filled)
    assert everything(tmp_path / "again.db") == before
    assert min(found.values()) > 0
    assert len(before["words"]) > 500


TEXT = st.one_of(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=12),
    st.sampled_from(["=1+1", "a\0b", '"', "\r\n", "é\u2028🍪", "'", "-5", " =x", "{}", "null", "\ufeff"]),
)
NUMBER = st.one_of(st.integers(-(2**63), 2**63 - 1), st.integers(0, 50))


def rows_of(table: str, schema: dict[str, list[tuple[Any, ...]]]) -> st.SearchStrategy[list[dict[str, Any]]]:
    fields = {}
    for _, name, kind, needed, _, first in schema[table]:
        of = {"INTEGER": NUMBER, "REAL": st.floats(allow_nan=False), "BLOB": st.binary(max_size=20)}.get(kind, TEXT)
        fields[name] = st.integers(1, 2**40) if first else of if needed else st.one_of(st.none(), of)
    return st.lists(st.fixed_dictionaries(fields), max_size=3)


def schema_of(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    with closing(sqlite3.connect(path)) as db:
        return {name: db.execute(f'PRAGMA table_info("{name}")').fetchall() for name in tables_of(db)}


@given(data=st.data())
@settings(max_examples=10, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_book_comes_back_as_it_was(
    empty: Path, tmp_path_factory: pytest.TempPathFactory, data: st.DataObject
) -> None:
    folder = tmp_path_factory.mktemp("any")
    book = folder / "orders.db"
    copyfile(empty, book)
    schema = schema_of(book)
    with closing(sqlite3.connect(book)) as db:
        own = schema.keys() - {"_sqlite_migrations", "sqlite_sequence"}
        for table in sorted(own, key=lambda name: (name in PARENTS, name != "orders", name)):
            column, parent = PARENTS.get(table, ("", ""))
            known = [number for (number,) in db.execute(f"SELECT id FROM {parent}")] if parent else []
            if parent and not known:
                continue
            for row in data.draw(rows_of(table, schema)):
                if parent:
                    row[column] = data.draw(st.sampled_from(known))
                names, marks = ", ".join(f'"{name}"' for name in row), ", ".join("?" * len(row))
                db.execute(f'INSERT OR IGNORE INTO "{table}" ({names}) VALUES ({marks})', list(row.values()))
        db.commit()
        # The index is that of the messages, as in every book.
        db.execute("DELETE FROM messages WHERE moment NOT BETWEEN -4e12 AND 4e12")
        store.journal.search.fill(db)
        db.commit()
    unload(book, folder / "out", guarded)
    load(folder / "out", folder / "again.db")
    assert everything(folder / "again.db") == everything(book)


def test_the_tables_for_spreadsheets_hold_all_rows_and_no_formula(filled: Path, tmp_path: Path) -> None:
    with closing(Book(tmp_path / "orders.db")) as book, book.change("added", full.AT) as change:
        for start in "=+-@\t＝":
            change.add("threads", [{"key": f'{start}cmd("x")', "channel": "chat", "subject": "a, b\nc"}])
    found = unload(tmp_path / "orders.db", tmp_path / "out", guarded)
    for name, count in found.items():
        with (tmp_path / "out" / f"{name}.csv").open(newline="", encoding="utf-8") as file:
            read = list(csv.reader(file))
        assert len(read) == count + 1
    with (tmp_path / "out" / "threads.csv").open(newline="", encoding="utf-8") as file:
        assert all(row["key"].startswith("'") for row in csv.DictReader(file))


def swap(file: str, old: str, new: str) -> Callable[[Path], None]:
    def spoil(out: Path) -> None:
        text = (out / file).read_text(encoding="utf-8")
        assert old in text
        (out / file).write_text(text.replace(old, new, 1), encoding="utf-8")

    return spoil


def relisted(change: Callable[[dict[str, Any]], object]) -> Callable[[Path], None]:
    def spoil(out: Path) -> None:
        told = json.loads((out / "book.json").read_text())
        change(told)
        (out / "book.json").write_text(json.dumps(told))

    return spoil


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (lambda out: (out / "book.json").unlink(), "can't be read"),
        (lambda out: (out / "book.json").write_text("[" * 90_000), "not the list"),
        (lambda out: (out / "book.json").write_text('{"kind": "cakes"}'), "not the list"),
        (lambda out: (out / "orders.jsonl").unlink(), "can't be read"),
        (lambda out: (out / "orders.jsonl").write_bytes(b"\xff\n"), "not text"),
        (lambda out: (out / "orders.jsonl").write_text("[1]"), "cut off"),
        (lambda out: (out / "orders.jsonl").write_text("[" * 90_000 + "\n"), "line 1 is not a row"),
        (lambda out: (out / "orders.jsonl").write_text("{}\n"), "line 1 is not a row"),
        (lambda out: (out / "orders.jsonl").write_text(""), "not as it was written"),
        (swap("messages.jsonl", "cookies", "kookies"), "not as it was written"),
        (relisted(lambda told: told["steps"].append("in_a_year")), "newer ordertin"),
        (relisted(lambda told: told["tables"].pop("orders")), "not those of a book"),
        (relisted(lambda told: told["tables"]["orders"]["columns"].append("x); DROP TABLE orders; --")), "not those"),
        (relisted(lambda told: told["tables"]["orders"].update(rows=1)), "not as it was written"),
        (relisted(lambda told: told["tables"]["orders"].update(sha256=3)), "not the list"),
    ],
    ids=[
        *("no list", "a deep list", "another's list", "a table less", "no text", "cut off", "deep", "no row"),
        *("emptied", "a changed word", "newer", "a table unlisted", "a column more", "another count", "no digest"),
    ],
)
def test_what_is_not_as_it_was_written_makes_no_book(
    filled: Path, tmp_path: Path, spoil: Callable[[Path], object], said: str
) -> None:
    unload(filled, tmp_path / "out", guarded)
    spoil(tmp_path / "out")
    with pytest.raises(OrdertinError, match=said):
        load(tmp_path / "out", tmp_path / "again.db")
    assert not (tmp_path / "again.db").exists()


def test_a_folder_with_files_is_not_written_to(filled: Path, tmp_path: Path) -> None:
    with pytest.raises(OrdertinError, match="holds files"):
        unload(filled, filled.parent, guarded)


class TestADamagedBook:
    def test_that_is_whole_is_saved_whole(self, filled: Path, tmp_path: Path) -> None:
        found = salvage.salvage(filled, tmp_path / "saved.db")
        before, after = everything(filled), everything(tmp_path / "saved.db")
        own = before.keys() - {"_sqlite_migrations", "sqlite_sequence"}
        assert {name: after[name] for name in own} == {name: before[name] for name in own}
        assert (found["lost"], found["messages"]) == (0, len(before["messages"]))

    def test_loses_only_what_cannot_be_read(
        self, filled: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """One page of 4096 bytes is gone at a time. Where it held what the tables are, nothing can be read; where it
        was the root of a table, that table is lost; else a few rows, or none."""
        monkeypatch.setattr(salvage, "MOST_TRIED", 2_000)
        whole = salvage.salvage(filled, tmp_path / "whole.db")
        data = filled.read_bytes()
        lost, nothing = [], 0
        for at in range(4096, len(data), 9 * 4096):
            (tmp_path / "bad.db").write_bytes(data[:at] + b"\xff" * 4096 + data[at + 4096 :])
            (tmp_path / "saved.db").unlink(missing_ok=True)
            try:
                found = salvage.salvage(tmp_path / "bad.db", tmp_path / "saved.db")
            except OrdertinError:
                nothing += 1
                continue
            copies.check(tmp_path / "saved.db")
            lost.append({name for name in OURS if found[name] < whole[name]})
        assert nothing <= 2
        assert len(lost) >= 6
        assert all(len(tables) <= 1 for tables in lost)

    def test_payments_whose_order_is_lost_stay(self, filled: Path, tmp_path: Path) -> None:
        (tmp_path / "bad.db").write_bytes(filled.read_bytes())
        with closing(sqlite3.connect(tmp_path / "bad.db")) as db:
            paid = db.execute("SELECT sum(minor) FROM payments").fetchone()
            db.execute("DELETE FROM orders")
            db.execute("DELETE FROM threads")
            db.commit()
        found = salvage.salvage(tmp_path / "bad.db", tmp_path / "saved.db")
        assert found["lost"] > 0
        with closing(sqlite3.connect(tmp_path / "saved.db")) as db:
            assert db.execute("SELECT sum(minor) FROM payments").fetchone() == paid
        copies.check(tmp_path / "saved.db")

    def test_of_which_nothing_can_be_read_is_said_to_be_so(self, tmp_path: Path) -> None:
        (tmp_path / "bad.db").write_bytes(b"SQLite format 3\0" + b"\xff" * 9000)
        with pytest.raises(OrdertinError, match="nothing can be read"):
            salvage.salvage(tmp_path / "bad.db", tmp_path / "saved.db")
        assert not (tmp_path / "saved.db").exists()
