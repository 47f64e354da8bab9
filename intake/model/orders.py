"""Orders in the book: what they cost, what was settled about that, what was paid."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from intake.model.drafts import Draft, Shift


class State(StrEnum):
    DRAFT = "draft"
    ASKED = "asked"
    QUOTED = "quoted"
    BOOKED = "booked"
    HANDED_OVER = "handed over"
    DROPPED = "dropped"


STEPS: tuple[str, ...] = ("dough", "bake", "flood", "detail", "pack")


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """`kind` is `work`, `packing`, `way` (delivery or shipping), `discount`, `rush`, `edit` (the baker's own line),
    `rounding` or `tax`."""

    label: str
    amount: Decimal
    why: str
    kind: str = "work"


@dataclass(frozen=True, slots=True)
class Terms:
    """What the baker has settled about the price of one order, beside what its draft says; empty where nothing is.

    `lettered` is how many cookies carry lettering, `distance` how far a delivery is, in the house's own miles, `box`
    the outer sides of a parcel in inches, `pounds` what it weighs packed. `edits` are lines of her own.
    """

    level: str = ""
    size: str = ""
    lettered: int | None = None
    distance: Decimal | None = None
    box: tuple[Decimal, ...] = ()
    pounds: Decimal | None = None
    edits: tuple[QuoteLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Quote:
    """What an order costs the customer. `total` is the sum of the lines; `deposit` + `balance` is the total.

    `rates` is the rate card that it was made by, as JSON, and `asked_on` the day from which notice was counted, that
    on which it was made where there is none. Amounts are written as in `locale`.
    """

    lines: tuple[QuoteLine, ...]
    total: Decimal
    deposit: Decimal
    balance: Decimal
    currency: str
    level: str
    made_on: date
    valid_until: date
    deposit_by: date | None = None
    balance_by: date | None = None
    notes: tuple[str, ...] = ()
    locale: str = "en_US"
    rates: str = ""
    asked_on: date | None = None


@dataclass(frozen=True, slots=True)
class Order:
    """A draft with an address in the book. `place` is its position among the orders of its thread, from 0.

    `change` is what the customer asks of a booked order otherwise, until the baker takes or refuses it. `moved` is what
    later messages have changed in an open one since the baker last did anything to it.
    `paid` is what has been taken for it less what was given back. `tracking` is the number of its
    parcel, as the baker gave it.
    """

    id: int
    thread_id: str
    place: int
    state: State
    draft: Draft
    step: str = ""
    quote: Quote | None = None
    booked_at: datetime | None = None
    note: str = ""
    terms: Terms = field(default_factory=Terms)
    paid: Decimal = Decimal(0)
    change: tuple[Shift, ...] = ()
    moved: tuple[Shift, ...] = ()
    tracking: str = ""

    @property
    def who(self) -> str:
        """The customer, or `order 12`."""
        return self.draft.customer.value or f"order {self.id}"

    @property
    def what(self) -> str:
        """`24 unicorns`, `? cookies`."""
        return f"{self.draft.count.value or '?'} {self.draft.theme.value or 'cookies'}"


@dataclass(frozen=True, slots=True)
class Payment:
    """Money taken for an order on a day, or given back. `amount` is above zero, `what` says which it was: `deposit`,
    `balance`, `in full`, `part` or `refund`. `message` is the message that told of it, in its conversation."""

    id: int
    order_id: int
    what: str
    amount: Decimal
    currency: str
    how: str
    day: date
    note: str = ""
    message: str = ""
    struck: bool = False

    @property
    def signed(self) -> Decimal:
        """The amount, below zero where it was given back."""
        return -self.amount if self.what == "refund" else self.amount
