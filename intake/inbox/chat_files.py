"""The conversations in one file of text: JSON, a table, a transcript, a saved page, a conversation that was copied."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import PurePath
from typing import Any
from zoneinfo import ZoneInfo

from intake.inbox import kinds
from intake.inbox.chat_json import parsed, talks_of_json
from intake.inbox.copied import is_copied, talks_of_copied
from intake.inbox.encoding import decoded
from intake.inbox.html_text import text_of_html
from intake.inbox.keys import key_of, one_line
from intake.inbox.saved_page import is_page, talks_of_page
from intake.inbox.table import is_table, talks_of_table
from intake.inbox.talks import Talk
from intake.inbox.thread_lines import is_thread, threads_of_lines
from intake.inbox.transcript import is_transcript, talks_of_transcript
from intake.model import OrdertinError, Problem, Thread

LARGEST_TEXT = 512 * 1024**2
LONGEST_COPY = 1_000_000


@dataclass(frozen=True, slots=True)
class Habits:
    """What the house rules say of exports: the order of the numbers in a date, and which column of a table is what."""

    date_order: str = "MDY"
    columns: Mapping[str, str] = field(default_factory=dict)
    mine: Sequence[str] = ()


@dataclass(slots=True)
class Found:
    """What one file holds: talks still to be put together, threads that are whole, and what could not be read."""

    talks: list[Talk] = field(default_factory=list)
    threads: list[Thread] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def conversations_of(
    kind: str, data: bytes, name: str, size: int, zone: ZoneInfo, saved: datetime, habits: Habits
) -> Found:
    """What is in the `data` of a file called `name`, of `size` bytes, which is of `kind` "json" or "text".

    Raises OrdertinError where it is no conversation or too large.
    """
    if len(data) > LARGEST_TEXT:
        raise OrdertinError(
            f"this {'JSON' if kind == 'json' else 'text'} is {size / 1024**2:,.0f} MB, and "
            f"{LARGEST_TEXT // 1024**2} MB is the most that is read",
            where=name,
            todo="Export a shorter time, or one conversation at a time",
        )
    found = Found()
    text = _decoded(data, name, found.problems)
    lacks = "no sender, time and words in any shape that is known"
    if kind == "json":
        _json(text, name, zone, saved, found)
        lacks = "no list of objects with a sender, a time and a text"
    else:
        talks, problems = _talks(text, name, zone, saved, habits)
        found.talks += talks
        found.problems += [replace(problem, where=problem.where or name) for problem in problems]
    if not found.threads and not any(talk.entries for talk in found.talks):
        todo = "Check that this is the export of a conversation, with its times"
        found.problems.append(Problem(name, f"no messages were found: {lacks}", todo))
    return found


def one_message(data: bytes) -> str:
    """The text of `data` where it is the words of one message, such as a baker pastes; empty where it is an export."""
    if kinds.kind_of(data[: kinds.HEAD]) != "text":
        return ""
    text, _ = decoded(data)
    several = is_page(text) or is_transcript(text) or is_table(text) or (len(text) <= LONGEST_COPY and is_copied(text))
    return "" if several else text


def talks_of_text(
    text: str, name: str, zone: ZoneInfo, at: datetime, habits: Habits
) -> tuple[list[Talk], list[Problem]]:
    """The conversation that was written out or copied as plain text; nothing where it is none."""
    if is_transcript(text):
        return talks_of_transcript(text, zone, name=PurePath(name).stem, date_order=habits.date_order)
    if len(text) <= LONGEST_COPY and is_copied(text):
        return talks_of_copied(text, zone, at=at, mine=habits.mine)
    return [], []


def _talks(
    text: str, name: str, zone: ZoneInfo, saved: datetime, habits: Habits
) -> tuple[list[Talk], list[Problem]]:
    if is_page(text):
        talks, problems = talks_of_page(text, zone, where=name, at=saved, date_order=habits.date_order)
        if any(talk.entries for talk in talks):
            return talks, problems
        text = text_of_html(text)
    elif not is_transcript(text) and is_table(text):
        return talks_of_table(text, zone, where=name, columns=habits.columns, date_order=habits.date_order)
    talks, problems = talks_of_text(text, name, zone, saved, habits)
    if not talks:
        raise OrdertinError("this is no export that can be read here", where=name, todo=kinds.READS)
    return talks, problems


def _decoded(data: bytes, name: str, problems: list[Problem]) -> str:
    text, doubt = decoded(data)
    if doubt:
        problems.append(Problem(name, doubt, "Check names and words with accents"))
    return text


def _json(text: str, name: str, zone: ZoneInfo, saved: datetime, found: Found) -> None:
    # U+2028 and the like may stand inside a text: only a newline ends a line.
    lines = [(number, line) for number, line in enumerate(text.split("\n"), 1) if line.strip()]
    first = [value for _, line in lines[:5] if (value := _object(line)) is not None]
    if any(map(is_thread, first)):
        threads, missed = threads_of_lines(text, zone, name, latest=saved)
        found.threads += map(_unique, threads)
        found.problems += missed
        return
    whole: Any = []
    if len(first) < 2:
        whole = parsed(text, name)
    else:
        for number, line in lines:
            try:
                whole.append(parsed(line, name))
            except OrdertinError:
                place = f"{name}, line {number}"
                what = "this line is not whole JSON"
                found.problems.append(Problem(place, what, excerpt=one_line(line[:200], 60)))
    found.talks += talks_of_json(whole, zone)


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
