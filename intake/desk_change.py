"""What a customer wants otherwise: of a booked order a change to accept, of an open one what has moved.

A booked order is never changed by a message. What later messages read otherwise is set beside it and waits for the
baker: it follows the messages, goes where they come back to what is booked, and once refused stays away until they
say something new.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from intake.model import DRAFT_FIELDS, Cell, Draft, Order, Shift
from intake.record import in_words

_LABELS = {
    "handover": "hand-over",
    "due": "day",
    "due_is": "what the day is",
    "dietary": "diet",
    "honoree": "for whom",
}


def label(field: str) -> str:
    """A draft field as the baker calls it."""
    return _LABELS.get(field, field)


def asked(order: Order, before: Draft, fresh: Draft) -> tuple[Shift, ...]:
    """What is asked of a booked order once its thread, read as `before` until now, is read as `fresh`."""
    held = {shift.field for shift in order.change}
    return tuple(
        Shift(name, order.draft.cell(name).value, fresh.cell(name))
        for name in DRAFT_FIELDS
        if _otherwise(name, order.draft.cell(name), fresh.cell(name))
        and (name in held or _said_anew(name, before.cell(name), fresh.cell(name)))
    )


def still_asked(order: Order, draft: Draft) -> tuple[Shift, ...]:
    """What is left of a change once the baker has made `draft` of the order: a field that she set is answered."""
    return tuple(shift for shift in order.change if order.draft.cell(shift.field) == draft.cell(shift.field))


def as_asked(order: Order) -> Draft:
    """The draft of an order with its change taken: each cell settled by the baker's yes, but for a doubt without a
    value, which stays one."""
    cells: dict[str, Cell[Any]] = {shift.field: _settled(shift.reads) for shift in order.change}
    return replace(order.draft, **cells)


def called_off(order: Order) -> bool:
    """Whether the change asked for is that the order be dropped."""
    return any(shift.field == "cancelled" and bool(shift.reads.value) for shift in order.change)


def moved(order: Order, after: Draft) -> tuple[Shift, ...]:
    """What is another in `after` than when the baker last did something to `order`."""
    first = {shift.field: shift.was for shift in order.moved}
    shifts = (Shift(name, first.get(name, order.draft.cell(name).value), after.cell(name)) for name in DRAFT_FIELDS)
    return tuple(shift for shift in shifts if not _same_value(shift.field, shift.was, shift.reads.value))


def shift_line(shift: Shift) -> str:
    """`count: 24 -> 36`."""
    was, reads = shift.was, shift.reads
    if shift.field == "cancelled":
        return "called off" if reads.value else "wanted after all"
    if reads.missing and reads.why and _same_value(shift.field, was, reads.value):
        return f"{label(shift.field)}: to check, {reads.why}"
    return f"{label(shift.field)}: {in_words(was)} -> {in_words(reads.value)}"


def _settled(cell: Cell[Any]) -> Cell[Any]:
    return cell if cell.missing and cell.why else replace(cell, sure=True, why="", others=())


def _otherwise(name: str, stands: Cell[Any], reads: Cell[Any]) -> bool:
    """Whether a reading differs from what an order holds. That an allergy may be meant counts, too."""
    if not _same_value(name, stands.value, reads.value):
        return True
    return name == "dietary" and reads.missing and bool(reads.why) and reads.why != stands.why


def _said_anew(name: str, before: Cell[Any], fresh: Cell[Any]) -> bool:
    """Whether the reader gives something that it has not given before, or on the word of a further message."""
    told = {evidence.message for evidence in before.evidence}
    further = any(evidence.message not in told for evidence in fresh.evidence)
    return further or _otherwise(name, before, fresh)


def _same_value(name: str, one: Any, other: Any) -> bool:
    if name == "cancelled":
        return bool(one) is bool(other)
    return one == other or (one in (None, (), "") and other in (None, (), ""))
