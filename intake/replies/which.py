"""Which reply an order needs next, and why."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal

from intake.model import STEPS, Clash, NotProven, Order, State, Verdict
from intake.replies.questions import open_fields, questions
from intake.replies.told import Told

# Answers that say what has come, or what is still to pay.
_NAMES_PAID = {"confirm", "change", "deposit", "ready", "sent", "thanks"}


def proposed(order: Order, verdict: Verdict | None, told: Sequence[Told] = ()) -> tuple[str, str]:
    """The kind of reply and the reason, in a baker's words. `told` are the answers that have gone, the oldest first.

    The kind is an empty text where nothing is to be answered: the order is over and that has been said, or the customer
    has called it off.
    """
    draft = order.draft
    said = {each.kind for each in told}
    if order.state is State.HANDED_OVER:
        if "thanks" not in said:
            return "thanks", "the customer has the cookies"
        return _receipt(order, told) or ("", "you have thanked her")
    if order.state is State.DROPPED:
        done = "cancelled" in said or "no room" in said
        return ("", "the order is dropped, and she knows") if done else ("cancelled", "the order is dropped")
    if draft.cancelled.value and draft.cancelled.sure:
        return "", "the customer has cancelled: drop the order"
    clash = isinstance(verdict, Clash) and (order.id == verdict.newest or order.id in verdict.orders)
    if order.state is State.BOOKED:
        return _of_booked(order, clash, told)
    if draft.cancelled.value or open_fields(draft):
        return "ask", "; ".join(question.why for question in questions(draft, "en"))
    if isinstance(verdict, Clash) and clash:
        return "no room", verdict.short or "the week doesn't hold it"
    if order.quote is None:
        return "quote", "everything is known, and it has no price yet"
    if isinstance(verdict, NotProven):
        return "quote", f"everything is known and priced; whether the week holds it is not proven: {verdict.why}"
    return "quote", "everything is known and priced"


def _of_booked(order: Order, clash: bool, told: Sequence[Told]) -> tuple[str, str]:
    said = {each.kind for each in told}
    confirmed = [each for each in told if each.kind in ("confirm", "change")]
    if not confirmed:
        return "confirm", "the order is booked" + (", but the week doesn't hold all of its orders" if clash else "")
    if not confirmed[-1].at_price:
        return "change", "its price is another than you confirmed"
    if not confirmed[-1].as_is:
        return "change", "it is another than you confirmed, at the same price"
    if receipt := _receipt(order, told):
        return receipt
    if order.step == STEPS[-1]:
        if order.draft.handover.value == "ship" and "sent" not in said:
            return "sent", "it is packed, and goes by post"
        if order.draft.handover.value != "ship" and "ready" not in said:
            return "ready", "it is packed"
    return "confirm", "the order is booked, and you have confirmed it"


def _receipt(order: Order, told: Sequence[Told]) -> tuple[str, str] | None:
    """The word that money has come, where some has of which the customer has not been told."""
    known = Decimal(0)
    for each in told:
        if each.kind in _NAMES_PAID and each.paid is not None:
            known = max(known, each.paid)
        elif each.kind in _NAMES_PAID - {"confirm", "change"}:
            known = max(known, order.paid)
    if order.paid <= known:
        return None
    return "deposit", f"{'more' if known else 'money'} has come for it, and she has not been told"


def kinds(order: Order) -> tuple[str, ...]:
    """The kinds of reply that have something to say: a question only where there is one, a reminder where money of an
    agreed order is still to come, and what fits how far it has got."""
    agreed = order.state in (State.BOOKED, State.HANDED_OVER)
    owes = agreed and order.quote is not None and order.quote.total > order.paid
    ends = (*(["remind"] if owes else []), *(["deposit"] if agreed and order.paid > 0 else []))
    if order.state is State.HANDED_OVER:
        return ("thanks", *ends)
    if order.state is State.DROPPED:
        return ("cancelled", "no room")
    asks = ["ask"] if questions(order.draft, "en") else []
    first = (*asks, "quote", "confirm", "no room", *ends)
    if order.state is not State.BOOKED:
        return first
    return (*first, "change", "sent" if order.draft.handover.value == "ship" else "ready")
