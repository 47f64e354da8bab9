"""A page to read and close: the help, or the trace of a fault."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from intake.home import Home
from intake.model import State
from tui import words
from tui.actions import ACTIONS, ANYWHERE, BENCH, COUNTER, RACK, RULES, TILL, shown_key
from tui.plain import joined, plain


class Page(ModalScreen[None]):
    BINDINGS: ClassVar = [("escape,f1,q", "leave", "Back")]

    def __init__(self, matter: Content) -> None:
        super().__init__()
        self._matter = matter

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet page"):
            with VerticalScroll(id="matter"):
                yield Static(self._matter)
            yield Button(plain("Back  Esc"), id="back", compact=True)

    def on_mount(self) -> None:
        self.query_one("#matter").focus()

    def on_button_pressed(self) -> None:
        self.dismiss()

    def action_leave(self) -> None:
        self.dismiss()


def help_text(home: Home | None = None) -> Content:
    """Every action by screen, what the signs mean, and where the files of `home` are."""
    parts: list[Content] = []
    places = (
        (COUNTER, "At the Counter"),
        (RACK, "At the Rack"),
        (BENCH, "At the Bench"),
        (TILL, "At the Till"),
        (RULES, "At the house rules"),
        (ANYWHERE, "Anywhere"),
    )
    for screen, heading in places:
        parts.append(plain(heading, "bold underline"))
        for action in ACTIONS:
            if screen not in action.on:
                continue
            keys = " or ".join(shown_key(key) for key in action.keys) or "^p"
            parts.append(joined(plain(f"  {keys:<10}", "bold"), plain(f"{action.label}: {action.says}")))
        parts.append(plain(" "))
    parts.append(plain(_NOTES))
    parts.append(plain(" "))
    parts.append(plain("On a slip", "bold underline"))
    parts += [plain(f"  {words.SIGNS[word]} {word:<6} {says}") for word, says in _STANDINGS]
    parts.append(plain("In the list", "bold underline"))
    parts += [plain(f"  {sign} {_STATES.get(state, state)}") for state, sign in words.STATE_SIGNS.items()]
    if home:
        parts += [plain(" "), plain("Where it is kept", "bold underline")]
        for what, path in _kept(home):
            parts.append(joined(plain(f"  {what:<12}", "bold"), plain(path)))
    return joined(*parts, by="\n")


def _kept(home: Home) -> tuple[tuple[str, Path], ...]:
    wording = ("wording", home.templates)
    return ("book", home.book), ("house rules", home.rules), wording, ("papers", home.papers)


_STATES: dict[str, str] = {
    State.QUOTED: "priced, and quoted once your answer has told the price",
    "change": "booked, and the customer asks for a change",
}
_STANDINGS = (
    ("ok", "read for sure, or set by you"),
    ("check", "read, but look at the marked words: F4 confirms, Enter changes"),
    ("ask", "not said: F7 writes the question"),
    ("asks", "booked, and the customer now asks for another value: F4 takes the change, ^k keeps what is booked"),
)
_NOTES = """\
The box at the foot
  Type a correction and press Enter: \u201cmake it 3 dozen, pickup\u201d.
  While the box is empty, the up and down arrows walk the slip, Enter changes the field you are on, and the page
  keys move the conversation. Whatever you type goes into the box, wherever you are: no letter alone does anything
  to the book. The line above the box says what Enter would do with it, and what the arrows move.
  Pasting more than one line, or a long one, asks first whether it is a new customer's message.
  ^j begins a new line. ^p finds any action by its name.
The mouse
  Every key at the top and the foot is a button. Click a field to see where it was read, again to change it.
  To select text for your terminal's own copy, hold Shift while you drag."""
