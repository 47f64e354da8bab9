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
        super().__init__(face(action), id=f"cap-{action.name}")
        self.action, self.does = action, action.name

    def shorten(self, how: int) -> None:
        """The whole label (0), the brief one (1), or the key alone (2)."""
        self.update(face(self.action, how))

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Pressed(self.does))


def face(action: Action, how: int = 0) -> Content:
    label = (action.label, action.brief or action.label, "")[how]
    return joined(plain(action.key, "bold"), plain(label), by=" ")


class Caps(Horizontal):
    """A row of caps. `show` says which is due next and which can't be done now. Where the row is too narrow for whole
    names, they are brief; where it is too narrow for those, only what is due and the last two have any."""

    def __init__(self, actions: Iterable[Action], id: str) -> None:  # noqa: A002 - the name is Textual's
        super().__init__(id=id)
        self._actions = tuple(actions)
        self._due = ""

    def compose(self) -> ComposeResult:
        for action in self._actions:
            cap = Cap(action)
            cap.display = not action.stead
            yield cap

    def show(self, due: str, off: frozenset[str], now: frozenset[str] = frozenset()) -> None:
        """`now` names the actions that have taken another's key."""
        taken = {action.stead for action in self._actions if action.name in now}
        for cap in self.query(Cap):
            cap.display = cap.does in now if cap.action.stead else cap.does not in taken
            cap.set_class(cap.does == due, "due")
            cap.set_class(cap.does in off, "off")
        self._due = due
        self.on_resize()

    def on_resize(self) -> None:
        caps = [cap for cap in self.query(Cap) if cap.display]
        whole, brief = (sum(len(face(cap.action, how).plain) + 1 for cap in caps) for how in (0, 1))
        for cap in caps:
            kept = cap.does == self._due or cap in caps[-2:]
            cap.shorten(0 if whole <= self.size.width else 1 if kept or brief <= self.size.width else 2)
