"""Words of a message, and what the baker says that they are: a field of the slip."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, OptionList, Static, TextArea
from textual.widgets.option_list import Option

from intake.clean import clean
from tui import words
from tui.plain import joined, plain

#: The fields that are offered, the more often missed first.
FIELDS: tuple[str, ...] = (
    "count", "theme", "due", "handover", "lettering", "colors", "flavors", "dietary", "honoree", "age", "occasion",
    "customer", "address", "packaging", "budget", "phone", "email",
)  # fmt: skip
#: Fields whose words are the value itself; the others are read.
AS_WRITTEN = frozenset({"theme", "honoree", "customer", "address", "lettering", "phone", "email"})


class WhatSheet(ModalScreen[tuple[str, str]]):
    """Gives the field and the words, both empty where she leaves it. `marked` are words chosen with the mouse; where
    there are none, they are chosen in the text: shift and the arrows."""

    BINDINGS: ClassVar = [("escape", "leave", "Back")]

    def __init__(self, text: str, marked: str) -> None:
        super().__init__()
        self._text, self._marked = clean(text), " ".join(clean(marked).split())

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet what"):
            yield Static(plain("What do these words say?", "bold"))
            how = "Choose the words with shift and the arrows, Tab, then what they are." if not self._marked else ""
            yield Static(plain(how or f"“{self._marked}”"), id="what-words")
            text = TextArea(self._text, read_only=True, compact=True, soft_wrap=True, id="what-text")
            text.display = not self._marked
            yield text
            yield OptionList(*(Option(plain(words.LABELS[name])) for name in FIELDS), id="what-fields", compact=True)
            with Horizontal(classes="answers"):
                yield Button(joined(plain("Enter", "bold"), plain("That is it"), by="  "), id="save", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Leave it"), by="  "), id="leave", compact=True)

    def on_mount(self) -> None:
        self.query_one("#what-fields", OptionList).highlighted = 0
        self.query_one("#what-fields" if self._marked else "#what-text").focus()

    @on(OptionList.OptionSelected)
    @on(Button.Pressed, "#save")
    def _save(self) -> None:
        chosen = self._marked or " ".join(self.query_one(TextArea).selected_text.split())
        place = self.query_one(OptionList).highlighted
        if chosen and place is not None:
            self.dismiss((FIELDS[place], chosen))
        else:
            self.query_one("#what-words", Static).update(plain("! Choose the words first.", "bold"))
            self.query_one(TextArea).focus()

    @on(Button.Pressed, "#leave")
    def action_leave(self) -> None:
        self.dismiss(("", ""))
