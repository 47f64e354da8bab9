"""The shape of the book: each step is one named change that brings an older book up to date, in order.

A step that has been released is never edited; a change of shape is a new step. No ON DELETE CASCADE: a table
rebuilt by a later step would take its children with it. `made_by` is the journal's change that added the row.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

# PRAGMA application_id of an order book: "Ordt" in ASCII, so that another program's file is never taken for one.
APPLICATION_ID = 0x4F726474


def first_book(db: Any) -> None:
    """Threads and their messages, orders, and the journal that undo reads.

    `moment` is `at` in whole seconds since 1970 UTC. A thread is read from the messages after `since` (a message id):
    what came before belongs to orders already handed over. `orders.as_read` is the draft as the reader last gave it.
    """
    for statement in (
        """CREATE TABLE threads (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            key TEXT NOT NULL,
            channel TEXT NOT NULL,
            subject TEXT NOT NULL,
            intent TEXT NOT NULL DEFAULT '',
            reading TEXT,
            aside INTEGER NOT NULL DEFAULT 0,
            since INTEGER NOT NULL DEFAULT 0,
            made_by INTEGER NOT NULL,
            UNIQUE (key, channel))""",
        """CREATE TABLE messages (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            thread INTEGER NOT NULL REFERENCES threads (id),
            content_key TEXT NOT NULL,
            sender TEXT NOT NULL,
            mine INTEGER NOT NULL,
            at TEXT NOT NULL,
            moment INTEGER NOT NULL,
            text TEXT NOT NULL,
            raw TEXT,
            address TEXT NOT NULL,
            attachments TEXT NOT NULL,
            made_by INTEGER NOT NULL,
            UNIQUE (thread, content_key))""",
        "CREATE INDEX messages_in_time ON messages (thread, moment, id)",
        "CREATE INDEX messages_by_content ON messages (content_key)",
        "CREATE INDEX messages_by_change ON messages (made_by)",
        """CREATE TABLE orders (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            thread INTEGER NOT NULL REFERENCES threads (id),
            place INTEGER NOT NULL,
            state TEXT NOT NULL,
            step TEXT NOT NULL DEFAULT '',
            draft TEXT NOT NULL,
            as_read TEXT NOT NULL,
            quote TEXT,
            booked_at TEXT,
            note TEXT NOT NULL DEFAULT '',
            due_first TEXT,
            due_last TEXT,
            since INTEGER NOT NULL DEFAULT 0,
            made_by INTEGER NOT NULL,
            UNIQUE (thread, place))""",
        "CREATE INDEX orders_by_state ON orders (state, due_first)",
        """CREATE TABLE changes (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            what TEXT NOT NULL,
            at TEXT NOT NULL,
            undone INTEGER NOT NULL DEFAULT 0)""",
        # One row for each row that a change altered, with only the altered columns; or, where `row` is null, one
        # for each table that it added rows to, whose `after` is a digest of those rows.
        """CREATE TABLE images (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            change INTEGER NOT NULL REFERENCES changes (id),
            "table" TEXT NOT NULL,
            row INTEGER,
            before TEXT,
            after TEXT NOT NULL)""",
        "CREATE INDEX images_of_change ON images (change)",
        f"PRAGMA application_id = {APPLICATION_ID}",
    ):
        db.execute(statement)


def house_words(db: Any) -> None:
    """What the baker's corrections have taught the reader: where a customer writes `said`, `field` means `means`."""
    db.execute(
        """CREATE TABLE words (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            field TEXT NOT NULL,
            said TEXT NOT NULL,
            means TEXT NOT NULL,
            made_by INTEGER NOT NULL,
            UNIQUE (field, said))"""
    )


def kitchen_work(db: Any) -> None:
    """Steps of orders ticked off (`parts` stretches, the last `at`; the next since `begun`), when each stretch of an
    order is planned to begin (`starts`, JSON), and days that are otherwise than their week."""
    for statement in (
        """CREATE TABLE marks (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            order_id INTEGER NOT NULL REFERENCES orders (id),
            step TEXT NOT NULL,
            parts INTEGER NOT NULL,
            at TEXT NOT NULL DEFAULT '',
            begun TEXT NOT NULL DEFAULT '',
            made_by INTEGER NOT NULL,
            UNIQUE (order_id, step))""",
        """CREATE TABLE plans (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            order_id INTEGER NOT NULL UNIQUE REFERENCES orders (id),
            starts TEXT NOT NULL,
            made_by INTEGER NOT NULL)""",
        """CREATE TABLE days (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            day TEXT NOT NULL UNIQUE,
            kind TEXT NOT NULL,
            hours TEXT NOT NULL DEFAULT '',
            made_by INTEGER NOT NULL)""",
    ):
        db.execute(statement)


STEPS: list[Callable[[Any], None]] = [first_book, house_words, kitchen_work]
