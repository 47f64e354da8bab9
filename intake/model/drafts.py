"""What was read from a conversation: cells with their evidence, drafts of orders, the trail of a reading."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import date
from datetime import time as clock_time
from decimal import Decimal
from typing import Any, Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Evidence:
    """Characters `start` to `end` (half-open) of the text of message `message`."""

    message: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Cell(Generic[T]):
    """One read value. `sure` is a promise; where it is False, `why` says in a baker's words what to check.

    `others` holds the further readings of the same words, the likeliest first. `rule` names what made the value;
    `baker` is the rule of a value that the baker has set by hand.
    """

    value: T | None = None
    sure: bool = False
    evidence: tuple[Evidence, ...] = ()
    why: str = ""
    others: tuple[T, ...] = ()
    rule: str = ""

    @property
    def missing(self) -> bool:
        return self.value is None or self.value == () or self.value == ""


@dataclass(frozen=True, slots=True)
class Due:
    """A day (first == last) or a window of days, both ends included, and a clock time where one was said."""

    first: date
    last: date
    time: clock_time | None = None

    @classmethod
    def on(cls, day: date, at: clock_time | None = None) -> Due:
        return cls(day, day, at)

    @property
    def is_window(self) -> bool:
        return self.first != self.last


@dataclass(frozen=True, slots=True)
class HouseWord:
    """A word of this house: where a customer writes `said`, the field `field` (theme, colors, flavors) means `means`.

    Of the field `habit`, `said` names a choice of the house rules and `means` what it is set to.
    """

    field: str
    said: str
    means: str


@dataclass(frozen=True, slots=True)
class Design:
    what: str
    count: int | None = None


@dataclass(frozen=True, slots=True)
class Draft:
    """An order as read from a thread. Fields and values are those of the annotated threads in tests/reading/cases."""

    customer: Cell[str] = field(default_factory=Cell)
    count: Cell[int] = field(default_factory=Cell)
    designs: Cell[tuple[Design, ...]] = field(default_factory=Cell)
    theme: Cell[str] = field(default_factory=Cell)
    occasion: Cell[str] = field(default_factory=Cell)
    honoree: Cell[str] = field(default_factory=Cell)
    age: Cell[int] = field(default_factory=Cell)
    lettering: Cell[tuple[str, ...]] = field(default_factory=Cell)
    colors: Cell[tuple[str, ...]] = field(default_factory=Cell)
    flavors: Cell[tuple[str, ...]] = field(default_factory=Cell)
    dietary: Cell[tuple[str, ...]] = field(default_factory=Cell)
    due: Cell[Due] = field(default_factory=Cell)
    due_is: Cell[str] = field(default_factory=Cell)
    handover: Cell[str] = field(default_factory=Cell)
    address: Cell[str] = field(default_factory=Cell)
    packaging: Cell[tuple[str, ...]] = field(default_factory=Cell)
    budget: Cell[Decimal] = field(default_factory=Cell)
    phone: Cell[str] = field(default_factory=Cell)
    email: Cell[str] = field(default_factory=Cell)
    cancelled: Cell[bool] = field(default_factory=Cell)

    def cell(self, name: str) -> Cell[Any]:
        """The cell called `name`; raises KeyError where no field has that name."""
        if name not in DRAFT_FIELDS:
            raise KeyError(name)
        cell: Cell[Any] = getattr(self, name)
        return cell


DRAFT_FIELDS: tuple[str, ...] = tuple(f.name for f in fields(Draft))
CORE_FIELDS: tuple[str, ...] = ("count", "theme", "lettering", "due", "handover")


@dataclass(frozen=True, slots=True)
class Shift:
    """A field of an order that later messages read otherwise: the value `was`, and the cell that they read now."""

    field: str
    was: Any
    reads: Cell[Any]


@dataclass(frozen=True, slots=True)
class Trail:
    """One step of a reading, for `explain`: which rule saw which words, and what became of it."""

    field: str
    rule: str
    said: str
    value: str
    outcome: str
    evidence: Evidence | None = None


@dataclass(frozen=True, slots=True)
class Fold:
    """Quoted lines or a signature of a mail: kept and shown, not read as an order."""

    evidence: Evidence
    kind: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What a thread says: the intent of its last customer message and the orders as they stand after it."""

    intent: Cell[str]
    drafts: tuple[Draft, ...]
    trail: tuple[Trail, ...] = ()
    folds: tuple[Fold, ...] = ()
    language: str = "en"
