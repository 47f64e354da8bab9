"""Chat exports in JSON, whatever program wrote them: any nesting that holds a list of objects with a sender, a time
and a text."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any
from zoneinfo import ZoneInfo

from intake.inbox.shapes import entry_of, is_message, plain_keys
from intake.inbox.talks import Talk
from intake.model import OrdertinError

_TITLES = ("threadpath", "conversationid", "threadid", "chatid", "id", "title", "name", "participants", "members")


def parsed(text: str, where: str) -> Any:
    """The value of a JSON text. Raises OrdertinError that names the line where it breaks off."""
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        raise OrdertinError(
            f"this is not whole JSON: it breaks off or goes wrong at line {error.lineno}, column {error.colno}",
            where=where,
            todo="Export it again",
        ) from None
    except RecursionError:
        raise OrdertinError("this JSON is nested too deeply to read", where=where, todo="Export it again") from None
    except ValueError:
        raise OrdertinError("this JSON holds a number too long to read", where=where, todo="Export it again") from None


def talks_of_json(value: Any, zone: ZoneInfo) -> list[Talk]:
    """Every list of messages in a JSON value, as far as its objects can be messages."""
    return [
        Talk(name, [entry_of(thing, zone) for thing in found if isinstance(thing, dict)])
        for found, name in _lists_of_messages(value, zone)
    ]


def _lists_of_messages(value: Any, zone: ZoneInfo) -> Iterator[tuple[list[Any], str]]:
    """Every list that holds a message, with the name of the conversation around it. A stack, not recursion: the
    nesting of an export is not ours to bound."""
    rest: list[tuple[Any, str]] = [(value, "")]
    while rest:
        thing, name = rest.pop()
        if isinstance(thing, list):
            objects = [item for item in thing if isinstance(item, dict)]
            if any(is_message(entry_of(item, zone)) for item in objects):
                yield thing, name
            rest.extend((item, name) for item in reversed(thing) if isinstance(item, dict | list))
        elif isinstance(thing, dict):
            inside = [inner for inner in thing.values() if isinstance(inner, dict | list)]
            # The names of what encloses everything (an account, a list of chats) are no conversation's.
            named = _title(thing) if any(isinstance(inner, list) for inner in inside) else ""
            rest.extend((inner, named or name) for inner in reversed(inside))


def _title(thing: dict[str, Any]) -> str:
    said = plain_keys(thing)
    for key in _TITLES:
        value = said.get(key)
        if isinstance(value, str | int) and not isinstance(value, bool) and str(value).strip():
            return str(value)
        if isinstance(value, list) and value and key in ("participants", "members"):
            names = [str(plain_keys(p).get("name", "")) if isinstance(p, dict) else str(p) for p in value[:50]]
            return ", ".join(sorted(names))
    return ""
