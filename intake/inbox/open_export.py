"""An export file of any kind that the program reads, as threads. Kinds are told apart by what is in the file."""

from __future__ import annotations

import re
import stat
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from intake.inbox import mbox
from intake.inbox.baker import Baker
from intake.inbox.chat_json import parsed, talks_of_json
from intake.inbox.keys import key_of, one_line
from intake.inbox.mail import Mail, mail_of
from intake.inbox.mail_threads import threads_of_mails
from intake.inbox.talks import NAMELESS, Talk, threads_of_talks
from intake.inbox.thread_lines import is_thread, threads_of_lines
from intake.model import OrdertinError, Problem, Thread

LARGEST_FILE = 2 * 1024**3
LARGEST_JSON = 512 * 1024**2
MOST_PROBLEMS = 200

_HEAD = 64 * 1024
_MAIL_FIELD = re.compile(
    rb"^(?:from|date|received|message-id|return-path|mime-version|delivered-to|subject)[ \t]*:", re.I | re.M
)
_KINDS = (
    (b"PK\x03\x04", "a zip archive", "Unpack it and take the file inside"),
    (b"\x1f\x8b", "a packed file", "Unpack it and take the file inside"),
    (b"7z\xbc\xaf", "a packed file", "Unpack it and take the file inside"),
    (b"Rar!", "a packed file", "Unpack it and take the file inside"),
    (b"%PDF", "a PDF", "Copy the customer's words out of it and paste them"),
    (b"\x89PNG", "a picture", "Type what it says and paste that"),
    (b"\xff\xd8\xff", "a picture", "Type what it says and paste that"),
    (b"GIF8", "a picture", "Type what it says and paste that"),
    (b"SQLite format 3", "a database", "Export the messages as JSON or as a mailbox first"),
    (b"\xd0\xcf\x11\xe0", "an office document", "Copy the customer's words out of it and paste them"),
)
_READS = "A mailbox (mbox), a saved mail (RFC 5322) or a chat export in JSON can be taken; paste a single message"


@dataclass(frozen=True, slots=True)
class Export:
    """What an export holds. `parties` are the names of all senders, the most frequent first: one may be the baker."""

    threads: tuple[Thread, ...]
    problems: tuple[Problem, ...] = ()
    parties: tuple[str, ...] = ()


def open_export(path: Path, *, senders: Sequence[str], zone: ZoneInfo, now: datetime | None = None) -> Export:
    """The threads in `path`, those with the oldest first message first.

    `senders` are the baker's own names, addresses and numbers. `now` (aware; else the time the file was saved) is
    what far-future dates are judged by. Raises OrdertinError where the file can't be read or is of no kind known.
    """
    size, saved = _looked_up(path, zone)
    latest = now or saved
    baker = Baker.of(senders)
    try:
        with path.open("rb") as file:
            head = file.read(_HEAD)
        match _kind(head, path.name):
            case "mailbox":
                threads, problems = _mailbox(path, baker, zone, latest)
            case "mail":
                mail = _one_mail(path, baker, zone, latest)
                threads, problems = threads_of_mails([mail]), list(mail.problems)
            case _:
                threads, problems = _json(path, size, baker, zone, latest)
    except OSError as error:
        raise _unreadable(path, error) from None
    except MemoryError:
        raise OrdertinError(
            "this file is too large for this machine's memory", where=path.name, todo="Export a shorter time"
        ) from None
    counts = Counter(m.sender for t in threads for m in t.messages if m.sender not in ("", NAMELESS))
    if len(problems) > MOST_PROBLEMS:
        more = len(problems) - MOST_PROBLEMS
        problems[MOST_PROBLEMS:] = [Problem(path.name, f"{more:,} more problems of this kind are not shown")]
    return Export(tuple(threads), tuple(problems), tuple(name for name, _ in counts.most_common()))


def _looked_up(path: Path, zone: ZoneInfo) -> tuple[int, datetime]:
    try:
        facts = path.stat()
        saved = datetime.fromtimestamp(facts.st_mtime, zone).replace(microsecond=0)
    except (OSError, ValueError, OverflowError) as error:
        raise _unreadable(path, error) from None
    if stat.S_ISDIR(facts.st_mode):
        raise OrdertinError("this is a folder", where=path.name or str(path), todo="Choose the export file inside it")
    if not stat.S_ISREG(facts.st_mode):
        raise OrdertinError("this is not a file that can be read", where=path.name, todo="Choose an export file")
    if not facts.st_size:
        raise OrdertinError("this file is empty", where=path.name, todo="Export it again")
    if facts.st_size > LARGEST_FILE:
        raise OrdertinError(
            f"this file is {facts.st_size / 1024**3:.1f} GB, and {LARGEST_FILE // 1024**3} GB is the most that is read",
            where=path.name,
            todo="Export a shorter time, or one folder at a time",
        )
    return facts.st_size, saved


def _unreadable(path: Path, error: Exception) -> OrdertinError:
    if isinstance(error, FileNotFoundError):
        return OrdertinError("there is no such file", where=str(path), todo="Check its name and folder")
    if isinstance(error, PermissionError):
        return OrdertinError("this file may not be read", where=str(path), todo="Check its permissions")
    reason = error.strerror if isinstance(error, OSError) and error.strerror else "its name or place is not valid"
    return OrdertinError(f"this file can't be read: {reason}", where=str(path), todo="Copy it elsewhere and try again")


def _kind(head: bytes, name: str) -> str:
    """`mailbox`, `mail` or `json`, by the first bytes of the file."""
    for sign, what, todo in _KINDS:
        if head.startswith(sign):
            raise OrdertinError(f"this is {what}, not an export of messages", where=name, todo=todo)
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        start = head.decode("utf-16", "replace").lstrip().encode("utf-8", "replace")
    else:
        start = head.removeprefix(b"\xef\xbb\xbf").lstrip(b" \t\r\n")
    if not start:
        raise OrdertinError("this file holds nothing but blanks", where=name, todo="Export it again")
    line, _, rest = start.partition(b"\n")
    if mbox.is_from_line(line):
        return "mailbox"
    if start[:1] in (b"{", b"["):
        return "json"
    first = rest if line.startswith((b"From ", b">From ")) else start
    block = re.split(rb"\r?\n\r?\n", first, maxsplit=1)[0]
    if mbox.is_header(first) and len(_MAIL_FIELD.findall(block)) >= 2:
        return "mail"
    if b"\0" in head:
        raise OrdertinError("this file does not hold text", where=name, todo=_READS)
    raise OrdertinError("this is no export that can be read here", where=name, todo=_READS)


def _mailbox(path: Path, baker: Baker, zone: ZoneInfo, latest: datetime) -> tuple[list[Thread], list[Problem]]:
    mails: list[Mail] = []
    problems: list[Problem] = []
    before = latest
    with path.open("rb") as file:
        for piece in mbox.pieces(file):
            where = f"{path.name}, mail {piece.number}"
            if piece.cut:
                problems.append(Problem(where, "this mail is very large: only its first part was read"))
            mail = mail_of(
                piece.data, baker=baker, zone=zone, where=where, before=before, latest=latest, envelope=piece.date
            )
            before = mail.message.at
            problems.extend(mail.problems)
            mails.append(replace(mail, problems=()))
    return threads_of_mails(mails), problems


def _one_mail(path: Path, baker: Baker, zone: ZoneInfo, latest: datetime) -> Mail:
    with path.open("rb") as file:
        data = file.read(mbox.LONGEST_MAIL)
    data = data.removeprefix(b"\xef\xbb\xbf").lstrip(b" \t\r\n")
    if data.startswith((b"From ", b">From ")):
        data = data.partition(b"\n")[2]
    return mail_of(data, baker=baker, zone=zone, where=path.name, before=latest, latest=latest)


def _json(path: Path, size: int, baker: Baker, zone: ZoneInfo, latest: datetime) -> tuple[list[Thread], list[Problem]]:
    if size > LARGEST_JSON:
        raise OrdertinError(
            f"this JSON is {size / 1024**2:,.0f} MB, and {LARGEST_JSON // 1024**2} MB is the most that is read",
            where=path.name,
            todo="Export a shorter time, or one conversation at a time",
        )
    problems: list[Problem] = []
    text = _text(path.read_bytes(), path.name, problems)
    # U+2028 and the like may stand inside a text: only a newline ends a line.
    lines = [(number, line) for number, line in enumerate(text.split("\n"), 1) if line.strip()]
    first = [found for _, line in lines[:5] if (found := _object(line)) is not None]
    if any(map(is_thread, first)):
        threads, missed = threads_of_lines(text, zone, path.name, latest=latest)
        return [_unique(thread) for thread in threads], problems + missed
    value: Any = []
    if len(first) < 2:
        value = parsed(text, path.name)
    else:
        for number, line in lines:
            try:
                value.append(parsed(line, path.name))
            except OrdertinError:
                place = f"{path.name}, line {number}"
                problems.append(Problem(place, "this line is not whole JSON", excerpt=one_line(line[:200], 60)))
    threads, missed = _chats(talks_of_json(value, zone), baker, path.name, latest)
    return threads, problems + missed


def _chats(
    talks: Sequence[Talk], baker: Baker, where: str, latest: datetime
) -> tuple[list[Thread], list[Problem]]:
    threads, problems = threads_of_talks(talks, baker=baker, where=where, latest=latest)
    if not threads:
        what = "no messages were found: no list of objects with a sender, a time and a text"
        return [], [Problem(where, what, "Check that this is the export of a conversation, with its times")]
    parties = list(dict.fromkeys(m.sender for t in threads for m in t.messages))
    if len(parties) > 1 and not any(m.mine for t in threads for m in t.messages):
        names = ", ".join(parties[:4]) + (", ..." if len(parties) > 4 else "")
        todo = "Put your own name, as it stands there, into `senders` of the house rules"
        problems.insert(0, Problem(where, f"none of the senders is known to be you: {names}", todo))
    return threads, problems


def _text(data: bytes, name: str, problems: list[Problem]) -> str:
    coding = "utf-16" if data.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    try:
        return data.decode(coding)
    except UnicodeDecodeError:
        what = "some letters can't be read: the file is not in UTF-8 throughout"
        problems.append(Problem(name, what, "Check names and words with accents"))
        return data.decode(coding, "replace")


def _object(line: str) -> Any:
    """The object that a line holds, or None."""
    if not line.lstrip().startswith("{"):
        return None
    try:
        return parsed(line, "")
    except OrdertinError:
        return None


def _unique(thread: Thread) -> Thread:
    """`thread` with message ids that no other thread has: lines number theirs from "m1" each."""
    messages = tuple(replace(m, id=key_of("chat", thread.key, m.id)) for m in thread.messages)
    return replace(thread, messages=messages)
