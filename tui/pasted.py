"""What to ask when a paste may be a new customer's message or words about the open slip."""

from __future__ import annotations

from textual.content import Content

from tui.ask import Answer
from tui.plain import joined, plain

ANSWERS = (
    Answer("n", "a new customer's message"),
    Answer("c", "a correction of this slip"),
    Answer("k", "keep it in the box"),
)


def question(text: str, about: str) -> Content:
    """The first lines of the paste, and what it may be."""
    lines = text.strip().split("\n")
    first = "\n".join(lines[:8])
    count = f"{len(lines)} lines" if len(lines) > 1 else f"{len(text)} characters"
    more = f"and {len(lines) - 8} lines more" if len(lines) > 8 else ""
    return joined(
        plain(f"You pasted {count}. What is it?", "bold"),
        plain(f"The open slip: {about}." if about else ""),
        plain(first),
        plain(more, "italic"),
        by="\n",
    )
