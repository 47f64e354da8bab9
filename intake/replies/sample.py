"""Two invented orders to try a template on: one with every field filled, one with none."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time
from decimal import Decimal
from typing import Any

from intake.model import Cell, Clash, Design, Draft, Due, Order, Quote, QuoteLine, State, Verdict


def samples() -> Iterator[tuple[Order, Verdict | None]]:
    day, money = date(2026, 6, 19), Decimal(12)
    full: dict[str, Any] = {
        "customer": "Sample Customer",
        "count": 24,
        "designs": (Design("shape", 12), Design("other shape")),
        "theme": "sample theme",
        "occasion": "birthday",
        "honoree": "Sample Name",
        "age": 4,
        "lettering": ("Sample",),
        "colors": ("one color",),
        "flavors": ("one flavor",),
        "dietary": ("nut-free",),
        "due": Due.on(day, time(14)),
        "due_is": "handover",
        "address": "1 Sample Street",
        "packaging": ("ribbon",),
    }
    # The hand-over is left unsure, so that there is a question too.
    draft = Draft(**{name: Cell(value, sure=True) for name, value in full.items()}, handover=Cell("ship"))
    price = Quote((QuoteLine("Sample", money * 2, ""),), money * 2, money, money, "USD", "plain", day, day, day, day)
    yield Order(1, "full", 0, State.QUOTED, draft, quote=price), Clash((1,), 1, "", day)
    yield Order(2, "bare", 0, State.DRAFT, Draft()), None
