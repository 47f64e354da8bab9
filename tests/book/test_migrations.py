"""A filled older book, as each step finds it, is whole after all of them."""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from intake.book import migrations, rows, search
from intake.book.people import People
from intake.book.shelf import Shelf
from intake.book.store import Book
from intake.model import Cell, Draft, Message, Order, State

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)
ZONE = ZoneInfo("America/Chicago")
DRAFT = Draft(customer=Cell("Dana Reyes", True), count=Cell(24, True), phone=Cell("217-555-0142", True))
#: How many steps a book had been through when each column of an order or a message came.
CAME = {"change": 4, "moved": 4, "terms": 7, "mail_id": 9, "answers": 9, "tracking": 10}


def older(path: Path, monkeypatch: pytest.MonkeyPatch, steps: int) -> None:
    """A book as it was after so many steps, with three conversations and an order in it."""
    with monkeypatch.context() as patch, closing(Book(path)) as book:
        patch.setattr(migrations, "STEPS", migrations.STEPS[:steps])
        if steps < 3:  # There is no word index yet.
            patch.setattr(search, "note", lambda db, change: None)
        with book.change("took chats.json", AT) as change:
            for key in ("chat:dana", "mail:leo", "chat:number"):
                change.add("threads", [{"key": key, "channel": "chat", "subject": ""}])
            wrote = (("Dana Reyes", ""), ("Leo Ortiz", "leo@example.org"), ("+1 (217) 555-0142", ""))
            for number, (who, address) in enumerate(wrote, 1):
                message = Message(f"m{number}", who, False, AT, "24 please", address=address)
                change.add("messages", [_then(rows.message_row(message, number), steps)])
            order = _then(rows.order_row(Order(0, "", 0, State.BOOKED, DRAFT)), steps)
            change.add("orders", [{**order, "thread": 1, "place": 0, "as_read": rows.draft_text(DRAFT)}])


def _then(row: dict[str, Any], steps: int) -> dict[str, Any]:
    """A row as it was after so many steps."""
    return {name: value for name, value in row.items() if CAME.get(name, 0) <= steps}


@pytest.mark.parametrize("steps", range(2, len(migrations.STEPS)))
def test_what_an_older_book_holds_is_there_after_the_steps_it_lacks(
    path: Path, monkeypatch: pytest.MonkeyPatch, steps: int
) -> None:
    older(path, monkeypatch, steps)
    with closing(Book(path)) as book:
        shelf = Shelf(book, ZONE)
        assert [shelf.thread(n).customer for n in (1, 2)] == ["Dana Reyes", "Leo Ortiz"]
        order = shelf.order(1)
        assert (order.draft, order.state, order.change, order.moved) == (DRAFT, State.BOOKED, (), ())
        # The number that the third writes from is in Dana's order; a book that has customers is told so by the take.
        tied = steps < migrations.STEPS.index(migrations.customers) + 1
        assert [People(book).whose(n) for n in (1, 2, 3)] == [1, 2, 1 if tied else 3]
        assert book.undo(AT) == "took chats.json"
        assert book.rows("SELECT id FROM ties") == []
        assert book.rows("SELECT id FROM threads") == []
