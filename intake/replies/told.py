"""An answer that has gone out, as far as the next one rests on it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal


@dataclass(frozen=True, slots=True)
class Told:
    """An answer that has gone out. `at_price` is whether the order has the same price now, `as_is` whether it is the
    same otherwise; `paid` is what had come for it by then, None where that was not written down."""

    kind: str
    at_price: bool = True
    as_is: bool = True
    paid: Decimal | None = None
