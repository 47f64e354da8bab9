"""What a template may use: an order as a dict of plain values, nothing that leads anywhere else."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from intake.house import House
from intake.model import Clash, Draft, Order, State, Verdict
from intake.money import in_language
from intake.money import shown as money
from intake.replies.dates import day_words, due_words
from intake.replies.questions import plain, questions, shown, words
from intake.replies.words import KNOWN, allergens, dietary_note, greeting, label_words, sign_off

_TITLES = {"mr", "mrs", "ms", "miss", "dr", "rev", "coach", "sr", "sra", "srta", "the", "team"}


def fields_of(order: Order, house: House, verdict: Verdict | None, language: str) -> dict[str, Any]:
    """Every name that a template may use, with its value: texts, numbers, lists of texts; empty where unknown."""
    draft, rules = order.draft, house.reply
    name = first_name(plain(draft.customer.value or ""))
    needs = draft.dietary.value or ()
    earliest = verdict.earliest if isinstance(verdict, Clash) else None
    return {
        "greeting": greeting(rules, name, language),
        "sign_off": sign_off(rules, language),
        "name": name,
        "full_name": plain(draft.customer.value or ""),
        "baker": house.house.baker or house.house.name,
        "house_name": house.house.name,
        "place": house.house.place,
        "count": draft.count.value or 0,
        **{field: plain(draft.cell(field).value or "") for field in ("theme", "occasion", "honoree", "age", "address")},
        **{
            field: words(draft.cell(field).value or (), field, language)
            for field in ("designs", "colors", "flavors", "lettering", "packaging", "dietary")
        },
        "dietary_note": dietary_note([plain(need) for need in needs], language),
        "due": due_words(draft.due.value, language) if draft.due.value else "",
        "due_is": draft.due_is.value or "handover",
        "handover": draft.handover.value or "",
        "allergens": allergens(rules, language),
        "known": _known(draft, language),
        "questions": [{"text": q.text, "why": plain(q.why)} for q in questions(draft, language)],
        "earliest": day_words(earliest, language) if earliest else "",
        "tone": rules.tone,
        "tracking": plain(order.tracking),
        **_price(order, language),
    }


def first_name(name: str) -> str:
    """`Dana` of `Dana Whitlock`; a title, a single name or a longer one stays whole."""
    parts = name.split()
    if len(parts) != 2 or not all(part.replace("-", "").isalpha() for part in parts):
        return name
    return name if parts[0].casefold() in _TITLES else parts[0]


def _known(draft: Draft, language: str) -> list[str]:
    """What is certain so far, one line each."""
    found = []
    for name, line in KNOWN[language].items():
        cell = draft.cell(name)
        if cell.sure and not cell.missing:
            found.append(line.format(shown(cell.value, name, language)))
    return found


def _price(order: Order, language: str) -> dict[str, Any]:
    """The lines of the quote; of deposit and balance what is still to be paid: with `paid` they are the total."""
    names = ("total", "deposit", "balance", "deposit_by", "balance_by", "valid_until", "paid", "left", "lapses")
    quote = order.quote
    if quote is None:
        return {"price_lines": [], **dict.fromkeys(names, "")}
    locale, currency = in_language(quote.locale, language), quote.currency
    deposit = max(Decimal(0), quote.deposit - order.paid)
    balance = max(Decimal(0), quote.total - order.paid - deposit)

    def amount(value: Decimal) -> str:
        return money(value, currency, locale) if value else ""

    def day(value: date | None) -> str:
        return day_words(value, language) if value else ""

    return {
        "price_lines": [
            {"label": plain(label_words(line.label, language)), "amount": money(line.amount, currency, locale)}
            for line in quote.lines
        ],
        "total": money(quote.total, currency, locale),
        "deposit": amount(deposit),
        "balance": amount(balance),
        "deposit_by": day(quote.deposit_by),
        "balance_by": day(quote.balance_by),
        "valid_until": day(quote.valid_until),
        "paid": amount(order.paid),
        "left": amount(deposit + balance),
        "lapses": day(quote.valid_until) if order.state is State.QUOTED else "",
    }
