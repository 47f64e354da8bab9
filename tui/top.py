"""The line on top: where she is, what else there is, and the way out."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Static

from tui.actions import ANYWHERE, on
from tui.caps import Cap
from tui.plain import plain


class Top(Horizontal):
    """`title` names the screen; caps lead elsewhere."""

    def __init__(self, title: str, screen: str, *, demo: bool = False) -> None:
        super().__init__()
        self._title, self._screen, self._demo = title, screen, demo

    def compose(self) -> ComposeResult:
        yield Static(plain(self._title, "bold"), id="title")
        for action in on(self._screen):
            if action.bar == "top":
                yield Cap(action)
        yield Static(plain("demo book" if self._demo else ""), id="today")
        for action in on(ANYWHERE):
            if action.bar == "top":
                yield Cap(action)

    def say(self, words: Content) -> None:
        self.query_one("#today", Static).update(words)
