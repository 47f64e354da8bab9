"""A thread as turns: who said which words when, with quotes and signatures of mails folded away.

A turn holds its speaker's words alone, with long blanks shortened and the wrapped lines of mails joined; each of its
characters knows its place in the message. What a mail quotes becomes an earlier turn of whoever wrote it, unless the
thread holds it already.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property

from intake.model import Evidence, Fold, Thread
from intake.reading.folding import Part, line_key, parts_of
from intake.reading.shadow import Shadow

#: What is read of one turn, in characters; the rest of a longer one is searched for allergies alone.
LONGEST = 5_000


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
    rest: str = ""

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


def turns_of(thread: Thread) -> tuple[tuple[Turn, ...], tuple[Fold, ...]]:
    """All turns of a thread in the order in which they were said, and what was folded away of each message."""
    parts: list[tuple[datetime, Part]] = []
    folds: list[Fold] = []
    known: set[str] = set()
    seen_mine = any(m.mine for m in thread.messages)
    for message in thread.messages:
        split, folded = parts_of(message, known, seen_mine, thread.channel == "mail")
        known |= {line_key(line) for line in message.text.split("\n")}
        folds.extend(folded)
        # A quoted mail is dated earlier; what was said stays in the thread's own order.
        parts.extend((min(p.sent, message.at) if p.dated else message.at, p) for p in split)
    parts.sort(key=lambda dated: dated[0])
    turns: list[Turn] = []
    asked: frozenset[str] = frozenset()
    for index, (_, part) in enumerate(parts):
        cut = _cut(part.text)
        shadow = Shadow(part.text[:cut])
        if cut < len(part.text):
            folds.append(Fold(Evidence(part.message, part.places[cut], part.places[-1] + 1), "more than is read"))
        turn = Turn(
            index,
            part.message,
            part.mine,
            part.sent,
            shadow,
            part.places[:cut],
            part.sender,
            part.kind,
            part.signature,
            frozenset() if part.mine else asked,
            part.text[cut:],
        )
        if part.mine:
            asked = _topics(turn.low) | (asked if turns and turns[-1].mine else frozenset())
        turns.append(turn)
    return tuple(turns), tuple(folds)


def _cut(text: str) -> int:
    """Where to stop reading: the end of the text, or the last line or word within LONGEST."""
    if len(text) <= LONGEST:
        return len(text)
    return max(text.rfind("\n", LONGEST // 2, LONGEST), text.rfind(" ", LONGEST // 2, LONGEST)) + 1 or LONGEST


_TOPICS = {
    "count": r"how many|how much|what quantity|cu[aá]ntas|number of cookies|head ?count|total",
    "dozens": r"how many dozen|cu[aá]ntas docenas|dozens?\?",
    "theme": r"theme|which shapes?|what shapes?|what (?:kind|style|design)|design|tema|what are you thinking|thinking of|dise[ñn]o|idea in mind",
    "date": r"when\b|what day|which day|what date|which date|how soon|by when|cu[aá]ndo|qu[eé] (?:d[ií]a|fecha)|para cu[aá]ndo|day (?:do|would|are|is)|date\b|fecha",
    "handover": r"pick ?-?up|pick(?:ing)? (?:them|both|it)|com(?:e|ing) (?:to (?:get|me)|for|over|round|here|by|in|collect)|fetch|get (?:them|em)\b|deliver|drop (?:them )?off|collect|ship|bring them|come (?:get|by)|porch|recog|pasa por|env[ií]|entreg|where to",
    "lettering": r"\bnames?\b|word(?:s|ing)|letter|initials?|writ(?:e|ing|ten)|pipe\b|logo|say(?:ing)?\b|text on|nombre|letras|escrib",
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
