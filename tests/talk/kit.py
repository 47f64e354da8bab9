"""What is in hand while the cases are typed, and a meaning in one line.

It is Wednesday, November 25, 2026. `draft` is an open order whose every value is sure, `booked` one that is priced and
booked, `bare` one of which only the customer is known; with `none` nothing is open.
"""

from __future__ import annotations

import json
from dataclasses import fields
from datetime import date, datetime, time
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from intake.house import default_house
from intake.model import Cell, Draft, Due, Message, Order, Quote, State, Thread
from intake.record import in_words
from intake.talk import Correction
from intake.talk_shapes import Act, Ask, Hand, Meant, NotUnderstood, Unclear

ZONE = ZoneInfo("America/Chicago")
NOW = datetime(2026, 11, 25, 10, 0, tzinfo=ZONE)
RULES = default_house().reading
PEOPLE = ("Dana Reyes", "Bea Ortiz", "Ines Vail", "Nell Hart", "Nell Marsh")
_CASES = Path(__file__).with_name("cases.jsonl")


def cases(file: Path = _CASES) -> list[dict[str, str]]:
    return [json.loads(line) for line in file.read_text(encoding="utf-8").splitlines()]


def _order(number: int, who: str, state: State, quote: Quote | None = None, **values: Any) -> Order:
    cells = {name: Cell(value, True) for name, value in values.items()}
    return Order(number, f"t{number}", 0, state, Draft(customer=Cell(who, True), **cells), quote=quote)


_QUOTE = Quote((), Decimal(108), Decimal(54), Decimal(54), "USD", "plain", date(2026, 11, 20), date(2026, 12, 4))
ORDERS = {
    "draft": _order(
        3, "Dana Reyes", State.DRAFT, count=24, theme="unicorns", handover="pickup", due_is="handover",
        due=Due.on(date(2026, 12, 12), time(14)), lettering=("Mia",), colors=("pink", "white"),
    ),
    "booked": _order(
        5, "Bea Ortiz", State.BOOKED, _QUOTE, count=36, theme="gnomes", handover="ship", due_is="arrival",
        due=Due.on(date(2026, 12, 18)), address="9 Fern Road, Elgin IL 60120",
    ),
    "bare": _order(7, "Ines Vail", State.DRAFT),
}  # fmt: skip


@cache
def hand(name: str) -> Hand:
    order = ORDERS.get(name)
    if order is None:
        return Hand(NOW, RULES, people=PEOPLE)
    said = (Message("m1", order.who, False, NOW, "Hi, could you make me some cookies?"),)
    return Hand(NOW, RULES, order, Thread(order.thread_id, "chat", said), PEOPLE)


def short(meant: Meant) -> str:
    """A meaning in one line, as the cases write it."""
    match meant:
        case NotUnderstood():
            return "none"
        case Unclear():
            return "unclear"
        case Correction():
            return " ".join(("fix", *(f"{n}={in_words(c.value)}" for n, c in meant.changes.items() if n != "due_is")))
        case Ask() | Act():
            kind = "ask" if isinstance(meant, Ask) else "act"
            named = [f.name for f in fields(meant) if f.name not in ("what", "says", "guessed")]
            told = ((name, getattr(meant, name)) for name in named)
            return " ".join((f"{kind} {meant.what}", *(f"{n}={_plain(v)}" for n, v in told if v not in (None, "", ()))))


def _plain(value: Any) -> str:
    if isinstance(value, tuple) and value and isinstance(value[0], date):
        first, last = value
        return f"{first}" if first == last else f"{first}..{last}"
    return ",".join(value) if isinstance(value, tuple) else str(value)


def score(lines: list[dict[str, str]]) -> list[tuple[dict[str, str], str]]:
    """The lines that mean something else than they should, each with what they mean."""
    from intake.talk_meant import meant

    found = [(line, short(meant(line["words"], hand(line["hand"])))) for line in lines]
    return [(line, said) for line, said in found if said != line["meant"]]
