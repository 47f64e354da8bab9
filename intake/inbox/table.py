"""Tables of messages (RFC 4180 and its common departures): one message a row."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any
from zoneinfo import ZoneInfo

from intake.inbox import numeric_dates
from intake.inbox.keys import one_line
from intake.inbox.repeats import told_apart
from intake.inbox.shapes import MEDIA, Entry, entry_of
from intake.inbox.table_columns import Layout, flag, layout_of, moment_of
from intake.inbox.table_rows import Habit, Row, habits, rows_of, without_marks
from intake.inbox.talks import Talk
from intake.model import Problem

_HEAD = 64 * 1024
_OTHERS = re.compile(
    r"\s*(?:[\[{<]|From |(?:from|to|date|subject|received|return-path|message-id)[ \t]*:)", re.IGNORECASE
)
_SPOKEN = re.compile(
    r"[^\w\"']{0,3}(?:\d{1,4}[/.\-]\d{1,2}[/.\-]\d{1,4},?\s{1,3})?\d{1,2}[:.]\d\d(?:[:.]\d\d)?(?:\s?[ap]\.?\s?m\b\.?)?"
    r"(?:\]|\)|\s[\-–—]\s|\s<)",
    re.IGNORECASE,
)
_FORMULA = re.compile(r"=\"([^\"]*)\"|'([+=@\-].*)")
_SELF = frozenset(("me", "you", "myself", "self", "yo", "tú"))
_NOTHING = frozenset(("", "0", "no", "none", "false", "null"))


def is_table(head: str) -> bool:
    """True where the start of a file (64 KB are looked at) is a table with a time and something of a message in it."""
    cut = len(head) >= _HEAD
    head, sign, _ = without_marks(head[:_HEAD])
    if _OTHERS.match(head) or (not sign and _is_spoken(head[:4096])):
        return False
    best = _best(head, sign, {}, cut=cut)
    if not best:
        return False
    _, rows, layout = best
    body = rows[layout.first :]
    even = sum(len(row.cells) >= layout.width for row in body)
    if not layout.timed or layout.width < 2 or even < 0.7 * len(body):
        return False
    return bool(body) if layout.names else layout.width > 2 and len(body) > 1 and layout.whole


def _is_spoken(head: str) -> bool:
    """True where lines begin with a clock time and a sign, as a chat put down line by line has them."""
    lines = [line for line in head.splitlines() if line.strip()]
    return 3 * sum(bool(_SPOKEN.match(line)) for line in lines) > len(lines)


def talks_of_table(
    text: str,
    zone: ZoneInfo,
    *,
    where: str,
    columns: Mapping[str, str] = {},
    date_order: str = "MDY",
) -> tuple[list[Talk], list[Problem]]:
    """The messages of a table, as one list in its order, and what could not be read. Never raises.

    `columns` says for some of our words (see table_columns.ROLES) which column holds it: by what stands over it, or
    its number from 1. `date_order` is how a date in figures is read where the table itself doesn't show it.
    """
    text, sign, above = without_marks(text)
    best = _best(text[:_HEAD], sign, columns, cut=len(text) > _HEAD)
    if not best:
        return [], [Problem(where, "this table holds no rows that can be read", "Export it again")]
    habit = best[0]
    rows, opened = rows_of(text, habit, above=above)
    layout = layout_of([row.cells for row in rows[:1000]], columns)
    problems = [_open_quote(where, line) for line in opened]
    if layout.missing:
        todo = f"The columns are: {_listed(layout)}. Correct `columns` in the house rules"
        problems += [Problem(where, f"there is no such column: {name}", todo) for name in layout.missing]
    if not layout.whole:
        lacking = [
            what
            for what, there in (
                ("who wrote it", not {"sender", "contact", "first", "mine"}.isdisjoint(layout.at)),
                ("its time", layout.timed),
                ("the words", "text" in layout.at),
            )
            if not there
        ]
        todo = f"Name it under `columns` in the house rules. The columns are: {_listed(layout)}"
        problems.append(Problem(where, f"no column gives {' and '.join(lacking)} of a message", todo))
        return [], problems
    reader = _Reader(layout, habit, zone)
    body = [straight for row in rows[layout.first :] if (straight := reader.straight(row)) is not None]
    order, sure = numeric_dates.order_of((reader.dated(row) for row in body), date_order)
    if not sure:
        said = {"MDY": "the month first", "DMY": "the day first", "YMD": "the year first"}[order]
        example = next((reader.dated(row) for row in body if reader.dated(row)), "")
        what = f"the dates can be read in two ways; they were read with {said}"
        problems.append(Problem(where, what, "If that is wrong, set `date_order` in the house rules", example[:40]))
    entries = [entry for row in body if (entry := reader.entry(row, order)).text]
    problems += reader.problems(where)
    return ([Talk("", told_apart(entries, reader.fine))] if entries else []), problems


def _open_quote(where: str, line: int) -> Problem:
    what = "a quotation mark is opened and nothing closes it: this row was read as it stands"
    return Problem(f"{where}, line {line}", what, "Check this row and the one after it")


def _listed(layout: Layout) -> str:
    names = layout.names or [""] * layout.width
    return ", ".join(f"{n} {one_line(name, 40)}".strip() for n, name in enumerate(names[:40], 1))


def _best(text: str, sign: str, columns: Mapping[str, str], *, cut: bool) -> tuple[Habit, list[Row], Layout] | None:
    """The way of writing that gives the most even rows with a sender, a time and a text; the plain ones win ties."""
    best: tuple[tuple[bool, bool, float], tuple[Habit, list[Row], Layout]] | None = None
    for habit in habits(text, sign):
        rows, opened = rows_of(text, habit)
        if cut:  # the last row may be cut through
            rows = rows[:-1] if not opened else [row for row in rows if row.line < opened[-1]]
        rows = rows[:500]
        layout = layout_of([row.cells for row in rows], columns)
        body = rows[layout.first :]
        if not body or layout.width < 2 or max(len(row.cells) for row in body) < 2:
            continue
        even = sum(len(row.cells) == layout.width for row in body) / len(body)
        even -= 0.5 * len(opened) / len(rows) if not cut else 0
        score = (layout.whole, layout.timed, even)
        if best is None or score > best[0]:
            best = score, (habit, rows, layout)
    return best[1] if best else None


class _Reader:
    """Rows of one layout as entries. Uneven rows are counted by kind."""

    def __init__(self, layout: Layout, habit: Habit, zone: ZoneInfo) -> None:
        self._layout, self._sign, self._zone = layout, habit.sign, zone
        self._at = layout.at
        self._extra = [(n, key) for n, key in enumerate(layout.keys) if key]
        self._media = {n for n, key in self._extra if key in MEDIA}
        self._uneven: Counter[str] = Counter()
        self._line: dict[str, int] = {}
        self.fine: list[bool] = []

    def straight(self, row: Row) -> list[str] | None:
        """The cells of `row`, as many as there are columns; None where a short row lacks what a message needs."""
        cells, width = row.cells, self._layout.width
        last = len(cells)
        while last > width and not cells[last - 1].strip():
            last -= 1
        cells = cells[:last]
        if len(cells) == width:
            return cells
        if len(cells) > width:
            self._count("too many", row.line)
            words, more = self._at["text"], len(cells) - width
            return [*cells[:words], self._sign.join(cells[words : words + more + 1]), *cells[words + more + 1 :]]
        cells = cells + [""] * (width - len(cells))
        needed = [self._at[role] for role in ("text", "time", "date") if role in self._at]
        whole = all(cells[n].strip() for n in needed)
        self._count("too few" if whole else "left out", row.line)
        return cells if whole else None

    def _count(self, kind: str, line: int) -> None:
        self._uneven[kind] += 1
        self._line.setdefault(kind, line)

    def dated(self, row: Sequence[str]) -> str:
        """The part of a row that gives the day."""
        return row[self._at["date"] if "date" in self._at else self._at["time"]].strip()

    def _stamp(self, row: Sequence[str]) -> str:
        day = self.dated(row)
        if "clock" in self._at and "date" in self._at and (clock := row[self._at["clock"]].strip()):
            return f"{day} {clock}"
        return day

    def entry(self, row: Sequence[str], order: str) -> Entry:
        said: dict[str, Any] = {}
        for n, key in self._extra:
            value = row[n]
            if n in self._media and value.strip().lower() in _NOTHING:
                continue
            said.setdefault(key, _unguarded(value) if key != "text" else value)
        if "first" in self._at and not said.get("sendername"):
            parts = (row[self._at[part]].strip() for part in ("first", "last") if part in self._at)
            said["sendername"] = " ".join(part for part in parts if part)
        mine = flag(row[self._at["mine"]]) if "mine" in self._at else None
        if mine is None and said.get("sendername", "").strip().lower() in _SELF:
            mine = True
        if mine is not None:
            said["mine"] = mine
        stamp = self._stamp(row)
        entry = entry_of(said, self._zone)
        if entry.text:
            self.fine.append(numeric_dates.has_seconds(stamp))
        at = moment_of(stamp, order, self._zone) or moment_of(self.dated(row), order, self._zone)
        return replace(entry, at=at)

    def problems(self, where: str) -> list[Problem]:
        told = {
            "too many": ("more cells than there are columns: what was too many was taken as part of the words", "have"),
            "too few": ("fewer cells than there are columns", "have"),
            "left out": ("too few cells for a message: they were left out", "have"),
        }
        found = []
        for kind, count in self._uneven.items():
            amount = "1 row has" if count == 1 else f"{count:,} rows {told[kind][1]}"
            place = f"{where}, line {self._line[kind]}" + (" and below" if count > 1 else "")
            found.append(Problem(place, f"{amount} {told[kind][0]}", "Check these rows"))
        return found


def _unguarded(value: str) -> str:
    """`value` without what spreadsheets put before a sign that would begin a formula."""
    found = _FORMULA.fullmatch(value) if value[:1] in "='" else None
    return (found[1] or found[2] or "") if found else value
