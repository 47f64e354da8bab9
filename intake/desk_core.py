"""What every part of the desk stands on: the book, the house rules, the kitchen, and one way to change an order."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path
from types import TracebackType
from typing import Self

from intake import clock, house
from intake.book.journal import Change
from intake.book.people import People
from intake.book.shelf import Shelf
from intake.book.store import Book
from intake.desk_checks import named, wrong_state
from intake.desk_kitchen import Kitchen
from intake.home import Home
from intake.model import Order, State

#: An order in one of these is over.
CLOSED = (State.HANDED_OVER, State.DROPPED)


class Core:
    """One order book and its house rules. Any method raises OrdertinError where the book can't be read or written."""

    def __init__(self, home: Home, *, now: Callable[[], datetime] | None = None) -> None:
        self.home = home
        self.house = house.load(home.rules)
        self._now = now
        self._book = Book(home.book)
        self._shelf = Shelf(self._book, self.house.zone)
        self._people = People(self._book)
        self.kitchen = Kitchen(self._book, self._shelf, self.house, self.now)

    def __enter__(self) -> Self:
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

    def last_change(self) -> str:
        """The words of the change that `undo` would take back; empty where there is none."""
        return self._book.last()

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
        """One change of one order, refused where it is in a state of `but`. Where the kitchen then has other work to
        do, that of all booked orders is planned anew."""
        with self._book.change(f"{what} of {named(self._shelf.order(order_id))}", self.now()) as change:
            order = self._shelf.order(order_id)
            if order.state in but:
                raise wrong_state(order)
            after = replace(edit(order), moved=())
            self._shelf.keep_order(change, after)
            if any(after.draft.cell(name) != order.draft.cell(name) for name in ("customer", "phone", "email")):
                self._people.tie(change, self._shelf.number(order.thread_id))
            then(change, after)
            self.kitchen.follow(change, order, after)
        return after


def leaves(order: Order) -> tuple[date, time, int]:
    """When an order is handed over, to sort by; one without a day comes last."""
    due = order.draft.due.value
    return (due.last if due else date.max), (due.time if due and due.time else time.max), order.id
