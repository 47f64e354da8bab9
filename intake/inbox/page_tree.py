"""An HTML page as a light tree, whatever its source: nothing is looked for twice, depth and size are bounded."""

from __future__ import annotations

import html
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

LONGEST_PAGE = 30_000_000
BREAK = "\ue001"  # what <br> becomes
_DEEPEST = 120
_MOST_NODES = 600_000
_MOST_LOOSE = 2000
_LONGEST_LOOSE = 4000
_LONGEST_VALUE = 2000

BLOCKS = frozenset(
    "address article aside blockquote body center dd div dl dt fieldset figure footer form h1 h2 h3 h4 h5 h6 header hr "
    "li main nav ol p pre run section table tbody td tfoot th thead tr ul".split()
)
_VOID = frozenset("area base col embed hr img input link meta param source track wbr".split())
_SHUTS = {
    "li": {"li", "p"}, "dt": {"dt", "dd", "p"}, "dd": {"dt", "dd", "p"}, "tr": {"td", "th", "tr", "p"},
    "td": {"td", "th", "p"}, "th": {"td", "th", "p"}, "option": {"option"},
}  # fmt: skip
_KEPT = frozenset("class id datetime title aria-label alt src role itemprop hidden align width".split())

_LEFT_OUT = re.compile(r"<!--|<(script|style|template|noscript|svg|iframe)\b", re.IGNORECASE | re.ASCII)
_ENDS = {
    name: re.compile(rf"</{name}\b[^<>]*>?", re.IGNORECASE | re.ASCII)
    for name in ("script", "style", "template", "noscript", "svg", "iframe")
} | {"": re.compile("-->")}
# The first three look no further than the next "<"; the last may, a bounded number of times.
_DECLARATION = re.compile(r"<[!?][^<>]*+>")
_TAG = re.compile(r"""<(/?)([a-z][\w:\-]*+)((?:[^<>"']|"[^"<]*+"|'[^'<]*+')*+)>""", re.IGNORECASE | re.ASCII)
_ODD = re.compile(r"<(/?)([a-z][\w:\-]*+)([^<>]*+)>", re.IGNORECASE | re.ASCII)
_LOOSE = re.compile(r"""<(/?)([a-z][\w:\-]*+)((?:[^<>"']|"[^"]*+"|'[^']*+')*+)>""", re.IGNORECASE | re.ASCII)
_VALUE = re.compile(r"""([^\s=/"'<>]++)(?:\s*+=\s*+(?:"([^"]*+)"|'([^']*+)'|([^\s"']++)))?""")


@dataclass(slots=True, eq=False)
class Node:
    """An element; `number` is its place in the page. Bare text that is looked at by itself has the tag "#"."""

    tag: str
    attrs: dict[str, str]
    up: Node | None
    number: int
    parts: list[Node | str] = field(default_factory=list)

    @property
    def nodes(self) -> list[Node]:
        return [part for part in self.parts if isinstance(part, Node)]

    def all(self) -> Iterator[Node]:
        """This node and all below it, in the order of the page."""
        rest = [self]
        while rest:
            node = rest.pop()
            yield node
            if node.parts:
                rest.extend([part for part in reversed(node.parts) if isinstance(part, Node)])


def tree_of(source: str) -> tuple[Node, list[str]]:
    """The page, and what its scripts hold as JSON. Never raises."""
    source, scripts = _without_scripts(source[:LONGEST_PAGE])
    builder = _Builder()
    loose = _MOST_LOOSE
    at = 0
    while (sign := source.find("<", at)) >= 0:
        found = _TAG.match(source, sign) or _ODD.match(source, sign)
        if not found and loose and source[sign + 1 : sign + 2].isalpha():
            loose -= 1
            found = _LOOSE.match(source, sign, sign + _LONGEST_LOOSE)
        builder.say(source[at:sign])
        if found:
            builder.end(found[2].lower()) if found[1] else builder.start(found[2].lower(), found[3])
            at = found.end()
        elif declared := _DECLARATION.match(source, sign):
            at = declared.end()
        else:
            builder.say("<")
            at = sign + 1
    builder.say(source[at:])
    return builder.root, scripts


def _without_scripts(source: str) -> tuple[str, list[str]]:
    """`source` without comments, scripts and the like; what the scripts of JSON hold."""
    kept: list[str] = []
    scripts: list[str] = []
    unclosed: set[str] = set()
    at = 0
    while found := _LEFT_OUT.search(source, at):
        name = (found[1] or "").lower()
        kept.append(source[at : found.start()])
        at = found.end()
        end = None if name in unclosed else _ENDS[name].search(source, at)
        if not end:
            unclosed.add(name)
            if name:
                kept.append("<x")  # its words are better than none; the tag itself says nothing
            continue
        if name == "script":
            opened = source.find(">", at, end.start())
            if "json" in source[at : max(opened, at)].lower():
                scripts.append(source[opened + 1 : end.start()])
        at = end.end()
    return "".join(kept) + source[at:], scripts


class _Builder:
    def __init__(self) -> None:
        self.root = Node("page", {}, None, 0)
        self._open = [self.root]
        self._names: Counter[str] = Counter()
        self._count = 0
        self._below = 0  # elements open below the deepest that are kept

    def say(self, text: str) -> None:
        if text:
            self._open[-1].parts.append(html.unescape(text) if "&" in text else text)

    def start(self, tag: str, said: str) -> None:
        if tag == "br":
            self._open[-1].parts.append(BREAK)
            return
        closed = tag in _VOID or said.endswith("/")
        if self._below or len(self._open) > _DEEPEST or self._count > _MOST_NODES:
            self._below += not closed
            return
        shuts = _SHUTS.get(tag) or ({"p"} if tag in BLOCKS else ())
        while self._open[-1].tag in shuts:
            self._pop()
        self._count += 1
        node = Node(tag, _attributes(said), self._open[-1], self._count)
        self._open[-1].parts.append(node)
        if not closed:
            self._open.append(node)
            self._names[tag] += 1

    def end(self, tag: str) -> None:
        if self._below:
            self._below -= tag not in _VOID
        elif self._names[tag]:
            while self._pop() != tag:
                pass

    def _pop(self) -> str:
        tag = self._open.pop().tag
        self._names[tag] -= 1
        return tag


def _attributes(said: str) -> dict[str, str]:
    found: dict[str, str] = {}
    if not said.strip(" /\n"):
        return found
    for name, *values in _VALUE.findall(said):
        name = name.lower()
        if (name in _KEPT or name.startswith("data-")) and name not in found:
            value = "".join(values)[:_LONGEST_VALUE]
            found[name] = html.unescape(value) if "&" in value else value
    return found
