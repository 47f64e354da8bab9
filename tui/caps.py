"""Key caps: an action's key and name, which is also its button. A row of them is a screen's key bar."""

from __future__ import annotations

from collections.abc import Iterable

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from tui.actions import Action
from tui.plain import joined, plain


class Cap(Static):
    """One action's key and label; a click does the action."""

    ALLOW_SELECT = False

    class Pressed(Message):
        def __init__(self, action: str) -> None:
            super().__init__()
            self.action = action

    def __init__(self, action: Action) -> None:
        super().__init__(self.face(action), id=f"cap-{action.name}")
        self.does = action.name

    @staticmethod
    def face(action: Action) -> Content:
        return joined(plain(action.key, "bold"), plain(action.label), by=" ")

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Pressed(self.does))


class Caps(Horizontal):
    """A row of caps. `show` says which is due next and which can't be done now."""

    def __init__(self, actions: Iterable[Action], id: str) -> None:  # noqa: A002 - the name is Textual's
        super().__init__(id=id)
        self._actions = tuple(actions)

    def compose(self) -> ComposeResult:
        for action in self._actions:
            yield Cap(action)

    def show(self, due: str, off: frozenset[str]) -> None:
        for cap in self.query(Cap):
            cap.set_class(cap.does == due, "due")
            cap.set_class(cap.does in off, "off")
