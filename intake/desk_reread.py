"""A thread that is read again: what the new reading may change of the orders already drafted from it.

Each cell is weighed three ways: as the reader gave it before, as it stands in the order, as the reader gives it now.
Where the reader says what it said before, what the baker made of it stands; where the baker has done nothing, the new
reading stands; where both have moved, a value that the baker set stays and is shown to check.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from intake.model import DRAFT_FIELDS, Cell, Draft, Order, State
from intake.record import in_words

OPEN = (State.DRAFT, State.ASKED, State.QUOTED)
BAKER = "baker"


def merged(before: Draft, standing: Draft, fresh: Draft) -> Draft:
    """The draft of an order that is still open, after its thread has been read again."""
    cells = {name: _merged(before.cell(name), standing.cell(name), fresh.cell(name)) for name in DRAFT_FIELDS}
    return replace(standing, **cells)


def _merged(before: Cell[Any], standing: Cell[Any], fresh: Cell[Any]) -> Cell[Any]:
    if standing == before:
        return fresh
    if _same(before, fresh):
        return standing
    if standing.value == fresh.value:
        return standing if fresh.sure or standing.rule == BAKER else fresh
    if standing.rule != BAKER:
        return fresh
    if fresh.missing:
        return standing
    why = f"you set {in_words(standing.value)}; the messages now read {in_words(fresh.value)}"
    return replace(standing, sure=False, why=why, evidence=fresh.evidence, others=(fresh.value,))


def _same(before: Cell[Any], fresh: Cell[Any]) -> bool:
    """Whether the reader says the same thing on the word of the same messages; how it puts its doubt may differ."""
    said, says = ({e.message for e in cell.evidence} for cell in (before, fresh))
    return (before.value, before.sure, before.others, said) == (fresh.value, fresh.sure, fresh.others, says)


def news(before: Draft, standing: Draft, fresh: Draft) -> tuple[str, ...]:
    """What later messages say otherwise than an order that is no longer open, one line a field, for its note."""
    lines = []
    for name in DRAFT_FIELDS:
        was, stands, reads = before.cell(name), standing.cell(name), fresh.cell(name)
        if reads.value == was.value or reads.value == stands.value or (reads.missing and stands.missing):
            continue
        if name == "cancelled":
            lines.append("A later message " + ("cancels this order." if reads.value else "wants it after all."))
        else:
            label = name.replace("_", " ")
            lines.append(f"A later message reads {label}: {in_words(reads.value)} (here: {in_words(stands.value)}).")
    return tuple(lines)


def noted(note: str, lines: Sequence[str]) -> str:
    """`note` with each line at its end that it does not hold yet."""
    held = note.split("\n") if note else []
    return "\n".join([*held, *(line for line in dict.fromkeys(lines) if line not in held)])


def paired(orders: Sequence[Order], as_read: Sequence[Draft], fresh: Sequence[Draft]) -> list[int | None]:
    """For each fresh draft the index of the order it is about, or None for a new one: the most alike first.

    `as_read[i]` is the draft that `orders[i]` was last read as. Among equals an open order comes before a closed one,
    and the nearer place before the farther.
    """
    ranked = sorted(
        (-_alike(as_read[i], draft), orders[i].state not in OPEN, abs(orders[i].place - j), i, j)
        for i in range(len(orders))
        for j, draft in enumerate(fresh)
    )
    pairs: list[int | None] = [None] * len(fresh)
    for *_, i, j in ranked:
        if pairs[j] is None and i not in pairs:
            pairs[j] = i
    return pairs


def _alike(one: Draft, other: Draft) -> int:
    return sum(
        not one.cell(name).missing and one.cell(name).value == other.cell(name).value
        for name in DRAFT_FIELDS
        if name not in ("customer", "phone", "email")
    )
