"""The shape of the book: each step is one named change that brings an older book up to date, in order.

A step that has been released is never edited; a change of shape is a new step. No ON DELETE CASCADE: a table
rebuilt by a later step would take its children with it. `made_by` is the journal's change that added the row.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from intake.book import search, ties

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


def message_words(db: Any) -> None:
    """All messages can be searched by their words. A conversation whose `reading` is null has been kept unread."""
    db.execute("CREATE INDEX threads_in_sight ON threads (id) WHERE NOT aside")
    search.make(db)


def changes_to_accept(db: Any) -> None:
    """What a customer asks of a booked order otherwise, and what later messages have changed in an open one."""
    for statement in (
        "ALTER TABLE orders ADD COLUMN change TEXT",
        "ALTER TABLE orders ADD COLUMN moved TEXT",
        "CREATE INDEX orders_with_a_change ON orders (thread) WHERE change IS NOT NULL",
    ):
        db.execute(statement)


def pantry_and_calendar(db: Any) -> None:
    """What is on the shelf, and what the baker's calendar has been given.

    `pantry.grams` is 0 where something has run out; `since` is the day on which it was put there. An entry of the
    calendar is kept as it was last written, with its sequence (RFC 5545, 3.8.7.4); `books` holds the name that makes
    this book's entries unlike another's. The calendar is no change of an order: undo passes over it.
    """
    for statement in (
        """CREATE TABLE pantry (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            what TEXT NOT NULL UNIQUE,
            typed TEXT NOT NULL,
            grams REAL NOT NULL,
            since TEXT NOT NULL,
            made_by INTEGER NOT NULL)""",
        """CREATE TABLE calendar_entries (
            uid TEXT PRIMARY KEY,
            entry TEXT NOT NULL,
            sequence INTEGER NOT NULL,
            stamp TEXT NOT NULL,
            gone INTEGER NOT NULL DEFAULT 0)""",
        "CREATE TABLE books (name TEXT NOT NULL)",
        "INSERT INTO books (name) VALUES (lower(hex(randomblob(8))))",
    ):
        db.execute(statement)


def customers(db: Any) -> None:
    """Conversations belong to customers: `threads.customer` is the first conversation of the same person, null where
    that is the conversation itself. `apart` holds conversations whose customers the baker keeps apart, while it
    `stands`.
    """
    ties.make(db)


def money(db: Any) -> None:
    """What the baker settles about a price, every version of a quote, and what was paid.

    `payments.minor` is in the minor unit of the currency (ISO 4217), below zero where it was given back. A row without
    an amount keeps a message that told of no payment, so that it isn't asked about again.
    """
    for statement in (
        "ALTER TABLE orders ADD COLUMN terms TEXT",
        """CREATE TABLE quotes (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            order_id INTEGER NOT NULL REFERENCES orders (id),
            quote TEXT NOT NULL,
            made_by INTEGER NOT NULL)""",
        "CREATE INDEX quotes_of_order ON quotes (order_id)",
        "INSERT INTO quotes (order_id, quote, made_by) SELECT id, quote, 0 FROM orders WHERE quote IS NOT NULL",
        """CREATE TABLE payments (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            order_id INTEGER NOT NULL REFERENCES orders (id),
            what TEXT NOT NULL,
            minor INTEGER NOT NULL,
            currency TEXT NOT NULL,
            how TEXT NOT NULL DEFAULT '',
            day TEXT NOT NULL,
            note TEXT NOT NULL DEFAULT '',
            message TEXT NOT NULL DEFAULT '',
            struck INTEGER NOT NULL DEFAULT 0,
            made_by INTEGER NOT NULL)""",
        "CREATE INDEX payments_of_order ON payments (order_id)",
        "CREATE INDEX payments_by_day ON payments (day)",
    ):
        db.execute(statement)


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


def letters(db: Any) -> None:
    """The ids of mails, and the outbox: each answer that goes by mail, written down before it is sent.

    `letters.mail` is what goes over the line, `state` how far it got, `at` since when. What has left can't be taken
    back: a letter is no change to undo.
    """
    for statement in (
        "ALTER TABLE messages ADD COLUMN mail_id TEXT NOT NULL DEFAULT ''",
        "ALTER TABLE messages ADD COLUMN answers TEXT NOT NULL DEFAULT '[]'",
        "CREATE INDEX messages_by_mail ON messages (mail_id) WHERE mail_id != ''",
        """CREATE TABLE letters (
            id INTEGER PRIMARY KEY AUTOINCREMENT,
            order_id INTEGER NOT NULL REFERENCES orders (id),
            kind TEXT NOT NULL,
            sender TEXT NOT NULL,
            recipient TEXT NOT NULL,
            subject TEXT NOT NULL,
            text TEXT NOT NULL,
            mail_id TEXT NOT NULL UNIQUE,
            mail BLOB NOT NULL,
            state TEXT NOT NULL,
            why TEXT NOT NULL DEFAULT '',
            at TEXT NOT NULL)""",
        "CREATE INDEX letters_of_order ON letters (order_id)",
    ):
        db.execute(statement)


def parcel_numbers(db: Any) -> None:
    """What the carrier calls an order's parcel, as the baker gave it."""
    db.execute("ALTER TABLE orders ADD COLUMN tracking TEXT NOT NULL DEFAULT ''")


STEPS: list[Callable[[Any], None]] = [
    first_book,
    house_words,
    message_words,
    changes_to_accept,
    customers,
    pantry_and_calendar,
    money,
    kitchen_work,
    letters,
    parcel_numbers,
]
