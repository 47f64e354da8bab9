"""A question with a few named answers, each a key and a button."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from tui.plain import joined, plain


@dataclass(frozen=True, slots=True)
class Answer:
    key: str
    label: str


class Ask(ModalScreen[str]):
    """Gives the key of the chosen answer, or an empty text where none was (Escape)."""

    AUTO_FOCUS: ClassVar = ""
    BINDINGS: ClassVar = [
        ("escape", "leave", "Back"),
        ("left,up", "app.focus_previous", "Before"),
        ("right,down", "app.focus_next", "After"),
    ]

    def __init__(self, question: Content, answers: Sequence[Answer], *, first: bool = True) -> None:
        """`first` lets Enter take the first answer; else one has to be chosen before."""
        super().__init__()
        self._question, self._answers, self._first = question, tuple(answers), first
        self._given = False

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet"):
            with VerticalScroll(classes="question", can_focus=False):
                yield Static(self._question)
            with Horizontal(classes="answers"):
                for answer in self._answers:
                    yield Button(
                        joined(plain(answer.key, "bold underline"), plain(answer.label), by="  "),
                        id=f"answer-{answer.key}",
                        compact=True,
                    )

    def on_mount(self) -> None:
        if self._first:
            self.query(Button).first().focus()

    def _give(self, key: str) -> None:
        """Close with an answer; a second key on its heels is too late."""
        if not self._given:
            self._given = True
            self.dismiss(key)

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        self._give((event.button.id or "").removeprefix("answer-"))

    def on_key(self, event: events.Key) -> None:
        if any(answer.key == event.character for answer in self._answers):
            event.stop()
            self._give(event.character or "")

    def action_leave(self) -> None:
        self._give("")
