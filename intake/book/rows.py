"""Rows of the book as the model's nouns, and back. Moments come out in the house's time zone."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from datetime import date, datetime
from decimal import Decimal
from functools import lru_cache
from typing import Any
from zoneinfo import ZoneInfo

from intake import record
from intake.clean import clean
from intake.model import (
    Cell,
    Draft,
    Message,
    Order,
    OrdertinError,
    Payment,
    Quote,
    Reading,
    Shift,
    State,
    Terms,
    Thread,
)
from intake.money import minor, of_minor

Row = Mapping[str, Any]


def thread_id(number: int) -> str:
    """A thread's name for the baker: `t12` is the twelfth of the book."""
    return f"t{number}"


def thread_number(name: str) -> int:
    """The number in a thread's name. Raises OrdertinError where it is not one."""
    digits = name.strip().lower().removeprefix("t")
    if not (digits.isascii() and digits.isdigit() and len(digits) < 16):
        raise OrdertinError(f'"{name:.40}" is not a conversation of the book', todo="They are called t1, t2, ...")
    return int(digits)


def thread_row(thread: Thread) -> dict[str, Any]:
    return {"key": key_of(thread), "channel": thread.channel, "subject": thread.subject}


def key_of(thread: Thread) -> str:
    """What a thread is known by, which may be made of a name that a stranger gave it."""
    return clean(thread.key or thread.id)


def thread_of(row: Row, messages: tuple[Message, ...]) -> Thread:
    return Thread(thread_id(row["id"]), row["channel"], messages, row["key"], row["subject"])


def message_row(message: Message, thread: int) -> dict[str, Any]:
    return {
        "thread": thread,
        "content_key": message.id,
        "sender": message.sender,
        "mine": int(message.mine),
        "at": message.at.isoformat(),
        "moment": int(message.at.timestamp()),
        "text": message.text,
        # As JSON, since what arrived may hold halves of characters that no encoding takes.
        "raw": None if message.raw is None else json.dumps(message.raw),
        "address": message.address,
        "attachments": json.dumps(message.attachments, ensure_ascii=False),
        "mail_id": message.mail_id,
        "answers": json.dumps(message.answers),
    }


def message_of(row: Row, zone: ZoneInfo) -> Message:
    """Raises OrdertinError where another program has left something in the row that is no message."""
    with readable(f"a message of {thread_id(row['thread'])}"):
        return Message(
            id=row["content_key"],
            sender=row["sender"],
            mine=bool(row["mine"]),
            at=_moment(row["at"], zone),
            text=row["text"],
            raw=None if row["raw"] is None else json.loads(row["raw"]),
            address=row["address"],
            attachments=tuple(json.loads(row["attachments"])),
            mail_id=row["mail_id"],
            answers=tuple(json.loads(row["answers"])),
        )


def order_row(order: Order) -> dict[str, Any]:
    """The columns of an order that change in its life; its thread and place are set once."""
    due = order.draft.due.value
    return {
        "state": order.state.value,
        "step": order.step,
        "draft": draft_text(order.draft),
        "quote": None if order.quote is None else quote_text(order.quote),
        "booked_at": order.booked_at.isoformat() if order.booked_at else None,
        "note": order.note,
        "terms": None if order.terms == Terms() else _text(record.to_plain(order.terms)),
        "due_first": due.first.isoformat() if due else None,
        "due_last": due.last.isoformat() if due else None,
        "change": _text(record.to_plain(order.change)) if order.change else None,
        "moved": _text(record.to_plain(order.moved)) if order.moved else None,
        "tracking": order.tracking,
    }


def order_of(row: Row, zone: ZoneInfo) -> Order:
    """Raises OrdertinError where another program has left something in the row that is no order."""
    with readable(f"order {row['id']}"):
        return Order(
            id=row["id"],
            thread_id=thread_id(row["thread"]),
            place=row["place"],
            state=State(row["state"]),
            draft=draft_of(row["draft"]),
            step=row["step"],
            quote=None if row["quote"] is None else _quote_of(row["quote"]),
            booked_at=_moment(row["booked_at"], zone) if row["booked_at"] else None,
            note=row["note"],
            terms=_terms_of(row["terms"] or "{}"),
            paid=of_minor(row["paid"], row["paid_in"]) if row["paid"] else Decimal(0),
            change=_shifts_of(row["change"] or "[]"),
            moved=_shifts_of(row["moved"] or "[]"),
            tracking=row["tracking"],
        )


def payment_row(payment: Payment) -> dict[str, Any]:
    """The columns of a payment that is added."""
    return {
        "order_id": payment.order_id,
        "what": payment.what,
        "minor": minor(payment.signed, payment.currency),
        "currency": payment.currency,
        "how": payment.how,
        "day": payment.day.isoformat(),
        "note": payment.note,
        "message": payment.message,
    }


def payment_of(row: Row) -> Payment:
    """Raises OrdertinError where another program has left something in the row that is no payment."""
    with readable(f"payment {row['id']}"):
        return Payment(
            id=row["id"],
            order_id=row["order_id"],
            what=row["what"],
            amount=abs(of_minor(row["minor"], row["currency"])),
            currency=row["currency"],
            how=row["how"],
            day=date.fromisoformat(row["day"]),
            note=row["note"],
            message=row["message"],
            struck=bool(row["struck"]),
        )


def quote_text(quote: Quote) -> str:
    return _text(record.to_plain(quote))


def quote_of(row: Row) -> Quote:
    """Raises OrdertinError where another program has left something in the row that is no quote."""
    with readable(f"a quote of order {row['order_id']}"):
        return _quote_of(row["quote"])


def draft_text(draft: Draft) -> str:
    return _text(record.to_plain(draft))


# The book is looked at anew after each change, and most of its rows are as they were: what a text says is kept. All of
# it is frozen.


@lru_cache(maxsize=4096)
def draft_of(text: str) -> Draft:
    return record.draft_of(json.loads(text))


@lru_cache(maxsize=2048)
def _quote_of(text: str) -> Quote:
    return record.quote_of(json.loads(text))


@lru_cache(maxsize=512)
def _terms_of(text: str) -> Terms:
    return record.terms_of(json.loads(text))


@lru_cache(maxsize=512)
def _shifts_of(text: str) -> tuple[Shift, ...]:
    return record.shifts_of(json.loads(text))


def reading_row(reading: Reading) -> dict[str, Any]:
    return {"intent": reading.intent.value or "", "reading": _text(record.to_plain(reading))}


def reading_of(row: Row) -> Reading:
    """Nothing, where the conversation has been kept unread. Raises OrdertinError where another program has left
    something in the row that is no reading."""
    if row["reading"] is None:
        return Reading(Cell(), ())
    with readable(f"the reading of {thread_id(row['id'])}"):
        return record.reading_of(json.loads(row["reading"]))


@contextmanager
def readable(what: str) -> Iterator[None]:
    """Says of `what` that it can't be read, where another program has left something else in its rows."""
    try:
        yield
    except (ValueError, TypeError) as error:
        raise OrdertinError(
            f"{what} can't be read from the book: {error}", todo="Put back a copy of the book"
        ) from None


def _moment(text: str, zone: ZoneInfo) -> datetime:
    return datetime.fromisoformat(text).astimezone(zone)


def _text(plain: Any) -> str:
    return json.dumps(plain, ensure_ascii=False, separators=(",", ":"))
