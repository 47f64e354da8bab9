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

    BINDINGS: ClassVar = [
        ("escape", "leave", "Back"),
        ("left,up", "app.focus_previous", "Before"),
        ("right,down", "app.focus_next", "After"),
    ]

    def __init__(self, question: Content, answers: Sequence[Answer]) -> None:
        super().__init__()
        self._question, self._answers = question, tuple(answers)

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
        self.query(Button).first().focus()

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        self.dismiss((event.button.id or "").removeprefix("answer-"))

    def on_key(self, event: events.Key) -> None:
        if any(answer.key == event.character for answer in self._answers):
            event.stop()
            self.dismiss(event.character or "")

    def action_leave(self) -> None:
        self.dismiss("")
