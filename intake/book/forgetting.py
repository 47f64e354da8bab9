"""A customer taken out of the book for good, while the money of her orders stays."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from intake.book import search
from intake.book.store import Book
from intake.model import OrdertinError, State

# What an order keeps of its draft: what the till and the year's figures are counted by. No words, no evidence.
_KEPT_CELLS = ("count", "due", "handover")
_MONEY = (State.HANDED_OVER, State.BOOKED)
_SHORTEST_NAME = 3


@dataclass(frozen=True, slots=True)
class Forgotten:
    """What has gone, and what stays: orders and payments, without a name."""

    messages: int
    conversations: int
    orders_gone: int
    orders_kept: int
    payments_kept: int


def forget(book: Book, threads: Sequence[int], at: datetime) -> Forgotten:
    """Takes the conversations of one customer out of every table, the word index and the journal, in one change that
    can't be undone; what could be undone before it can't be any more, for the journal held her words.

    Raises OrdertinError, having changed nothing, where an order of hers is still booked, or a letter may have gone.
    """
    book.rows("PRAGMA secure_delete = ON")
    numbers = json.dumps(list(threads))
    with book.change("", at) as change:
        found = _forget(change.db, numbers, at)
    book.close_gaps()
    return found


def _forget(db: Any, threads: str, at: datetime) -> Forgotten:
    mine = "(SELECT value FROM json_each(?))"
    orders = db.execute(f"SELECT id, state, draft FROM orders WHERE thread IN {mine}", (threads,)).fetchall()
    if standing := [number for number, state, _ in orders if state == State.BOOKED]:
        numbers = ", ".join(map(str, standing))
        raise OrdertinError(
            "this customer has an order that is booked", where=f"order {numbers}", todo="Hand it over or drop it first"
        )
    ids = json.dumps([number for number, _, _ in orders])
    unsettled = "SELECT id FROM letters WHERE state IN ('leaving', 'unknown', 'written')"
    if letter := db.execute(f"{unsettled} AND order_id IN {mine}", (ids,)).fetchone():
        raise OrdertinError(
            "a letter to this customer may have gone", where=f"letter {letter[0]}", todo="Settle it: ordertin outbox"
        )
    names = _names(db, threads, orders)
    payers = f"SELECT order_id FROM payments WHERE what != 'none' AND order_id IN {mine}"
    paid = {number for (number,) in db.execute(payers, (ids,))}
    kept = {number for number, state, _ in orders if state in _MONEY or number in paid}
    gone = json.dumps([number for number, _, _ in orders if number not in kept])
    messages = db.execute(f"SELECT count(*) FROM messages WHERE thread IN {mine}", (threads,)).fetchone()[0]

    search.forget_threads(db, threads)
    for table in ("messages", "ties"):
        db.execute(f"DELETE FROM {table} WHERE thread IN {mine}", (threads,))
    db.execute(f"DELETE FROM apart WHERE one IN {mine} OR other IN {mine}", (threads, threads))
    db.execute(f"DELETE FROM letters WHERE order_id IN {mine}", (ids,))
    db.execute(f"DELETE FROM payments WHERE what = 'none' AND order_id IN {mine}", (ids,))
    for table in ("marks", "plans"):
        db.execute(f"DELETE FROM {table} WHERE order_id IN {mine}", (ids,))
    db.execute(f"DELETE FROM quotes WHERE order_id IN {mine}", (gone,))
    db.execute(f"DELETE FROM orders WHERE id IN {mine}", (gone,))
    payments = _without_names(db, kept)
    db.execute(
        f"DELETE FROM threads WHERE id IN {mine} AND id NOT IN (SELECT thread FROM orders)", (threads,)
    )
    # A customer is known by its first conversation, which may have gone.
    db.execute(
        "UPDATE threads SET key = 'forgotten:' || id, subject = '', intent = '', reading = NULL, aside = 1,"
        f" customer = NULL WHERE id IN {mine}",
        (threads,),
    )
    _calendar(db, ids, names, at)
    db.execute("DELETE FROM images")
    db.execute("DELETE FROM changes")
    db.execute("INSERT INTO changes (what, at, undone) VALUES ('forgot a customer', ?, 1)", (at.isoformat(),))
    return Forgotten(messages, len(json.loads(threads)), len(orders) - len(kept), len(kept), payments)


def _names(db: Any, threads: str, orders: Sequence[tuple[Any, ...]]) -> set[str]:
    wrote = "SELECT DISTINCT sender FROM messages WHERE NOT mine AND thread IN (SELECT value FROM json_each(?))"
    named = {sender for (sender,) in db.execute(wrote, (threads,))}
    named |= {str(_plain(draft).get("customer", {}).get("value") or "") for _, _, draft in orders}
    return {name for name in named if len(name) >= _SHORTEST_NAME}


def _plain(text: str) -> dict[str, Any]:
    try:
        plain = json.loads(text)
    except ValueError:
        return {}
    return {name: cell for name, cell in plain.items() if isinstance(cell, dict)} if isinstance(plain, dict) else {}


def _without_names(db: Any, kept: set[int]) -> int:
    """Takes the words out of orders, quotes and payments that stay; gives how many payments."""
    payments = 0
    for number in kept:
        (text, quote) = db.execute("SELECT draft, quote FROM orders WHERE id = ?", (number,)).fetchone()
        held = _plain(text)
        values = {name: held[name].get("value") for name in _KEPT_CELLS if name in held}
        draft = {name: {"value": value, "sure": True} for name, value in values.items() if value}
        db.execute(
            "UPDATE orders SET draft = ?, as_read = '{}', quote = ?, note = '', tracking = '', terms = NULL,"
            " change = NULL, moved = NULL WHERE id = ?",
            (json.dumps(draft), _quote(quote), number),
        )
        for row, each in db.execute("SELECT id, quote FROM quotes WHERE order_id = ?", (number,)).fetchall():
            db.execute("UPDATE quotes SET quote = ? WHERE id = ?", (_quote(each), row))
        payments += db.execute(
            "UPDATE payments SET note = '', message = '' WHERE order_id = ?", (number,)
        ).rowcount
    return payments


def _quote(text: str | None) -> str | None:
    """A quote with its figures and without its words: what a line is for is told by its kind."""
    if text is None:
        return None
    plain = json.loads(text)
    for line in plain.get("lines", ()):
        line["label"], line["why"] = line.get("kind", "work"), ""
    plain.pop("notes", None)
    return json.dumps(plain)


def _calendar(db: Any, orders: str, names: set[str], at: datetime) -> None:
    """Entries of her orders, those that name her, and all that are over."""
    ours = tuple(f"order-{number}-" for number in json.loads(orders))
    today = at.date().isoformat()
    for uid, text in db.execute("SELECT uid, entry FROM calendar_entries").fetchall():
        entry = _plain_entry(text)
        told = f"{entry.get('summary')} {entry.get('description')} {entry.get('location')}"
        if uid.startswith(ours) or str(entry.get("end", "")) < today or any(name in told for name in names):
            db.execute("DELETE FROM calendar_entries WHERE uid = ?", (uid,))


def _plain_entry(text: str) -> dict[str, Any]:
    try:
        plain = json.loads(text)
    except ValueError:
        return {}
    return plain if isinstance(plain, dict) else {}
