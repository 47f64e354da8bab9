"""A thread as turns: who said which words when, with quotes and signatures of mails folded away.

A turn holds its speaker's words alone, with long blanks shortened and the wrapped lines of mails joined; each of its
characters knows its place in the message. What a mail quotes becomes an earlier turn of whoever wrote it, unless the
thread holds it already.
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property

from intake.model import Evidence, Fold, Message, Thread
from intake.reading.shadow import Shadow


@dataclass(frozen=True)
class Turn:
    """What one speaker said at once. `kind`: said, quoted or forwarded. `places`: of each character, in the message."""

    index: int
    message: str
    mine: bool
    sent: datetime
    shadow: Shadow
    places: tuple[int, ...]
    sender: str = ""
    kind: str = "said"
    signature: str = ""
    asked: frozenset[str] = field(default_factory=frozenset)

    @property
    def day(self) -> date:
        return self.sent.date()

    @property
    def low(self) -> str:
        return self.shadow.low

    @property
    def text(self) -> str:
        return self.shadow.text

    @cached_property
    def bare(self) -> str:
        """The words alone, for a short answer."""
        return " ".join(self.low.split())

    def evidence(self, start: int, end: int) -> Evidence:
        """Characters `start` to `end` of the turn, as a span of its message."""
        if start >= end or start >= len(self.places):
            return Evidence(self.message, 0, 0)
        return Evidence(self.message, self.places[start], self.places[min(end, len(self.places)) - 1] + 1)


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
_QUOTED_LINE = re.compile(r"^[ \t]*>[^\n]*$", re.MULTILINE)
_SIGNATURE = re.compile(
    r"^(?:--|—|__+)[ \t]*$|^sent from my [^\n]{2,40}$|^get outlook for [^\n]{2,30}$", re.IGNORECASE | re.MULTILINE
)
_NOTICE = re.compile(
    r"^[^\n]{0,20}\b(?:confidential(?:ity)?|disclaimer|this (?:e-?mail|message) (?:and any|is intended|may contain))\b[^\n]*(?:\n[^\n]+)*",
    re.IGNORECASE | re.MULTILINE,
)
_MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"]
_DATE = re.compile(
    r"\b(?P<m>[A-Za-z]{3})[a-z]*\.?\s+(?P<d>\d{1,2}),?\s+(?P<y>20\d\d)|\b(?P<d2>\d{1,2})\s+(?P<m2>[A-Za-z]{3})[a-z]*\.?,?\s+(?P<y2>20\d\d)"
)


def turns_of(thread: Thread) -> tuple[tuple[Turn, ...], tuple[Fold, ...]]:
    """All turns of a thread in the order in which they were said, and what was folded away of each message."""
    parts: list[tuple[datetime, int, int, _Part]] = []
    folds: list[Fold] = []
    lines = [{" ".join(re.findall(r"\w+", line.lower())) for line in m.text.split("\n")} for m in thread.messages]
    seen_mine = any(m.mine for m in thread.messages)
    known: set[str] = set()
    for position, message in enumerate(thread.messages):
        split, folded = _split(message, known, seen_mine, thread.channel == "mail")
        known |= lines[position]
        folds.extend(folded)
        parts.extend((p.sent, position, i, p) for i, p in enumerate(split))
    # Quoted mails are dated earlier; what was said stays in the thread's own order.
    parts.sort(
        key=lambda p: (
            min(p[0], thread.messages[p[1]].at) if p[3].kind == "quoted" and p[3].dated else thread.messages[p[1]].at,
            p[1],
            p[2],
        )
    )
    turns: list[Turn] = []
    asked: frozenset[str] = frozenset()
    for index, (_, _, _, part) in enumerate(parts):
        shadow = Shadow(part.text)
        turn = Turn(
            index,
            part.message,
            part.mine,
            part.sent,
            shadow,
            part.places,
            part.sender,
            part.kind,
            part.signature,
            frozenset() if part.mine else asked,
        )
        if part.mine:
            asked = _topics(turn.low) | (asked if turns and turns[-1].mine else frozenset())
        elif not turn.bare:
            pass
        turns.append(turn)
    return tuple(turns), tuple(folds)


@dataclass(frozen=True)
class _Part:
    message: str
    mine: bool
    sent: datetime
    text: str
    places: tuple[int, ...]
    sender: str
    kind: str
    signature: str = ""
    dated: bool = False


_QUOTE_MARK = re.compile(r"^[ \t]*>[ >]*", re.MULTILINE)
_LIST_MARK = re.compile(r"\s*(?:[-*•·]|\d{1,2}[.)]|[A-Z][\w ]{0,20}:)\s?")


def _kept(text: str, spans: list[tuple[int, int]], mail: bool) -> tuple[str, tuple[int, ...]]:
    """The text of `spans` without quote marks, blanks shortened, and each character's place in `text`.

    In a mail, a line of about full width runs on in the next: its end is a blank.
    """
    wanted = bytearray(len(text))
    for start, end in spans:
        wanted[start:end] = b"\1" * (end - start)
    for mark in _QUOTE_MARK.finditer(text):
        wanted[mark.start() : mark.end()] = bytes(mark.end() - mark.start())
    wraps = _wraps(text) if mail else frozenset()
    out: list[str] = []
    places: list[int] = []
    for place, char in enumerate(text):
        if not wanted[place]:
            continue
        char = " " if char in "\t\u00a0\u202f" or place in wraps else char
        if (char == " " and out[-1:] in ([" "], ["\n"])) or (char == "\n" and out[-2:] == ["\n", "\n"]):
            continue
        if char == "\n" and out[-1:] == [" "]:
            out.pop()
            places.pop()
        out.append(char)
        places.append(place)
    return "".join(out), tuple(places)


def _wraps(text: str) -> frozenset[int]:
    """Line ends inside a paragraph that only a mail program put there."""
    found: set[int] = set()
    at = 0
    lines = text.split("\n")
    for line, after in itertools.pairwise(lines):
        at += len(line)
        plain = _QUOTE_MARK.sub("", after)
        if len(line) >= 50 and plain.strip() and not _LIST_MARK.match(plain):
            found.add(at)
        at += 1
    return frozenset(found)


def _split(message: Message, known: set[str], seen_mine: bool, mail: bool) -> tuple[list[_Part], list[Fold]]:
    text = message.text
    own: list[tuple[int, int]] = [(0, len(text))]
    folds: list[Fold] = []
    earlier: list[_Part] = []

    def fold(start: int, end: int, kind: str) -> None:
        nonlocal own
        own = [piece for s, e in own for piece in ((s, min(e, start)), (max(s, end), e)) if piece[0] < piece[1]]
        folds.append(Fold(Evidence(message.id, start, end), kind))

    for notice in _NOTICE.finditer(text):
        fold(*notice.span(), "notice")
    forwarded = _FORWARDED.search(text)
    if forwarded:
        body = forwarded.end()
        header_end = body
        for line in _HEADER_LINE.finditer(text, body):
            if text[header_end : line.start()].strip():
                break
            header_end = line.end()
        fold(forwarded.start(), len(text), "forwarded")
        when = _dated(text[body:header_end], message.at)
        kept = _kept(text, [(header_end, len(text))], mail)
        earlier.append(_Part(message.id, message.mine, when or message.at, *kept, message.sender, "forwarded"))
        text_end = forwarded.start()
    else:
        text_end = len(text)
    attribution = _ATTRIBUTION.search(text, 0, text_end)
    quotes = [q.span() for q in _QUOTED_LINE.finditer(text, 0, text_end)]
    if attribution:
        blocks = [(s, e) for s, e in quotes if s >= attribution.start()]
        if not blocks:  # a quote without marks runs to the end
            blocks = [(attribution.end(), text_end)]
        words = attribution[0].lower()
        first_name = (message.sender.split() or ["?"])[0].lower()
        theirs = first_name in words and bool(first_name)
        fold(attribution.start(), attribution.end(), "attribution")
        content = [
            (s, e)
            for s, e in blocks
            if " ".join(re.findall(r"\w+", text[s:e].lower())) not in known or _repeats(text[s:e])
        ]
        for s, e in blocks:
            fold(s, e, "quote")
        lines = [" ".join(re.findall(r"\w+", text[s:e].lower())) for s, e in blocks]
        new = [line for line in lines if line and line not in known]
        if content and (not seen_mine or len(new) > len(lines) // 2 or theirs):
            kept = _kept(text, [(s, min(e + 1, len(text))) for s, e in blocks], mail)
            mine = not theirs if not message.mine else theirs is False
            when = _dated(attribution[0], message.at)
            earlier.append(
                _Part(message.id, mine, when or message.at, *kept, "" if mine else message.sender, "quoted", dated=True)
            )
        quotes = [q for q in quotes if q[0] < attribution.start()]
    signature = ""
    mark = _SIGNATURE.search(text, 0, text_end)
    if mark and not any(s <= mark.start() < e for s, e in quotes):
        stop = attribution.start() if attribution and attribution.start() > mark.start() else text_end
        signature = text[mark.end() : stop]
        fold(mark.start(), stop, "signature")
    if not quotes:
        return [
            *earlier,
            _Part(message.id, message.mine, message.at, *_kept(text, own, mail), message.sender, "said", signature),
        ], folds
    # Answers written between quoted lines: each quote is what was asked, each stretch between them the answer.
    parts: list[_Part] = []
    at = 0
    for start, end in quotes:
        folds.append(Fold(Evidence(message.id, start, end), "quote"))
        before = [(max(s, at), min(e, start)) for s, e in own if max(s, at) < min(e, start)]
        if text[at:start].strip():
            parts.append(
                _Part(message.id, message.mine, message.at, *_kept(text, before, mail), message.sender, "said")
            )
        parts.append(_Part(message.id, not message.mine, message.at, *_kept(text, [(start, end)], mail), "", "quoted"))
        at = end
    rest = [(max(s, at), e) for s, e in own if e > at]
    parts.append(
        _Part(message.id, message.mine, message.at, *_kept(text, rest, mail), message.sender, "said", signature)
    )
    return [*earlier, *parts], folds


def _repeats(line: str) -> bool:
    return len(line.strip(" >")) < 3


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


_TOPICS = {
    "count": r"how many|how much|what quantity|cu[aá]ntas|number of cookies|head ?count|total",
    "theme": r"theme|which shapes?|what shapes?|what (?:kind|style|design)|design|tema|what are you thinking|thinking of|dise[ñn]o|idea in mind",
    "date": r"when\b|what day|which day|what date|which date|how soon|by when|cu[aá]ndo|qu[eé] (?:d[ií]a|fecha)|para cu[aá]ndo|day (?:do|would|are|is)|date\b|fecha",
    "handover": r"pick ?-?up|pick(?:ing)? (?:them|both|it)|deliver|drop (?:them )?off|collect|ship|bring them|come (?:get|by)|porch|recog|pasa por|env[ií]|entreg|where to",
    "lettering": r"\bnames?\b|word(?:s|ing)|letter|initials?|writ(?:e|ing|ten)|logo|say(?:ing)?\b|text on|nombre|letras|escrib",
    "colors": r"colou?rs?|colores",
    "flavors": r"flavou?rs?|sabor",
    "diet": r"allerg|diet|alergi",
    "address": r"address|where (?:to|should|do|is)|direcci[oó]n|a d[oó]nde",
    "time": r"what time|time works|qu[eé] hora|time (?:for|would|should)",
}
_WHEN_PARTY = re.compile(
    r"\b(?:when|what day|which day|what date|cu[aá]ndo)(?:'s| is| was)? (?:the|your|her|his|es la|la) (?:party|shower|wedding|event|big day|picnic|fiesta|birthday|bday|dinner)\b"
)
_DAY_NAMED = re.compile(
    r"\b(?:\d{1,2}(?:st|nd|rd|th)|\d{1,2}/\d{1,2}|(?:mon|tues|wednes|thurs|fri|satur|sun)day|(?:jan|feb|mar|apr|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.? \d{1,2})\b"
)
_TOPIC = {name: re.compile(pattern) for name, pattern in _TOPICS.items()}


def _topics(low: str) -> frozenset[str]:
    """What the baker's message asks about: each question, or the whole message where it asks without a mark."""
    asks = re.findall(r"[^.!?\n]*\?", low)
    found = {name for name, pattern in _TOPIC.items() for ask in asks if pattern.search(ask)}
    if any(_DAY_NAMED.search(ask) for ask in asks):
        found.add("date")
    if "date" in found and any(_WHEN_PARTY.search(ask) for ask in asks):
        found.add("event date")
    return frozenset(found)
