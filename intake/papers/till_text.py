"""The till as lines of text: figures of a month, bars of its year, what is owed, and how far a cap is used up."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from fractions import Fraction

from intake.money import shown
from intake.pricing.money import rounded, unit_of
from intake.pricing.owed import Owed
from intake.pricing.till import CAP_CAUTION, Month, Till

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
TAKEN, TO_COME = "█", "░"
BAR = 30


def till_lines(till: Till, today: date) -> list[str]:
    """The whole till, a line each."""
    found = [f"{MONTHS[till.month.month - 1]} {till.month.year}", *figures(till), "", str(till.month.year)]
    found += [f"  {line}" for line in bars(till)]
    found += ["", "Owed", *(f"  {owed_line(each)}" for each in till.owed)] if till.owed else ["", "Nothing is owed."]
    if till.cap:
        found += ["", *cap_lines(till)]
    return found + [f"note: {note}" for note in till.notes]


def figures(till: Till, *, brief: bool = False) -> list[str]:
    """A line for each state of what is handed over in the month and in its year, for what came in and what went back,
    and for what an hour has earned. `brief` leaves out how many orders there are."""
    rows = [(str(s.state), s.total, s.orders, s.year_total, s.year_orders) for s in till.stands]
    in_year = till.year_taken + till.year_given_back
    rows += [("taken", till.taken, 0, in_year, 0), ("given back", till.given_back, 0, till.year_given_back, 0)]
    wide = max(len(money(till, amount)) for _, month, _, year, _ in rows for amount in (month, year, Decimal(0)))
    gap = "" if brief else " " * 7
    lines = [f"  {'':<11} {'month':>{wide}}{gap}  {'year':>{wide}}".rstrip()]
    for label, month, orders, year, all_orders in rows:
        counts = ["" if brief else f" {f'({each})' if each else '':<6}" for each in (orders, all_orders)]
        line = f"  {label:<11} {money(till, month):>{wide}}{counts[0]}  {money(till, year):>{wide}}{counts[1]}"
        lines.append(line.rstrip())
    if till.an_hour is not None:
        more = "" if brief else "  earned by what is booked or handed over in the month"
        lines.append(f"  {'an hour':<11} {money(till, till.an_hour):>{wide}}{more}")
    return lines


def money(till: Till, amount: Decimal | Fraction) -> str:
    return shown(rounded(amount, unit_of(till.currency)), till.currency, till.locale)


def bars(till: Till, width: int = BAR, *, brief: bool = False) -> Iterator[str]:
    """A bar a month: what was taken, and behind it what is to come; `brief` leaves the figure of the latter out."""
    most = max((max(month.taken, Decimal(0)) + month.to_come for month in till.months), default=Decimal(0))
    wide = max(len(money(till, each)) for month in till.months for each in (month.taken, month.to_come))
    for month in till.months:
        drawn = bar(month, most, width)
        to_come = f"  to come {money(till, month.to_come)}" if month.to_come and not brief else ""
        yield f"{MONTHS[month.first.month - 1]} {money(till, month.taken):>{wide}}  {drawn:<{width}}{to_come}".rstrip()
    yield f"{TAKEN} taken, {money(till, till.year_taken)} in the year"
    yield f"{TO_COME} to come, {money(till, sum((month.to_come for month in till.months), Decimal(0)))}"


def bar(month: Month, most: Decimal, width: int) -> str:
    """What is there shows by a block at least, and the longest bar is as long as there is room."""
    taken = max(month.taken, Decimal(0))
    blocks = [_blocks(taken, most, width), _blocks(month.to_come, most, width)]
    while sum(blocks) > width:
        blocks[blocks.index(max(blocks))] -= 1
    return TAKEN * blocks[0] + TO_COME * blocks[1]


def _blocks(amount: Decimal, most: Decimal, width: int) -> int:
    return max(1, round(width * amount / most)) if amount and most else 0


def owed_line(owed: Owed) -> str:
    """`order 12, Dana: deposit $36.00 by 2026-03-18, 2 days late; $72.00 in all`."""
    who = owed.order.draft.customer.value
    name = f"order {owed.order.id}, {who}" if who else f"order {owed.order.id}"
    by = f" by {owed.by}" if owed.by else ""
    late = f", {owed.late} day{'' if owed.late == 1 else 's'} late" if owed.late else ""
    whole = f"; {_shown(owed, owed.left)} in all" if owed.left > owed.amount else ""
    return f"{name}: {owed.what} {_shown(owed, owed.amount)}{by}{late}{whole}"


def _shown(owed: Owed, amount: Decimal) -> str:
    return shown(amount, owed.currency, owed.locale)


def cap_lines(till: Till, width: int = BAR) -> list[str]:
    """How far the cap is used up, and the caution that belongs to it; none where no cap was entered."""
    cap = till.cap
    if cap is None:
        return []
    filled = min(width, max(0, int(width * cap.share)))
    over = ", over the cap" if cap.taken > cap.cap else ""
    percent = rounded(cap.share * 100, Decimal(1))
    return [
        f"Sales cap: {money(till, cap.taken)} of {money(till, cap.cap)} since {cap.since}, {percent}%{over}",
        f"  {TAKEN * filled}{TO_COME * (width - filled)}",
        f"  {CAP_CAUTION}",
    ]
