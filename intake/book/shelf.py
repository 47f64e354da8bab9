"""Conversations and orders as the book keeps them: looking them up, adding to them."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from zoneinfo import ZoneInfo

from intake.book import rows, search
from intake.book.journal import Change
from intake.book.store import Book
from intake.model import Draft, HouseWord, Message, Order, OrdertinError, Payment, Quote, Reading, Thread

REPLY = "reply:"
# A search that is to show so many conversations looks at so many messages for each.
_MESSAGES_EACH = 8
# Orders with what has been paid for them, in minor units of the currency that it was paid in.
_ORDERS = (
    "SELECT o.*, (SELECT sum(minor) FROM payments WHERE order_id = o.id AND NOT struck) AS paid,"
    " (SELECT max(currency) FROM payments WHERE order_id = o.id AND NOT struck) AS paid_in FROM orders o"
)


@dataclass(frozen=True, slots=True)
class Arrival:
    """What a thread from outside brings: the book's number for it (None if new), its messages that are new here, how
    many are known, and of those the ones (by row) that the book has put down to the wrong side."""

    number: int | None
    new: tuple[Message, ...]
    known: int = 0
    turned: tuple[tuple[int, bool], ...] = ()

    @classmethod
    def whole(cls, thread: Thread) -> Arrival:
        """All of a thread that the book has nothing of."""
        messages = tuple({message.id: message for message in thread.messages}.values())
        return cls(None, messages, len(thread.messages) - len(messages))

    @property
    def news(self) -> bool:
        return bool(self.new or self.turned)


class Shelf:
    """The book's threads and orders. `zone` is the time zone in which moments are given out."""

    def __init__(self, book: Book, zone: ZoneInfo) -> None:
        self._book, self._zone = book, zone

    def number(self, thread_id: str) -> int:
        """The number in a thread's name. Raises OrdertinError where it is not one."""
        return rows.thread_number(thread_id)

    def _rows(self, sql: str, *values: Any) -> list[dict[str, Any]]:
        return self._book.rows(sql, values)

    def thread(self, number: int) -> Thread:
        """Raises OrdertinError where the book has no such conversation."""
        return rows.thread_of(self._thread_row(number), self._messages(number))

    def reading(self, number: int) -> Reading:
        """The reading that was last made of a conversation."""
        return rows.reading_of(self._thread_row(number))

    def unread(self, number: int) -> Thread:
        """A conversation without what belongs to orders handed over: the part of it that is read."""
        row = self._thread_row(number)
        return rows.thread_of(row, self._messages(number, since=row["since"]))

    def _thread_row(self, number: int) -> dict[str, Any]:
        found = self._rows("SELECT * FROM threads WHERE id = ?", number)
        if not found:
            raise OrdertinError(f"there is no conversation {rows.thread_id(number)} in the book")
        return found[0]

    def _messages(self, number: int, since: int = 0) -> tuple[Message, ...]:
        found = self._rows("SELECT * FROM messages WHERE thread = ? AND id > ? ORDER BY moment, id", number, since)
        return tuple(rows.message_of(row, self._zone) for row in found)

    def arrival(self, thread: Thread) -> Arrival:
        """What of `thread` the book has already.

        A reply that the baker sent from here comes back in her next export under another name: it is told by its id or
        its words.
        """
        number = self.number_of(thread)
        if number is None:
            return Arrival.whole(thread)
        messages = tuple({message.id: message for message in thread.messages}.values())
        held = self._rows("SELECT id, content_key, mine, text, mail_id FROM messages WHERE thread = ?", number)
        by_key = {row["content_key"]: row for row in held}
        sent = [row for row in held if row["content_key"].startswith(REPLY)]
        replies, ids = {_words(row["text"]) for row in sent}, {row["mail_id"] for row in sent} - {""}
        new = tuple(
            m
            for m in messages
            if m.id not in by_key and m.mail_id not in ids and not (m.mine and _words(m.text) in replies)
        )
        # Taken before the house rules named the baker, her own messages look like a customer's.
        turned = tuple(
            (row["id"], m.mine) for m in messages if (row := by_key.get(m.id)) and bool(row["mine"]) != m.mine
        )
        return Arrival(number, new, len(thread.messages) - len(new), turned)

    def number_of(self, thread: Thread) -> int | None:
        """The book's number for a thread from outside: by its key, else by its customer's messages, else by the mail
        that it answers to."""
        found = self._rows(
            "SELECT id FROM threads WHERE key = ? AND channel = ?", rows.key_of(thread), thread.channel
        )
        if found:
            return int(found[0]["id"])
        keys = json.dumps([message.id for message in thread.messages if not message.mine])
        found = self._rows(
            "SELECT t.id FROM messages m JOIN threads t ON t.id = m.thread"
            " WHERE m.content_key IN (SELECT value FROM json_each(?)) AND NOT m.mine AND t.channel = ?"
            " GROUP BY t.id ORDER BY count(*) DESC, t.id LIMIT 1",
            keys,
            thread.channel,
        )
        if not found and thread.key.startswith("mail:"):
            root = thread.key.removeprefix("mail:")
            found = self._rows("SELECT thread AS id FROM messages WHERE mail_id != '' AND mail_id = ?", root)
        return int(found[0]["id"]) if found else None

    def is_empty(self) -> bool:
        """Whether the book has no conversation yet."""
        return not self._rows("SELECT 1 FROM threads LIMIT 1")

    def is_read(self, number: int) -> bool:
        """Whether a conversation has ever been read, rather than only kept."""
        return bool(self._rows("SELECT reading IS NOT NULL AS is_read FROM threads WHERE id = ?", number)[0]["is_read"])

    def add(self, change: Change, thread: Thread, arrival: Arrival, *, aside: bool = False) -> int:
        """Adds what is new of `thread`; gives the book's number for it. `aside` keeps it off the waiting list."""
        number = arrival.number or change.add("threads", [rows.thread_row(thread) | {"aside": int(aside)}])
        change.add("messages", [rows.message_row(message, number) for message in arrival.new])
        for row, mine in arrival.turned:
            change.alter("messages", row, {"mine": int(mine)})
        if arrival.number and not aside and any(not message.mine for message in arrival.new):
            change.alter("threads", number, {"aside": 0})
        return number

    def keep_reading(self, change: Change, number: int, reading: Reading) -> None:
        change.alter("threads", number, rows.reading_row(reading))

    def set_aside(self, change: Change, number: int) -> None:
        self._thread_row(number)
        change.alter("threads", number, {"aside": 1})

    def close(self, change: Change, number: int) -> None:
        """From here on only messages still to come are read of a conversation: what it holds has been dealt with."""
        last = self._rows("SELECT ifnull(max(id), 0) AS last FROM messages WHERE thread = ?", number)[0]["last"]
        change.alter("threads", number, {"since": last})

    def order(self, order_id: int) -> Order:
        """Raises OrdertinError where the book has no such order."""
        return rows.order_of(self._order_row(order_id), self._zone)

    def _order_row(self, order_id: int) -> dict[str, Any]:
        # What SQLite can't hold as a number is none of its rows.
        found = self._rows(f"{_ORDERS} WHERE o.id = ?", order_id) if abs(order_id) < 2**63 else []
        if not found:
            raise OrdertinError(f"there is no order {order_id} in the book", todo="ordertin rack lists what is booked")
        return found[0]

    def as_read(self, order_id: int) -> Draft:
        """The draft of an order as the reader last gave it."""
        return rows.draft_of(self._order_row(order_id)["as_read"])

    def orders(self, number: int) -> tuple[Order, ...]:
        """All orders of a conversation, in their places."""
        found = self._rows(f"{_ORDERS} WHERE o.thread = ? ORDER BY o.place", number)
        return tuple(rows.order_of(row, self._zone) for row in found)

    def current(self, number: int) -> tuple[Order, ...]:
        """The orders of the part of a conversation that is read."""
        found = self._rows(
            f"{_ORDERS} JOIN threads t ON t.id = o.thread"
            " WHERE t.id = ? AND o.since = t.since ORDER BY o.place",
            number,
        )
        return tuple(rows.order_of(row, self._zone) for row in found)

    def in_state(self, *states: str, since: date = date.min) -> tuple[Order, ...]:
        """All orders in one of `states`, by hand-over day, those without one last; not those that were due before
        `since`."""
        found = self._rows(
            f"{_ORDERS} WHERE o.state IN ({_marks(states)}) AND ifnull(o.due_last, '9') >= ?"
            " ORDER BY o.due_last IS NULL, o.due_last, o.id",
            *states,
            since.isoformat(),
        )
        return tuple(rows.order_of(row, self._zone) for row in found)

    def asked_otherwise(self) -> tuple[Order, ...]:
        """The orders with a change to accept, by hand-over day."""
        found = self._rows(f"{_ORDERS} WHERE o.change IS NOT NULL ORDER BY o.due_last IS NULL, o.due_last, o.id")
        return tuple(rows.order_of(row, self._zone) for row in found)

    def add_order(self, change: Change, number: int, order: Order) -> int:
        """Adds an order at the next place of its conversation; gives its number."""
        place = self._rows("SELECT ifnull(max(place), -1) + 1 AS next FROM orders WHERE thread = ?", number)[0]["next"]
        row = {
            **rows.order_row(order),
            "thread": number,
            "place": place,
            "since": self._thread_row(number)["since"],
            "as_read": rows.draft_text(order.draft),
        }
        added = change.add("orders", [row])
        if order.quote is not None:
            self._keep_quote(change, added, None, order.quote)
        return added

    def keep_order(self, change: Change, order: Order, as_read: Draft | None = None) -> None:
        """Writes `order` as it now stands, and, where it was read again, how it was read."""
        read = {} if as_read is None else {"as_read": rows.draft_text(as_read)}
        if order.quote is not None:
            self._keep_quote(change, order.id, self.order(order.id).quote, order.quote)
        change.alter("orders", order.id, {**rows.order_row(order), **read})

    def _keep_quote(self, change: Change, order_id: int, before: Quote | None, after: Quote) -> None:
        """Keeps another version of a quote, where it is one."""
        if after != before:
            change.add("quotes", [{"order_id": order_id, "quote": rows.quote_text(after)}])

    def quotes(self, order_id: int) -> tuple[Quote, ...]:
        """Every version of an order's quote, the oldest first."""
        found = self._rows("SELECT * FROM quotes WHERE order_id = ? ORDER BY id", order_id)
        return tuple(rows.quote_of(row) for row in found)

    def payments(self, order_id: int | None = None, *, every: bool = False) -> tuple[Payment, ...]:
        """The payments of an order, or of all, by day; `every` gives the messages that told of none, too."""
        found = self._rows(
            "SELECT * FROM payments WHERE (? IS NULL OR order_id = ?) AND (? OR what != 'none') ORDER BY day, id",
            order_id,
            order_id,
            every,
        )
        return tuple(rows.payment_of(row) for row in found)

    def search(self, words: str, most: int) -> list[tuple[str, str, Message]]:
        """Up to `most` conversations with a message that holds all of `words`, or words that begin with them, the one
        with the newest first: its name, its customer, that message."""
        asked = [search.begun(self._book.rows, word) for word in search.asked(words)]
        if not asked or not all(asked):
            return []
        found = self._found(search.each_of(asked), most)
        held = self._rows(
            "SELECT m.*, (SELECT sender FROM messages WHERE thread = m.thread AND NOT mine"
            " ORDER BY moment, id LIMIT 1) AS customer"
            " FROM json_each(?) j JOIN messages m ON m.id = j.value ORDER BY m.moment DESC, m.id DESC",
            json.dumps(found),
        )
        return [
            (rows.thread_id(row["thread"]), row["customer"] or "", rows.message_of(row, self._zone)) for row in held
        ]

    def _found(self, asked: str, most: int) -> list[int]:
        """The newest message of each conversation that has one, of the newest messages alone."""
        # The plus keeps SQLite from converting the indexed expression, which would keep it from using the index.
        found = self._rows(
            "SELECT m.id, m.thread FROM (SELECT rowid AS place FROM message_words WHERE message_words MATCH ?"
            " ORDER BY rowid DESC LIMIT ?) w"
            f" JOIN messages m ON {search.PLACE} = +w.place ORDER BY w.place DESC",
            asked,
            most * _MESSAGES_EACH,
        )
        newest: dict[int, int] = {}
        for row in found:
            newest.setdefault(row["thread"], row["id"])
        return list(newest.values())[:most]

    def words(self) -> tuple[HouseWord, ...]:
        """What the baker's corrections have taught, the oldest first."""
        found = self._rows("SELECT field, said, means FROM words WHERE means != '' ORDER BY id")
        return tuple(HouseWord(row["field"], row["said"], row["means"]) for row in found)

    def learn(self, change: Change, words: Sequence[HouseWord]) -> None:
        """Keeps each word; one that is known already gets its new meaning, an empty one to forget it."""
        for word in words:
            held = self._rows("SELECT id FROM words WHERE field = ? AND said = ?", word.field, word.said)
            if held:
                change.alter("words", held[0]["id"], {"means": word.means})
            elif word.means:
                change.add("words", [{"field": word.field, "said": word.said, "means": word.means}])

    def last_messages(self, states: Sequence[str]) -> list[tuple[str, str, str, bool, Message]]:
        """For each conversation with an order in one of `states`, a change to accept, or an unanswered message: its
        name, its customer, its intent, whether it was set aside, its last message."""
        # The many that are set aside are not looked at, but for those with an order that stands.
        found = self._rows(
            f"WITH standing AS (SELECT thread FROM orders WHERE state IN ({_marks(states)})"
            " UNION SELECT thread FROM orders WHERE change IS NOT NULL)"
            " SELECT m.*, t.intent, t.aside,"
            " (SELECT sender FROM messages WHERE thread = t.id AND NOT mine ORDER BY moment, id LIMIT 1) AS customer"
            " FROM (SELECT id FROM threads WHERE NOT aside UNION SELECT thread FROM standing) s"
            " JOIN threads t ON t.id = s.id JOIN messages m"
            " ON m.id = (SELECT id FROM messages WHERE thread = t.id ORDER BY moment DESC, id DESC LIMIT 1)"
            " WHERE NOT (m.mine OR t.aside) OR t.id IN (SELECT thread FROM standing) ORDER BY t.id",
            *states,
        )
        return [
            (
                rows.thread_id(row["thread"]),
                row["customer"] or "",
                row["intent"],
                bool(row["aside"]),
                rows.message_of(row, self._zone),
            )
            for row in found
        ]


class Arrivals:
    """What each of many threads brings, asked before it is added. What is first in an empty book is not looked up
    there: a large export into a new book is mostly that."""

    def __init__(self, shelf: Shelf) -> None:
        self._shelf = shelf
        self._met: set[int] | None = set() if shelf.is_empty() else None

    def of(self, thread: Thread) -> Arrival:
        if self._met is None:
            return self._shelf.arrival(thread)
        names = _names(thread)
        met = not names.isdisjoint(self._met)
        self._met |= names
        return self._shelf.arrival(thread) if met else Arrival.whole(thread)


def _names(thread: Thread) -> set[int]:
    """Digests of all that a thread can be known by: no look-up takes one for another that shares none of them."""
    names = [rows.key_of(thread), thread.key.removeprefix("mail:")]
    # The content key of a mail with an id is made of that id.
    return {hash(name) for name in names + [m.mail_id or m.id for m in thread.messages]}


def _marks(values: Sequence[str]) -> str:
    return ", ".join("?" * len(values))


def _words(text: str) -> str:
    return " ".join(text.split())
