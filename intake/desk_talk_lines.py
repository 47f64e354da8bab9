"""Orders, days and verdicts as the assistant says them: short lines, in a baker's words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from intake.counted import many
from intake.desk_waiting import headline
from intake.model import Clash, Due, Fits, Order, Quote, Verdict
from intake.money import shown
from intake.talk_days import month_of
from intake.talk_doubts import spoken
from intake.talk_shapes import Days

#: So many lines of a list are said; the rest is counted.
MOST = 8


def title(order: Order) -> str:
    """`Dana Reyes, 24 unicorns`."""
    return f"{order.who}, {headline(order.draft)}"


def due_words(due: Due | None) -> str:
    """`Sat 12 Dec, 14:00`; `no day` where there is none."""
    if due is None:
        return "no day"
    return spoken((due.first, due.last)) + (f", {due.time:%H:%M}" if due.time else "")


def day_words(day: date, today: date) -> str:
    """`Sat 12 Dec`, with its year where that is another."""
    year = "" if day.year == today.year else f" {day.year}"
    return f"{day:%a} {day.day} {day:%b}{year}"


def span_words(days: Days) -> str:
    """`2025`, `November 2026`, or the days from the first to the last with their year."""
    first, last = days
    if days == (date(first.year, 1, 1), date(first.year, 12, 31)):
        return str(first.year)
    if days == month_of(first):
        return f"{first:%B} {first.year}"
    return f"{spoken(days)} {last.year}"


def upper(text: str) -> str:
    """`text` with a capital first."""
    return f"{text[:1].upper()}{text[1:]}"


def order_line(order: Order) -> str:
    """`Sat 12 Dec, 14:00  Dana Reyes, 24 unicorns, pickup`."""
    way = order.draft.handover.value
    return f"{due_words(order.draft.due.value)}  {title(order)}{f', {way}' if way else ''}"


def listed(head: str, lines: Iterable[str]) -> str:
    """`head` and the lines below it, the first few of them."""
    held = list(lines)
    more = [f"and {len(held) - MOST} more"] if len(held) > MOST else []
    return "\n".join((head, *(f"· {line}" for line in (*held[:MOST], *more))))


def within(order: Order, days: Days) -> bool:
    """Whether an order is due on one of `days`."""
    due = order.draft.due.value
    return due is not None and due.first <= days[1] and due.last >= days[0]


def counted(orders: Sequence[Order]) -> str:
    """`2 orders, 60 cookies`."""
    cookies = sum(order.draft.count.value or 0 for order in orders)
    return f"{many(len(orders), 'order')}, {many(cookies, 'cookie')}"


def total(quote: Quote) -> str:
    """`$72.00 in all, deposit $36.00 by Mon 7 Dec`."""
    amount, deposit = (shown(each, quote.currency, quote.locale) for each in (quote.total, quote.deposit))
    by = f" by {spoken((quote.deposit_by, quote.deposit_by))}" if quote.deposit_by else ""
    return f"{amount} in all" + (f", deposit {deposit}{by}" if quote.deposit else "")


def priced(quote: Quote) -> list[str]:
    """Each line of a quote with its amount and the reason for it."""
    lines = (
        f"{shown(line.amount, quote.currency, quote.locale)}  {line.label}{f': {line.why}' if line.why else ''}"
        for line in quote.lines
    )
    return [*lines, *quote.notes]


def left_words(order: Order) -> str:
    """`$36.00 left to pay`, `all is paid`, `$5.00 to give back`, `no price yet`."""
    quote = order.quote
    if quote is None:
        return "no price yet"
    left = quote.total - order.paid
    amount = shown(abs(left), quote.currency, quote.locale)
    return f"{amount} left to pay" if left > 0 else f"{amount} to give back" if left < 0 else "all is paid"


def verdict_words(verdict: Verdict, order_id: int, names: Mapping[int, str], today: date) -> str:
    """Whether there is room, in a sentence or two."""
    from intake.kitchen.words import hours

    match verdict:
        case Fits(plan, tight):
            spare = plan.slack.get(order_id, 0)
            how = "It fits, but only just" if order_id in tight else "It fits"
            return f"{how}: {f'{hours(spare)} to spare' if spare else 'nothing to spare'}."
        case Clash(orders, newest, short, earliest):
            others = ", ".join(names.get(other, f"order {other}") for other in orders if other != newest)
            beside = f" beside {others}" if others else ""
            first = "No day ahead works."
            if earliest:
                first = f"The first day that would work is {day_words(earliest, today)}."
            return f"It can't be made in time{beside}. {_sentence(short)}{first}"
        case _:
            return f"That is not decided: {verdict.why.strip().rstrip('.')}. Treat the day as full until it is."


def _sentence(text: str) -> str:
    text = text.strip().rstrip(".")
    return f"{upper(text)}. " if text else ""
