"""The nouns that travel the road: threads, drafts, orders, quotes, plans, replies.

Frozen dataclasses without behaviour beyond themselves. Money is `Decimal` in the house's currency, days are
`date`, moments are aware `datetime` in the house's time zone, durations are minutes.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from datetime import date, datetime
from datetime import time as clock_time
from decimal import Decimal
from enum import StrEnum
from typing import Any, Generic, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be read or done: a value, shown as one line, while the rest goes on."""

    where: str
    what: str
    todo: str = ""
    excerpt: str = ""

    def __str__(self) -> str:
        line = f"{self.where}: {self.what}" if self.where else self.what
        if self.excerpt:
            line += f" ({self.excerpt})"
        stop = "" if line.endswith(("?", ".", "!")) else "."
        return f"{line}{stop} {self.todo}" if self.todo else line


class OrdertinError(Exception):
    """A problem that stops a command. Its text is one line for the baker: where, what, what to do."""

    def __init__(self, what: str, *, where: str = "", todo: str = "", excerpt: str = "") -> None:
        self.problem = Problem(where, what, todo, excerpt)
        super().__init__(str(self.problem))


@dataclass(frozen=True, slots=True)
class Message:
    """One message of a thread. `text` has been cleaned of control characters; `raw` is kept where that changed it.

    `mail_id` is a mail's own id without its brackets, `answers` those of the mails it answers to, the oldest first.
    """

    id: str
    sender: str
    mine: bool
    at: datetime
    text: str
    raw: str | None = None
    address: str = ""
    attachments: tuple[str, ...] = ()
    mail_id: str = ""
    answers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Thread:
    """One customer's conversation in time order. `channel` is `chat` or `mail`; `key` tells it across exports."""

    id: str
    channel: str
    messages: tuple[Message, ...]
    key: str = ""
    subject: str = ""

    @property
    def customer(self) -> str:
        """Display name of the first sender who is not the baker, or an empty text."""
        return next((m.sender for m in self.messages if not m.mine), "")


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


@dataclass(frozen=True, slots=True)
class Job:
    """What the kitchen needs to know of one order. `due` is the moment it must be packed, `count` cookies.

    `level` is `plain`, `detailed` or `elaborate`; orders of the lowest `age` give way when something must. `sizes`
    pairs millimetres across with how many are of that cutter, in proportion; empty where all are the house's usual.
    """

    order_id: int
    name: str
    count: int
    due: datetime
    level: str = "plain"
    colors: int = 2
    designs: int = 1
    lettered: int = 0
    handover: str = "pickup"
    age: int = 0
    sizes: tuple[tuple[float, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Mark:
    """What the baker ticked off: of step `step` (its label) of an order the first `parts` stretches, the last of them
    at `at`; the next has been under way since `begun`, where it is."""

    order_id: int
    step: str
    parts: int
    at: datetime | None = None
    begun: datetime | None = None


@dataclass(frozen=True, slots=True)
class Work:
    """One stretch of hands-on work of a plan, `start` to `end`. `uses` names the resources: hands, oven.

    It holds the stretches `parts[0]` up to before `parts[1]` of the step whose label is `task`.
    """

    order_id: int
    step: str
    label: str
    start: datetime
    end: datetime
    uses: tuple[str, ...] = ("hands",)
    task: str = ""
    parts: tuple[int, int] = (0, 0)


@dataclass(frozen=True, slots=True)
class Plan:
    """A timetable that keeps every hour, wait and due moment. `slack` is minutes to spare per order."""

    works: tuple[Work, ...]
    slack: dict[int, int]


@dataclass(frozen=True, slots=True)
class Fits:
    plan: Plan
    tight: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Clash:
    """A proof: these orders can't all be made in time. Leaving out any one of them makes the rest possible, unless
    `fewest` is False: then there was no time to find the few among them that clash.

    `short` says in words what is lacking; `earliest` is the first day on which the newest of them would work,
    None where no day of the horizon does.
    """

    orders: tuple[int, ...]
    newest: int
    short: str
    earliest: date | None
    fewest: bool = True


@dataclass(frozen=True, slots=True)
class Way:
    """A way out of a clash, shown to work with a plan. `kind` is day, count, colors, level or hours."""

    kind: str
    says: str


@dataclass(frozen=True, slots=True)
class NotProven:
    """The time to decide ran out: neither a plan nor a clash is shown."""

    why: str


Verdict = Fits | Clash | NotProven


@dataclass(frozen=True, slots=True)
class Reply:
    """A message ready to be sent. `missing` names the fields the wording needed and the order lacks, `why` is the
    reason for which it is proposed. `notice` says whose words it is in, where they are not those that the baker set,
    `minds` what she should bear in mind of the order: neither is sent."""

    kind: str
    to: str
    subject: str
    text: str
    missing: tuple[str, ...] = ()
    why: str = ""
    notice: str = ""
    minds: tuple[str, ...] = ()


class Fate(StrEnum):
    """How far a letter has got. It is `leaving` from when the server may have it; what comes after is the server's
    last word: it has it, it said no, it was never reached, or nobody here can know."""

    WRITTEN = "written"
    LEAVING = "leaving"
    ACCEPTED = "accepted"
    REFUSED = "refused"
    UNREACHED = "unreached"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class TakeReport:
    """What taking an export did to the book. `unread` counts the old conversations that were kept without being read;
    `unknown` names who may be the baker, the likeliest first, where she is not known to have written any of it."""

    threads_new: int = 0
    messages_new: int = 0
    messages_known: int = 0
    orders_new: int = 0
    problems: tuple[Problem, ...] = ()
    unread: int = 0
    unknown: tuple[str, ...] = ()
