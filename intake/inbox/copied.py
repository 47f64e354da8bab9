"""A conversation that was selected on a page or in a window, copied and pasted: names and times on lines of their own
among the words, and much that nobody said.

Lines are first read one by one (copied_lines.py), then settled beside each other (copied_places.py); here they become
messages.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from intake.inbox.baker import number_in
from intake.inbox.chat_notes import words_of
from intake.inbox.copied_lines import HEADS, Kind, Line, is_own, is_reaction, known_as
from intake.inbox.copied_places import is_below, settled
from intake.inbox.copied_times import moments
from intake.inbox.keys import one_line
from intake.inbox.shapes import Entry
from intake.inbox.talks import Talk
from intake.model import Problem

_SHORTEST = 2  # turns, times or pieces of furniture that make a conversation


@dataclass(slots=True)
class _Said:
    """Lines of one message. `stamp` and `day` count the times of the paste: its own, and the day it stands below; None
    where there is none."""

    name: str
    lines: list[str]
    stamp: int | None
    day: int | None
    photo: bool = False


def is_copied(text: str) -> bool:
    """True where `text` is plainly a conversation of several turns. A message of one customer, of whatever lines, is
    none."""
    lines = settled(text, frozenset(), None)
    turns: list[str] = []
    for said in _placed(_messages(lines), frozenset())[0]:
        if said.name and (any(map(str.strip, said.lines)) or said.photo):
            turns.append(known_as(said.name))
    sent = sum(1 for line in lines if line.kind is Kind.SENT)
    # Time alone on a line, or beside a name; days are what customers write, too.
    times = sum(1 for line in lines if line.stamp and line.kind is not Kind.DAY)
    furniture = sum(1 for line in lines if line.kind is Kind.FURNITURE)
    if len(turns) < _SHORTEST:
        return False
    comes_back = any(count > 1 for count in Counter(turns).values())
    if sent or any(map(is_own, turns)):
        return sent + times + furniture + comes_back >= _SHORTEST
    return comes_back and (
        (len(set(turns)) > 1 and times >= _SHORTEST) or (times > 0 and furniture >= _SHORTEST) or furniture > _SHORTEST
    )


def talks_of_copied(
    text: str, zone: ZoneInfo, *, at: datetime, mine: Collection[str] = ()
) -> tuple[list[Talk], list[Problem]]:
    """The messages of a conversation that was pasted at `at` (aware), as one talk, and what could not be placed.

    A message without a time of its own has that of the one before, else of the next, else `at`; none is earlier than
    the one before it. Those of "You" are the baker's, and those of the names in `mine`; of others it isn't known.
    """
    names = frozenset(map(known_as, mine))
    lines = settled(text, names, at)
    messages, left_out = _placed(_messages(lines), names)
    problems = []
    if left_out:
        amount = "1 line" if len(left_out) == 1 else f"{len(left_out):,} lines"
        what = f"{amount} before the first name left out: it isn't said who wrote them"
        problems.append(Problem("paste", what, "Copy from the name above them on", one_line(left_out[0][:200], 60)))
    stamps = [line.stamp for line in lines if line.stamp]
    times = moments(stamps, at, zone)
    entries = _entries(messages, times, at.astimezone(zone), names)
    if not entries:
        what = "no conversation was found: no names above the words"
        return [], [*problems, Problem("paste", what, "Copy names and times together with the words")]
    return [Talk("", entries)], problems


def _messages(lines: Sequence[Line]) -> list[_Said]:
    """The messages of settled lines in order; the name is empty where nobody is named above."""
    below = is_below(lines)
    whole = _whole_names(lines)
    messages: list[_Said] = []
    name, stamp, day, count = "", None, None, -1
    now = _Said(name, [], stamp, day)
    quoting, quoted = False, ""

    def next_one() -> _Said:
        if now.lines or now.photo:
            messages.append(now)
        return _Said(name, [], stamp, day)

    earlier: set[str] = set()
    for line in lines:
        count += line.stamp is not None
        if line.kind in HEADS:
            name = whole.get(known_as(line.name), line.name)
            stamp = count if line.stamp else stamp
            now = next_one()
            now.photo = line.kind is Kind.SENT and line.rest == "photo"
            if line.kind is Kind.NAME and line.rest:
                now.lines.append(line.rest)
            # After "... replied to ..." what was answered may stand first.
            quoting, quoted = False, "?" if "repl" in line.text or "respond" in line.text.lower() else ""
        elif line.kind is Kind.STAMP and line.stamp:
            if below[line.stamp.is_dated]:
                # "Delivered" may stand between a message and its time.
                of = now if now.lines or now.photo or not messages or messages[-1].stamp != stamp else messages[-1]
                of.stamp = count
                now = next_one()
            else:
                stamp = count
                now = next_one()
        elif line.kind is Kind.DAY:
            stamp, day = None, count
            now = next_one()
        elif line.kind is Kind.FURNITURE:
            if line.text == "Sent" and not now.lines and now.name and not is_own(now.name):
                now.lines.append(line.text)
            now = next_one()
        elif line.kind is Kind.PHOTO:
            now.photo = True
        elif line.kind is Kind.QUOTED:
            quoting, quoted = True, ""
        elif line.kind is Kind.BLANK:
            if now.lines:
                now.lines.append("")
        elif quoting or (quoted and known_as(line.text) in earlier):
            quoting, quoted = False, "..."
        else:
            quoted = ""
            earlier.add(known_as(line.text))
            now.lines.append(line.text)
    next_one()
    return messages


def _whole_names(lines: Sequence[Line]) -> dict[str, str]:
    """First names to the one whole name that begins with them: "Dana sent" is of "Dana Reyes"."""
    names = {known_as(line.name): line.name for line in lines if line.kind in HEADS}
    longer: dict[str, list[str]] = {}
    for key, name in names.items():
        longer.setdefault(key.split()[0], []).append(name)
    return {
        short: next(n for n in both if n != names[short])
        for short, both in longer.items()
        if short in names and len(both) == 2
    }


def _placed(messages: list[_Said], mine: frozenset[str]) -> tuple[list[_Said], list[str]]:
    """What stands before the first name is of the other one where the baker's comes first and only two talk; else
    these lines are left out, and given."""
    named = [said for said in messages if said.name]
    others = {known_as(said.name): said.name for said in named if not _is_mine(said, mine)}
    if named and _is_mine(named[0], mine) and len(others) == 1:
        (other,) = others.values()
        return [said if said.name else replace(said, name=other) for said in messages], []
    return named, [line for said in messages if not said.name for line in said.lines if line]


def _is_mine(said: _Said, mine: frozenset[str]) -> bool:
    return is_own(said.name) or known_as(said.name) in mine


def _entries(
    messages: Sequence[_Said], times: Sequence[datetime | None], at: datetime, mine: frozenset[str]
) -> list[Entry]:
    entries: list[Entry] = []
    seen: Counter[tuple[str, datetime, str]] = Counter()
    for said, time in zip(messages, _filled(messages, times, at), strict=True):
        text, names = words_of(_words(said.lines))
        text = text or ("[photo]" if said.photo else "")
        if not text:
            continue
        sender = "" if is_own(said.name) else said.name
        key = (sender, time.replace(second=0, microsecond=0), text)
        entries.append(
            Entry(
                sender=sender,
                address=sender if number_in(sender) else "",
                at=time,
                text=text,
                mine=True if _is_mine(said, mine) else None,
                to="",
                talk="",
                subject="",
                attachments=names,
                nth=seen[key],
            )
        )
        seen[key] += 1
    return entries


def _filled(messages: Sequence[_Said], times: Sequence[datetime | None], at: datetime) -> list[datetime]:
    """A time for every message, none before the one above: its own, that of the one before or after it on the same
    day, the day's noon, that of any before, of any after, or `at`."""
    own = [times[said.stamp] if said.stamp is not None else None for said in messages]
    days = [said.day for said in messages]
    after: list[datetime | None] = []
    any_after: list[datetime | None] = []
    for time, day, below in zip(reversed(own), reversed(days), [None, *reversed(days)], strict=False):
        after.append(time or (after[-1] if after and day == below else None))
        any_after.append(time or (any_after[-1] if any_after else None))
    filled: list[datetime] = []
    for i, (time, day) in enumerate(zip(own, days, strict=True)):
        last = filled[-1] if filled else None
        noon = times[day] if day is not None else None
        same_day = last if i and days[i - 1] == day else None
        found = time or same_day or after[-1 - i] or noon or last or any_after[-1 - i] or at
        filled.append(max(found, last) if last else found)
    return filled


def _words(lines: Sequence[str]) -> str:
    """The lines of a message without the reactions below them; one that is nothing else is somebody's answer."""
    kept = list(lines)
    while len(kept) > 1:
        last = kept[-1].strip()
        if last and not is_reaction(last) and not (last.isdigit() and is_reaction(kept[-2])):
            break
        kept.pop()
    return "\n".join(kept).strip()
