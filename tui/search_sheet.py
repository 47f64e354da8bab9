"""A search through all messages of the book: type, choose a conversation, open it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Input, OptionList, Static
from textual.widgets.option_list import Option

from tui.plain import joined, plain

if TYPE_CHECKING:
    from intake.desk_search import Hit
    from tui.app import OrdertinApp

_HOW = "Words that were said, or a name, or how they begin. Every one must be there."


class SearchSheet(ModalScreen[str]):
    """Gives the conversation to open, empty where none was chosen."""

    BINDINGS: ClassVar = [("escape", "leave", "Back")]

    def __init__(self) -> None:
        super().__init__()
        self._found: tuple[Hit, ...] = ()

    @property
    def ordertin(self) -> OrdertinApp:
        return self.app  # type: ignore[return-value]

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet search"):
            yield Static(plain("Search all messages", "bold"))
            yield Input(placeholder="such as: dinosaurs Theo", id="search-words")
            yield OptionList(id="search-found")
            yield Static(plain(_HOW, "italic"), id="search-said")
            with Horizontal(classes="answers"):
                yield Button(joined(plain("Enter", "bold"), plain("Open it"), by=" "), id="open", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Back"), by=" "), id="back", compact=True)

    def on_mount(self) -> None:
        self.query_one(Input).focus()

    @on(Input.Changed)
    def _typed(self, event: Input.Changed) -> None:
        from tui.lane import Job

        words = event.value
        if not words.strip():
            self._show((), words)
            return

        def work(desk: Any) -> tuple[Hit, ...]:
            found: tuple[Hit, ...] = desk.search(words)
            return found

        def then(found: tuple[Hit, ...]) -> None:
            if self.is_attached and self.query_one(Input).value == words:
                self._show(found, words)

        self.ordertin.lanes["desk"].put(Job("search", work, then, self._failed, fresh=True))

    def _show(self, found: tuple[Hit, ...], words: str) -> None:
        self._found = found
        listed = self.query_one(OptionList)
        listed.clear_options()
        listed.add_options(Option(face(hit)) for hit in found)
        if found:
            listed.highlighted = 0
        none = "No message holds all of these words." if words.strip() else _HOW
        self.query_one("#search-said", Static).update(plain("" if found else none, "italic"))

    def _failed(self, error: BaseException) -> None:
        self.dismiss("")
        self.ordertin.counter.problem(error)

    def on_key(self, event: events.Key) -> None:
        """The arrows walk the list while the typing goes on."""
        listed = self.query_one(OptionList)
        if isinstance(self.focused, Input) and event.key in ("up", "down", "pageup", "pagedown"):
            event.stop()
            getattr(listed, {"up": "action_cursor_up", "down": "action_cursor_down"}.get(
                event.key, f"action_{'page_up' if event.key == 'pageup' else 'page_down'}"
            ))()  # fmt: skip

    @on(Input.Submitted)
    @on(OptionList.OptionSelected)
    def _chosen(self) -> None:
        place = self.query_one(OptionList).highlighted
        if place is not None and place < len(self._found):
            self.dismiss(self._found[place].thread_id)

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        if event.button.id == "open":
            self._chosen()
        else:
            self.action_leave()

    def action_leave(self) -> None:
        self.dismiss("")


def face(hit: Hit) -> Content:
    """Two lines: who and when, what was said."""
    who = plain(hit.customer or "a customer", "bold")
    said = plain(f"  {'you: ' if hit.mine else ''}{hit.excerpt}")
    return joined(joined(who, plain(f"{hit.at:%Y-%m-%d}"), by="  "), said, by="\n")
