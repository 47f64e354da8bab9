"""The box at the foot of the Counter: what the baker says about a slip or asks, and where a new message is pasted.

It is a text area, so that a paste of many lines is kept whole. A long or many-lined paste while a slip is open may
be either, so it is handed up to be asked about instead of guessed at.
"""

from __future__ import annotations

from typing import Any

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widgets import Input, Static, TextArea

from intake.clean import clean
from tui.plain import joined, plain

# A line of this many characters or more is longer than a correction is typed.
LONG = 120
# So many lines that were handed in can be called back.
KEPT = 50

FIX_HINT = plain("Say it: make it 3 dozen · price it · what's due this week? F2: a new message")
NEW_HINT = plain("Paste or type what a customer wrote, all of it")


class Words(TextArea):
    """Enter hands the text in, ctrl+j begins a new line. While it is empty the arrows walk the slip."""

    class HandedIn(Message):
        def __init__(self, text: str) -> None:
            super().__init__()
            self.text = text

    class Pasted(Message):
        """A paste that may be a new message."""

        def __init__(self, text: str) -> None:
            super().__init__()
            self.text = text

    class Steered(Message):
        """The empty box was given a key that is meant for the slip: `up`, `down`, `enter`, or a page key."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    asks_on_paste = False
    #: Whether what is handed in leaves the box at once, so that what is typed after it stays.
    clears = False

    def __init__(self, *args: Any, **more: Any) -> None:
        super().__init__(*args, **more)
        self._said: list[str] = []
        self._back = 0
        self._typed = ""
        self._fresh = False

    def remember(self, text: str) -> None:
        """Keep a line that was handed in, for the up arrow."""
        self._said = [*[said for said in self._said if said != text], text][-KEPT:]
        self._back, self._fresh = 0, True

    def _recall(self, by: int) -> bool:
        """Go back among the lines handed in (1) or on again (-1); False where there is none that way.

        From an empty box only right after something was handed in: else the arrows walk the slip."""
        if not self._back and not self.text and not self._fresh:
            return False
        to = self._back + by
        if not 0 <= to <= len(self._said) or (not self._back and by < 0):
            self._fresh = False
            return False
        if not self._back:
            self._typed = self.text
        self._back, self._fresh = to, by > 0
        self.text = self._said[-to] if to else self._typed
        self.move_cursor(self.document.end)
        return True

    async def _on_key(self, event: events.Key) -> None:
        # A binding that goes first would overtake the letters typed just before it.
        if event.key in ("enter", "ctrl+j"):
            event.stop()
            event.prevent_default()
            if event.key == "enter":
                self.action_hand_in()
            else:
                self.insert("\n")

    def action_hand_in(self) -> None:
        if self.text.strip():
            text = self.text
            self._back, self._fresh = 0, False
            if self.clears:
                self.text = ""
            self.post_message(self.HandedIn(text))
        else:
            self.post_message(self.Steered("enter"))

    async def _on_paste(self, event: events.Paste) -> None:
        event.stop()
        event.prevent_default()
        text = clean(event.text)
        if self.asks_on_paste and ("\n" in text.strip() or len(text) >= LONG):
            self.post_message(self.Pasted(text))
        else:
            self.replace(text, *self.selection)

    def _steer(self, key: str) -> bool:
        self._fresh = False
        if not self.text:
            self.post_message(self.Steered(key))
        return not self.text

    def action_cursor_up(self, select: bool = False) -> None:
        first = self.cursor_location[0] == 0
        if not (first and not select and self._recall(1)) and not self._steer("up"):
            super().action_cursor_up(select)

    def action_cursor_right(self, select: bool = False) -> None:
        if not self._steer("right"):
            super().action_cursor_right(select)

    def action_cursor_down(self, select: bool = False) -> None:
        last = self.cursor_location[0] == self.document.line_count - 1
        if not (last and not select and self._back and self._recall(-1)) and not self._steer("down"):
            super().action_cursor_down(select)

    def action_cursor_page_up(self) -> None:
        if not self._steer("pageup"):
            super().action_cursor_page_up()

    def action_cursor_page_down(self) -> None:
        if not self._steer("pagedown"):
            super().action_cursor_page_down()


class Send(Static):
    """The button that does what Enter does."""

    ALLOW_SELECT = False

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.screen.query_one(Words).action_hand_in()


class Say(Vertical):
    """The box with its heading. `mode` is `fix` (words about the open slip) or `new` (a customer's message)."""

    def __init__(self) -> None:
        super().__init__(id="say")
        self.mode = "new"

    def compose(self) -> ComposeResult:
        with Horizontal(id="say-head"):
            yield Static(plain(""), id="say-mode")
            yield Input(placeholder="from whom (may stay empty)", id="say-from", compact=True)
            yield Send(joined(plain("Enter", "bold"), plain("send"), by=" "), id="say-send")
        yield Words(id="words", show_line_numbers=False, soft_wrap=True, compact=True, tab_behavior="focus")

    def on_mount(self) -> None:
        self.set_mode("new", "")

    def set_mode(self, mode: str, about: str, arrows: str = "slip") -> None:
        """The heading says what becomes of what is typed, `about` whose slip it is, and what the arrows move."""
        self.mode = mode
        new = mode == "new"
        self.set_class(new, "new")
        self.words.asks_on_paste = self.words.clears = not new
        self.words.placeholder = NEW_HINT if new else FIX_HINT
        self.query_one("#say-from", Input).display = new
        typing = "new message" if new else f"about {about}" if about else "a word"
        moves = "" if new else f"(arrows: {arrows})"
        self.query_one("#say-mode", Static).update(
            joined(plain("Typing:", "bold"), plain(typing), plain(moves, "dim"), by=" ")
        )

    @property
    def words(self) -> Words:
        return self.query_one(Words)

    @property
    def sender(self) -> str:
        return self.query_one("#say-from", Input).value.strip()

    def handed_in(self, text: str) -> None:
        """Take a message that has been read out of the box; what was typed after it stays."""
        self.words.text = self.words.text.removeprefix(text)
        self.query_one("#say-from", Input).value = ""

    @on(Input.Submitted, "#say-from")
    def _named(self, event: Input.Submitted) -> None:
        event.stop()
        self.words.focus()
