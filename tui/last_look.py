"""The last look at an answer before it goes by mail: from whom, to whom, and every word of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.containers import VerticalScroll
from textual.content import Content

from intake.model import Reply
from tui.ask import Answer, Ask
from tui.plain import joined, plain


class LastLook(Ask):
    """Gives `s` to send it, `c` to change it first, or an empty text for neither."""

    BINDINGS: ClassVar = [
        ("pageup", "turn(-1)", "Page up"),
        ("pagedown", "turn(1)", "Page down"),
    ]

    def __init__(self, reply: Reply, sender: str, *, doubts: Sequence[str], again: bool) -> None:
        """`doubts` are what speaks against sending it as it stands; `again` where it has gone before."""
        choices = (
            Answer("c", "change it"),
            Answer("s", "send it again" if again else "send it all the same" if doubts else "send it"),
        )
        super().__init__(matter(reply, sender, doubts), choices)

    def on_mount(self) -> None:
        super().on_mount()
        self.query_one(".sheet").add_class("look")

    def action_turn(self, pages: int) -> None:
        text = self.query_one(VerticalScroll)
        text.scroll_relative(y=pages * max(1, text.size.height - 1), animate=False)


def matter(reply: Reply, sender: str, doubts: Sequence[str]) -> Content:
    return joined(
        joined(plain("Send this? It can't be called back.", "bold"), plain("Page keys turn it.", "dim"), by="  "),
        *(plain(f"▲ {doubt}", "bold $text-warning") for doubt in doubts),
        joined(plain("From   ", "bold"), plain(sender)),
        joined(plain("To     ", "bold"), plain(reply.to)),
        joined(plain("About  ", "bold"), plain(reply.subject)),
        plain(" "),
        plain(reply.text),
        by="\n",
    )
