"""The answer to a customer: read it, change it, then send it by mail, copy it or write it to a file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import count
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.screen import ModalScreen
from textual.widgets import Button, Static, TextArea

from intake.model import OrdertinError, Reply
from tui.plain import joined, plain
from tui.unsent import Unsent
from tui.words import ANSWERS, LABELS

KEPT_AFTER = 0.5


@dataclass(frozen=True, slots=True)
class Answered:
    """How the sheet was left: the reply as it stood; `how` is `mail`, `copy` or `file`, `wording` where such answers
    are to be worded otherwise, `tracking` where the parcel has another number, empty for none of them, or a kind to
    write."""

    reply: Reply
    how: str


class ReplySheet(ModalScreen[Answered]):
    BINDINGS: ClassVar = [
        ("escape", "give('')", "Back"),
        ("f5", "give_mail", "Send by mail"),
        ("f7", "give('copy')", "Copy"),
        ("f8", "give('file')", "Write to a file"),
        ("f6", "other_kind", "Another answer"),
        ("f4", "give('wording')", "Wording"),
        ("f3", "tracking", "Tracking number"),
    ]

    def __init__(
        self, reply: Reply, kinds: Sequence[str], *, unsent: Unsent, about: str, by_mail: bool, tracking: str = ""
    ) -> None:
        """`kinds` are the answers that have something to say, `by_mail` whether it can be sent from here, `tracking`
        the parcel's number. What is changed is kept in `unsent` until it is sent; it comes back while the answer would
        be written in the same words, which `about` holds."""
        super().__init__()
        self._reply, self._kinds = reply, tuple(kinds)
        self._unsent, self._about = unsent, about
        self._by_mail = by_mail
        self._tracking = tracking

    def compose(self) -> ComposeResult:
        reply = self._reply
        kind = ANSWERS.get(reply.kind, reply.kind)
        lacks = ", ".join(LABELS.get(name, name) for name in reply.missing)
        with Vertical(classes="sheet reply"):
            yield Static(
                joined(
                    plain(f"Answer{f' to {reply.to}' if reply.to else ''}: {kind}", "bold"),
                    plain(reply.subject, "italic"),
                    plain(f"Why this one: {reply.why}." if reply.why else "", "dim"),
                    plain(f"It lacks: {lacks}. Look for the gaps." if lacks else "", "bold"),
                    plain(f"▲ {reply.notice} F4 mends them." if reply.notice else "", "bold $text-warning"),
                    by="\n",
                )
            )
            if reply.kind == "sent":
                yield Button(
                    joined(
                        plain("F3", "bold"),
                        plain(f"Tracking number: {self._tracking or 'none yet'} (change it)"),
                        by=" ",
                    ),
                    id="tracking",
                    compact=True,
                )
            text = self._unsent.text("reply", self._about)[0] or reply.text
            yield ReplyText(text, id="reply-text", soft_wrap=True, compact=True, tab_behavior="focus")
            hint = "Change what you like. It goes nowhere until you paste or send it yourself."
            if self._by_mail:
                hint = "Change what you like. F5 shows it once more as it will go, before it goes."
            yield Static(plain(hint, "italic"), classes="hint")
            if reply.minds:
                # The only hint where there is little room.
                self.add_class("minds")
                yield Static(plain(f"Bear in mind: {' '.join(reply.minds)}"), id="reply-minds")
            with Horizontal(classes="answers"):
                if self._by_mail:
                    yield Button(joined(plain("F5", "bold"), plain("Mail"), by=" "), id="mail", compact=True)
                yield Button(joined(plain("F7", "bold"), plain("Copy"), by=" "), id="copy", compact=True)
                yield Button(joined(plain("F8", "bold"), plain("File"), by=" "), id="file", compact=True)
                yield Button(joined(plain("F6", "bold"), plain("Another"), by=" "), id="other", compact=True)
                yield Button(joined(plain("F4", "bold"), plain("Words"), by=" "), id="wording", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Back"), by=" "), id="back", compact=True)

    def on_mount(self) -> None:
        self._keeping = self.set_interval(KEPT_AFTER, self._keep, pause=True)
        self.query_one(TextArea).focus()

    def on_text_area_changed(self) -> None:
        self._keeping.reset()
        self._keeping.resume()

    def _keep(self) -> None:
        """Write down the answer as it has been changed, once the typing has paused."""
        self._keeping.pause()
        text = self.query_one(TextArea).text
        if text != self._reply.text:
            self._unsent.keep("reply", text, self._about)
        elif self._unsent.text("reply", self._about)[0]:
            self._unsent.keep("reply", "", "")

    def action_give(self, how: str) -> None:
        self._keep()
        self.dismiss(Answered(replace(self._reply, text=self.query_one(TextArea).text), how))

    def action_give_mail(self) -> None:
        if self._by_mail:
            self.action_give("mail")

    def action_tracking(self) -> None:
        if self._reply.kind == "sent":
            self.action_give("tracking")

    def action_other_kind(self) -> None:
        place = self._kinds.index(self._reply.kind) if self._reply.kind in self._kinds else -1
        self.action_give(self._kinds[(place + 1) % len(self._kinds)])

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        match event.button.id:
            case "mail" | "copy" | "file" | "wording" | "tracking" as how:
                self.action_give(how)
            case "other":
                self.action_other_kind()
            case _:
                self.action_give("")


class ReplyText(TextArea):
    """A text area that leaves the function keys to its sheet."""

    BINDINGS: ClassVar = [
        ("f6", "screen.other_kind", "Another answer"),
        ("f7", "screen.give('copy')", "Copy"),
    ]


def send(
    answered: Answered,
    order_id: int,
    folder: Path,
    copy: Callable[[str], str],
    save: Callable[[str, Path], Path],
) -> str:
    """Copy the reply or write it to a new file under `folder`; says where it went.

    Raises OrdertinError where the file can't be written.
    """
    if answered.how == "copy":
        said = copy(answered.reply.text)
        return f"{said[:1].upper()}{said[1:]}. Paste it to the customer yourself."
    make(folder)
    stem = f"order-{order_id}-{answered.reply.kind.replace(' ', '-')}"
    path = next(path for n in count(1) if not (path := folder / f"{stem}-{n}.txt").exists())
    return f"Written to {save(answered.reply.text, path)}. Send it yourself."


def make(folder: Path) -> None:
    """Make the folder of answers. Raises OrdertinError where it can't be made."""
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        raise OrdertinError(
            f"the folder can't be made: {error.strerror}", where=str(folder), todo="Copy the answer instead (F7)"
        ) from None
