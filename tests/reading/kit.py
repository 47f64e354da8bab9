"""A message or two as a thread, and its reading, for tables of cases."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from intake.house import default_house
from intake.model import Draft, Message, Reading, Thread
from intake.reading.pipeline import read

ZONE = ZoneInfo("America/Chicago")
RULES = default_house().reading
#: A Wednesday.
SENT = datetime(2026, 3, 11, 10, 0, tzinfo=ZONE)


def thread_of(*texts: str, channel: str = "chat", sent: datetime = SENT, sender: str = "Ada Quill") -> Thread:
    """A thread; a text that begins with "B: " is the baker's. Messages come ten minutes apart."""
    messages = []
    for number, text in enumerate(texts):
        mine = text.startswith("B: ")
        at = sent + timedelta(minutes=10 * number)
        messages.append(Message(f"m{number}", "Baker" if mine else sender, mine, at, text[3:] if mine else text))
    return Thread("t", channel, tuple(messages))


def reading_of(*texts: str, **how: object) -> Reading:
    return read(thread_of(*texts, **how), RULES)  # type: ignore[arg-type]


def draft_of(*texts: str, **how: object) -> Draft:
    """The one draft of a thread."""
    drafts: Sequence[Draft] = reading_of(*texts, **how).drafts
    assert len(drafts) == 1, drafts
    return drafts[0]
