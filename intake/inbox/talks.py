"""Messages of chat-like exports put into conversations: whatever the format, by who writes to whom.

A format's own file gives its messages as `Talk`s; what belongs together, what is the baker's, which times are not
believed and what counts once is decided here for all of them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime

from intake.clean import clean
from intake.inbox import times
from intake.inbox.baker import Baker, address_in, folded, number_in
from intake.inbox.keys import key_of, one_line
from intake.inbox.shapes import Entry
from intake.model import Message, Problem, Thread

LONGEST_TEXT = 200_000
NAMELESS = "me"  # the sender of what an export marks as the account holder's own without naming her
LARGEST_GROUP = 3  # customers in one conversation; more under one name are an inbox (common practice, no source)


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


@dataclass(slots=True)
class Talk:
    """Messages that an export gives together, in its order. `name` is what it calls them, empty where it doesn't;
    `where` is the file they stand in, for the baker."""

    name: str
    entries: list[Entry] = field(default_factory=list)
    where: str = ""


def threads_of_talks(
    talks: Iterable[Talk], *, baker: Baker, latest: datetime
) -> tuple[list[Thread], list[Problem]]:
    """Threads by the time of their first message, and what could not be read. Nothing found gives no threads.

    A time before 1995 or more than a year after `latest` is not believed; the message before lends its own.
    """
    missed = _Missed()
    lists = [_kept(talk, latest, missed) for talk in talks]
    seen_baker = any(_is_mine(entry, baker) for talk in lists for entry in talk.entries)
    parts = [part for talk in lists for part in _parted(talk, baker, seen_baker)]
    talked: dict[str, Talk] = {}
    for part in sorted(parts, key=lambda part: min(_at(entry) for entry in part.entries)):
        key = _key(part, baker)
        known = talked.get(key)
        if known and known.name and part.name and known.name != part.name:
            # Two customers of one name: the later one is told apart by her conversation.
            key = f"{key}#{folded(part.name)}"
        talked.setdefault(key, Talk(part.name, where=part.where)).entries.extend(part.entries)
    threads = [_thread(key, talk, baker, latest, missed) for key, talk in talked.items()]
    return sorted(threads, key=lambda t: t.messages[0].at), missed.problems()


def _at(entry: Entry) -> datetime:
    assert entry.at, "entries without a time are left out first"
    return entry.at


class _Missed:
    """Entries left out or doubted, counted by kind so that ten thousand of one kind are one line."""

    def __init__(self) -> None:
        self._counts: Counter[tuple[str, str, str]] = Counter()
        self._first: dict[tuple[str, str, str], str] = {}

    def add(self, where: str, what: str, todo: str, example: str) -> None:
        self._counts[where, what, todo] += 1
        self._first.setdefault((where, what, todo), one_line(example[:300], 60))

    def problems(self) -> list[Problem]:
        found = []
        for (where, what, todo), count in self._counts.items():
            amount = "1 message" if count == 1 else f"{count:,} messages"
            found.append(Problem(where, f"{amount} {what}", todo, self._first[where, what, todo]))
        return found


def _kept(talk: Talk, latest: datetime, missed: _Missed) -> Talk:
    """The messages of one list, oldest first. Notes of the program itself ("Ann joined") have no text or no sender."""
    kept = Talk(talk.name, where=talk.where)
    for entry in talk.entries:
        if not entry.text:
            continue
        if not (entry.sender or entry.mine):
            missed.add(talk.where, "left out: no sender is named", "", entry.text)
        elif not entry.at:
            todo = "Export with times such as 2026-03-14 09:30"
            missed.add(talk.where, "left out: no time that can be read", todo, entry.text)
        else:
            kept.entries.append(entry)
    sane = [at for at in map(_at, kept.entries) if times.is_sane(at, latest)]
    if sane and sane[0] > sane[-1]:
        kept.entries.reverse()
    return kept


def _is_mine(entry: Entry, baker: Baker) -> bool:
    return entry.mine is True or (entry.mine is None and baker.is_(repaired(entry.sender), entry.address))


def _parted(talk: Talk, baker: Baker, seen_baker: bool) -> list[Talk]:
    """One list as the conversations in it: by the key its messages carry, by its own name, else by other party."""
    parts: dict[str, Talk] = {}
    if any(entry.talk for entry in talk.entries):
        for entry in talk.entries:
            parts.setdefault(entry.talk, Talk(entry.talk, where=talk.where)).entries.append(entry)
        return list(parts.values())
    others: dict[str, str] = {}
    for entry in talk.entries:
        if not _is_mine(entry, baker):
            others.setdefault(_party(entry), _party(entry))
            others.setdefault(folded(entry.address) or _party(entry), _party(entry))
    count = len(set(others.values()))
    # Two people, neither known to be the baker: most likely she is one of them.
    pair = count == 2 and not seen_baker and not baker.known
    if count < 2 or pair or (talk.name and count <= LARGEST_GROUP):
        return [talk] if talk.entries else []
    last = next(iter(others))
    for entry in talk.entries:
        last = _party(entry) if not _is_mine(entry, baker) else others.get(folded(repaired(entry.to)), last)
        parts.setdefault(last, Talk("", where=talk.where)).entries.append(entry)
    return list(parts.values())


def _party(entry: Entry) -> str:
    return folded(repaired(entry.sender))


def _key(talk: Talk, baker: Baker) -> str:
    """The other party's address or name; of a group its own name, or everyone's."""
    others = {_party(entry): entry.address for entry in talk.entries if not _is_mine(entry, baker)}
    if len(others) == 1:
        name, address = next(iter(others.items()))
        return f"chat:{address_in(address) or number_in(address) or name}"
    to = next((entry.to for entry in talk.entries if entry.to), "") if not others else ""
    return f"chat:{folded(repaired(to or talk.name)) or ' + '.join(sorted(others))}"


def _thread(key: str, talk: Talk, baker: Baker, latest: datetime, missed: _Missed) -> Thread:
    messages: dict[str, Message] = {}
    spare = next((at for at in map(_at, talk.entries) if times.is_sane(at, latest)), latest)
    for entry in talk.entries:
        at = _at(entry)
        taken = at if times.is_sane(at, latest) else spare
        message = _message(entry, at, taken, baker, talk.where, missed)
        if taken is not at:
            what = f"dated {at.astimezone(UTC):%Y-%m-%d}, which can't be right; the time of the one before was taken"
            missed.add(talk.where, what, "Check when it was sent", f"{message.sender}: {message.text}")
        # Parts of an export may overlap: the same words of the same sender at the same second count once.
        messages.setdefault(message.id, message)
        spare = taken
    subject = next((one_line(repaired(entry.subject), 500) for entry in talk.entries if entry.subject), "")
    ordered = tuple(sorted(messages.values(), key=lambda message: message.at))
    return Thread(key_of("thread", key), "mail" if subject else "chat", ordered, key, subject)


def _message(
    entry: Entry, said: datetime, taken: datetime, baker: Baker, where: str, missed: _Missed
) -> Message:
    sender = one_line(repaired(entry.sender))
    text = clean(repaired(entry.text))
    if len(text) > LONGEST_TEXT:
        what = f"cut: only the first {LONGEST_TEXT:,} characters were read"
        missed.add(where, what, "", f"{sender}: {text[:40]}")
        text = text[:LONGEST_TEXT]
    nth = (str(entry.nth),) if entry.nth else ()
    return Message(
        id=key_of("chat", folded(sender), said.astimezone(UTC).isoformat(), text, *nth),
        sender=sender or NAMELESS,
        mine=_is_mine(entry, baker),
        at=taken,
        text=text,
        raw=entry.text if entry.text != text else None,
        address=one_line(entry.address),
        attachments=entry.attachments,
    )
