"""What a customer's orders tell of her: what she likes, what she must not eat, whose birthdays come next; and an order
made the same as a past one.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from intake.model import Cell, Draft, Order, State

#: What "the same as last time" takes from a past order. Its day, its party and its budget are another time's.
SAME: tuple[str, ...] = (
    "customer", "handover", "address", "count", "theme", "designs", "colors", "flavors", "dietary", "packaging",
    "phone", "email",
)  # fmt: skip
_LIKED = ("theme", "colors", "flavors")
_MOST = 5


@dataclass(frozen=True, slots=True)
class Birthday:
    """A day that comes round: whose, how old they turn where that is known, and about when. The day is that of the
    order of last time, which may be the party's or a day before it."""

    who: str
    turns: int | None
    about: date


@dataclass(frozen=True, slots=True)
class Diet:
    """What an order said of what may not be in it: `what`, or where that was never settled the doubt, and the order."""

    what: str
    order: Order
    settled: bool


def likes(history: Sequence[Order]) -> dict[str, tuple[tuple[str, int], ...]]:
    """What her orders name most often, by field (theme, colors, flavors), each with how many orders name it."""
    found: dict[str, tuple[tuple[str, int], ...]] = {}
    for field in _LIKED:
        named: Counter[str] = Counter()
        for order in history:
            value = order.draft.cell(field).value
            named.update(dict.fromkeys(value if isinstance(value, tuple) else (value,) if value else (), 1))
        if named:
            found[field] = tuple(named.most_common(_MOST))
    return found


def diets(history: Sequence[Order]) -> tuple[Diet, ...]:
    """Every diet or allergy that any of her orders speaks of, also of one that was dropped; the newest first, each
    once. A doubt is told as one."""
    found: dict[tuple[str, bool], Diet] = {}
    for order in history:
        cell = order.draft.dietary
        for what in cell.value or ():
            found.setdefault((what, cell.sure), Diet(what, order, cell.sure))
        if cell.missing and cell.why:
            found.setdefault((cell.why, False), Diet(cell.why, order, False))
    settled = {diet.what for diet in found.values() if diet.settled}
    return tuple(diet for diet in found.values() if diet.settled or diet.what not in settled)


def birthdays(history: Sequence[Order], today: date) -> tuple[Birthday, ...]:
    """The birthdays that her orders were for, as they come round next, the nearest first."""
    last: dict[str, Order] = {}
    for order in history:
        draft = order.draft
        wanted = draft.occasion.value == "birthday" or draft.age.value is not None
        if wanted and draft.due.value and draft.honoree.value and order.state is not State.DROPPED:
            who = " ".join(draft.honoree.value.split()).casefold()
            if who not in last or draft.due.value.last > last[who].draft.due.value.last:  # type: ignore[union-attr]
                last[who] = order
    found = []
    for order in last.values():
        due = order.draft.due.value
        assert due is not None
        assert order.draft.honoree.value is not None
        years = max(0, today.year - due.last.year)
        years += _in_year(due.last, due.last.year + years) < today
        age = order.draft.age.value
        about = _in_year(due.last, due.last.year + years)
        found.append(Birthday(order.draft.honoree.value, None if age is None else age + years, about))
    return tuple(sorted(found, key=lambda each: (each.about, each.who)))


def _in_year(day: date, year: int) -> date:
    """The same day of another year; the 29th of February is the 28th where there is none."""
    try:
        return day.replace(year=year)
    except ValueError:
        return day.replace(year=year, day=28)


def as_last_time(past: Order, draft: Draft, said: str) -> Draft:
    """`draft` with what it lacks taken from a past order, each value to be checked; `said` names that order."""
    cells = {}
    for name in SAME:
        held, was = draft.cell(name), past.draft.cell(name)
        if held.missing and not was.missing:
            cells[name] = Cell(was.value, False, why=f"as in {said}", rule="baker")
        elif name == "dietary" and held.missing and was.why and not held.why:
            cells[name] = Cell(None, False, why=f"{was.why} ({said})")
    return replace(draft, **cells)
