"""Whose conversation is whose: the book's customers, each the conversations of one person.

A customer is known by its first conversation: `threads.customer` is its number, null for the first itself.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from intake.book import ties
from intake.book.journal import Change
from intake.book.store import Book
from intake.book.ties import EMAIL, FIRM, PHONE, Key

_WHOSE = "ifnull(t.customer, t.id)"
_LAST = "FROM messages WHERE thread = t.id AND NOT mine ORDER BY moment DESC, id DESC LIMIT 1"
_TALKS = (
    f"SELECT t.id AS thread, {_WHOSE} AS customer, t.channel, (SELECT moment {_LAST}) AS moment,"
    f" (SELECT sender {_LAST}) AS sender,"
    " (SELECT count(*) FROM orders WHERE thread = t.id AND state != 'dropped') AS orders,"
    " (SELECT json_extract(draft, '$.customer.value') FROM orders WHERE thread = t.id AND json_valid(draft)"
    " ORDER BY place DESC LIMIT 1) AS named"
    " FROM threads t"
)


@dataclass(frozen=True, slots=True)
class Talk:
    """One conversation of a customer. `moment` is of the customer's last message, in seconds; `orders` are counted
    without those dropped."""

    thread: int
    customer: int
    channel: str
    moment: int
    name: str
    orders: int


class People:
    """The customers of one book."""

    def __init__(self, book: Book) -> None:
        self._book = book

    def _rows(self, sql: str, *values: Any) -> list[dict[str, Any]]:
        return self._book.rows(sql, values)

    def talks(self, customer: int | None = None) -> list[Talk]:
        """The conversations of one customer, or of all."""
        where = "" if customer is None else " WHERE t.id = ? OR t.customer = ?"
        values = () if customer is None else (customer, customer)
        return [
            Talk(
                row["thread"],
                row["customer"],
                row["channel"],
                row["moment"] or 0,
                str(row["named"] or row["sender"] or ""),
                row["orders"],
            )
            for row in self._rows(f"{_TALKS}{where} ORDER BY customer, thread", *values)
        ]

    def whose(self, thread: int) -> int | None:
        """The customer of a conversation; None where the book has no such conversation."""
        found = self._rows(f"SELECT {_WHOSE} AS customer FROM threads t WHERE id = ?", thread)
        return int(found[0]["customer"]) if found else None

    def threads(self, customer: int) -> list[int]:
        found = self._rows("SELECT id FROM threads WHERE id = ? OR customer = ? ORDER BY id", customer, customer)
        return [row["id"] for row in found]

    # Ties

    def tie(self, change: Change, thread: int) -> None:
        """Notes what ties a conversation to a person, and makes it the same customer's as others with the same number
        or address, but for those that the baker keeps apart."""
        held = {(r["kind"], r["key"]) for r in self._rows("SELECT kind, key FROM ties WHERE thread = ?", thread)}
        new = sorted(ties.keys_of(self._book.db, thread) - held)
        change.add("ties", [{"thread": thread, "kind": kind, "key": key} for kind, key in new])
        firm = json.dumps([f"{kind} {key}" for kind, key in new if kind in FIRM])
        if firm == "[]":
            return
        own = self.whose(thread)
        assert own is not None
        same = self._rows(
            f"SELECT DISTINCT {_WHOSE} AS customer FROM json_each(?) j"
            " JOIN ties s ON s.kind = substr(j.value, 1, 5) AND s.key = substr(j.value, 7)"
            f" JOIN threads t ON t.id = s.thread WHERE {_WHOSE} != ? ORDER BY 1",
            firm,
            own,
        )
        for row in same:
            if not self.kept_apart(own, row["customer"]):
                own = self.put_together(change, own, row["customer"])

    def tie_kept(self, change: Change, kept: Mapping[int, Iterable[Key]]) -> None:
        """As `tie`, all at once, for new conversations that are kept unread: by their numbers and addresses alone."""
        if not kept:
            return
        change.add("ties", [{"thread": t, "kind": kind, "key": key} for t, keys in kept.items() for kind, key in keys])
        shared = self._rows(
            f"SELECT json_group_array(DISTINCT {_WHOSE}) AS customers FROM ties n"
            " JOIN ties s ON s.kind = n.kind AND s.key = n.key JOIN threads t ON t.id = s.thread"
            f" WHERE n.made_by = ? AND n.kind IN (?, ?) GROUP BY n.kind, n.key HAVING count(DISTINCT {_WHOSE}) > 1",
            change.id,
            *FIRM,
        )
        now: dict[int, int] = {}
        for row in shared:
            customers = sorted({_root(now, customer) for customer in json.loads(row["customers"])})
            for other in customers[1:]:
                own, other = _root(now, customers[0]), _root(now, other)
                if own != other and not self.kept_apart(own, other):
                    now[max(own, other)] = self.put_together(change, own, other)

    def firm(self, threads: Sequence[int]) -> dict[int, set[str]]:
        """The numbers and addresses of each conversation."""
        found = self._rows(
            "SELECT thread, kind, key FROM ties WHERE kind IN (?, ?) AND thread IN (SELECT value FROM json_each(?))",
            PHONE,
            EMAIL,
            json.dumps(list(threads)),
        )
        held: dict[int, set[str]] = {thread: set() for thread in threads}
        for row in found:
            held[row["thread"]].add(f"{row['kind']} {row['key']}")
        return held

    def blocks(self, customer: int | None = None) -> dict[str, set[tuple[int, str]]]:
        """(Customer, folded name) by the keys that like names share: of all, or only by those of one customer."""
        values = () if customer is None else (customer, customer)
        only = "" if customer is None else (
            " AND l.key IN (SELECT key FROM ties WHERE kind = 'like' AND thread IN"
            " (SELECT id FROM threads WHERE id = ? OR customer = ?))"
        )
        found = self._rows(
            f"SELECT {_WHOSE} AS customer, n.key AS name, l.key AS block FROM ties l"
            " JOIN ties n ON n.thread = l.thread AND n.kind = 'name' JOIN threads t ON t.id = l.thread"
            f" WHERE l.kind = 'like'{only}",
            *values,
        )
        held: dict[str, set[tuple[int, str]]] = {}
        for row in found:
            held.setdefault(row["block"], set()).add((row["customer"], row["name"]))
        return held

    # One customer or two

    def put_together(self, change: Change, one: int, other: int) -> int:
        """Two customers as one, known by the first conversation of both; gives its number."""
        first, second = sorted((one, other))
        self._give(change, self.threads(second), first)
        return first

    def take_apart(self, change: Change, groups: Iterable[Sequence[int]]) -> None:
        """Each group of one customer's conversations as a customer of its own, kept apart from the others."""
        firsts = []
        for group in groups:
            firsts.append(min(group))
            self._give(change, group, min(group))
        for n, one in enumerate(firsts):
            for other in firsts[n + 1 :]:
                self.keep_apart(change, one, other)

    def _give(self, change: Change, threads: Iterable[int], customer: int) -> None:
        for thread in threads:
            change.alter("threads", thread, {"customer": None if thread == customer else customer})

    def keep_apart(self, change: Change, one: int, other: int) -> None:
        change.add("apart", [{"one": min(one, other), "other": max(one, other)}])

    def no_longer_apart(self, change: Change, one: int, other: int) -> None:
        for row in self._apart():
            if {row["one"], row["other"]} == {one, other}:
                change.alter("apart", row["id"], {"stands": 0})

    def kept_apart(self, one: int, other: int) -> bool:
        return any({row["one"], row["other"]} == {one, other} for row in self._apart())

    def all_apart(self) -> set[tuple[int, int]]:
        """The pairs of customers that the baker keeps apart, the lower number first."""
        return {(min(row["one"], row["other"]), max(row["one"], row["other"])) for row in self._apart()}

    def _apart(self) -> list[dict[str, Any]]:
        # By conversation, since that is what stays when customers are joined.
        return self._rows(
            "SELECT a.id, ifnull(x.customer, x.id) AS one, ifnull(y.customer, y.id) AS other FROM apart a"
            " JOIN threads x ON x.id = a.one JOIN threads y ON y.id = a.other WHERE a.stands"
        )


def _root(now: Mapping[int, int], customer: int) -> int:
    while customer in now:
        customer = now[customer]
    return customer
