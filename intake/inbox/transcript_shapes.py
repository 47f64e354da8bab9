"""The shapes in which plain-text transcripts begin a message: a table, each tried with a full date and time and, for
transcripts that print the day on a line of its own, with a clock time alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from intake.inbox.chat_times import CLOCK, DATE, NUMERIC, WEEKDAY, WHEN

# From the most particular to the plainest: of two that match the same lines, the upper one is taken. "-" is any dash
# or middle dot; without {words} the words stand on the lines below.
_TABLE = (
    "[{when}] {name}: {words}",
    "({when}) {name}: {words}",
    "{when} - {name}: {words}",
    "{when} | {name}: {words}",
    "{when}: {name}: {words}",
    "[{when}] <{name}> {words}",
    "{when} <{name}> {words}",
    "{when} | {name} | {words}",
    "{name} | {when} | {words}",
    "{when}\t{name}\t{words}",
    "{name}\t{when}\t{words}",
    "{name} ({when}): {words}",
    "{name} [{when}]: {words}",
    "{name} - {when}: {words}",
    "{name}, {when}: {words}",
    "{name} {when}: {words}",
    "{when} {name}: {words}",
    "{name} ({when})",
    "{name}, [{when}]",
    "{name} [{when}]",
    "{name} - {when}",
    "{name} | {when}",
    "{name}, {when}",
    "{name}\n{when}",
    "[{when}] {name}",
    "({when}) {name}",
    "{when} - {name}",
    "{when} | {name}",
    "{when}\n{name}: {words}",
    "{when}\n{name}",
    "{name} {when}",
    "{when} {name}",
)
_EDGE = r"\s:|,;\-–—·•"  # what a name neither begins nor ends with
_NAME = rf"(?P<name>[^{_EDGE}|<](?:[^:|\t\n]{{0,78}}?[^{_EDGE}(\[<])?)"
_ANGLED = r"(?P<name>[^\s<>][^<>\n]{0,79})"
_LITERALS = {" ": " {1,3}", "-": "[-–—·•]"}
_NO_NAME = re.compile(rf"{NUMERIC}\b.*|.*\b(?:wrote|escribió|https?)", re.IGNORECASE | re.DOTALL)
_NOTE = re.compile(
    r"\b(?:changed|created|added|removed|left|joined|pinned|invited|turned o(?:n|ff)|updated|"
    r"protected|encrypted|protegidos|cifrados|cambió|creó|añadió|agregó|eliminó|salió|unió)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Shape:
    """`clocked`: the day stands on a line above. `below`: so do the words, beneath. `bare`: nothing but the time
    tells a note of the program from words that begin with a time."""

    template: str
    pattern: re.Pattern[str]
    clocked: bool
    below: bool
    bare: bool


@dataclass(frozen=True, slots=True)
class Header:
    """Where a message begins (`start`) and its words do (`end`). `name` is empty for a note of the program."""

    start: int
    end: int
    when: str
    name: str


DAY_LINE = re.compile(
    r"^[ \t]*(?:[-–—=*#_.]{1,20} ?)?(?:(?:date|day|fecha|día): ?)?"
    rf"(?:{WEEKDAY},? )?(?P<day>{DATE})(?: ?\(?{WEEKDAY}\)?)?\.?(?: ?[-–—=*#_.]{{1,20}})?[ \t]*$",
    re.IGNORECASE | re.MULTILINE,
)


def headers_in(text: str, shape: Shape) -> Iterator[Header]:
    """The headers of `shape` in `text`, whose odd spaces are plain ones."""
    for match in shape.pattern.finditer(text):
        name = match["name"] or ""
        if name and _NOTE.search(name):
            name = ""
        elif name and not is_name(name):
            continue
        yield Header(match.start(), match.end(), match["when"], name)


@lru_cache(maxsize=4096)
def is_name(name: str) -> bool:
    """False for what stands where a name would but is a date or the start of a quotation."""
    return not _NO_NAME.fullmatch(name) and not name.isspace()


def _shape(template: str, clocked: bool) -> Shape:
    when = rf"(?P<when>{CLOCK if clocked else WHEN})"
    below = "{words}" not in template
    before, _, after = template.removesuffix("{words}").partition("{name}")
    name = _ANGLED if before.endswith("<") else _NAME
    end = r"[ \t]*$" if below else ""
    if not below and after.endswith("\t"):
        after, end = after.removesuffix("\t"), r"\t(?=[^\t\n]*$)"
    elif not below and after.endswith(" "):
        after, end = after.removesuffix(" "), "(?: |$)"
    tail = _literal(after, when) + end
    if "{when}" not in before or "\n" in before:
        return Shape(template, _compiled(f"^{_literal(before, when)}{name}{tail}"), clocked, below, bare=False)
    lead = before.rstrip(" <\t")
    head, gap = _literal(lead, when), _literal(before.removeprefix(lead), "")
    if below:
        # A line that begins like the next one is a note above a message of another shape, not a name above words.
        unlike = rf"(?!\n{head.replace('?P<when>', '?:')})"
        return Shape(template, _compiled(f"^{head}{gap}{name}{tail}{unlike}"), clocked, below, bare=False)
    return Shape(template, _compiled(rf"^{head}(?:{gap}{name}{tail}|(?=[ \t]|$))"), clocked, below, lead == "{when}")


def _literal(text: str, when: str) -> str:
    parts = text.partition("{when}")
    signs = ["".join(_LITERALS.get(sign, re.escape(sign)) for sign in part) for part in (parts[0], parts[2])]
    return signs[0] + (when if parts[1] else "") + signs[1]


def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE | re.MULTILINE)


SHAPES = tuple(_shape(template, clocked) for clocked in (False, True) for template in _TABLE)
