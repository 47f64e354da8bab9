"""A conversation kept as a web page: HTML of any make, told by what repeats in it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

from intake.inbox import chat_json, numeric_dates, page_times
from intake.inbox.keys import one_line
from intake.inbox.page_bubbles import IN, OUT, Bubble, bubbles_of, names_someone
from intake.inbox.page_marks import SHORT, Marks, marks_of, text_of
from intake.inbox.page_times import PageClock
from intake.inbox.page_tree import Node, tree_of
from intake.inbox.repeats import told_apart
from intake.inbox.shapes import Entry, is_message
from intake.inbox.talks import Talk
from intake.model import OrdertinError, Problem

UNNAMED = "customer"  # the other party of a page that names nobody
_BEGIN = re.compile(
    r"\s*+(?:(?:<\?xml[^<>]{0,200}>|<!--[^<>]{0,2000}-->)\s*+){0,5}"
    r"<(?:!doctype\s+html|(?:html|head|body|meta|title|main|div|section|article|table|ul|ol|dl)\b[^<>]{0,2000}>)",
    re.IGNORECASE,
)
_WITH = re.compile(
    r"(?:conversation|chat|messages|talk|thread|conversaci[oó]n|mensajes)s?\s(?:with|from|con|de)\s(?P<who>.{1,60})",
    re.IGNORECASE,
)
_ME = frozenset(("me", "you", "myself", "yo", "tú"))


def is_page(head: str) -> bool:
    """True where a file begins as an HTML page does."""
    return bool(_BEGIN.match(head[: 64 * 1024].removeprefix("\ufeff")))


def talks_of_page(
    source: str, zone: ZoneInfo, *, where: str, at: datetime, date_order: str = "MDY"
) -> tuple[list[Talk], list[Problem]]:
    """The messages that a page shows, as one list in its order, and what could not be read. Never raises.

    `at` is when the page was saved: it places times without a day. No talks where nothing in it repeats as messages
    do; its words may still be a conversation.
    """
    root, scripts = tree_of(source)
    found: list[Bubble] = []
    for quotes in (True, False):
        marks = marks_of(root, at, quotes=quotes)
        found, filled = bubbles_of(root, marks)
        if found or not marks.quotes:
            break
    told = _of_scripts(scripts, zone)
    if told and sum(len(talk.entries) for talk in told) >= len(found):
        return told, []
    if len(found) < 2:
        return [], []
    found = _sided(found)
    beside = _beside(root, marks, filled)
    title = _title(root)
    said = [bubble.said for bubble in found] + [text for _, kind, text in beside if kind == "time"]
    order, sure = numeric_dates.order_of(map(page_times.trimmed, said), date_order)
    clock = PageClock(order, zone, at)
    reader = _Reader(clock, beside, _party(title))
    entries = [reader.entry(bubble) for bubble in found]
    if sum(bool((entry.sender or entry.mine) and entry.at) for entry in entries) < 2:
        return [], []
    talk = Talk(_name(title, entries), told_apart(entries, reader.fine))
    return [talk], _doubts(clock, sure, said, where)


def _doubts(clock: PageClock, sure: bool, said: Sequence[str], where: str) -> list[Problem]:
    found = []
    if not sure:
        how = {"MDY": "the month first", "DMY": "the day first", "YMD": "the year first"}[clock.order]
        example = next(
            (
                page_times.trimmed(text)
                for text in said
                if numeric_dates.at_of(page_times.trimmed(text), clock.order, clock.zone)
            ),
            "",
        )
        what = f"the dates can be read in two ways; they were read with {how}"
        found.append(Problem(where, what, "If that is wrong, set `date_order` in the house rules", example))
    if clock.bare:
        amount = "1 message shows" if clock.bare == 1 else f"{clock.bare:,} messages show"
        what = f"{amount} a clock time and no day; the day on which the page was saved was taken"
        found.append(Problem(where, what, "Check when they were sent"))
    return found


class _Reader:
    """Messages of a page as entries, in its order: names and times that are shown once for several are given to each.

    `beside` is what `_beside` gives, `party` whom the page's title names.
    """

    def __init__(self, clock: PageClock, beside: Sequence[tuple[int, str, str]], party: str) -> None:
        self._clock, self._party = clock, party
        self._beside = list(beside)[::-1]
        self._name = ""
        self._names: dict[bool | None, str] = {}
        self._last: datetime | None = None
        self._last_fine = True
        self.fine: list[bool] = []

    def entry(self, bubble: Bubble) -> Entry:
        while self._beside and self._beside[-1][0] < bubble.number:
            _, kind, text = self._beside.pop()
            if kind == "name":
                self._name = text
            else:
                self._read(text)
        if bubble.said:
            self._read(bubble.said)
        if bubble.sender:
            self._names[bubble.mine], self._name = bubble.sender, ""
        elif self._name:
            self._names[bubble.mine], self._name = self._name, ""
        sender = self._names.get(bubble.mine, "")
        mine = True if bubble.mine is None and sender.lower() in _ME else bubble.mine
        if not sender and not mine:
            sender = self._party or (UNNAMED if mine is False else "")
        self.fine.append(self._last_fine)
        text = bubble.text or "[photo]"
        to = self._party if mine else ""
        return Entry(sender, "", self._last, text, mine, to, "", "", tuple(map(one_line, bubble.photos)))

    def _read(self, said: str) -> None:
        self._last = self._clock.read(said)
        self._last_fine = numeric_dates.has_seconds(page_times.trimmed(said))


def _of_scripts(scripts: Sequence[str], zone: ZoneInfo) -> list[Talk]:
    talks: list[Talk] = []
    for script in scripts[:50]:
        try:
            value = chat_json.parsed(script, "")
        except OrdertinError:
            continue
        talks += chat_json.talks_of_json(value, zone)
    return [talk for talk in talks if any(is_message(entry) for entry in talk.entries)]


def _beside(root: Node, marks: Marks, filled: set[Node]) -> list[tuple[int, str, str]]:
    """Times and names that stand between the messages: where, what kind (`time` or `name`), and what they say."""
    found = []
    rest = [root]
    while rest:
        node = rest.pop()
        if node in filled or node in marks.passed:
            continue
        if node in marks.times:
            found.append((node.number, "time", marks.times[node]))
            continue
        if _is_name(node, marks):
            found.append((node.number, "name", one_line(text_of(node, marks.passed), SHORT).rstrip(": ")))
        rest.extend(reversed(node.nodes))
    return found


def _is_name(node: Node, marks: Marks) -> bool:
    return not marks.count.get(node) and 0 < marks.size.get(node, 0) <= SHORT and names_someone(node)


def _sided(found: Sequence[Bubble]) -> list[Bubble]:
    """Whose each message is by the words of its classes, where these tell two sides apart."""
    counts = Counter(word for bubble in found for word in bubble.words & (OUT | IN))
    telling = {word for word, count in counts.items() if count < len(found)}
    out, into = telling & OUT, telling & IN
    if not out and not into:
        return list(found)
    sided = []
    for bubble in found:
        ours, theirs = bool(bubble.words & out), bool(bubble.words & into)
        mine = ours if ours != theirs else (None if ours else not out)
        sided.append(replace(bubble, mine=mine))
    both = {bubble.mine for bubble in sided} >= {True, False}
    return sided if both else list(found)


def _title(root: Node) -> str:
    """What the page calls itself: its <title>, else its first <h1>."""
    for tag in ("title", "h1"):
        found = next((node for node in root.all() if node.tag == tag), None)
        if found and (said := " ".join(text_of(found, ()).split())):
            return said
    return ""


def _party(title: str) -> str:
    found = _WITH.search(title) if len(title) <= 2 * SHORT else None
    return one_line(found["who"], SHORT).strip(" .·|-–—") if found else ""


def _name(title: str, entries: Sequence[Entry]) -> str:
    """The talk's name where the title names a party."""
    senders = {entry.sender for entry in entries if not entry.mine}
    return _party(title) or (title if title in senders else "")
