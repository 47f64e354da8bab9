"""The Bench as lines of plain text for the terminal, and the days that the baker names."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

from intake.book.kitchen_rows import DayRule
from intake.kitchen.agenda import Line, agenda, bar, day_line, missing, percent
from intake.kitchen.bench import Sheet
from intake.kitchen.words import day_words
from intake.model import Mark, Order, OrdertinError

_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def day_named(text: str, today: date) -> date:
    """The day of "today", "tomorrow", a weekday (the coming one, or today) or 2027-03-14. Raises OrdertinError."""
    said = text.strip().lower()
    if said in ("", "today"):
        return today
    if said == "tomorrow":
        return today + timedelta(days=1)
    near = [n for n, name in enumerate(_WEEKDAYS) if len(said) >= 3 and name.startswith(said)]
    if near:
        return today + timedelta(days=(near[0] - today.weekday()) % 7)
    try:
        return date.fromisoformat(said)
    except ValueError:
        raise OrdertinError(
            f"“{text:.40}” is not a day", todo="Name it today, tomorrow, friday or 2027-03-14"
        ) from None


def names_of(orders: Sequence[Order]) -> dict[int, str]:
    """Who each order is for and what it is, by its number."""
    return {
        o.id: f"{o.draft.customer.value or f'order {o.id}'}, {o.draft.count.value or '?'} "
        f"{o.draft.theme.value or 'cookies'}"
        for o in orders
    }


def day_sheet(sheet: Sheet, day: date, marks: Sequence[Mark], names: Mapping[int, str]) -> str:
    """One day with its lines numbered, what is late, and what can't be kept."""
    load = next((load for load in sheet.loads if load.day == day), None)
    rows = [f"{day_words(day)}: {day_line(load)}" if load else day_words(day)]
    lines = agenda(sheet, day, marks)
    rows += [_row(number, line, names) for number, line in enumerate(lines, 1)]
    if not lines:
        rows.append("  Nothing to do.")
    if sheet.late and day == sheet.now.date():
        rows += ["", "Late, and planned again:"]
        rows += [
            f"  ! {late.task}, {names.get(late.order_id, '')} (was {late.planned:%a %H:%M})" for late in sheet.late
        ]
    if found := missing(sheet, names):
        rows += ["", "Can't be kept:", *(f"  ! {line}" for line in found)]
    return "\n".join(rows)


def _row(number: int, line: Line, names: Mapping[int, str]) -> str:
    note = f" ({line.note})" if line.note else ""
    who = names.get(line.order_id, f"order {line.order_id}")
    return f"{number:>3}  {line.sign} {line.clock:<11}  {line.what:<28}  {who}{note}"


def load_sheet(sheet: Sheet) -> str:
    """Six weeks of days, a bar each."""
    rows: list[str] = []
    for load in sheet.loads:
        if load.day.weekday() == 0 and rows:
            rows.append("")
        leaves = f"  {load.hand_overs} leave{'s' if load.hand_overs == 1 else ''}" if load.hand_overs else ""
        day = f"{load.day:%a} {load.day.day:>2} {load.day:%b}"
        rows.append(f"{day}  {bar(load, 20)} {percent(load):>3}%  {day_line(load)}{leaves}")
    return "\n".join(rows)


def days_sheet(rules: Sequence[DayRule]) -> str:
    """The coming days that are otherwise than their week."""
    said = {"off": "off", "extra": "more hours"}
    return "\n".join(f"{rule.day:%a} {rule.day}  {said[rule.kind]} {rule.hours}".rstrip() for rule in rules)
