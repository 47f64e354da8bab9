"""The customers of the book, and who may be one and the same.

The same telephone number or e-mail address is the same person, in whichever channel. A like name is only proposed:
the baker joins the two or keeps them apart, and what she has said is not asked again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from zoneinfo import ZoneInfo

from intake.book.people import People, Talk
from intake.model import Order, OrdertinError

# Of a name that very many bear, each is compared with so many others.
_NEAREST = 60
MOST_ALIKE = 100
_LIST = "To list them: ordertin customers"


@dataclass(frozen=True, slots=True)
class Customer:
    """A person and her conversations, the oldest first, each with its channel. `orders` counts hers without those
    dropped; `history` holds them where one customer is asked for, the newest first."""

    id: str
    name: str
    threads: tuple[str, ...]
    channels: tuple[str, ...]
    orders: int
    last: datetime | None
    history: tuple[Order, ...] = ()


@dataclass(frozen=True, slots=True)
class Alike:
    """Two customers who may be one person, and why."""

    one: Customer
    other: Customer
    why: str


def number_of(name: str, people: People) -> int:
    """The customer called `c3`, or whose conversation `t12` is. Raises OrdertinError where there is none."""
    digits = name.strip().lower().removeprefix("c").removeprefix("t")
    if not (digits.isascii() and digits.isdigit() and len(digits) < 16):
        raise OrdertinError(f"“{name:.40}” is no customer", todo=f"They are called c1, c2, ... {_LIST}")
    found = people.whose(int(digits))
    if found is None:
        raise OrdertinError(f"there is no customer {name.strip():.40} in the book", todo=_LIST)
    return found


def customers(talks: Sequence[Talk], zone: ZoneInfo) -> tuple[Customer, ...]:
    """The customers of `talks`, which are by customer; who wrote last comes first."""
    found = [_customer(number, list(theirs), zone) for number, theirs in groupby(talks, key=lambda talk: talk.customer)]
    return tuple(sorted(found, key=lambda customer: customer.last.timestamp() if customer.last else 0, reverse=True))


def _customer(number: int, talks: Sequence[Talk], zone: ZoneInfo) -> Customer:
    newest = max(talks, key=lambda talk: talk.moment)
    return Customer(
        f"c{number}",
        newest.name or next((talk.name for talk in talks if talk.name), "a customer"),
        tuple(f"t{talk.thread}" for talk in talks),
        tuple(talk.channel for talk in talks),
        sum(talk.orders for talk in talks),
        datetime.fromtimestamp(newest.moment, zone) if newest.moment else None,
    )


def alike(people: People, zone: ZoneInfo, of: int | None = None, most: int = MOST_ALIKE) -> tuple[Alike, ...]:
    """Who may be one person with another, by like names, the likest first: of all, or with one customer."""
    from intake.reading.fuzzy import like_names

    best: dict[tuple[int, int], tuple[float, str, str]] = {}
    for block in people.blocks(of).values():
        members = sorted(block, key=lambda member: (member[1], member[0]))
        for n, (customer, name) in enumerate(members):
            # By name, so that the nearest come first; one customer's own are compared with all.
            others = members if customer == of else members[n + 1 : n + 1 + _NEAREST] if of is None else []
            for other, its in others:
                if other == customer:
                    continue
                if score := like_names(name, its):
                    pair = (customer, other) if customer < other else (other, customer)
                    names = (name, its) if customer < other else (its, name)
                    best[pair] = max(best.get(pair, (0.0, "", "")), (score, *names))
    apart = people.all_apart()
    ranked = sorted((-found[0], pair, found) for pair, found in best.items() if pair not in apart)
    return tuple(_alike(people, zone, pair, found) for _, pair, found in ranked[:most])


def _alike(people: People, zone: ZoneInfo, pair: tuple[int, int], found: tuple[float, str, str]) -> Alike:
    one, other = (customers(people.talks(number), zone)[0] for number in pair)
    _, name, its = found
    why = "the same name" if name == its else "nearly the same name"
    known = [any(people.firm([int(thread[1:]) for thread in who.threads]).values()) for who in (one, other)]
    return Alike(one, other, f"{why}, other addresses" if all(known) else why)


def groups_of(people: People, customer: int) -> list[list[int]]:
    """A customer's conversations, together where they share a number or an address."""
    groups: list[tuple[list[int], set[str]]] = []
    for thread, held in people.firm(people.threads(customer)).items():
        shares = [group for group in groups if group[1] & held]
        groups = [group for group in groups if group not in shares]
        threads = sorted([thread, *(each for group in shares for each in group[0])])
        groups.append((threads, held.union(*(group[1] for group in shares))))
    return [threads for threads, _ in groups]
