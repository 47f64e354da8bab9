"""Chats exported as plain text: each message begins with a line of its time and sender.

A file keeps to one shape (see transcript_shapes.py), and it is the whole file that tells which: a line inside a message
that looks like the beginning of one in another shape stays the message's.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from intake.inbox.baker import folded, number_in
from intake.inbox.chat_notes import words_of
from intake.inbox.chat_times import Clock, Numbers, dated, day_of, even_text, moment, order_of, stamp_of
from intake.inbox.keys import one_line
from intake.inbox.shapes import Entry
from intake.inbox.talks import Talk
from intake.inbox.transcript_shapes import DAY_LINE, SHAPES, Header, Shape, headers_in, is_name
from intake.model import Problem

_HEAD = 64 * 1024
_MAIL = re.compile(r"(?:from|to|date|subject|received|return-path|message-id|mime-version)[ \t]*:", re.IGNORECASE)
_MARKUP = re.compile(r"<[a-z!?/]", re.IGNORECASE)
_LEVEL = re.compile(r".*\b(?:INFO|WARN|WARNING|ERROR|DEBUG|TRACE|FATAL|CRITICAL|NOTICE|SEVERE)\b|.*\[\d{1,9}\]$")
_FIRST_NOTE = re.compile(r"protect|encrypt|created|joined|cifrad|protegid|creó|unió", re.IGNORECASE)
_OWN = frozenset(("you", "tú", "usted"))
_STEM = re.compile(
    r".{0,60}?\b(?:chats?|conversations?|messages?|history|transcript|conversaci[oó]n|mensajes)\b.{0,40}?"
    r"(?:\b(?:with|con) (?P<with>\S.{0,79})|[-–—] (?P<dash>(?-i:[^\sa-z]).{0,79}))",
    re.IGNORECASE,
)
_COPY = re.compile(r" ?\(\d{1,3}\)$")
_ORDERS = {"MDY": "month first", "DMY": "day first", "YMD": "year first"}
_WAYS = "Export the chat again as plain text, with times, or as JSON"


_Score = tuple[int, bool, int, int]  # the higher, the likelier


@dataclass(frozen=True, slots=True)
class _Found:
    """The text by its shape: `plain` without marks of direction, `even` with plain spaces too, both of one length."""

    plain: str
    even: str
    shape: Shape
    headers: list[Header]


@dataclass(frozen=True, slots=True)
class _Mark:
    """A header, or a line with a day alone (`clock` None, no name), and what it says of the time."""

    header: Header
    day: date | Numbers | None
    clock: Clock | None


def is_transcript(head: str) -> bool:
    """True where a file's text, by its first 64 KB, is a chat set down line by line with times and senders."""
    head = head[:_HEAD]
    found = _found(head)
    start = head.lstrip("\ufeff \t\r\n")
    if not found or _MAIL.match(start) or _MARKUP.match(start):
        return False
    named = [header for header in found.headers if header.name]
    names = Counter(folded(header.name) for header in named)
    logged = sum(1 for header in named if _is_logged(header, found.even))
    if logged * 2 > len(named) or max(map(len, map(str.split, names))) > 8:
        return False
    if len(named) == 1:
        notes = [found.even[h.end : h.end + 300] for h in found.headers if not h.name]
        one_line_only = found.even.strip().count("\n") == 0
        return one_line_only or (not found.shape.bare and any(map(_FIRST_NOTE.search, notes)))
    parted = any(sign in found.shape.template for sign in "\t<|")
    if found.shape.clocked and not parted and (found.shape.below or found.shape.bare):
        # "Pickup 3:30" under a date is how people write, too: here a name has to come back.
        return max(names.values()) > 1
    return len(names) <= 2 or len(names) * 3 <= len(named) * 2 or not found.shape.bare


def talks_of_transcript(
    text: str, zone: ZoneInfo, *, name: str = "", date_order: str = "MDY"
) -> tuple[list[Talk], list[Problem]]:
    """The messages of a transcript as one conversation, in the order of the file, and what could not be read.

    `name` is the file's name without its ending; `date_order` is the house's (MDY, DMY or YMD), for dates that the
    file leaves open. Notes of the program ("Dana joined") give no entry.
    """
    found = _found(text)
    if not found:
        what = "no messages were found: no lines that begin with a time and a sender"
        return [], [Problem(name, what, _WAYS)]
    marks = _marks(found)
    order, doubtful = order_of([mark.day for mark in marks if mark.day], date_order)
    problems = []
    if doubtful:
        problems.append(_doubt(found, doubtful, order, name))
    lead = [line for line in found.plain[: marks[0].header.start].split("\n") if line.strip()]
    if lead:
        amount = "1 line" if len(lead) == 1 else f"{len(lead):,} lines"
        what = f"{amount} before the first message left out"
        todo = "Check that nothing of a message is among them"
        problems.append(Problem(name, what, todo, one_line(lead[0][:200], 60)))
    return [Talk(_called(name), _entries(found, marks, order, zone))], problems


def _found(text: str) -> _Found | None:
    """`text` by the shape that most of its messages have; of two with as many, the one that leaves nothing over at the
    start, then the one with fewer different names."""
    plain, even = even_text(text)
    dayless = not DAY_LINE.search(even)
    tried = [shape for shape in SHAPES if not (shape.clocked and dayless)]
    if len(even) > _HEAD:
        # What the first part rules out is not looked for in the rest.
        scores = [(_score(even[:_HEAD], shape), shape) for shape in tried]
        tried = [shape for (score, _), shape in sorted(scores, key=lambda s: s[0][0], reverse=True)[:4] if score[0]]
    best: tuple[_Score, Shape, list[Header]] | None = None
    for shape in tried:
        score, headers = _score(even, shape)
        if score[0] and (not best or score > best[0]):
            best = score, shape, headers
    return _Found(plain, even, best[1], best[2]) if best else None


def _score(even: str, shape: Shape) -> tuple[_Score, list[Header]]:
    headers = list(headers_in(even, shape))
    named = [header for header in headers if header.name]
    if not named:
        return (0, False, 0, 0), []
    count = len(named)
    if shape.below:
        ends = [header.start for header in headers[1:]] + [len(even)]
        count = sum(1 for header, end in zip(headers, ends, strict=True) if even[header.end : end].strip())
    start = headers[0].start
    leads = not even[:start].strip()
    return (count, leads, -len({header.name for header in named}), -start), headers


def _is_logged(header: Header, even: str) -> bool:
    """A name or a first word as programs write them into logs."""
    return bool(_LEVEL.match(header.name) or _LEVEL.match(even[header.end : header.end + 12].partition(" ")[0]))


def _marks(found: _Found) -> list[_Mark]:
    """Headers and, where the shape needs them, lines of a day alone, in order. A note of the program that nothing
    sets apart from words is one only where its time lies between those of its neighbours."""
    marks = [_Mark(header, *stamp_of(header.when)) for header in found.headers]
    if found.shape.clocked:
        marks += _days(found.even, {header.start for header in found.headers})
        marks.sort(key=lambda mark: mark.header.start)
    if not found.shape.bare:
        return marks
    order, _ = order_of([mark.day for mark in marks if mark.day and mark.header.name], "MDY")
    kept: list[_Mark] = []
    for index, mark in enumerate(marks):
        if mark.header.name or not mark.clock or _is_between(kept, mark, marks[index + 1 :], order):
            kept.append(mark)
    return kept


def _days(even: str, headers: set[int]) -> list[_Mark]:
    """Lines of a day alone that a header or another such line follows."""
    days = list(DAY_LINE.finditer(even))
    starts = headers | {match.start() for match in days}
    marks = []
    for match in days:
        rest = re.compile(r"\s*").match(even, match.end())
        day = day_of(match["day"])
        if rest and day and (even.rfind("\n", 0, rest.end()) + 1) in starts:
            marks.append(_Mark(Header(match.start(), match.end(), "", ""), day, None))
    return marks


def _is_between(kept: Sequence[_Mark], note: _Mark, rest: Sequence[_Mark], order: str) -> bool:
    after = next((mark for mark in rest if mark.header.name), None)
    if not kept:
        return True
    if not after:
        return False
    times = [_plain_time(mark, order) for mark in (kept[-1], note, after)]
    return times[0] <= times[1] <= times[2] or times[0] >= times[1] >= times[2]


def _plain_time(mark: _Mark, order: str) -> tuple[date, int, int, int]:
    day = dated(mark.day, order) if mark.day else None
    clock = mark.clock or Clock(0, 0)
    return day or date.min, clock.hour, clock.minute, clock.second or 0


def _entries(found: _Found, marks: Sequence[_Mark], order: str, zone: ZoneInfo) -> list[Entry]:
    entries: list[Entry] = []
    seen: Counter[tuple[str, datetime | None, str]] = Counter()
    ends = [mark.header.start for mark in marks[1:]] + [len(found.plain)]
    today: date | None = None
    for mark, end in zip(marks, ends, strict=True):
        day = dated(mark.day, order) if mark.day else None
        if found.shape.clocked and not mark.clock:
            today = day
        day = today if found.shape.clocked else day
        header = mark.header
        if not header.name:
            continue
        text, names = words_of(_unquoted(found.plain[header.end : end], found.shape))
        if not text:
            continue
        at = moment(day, mark.clock, zone) if day and mark.clock else None
        sender = header.name.strip().lstrip("~").strip(" *")
        nth = 0
        if mark.clock and mark.clock.second is None:
            said = (sender, at, text)
            nth, seen[said] = seen[said], seen[said] + 1
        own = folded(sender) in _OWN
        entries.append(
            Entry(
                sender="" if own else sender,
                address=sender if number_in(sender) else "",
                at=at,
                text=text,
                mine=True if own else None,
                to="",
                talk="",
                subject="",
                attachments=names,
                nth=nth,
            )
        )
    return entries


def _unquoted(words: str, shape: Shape) -> str:
    """Words of several lines stand in quotation marks where tabs part the fields."""
    words = words.strip()
    if "\t" in shape.template and "\n" in words and words.startswith('"') and words.endswith('"'):
        return words[1:-1].replace('""', '"')
    return words


def _doubt(found: _Found, numbers: Numbers, order: str, where: str) -> Problem:
    day = dated(numbers, order)
    shown = next((sign.join(numbers) for sign in "/.-" if sign.join(numbers) in found.even), " ".join(numbers))
    what = f'the dates can be read in more than one way: "{shown}" was taken as {day}, {_ORDERS[order]}'
    return Problem(where, what, "If that is wrong, set date_order in the house rules")


def _called(stem: str) -> str:
    """Who the chat is with, where the file's name says it as in "Chat with Dana Reyes"; else nothing."""
    said = _STEM.fullmatch(_COPY.sub("", stem.replace("_", " ").strip()))
    name = (said["with"] or said["dash"]).strip() if said else ""
    return name if name and (any(map(str.isalpha, name)) or number_in(name)) and is_name(name) else ""
