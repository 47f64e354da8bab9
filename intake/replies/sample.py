"""Two invented orders to try a template on: one with every field filled, one with none."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time
from decimal import Decimal
from typing import Any

from intake.model import Cell, Clash, Design, Draft, Due, Order, Quote, QuoteLine, State, Verdict


def samples() -> Iterator[tuple[Order, Verdict | None]]:
    yield full()
    yield Order(2, "bare", 0, State.DRAFT, Draft()), None


def full(kind: str = "") -> tuple[Order, Verdict | None]:
    """The order with every field filled, as far along as an answer of `kind` would find it."""
    day, first = date(2026, 6, 19), date(2026, 6, 20)
    said: dict[str, Any] = {
        "customer": "Bea Ortiz",
        "count": 24,
        "designs": (Design("unicorns", 12), Design("stars")),
        "theme": "unicorns",
        "occasion": "birthday",
        "honoree": "Lena",
        "age": 5,
        "lettering": ("Lena",),
        "colors": ("pink", "gold"),
        "flavors": ("vanilla",),
        "dietary": ("nut-free",),
        "due": Due.on(day, time(14)),
        "due_is": "handover",
        "address": "12 Alder Ct",
        "packaging": ("ribbon",),
    }
    # The hand-over is left unsure where something is asked, so that there is a question too.
    sent = Cell("ship", sure=kind not in ("", "ask"))
    draft = Draft(**{name: Cell(value, sure=True) for name, value in said.items()}, handover=sent)
    lines = (
        QuoteLine("24 cookies, detailed", Decimal(96), ""),
        QuoteLine("Lettering on 1 cookie", Decimal(2), ""),
    )
    half, made, until, by = Decimal(49), date(2026, 6, 1), date(2026, 6, 8), date(2026, 6, 16)
    price = Quote(lines, half * 2, half, half, "USD", "detailed", made, until, until, by)
    paid = half if kind in ("deposit", "ready", "sent", "thanks") else Decimal(0)
    state = {
        "confirm": State.BOOKED, "change": State.BOOKED, "deposit": State.BOOKED, "ready": State.BOOKED,
        "sent": State.BOOKED, "thanks": State.HANDED_OVER, "cancelled": State.DROPPED,
    }.get(kind, State.QUOTED)  # fmt: skip
    parcel = "0000 1111 2222"
    return Order(1, "full", 0, state, draft, quote=price, paid=paid, tracking=parcel), Clash((1,), 1, "", first)
