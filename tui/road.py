"""The road of one order at the Counter: which step is due, and in words why another can't be taken yet."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

from intake.desk_change import as_asked, called_off
from intake.desk_waiting import UNANSWERED, stands
from intake.model import Clash, Fits, Order, Quote, Reply, State, Verdict, Way
from intake.record import on_the_party
from tui.words import LABELS, left_to_do, needed, shifts_words

if TYPE_CHECKING:
    from intake.desk import Case
    from intake.desk_customers import Alike, Customer
    from intake.desk_waiting import Waiting

PARTY = (
    "The day is the party's: say when she has them (for example \u201cpickup the day before at 5\u201d), "
    "or set \u201cthat is\u201d to hand-over."
)
OPEN = frozenset({State.DRAFT, State.ASKED, State.QUOTED})


@dataclass(frozen=True, slots=True)
class Room:
    """A verdict, the names of the orders it speaks of by their numbers, what it was worked out from, and for a clash
    the ways out of it, once they have been looked for."""

    verdict: Verdict
    names: dict[int, str]
    basis: object = None
    ways: tuple[Way, ...] = ()


@dataclass(frozen=True, slots=True)
class View:
    """What the Counter shows: who waits, one conversation, one of its orders, and what was worked out for it. `asked`
    holds what orders with a change to accept would cost; `known` is the customer, `like` who else she may be."""

    today: date
    version: object = None
    waiting: tuple[Waiting, ...] = ()
    case: Case | None = None
    booked: tuple[Order, ...] = ()
    place: int = 0
    rooms: dict[int, Room] = field(default_factory=dict)
    replies: dict[int, Reply] = field(default_factory=dict)
    asked: dict[int, Quote] = field(default_factory=dict)
    known: Customer | None = None
    like: tuple[Alike, ...] = ()

    @property
    def order(self) -> Order | None:
        if self.case is None or not self.case.orders:
            return None
        return self.case.orders[min(self.place, len(self.case.orders) - 1)]

    @property
    def stands(self) -> str:
        """How the order at hand stands, in words."""
        return stands(self.order, self.case.thread.messages) if self.order and self.case else ""

    @property
    def hers(self) -> tuple[Waiting, ...]:
        """The conversations that wait for the baker, and not for their customers."""
        return tuple(each for each in self.waiting if not each.theirs)

    @property
    def thread_id(self) -> str:
        return self.case.thread.id if self.case else ""

    @property
    def basis(self) -> object:
        """What a verdict on the order at hand rests on: when this differs, the verdict is out of date."""
        here = self.order
        others = tuple(order for order in self.booked if here and order.id != here.id)
        return self.today, here and as_asked(here), others

    @property
    def room(self) -> Room | None:
        """The verdict on the order at hand, while it still holds."""
        return None if self.room_is_old else self.rooms.get(self.order.id) if self.order else None

    @property
    def room_is_old(self) -> bool:
        room = self.rooms.get(self.order.id) if self.order else None
        return room is not None and room.basis != self.basis

    @property
    def reply(self) -> Reply | None:
        return self.replies.get(self.order.id) if self.order else None


def answered(view: View) -> bool:
    """Whether the baker had the last word in the conversation."""
    return bool(view.case and view.case.thread.messages and view.case.thread.messages[-1].mine)


def lacking(order: Order) -> tuple[str, ...]:
    """What an order can't be confirmed without: its missing core, a day that is still a window, or only the party's."""
    draft = order.draft
    found = [name for name in ("due", "handover", "count", "theme") if draft.cell(name).missing and needed(draft, name)]
    window = draft.due.value is not None and draft.due.value.is_window
    return (*(["due"] if window else []), *found, *(["due_is"] if on_the_party(draft) else []))


def suggested(view: View) -> str:
    """The name of the action that is due next, empty where nothing is."""
    order = view.order
    if view.case and not view.case.is_read:
        return "read_it"
    if view.stands == UNANSWERED:
        return "reply"
    if order and order.change:
        return "reply" if _unfit(order) else "take_change"
    if order is None or order.state not in OPEN:
        more = any(each.thread_id != view.thread_id for each in view.hers)
        return "next_waiting" if more else "new_message" if order is None else "go_rack"
    to_check, _ = left_to_do(order.draft)
    if order.draft.cancelled.value:
        return "drop"
    if lacking(order):
        return "next_waiting" if order.state is State.ASKED and answered(view) else "reply"
    if to_check:
        return "confirm"
    if order.quote is None:
        return "price"
    if view.room is None:
        return "room"
    return "book" if answered(view) and isinstance(view.room.verdict, Fits) else "reply"


def why_not(action: str, view: View) -> str:
    """Why `action` can't be done now, in one line; empty where it can."""
    if action in {"new_message", "undo", "go_rack", "who", "search", "take", "outbox", "same_customer"}:
        return ""
    if action == "read_it":
        return "" if view.case and not view.case.is_read else "This conversation has been read."
    if action in {"next_waiting", "previous"}:
        return "" if view.waiting else "Nobody waits. F2 takes a new message."
    if action == "set_aside":
        return "" if view.case else "There is no conversation to set aside."
    if action == "go_till":
        return ""
    order = view.order
    if action == "payment" and order is not None:
        return "" if order.quote else "Not priced yet. F5 prices it."
    if order is None:
        return "This conversation holds no order." if view.case else "No conversation is open. F2 takes a new message."
    if action == "other_slip":
        return "" if view.case and len(view.case.orders) > 1 else "This conversation holds one order."
    if action in {"edit", "all_fields"}:
        return ""
    if order.state in {State.DROPPED, State.HANDED_OVER}:
        brought_back = order.state is State.DROPPED and action == "drop"
        return "" if brought_back or action == "reply" else f"This order is {order.state}."
    if action in {"take_change", "refuse_change"}:
        none = "" if order.change else "The customer asks for no change of this order."
        return none or (_unfit(order) if action == "take_change" else "")
    if order.state is State.BOOKED and action in {"confirm", "book"}:
        return "This order is booked: it hangs on the Rack (F9)."
    return _not_ready(action, order)


def _unfit(order: Order) -> str:
    """Why an order could not stand as its customer asks for it now; empty where it could."""
    lacks = () if called_off(order) else lacking(replace(order, draft=as_asked(order)))
    if not lacks:
        return ""
    told = PARTY if lacks == ("due_is",) else f"{_lacks(lacks).capitalize()} not agreed."
    return f"As asked it can't be made: {told} Set it (Enter), or ^k keeps it as booked."


def _not_ready(action: str, order: Order) -> str:
    to_check, _ = left_to_do(order.draft)
    lacks = lacking(order)
    needs = {"confirm": lacks, "book": lacks, "price": ("count",), "room": ("count", "due", "handover")}.get(action, ())
    if missing := tuple(name for name in needs if name in lacks):
        if missing == ("due_is",):
            return f"{PARTY} F7 writes the question."
        return f"Not agreed yet: {_lacks(missing)}. F7 writes the question, or type it here."
    if action == "confirm" and not to_check:
        return "Every value is confirmed already. F5 prices it."
    if action == "book" and to_check:
        return f"Still to check: {_fields(to_check)}. F4 confirms them all."
    if action == "book" and order.draft.dietary.missing and order.draft.dietary.why:
        return f"Diet: {order.draft.dietary.why}. F7 asks; or change the diet (Enter), or empty it."
    if action == "book" and order.quote is None:
        return "Not priced yet. F5 prices it."
    return ""


def book_anyway(room: Room) -> str:
    """What to ask before an order that isn't proven to fit is booked; empty where it fits."""
    match room.verdict:
        case Fits():
            return ""
        case Clash():
            return "This order can't be made in time as the week stands. Book it all the same?"
        case _:
            return "It is not known whether this order can be made in time. Book it all the same?"


def _fields(names: tuple[str, ...]) -> str:
    return ", ".join("what the day is" if name == "due_is" else LABELS[name] for name in names)


def _lacks(names: tuple[str, ...]) -> str:
    return ", ".join("when she has them" if name == "due_is" else LABELS[name] for name in names)


def greeting(waiting: tuple[Waiting, ...]) -> str:
    """How many wait for the baker, in words."""
    hers = sum(not each.theirs for each in waiting)
    if not hers:
        return "Nobody waits for you."
    return "One conversation waits for you (F3)." if hers == 1 else f"{hers} conversations wait for you (F3: the next)."


def next_of(walk: tuple[str, ...], view: View) -> str:
    """The next conversation that waits for the baker; empty where none but the open one does.

    `walk` is the list as it stood when the open one was opened: what has been done to it since may have moved it.
    """
    hers = [each.thread_id for each in view.hers]
    after = walk[walk.index(view.thread_id) + 1 :] if view.thread_id in walk else ()
    return next((key for key in (*after, *hers) if key in hers and key != view.thread_id), "")


def previous_of(walk: tuple[str, ...], view: View) -> str:
    """The conversation before the open one in the list as it stood, whatever has become of it."""
    return walk[walk.index(view.thread_id) - 1] if view.thread_id in walk else next(iter(walk), "")


def about(view: View) -> str:
    """What the open conversation needs, in one line."""
    order = view.order
    if order is None:
        why = next((f" ({each.why})" for each in view.waiting if each.thread_id == view.thread_id), "")
        read = f"No order was read from it{why}. Answer it your own way, then ^g sets it aside."
        return read if view.case else greeting(view.waiting)
    if view.stands == UNANSWERED:
        return "This order is booked, and the customer has no answer yet. F7 writes it."
    if order.change:
        asks = f"The customer asks for a change: {shifts_words(order.change, view.today)}."
        return f"{asks} {_unfit(order) or 'F4 takes it, ^k keeps it as booked.'}"
    if order.state not in OPEN:
        paid = view.case is not None and view.case.reading.intent.value == "paid" and not answered(view)
        more = " She says it is paid: ^w enters it once it is in your account." if paid else ""
        return f"This order is {order.state}.{more}"
    return f"{_moved(view, order)}{_needs(view, order)}"


def _moved(view: View, order: Order) -> str:
    return f"Since you last looked: {shifts_words(order.moved, view.today)}. " if order.moved else ""


def _needs(view: View, order: Order) -> str:
    """What an open order needs."""
    if order.draft.cancelled.value:
        return "The customer calls it off: ^r drops it. Where that is wrong, change cancelled to no."
    if view.stands == "no room" and answered(view):
        return "You wrote that there is no room: it waits for the customer's answer. F3: the next."
    if order.state is State.ASKED and answered(view):
        return "You asked: it waits for the customer's answer. F3: the next."
    if lacking(order) == ("due_is",):
        return f"{PARTY} F7 writes the question."
    to_check, to_ask = left_to_do(order.draft)
    parts = []
    if to_check:
        parts.append(f"To check: {_fields(to_check)}.")
    if to_ask:
        parts.append(f"Not said: {_lacks(to_ask)}.")
    if lacking(order):
        parts.append("F7 writes the question.")
    elif to_check:
        parts.append("F4 confirms it all.")
    said = "Quoted: it waits for the customer's yes, then F8 books it."
    if view.stands != "quoted":
        said = "F8 books it." if suggested(view) == "book" else "Priced. F7 writes the answer."
    ways = {"price": "All sure. F5 prices it.", "room": f"{view.stands.capitalize()}. F6 looks at the room."}
    return " ".join(parts) or ways.get(suggested(view), said)
