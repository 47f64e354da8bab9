"""The words of an HTML mail, with block tags as line ends and quoted blocks marked by "> "."""

from __future__ import annotations

import html
import re
from html.parser import HTMLParser

LONGEST_HTML = 1_000_000

_PARAGRAPHS = frozenset(("blockquote", "h1", "h2", "h3", "h4", "h5", "h6", "ol", "p", "pre", "table", "ul"))
_BLOCKS = _PARAGRAPHS.union(
    ("address", "article", "aside", "br", "center", "dd", "div", "dl", "dt", "fieldset", "figure", "footer", "form"),
    ("header", "hr", "li", "main", "nav", "section", "tbody", "tfoot", "thead", "tr"),
)
_CELLS = frozenset(("td", "th"))
_HIDDEN = frozenset(("head", "script", "style", "template", "title"))
_COMMENT = re.compile(r"<!--.*?-->", re.DOTALL)
_DECLARATION = re.compile(r"<[!?][^<>]*>")
# None of these looks further than the next "<", so that no source takes long.
_TAG = re.compile(r"""<(/?[a-z][\w:\-]*+)(?:[^<>"']|"[^"<]*+"|'[^'<]*+')*+>""", re.IGNORECASE)
_ODD_TAG = re.compile(r"<(/?[a-z][\w:\-]*+)[^<>]*+>", re.IGNORECASE)
_NO_TAG = re.compile(r"<(?![^<>]*>)")


def text_of_html(source: str) -> str:
    """The visible words of `source`, at most LONGEST_HTML characters of which are read. Never raises."""
    bare = _bare(source[:LONGEST_HTML])
    reader = _Reader()
    reader.feed(bare)
    reader.close()
    # Where a <script> or the like is left open everything after it is hidden: better its code than no words.
    return reader.text() or html.unescape(_ODD_TAG.sub("\n", bare)).strip()


def _bare(source: str) -> str:
    """`source` without comments, declarations and attributes. html.parser searches the rest of the text at each
    sign that nothing closes, and gives up on some declarations."""
    end = source.rfind("-->") + 3 if "-->" in source else 0
    source = _COMMENT.sub("", source[:end]) + source[end:].replace("<!--", "")
    source = _ODD_TAG.sub(r"<\1>", _TAG.sub(r"<\1>", _DECLARATION.sub("", source)))
    return _NO_TAG.sub("&lt;", source)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self._lines: list[str] = []
        self._line: list[str] = []
        self._quoted = 0
        self._hidden = ""
        self._pre = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if self._hidden:
            if tag == "body":
                self._hidden = ""
            return
        if tag in _HIDDEN:
            self._hidden = tag
        elif tag in _BLOCKS:
            self._end(tag in _PARAGRAPHS, forced=tag == "br")
            self._quoted = min(self._quoted + (tag == "blockquote"), 9)
            self._pre += tag == "pre"
            if tag == "li":
                self._line.append("- ")
        elif tag in _CELLS:
            self._line.append(" ")

    def handle_endtag(self, tag: str) -> None:
        if self._hidden:
            if tag == self._hidden:
                self._hidden = ""
        elif tag in _BLOCKS and tag != "br":
            self._end(tag in _PARAGRAPHS)
            self._quoted = max(self._quoted - (tag == "blockquote"), 0)
            self._pre = max(self._pre - (tag == "pre"), 0)

    def handle_data(self, data: str) -> None:
        if self._hidden:
            return
        if not self._pre:
            self._line.append(re.sub(r"[\s\xa0]+", " ", data))
            return
        first, *more = data.replace("\r\n", "\n").split("\n")
        self._line.append(first)
        for line in more:
            self._end(forced=True)
            self._line.append(line)

    def _end(self, paragraph: bool = False, *, forced: bool = False) -> None:
        line = "".join(self._line)
        line = line.rstrip() if self._pre else re.sub(" +", " ", line).strip()
        self._line = []
        mark = "> " * self._quoted
        if line or forced:
            self._lines.append((mark + line).rstrip())
        if paragraph and self._lines and self._lines[-1].strip("> "):
            self._lines.append(mark.rstrip())

    def text(self) -> str:
        self._end()
        while self._lines and not self._lines[-1].strip("> "):
            self._lines.pop()
        return re.sub(r"\n{3,}", "\n\n", "\n".join(self._lines)).strip("\n")
