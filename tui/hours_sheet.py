"""A small sheet that asks for hours of one day."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Input, Static

from intake.clean import clean
from tui.plain import plain


class HoursSheet(ModalScreen[str | None]):
    """Gives the hours as typed, or None where there are none."""

    BINDINGS: ClassVar = [("escape", "leave", "Leave it")]

    def __init__(self, title: str) -> None:
        super().__init__()
        self._title = title

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            yield Static(plain(self._title, "bold"))
            yield Static(plain("Type them like 08:00-12:00, more than one with a comma between."), classes="hint")
            yield Input(id="hours-typed", compact=True)
            with Horizontal(classes="answers"):
                yield Button(plain("Add them  Enter"), id="hours-add", compact=True)
                yield Button(plain("Leave it  Esc"), id="hours-leave", compact=True)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    @on(Input.Submitted)
    @on(Button.Pressed, "#hours-add")
    def _add(self) -> None:
        self.dismiss(clean(self.query_one(Input).value).strip() or None)

    @on(Button.Pressed, "#hours-leave")
    def action_leave(self) -> None:
        self.dismiss(None)
