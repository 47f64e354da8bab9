"""Conversations, and what taking them into the book came to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from intake.model.problems import Problem


@dataclass(frozen=True, slots=True)
class Message:
    """One message of a thread. `text` has been cleaned of control characters; `raw` is kept where that changed it.

    `mail_id` is a mail's own id without its brackets, `answers` those of the mails it answers to, the oldest first.
    """

    id: str
    sender: str
    mine: bool
    at: datetime
    text: str
    raw: str | None = None
    address: str = ""
    attachments: tuple[str, ...] = ()
    mail_id: str = ""
    answers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Thread:
    """One customer's conversation in time order. `channel` is `chat` or `mail`; `key` tells it across exports."""

    id: str
    channel: str
    messages: tuple[Message, ...]
    key: str = ""
    subject: str = ""

    @property
    def customer(self) -> str:
        """Display name of the first sender who is not the baker, or an empty text."""
        return next((m.sender for m in self.messages if not m.mine), "")


@dataclass(frozen=True, slots=True)
class TakeReport:
    """What taking an export did to the book. `unread` counts the old conversations that were kept without being read;
    `unknown` names who may be the baker, the likeliest first, where she is not known to have written any of it."""

    threads_new: int = 0
    messages_new: int = 0
    messages_known: int = 0
    orders_new: int = 0
    problems: tuple[Problem, ...] = ()
    unread: int = 0
    unknown: tuple[str, ...] = ()
