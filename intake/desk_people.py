"""Customers on the desk: who they are, which of them are one person, which are two."""

from __future__ import annotations

from dataclasses import replace

from intake.desk_checks import named, refused
from intake.desk_core import Core, leaves
from intake.desk_customers import Alike, Customer, alike, customers, groups_of, number_of
from intake.desk_likes import as_last_time
from intake.desk_quote import altered
from intake.desk_reread import OPEN
from intake.model import Draft, Order, OrdertinError, State


class PeopleDesk(Core):
    """Customers, put together and taken apart."""

    def customers(self) -> tuple[Customer, ...]:
        """All customers, who wrote last first. One with the same number or address in several conversations is one."""
        return customers(self._people.talks(), self.house.zone)

    def customer(self, thread_id: str) -> Customer:
        """The customer of a conversation, or by its own name (`c3`), with all her orders."""
        (found,) = customers(self._people.talks(number_of(thread_id, self._people)), self.house.zone)
        orders = [order for thread in found.threads for order in self._shelf.orders(self._shelf.number(thread))]
        return replace(found, history=tuple(sorted(orders, key=leaves, reverse=True)))

    def alike(self, thread_id: str = "") -> tuple[Alike, ...]:
        """Customers who may be one person by their names, the likest first; only with that of `thread_id` where it is
        given. Those that the baker keeps apart are left out."""
        return alike(self._people, self.house.zone, number_of(thread_id, self._people) if thread_id else None)

    def join(self, one: str, other: str) -> Customer:
        """Makes two customers one, by the names of customers (`c3`) or conversations (`t12`)."""
        first, second, who = self._both(one, other)
        with self._book.change(f"joining of {who}", self.now()) as change:
            self._people.no_longer_apart(change, first, second)
            self._people.put_together(change, first, second)
        return self.customer(one)

    def keep_apart(self, one: str, other: str) -> None:
        """Notes that two customers are two: they are proposed no more, and nothing but `join` makes them one."""
        first, second, who = self._both(one, other)
        with self._book.change(f"keeping apart of {who}", self.now()) as change:
            if not self._people.kept_apart(first, second):
                self._people.keep_apart(change, first, second)

    def part(self, name: str) -> tuple[Customer, ...]:
        """Takes one conversation (`t12`) away from its customer; or a customer (`c3`) apart into conversations that
        share no number and no address. They are kept apart from then on. Gives the customers that there are now."""
        number = number_of(name, self._people)
        who = customers(self._people.talks(number), self.house.zone)[0]
        threads = [self._shelf.number(thread) for thread in who.threads]
        if name.strip().lower().startswith("t"):
            thread = self._shelf.number(name)
            groups = [[thread], [each for each in threads if each != thread]]
        else:
            groups = groups_of(self._people, number)
        where = f"{who.name} ({who.id})"
        if len(threads) == 1:
            raise OrdertinError("there is only one conversation", where=where, todo="Nothing was changed")
        if len(groups) == 1:
            todo = f"Name the one that is another's, of {', '.join(who.threads)}"
            raise OrdertinError("its conversations share a number or an address", where=where, todo=todo)
        with self._book.change(f"parting of {where}", self.now()) as change:
            self._people.take_apart(change, groups)
        return tuple(self.customer(f"c{min(group)}") for group in groups)

    def same_again(self, past_id: int, thread_id: str, into: int | None = None) -> Order:
        """A draft with what a past order was, to be checked: what the open order `into` lacks is filled in, else it is
        an order of its own in the conversation. Raises OrdertinError where `into` is no longer open."""
        past = self._shelf.order(past_id)
        due = past.draft.due.value
        said = f"order {past.id} of {due.last:%a} {due.last.day} {due.last:%b %Y}" if due else f"order {past.id}"
        with self._book.change(f"same again as {named(past)}", self.now()) as change:
            if into is None:
                empty = Order(0, "", 0, State.DRAFT, Draft())
                into = self._shelf.add_order(change, self._shelf.number(thread_id), empty)
            order = self._shelf.order(into)
            if order.state not in OPEN:
                raise refused(order, "it is no draft any more", "Nothing was changed")
            after = altered(order, as_last_time(past, order.draft, said), self.house)
            self._shelf.keep_order(change, replace(after, moved=()))
        return self._shelf.order(into)

    def _both(self, one: str, other: str) -> tuple[int, int, str]:
        first, second = number_of(one, self._people), number_of(other, self._people)
        names = [customers(self._people.talks(number), self.house.zone)[0] for number in (first, second)]
        if first == second:
            todo = f"To take one away: ordertin customers --part {names[0].threads[-1]}"
            raise OrdertinError("they are one customer already", where=f"{names[0].name} ({names[0].id})", todo=todo)
        return first, second, " and ".join(f"{who.name} ({who.id})" for who in names)
