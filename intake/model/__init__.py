"""The nouns that travel the road: threads, drafts, orders, quotes, plans, replies. All are had from here.

Frozen dataclasses without behaviour beyond themselves. Money is `Decimal` in the house's currency, days are
`date`, moments are aware `datetime` in the house's time zone, durations are minutes.
"""

from intake.model.answers import Fate, Reply
from intake.model.drafts import (
    CORE_FIELDS,
    DRAFT_FIELDS,
    Cell,
    Design,
    Draft,
    Due,
    Evidence,
    Fold,
    HouseWord,
    Reading,
    Shift,
    Trail,
)
from intake.model.orders import STEPS, Order, Payment, Quote, QuoteLine, State, Terms
from intake.model.plans import Clash, Fits, Job, Mark, NotProven, Plan, Verdict, Way, Work
from intake.model.problems import OrdertinError, Problem
from intake.model.threads import Message, TakeReport, Thread

__all__ = [
    "CORE_FIELDS",
    "DRAFT_FIELDS",
    "STEPS",
    "Cell",
    "Clash",
    "Design",
    "Draft",
    "Due",
    "Evidence",
    "Fate",
    "Fits",
    "Fold",
    "HouseWord",
    "Job",
    "Mark",
    "Message",
    "NotProven",
    "Order",
    "OrdertinError",
    "Payment",
    "Plan",
    "Problem",
    "Quote",
    "QuoteLine",
    "Reading",
    "Reply",
    "Shift",
    "State",
    "TakeReport",
    "Terms",
    "Thread",
    "Trail",
    "Verdict",
    "Way",
    "Work",
]
