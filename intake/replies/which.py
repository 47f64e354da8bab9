"""Which reply an order needs next, and why."""

from __future__ import annotations

from intake.model import Clash, NotProven, Order, State, Verdict
from intake.replies.questions import open_fields, questions


def proposed(order: Order, verdict: Verdict | None) -> tuple[str, str]:
    """The kind of reply (`ask`, `quote`, `confirm`, `no room`) and the reason, in a baker's words.

    The kind is an empty text where nothing is to be answered: the order is over, or the customer has called it off.
    """
    draft = order.draft
    if order.state in (State.HANDED_OVER, State.DROPPED):
        return "", f"the order is {order.state}: there is nothing left to answer"
    if draft.cancelled.value and draft.cancelled.sure:
        return "", "the customer has cancelled: drop the order"
    clash = isinstance(verdict, Clash) and (order.id == verdict.newest or order.id in verdict.orders)
    if order.state is State.BOOKED:
        return "confirm", "the order is booked" + (", but the week doesn't hold all of its orders" if clash else "")
    if draft.cancelled.value or open_fields(draft):
        return "ask", "; ".join(question.why for question in questions(draft, "en"))
    if isinstance(verdict, Clash) and clash:
        return "no room", verdict.short or "the week doesn't hold it"
    if order.quote is None:
        return "quote", "everything is known, and it has no price yet"
    if isinstance(verdict, NotProven):
        return "quote", f"everything is known and priced; whether the week holds it is not proven: {verdict.why}"
    return "quote", "everything is known and priced"


def kinds(order: Order) -> tuple[str, ...]:
    """The kinds of reply that have something to say: a question only where there is one, a reminder where money of an
    agreed order is still to come."""
    agreed = order.state in (State.BOOKED, State.HANDED_OVER)
    owes = agreed and order.quote is not None and order.quote.total > order.paid
    asks = ["ask"] if questions(order.draft, "en") else []
    return (*asks, "quote", "confirm", "no room", *(["remind"] if owes else []))
