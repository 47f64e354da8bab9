"""A message that the baker pastes, as a thread of its own. The same paste is the same thread, whenever it comes."""

from __future__ import annotations

import re
from datetime import datetime

from intake.clean import clean
from intake.inbox.baker import address_in, folded
from intake.inbox.keys import key_of, one_line
from intake.model import Message, OrdertinError, Thread

LONGEST_PASTE = 200_000

# What programs put where a photo was, when words are copied out of a conversation.
_PHOTO = re.compile(
    r"\ufffc|\b(?:photo|image|picture|video|gif|sticker|media|attachment)s?(?: (?:omitted|attached|message))?\b"
    r"|[\w\-]{1,80}\.(?:jpe?g|png|heic|gif|webp|mp4|mov)\b",
    re.IGNORECASE,
)
_MAIL = re.compile(r"(?:from|to|subject|date|sent)[ \t]*:[^\n]*\n(?:[^\n]+\n){0,8}?(?:subject)[ \t]*:", re.IGNORECASE)


def thread_of_paste(text: str, *, at: datetime, sender: str = "", channel: str = "") -> Thread:
    """One message of `sender` at `at` (aware). `channel` is `chat` or `mail`; where empty, what the text looks like.

    Raises OrdertinError for a text that is empty, too long, or holds a photo or a file instead of words.
    """
    if len(text) > LONGEST_PASTE:
        raise OrdertinError(
            f"this is {len(text):,} characters long; a message may have {LONGEST_PASTE:,}",
            where="paste",
            todo="Paste one customer's message, or save the export as a file and take that",
        )
    if "\0" in text or _is_noise(text):
        raise OrdertinError("this is not text", where="paste", todo="Copy the message's words and paste them")
    words = clean(text).strip()
    if not words:
        raise OrdertinError("nothing was pasted", where="paste", todo="Copy the customer's message first")
    if _PHOTO.search(words) and not any(map(str.isalnum, _PHOTO.sub("", words))):
        raise OrdertinError(
            "there is only a photo here, no words", where="paste", todo="Type what it shows or says, and paste that"
        )
    name = one_line(sender)
    key = key_of("paste", folded(name), words)
    message = Message(
        id=key_of("message", folded(name), words),
        sender=name,
        mine=False,
        at=at,
        text=words,
        raw=text if text != words else None,
        address=address_in(name),
    )
    channel = channel or ("mail" if _MAIL.match(words) else "chat")
    return Thread(key_of("thread", key), channel, (message,), f"paste:{key}")


def _is_noise(text: str) -> bool:
    """More than one character in ten that no keyboard types."""
    odd = sum(1 for c in text if (c < " " and c not in "\t\n\r\x1b\v\f") or "\ud800" <= c <= "\udfff" or c == "\ufffd")
    return odd * 10 > len(text)
