"""What leaves the desk on paper or as a file: sessions, shopping, day sheets, labels, calendar; and the pantry."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from intake.book.pantry import Given, Pantry, Stock
from intake.book.store import Book
from intake.desk_checks import refused
from intake.house import House
from intake.measures import same
from intake.model import Order, OrdertinError, Problem, State, Work

if TYPE_CHECKING:
    from intake.kitchen.bench import Sheet
    from intake.kitchen.pooling import Left, Session
    from intake.kitchen.shopping import Shopping
    from intake.papers.label import Labels

WEEK = timedelta(days=6)


@dataclass(frozen=True, slots=True)
class Heap:
    """The sessions of some days, the work planned for all days, and a word on what the plan can't keep."""

    sessions: tuple[Session, ...]
    works: tuple[Work, ...] = ()
    note: str = ""


class Papers:
    """The papers of one book. `orders` gives the booked orders, `bench` their standing plan: that of the Bench."""

    def __init__(
        self,
        book: Book,
        house: House,
        now: Callable[[], datetime],
        orders: Callable[[], tuple[Order, ...]],
        bench: Callable[[], Sheet],
    ) -> None:
        self._book, self.house, self._now, self._orders, self._bench = book, house, now, orders, bench
        self._pantry = Pantry(book)

    # The pantry

    def pantry(self) -> tuple[Stock, ...]:
        """What is on the shelf, by name."""
        return self._pantry.stock()

    def stock(self, text: str) -> Stock:
        """Puts down what there is of something, "5 lb flour", in place of what there was.

        Raises OrdertinError where it isn't known how much that weighs.
        """
        from intake.kitchen.recipes import weighed

        try:
            what, grams = weighed(self.house, text)
        except ValueError as error:
            raise OrdertinError(f"expected {error}", where="pantry", todo="Write it like 5 lb flour") from None
        now = self._now()
        stock = Stock(what, " ".join(text.split()), grams, now.date())
        with self._book.change(f"pantry, {what}", now) as change:
            self._pantry.put(change, stock)
        return stock

    def used_up(self, what: str) -> Stock:
        """Notes that something has run out; gives what there was. Raises OrdertinError where there was none."""
        name = same(what)
        held = next((stock for stock in self._pantry.stock() if stock.what == name), None)
        if held is None:
            raise OrdertinError(f"there is no “{what:.40}” in the pantry", todo="ordertin pantry lists it")
        now = self._now()
        with self._book.change(f"pantry, {name} used up", now) as change:
            self._pantry.put(change, Stock(name, "", 0.0, now.date()))
        return held

    # At the bench

    def sessions(self, first: date, last: date) -> Heap:
        """What is mixed, cut, baked and packed from `first` to `last`, both included, as the Bench has it.

        Orders for which no plan was found are done on `first` where they leave within these days.
        """
        from intake.kitchen.agenda import missing
        from intake.kitchen.pooling import at_once, sessions, when

        orders, bench = self._orders(), self._bench()
        heap = [
            o for o in orders
            if o.id in bench.unplanned and o.draft.due.value and first <= o.draft.due.value.last <= last
        ]  # fmt: skip
        made = sessions(orders, when(bench.works).beside(at_once(heap, first)), self.house, self._left())
        note = " ".join(f"{said}." for said in missing(bench, {order.id: order.who for order in orders}))
        return Heap(tuple(session for session in made if first <= session.day <= last), bench.works, note)

    def _left(self) -> tuple[Left, ...]:
        from intake.kitchen.pooling import Left

        names = {f"{name.replace('_', ' ')} dough": name for name in self.house.recipes}
        return tuple(
            Left(names[stock.what], stock.grams, stock.since) for stock in self.pantry() if stock.what in names
        )

    def shopping(self, first: date, last: date) -> tuple[Shopping, str]:
        """What to buy for the sessions from `first` to `last`, and a word on what the plan can't keep."""
        from intake.kitchen.shopping import shopping

        heap = self.sessions(first, last)
        return shopping(heap.sessions, self.house, {s.what: s.grams for s in self.pantry()}), heap.note

    def day_sheet(self, day: date) -> bytes:
        """The sheet of one day as PDF."""
        from intake.papers.sheet import day_of, day_sheet

        orders, heap = self._orders(), self.sessions(day, day)
        of = day_of(day, orders, heap.works, heap.sessions, self.house, heap.note)
        return day_sheet(of, self.house, made=self._now())

    def labels(self, order: Order, *, made_on: date | None = None, net: str = "") -> tuple[bytes, Labels]:
        """A sheet of labels for one order as PDF, and what is missing on them and to be heeded.

        `net` is what a package weighs, "12 oz". Raises OrdertinError where a recipe is wrong or `net` is no weight.
        """
        from intake.kitchen.recipes import weighed
        from intake.papers.label import labels
        from intake.papers.label_sheet import label_sheet

        now, grams = self._now(), None
        if net:
            try:
                _, grams = weighed(self.house, f"{net} cookies")
            except ValueError:
                raise OrdertinError(
                    f"“{net:.40}” is not a weight", where="net weight", todo="Write it like 12 oz or 340 g"
                ) from None
        found = labels(order, self.house, made_on=made_on or now.date(), net=grams)
        if isinstance(found, Problem):
            raise refused(order, str(found), "")
        if order.state not in (State.BOOKED, State.HANDED_OVER):
            unsure = f"Order {order.id} is not booked ({order.state}): what the labels say of it may still change."
            found = replace(found, notes=(unsure, *found.notes))
        sheet = label_sheet(found, self.house, title=f"Labels of order {order.id}", made=now)
        if isinstance(sheet, Problem):
            raise refused(order, sheet.what, sheet.todo)
        return sheet, found

    # The calendar

    def calendar(self) -> bytes:
        """Hand-overs, posting days and sessions as an iCalendar file; what has changed since the last one is told by
        its sequence, what is wanted no more is called off."""
        from intake.papers.entries import Dated, Entry, dated, entries
        from intake.papers.ics import ics

        now, orders = self._now(), self._orders()
        works = self._bench().works
        with self._book.change("calendar", now) as change:
            held = [
                Dated(each.uid, Entry.of(each.entry), each.sequence, datetime.fromisoformat(each.stamp), each.gone)
                for each in self._pantry.given()
            ]
            wanted = entries(orders, works, self.house)
            found = dated(wanted, held, name=self._pantry.name(), now=now, house=self.house)
            self._pantry.give(
                change,
                (Given(d.uid, d.entry.content, d.sequence, d.stamp.isoformat(), d.gone) for d in found),
            )
        return ics(found)
