"""Undo: what each change altered is put back, unless another program has touched it since."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake.book import journal
from intake.book.store import Book
from intake.model import OrdertinError

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)
TABLES = ("threads", "messages", "orders")


def thread(key: str) -> dict[str, Any]:
    return {"key": key, "channel": "chat", "subject": ""}


def message(number: int, text: str) -> dict[str, Any]:
    sent = {"sender": "Dana", "mine": 0, "at": AT.isoformat(), "moment": 0, "address": ""}
    return {"thread": number, "content_key": text, "text": text, "raw": None, "attachments": "[]", **sent}


def held(book: Book) -> dict[str, list[dict[str, Any]]]:
    return {table: book.rows(f"SELECT * FROM {table} ORDER BY id") for table in TABLES}


def by_another_program(path: Path, statement: str) -> None:
    with closing(sqlite3.connect(path)) as other:
        other.execute(statement)
        other.commit()


@pytest.fixture
def taken(book: Book) -> Book:
    with book.change("took chats.json", AT) as change:
        number = change.add("threads", [thread("dana")])
        change.add("messages", [message(number, text) for text in ("hi", "2 dozen")])
        change.alter("threads", number, {"intent": "order"})
    return book


def test_undo_walks_back_change_by_change(taken: Book) -> None:
    with taken.change("set aside", AT) as change:
        change.alter("threads", 1, {"aside": 1})
    with taken.change("renamed", AT) as change:
        change.alter("threads", 1, {"subject": "cookies", "aside": 0})
    undone = []
    while what := taken.undo(AT):
        undone.append((what, [(row["aside"], row["subject"]) for row in held(taken)["threads"]]))
    assert undone == [("renamed", [(1, "")]), ("set aside", [(0, "")]), ("took chats.json", [])]
    assert held(taken) == {table: [] for table in TABLES}


def test_a_new_change_after_an_undo_is_the_next_to_go(taken: Book) -> None:
    with taken.change("set aside", AT) as change:
        change.alter("threads", 1, {"aside": 1})
    taken.undo(AT)
    with taken.change("renamed", AT) as change:
        change.alter("threads", 1, {"subject": "cookies"})
    assert [taken.undo(AT), taken.undo(AT), taken.undo(AT)] == ["renamed", "took chats.json", None]


def test_undoing_a_take_of_many_messages_keeps_no_row_of_them(book: Book) -> None:
    with book.change("took chats.json", AT) as change:
        number = change.add("threads", [thread("dana")])
        change.add("messages", [message(number, f"message {i}") for i in range(2_000)])
    assert book.rows("SELECT count(*) AS n FROM images")[0]["n"] == 2
    book.undo(AT)
    assert held(book) == {table: [] for table in TABLES}


def test_numbers_of_what_was_undone_are_not_given_again(taken: Book) -> None:
    taken.undo(AT)
    with taken.change("took chats.json", AT) as change:
        assert change.add("threads", [thread("dana")]) > 1


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE threads SET aside = 0, subject = 'theirs'",
        "DELETE FROM messages WHERE text = 'hi'",
        "DELETE FROM threads",
        "UPDATE messages SET text = 'theirs'",
        "INSERT INTO orders (thread, place, state, draft, as_read, made_by) VALUES (1, 0, 'draft', '{}', '{}', 99)",
    ],
    ids=["altered", "message gone", "thread gone", "message altered", "order added"],
)
def test_undo_refuses_where_another_program_was_there_since(taken: Book, path: Path, statement: str) -> None:
    with taken.change("set aside", AT) as change:
        change.alter("threads", 1, {"aside": 1, "subject": "cookies"})
    by_another_program(path, statement)
    before = held(taken)
    with pytest.raises(OrdertinError, match="another program") as error:
        while taken.undo(AT):
            before = held(taken)
    assert held(taken) == before
    assert "\n" not in str(error.value)


def test_other_rows_of_another_program_are_no_matter(taken: Book, path: Path) -> None:
    by_another_program(
        path, "INSERT INTO threads (key, channel, subject, made_by) VALUES ('theirs', 'chat', '', 99)"
    )
    assert taken.undo(AT) == "took chats.json"
    assert [row["key"] for row in held(taken)["threads"]] == ["theirs"]


def test_the_oldest_changes_are_forgotten(monkeypatch: pytest.MonkeyPatch, taken: Book) -> None:
    monkeypatch.setattr(journal, "KEPT", 3)
    for i in range(5):
        with taken.change(f"renamed {i}", AT) as change:
            change.alter("threads", 1, {"subject": str(i)})
    undone = []
    while what := taken.undo(AT):
        undone.append(what)
    assert undone == ["renamed 4", "renamed 3", "renamed 2"]
    assert held(taken)["threads"][0]["subject"] == "1"


STEPS = st.one_of(
    st.tuples(st.just("add"), st.integers(0, 5)),
    st.tuples(st.just("alter"), st.integers(0, 5), st.sampled_from(["", "a", "b"]), st.integers(0, 1)),
)


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(STEPS, min_size=1, max_size=3), max_size=6))
def test_undoing_everything_comes_back_through_every_state(
    tmp_path_factory: pytest.TempPathFactory, changes: list[list[tuple[Any, ...]]]
) -> None:
    with closing(Book(tmp_path_factory.mktemp("book") / "orders.db")) as book:
        states = [held(book)]
        for steps in changes:
            before = book.version()
            with book.change("changed", AT) as change:
                for kind, key, *values in steps:
                    found = book.rows("SELECT id FROM threads WHERE key = ?", [str(key)])
                    if kind == "add" and not found:
                        number = change.add("threads", [thread(str(key))])
                        change.add("messages", [message(number, "hi")])
                    elif kind == "alter" and found:
                        change.alter("threads", found[0]["id"], {"subject": values[0], "aside": values[1]})
            if book.version() != before:
                states.append(held(book))
        while len(states) > 1:
            assert held(book) == states.pop()
            assert book.undo(AT) == "changed"
        assert held(book) == states[0]
        assert book.undo(AT) is None
