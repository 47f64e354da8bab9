"""The kitchen: what it has to do, its plans, and what stands in their way."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime


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
