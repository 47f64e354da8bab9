"""What the baker types about money, as changes of an order's terms or as a payment.

| typed | means |
| --- | --- |
| `elaborate`, `level auto` | how elaborate the set is, or as it is worked out |
| `mini`, `size usual`, `size auto` | its size |
| `4 lettered`, `lettered auto` | how many cookies carry lettering |
| `6 miles`, `box 12x10x6`, `5.5 lb` | how far, in which box, how heavy |
| `courtesy -5`, `stand $12.50`, `no courtesy` | a line of her own, or that line taken out |
| `36 cash`, `20.50 by check`, `back 10 card` | money taken, money given back |

A wrong one is a ValueError that says what was expected.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import TypeVar

from intake.kitchen.level import LEVELS
from intake.model import QuoteLine, Terms
from intake.money import decimals
from intake.pricing.sizes import USUAL

N = TypeVar("N", int, Decimal)
_AUTO = ("auto", "as worked out")
_NUMBER = r"\d{1,7}(?:\.\d{1,4})?"
_MARK = r"(?:[$£€¥]|[A-Z]{3})"
_DIGITS = r"(?P<n>(?:\d{1,3}(?:,\d{3}){1,3}|\d{1,9})(?:\.\d{1,4})?)"
_AMOUNT = re.compile(rf"(?P<sign>[-+\u2212]?) ?(?:{_MARK} ?(?P<sign2>-?))?{_DIGITS}")
_LINE = re.compile(rf"(?P<label>[^\d$£€¥+\-\u2212][^$£€¥]{{0,58}}?)[ :]+(?P<amount>{_AMOUNT.pattern})")
_BOX = re.compile(rf"box ({_NUMBER}) ?[x×] ?({_NUMBER}) ?[x×] ?({_NUMBER})(?: ?in(?:ch(?:es)?)?)?")
_LARGEST = Decimal(1_000_000)
MOST_EDITS = 20


def settled(terms: Terms, words: str, *, count: int, sizes: Sequence[str], currency: str) -> Terms:
    """`terms` with what the baker typed. `sizes` are the names of the house's sizes, `count` the cookies of the order.

    Raises ValueError, in words, for what can't be understood or can't be meant.
    """
    text = " ".join(words.split())
    low = text.casefold()
    if low in LEVELS or low.removeprefix("level ") in (*LEVELS, *_AUTO):
        level = low.removeprefix("level ")
        return replace(terms, level="" if level in _AUTO else level)
    named = {size.casefold(): size for size in (*sizes, USUAL.name)}
    if low in named or low.removeprefix("size ") in (*named, *_AUTO):
        size = low.removeprefix("size ")
        return replace(terms, size="" if size in _AUTO else named[size])
    if low == "lettered auto":
        return replace(terms, lettered=None)
    if found := re.fullmatch(r"(?:(\d{1,6}) lettered|lettered (\d{1,6}))", low):
        return replace(terms, lettered=_within(int(found[1] or found[2]), 0, count, "cookies lettered"))
    if found := re.fullmatch(rf"({_NUMBER}) ?(?:miles?|mi)", low):
        return replace(terms, distance=_within(Decimal(found[1]), 0, 10_000, "miles"))
    if found := re.fullmatch(rf"({_NUMBER}) ?(?:lbs?|pounds?)", low):
        return replace(terms, pounds=_within(Decimal(found[1]), Decimal("0.01"), 150, "pounds"))
    if found := _BOX.fullmatch(low):
        box = tuple(_within(Decimal(side), 1, 60, "inches") for side in found.groups())
        return replace(terms, box=box)
    if low.startswith("no ") and (kept := _without(terms, low.removeprefix("no "))) is not None:
        return kept
    if found := _LINE.fullmatch(text):
        return _with(terms, found["label"].strip(" :"), _signed(found), currency)
    raise ValueError(
        "a level (plain, detailed, elaborate), a size, “4 lettered”, “6 miles”, “box 12x10x6”, “5 lb”, "
        f"or a line with an amount such as “courtesy -5”; it is “{text:.60}”"
    )


def _without(terms: Terms, label: str) -> Terms | None:
    kept = tuple(line for line in terms.edits if line.label.casefold() != label)
    return replace(terms, edits=kept) if len(kept) < len(terms.edits) else None


def _with(terms: Terms, label: str, amount: Decimal, currency: str) -> Terms:
    """A line of the same name is replaced; one of nothing is taken out."""
    checked(abs(amount), currency, zero=True)
    kept = tuple(line for line in terms.edits if line.label.casefold() != label.casefold())
    if not amount:
        return replace(terms, edits=kept)
    if len(kept) >= MOST_EDITS:
        raise ValueError(f"at most {MOST_EDITS} lines of your own")
    return replace(terms, edits=(*kept, QuoteLine(label, amount, "set by you", "edit")))


def checked(amount: Decimal, currency: str, *, zero: bool = False) -> Decimal:
    """`amount` where it is one that can be paid. Raises ValueError, in words."""
    if amount < 0 or (not zero and not amount):
        raise ValueError(f"an amount above zero; it is {amount}")
    if amount > _LARGEST:
        raise ValueError(f"an amount up to {_LARGEST:,}; it is {amount:,}")
    if amount != round(amount, decimals(currency)):
        raise ValueError(f"an amount with at most {decimals(currency)} decimals in {currency}; it is {amount}")
    return amount


def amount_of(text: str) -> Decimal:
    """`$36`, `36.50`, `1,250`. Raises ValueError, in words."""
    found = _AMOUNT.fullmatch(text.strip())
    if not found:
        raise ValueError(f"an amount such as 36.50; it is “{text:.40}”")
    return _signed(found)


def payment(words: str) -> tuple[Decimal, str, bool]:
    """An amount, how it was paid, and whether it was given back. Raises ValueError, in words."""
    text = " ".join(words.split())
    back = re.match(r"(?i)(?:back|refund)\b ?", text)
    text = text[back.end() :] if back else text
    found = _AMOUNT.match(text)
    if not found or not re.match(r"$|[ ,]", text[found.end() :]):
        raise ValueError(f"an amount and how it was paid, such as “36 cash”; it is “{words.strip():.40}”")
    how = re.sub(r"(?i)^[ ,]*(?:by|in|with)?\b ?", "", text[found.end() :]).strip()
    return _signed(found), how[:40], bool(back)


def _signed(found: re.Match[str]) -> Decimal:
    amount = Decimal(found["n"].replace(",", ""))
    return -amount if {found["sign"], found["sign2"]} & {"-", "\N{MINUS SIGN}"} else amount


def _within(value: N, low: Decimal | int, high: Decimal | int, what: str) -> N:
    if not low <= value <= high:
        raise ValueError(f"{low} to {high} {what}; it is {value}")
    return value
