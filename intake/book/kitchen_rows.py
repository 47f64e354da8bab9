"""What the book keeps for the kitchen: steps ticked off, where work was planned, days off and hours added."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from intake.book.journal import Change
from intake.book.rows import readable
from intake.book.store import Book
from intake.model import Mark

Standing = Mapping[tuple[int, str, int], datetime]


@dataclass(frozen=True, slots=True)
class DayRule:
    """What is otherwise on one day: `kind` is "off", "extra" with its hours such as "08:00-12:00", or empty."""

    day: date
    kind: str
    hours: str = ""


class KitchenRows:
    """The kitchen's tables of one book."""

    def __init__(self, book: Book) -> None:
        self._book = book

    @readable("what is ticked off")
    def marks(self) -> dict[int, tuple[Mark, ...]]:
        """By order, what is ticked off or under way."""
        found: dict[int, tuple[Mark, ...]] = {}
        for row in self._book.rows("SELECT * FROM marks WHERE parts OR begun != '' ORDER BY id"):
            mark = Mark(row["order_id"], row["step"], row["parts"], _moment(row["at"]), _moment(row["begun"]))
            found[mark.order_id] = (*found.get(mark.order_id, ()), mark)
        return found

    def keep_mark(self, change: Change, mark: Mark) -> None:
        """Keeps a mark in place of the one there was; one without parts that has not begun takes it off."""
        values = {"parts": mark.parts, "at": _text(mark.at), "begun": _text(mark.begun)}
        key = {"order_id": mark.order_id, "step": mark.step}
        self._keep(change, "marks", key, values, empty=not mark.parts and mark.begun is None)

    @readable("the plan of the kitchen")
    def standing(self) -> dict[tuple[int, str, int], datetime]:
        """When each stretch of work was last planned to begin."""
        found = {}
        for row in self._book.rows("SELECT order_id, starts FROM plans"):
            for step, part, at in json.loads(row["starts"]):
                found[row["order_id"], step, part] = datetime.fromisoformat(at)
        return found

    def keep_standing(self, change: Change, standing: Standing) -> None:
        """Keeps the plan of each order that is named in `standing`."""
        orders: dict[int, list[list[Any]]] = {}
        for (order, step, part), at in sorted(standing.items()):
            orders.setdefault(order, []).append([step, part, at.isoformat()])
        for order, starts in orders.items():
            self._keep(change, "plans", {"order_id": order}, {"starts": json.dumps(starts)}, empty=False)

    def forget_plans(self, change: Change, *, but: Set[int]) -> None:
        """Keeps the plans of no other orders: one that is booked again later is planned from then on."""
        for row in self._book.rows("SELECT order_id FROM plans WHERE starts != '[]'"):
            if row["order_id"] not in but:
                self._keep(change, "plans", {"order_id": row["order_id"]}, {"starts": "[]"}, empty=True)

    @readable("a day off")
    def days(self, since: date) -> tuple[DayRule, ...]:
        """The days from `since` on that are otherwise than their week."""
        found = self._book.rows("SELECT * FROM days WHERE kind != '' AND day >= ? ORDER BY day", [since.isoformat()])
        return tuple(DayRule(date.fromisoformat(row["day"]), row["kind"], row["hours"]) for row in found)

    def keep_days(self, change: Change, rules: Sequence[DayRule]) -> None:
        for rule in rules:
            values = {"kind": rule.kind, "hours": rule.hours}
            self._keep(change, "days", {"day": rule.day.isoformat()}, values, empty=not rule.kind)

    def _keep(
        self, change: Change, table: str, key: Mapping[str, Any], values: Mapping[str, Any], *, empty: bool
    ) -> None:
        where = " AND ".join(f"{name} = ?" for name in key)
        held = self._book.rows(f"SELECT id FROM {table} WHERE {where}", list(key.values()))
        if held:
            change.alter(table, held[0]["id"], values)
        elif not empty:
            change.add(table, [{**key, **values}])


def _text(moment: datetime | None) -> str:
    return moment.isoformat() if moment else ""


def _moment(text: str) -> datetime | None:
    return datetime.fromisoformat(text) if text else None
