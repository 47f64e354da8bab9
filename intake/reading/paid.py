"""Messages in which a customer says that she has paid: how much, which part of it, and how, as far as they say.

A word on it is no payment: what is found here is put to the baker, who looks at her account first.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from intake.model import Thread
from intake.reading.intent import says_paid
from intake.reading.turns import turns_of

_AMOUNT = re.compile(
    r"[$£€] ?(\d{1,3}(?:,\d{3}){1,3}(?:\.\d{2})?|\d{1,6}(?:\.\d{2})?)(?![\d%])"
    r"|(?<![\d.:/$£€-])(\d{1,6}(?:\.\d{2})?) (?:dollars|bucks|usd|euros?|pounds)\b"
    r"|\b(?:sent|paid|transferred|wired)(?: (?:you|u|ya|over|the|a))* (\d{1,6}(?:\.\d{2})?)(?![\d:/%])(?! (?:cookies|doz))"
)
# Where she was just asked for money, a short word on it is enough.
_ASKS_MONEY = re.compile(r"[$£€] ?\d|\b(?:deposit|half (?:down|now)|balance|pay(?:ment)?|invoice|anticipo|saldo)\b")
_SHORT = re.compile(r"^\W*(?:(?:just|ok|i|i've|all|it'?s|have|already) )*(?:sent|paid|done|transferred|wired)(?: it| that)?\b")
_SHORTEST = 8
# The rest comes before the half: "the other half" is the rest.
_PARTS = (
    ("balance", re.compile(r"\b(?:balance|rest|remaind\w+|remaining|other half|second half|el resto)\b")),
    ("in full", re.compile(r"\b(?:in full|full amount|paid full|everything|all of it|whole (?:thing|amount)|the total)\b")),
    ("deposit", re.compile(r"\b(?:deposit|half|anticipo|dep[oó]sito|down payment|retainer)\b")),
)
_HOW = (
    ("cash", re.compile(r"\b(?:cash|efectivo)\b")),
    ("check", re.compile(r"\b(?:check|cheque)\b(?! (?:in|on|with|your|ur|if|and|it)\b)")),
    ("card", re.compile(r"\b(?:card|tarjeta)\b")),
    ("transfer", re.compile(r"\b(?:e-?transfer|transfer(?:red)?|wired?|bank|transferencia)\b")),
)


@dataclass(frozen=True, slots=True)
class Told:
    """What a message says of a payment. `part` is `deposit`, `balance`, `in full` or empty; `how` empty if not said."""

    message: str
    at: datetime
    amount: Decimal | None
    part: str
    how: str
    words: str


def payments_told(thread: Thread) -> tuple[Told, ...]:
    """The customer's messages that say she has paid, in time order; each once."""
    turns, _ = turns_of(thread)
    found: dict[str, Told] = {}
    asked = False
    for turn in turns:
        if turn.kind != "said":
            continue
        if turn.mine:
            asked = bool(_ASKS_MONEY.search(turn.low))
        elif says_paid(turn.low) or (asked and _answers(turn.bare)):
            found.setdefault(turn.message, _told(turn.message, turn.sent, turn.low, turn.text))
    return tuple(found.values())


def _answers(low: str) -> bool:
    return len(low.split()) <= _SHORTEST and bool(_SHORT.search(low)) and "?" not in low


def _told(message: str, at: datetime, low: str, text: str) -> Told:
    amounts = {Decimal(next(filter(None, m.groups())).replace(",", "")) for m in _AMOUNT.finditer(low)}
    part = next((name for name, pattern in _PARTS if pattern.search(low)), "")
    how = next((name for name, pattern in _HOW if pattern.search(low)), "")
    words = " ".join(text.split())
    return Told(message, at, amounts.pop() if len(amounts) == 1 else None, part, how, words[:120])
