"""Messages and orders go into a row and come back as they were."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.book import rows
from intake.book.kitchen_rows import KitchenRows
from intake.book.pantry import Pantry
from intake.book.store import Book
from intake.clean import clean
from intake.model import Draft, Message, Order, OrdertinError, State

ZONE = ZoneInfo("America/Chicago")
CLEAN = st.text(max_size=20).map(clean)
# With lone surrogates and NUL, as a broken export may hold.
RAW = st.text(st.characters(exclude_categories=()), max_size=20)
MOMENTS = st.datetimes(datetime(1995, 1, 1), datetime(2090, 1, 1), timezones=st.just(UTC)).map(
    lambda at: at.astimezone(ZONE)
)
MESSAGES = st.builds(
    Message, CLEAN, CLEAN, st.booleans(), MOMENTS, CLEAN, st.none() | RAW, CLEAN, st.lists(CLEAN, max_size=2).map(tuple)
)


@pytest.fixture(scope="module")
def table(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    with closing(Book(tmp_path_factory.mktemp("rows") / "orders.db")) as book:
        with book.change("added", datetime(2026, 3, 11, tzinfo=UTC)) as change:
            change.add("threads", [{"key": "dana", "channel": "chat", "subject": ""}])
        yield book


@settings(max_examples=50)
@given(message=MESSAGES)
def test_a_message_comes_back(table: Book, message: Message) -> None:
    with table.change("added", message.at) as change:
        number = change.add("messages", [rows.message_row(message, 1)])
    (row,) = table.rows("SELECT * FROM messages WHERE id = ?", [number])
    table.undo(message.at)
    back = rows.message_of(row, ZONE)
    assert back == message
    assert back.at.isoformat() == message.at.isoformat()


@pytest.mark.parametrize(
    "spoilt",
    [
        {"state": "lost"},
        {"draft": "{"},
        {"draft": "[]"},
        {"quote": "{}"},
        {"booked_at": "soon"},
        {"change": "{}"},
        {"terms": "[]"},
        {"terms": '{"lettered": "four"}'},
    ],
    ids=str,
)
def test_a_row_that_another_program_has_spoilt_is_named(spoilt: dict[str, Any]) -> None:
    order = Order(7, "t1", 0, State.DRAFT, Draft())
    row = {"id": 7, "thread": 1, "place": 0, "paid": None, "paid_in": None, **rows.order_row(order)}
    assert rows.order_of(row, ZONE) == order
    with pytest.raises(OrdertinError, match="order 7"):
        rows.order_of({**row, **spoilt}, ZONE)


@pytest.mark.parametrize(("name", "number"), [("t12", 12), ("T12 ", 12), ("12", 12)])
def test_a_threads_name(name: str, number: int) -> None:
    assert rows.thread_number(name) == number
    assert rows.thread_number(rows.thread_id(number)) == number


@pytest.mark.parametrize("name", ["", "t", "tt1", "-1", "t1; DROP", "²", "9" * 30, str(Path("/etc"))])
def test_what_is_no_threads_name(name: str) -> None:
    with pytest.raises(OrdertinError, match="not a conversation"):
        rows.thread_number(name)


@pytest.mark.parametrize(
    ("insert", "look", "said"),
    [
        ("pantry (what, typed, grams, since, made_by) VALUES ('flour', '', 1, 'soon', 0)", "pantry", "the pantry"),
        ("days (day, kind, made_by) VALUES ('soon', 'off', 0)", "days", "a day off"),
    ],
    ids=["pantry", "days"],
)
def test_what_another_program_has_left_in_the_kitchens_rows_is_said(
    tmp_path: Path, insert: str, look: str, said: str
) -> None:
    with closing(Book(tmp_path / "orders.db")) as book:
        with book.change("", datetime(2026, 3, 11, tzinfo=UTC)) as change:
            change.db.execute(f"INSERT INTO {insert}")
        with pytest.raises(OrdertinError, match=f"{said} can't be read"):
            Pantry(book).stock() if look == "pantry" else KitchenRows(book).days(date.min)
