"""A small sheet that asks for one line of typing."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Input, Static

from tui.plain import joined, plain


class Typed(ModalScreen[str]):
    """Gives what was typed, or an empty text where nothing was (Escape)."""

    BINDINGS: ClassVar = [("escape", "leave", "Back")]

    def __init__(self, title: str, about: str, given: str, hint: str) -> None:
        super().__init__()
        self._title, self._about, self._given, self._hint = title, about, given, hint

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield Static(joined(plain(self._title, "bold"), plain(self._about), by="\n"), id="cell-why")
            yield Input(self._given, id="cell-typed", compact=True)
            yield Static(plain(self._hint, "italic"), id="cell-form")
            with Horizontal(classes="answers"):
                yield Button(joined(plain("Enter", "bold"), plain("Keep this"), by="  "), id="save", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Leave it"), by="  "), id="leave", compact=True)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    @on(Input.Submitted)
    @on(Button.Pressed, "#save")
    def _save(self) -> None:
        self.dismiss(" ".join(self.query_one(Input).value.split()))

    @on(Button.Pressed, "#leave")
    def action_leave(self) -> None:
        self.dismiss("")
