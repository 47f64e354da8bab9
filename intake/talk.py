"""What the baker types to the assistant about an order, as corrections of its fields. Reads with the same reader."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from intake.house import ReadingPart
from intake.model import Cell, Order, Thread
from intake.record import in_words

#: How a field is spoken of.
SPOKEN = {
    "count": "count",
    "theme": "theme",
    "designs": "designs",
    "lettering": "lettering",
    "due": "due",
    "handover": "hand-over",
    "due_is": "what the day is",
    "dietary": "dietary needs",
    "honoree": "who it is for",
}
_CLEARED = {"lettering": "no lettering", "theme": "no theme", "packaging": "no packaging", "colors": "no colors"}
_NO_FIELD = re.compile(
    r"^\s*(?:no|without|clear(?: the)?|drop the|forget the|remove the)\s+(?P<f>theme|names?|lettering|words|writing"
    r"|colou?rs?"
    r"|packaging|bags|box(?:es)?|ribbons?|tags?|flavou?rs?|budget|address|designs?|phone|e-?mail|age|occasion)\W*$",
    re.IGNORECASE,
)
_FIELD_OF = {
    "name": "lettering", "word": "lettering", "writing": "lettering", "color": "colors", "colour": "colors",
    "bag": "packaging", "box": "packaging", "boxe": "packaging", "ribbon": "packaging", "tag": "packaging",
    "flavor": "flavors", "flavour": "flavors", "design": "designs", "e-mail": "email",
}  # fmt: skip
_LONE_COUNT = re.compile(r"^\s*(?:it'?s |just |only )?(\d{1,4})\s*[.!]?\s*$")


@dataclass(frozen=True, slots=True)
class Correction:
    """The cells to change (an empty one clears its field) and the assistant's answer. No changes: not understood."""

    changes: dict[str, Cell[Any]]
    answer: str


def corrections(words: str, thread: Thread, order: Order, rules: ReadingPart, *, at: datetime) -> Correction:
    """What `words` ("make it 3 dozen, pickup", "due the 14th", "no names") change of an order. Raises nothing."""
    from intake.reading.pipeline import said_by_baker

    if not words.strip():
        return Correction({}, "Nothing was typed.")
    cleared = _NO_FIELD.match(words)
    lone = _LONE_COUNT.match(words)
    if cleared:
        said = cleared["f"].lower().rstrip("s")
        name = _FIELD_OF.get(said, said)
        cells: dict[str, Cell[Any]] = {name if name in SPOKEN or name in _FIELD_OF.values() else said: Cell()}
    elif lone:
        cells = {"count": Cell(int(lone[1]), True)}
    else:
        cells = said_by_baker(thread, order.place, words, at, rules)
    changes = {
        name: replace(cell, sure=True, why="", others=())
        for name, cell in cells.items()
        if cell.value != order.draft.cell(name).value or (not cell.missing and not order.draft.cell(name).sure)
    }
    if changes:
        return Correction(changes, _answer(changes))
    if cells:
        name = next(iter(cells))
        return Correction(
            {}, f"{SPOKEN.get(name, name).capitalize()} is {in_words(cells[name].value) or 'empty'} already."
        )
    return Correction(
        {},
        "I found nothing to change in that. Try a count, a day, a way of handing over, or words for the cookies: "
        "“make it 3 dozen, pickup”.",
    )


def _answer(changes: dict[str, Cell[Any]]) -> str:
    parts = []
    for name, cell in changes.items():
        if name == "due_is":
            continue
        if cell.missing:
            parts.append(_CLEARED.get(name, f"no {SPOKEN.get(name, name)}"))
        else:
            parts.append(f"{SPOKEN.get(name, name)}: {in_words(cell.value)}")
    return f"Changed. {'; '.join(parts)[:1].upper()}{'; '.join(parts)[1:]}." if parts else "Changed."
