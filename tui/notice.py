"""The last word of the program: one place for answers, reasons and problems, always in sight."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static

from tui.plain import joined, plain

SIGNS = {"word": "»", "problem": "!", "busy": "…"}


class Notice(Static):
    def tell(self, words: str | Content, kind: str = "word") -> None:
        """Show `words`; `kind` is `word`, `problem` or `busy`."""
        said = words if isinstance(words, Content) else plain(words)
        self.set_class(kind == "problem", "problem")
        self.set_class(kind == "busy", "busy")
        self.update(joined(plain(SIGNS[kind], "bold"), said, by=" "))

    @property
    def text(self) -> str:
        """What it says now, without its sign."""
        shown = self.content
        return shown.plain[2:] if isinstance(shown, Content) else ""
