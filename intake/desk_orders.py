"""An order's life on the desk: priced, asked for room, booked, changed, made, handed over or dropped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from intake.book.journal import Change
from intake.desk_change import as_asked, called_off
from intake.desk_checks import check_asked, check_bookable, confirmed, refused
from intake.desk_core import CLOSED, Core, leaves
from intake.desk_quote import not_taken, order_price, taken
from intake.desk_reread import OPEN
from intake.model import STEPS, Clash, Order, OrdertinError, Problem, Quote, Shift, State, Verdict, Way


class OrdersDesk(Core):
    """What becomes of orders once they are drafted."""

    def rack(self) -> tuple[Order, ...]:
        """The booked orders, by hand-over day and time."""
        return tuple(sorted(self._shelf.in_state(State.BOOKED), key=leaves))

    def quote(self, order_id: int) -> Order:
        """Prices an order. A booked one stays booked."""

        def quoted(order: Order) -> Order:
            quote = order_price(order, self.house, self.now().date())
            if isinstance(quote, Problem):
                raise refused(order, quote.what, quote.todo)
            return replace(order, quote=quote, state=order.state if order.state is State.BOOKED else State.QUOTED)

        return self._edit(order_id, "price", quoted, but=CLOSED)

    def room(self, order_id: int) -> Verdict:
        """Whether the booked orders still ahead and this one, as the newest, can all be made. A change that is asked
        for is reckoned with."""
        return self.kitchen.room(self._as_asked(order_id), self.rack())

    def ways(self, order_id: int, clash: Clash) -> tuple[Way, ...]:
        """Ways out of a clash that `room` has found: another day, fewer or plainer cookies, longer hours."""
        return self.kitchen.ways(self._as_asked(order_id), self.rack(), clash)

    def _as_asked(self, order_id: int) -> Order:
        order = self._shelf.order(order_id)
        return replace(order, draft=as_asked(order))

    def book(self, order_id: int) -> Order:
        """Books a confirmed and quoted order. Raises OrdertinError that says what is still open."""

        def booked(order: Order) -> Order:
            now = self.now()
            check_bookable(order, now.date())
            return replace(order, state=State.BOOKED, booked_at=now)

        return self._edit(order_id, "booking", booked, but=(State.BOOKED, *CLOSED))

    def accept(self, order_id: int, *, seen: Sequence[Shift] | None = None) -> Order:
        """Takes the change asked of a booked order: its values, and its price made anew where they touch it. One that
        is called off is dropped.

        `seen` is the change as the baker saw it. Raises OrdertinError where that is no longer what is asked, and where
        the order would lack something.
        """

        def accepted(order: Order) -> Order:
            check_asked(order, seen)
            if not called_off(order):
                confirmed(replace(order, draft=as_asked(order)))
            after = taken(order, self.house, self.now())
            if isinstance(after, Problem):
                raise refused(order, after.what, after.todo)
            return after

        return self._edit(order_id, "taking the change", accepted, but=_but(State.BOOKED), then=self._if_over)

    def price_asked(self, order_id: int) -> Quote | None:
        """What a booked order would cost with the change asked of it; None where it would have no price."""
        after = taken(self._shelf.order(order_id), self.house, self.now())
        return after.quote if isinstance(after, Order) and after.state is State.BOOKED else None

    def refuse(self, order_id: int, *, seen: Sequence[Shift] | None = None) -> Order:
        """Leaves a booked order as it is. What was asked comes back only when the messages say something new.

        `seen` is as for `accept`.
        """

        def kept(order: Order) -> Order:
            check_asked(order, seen)
            return not_taken(order, self.now())

        return self._edit(order_id, "refusing the change", kept, but=_but(State.BOOKED))

    def drop(self, order_id: int) -> Order:
        """Sets an order aside for good. It stays in the book; `reopen` brings it back."""

        def dropped(order: Order) -> Order:
            return replace(not_taken(order, self.now()), state=State.DROPPED)

        return self._edit(order_id, "dropping", dropped, but=CLOSED, then=self._if_over)

    def _if_over(self, change: Change, order: Order) -> None:
        """Sets a conversation aside once none of its orders is left to make."""
        number = self._shelf.number(order.thread_id)
        if all(o.state in CLOSED for o in self._shelf.orders(number)):
            self._shelf.set_aside(change, number)

    def reopen(self, order_id: int) -> Order:
        """A dropped order as a draft again."""

        def reopened(order: Order) -> Order:
            return replace(order, state=State.DRAFT, step="", quote=None, booked_at=None)

        return self._edit(order_id, "bringing back", reopened, but=_but(State.DROPPED))

    def advance(self, order_id: int, step: str) -> Order:
        """Puts a booked order at one of its steps, or hands it over. Once a conversation has nothing left to make,
        what its customer writes next is read on its own."""
        handed = step == State.HANDED_OVER
        if not handed and step not in STEPS:
            raise OrdertinError(f'there is no step "{step:.40}"', todo=f"The steps are {', '.join(STEPS)}, handed over")

        before = self._shelf.order(order_id)

        def advanced(order: Order) -> Order:
            if handed:
                return replace(not_taken(order, self.now()), state=State.HANDED_OVER, step="")
            return replace(order, step=step)

        def then(change: Change, order: Order) -> None:
            self.kitchen.moved_back(change, before, step)
            number = self._shelf.number(order.thread_id)
            if handed and all(o.state in CLOSED for o in self._shelf.current(number)):
                self._shelf.close(change, number)
                self._shelf.set_aside(change, number)

        what = "handing over" if handed else f"step {step}"
        return self._edit(order_id, what, advanced, but=_but(State.BOOKED), then=then)

    def set_aside(self, thread_id: str) -> None:
        """Takes a conversation without an open order off the waiting list until its customer writes again."""
        number = self._shelf.number(thread_id)
        who = self._shelf.thread(number).customer or "a conversation"
        with self._book.change(f"setting aside of {who}", self.now()) as change:
            standing = next((o for o in self._shelf.orders(number) if o.state in OPEN), None)
            if standing:
                raise refused(standing, "it is still open", "Answer it, or drop it")
            self._shelf.set_aside(change, number)


def _but(wanted: State) -> list[State]:
    return [state for state in State if state is not wanted]
