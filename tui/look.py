"""One look at the book: what the Counter lays out, gathered in a thread and taken into its view at once."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, Any

from intake.model import Order, OrdertinError, Quote
from tui.road import View

if TYPE_CHECKING:
    from intake.desk import Case
    from intake.desk_waiting import Waiting


@dataclass(frozen=True, slots=True)
class Look:
    version: object
    today: date
    waiting: tuple[Waiting, ...]
    case: Case | None
    booked: tuple[Order, ...]
    asked: dict[int, Quote]


def look(desk: Any, thread_id: str) -> Look:
    """The book now. The conversation is `thread_id`'s, or the first that waits where that is empty or gone."""
    version, waiting = desk.version(), desk.waiting()
    case = None
    for key in (thread_id, *(each.thread_id for each in waiting[:1])):
        if key and case is None:
            try:
                case = desk.case(key)
            except OrdertinError:
                continue
    changed = [order.id for order in case.orders if order.change] if case else []
    asked = {key: price for key in changed if (price := desk.price_asked(key))}
    return Look(version, desk.now().date(), waiting, case, desk.rack(), asked)


def take_in(view: View, found: Look) -> View:
    """The view with what was found, a conversation just opened at the order with a change to accept; a reply that was
    written for other values is let go."""
    asking = [n for n, order in enumerate(found.case.orders) if order.change] if found.case else []
    place = view.place if found.case and view.thread_id == found.case.thread.id else next(iter(asking), 0)
    orders = {order.id: order for order in found.case.orders} if found.case else {}
    before = {order.id: order for order in view.case.orders} if view.case else {}
    changed = {
        key for key, order in orders.items()
        if key in before and (before[key].draft, before[key].quote) != (order.draft, order.quote)
    }  # fmt: skip
    return replace(
        view,
        version=found.version,
        today=found.today,
        waiting=found.waiting,
        case=found.case,
        booked=found.booked,
        place=place,
        asked=found.asked,
        replies={key: reply for key, reply in view.replies.items() if key not in changed},
    )
