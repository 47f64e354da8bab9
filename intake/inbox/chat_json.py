"""Chat exports in JSON, whatever program wrote them: any nesting that holds a list of objects with a sender, a time
and a text. Several conversations give several threads."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from intake.clean import clean
from intake.inbox import times
from intake.inbox.baker import Baker, address_in, folded, number_in
from intake.inbox.keys import key_of, one_line
from intake.inbox.shapes import Entry, entry_of, is_message, plain_keys
from intake.model import Message, OrdertinError, Problem, Thread

LONGEST_TEXT = 200_000
NAMELESS = "me"  # the sender of what an export marks as the account holder's own without naming her
LARGEST_GROUP = 3  # customers in one conversation; more under one name are an inbox (common practice, no source)

_TITLES = ("threadpath", "conversationid", "threadid", "chatid", "id", "title", "name", "participants", "members")


def repaired(text: str) -> str:
    """`text` with UTF-8 that was read as Latin-1 or windows-1252 set right, where the way back proves that it was."""
    if text.isascii():
        return text
    for table in ("latin-1", "cp1252"):
        try:
            return text.encode(table).decode("utf-8")
        except UnicodeError:
            continue
    return text


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


@dataclass(slots=True)
class _Talk:
    """Messages that belong together while they are gathered."""

    name: str
    entries: list[tuple[datetime, Entry]] = field(default_factory=list)


def threads_of_json(
    value: Any, *, baker: Baker, zone: ZoneInfo, where: str, latest: datetime
) -> tuple[list[Thread], list[Problem]]:
    """Threads by the time of their first message, and what could not be read. Nothing found is one Problem.

    A time before 1995 or more than a year after `latest` is not believed; the message before lends its own.
    """
    missed = _Missed(where)
    lists = [_entries(found, name, zone, latest, missed) for found, name in _lists_of_messages(value, zone)]
    if not any(talk.entries for talk in lists):
        what = "no messages were found: no list of objects with a sender, a time and a text"
        return [], [Problem(where, what, "Check that this is the export of a conversation, with its times")]
    seen_baker = any(_is_mine(entry, baker) for talk in lists for _, entry in talk.entries)
    parts = [part for talk in lists for part in _parted(talk, baker, seen_baker)]
    talks: dict[str, _Talk] = {}
    for part in sorted(parts, key=lambda part: min(moment for moment, _ in part.entries)):
        key = _key(part, baker)
        known = talks.get(key)
        if known and known.name and part.name and known.name != part.name:
            # Two customers of one name: the later one is told apart by her conversation.
            key = f"{key}#{folded(part.name)}"
        talks.setdefault(key, _Talk(part.name)).entries.extend(part.entries)
    threads = [_thread(key, talk, baker, latest, missed) for key, talk in talks.items()]
    parties = list(dict.fromkeys(m.sender for t in threads for m in t.messages))
    problems = missed.problems()
    if not seen_baker and len(parties) > 1:
        names = ", ".join(parties[:4]) + (", ..." if len(parties) > 4 else "")
        todo = "Put your own name, as it stands there, into `senders` of the house rules"
        problems.insert(0, Problem(where, f"none of the senders is known to be you: {names}", todo))
    return sorted(threads, key=lambda t: t.messages[0].at), problems


class _Missed:
    """Entries left out or doubted, counted by kind so that ten thousand of one kind are one line."""

    def __init__(self, where: str) -> None:
        self.where = where
        self._counts: Counter[tuple[str, str]] = Counter()
        self._first: dict[tuple[str, str], str] = {}

    def add(self, what: str, todo: str, example: str) -> None:
        self._counts[what, todo] += 1
        self._first.setdefault((what, todo), one_line(example[:300], 60))

    def problems(self) -> list[Problem]:
        found = []
        for (what, todo), count in self._counts.items():
            amount = "1 message" if count == 1 else f"{count:,} messages"
            found.append(Problem(self.where, f"{amount} {what}", todo, self._first[what, todo]))
        return found


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


def _entries(things: list[Any], name: str, zone: ZoneInfo, latest: datetime, missed: _Missed) -> _Talk:
    """The messages of one list, oldest first. Notes of the program itself ("Ann joined") have no text or no sender."""
    talk = _Talk(name)
    for thing in things:
        entry = entry_of(thing, zone) if isinstance(thing, dict) else None
        if not entry or not entry.text:
            continue
        if not (entry.sender or entry.mine):
            missed.add("left out: no sender is named", "", entry.text)
        elif not entry.at:
            missed.add("left out: no time that can be read", "Export with times such as 2026-03-14 09:30", entry.text)
        else:
            talk.entries.append((entry.at, entry))
    sane = [at for at, _ in talk.entries if times.is_sane(at, latest)]
    if sane and sane[0] > sane[-1]:
        talk.entries.reverse()
    return talk


def _is_mine(entry: Entry, baker: Baker) -> bool:
    return entry.mine is True or (entry.mine is None and baker.is_(repaired(entry.sender), entry.address))


def _parted(talk: _Talk, baker: Baker, seen_baker: bool) -> list[_Talk]:
    """One list as the conversations in it: by the key its messages carry, by its own name, else by other party."""
    parts: dict[str, _Talk] = {}
    if any(entry.talk for _, entry in talk.entries):
        for at, entry in talk.entries:
            parts.setdefault(entry.talk, _Talk(entry.talk)).entries.append((at, entry))
        return list(parts.values())
    others: dict[str, str] = {}
    for _, entry in talk.entries:
        if not _is_mine(entry, baker):
            others.setdefault(_party(entry), _party(entry))
            others.setdefault(folded(entry.address) or _party(entry), _party(entry))
    count = len(set(others.values()))
    # Two people, neither known to be the baker: most likely she is one of them.
    pair = count == 2 and not seen_baker and not baker.known
    if count < 2 or pair or (talk.name and count <= LARGEST_GROUP):
        return [talk] if talk.entries else []
    last = next(iter(others))
    for at, entry in talk.entries:
        last = _party(entry) if not _is_mine(entry, baker) else others.get(folded(repaired(entry.to)), last)
        parts.setdefault(last, _Talk("")).entries.append((at, entry))
    return list(parts.values())


def _party(entry: Entry) -> str:
    return folded(repaired(entry.sender))


def _key(talk: _Talk, baker: Baker) -> str:
    """The other party's address or name; of a group its own name, or everyone's."""
    others = {_party(entry): entry.address for _, entry in talk.entries if not _is_mine(entry, baker)}
    if len(others) == 1:
        name, address = next(iter(others.items()))
        return f"chat:{address_in(address) or number_in(address) or name}"
    to = next((entry.to for _, entry in talk.entries if entry.to), "") if not others else ""
    return f"chat:{folded(repaired(to or talk.name)) or ' + '.join(sorted(others))}"


def _thread(key: str, talk: _Talk, baker: Baker, latest: datetime, missed: _Missed) -> Thread:
    messages: dict[str, Message] = {}
    spare = next((at for at, _ in talk.entries if times.is_sane(at, latest)), latest)
    for at, entry in talk.entries:
        taken = at if times.is_sane(at, latest) else spare
        message = _message(entry, at, taken, baker, missed)
        if taken is not at:
            what = f"dated {at.astimezone(UTC):%Y-%m-%d}, which can't be right; the time of the one before was taken"
            missed.add(what, "Check when it was sent", f"{message.sender}: {message.text}")
        # Parts of an export may overlap: the same words of the same sender at the same second count once.
        messages.setdefault(message.id, message)
        spare = taken
    subject = next((one_line(repaired(entry.subject), 500) for _, entry in talk.entries if entry.subject), "")
    ordered = tuple(sorted(messages.values(), key=lambda message: message.at))
    return Thread(key_of("thread", key), "mail" if subject else "chat", ordered, key, subject)


def _message(entry: Entry, said: datetime, taken: datetime, baker: Baker, missed: _Missed) -> Message:
    sender = one_line(repaired(entry.sender))
    text = clean(repaired(entry.text))
    if len(text) > LONGEST_TEXT:
        missed.add(f"cut: only the first {LONGEST_TEXT:,} characters were read", "", f"{sender}: {text[:40]}")
        text = text[:LONGEST_TEXT]
    return Message(
        id=key_of("chat", folded(sender), said.astimezone(UTC).isoformat(), text),
        sender=sender or NAMELESS,
        mine=_is_mine(entry, baker),
        at=taken,
        text=text,
        raw=entry.text if entry.text != text else None,
        address=one_line(entry.address),
        attachments=entry.attachments,
    )
