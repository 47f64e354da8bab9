"""Readings and orders as lines of plain text for the terminal."""

from __future__ import annotations

import textwrap

from intake.counted import many
from intake.model import DRAFT_FIELDS, Draft, HouseWord, Order, Reading, TakeReport, Thread
from intake.record import in_words

_LABELS = {
    "count": "cookies",
    "handover": "hand-over",
    "due_is": "the day is",
    "honoree": "for",
    "dietary": "diet",
}
_ALWAYS = ("count", "theme", "lettering", "due", "handover")
_DAY_IS = {"handover": "hand-over", "arrival": "to arrive by then", "event": "the party itself"}


def slip(thread: Thread, reading: Reading) -> str:
    """The drafts of a reading, one row a field: a sign and a word for sure, check and missing, the value, the words."""
    rows = [f"message   {reading.intent.value}{'' if reading.intent.sure else ' (check)'}"]
    if not reading.drafts:
        rows.append("No order in it.")
    for number, draft in enumerate(reading.drafts, 1):
        rows.append("")
        rows.append(f"order {number} of {len(reading.drafts)}" if len(reading.drafts) > 1 else "order")
        rows.extend(_row(thread, draft, name) for name in DRAFT_FIELDS if name in _ALWAYS or _worth(draft, name))
    return "\n".join(rows)


def _worth(draft: Draft, name: str) -> bool:
    cell = draft.cell(name)
    return not cell.missing or bool(cell.why)


def _row(thread: Thread, draft: Draft, name: str) -> str:
    cell = draft.cell(name)
    if cell.missing:
        sign, word = "?", "ask" if not cell.why else "check"
        value = cell.why or "not said"
        if name == "lettering" and not cell.why:
            sign, word, value = "-", "none", "nothing said of it"
    else:
        sign, word = ("+", "sure") if cell.sure else ("?", "check")
        value = _DAY_IS.get(str(cell.value), "") if name == "due_is" else in_words(cell.value)
        if cell.why:
            value += f" ({cell.why})"
    if cell.others:
        value += " - or " + ", ".join(in_words(other) for other in cell.others)
    said = _said(thread, draft, name)
    return f"  {sign} {word:<6}{_LABELS.get(name, name):<11}{value}" + (f"   “{said}”" if said else "")


def _said(thread: Thread, draft: Draft, name: str) -> str:
    for where in draft.cell(name).evidence:
        for message in thread.messages:
            if message.id == where.message:
                return textwrap.shorten(message.text[where.start : where.end], 40, placeholder="...")
    return ""


def trail(reading: Reading) -> str:
    """What was found, by which rule, and what became of it, in the order in which it was settled."""
    rows = [f"intent: {reading.intent.value} ({reading.intent.rule})"]
    for step in reading.trail:
        said = f"“{textwrap.shorten(step.said, 50, placeholder='...')}” " if step.said else ""
        rows.append(f"{step.field:<10} {said}-> {step.value or 'nothing'}   [{step.rule}: {step.outcome}]")
    for fold in reading.folds:
        rows.append(
            f"folded     {fold.kind}, {fold.evidence.end - fold.evidence.start} characters: shown, not read as an order"
        )
    return "\n".join(rows)


def word_line(word: HouseWord) -> str:
    """One word that a correction has taught."""
    if word.field == "habit":
        return f"“{word.said}” means the {'coming one' if word.means == 'coming' else 'one of the week after'}"
    kind = {"theme": "a theme", "colors": "a color", "flavors": "a flavor"}[word.field]
    return f"“{word.said}” is {kind}" + ("" if word.said == word.means.lower() else f", called “{word.means}” here")


def take_lines(report: TakeReport) -> list[str]:
    """What a take did to the book, a line for each thing; its problems are not among them."""
    known = f"; {report.messages_known:,} were there already" if report.messages_known else ""
    lines = [
        f"{many(report.messages_new, 'new message')} in {many(report.threads_new, 'new conversation')}, "
        f"{many(report.orders_new, 'new draft')}{known}"
    ]
    if report.unread:
        lines.append(f"{many(report.unread, 'old conversation')} kept without being read; a search finds them")
    return lines


def rack_line(order: Order) -> str:
    """One booked order: day, number, customer, what, how it leaves, where its work stands."""
    draft = order.draft
    day = in_words(draft.due.value) if draft.due.value else "no day"
    who = draft.customer.value or "a customer"
    step = order.step or "not begun"
    if order.change:
        step += "  ! asks for a change"
    return f"{day:<24} {order.id:>4}  {who:<24.24} {order.what:<32.32} {draft.handover.value or '':<8} {step}"
