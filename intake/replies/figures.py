"""Prices, days, times and counts in an answer that are not the order's: what the baker is warned of before it goes.

A figure is only looked at where its words say what it is: an amount by its currency, a day by its month, a count by the
cookies or dozens after it. Whatever else is a number (an age, a street, a recipe) is the baker's own affair.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, time
from decimal import Decimal
from typing import Any

from intake.house import House
from intake.model import Order
from intake.money import in_language, shown
from intake.replies.dates import MONTHS, WEEKDAYS, day_words, time_words
from intake.replies.questions import plain

_AMOUNT = r"\d{1,3}(?:[.,' \u00a0\u202f]\d{3}){0,3}(?:[.,]\d{1,3})?(?!\d)|\d{1,9}(?:[.,]\d{1,3})?"
_MONEY = re.compile(rf"(?<![\w.,])-?(?:[$€£¥]\s?(?P<a>{_AMOUNT})|(?P<b>{_AMOUNT})\s?(?:[€£¥$]|[A-Z]{{3}}\b))")
_CLOCK = re.compile(r"(?<![\d:.,$])(\d{1,2})(?::(\d\d))?\s?([ap])\.?\s?m\b", re.IGNORECASE)
_COUNT = re.compile(
    r"(?<![\d.,$/-])(\d{1,5}) +(?:[^\W\d]{1,20} +){0,3}?(cookies?|galletas?|dozen|dz|docenas?)\b", re.IGNORECASE
)
# English months and weekdays are written with a capital: "may" is a verb.
_ES = (*MONTHS["es"], *(name.capitalize() for name in MONTHS["es"]))
_MONTH = {name: n % 12 + 1 for names in (MONTHS["en"], [name[:3] for name in MONTHS["en"]], _ES) for n, name in
          enumerate(names)} | {"Sept": 9}  # fmt: skip
_MONTHS = "|".join(sorted(_MONTH, key=len, reverse=True))
_WEEKDAY_WORDS = "|".join((*WEEKDAYS["en"], *WEEKDAYS["es"], *(name.capitalize() for name in WEEKDAYS["es"])))
_YEAR = r"(?:,? (?:de )?(?P<y>\d{4})\b)?"
_DAYS = (
    re.compile(rf"\b(?P<m>{_MONTHS})\.? (?P<d>\d{{1,2}})(?:st|nd|rd|th)?\b{_YEAR}"),
    re.compile(rf"\b(?P<d>\d{{1,2}})(?:st|nd|rd|th)? (?:de |of )?(?P<m>{_MONTHS})\b{_YEAR}"),
)
_WEEKDAY = re.compile(rf"\b({_WEEKDAY_WORDS}),?\s*$")


def differences(text: str, order: Order, house: House, language: str, days: Iterable[date] = ()) -> tuple[str, ...]:
    """What `text` says otherwise than `order`, a sentence each. `days` are further days that it may name."""
    checked = _without(text, _own_words(order, house))
    found = (*_prices(checked, order, language), *_counts(checked, order), *_dates(checked, order, language, days))
    return tuple(dict.fromkeys(found))


def _own_words(order: Order, house: House) -> Iterator[str]:
    """What is said in the customer's or the house's own words, whatever numbers are in it."""
    draft = order.draft
    yield from (plain(draft.cell(name).value or "") for name in ("theme", "occasion", "honoree", "address", "customer"))
    for name in ("designs", "lettering", "colors", "flavors", "dietary", "packaging"):
        cell = draft.cell(name)
        for values in (cell.value, *cell.others):
            yield from (plain(getattr(value, "what", value)) for value in values or ())
    yield plain(order.tracking)
    yield from (house.house.name, house.house.baker, house.house.place)
    yield from (house.reply.greeting, house.reply.sign_off, house.reply.allergens)


def _without(text: str, own: Iterable[str]) -> str:
    for words in sorted({each for each in own if re.search(r"\d", each) and re.search(r"[^\W\d]", each)}, key=len):
        text = text.replace(words, " ... ")
    return text


def _prices(text: str, order: Order, language: str) -> Iterator[str]:
    quote = order.quote
    known = _amounts(order) if quote else set()
    for found in _MONEY.finditer(text):
        if _decimals(found["a"] or found["b"]) & known:
            continue
        said = found[0].strip()
        if quote is None:
            yield f"It says {said}, and the order has no price yet."
        else:
            total = shown(quote.total, quote.currency, in_language(quote.locale, language))
            yield f"It says {said}, which is no amount of this order; in all it comes to {total}."


def _amounts(order: Order) -> set[Decimal]:
    quote = order.quote
    assert quote is not None
    left = max(Decimal(0), quote.total - order.paid)
    due = max(Decimal(0), quote.deposit - order.paid)
    held = (quote.total, quote.deposit, quote.balance, order.paid, left, due, left - due)
    budget = order.draft.budget.value
    return {abs(amount) for amount in (*held, *(line.amount for line in quote.lines), *([budget] if budget else []))}


def _decimals(text: str) -> set[Decimal]:
    """What an amount may be: "1.234" is one thing in one country and another in the next."""
    digits = re.sub(r"\D", "", text)
    found = {Decimal(digits)}
    last = re.search(r"[.,](\d{1,3})$", text)
    if last:
        found.add(Decimal(digits).scaleb(-len(last[1])))
        if len(last[1]) < 3:
            found.discard(Decimal(digits))
    return found


def _counts(text: str, order: Order) -> Iterator[str]:
    known = set(_told_counts(order))
    for found in _COUNT.finditer(text):
        dozens = found[2][:2].lower() in ("do", "dz")
        if int(found[1]) * (12 if dozens else 1) in known:
            continue
        count = order.draft.count.value
        yield f"It says {found[0]}; {f'the order is for {count}' if count else 'the order has no count yet'}."


def _told_counts(order: Order) -> Iterator[int]:
    yield from (value for value in _values(order, "count") if value)
    for designs in _values(order, "designs"):
        yield from (design.count for design in designs or () if design.count)
    for line in order.quote.lines if order.quote else ():
        yield from map(int, re.findall(r"\d{1,5}", line.label))


def _values(order: Order, name: str) -> Iterator[Any]:
    """All that a field may be: as it stands, as it may have been meant, and as the customer now asks for it."""
    asked = (shift.reads for shift in order.change if shift.field == name)
    for cell in (order.draft.cell(name), *asked):
        yield from (value for value in (cell.value, *cell.others) if value is not None)


def _dates(text: str, order: Order, language: str, further: Iterable[date]) -> Iterator[str]:
    days = set(_told_days(order)) | set(further)
    due = order.draft.due.value
    of = f"the order is for {day_words(due.last, language)}" if due else "the order has no day yet"
    for pattern in _DAYS:
        for found in pattern.finditer(text):
            month, day = _MONTH[found["m"]], int(found["d"])
            fits = [d for d in days if (d.month, d.day) == (month, day) and found["y"] in (None, str(d.year))]
            weekday = _WEEKDAY.search(text[max(0, found.start() - 16) : found.start()])
            said = f"{weekday[0]}{found[0]}" if weekday else found[0]
            if not fits:
                yield f"It says {said}; {of}."
            elif weekday and not any(_same_weekday(weekday[1], d) for d in fits):
                yield f"It says {said}, but that is a {WEEKDAYS['en'][fits[0].weekday()]}."
    times = {due.time for due in _values(order, "due") if due.time}
    for found in _CLOCK.finditer(text):
        hour, minute = int(found[1]), int(found[2] or 0)
        if not (0 < hour <= 12 and minute < 60):
            continue
        at = time(hour % 12 + (12 if found[3].lower() == "p" else 0), minute)
        if at not in times:
            when = f"the order is for {time_words(due.time, 'en')}" if due and due.time else "the order has no time yet"
            yield f"It says {found[0]}; {when}."


def _same_weekday(word: str, day: date) -> bool:
    return any(names[day.weekday()].lower() == word.lower() for names in WEEKDAYS.values())


def _told_days(order: Order) -> Iterator[date]:
    for due in _values(order, "due"):
        yield from (due.first, due.last)
    if quote := order.quote:
        yield from (day for day in (quote.made_on, quote.valid_until, quote.deposit_by, quote.balance_by) if day)
