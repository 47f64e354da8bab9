"""One house rule to type: its name, a line for the value, and below it what it means or what is wrong with it."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import Input, Static

from intake.house_form import Field
from tui.plain import joined, plain

IN_FILE = "edit in the file"
_SHOWN = 60


class FormRow(Vertical):
    """`field` with what stands in its line; a rule that is too much for one line is only shown."""

    def __init__(self, field: Field, typed: str | None = None, *, called: str = "", note: str | None = None) -> None:
        """`typed` is what the baker has typed and not kept yet; `called` and `note` stand for the field's own."""
        super().__init__(classes="form-row")
        self.field, self._typed = field, field.typed if typed is None else typed
        self._label = called or field.label
        self._note = field.note if note is None else note

    def compose(self) -> ComposeResult:
        with Horizontal(classes="form-line"):
            yield Static(plain(self._label), classes="form-label")
            if self.field.kind == "file":
                shown = " ".join(self.field.typed.split())
                shown = shown if len(shown) <= _SHOWN else f"{shown[: _SHOWN - 1]}…"
                yield Static(joined(plain(shown), plain(IN_FILE, "italic"), by="  "), classes="form-shown")
            else:
                yield Input(self._typed, compact=True, classes="form-typed")
        yield Static(self._says(""), classes="form-note")

    def _says(self, wrong: str) -> Content:
        choices = f"One of: {', '.join(self.field.choices)}." if self.field.choices else ""
        between = "A semicolon between two." if self.field.kind in ("list", "numbers") else ""
        note = joined(*(plain(part, "dim") for part in (self._note, choices, between)), by="  ")
        return joined(plain(f"! {wrong}" if wrong else "", "bold"), note, by="\n")

    def refuse(self, wrong: str) -> None:
        """Say what is wrong with what was typed; an empty text takes that away."""
        self.set_class(bool(wrong), "wrong")
        note = self.query_one(".form-note", Static)
        note.update(self._says(wrong))
        note.display = bool(wrong or self._note or self.field.choices or self.field.kind in ("list", "numbers"))

    def on_mount(self) -> None:
        self.refuse("")

    @property
    def typed(self) -> str:
        """What stands in the line now."""
        lines = self.query(Input)
        return lines.first().value if lines else self.field.typed

    def begin(self) -> None:
        """Have the line ready to type in."""
        for line in self.query(Input):
            line.focus()
            line.cursor_position = len(line.value)
