"""What an order must be before it is confirmed or booked, and the words in which the desk refuses."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any, Final

from intake import record
from intake.desk_change import label
from intake.desk_reread import OPEN
from intake.model import DRAFT_FIELDS, Cell, Draft, Order, OrdertinError, Shift, State

_PARTY: Final = (
    'Say when the customer has them (for example "pickup the day before at 5"), or set "that is" to hand-over'
)
_STANDS: Final = {
    State.DRAFT: "still a draft",
    State.ASKED: "waiting for an answer",
    State.QUOTED: "priced, not booked",
    State.BOOKED: "booked",
    State.HANDED_OVER: "handed over",
    State.DROPPED: "dropped",
}
_WAYS: Final = {
    **dict.fromkeys(OPEN, "Book it first"),
    State.BOOKED: "Drop it, or go on with its steps",
    State.HANDED_OVER: "What was handed over stays as it was; undo takes the last change back",
    State.DROPPED: "Bring it back first",
}


def named(order: Order) -> str:
    """`order 12 (Dana)`."""
    who = order.draft.customer.value
    return f"order {order.id} ({who})" if who else f"order {order.id}"


def refused(order: Order, what: str, todo: str) -> OrdertinError:
    return OrdertinError(what, where=named(order), todo=todo)


def wrong_state(order: Order) -> OrdertinError:
    return refused(order, f"it is {_STANDS[order.state]}", _WAYS[order.state])


def listed(words: Sequence[str]) -> str:
    """`count, day and hand-over`."""
    *most, last = words or [""]
    return f"{', '.join(most)} and {last}" if most else last


def fields(names: Iterable[str]) -> str:
    """The fields of a change, as the baker calls them; what a day is goes without saying beside the day."""
    held = list(names)
    return listed([label(name) for name in held if name != "due_is" or "due" not in held])


def confirmed(order: Order) -> Draft:
    """The draft with every value settled. Raises OrdertinError that names what an order can't be without."""
    draft = order.draft
    lacking = [label(name) for name in ("count", "due", "handover") if draft.cell(name).missing]
    if all(draft.cell(name).missing for name in ("theme", "designs", "lettering")):
        lacking.append("theme or designs")
    if lacking:
        raise refused(order, f"{', '.join(lacking)} missing", "Ask the customer, or type it in")
    if draft.due.value and draft.due.value.is_window:
        window = record.in_words(draft.due.value)
        raise refused(order, f"the day is a window, {window}", "Agree on one day, and set it")
    _check_day(order)
    cells = {name: draft.cell(name) for name in DRAFT_FIELDS if not draft.cell(name).missing}
    settled: dict[str, Cell[Any]] = {name: replace(cell, sure=True, why="") for name, cell in cells.items()}
    return replace(draft, **settled)


def check_asked(order: Order, seen: Sequence[Shift] | None) -> None:
    """Raises OrdertinError where an order has no change to accept, or another than the one that was `seen`."""
    if not order.change:
        raise refused(order, "the customer asks for no change of it", "Change it yourself, field by field")
    if seen is not None and tuple(seen) != order.change:
        raise refused(order, "the customer asks for something else by now", "Look at it again")


def check_bookable(order: Order, today: date) -> None:
    """Raises OrdertinError that says what is still open."""
    draft = order.draft
    if draft.cancelled.value:
        raise refused(order, "the customer has cancelled", "Drop it, or set cancelled to no")
    doubts = [name for name in DRAFT_FIELDS if _unsettled(name, draft.cell(name))]
    if doubts:
        meant = doubts == ["dietary"] and draft.dietary.missing
        todo = "Ask the customer, then set the diet or empty it" if meant else "Look at each, then confirm"
        raise refused(order, f"{', '.join(label(name) for name in doubts)} not settled", todo)
    _check_day(order)
    if order.quote is None:
        raise refused(order, "there is no quote yet", "Quote it first")
    if order.quote.valid_until < today:
        raise refused(order, f"the quote held until {order.quote.valid_until}", "Quote it again")


def _check_day(order: Order) -> None:
    if record.on_the_party(order.draft):
        raise refused(order, "the day is the party's", _PARTY)


def _unsettled(name: str, cell: Cell[Any]) -> bool:
    """A value to check; and, for a diet, also a doubt without a value, since an allergy may be meant."""
    return not cell.sure and (not cell.missing or (name == "dietary" and bool(cell.why)))
