"""Orders of invented people that the tests of replies share."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal
from typing import Any

from intake.model import Cell, Design, Draft, Due, Order, Quote, QuoteLine, State

PRICE = Quote(
    lines=(
        QuoteLine("36 cookies, detailed", Decimal("144.00"), "36 at $48.00 a dozen"),
        QuoteLine("Lettering on 2 cookies", Decimal("1.00"), "one cookie for each text"),
        QuoteLine("3 gift boxes", Decimal("9.00"), "one box for each dozen begun"),
    ),
    total=Decimal("154.00"),
    deposit=Decimal("77.00"),
    balance=Decimal("77.00"),
    currency="USD",
    level="detailed",
    made_on=date(2026, 6, 1),
    valid_until=date(2026, 6, 8),
    deposit_by=date(2026, 6, 8),
    balance_by=date(2026, 6, 16),
    notes=("A note for the baker alone.",),
)

SAID: dict[str, Any] = {
    "customer": "Gwen Ashdown",
    "count": 36,
    "designs": (Design("mail trucks", 24), Design("envelopes", 12)),
    "theme": "mail carrier",
    "occasion": "retirement",
    "honoree": "Dale",
    "lettering": ("Happy Trails Dale", "31 years"),
    "colors": ("navy", "cream"),
    "flavors": ("lemon",),
    "dietary": ("nut-free",),
    "due": Due.on(date(2026, 6, 19), time(14, 30)),
    "due_is": "handover",
    "handover": "pickup",
    "packaging": ("gift box",),
    "phone": "555-0163",
}


def sure(**values: Any) -> Draft:
    """A draft whose given fields are settled; a Cell is taken as it is."""
    cells = {name: value if isinstance(value, Cell) else Cell(value, sure=True) for name, value in values.items()}
    return Draft(**cells)


def order(
    *,
    state: State = State.BOOKED,
    quote: Quote | None = PRICE,
    paid: Decimal = Decimal(0),
    only: dict[str, Any] | None = None,
    **changes: Any,
) -> Order:
    """The order of SAID with `changes`, None to leave a field out; or one of nothing but `only`."""
    values = {**SAID, **changes} if only is None else only
    draft = sure(**{name: value for name, value in values.items() if value is not None})
    return Order(7, "t1", 0, state, draft, quote=quote, paid=paid)
