"""What can be said of a page's elements before any is taken for a message: which are times, quotes, or of no note."""

from __future__ import annotations

import re
from collections.abc import Callable, Container
from dataclasses import dataclass, field
from datetime import datetime
from functools import lru_cache

from intake.inbox import page_times
from intake.inbox.page_tree import BLOCKS, BREAK, Node

Kind = Callable[[str], str]
SHORT = 60  # characters of what may be a time or a name

_QUOTES = frozenset("quote quoted quotation reply replied replying".split())
_HIDDEN_TAGS = frozenset("button head input nav option select textarea title".split())
_HIDDEN = frozenset("avatar reaction reactions actions toolbar menu badge hidden".split())
_STATES = frozenset("status receipt receipts seen delivered".split())
_TIMES = frozenset("time date timestamp ts datetime stamp clock when sent fecha hora".split())
_TIMES_SAID = ("data-", "datetime")
_PARTED = re.compile(r"\s?[·|—–\-]\s|,\s|\s\(|\s\[")
_EDGE = "\ue000"  # of a block
_EDGES = re.compile(rf"{BREAK}? ?{_EDGE}[ {_EDGE}]*+")
_AGO = re.compile(
    r"(?:\d{1,3}|an?)\s?(?:[smhdw]|sec|min|hr|hour|day|week)[a-z]{0,4}(?:\sago)?|(?:just\s)?now", re.IGNORECASE
)
_WORDS = re.compile(r"[A-Z]?[a-z]+|[A-Z]+")


@lru_cache(maxsize=4096)
def _words_of(said: str) -> frozenset[str]:
    found: set[str] = set()
    for name in said.split()[:30]:
        if not any(c.isdigit() for c in name):
            found.update(word.lower() for word in _WORDS.findall(name[:60]))
    return frozenset(found)


def class_words(node: Node) -> frozenset[str]:
    """The words within an element's classes: "msg--fromMe" is msg, from, me."""
    said = node.attrs.get("class", "")
    return _words_of(said[:300]) if said else frozenset()


@dataclass(slots=True)
class Marks:
    """`times` are elements that say nothing but a time, with what they say; `own` are the times in attributes of
    elements that say more. `count` is how many times are at or below an element, `size` about how many characters."""

    times: dict[Node, str] = field(default_factory=dict)
    own: dict[Node, str] = field(default_factory=dict)
    passed: set[Node] = field(default_factory=set)
    count: dict[Node, int] = field(default_factory=dict)
    size: dict[Node, int] = field(default_factory=dict)
    quotes: int = 0


def marks_of(root: Node, latest: datetime, *, quotes: bool) -> Marks:
    """The marks of a page. With `quotes`, what a message quotes is passed over."""
    kind = lru_cache(maxsize=50_000)(page_times.kind_of)
    nodes = list(root.all())
    for node in nodes:
        _part(node, kind)
    nodes = list(root.all())
    marks = Marks()
    for number, node in enumerate(nodes):
        node.number = number
    for node in reversed(nodes):
        _mark(node, marks, latest, kind, quotes)
    return marks


def _part(node: Node, kind: Kind) -> None:
    """Bare text that is a time, or a name and a time, becomes elements of its own."""
    if node.tag[0] == "#" or not node.parts:
        return
    parts: list[Node | str] = []
    for part in node.parts:
        if isinstance(part, Node) or len(part) > 200 or not any(c.isdigit() for c in part):
            parts.append(part)
        elif kind(part):
            parts.append(Node("#", {}, node, 0, [part]) if len(node.parts) > 1 else part)
        else:
            parts.extend(_name_and_time(part, node, kind))
    node.parts = parts


def _name_and_time(text: str, node: Node, kind: Kind) -> list[Node | str]:
    if len(text.strip()) <= 100:
        for found in _PARTED.finditer(text):
            name, said = text[: found.start()], text[found.end() :]
            if name.strip() and len(name) <= SHORT and kind(said) in ("full", "clock"):
                return [Node("#who", {}, node, 0, [name]), Node("#", {}, node, 0, [found[0] + said])]
    return [text]


def _mark(node: Node, marks: Marks, latest: datetime, kind: Kind, quotes: bool) -> None:
    nodes = [inner for inner in node.nodes if inner not in marks.passed]
    count = sum(marks.count[inner] for inner in nodes)
    size = sum(len(part.strip()) for part in node.parts if isinstance(part, str) and part is not BREAK)
    size += sum(marks.size[inner] for inner in nodes) + 5 * is_photo(node)
    words = class_words(node)
    attribute = _stamp(node, latest, kind) if node.attrs else ""
    said = text_of(node, marks.passed) if 0 < size <= SHORT else ""
    shown = not said or node.tag == "time" or bool(words & _TIMES) or kind(said) or _AGO.fullmatch(said)
    if attribute and shown and size <= SHORT:
        marks.times[node], count = attribute, 1
    elif attribute:
        marks.own[node] = attribute
    if not count and said and kind(said):
        marks.times[node], count = said, 1
    if nodes and any(inner in marks.times for inner in nodes):
        _wrap_words(node, marks)
    marks.count[node], marks.size[node] = count, size
    hidden = node.tag in _HIDDEN_TAGS or "hidden" in node.attrs
    hidden = hidden or (not count and bool(words & _HIDDEN or (words & _STATES and size <= 40)))
    quoted = quotes and (node.tag == "blockquote" or bool(words & _QUOTES))
    marks.quotes += quoted
    if hidden or quoted:
        marks.passed.add(node)
        marks.count[node] = marks.size[node] = 0


def _wrap_words(node: Node, marks: Marks) -> None:
    """Bare words beside a time, which may be a name, become elements of their own."""
    for n, part in enumerate(node.parts):
        if isinstance(part, str) and part is not BREAK and 0 < (size := len(part.strip())) <= SHORT:
            word = Node("#who", {}, node, node.number, [part])
            node.parts[n] = word
            marks.count[word], marks.size[word] = 0, size


def _stamp(node: Node, latest: datetime, kind: Kind) -> str:
    for name, value in node.attrs.items():
        if name.startswith(_TIMES_SAID) and page_times.stamp_of(value, latest):
            return value
        if name in ("title", "aria-label", "datetime", "data-tooltip", "data-title") and kind(value) == "full":
            return value
    return ""


def is_photo(node: Node) -> bool:
    """True for a picture that is part of what is said: not a small sign, not a face beside a name."""
    if node.tag != "img" or is_sign(node):
        return False
    return not class_words(node) & {"avatar", "icon", "logo", "profile", "userpic", "face"}


def is_sign(node: Node) -> bool:
    """True for an emoji that is shown as a picture."""
    alt = node.attrs.get("alt", "").strip()
    return "emoji" in class_words(node) or (0 < len(alt) <= 8 and not any(c.isalnum() for c in alt))


def text_of(node: Node, passed: Container[Node], apart: Container[Node] = ()) -> str:
    """The words of an element without those below `passed` and `apart`; a block begins a line, <br> ends one."""
    pieces: list[str] = []
    _say(node, passed, apart, pieces)
    text = re.sub(r"[^\S\n]+", " ", "".join(pieces))
    text = _EDGES.sub("\n", text)
    return re.sub(r" ?\n ?", "\n", text.replace(BREAK, "\n")).strip()


def _say(node: Node, passed: Container[Node], apart: Container[Node], pieces: list[str]) -> None:
    for part in node.parts:
        if isinstance(part, str):
            pieces.append(part.replace("\n", " "))
        elif part in passed or part in apart:
            continue
        elif part.tag == "img":
            pieces.append(part.attrs.get("alt", "").strip() if is_sign(part) else "")
        elif part.tag in BLOCKS:
            pieces.append(_EDGE)
            _say(part, passed, apart, pieces)
            pieces.append(_EDGE)
        else:
            _say(part, passed, apart, pieces)
