"""The fewest questions that would settle an order: what is missing, and what was read in more than one way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from intake.model import Cell, Design, Draft, Due
from intake.record import on_the_party
from intake.replies.dates import due_words
from intake.replies.words import HANDOVERS, QUESTIONS, dietary_words, joined, packaging_words

_MOST_OPTIONS = 3
_LONGEST = 300


@dataclass(frozen=True, slots=True)
class Question:
    """One question for the customer. `why` says to the baker what it rests on."""

    field: str
    text: str
    why: str


def questions(draft: Draft, language: str) -> tuple[Question, ...]:
    """What to ask, the core of an order first; only whether it still stands, where that is in doubt."""
    if draft.cancelled.value and not draft.cancelled.sure:
        return (_question(draft, "cancelled", language),)
    return tuple(_question(draft, name, language) for name in open_fields(draft))


def open_fields(draft: Draft) -> tuple[str, ...]:
    """The fields to ask about, the core of an order first, then what is baked or packed differently for it."""
    nothing_to_draw = draft.theme.missing and draft.designs.missing and draft.lettering.missing
    going = draft.handover.sure and draft.handover.value in ("ship", "deliver")
    core = {
        "count": _unsettled(draft.count),
        "theme": nothing_to_draw or _doubtful(draft.theme),
        "lettering": _doubtful(draft.lettering),
        "due": _unsettled(draft.due),
        "due_is": not _unsettled(draft.due) and (_doubtful(draft.due_is) or on_the_party(draft)),
        "handover": _unsettled(draft.handover),
        "address": going and _unsettled(draft.address),
    }
    rest = ("dietary", "designs", "colors", "flavors", "packaging")
    return tuple(name for name, wanted in core.items() if wanted) + tuple(
        name for name in rest if _doubtful(draft.cell(name))
    )


def _unsettled(cell: Cell[Any]) -> bool:
    return cell.missing or not cell.sure


def _doubtful(cell: Cell[Any]) -> bool:
    """Something was said and is not certain; a field that was never mentioned is not doubtful."""
    return not cell.sure and bool(not cell.missing or cell.why or cell.others)


def _question(draft: Draft, name: str, language: str) -> Question:
    cell = draft.cell(name)
    form = name
    if name == "due_is":
        readings = [shown(draft.due.value, "due", language)]
        form = "party" if cell.sure else name
    else:
        values = [value for value in (cell.value, *cell.others) if value not in (None, "", ())]
        readings = list(dict.fromkeys(shown(value, name, language) for value in values))[:_MOST_OPTIONS]
        if name == "due" and len(readings) == 1 and cell.value is not None and cell.value.is_window:
            form = "window"
    bare, one, several = QUESTIONS[language][form]
    pattern = several if len(readings) > 1 and several else one if readings else bare
    # The pattern is ours; what the customer wrote goes in as a value and is not read as a format.
    text = pattern.format(options=joined(readings, language, either=True))
    open_yet = "not said yet" if cell.missing else "the day is the party's" if form == "party" else "to check"
    why = cell.why or open_yet
    return Question(name, text, f"{name}: {why}")


def plain(text: object) -> str:
    """A value on one line and of bounded length, so that it can't pass for another line of the reply."""
    return " ".join(str(text).split())[:_LONGEST]


def quoted(text: str, language: str) -> str:
    return f"«{plain(text)}»" if language == "es" else f"“{plain(text)}”"


def design_words(design: Design) -> str:
    return plain(design.what) + (f" ({design.count})" if design.count is not None else "")


def shown(value: Any, name: str, language: str) -> str:
    """One reading of field `name` as a customer would see it."""
    match value:
        case Due():
            return due_words(value, language)
        case str() if name == "handover":
            return HANDOVERS[language].get(value, plain(value))
        case tuple():
            return joined(words(value, name, language), language)
        case _:
            return plain(value)


def words(values: Sequence[Any], name: str, language: str) -> list[str]:
    """The values of a list field, each as a customer would see it."""
    match name:
        case "designs":
            return [design_words(value) for value in values]
        case "lettering":
            return [quoted(value, language) for value in values]
        case "dietary":
            return [plain(word) for word in dietary_words(values, language)]
        case "packaging":
            return [plain(word) for word in packaging_words(values, language)]
        case _:
            return [plain(value) for value in values]
