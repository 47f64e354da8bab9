"""The rows of a table in plain text: cells parted by a sign and quoted where need be, as RFC 4180 has it or nearly.

The usual departures are taken: other signs than the comma, line ends of any kind, a byte order mark, a first line
"sep=;", quotes marked by a backslash, blanks before a quote, a quote that nothing closes.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain, islice
from typing import Any

_SIGNS = ",;\t|"
_LARGEST_CELL = 2**31 - 1  # what a C long holds everywhere
_END = ["\ue000the end\ue000"]
_SEP = re.compile(r'"?sep=(.)"?[ \t]*(?:\r\n?|\n)', re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Habit:
    """How a table is written: the sign between cells, and where a backslash guards quotes or blanks precede them."""

    sign: str
    guarded: bool = False
    spaced: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """The cells of one row and the line of the file on which it begins, from 1."""

    line: int
    cells: list[str]


def without_marks(text: str) -> tuple[str, str, int]:
    """`text` without byte order mark, NULs and "sep=" line; the sign that line names; how many lines it took."""
    text = text.removeprefix("\ufeff").replace("\0", "")
    said = _SEP.match(text)
    return (text[said.end() :], said[1], 1) if said else (text, "", 0)


def habits(text: str, sign: str = "") -> Iterator[Habit]:
    """The ways in which `text` may be written, the plain ones first. `sign`: the one that it names itself."""
    signs = [sign] if sign else [known for known in _SIGNS if known in text]
    guarded = [Habit(known, guarded=True) for known in signs if '\\"' in text or f"\\{known}" in text]
    # A guarded quote goes on with words, or is all there is between two signs.
    surely = [
        habit
        for habit in guarded
        if (between := re.escape(habit.sign))
        and re.search(rf'\\"(?!["\r\n{between}])|(?:^|{between})\\"(?:$|[\r{between}])', text, re.MULTILINE)
    ]
    yield from surely
    yield from (Habit(known) for known in signs)
    yield from (habit for habit in guarded if habit not in surely)
    for known in signs:
        if f'{known} "' in text:
            yield Habit(known, spaced=True)


def rows_of(text: str, habit: Habit, *, above: int = 0) -> tuple[list[Row], list[int]]:
    """The rows that hold anything, and the lines of rows with a quote that nothing closes: these are read as they
    stand, and the rest goes on after them. `above` counts lines before."""
    csv.field_size_limit(max(csv.field_size_limit(), _LARGEST_CELL))
    lines = list(io.StringIO(text, newline=""))
    rows: list[Row] = []
    opened: list[int] = []
    start = 0
    while start < len(lines):  # twice at most: after an open quote there are only pairs of them
        reader = csv.reader(chain(islice(lines, start, None), _END), **_settings(habit))
        first = last = start
        closed = False
        try:
            for cells in reader:
                if closed := cells == _END and start + reader.line_num > len(lines):
                    break
                rows.append(Row(above + first + 1, cells))
                first, last = start + reader.line_num, first
        except csv.Error:
            last = first
        if closed:
            break
        if rows and rows[-1].line == above + last + 1:
            rows.pop()
        opened.append(above + last + 1)
        bare = csv.reader([lines[last]], quoting=csv.QUOTE_NONE, **_settings(habit))
        rows.append(Row(above + last + 1, next(bare, [])))
        start = last + 1
    return [row for row in rows if any(cell.strip() for cell in row.cells)], opened


def _settings(habit: Habit) -> dict[str, Any]:
    return {
        "delimiter": habit.sign,
        "escapechar": "\\" if habit.guarded else None,
        "skipinitialspace": habit.spaced,
    }
