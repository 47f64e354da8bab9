"""A book with something in every table: forty customers, each with messages, orders and what belongs to them."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from intake.book.store import Book
from intake.book.unload import tables_of

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)
CUSTOMERS = 40


def fill(path: Path) -> None:
    """Makes it in a new file. Customer N is called `Bea Ortiz N`; her conversation and order have the number N."""
    with closing(Book(path)) as book:
        with book.change("taken", AT) as change:
            for n in range(1, CUSTOMERS + 1):
                change.add("threads", [{"key": f"chat:{n}", "channel": "chat", "subject": ""}])
                change.add("messages", [_message(n, part) for part in range(5)])
                change.add("ties", [{"thread": n, "kind": "phone", "key": f"55501{n:05}"}])
                order = {"thread": n, "place": 0, "state": "handed over", "draft": "{}", "as_read": "{}"}
                change.add("orders", [order | {"note": "é\n" * n}])
                of = {"order_id": n}
                quote = '{"lines": [], "total": "36.00"}'
                change.add("quotes", [of | {"quote": quote}])
                paid = {"what": "part", "minor": 100 * n, "currency": "USD", "day": "2026-03-12"}
                change.add("payments", [of | paid])
                change.add("marks", [of | {"step": "bake", "parts": 1}])
                change.add("plans", [of | {"starts": "[]"}])
            change.add("apart", [{"one": 1, "other": 2}])
            change.add("days", [{"day": "2026-03-14", "kind": "off"}])
            change.add("words", [{"field": "theme", "said": "wooly", "means": "mammoth"}])
            stock = {"what": "flour", "typed": "5 lb flour", "grams": 2267.96185, "since": "2026-03-01"}
            change.add("pantry", [stock])
            letter = "INSERT INTO letters (order_id, kind, sender, recipient, subject, text, mail_id, mail, state, at)"
            change.db.execute(
                f"{letter} VALUES (1, 'ask', 'a', 'b', 'c', 'd', 'e', ?, 'accepted', ?)",
                (b"From: \xff\0", AT.isoformat()),
            )
            change.db.execute("INSERT INTO calendar_entries (uid, entry, sequence, stamp) VALUES ('u', '{}', 0, '')")
        with book.change("noted", AT) as change:
            for n in range(1, CUSTOMERS + 1):
                change.alter("orders", n, {"note": f"note {n}"})


def _message(n: int, part: int) -> dict[str, object]:
    at = AT + timedelta(minutes=n * 10 + part)
    text = f"cookies for customer {n}, part {part} " + "with sprinkles and words " * 8
    return {
        "thread": n, "content_key": f"m{n}.{part}", "sender": f"Bea Ortiz {n}", "mine": 0, "at": at.isoformat(),
        "moment": int(at.timestamp()), "text": text, "raw": None, "address": "", "attachments": "[]",
    }  # fmt: skip


def everything(path: Path) -> dict[str, Any]:
    """Every row of every table with its types, what makes the book up, and the places of all its words."""
    with closing(sqlite3.connect(path)) as db:
        held: dict[str, Any] = {
            name: [[(type(v).__name__, v) for v in row] for row in db.execute(f'SELECT * FROM "{name}" ORDER BY rowid')]
            for name in tables_of(db)
        }
        held["made of"] = sorted(db.execute("SELECT type, name, sql FROM sqlite_master").fetchall(), key=str)
        held["words"] = db.execute("SELECT * FROM message_word_places ORDER BY 1, 2, 3, 4").fetchall()
        assert db.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
    return held
