"""A mail laid out: what its writer says, what she quotes or forwards, and what is folded away.

Folded words are kept and shown, and not read as an order. A long run without a blank holds no words: it is left out.
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass
from datetime import datetime

from intake.model import Evidence, Fold, Message

_ATTRIBUTION = re.compile(
    r"^[ \t>]*(?:on|el)\s[^\n]{6,160}(?:\n[^\n]{0,80})?\b(?:wrote|escribi[oó])\s*:\s*$", re.IGNORECASE | re.MULTILINE
)
_FORWARDED = re.compile(
    r"^[ \t]*-{2,}[ \t]*(?:forwarded message|original message|mensaje reenviado)[ \t]*-{2,}[ \t]*$|^begin forwarded message:?\s*$",
    re.IGNORECASE | re.MULTILINE,
)
_HEADER_LINE = re.compile(
    r"^[ \t>]*(?:from|date|sent|subject|to|cc|de|fecha|asunto|para)\s*:[^\n]*$", re.IGNORECASE | re.MULTILINE
)
_QUOTED_LINES = re.compile(r"(?:^[ \t]*>[^\n]*(?:\n|\Z))+", re.MULTILINE)
_QUOTE_MARK = re.compile(r"^[ \t]*>[ >]*", re.MULTILINE)
_LIST_MARK = re.compile(r"\s*(?:[-*•·]|\d{1,2}[.)]|[A-Z][\w ]{0,20}:)\s?")
_RUN = re.compile(r"\S{100,}")
_SIGNATURE = re.compile(r"^(?:--|—|__+)[ \t]*$|^sent from my [^\n]{2,40}$", re.IGNORECASE | re.MULTILINE)
_NOTICE = re.compile(
    r"^[^\n]{0,20}\b(?:confidential(?:ity)?|disclaimer|this (?:e-?mail|message) (?:and any|is intended|may contain))\b[^\n]*(?:\n[^\n]+)*",
    re.IGNORECASE | re.MULTILINE,
)
_MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
_DATE = re.compile(
    r"\b(?P<m>[A-Za-z]{3})[a-z]*\.?\s+(?P<d>\d{1,2}),?\s+(?P<y>20\d\d)|\b(?P<d2>\d{1,2})\s+(?P<m2>[A-Za-z]{3})[a-z]*\.?,?\s+(?P<y2>20\d\d)"
)

#: More quoted blocks than this is no conversation: they are folded and not taken for questions.
MOST_BLOCKS = 60


@dataclass(frozen=True)
class Part:
    """What one person says in a message. `places`: of each character of `text`, in the message. `kind`: said, quoted or
    forwarded; `dated` where a quote tells when it was written."""

    message: str
    mine: bool
    sent: datetime
    text: str
    places: tuple[int, ...]
    sender: str
    kind: str
    signature: str = ""
    dated: bool = False


class _Sheet:
    """The characters of a message, each wanted or folded."""

    def __init__(self, message: Message, mail: bool) -> None:
        self.message, self.text = message, message.text
        self.wanted = bytearray(b"\1") * len(self.text)
        self.folds: list[Fold] = []
        self.wraps = _wraps(self.text) if mail else frozenset()
        self.quoted = bytearray(len(self.text))
        for mark in itertools.chain(_QUOTE_MARK.finditer(self.text), _RUN.finditer(self.text)):
            self.quoted[mark.start() : mark.end()] = b"\1" * (mark.end() - mark.start())

    def fold(self, start: int, end: int, kind: str) -> None:
        self.wanted[start:end] = bytes(end - start)
        self.folds.append(Fold(Evidence(self.message.id, start, end), kind))

    def part(
        self, spans: list[tuple[int, int]], kind: str, *, mine: bool | None = None, folded: bool = False, **more: object
    ) -> Part:
        """A part of what `spans` hold: what is wanted there, or also what is `folded` (a quote, read for itself)."""
        mine = self.message.mine if mine is None else mine
        given = {"sent": self.message.at, "sender": "" if mine != self.message.mine else self.message.sender, **more}
        text, places = self._kept(spans, folded)
        return Part(self.message.id, mine, text=text, places=places, kind=kind, **given)  # type: ignore[arg-type]

    def _kept(self, spans: list[tuple[int, int]], folded: bool) -> tuple[str, tuple[int, ...]]:
        """Blanks shortened, quote marks left out; a line of about full width runs on in the next."""
        out: list[str] = []
        places: list[int] = []
        for place in (p for start, end in spans for p in range(start, end)):
            if self.quoted[place] or not (folded or self.wanted[place]):
                continue
            char = self.text[place]
            char = " " if char in "\t\u00a0\u202f" or place in self.wraps else char
            if (char == " " and out[-1:] in ([" "], ["\n"])) or (char == "\n" and out[-2:] == ["\n", "\n"]):
                continue
            if char == "\n" and out[-1:] == [" "]:
                out.pop()
                places.pop()
            out.append(char)
            places.append(place)
        return "".join(out), tuple(places)


def parts_of(message: Message, known: set[str], seen_mine: bool, mail: bool) -> tuple[list[Part], list[Fold]]:
    """The parts of a message in the order in which they were said, and its folds.

    `known` are the lines of the thread so far, as `line_key` gives them: a quote of those is not said anew.
    """
    text, sheet = message.text, _Sheet(message, mail)
    earlier: list[Part] = []
    end = len(text)
    for notice in _NOTICE.finditer(text):
        sheet.fold(*notice.span(), "notice")
    if forwarded := _FORWARDED.search(text):
        earlier.append(_forwarded(sheet, forwarded))
        end = forwarded.start()
    attribution = _ATTRIBUTION.search(text, 0, end)
    blocks = [q.span() for q in _QUOTED_LINES.finditer(text, 0, end)]
    if attribution:
        quoted = [b for b in blocks if b[0] >= attribution.start()] or [(attribution.end(), end)]
        earlier.extend(_quoted(sheet, attribution, quoted, known, seen_mine))
        blocks = [b for b in blocks if b[0] < attribution.start()]
    signature = ""
    mark = _SIGNATURE.search(text, 0, end)
    if mark and not any(s <= mark.start() < e for s, e in blocks):
        stop = attribution.start() if attribution and attribution.start() > mark.start() else end
        signature = text[mark.end() : stop]
        sheet.fold(mark.start(), stop, "signature")
    if len(blocks) > MOST_BLOCKS:
        for start, stop in blocks:
            sheet.fold(start, stop, "quote")
        blocks = []
    # Answers written between quoted lines: each quote is what was asked, each stretch between them the answer.
    parts: list[Part] = []
    at = 0
    for start, stop in blocks:
        sheet.folds.append(Fold(Evidence(message.id, start, stop), "quote"))
        if text[at:start].strip():
            parts.append(sheet.part([(at, start)], "said"))
        parts.append(sheet.part([(start, stop)], "quoted", mine=not message.mine))
        at = stop
    parts.append(sheet.part([(at, len(text))], "said", signature=signature))
    return [*earlier, *parts], sheet.folds


def _forwarded(sheet: _Sheet, mark: re.Match[str]) -> Part:
    text, at = sheet.text, mark.end()
    for line in _HEADER_LINE.finditer(text, mark.end()):
        if text[at : line.start()].strip():
            break
        at = line.end()
    sheet.fold(mark.start(), len(text), "forwarded")
    sent = _dated(text[mark.end() : at], sheet.message.at) or sheet.message.at
    return sheet.part([(at, len(text))], "forwarded", folded=True, sent=sent)


#: An attribution within a quote.
_NESTED = re.compile(r"^>[> ]*On [^\n]{4,90}(?:\n>[> ]*[^\n]{0,60})?wrote:[ ]*$", re.MULTILINE)


def _quoted(
    sheet: _Sheet, attribution: re.Match[str], blocks: list[tuple[int, int]], known: set[str], seen_mine: bool
) -> list[Part]:
    """The quote of an earlier mail as a part of its writer, unless the thread holds it already."""
    message = sheet.message
    sheet.fold(*attribution.span(), "attribution")
    if blocks and (inner := _NESTED.search(sheet.text, blocks[0][0], blocks[-1][1])):
        # A mail that quotes a mail that quotes another: the innermost was said first.
        outer = [(s, min(e, inner.start())) for s, e in blocks if s < inner.start()]
        rest = [(max(s, inner.end()), e) for s, e in blocks if e > inner.end()]
        deeper = _quoted(sheet, inner, rest, known, seen_mine)
        return [*deeper, *_quoted(sheet, attribution, outer, known, seen_mine)]
    for start, end in blocks:
        sheet.fold(start, end, "quote")
    first_name = (message.sender.split() or [""])[0].lower()
    own = bool(first_name) and first_name in attribution[0].lower()
    lines = [key for s, e in blocks for line in sheet.text[s:e].split("\n") if (key := line_key(line))]
    new = [line for line in lines if line not in known]
    if not new or not (own or not seen_mine or len(new) > len(lines) // 2):
        return []
    mine = message.mine if own else not message.mine
    sent = _dated(attribution[0], message.at) or message.at
    return [sheet.part(blocks, "quoted", mine=mine, folded=True, sent=sent, dated=True)]


def line_key(line: str) -> str:
    """A line by its words alone, to know it again when it is quoted."""
    return " ".join(re.findall(r"\w+", line.lower()))


def _wraps(text: str) -> frozenset[int]:
    """Line ends inside a paragraph that only a mail program put there."""
    found: set[int] = set()
    at = 0
    for line, after in itertools.pairwise(text.split("\n")):
        at += len(line)
        plain = _QUOTE_MARK.sub("", after)
        if len(line) >= 50 and plain.strip() and not _LIST_MARK.match(plain):
            found.add(at)
        at += 1
    return frozenset(found)


def _dated(text: str, like: datetime) -> datetime | None:
    m = _DATE.search(text)
    if not m:
        return None
    name = (m["m"] or m["m2"]).lower()[:3]
    if name not in _MONTHS:
        return None
    try:
        return like.replace(year=int(m["y"] or m["y2"]), month=_MONTHS.index(name) + 1, day=int(m["d"] or m["d2"]))
    except ValueError:
        return None
