"""The use cases: the few things a baker does, each one call and, where it writes, one change of the book.

The parts that read, price, plan and answer are loaded when first needed, so that looking at the book is quick.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from difflib import get_close_matches
from pathlib import Path
from types import TracebackType
from typing import Any

from intake import clock, house, record
from intake.book.journal import Change
from intake.book.shelf import REPLY, Arrival, Shelf
from intake.book.store import Book
from intake.clean import clean
from intake.desk_quote import altered, priced
from intake.desk_reread import BAKER, OPEN
from intake.desk_taking import Progress, Taking
from intake.desk_waiting import Caller, Waiting, label, waiting
from intake.home import Home
from intake.model import (
    DRAFT_FIELDS,
    STEPS,
    Cell,
    Message,
    Order,
    OrdertinError,
    Problem,
    Reading,
    Reply,
    State,
    TakeReport,
    Thread,
    Verdict,
)

_CLOSED = (State.HANDED_OVER, State.DROPPED)


@dataclass(frozen=True, slots=True)
class Case:
    """A conversation, how it was last read, and its orders in their places. What is handed over is not read again."""

    thread: Thread
    reading: Reading
    orders: tuple[Order, ...]


@dataclass(frozen=True, slots=True)
class Said:
    """What the baker's words did: the order as it now stands, the fields that they changed, the assistant's answer."""

    order: Order
    changed: tuple[str, ...]
    answer: str


class Desk:
    """The baker's desk on one order book. Any method raises OrdertinError where the book can't be read or written.

    A thread is named `t12`, an order by its number. Several desks may be open on one book, and each thread of the
    program may call the same desk.
    """

    def __init__(self, home: Home, *, now: Callable[[], datetime] | None = None) -> None:
        self.home = home
        self.house = house.load(home.rules)
        self._now = now
        self._book = Book(home.book)
        self._shelf = Shelf(self._book, self.house.zone)
        self._taking = Taking(self._book, self._shelf, self.house)

    def __enter__(self) -> Desk:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        self._book.close()

    def now(self) -> datetime:
        return self._now() if self._now else clock.now(self.house.zone)

    def version(self) -> int:
        """A number that is another after each change of the book, from whichever window."""
        return self._book.version()

    def copy(self, to: Path) -> None:
        """A whole copy of the book in a new file at `to`."""
        self._book.copy(to)

    # Messages

    def take(self, paths: Sequence[Path], *, progress: Progress | None = None) -> TakeReport:
        """Takes exports into the book, one change each; what the book has already is passed over.

        `progress` is told the file's name and how many of its conversations are done, of how many. A file that can't
        be read is a problem of the report.
        """
        return self._taking.take(paths, self.now(), progress)

    def paste(self, text: str, *, sender: str = "", at: datetime | None = None, to: str = "") -> Case:
        """A pasted message as a conversation of its own, or as the next message of the conversation `to`.

        The same words pasted again (into a conversation: on the same day) change nothing. `at` is when it was sent, now
        where it is not given. Raises OrdertinError where nothing in `text` can be read.
        """
        at = at or self.now()
        at = at if at.tzinfo else at.replace(tzinfo=self.house.zone)
        return self._case(self._taking.paste(text, sender, at, self._shelf.number(to) if to else None))

    # Looking

    def waiting(self) -> tuple[Waiting, ...]:
        """The conversations that want the baker: unanswered ones first, then the soonest hand-over."""
        orders: dict[str, list[Order]] = {}
        for order in self._shelf.in_state(*OPEN):
            orders.setdefault(order.thread_id, []).append(order)
        return waiting(
            (
                Caller(name, customer, intent, last, aside, tuple(sorted(orders.get(name, ()), key=lambda o: o.place)))
                for name, customer, intent, aside, last in self._shelf.last_messages(OPEN)
            ),
            self.now(),
        )

    def case(self, thread_id: str) -> Case:
        return self._case(self._shelf.number(thread_id))

    def _case(self, number: int) -> Case:
        return Case(self._shelf.thread(number), self._shelf.reading(number), self._shelf.orders(number))

    def order(self, order_id: int) -> Order:
        return self._shelf.order(order_id)

    def rack(self) -> tuple[Order, ...]:
        """The booked orders, by hand-over day."""
        return self._shelf.in_state(State.BOOKED)

    # The slip

    def correct(self, order_id: int, changes: Mapping[str, Any]) -> Order:
        """Sets fields by the baker's word, which later readings keep; an empty value clears one.

        Values may be as in `record.value_of`. Raises OrdertinError for an unknown field or a wrong value.
        """
        values = {name: _given(name, given) for name, given in changes.items()}

        def corrected(order: Order) -> Order:
            cells = {}
            for name, value in values.items():
                cell = order.draft.cell(name)
                cells[name] = Cell(value, True, cell.evidence if cell.value == value else (), rule=BAKER)
            return altered(order, replace(order.draft, **cells), self.house)

        return self._edit(order_id, f"set {_listed(values)}", corrected, but=_CLOSED)

    def say(self, order_id: int, words: str) -> Said:
        """A correction in the baker's own words; nothing changes where they are not understood."""
        from intake.talk import corrections

        order = self._shelf.order(order_id)
        thread = self._shelf.thread(self._shelf.number(order.thread_id))
        understood = corrections(clean(words), thread, order, self.house.reading, at=self.now())
        if not understood.changes:
            return Said(order, (), understood.answer)
        # The evidence is in what the baker typed, which is no message of the thread.
        cells = {name: replace(cell, evidence=(), rule=BAKER) for name, cell in understood.changes.items()}
        after = self._edit(
            order_id,
            f"set {_listed(cells)}",
            lambda now: altered(now, replace(now.draft, **cells), self.house),
            but=_CLOSED,
        )
        changed = tuple(name for name in cells if after.draft.cell(name).value != order.draft.cell(name).value)
        return Said(after, changed, understood.answer)

    def confirm(self, order_id: int) -> Order:
        """Settles every field that has a value. Raises OrdertinError that names what an order can't be without."""

        def confirmed(order: Order) -> Order:
            draft = order.draft
            lacking = [label(name) for name in ("count", "due", "handover") if draft.cell(name).missing]
            if all(draft.cell(name).missing for name in ("theme", "designs", "lettering")):
                lacking.append("theme or designs")
            if lacking:
                raise _refused(order, f"{_listed(lacking)} missing", "Ask the customer, or type it in")
            if draft.due.value and draft.due.value.is_window:
                raise _refused(
                    order, f"the day is a window, {record.in_words(draft.due.value)}", "Agree on one day, and set it"
                )
            cells = {name: draft.cell(name) for name in DRAFT_FIELDS if not draft.cell(name).missing}
            settled = {name: replace(cell, sure=True, why="") for name, cell in cells.items()}
            return replace(order, draft=replace(draft, **settled))

        return self._edit(order_id, "confirmed", confirmed, but=_CLOSED)

    # Money, room, answers

    def quote(self, order_id: int) -> Order:
        """Prices an order. A booked one stays booked."""

        def quoted(order: Order) -> Order:
            quote = priced(order.draft, self.house, self.now().date())
            if isinstance(quote, Problem):
                raise _refused(order, quote.what, quote.todo)
            return replace(order, quote=quote, state=order.state if order.state is State.BOOKED else State.QUOTED)

        return self._edit(order_id, "quoted", quoted, but=_CLOSED)

    def room(self, order_id: int) -> Verdict:
        """Whether the booked orders still ahead and this one, as the newest, can all be made."""
        from intake.kitchen.jobs import job_of
        from intake.kitchen.plan import decide

        now, newest = self.now(), self._shelf.order(order_id)
        ahead = [o for o in self.rack() if o.id != order_id and o.draft.due.value]
        ahead = [o for o in ahead if o.draft.due.value and o.draft.due.value.last >= now.date()]
        jobs = []
        for order in (*ahead, newest):
            job = job_of(order, self.house, newest=order is newest)
            if isinstance(job, Problem):
                raise _refused(order, job.what, job.todo)
            jobs.append(job)
        return decide(jobs, self.house, now=now)

    def reply(self, order_id: int, kind: str | None = None) -> Reply:
        """An answer to the customer: of one kind (ask, quote, confirm, no room), else of the kind that fits best."""
        from intake.replies.which import proposed
        from intake.replies.wording import write

        order = self._shelf.order(order_id)
        verdict = None
        if kind is None:
            kind = proposed(order, None)[0]
            # Only what would be quoted next can turn out to have no room.
            if kind == "quote":
                verdict = self.room(order_id)
                kind = proposed(order, verdict)[0]
        elif kind == "no room":
            verdict = self.room(order_id)
        number = self._shelf.number(order.thread_id)
        thread, language = self._shelf.thread(number), self._shelf.reading(number).language
        reply = write(
            kind, order, self.house, templates=self.home.templates, verdict=verdict, language=language
        )
        sent_from = next((m.address for m in reversed(thread.messages) if m.address and not m.mine), "")
        return replace(reply, to=sent_from) if thread.channel == "mail" and sent_from else reply

    def replied(self, order_id: int, reply: Reply, how: str) -> Order:
        """Notes in the conversation that the baker has sent `reply`, and `how` (such as "by mail")."""
        at = self.now()
        with self._book.change(f"answered order {order_id} {how}", at) as change:
            order = self._shelf.order(order_id)
            thread = self._shelf.thread(self._shelf.number(order.thread_id))
            sender = self.house.house.baker or self.house.house.name
            message = Message(f"{REPLY}{change.id}", sender, True, at, clean(reply.text))
            self._shelf.add(change, thread, Arrival(self._shelf.number(thread.id), (message,)))
            if reply.kind == "ask" and order.state in OPEN:
                order = replace(order, state=State.ASKED)
                self._shelf.keep_order(change, order)
        return order

    # The order's life

    def book(self, order_id: int) -> Order:
        """Books a confirmed and quoted order. Raises OrdertinError that says what is still open."""

        def booked(order: Order) -> Order:
            draft, now = order.draft, self.now()
            if draft.cancelled.value:
                raise _refused(order, "the customer has cancelled", "Drop it, or set cancelled to no")
            open_fields = [label(name) for name in DRAFT_FIELDS if _unsettled(name, draft.cell(name))]
            if open_fields:
                raise _refused(order, f"{_listed(open_fields)} not settled", "Look at each, then confirm")
            if order.quote is None:
                raise _refused(order, "there is no quote yet", "Quote it first")
            if order.quote.valid_until < now.date():
                raise _refused(order, f"the quote held until {order.quote.valid_until}", "Quote it again")
            return replace(order, state=State.BOOKED, booked_at=now)

        return self._edit(order_id, "booked", booked, but=(State.BOOKED, *_CLOSED))

    def drop(self, order_id: int) -> Order:
        """Sets an order aside for good. It stays in the book; `reopen` brings it back."""
        return self._edit(order_id, "dropped", lambda o: replace(o, state=State.DROPPED), but=_CLOSED)

    def reopen(self, order_id: int) -> Order:
        """A dropped order as a draft again."""

        def reopened(order: Order) -> Order:
            return replace(order, state=State.DRAFT, step="", quote=None, booked_at=None)

        return self._edit(order_id, "brought back", reopened, but=_but(State.DROPPED))

    def advance(self, order_id: int, step: str) -> Order:
        """Puts a booked order at one of its steps, or hands it over. Once a conversation has nothing left to make,
        what its customer writes next is read on its own."""
        handed = step == State.HANDED_OVER
        if not handed and step not in STEPS:
            raise OrdertinError(f'there is no step "{step:.40}"', todo=f"The steps are {', '.join(STEPS)}, handed over")

        def advanced(order: Order) -> Order:
            return replace(order, state=State.HANDED_OVER, step="") if handed else replace(order, step=step)

        def then(change: Change, order: Order) -> None:
            number = self._shelf.number(order.thread_id)
            if handed and all(o.state in _CLOSED for o in self._shelf.current(number)):
                self._shelf.close(change, number)

        return self._edit(order_id, step, advanced, but=_but(State.BOOKED), then=then)

    def set_aside(self, thread_id: str) -> None:
        """Takes a conversation without an open order off the waiting list until its customer writes again."""
        with self._book.change(f"set {thread_id} aside", self.now()) as change:
            number = self._shelf.number(thread_id)
            standing = next((o for o in self._shelf.orders(number) if o.state in OPEN), None)
            if standing:
                raise _refused(standing, "it is still open", "Answer it, or drop it")
            self._shelf.set_aside(change, number)

    def undo(self) -> str | None:
        """Takes back the last change of the book; gives its words, None where there is none to take back."""
        return self._book.undo(self.now())

    def _edit(
        self,
        order_id: int,
        what: str,
        edit: Callable[[Order], Order],
        *,
        but: Sequence[State],
        then: Callable[[Change, Order], None] = lambda change, order: None,
    ) -> Order:
        """One change of one order, refused where it is in a state of `but`."""
        name = _name(self._shelf.order(order_id))
        with self._book.change(f"{name}: {what}", self.now()) as change:
            order = self._shelf.order(order_id)
            if order.state in but:
                raise _refused(order, f"it is {_STANDS[order.state]}", _WAYS[order.state])
            after = edit(order)
            self._shelf.keep_order(change, after)
            then(change, after)
        return after


def _but(wanted: State) -> list[State]:
    return [state for state in State if state is not wanted]


_STANDS = {
    State.DRAFT: "still a draft",
    State.ASKED: "waiting for an answer",
    State.QUOTED: "quoted, not booked",
    State.BOOKED: "booked",
    State.HANDED_OVER: "handed over",
    State.DROPPED: "dropped",
}
_WAYS = {
    **dict.fromkeys(OPEN, "Book it first"),
    State.BOOKED: "Drop it, or go on with its steps",
    State.HANDED_OVER: "What was handed over stays as it was; undo takes the last change back",
    State.DROPPED: "Bring it back first",
}


def _name(order: Order) -> str:
    who = order.draft.customer.value
    return f"order {order.id} ({who})" if who else f"order {order.id}"


def _refused(order: Order, what: str, todo: str) -> OrdertinError:
    return OrdertinError(what, where=_name(order), todo=todo)


def _listed(names: Sequence[str] | Mapping[str, Any]) -> str:
    return ", ".join(names)


def _unsettled(name: str, cell: Cell[Any]) -> bool:
    """A value to check; and, for a diet, also a doubt without a value, since an allergy may be meant."""
    return not cell.sure and (not cell.missing or (name == "dietary" and bool(cell.why)))


def _given(name: str, given: Any) -> Any:
    if name not in DRAFT_FIELDS:
        close = get_close_matches(name, DRAFT_FIELDS, n=1)
        raise OrdertinError(f'an order has no "{name:.40}"', todo=f"Did you mean {close[0]}?" if close else "")
    try:
        return record.value_of(name, given)
    except ValueError as error:
        raise OrdertinError(f"{label(name)} must be {error}", todo="Type it again") from None
