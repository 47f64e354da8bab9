"""What a search through all messages shows: each conversation once, with the words that were found in their place."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from intake.model import Message

_WIDTH = 72


@dataclass(frozen=True, slots=True)
class Hit:
    """The newest message of a conversation that holds the words. `excerpt` is one line around them."""

    thread_id: str
    customer: str
    at: datetime
    mine: bool
    excerpt: str


def hits(found: Iterable[tuple[str, str, Message]], words: str) -> tuple[Hit, ...]:
    """What is shown of `found` (conversation, customer, message), in its order."""
    return tuple(
        Hit(thread_id, customer, message.at, message.mine, excerpt(message.text, words))
        for thread_id, customer, message in found
    )


def excerpt(text: str, words: str, width: int = _WIDTH) -> str:
    """One line of `text`, of at most `width` characters, around the first of `words` that is in it."""
    line = " ".join(text.split())
    plain = _plain(line)
    # Where letters fold into more than one, places don't match: the start of the text then does.
    places = [at for w in re.findall(r"[^\W_]+", _plain(words)) if (at := _at(plain, w)) >= 0]
    at = min(places) if places and len(plain) == len(line) else 0
    start = 0 if len(line) <= width or at < width // 2 else at - width // 3
    if start:
        start = line.rfind(" ", 0, start) + 1
    end = start + width - (2 if start else 0)
    cut = line[start : end - 1].rstrip() + "…" if len(line) > end else line[start:]
    return f"… {cut}" if start else cut


def _at(plain: str, word: str) -> int:
    found = re.search(rf"(?<![^\W_]){re.escape(word)}", plain)
    return found.start() if found else -1


def _plain(text: str) -> str:
    split = unicodedata.normalize("NFD", text)
    return "".join(c for c in split if not unicodedata.combining(c)).casefold()
