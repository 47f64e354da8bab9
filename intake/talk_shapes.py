"""What the baker's words can mean: an ask, an act, a correction, a doubt, or nothing that is understood."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from intake.house import ReadingPart
from intake.model import Order, Thread
from intake.talk import Correction

#: The first and the last of some days, both included.
Days = tuple[date, date]


@dataclass(frozen=True, slots=True)
class Hand:
    """What is in hand while she types: the moment, one order of one conversation, and whom the book knows by name."""

    at: datetime
    rules: ReadingPart
    order: Order | None = None
    thread: Thread | None = None
    people: tuple[str, ...] = ()

    @property
    def knows_next(self) -> bool:
        """Whether she has shown before which day "next Friday" is to her."""
        return any(word.field == "habit" for word in self.rules.words)


@dataclass(frozen=True, slots=True)
class Ask:
    """A question that the desk answers without changing the book. `what` is one of talk_known.ASKS.

    `field` is a draft field (or `price`), `who` a customer by name, `words` what to look for. One that is
    `guessed` goes by most of the words, not by all: `says` is how it is typed.
    """

    what: str
    days: Days | None = None
    count: int | None = None
    level: str = ""
    way: str = ""
    field: str = ""
    who: str = ""
    words: str = ""
    says: str = ""
    guessed: bool = False


@dataclass(frozen=True, slots=True)
class Act:
    """Something to be done. `what` is one of talk_known.ACTS; `says` is how it is best typed.

    `guessed` marks one that rests on words spelt otherwise, or leaves one out.
    `hours` are such as "08:00-12:00", `kind` a kind of answer.
    """

    what: str
    says: str = ""
    days: Days | None = None
    fields: tuple[str, ...] = ()
    amount: Decimal | None = None
    how: str = ""
    kind: str = ""
    who: str = ""
    words: str = ""
    hours: str = ""
    guessed: bool = False


@dataclass(frozen=True, slots=True)
class Unclear:
    """Words with more than one meaning: what to ask her, and each meaning as she would type it."""

    question: str
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotUnderstood:
    """Words that mean nothing here, and the nearest things that can be said, as she would type them."""

    nearest: tuple[str, ...]


Meant = Ask | Act | Correction | Unclear | NotUnderstood
