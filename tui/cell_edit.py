"""A small sheet for one field of a slip: what was read, what else it may be, and a line to type another value."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Input, OptionList, Static
from textual.widgets.option_list import Option

from intake.model import Cell, OrdertinError
from tui import fields, words
from tui.plain import joined, plain

_TITLES = {"due_is": "what the day is"}


@dataclass(frozen=True, slots=True)
class Change:
    """The value that the baker gives a field; None, or an empty tuple, empties it."""

    field: str
    value: Any


class CellEdit(ModalScreen[Change | None]):
    """Gives the change, or None where the field is left as it is."""

    BINDINGS: ClassVar = [("escape", "leave", "Leave it")]

    def __init__(self, field: str, cell: Cell[Any], said: tuple[str, ...], today: date) -> None:
        """`said` are the words of the evidence, as the customer wrote them."""
        super().__init__()
        self._field, self._cell, self._said, self._today = field, cell, said, today
        self._choices = choices(field, cell)

    def compose(self) -> ComposeResult:
        said = "; ".join(f"\u201c{text}\u201d" for text in self._said)
        with Vertical(classes="sheet"):
            yield Static(
                joined(
                    plain(_TITLES.get(self._field, words.LABELS[self._field]), "bold"),
                    plain(f"read from {said}" if said else ""),
                    plain(self._cell.why, "italic"),
                    by="\n",
                ),
                id="cell-why",
            )
            options = OptionList(
                *(Option(plain(words.value_words(self._field, value, self._today))) for value in self._choices),
                id="cell-choices",
                compact=True,
            )
            options.display = bool(self._choices)
            yield options
            yield Input(fields.typed(self._field, self._cell.value), id="cell-typed", compact=True)
            yield Static(plain(fields.form(self._field), "italic"), id="cell-form")
            with Horizontal(classes="answers"):
                yield Button(joined(plain("Enter", "bold"), plain("Keep this"), by="  "), id="save", compact=True)
                yield Button(plain("Empty it"), id="clear", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Leave it"), by="  "), id="leave", compact=True)

    def on_mount(self) -> None:
        choosing = bool(self._choices) and (len(self._choices) > 1 or self._field in fields.CHOICES)
        (self.query_one(OptionList) if choosing else self.query_one(Input)).focus()

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self._give(self._choices[event.option_index])

    @on(Input.Submitted)
    @on(Button.Pressed, "#save")
    def _save(self) -> None:
        try:
            self._give(fields.value_of(self._field, self.query_one(Input).value, self._today))
        except OrdertinError as error:
            self.query_one("#cell-form", Static).update(plain(error, "bold"))
            self.query_one(Input).focus()

    @on(Button.Pressed, "#clear")
    def _clear(self) -> None:
        self._give(fields.value_of(self._field, "", self._today))

    @on(Button.Pressed, "#leave")
    def action_leave(self) -> None:
        self.dismiss(None)

    def _give(self, value: Any) -> None:
        self.dismiss(Change(self._field, value))


def choices(field: str, cell: Cell[Any]) -> tuple[Any, ...]:
    """What may be picked: the value as read, its other readings, then the fixed words of the field."""
    read = () if cell.missing else (cell.value,)
    fixed: tuple[Any, ...] = (True, False) if field == "cancelled" else fields.CHOICES.get(field, ())
    picked: list[Any] = []
    for value in (*read, *cell.others, *fixed):
        if value not in picked:
            picked.append(value)
    return tuple(picked)
