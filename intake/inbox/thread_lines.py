"""Threads written one a line as JSON: `{"id", "channel", "messages": [{"id", "from", "mine", "at", "text"}]}`.

Ids are kept as given, so that evidence can name them. Other keys are passed over.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from intake.clean import clean
from intake.inbox import times
from intake.inbox.chat_json import parsed
from intake.inbox.keys import key_of, one_line
from intake.model import Message, OrdertinError, Problem, Thread

_KEYS = frozenset(("from", "mine", "at", "text"))


def is_thread(value: Any) -> bool:
    """True for an object whose list of messages has the keys of this format."""
    listed = value.get("messages") if isinstance(value, dict) else None
    return isinstance(listed, list) and any(isinstance(m, dict) and m.keys() >= _KEYS for m in listed[:5])


def threads_of_lines(
    text: str, zone: ZoneInfo, where: str = "", *, latest: datetime | None = None
) -> tuple[list[Thread], list[Problem]]:
    """The threads of `text` in its order. A line or a message that can't be read is a Problem; the rest goes on.

    A time before 1995 is not believed, nor one more than a year after `latest` where that is given: the message is
    kept with the time of the one before it in the thread, else of the first that is believed, else `latest`.
    """
    threads: list[Thread] = []
    problems: list[Problem] = []
    # Only at newlines: str.splitlines would also cut inside a text, at U+2028 and the like.
    for number, line in enumerate(text.split("\n"), 1):
        if not line.strip(" \t\r\ufeff"):
            continue
        place = f"{where}, line {number}" if where else f"line {number}"
        try:
            value = parsed(line.strip(" \t\r\ufeff"), place)
        except OrdertinError as error:
            problem = error.problem
            problems.append(Problem(place, "this line is not whole JSON", problem.todo, one_line(line, 60)))
            continue
        if not isinstance(value, dict) or not isinstance(value.get("messages"), list):
            what = 'this line is not a thread: it needs "id", "channel" and a list of "messages"'
            problems.append(Problem(place, what, excerpt=one_line(line, 60)))
            continue
        thread = _thread(value, zone, place, latest, problems)
        if thread.messages:
            threads.append(thread)
        else:
            problems.append(Problem(place, "this thread has no message that can be read"))
    return threads, problems


def _thread(
    value: dict[str, Any], zone: ZoneInfo, place: str, latest: datetime | None, problems: list[Problem]
) -> Thread:
    messages: list[Message] = []
    taken: set[str] = set()
    for number, item in enumerate(value["messages"], 1):
        message = _message(item, number, zone)
        if isinstance(message, str):
            problems.append(Problem(f"{place}, message {number}", message, excerpt=one_line(str(item)[:200], 60)))
        elif message.id in taken:
            problems.append(Problem(f"{place}, message {number}", f'a second message has the id "{message.id}"'))
        else:
            taken.add(message.id)
            messages.append(message)
    messages = _believed(messages, latest, place, problems)
    messages.sort(key=lambda m: m.at)
    customer = next((m for m in messages if not m.mine), None)
    known = _text(value, "key") or _text(value, "id") or (customer.address or customer.sender if customer else "")
    channel = _text(value, "channel")
    return Thread(
        id=_text(value, "id") or key_of("thread", known),
        channel=channel if channel in ("chat", "mail") else "chat",
        messages=tuple(messages),
        key=f"lines:{known}",
        subject=_text(value, "subject"),
    )


def _believed(
    messages: list[Message], latest: datetime | None, place: str, problems: list[Problem]
) -> list[Message]:
    sane = [m.at for m in messages if times.is_sane(m.at, latest or m.at)]
    spare = sane[0] if sane else latest
    kept = []
    for message in messages:
        if times.is_sane(message.at, latest or message.at):
            spare = message.at
        else:
            what = f"message {message.id} is dated {message.at:%Y-%m-%d}, which can't be right"
            if spare:
                what += f"; {spare:%Y-%m-%d %H:%M} was taken"
            problems.append(Problem(place, what, "Check when it was sent", one_line(message.text, 60)))
            message = replace(message, at=spare or message.at)
        kept.append(message)
    return kept


def _message(item: Any, number: int, zone: ZoneInfo) -> Message | str:
    if not isinstance(item, dict):
        return 'this is not a message: it needs "id", "from", "mine", "at" and "text"'
    written = item.get("text")
    at = times.of_any(item.get("at"), zone)
    if not isinstance(written, str):
        return 'this message has no "text"'
    if not at:
        return 'this message has no time in "at" that can be read, such as 2026-03-14T09:30:00'
    text = clean(written)
    listed = item.get("attachments")
    names = [name for name in listed if isinstance(name, str)] if isinstance(listed, list) else []
    return Message(
        id=_text(item, "id") or f"m{number}",
        sender=_text(item, "from"),
        mine=item.get("mine") is True,
        at=at,
        text=text,
        raw=written if written != text else None,
        address=_text(item, "address"),
        attachments=tuple(map(one_line, names)),
    )


def _text(thing: dict[str, Any], key: str) -> str:
    value = thing.get(key)
    return one_line(str(value)) if isinstance(value, str | int) and not isinstance(value, bool) else ""
