"""A message as the finders see it: lower case, plain quotes and spaces, of exactly the same length.

Every span found in the shadow is therefore a span of the message itself.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property

_PLAIN = str.maketrans(
    {
        "‘": "'", "’": "'", "ʼ": "'", "`": "'", "´": "'", "“": '"', "”": '"', "„": '"', "«": '"', "»": '"',
        "–": "-", "—": "-", "−": "-", "‐": "-", "‑": "-",
        "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\u2007": " ", "\t": " ",
    }
)  # fmt: skip
_SENTENCE_END = re.compile(
    r"(?<!\bst)(?<!\bave)(?<!\brd)(?<!\bdr)(?<!\bmr)(?<!\bms)(?<!\bmrs)(?<!\bapprox)(?<!\bdoz)(?<!\bdz)"
    r"(?<!\bjan)(?<!\bfeb)(?<!\bmar)(?<!\bapr)(?<!\baug)(?<!\bsept)(?<!\boct)(?<!\bnov)(?<!\bdec)(?<!\bsat)(?<!\bsun)"
    r"(?<!\bfri)(?<!\bthurs)(?<!\bwed)(?<!\btues)(?<!\bmon)\.+(?=\s|$|[\"')])|[!?]+(?=\s|$|[\"')a-z])|\n+"
)
_CLAUSE_END = re.compile(r"[,;:]\s|\s-+\s|[()]|\s(?:but|and then|so|because|tho|though|pero)\s")


def lowered(text: str) -> str:
    """`text` in lower case with plain quotes, dashes and spaces, character for character."""
    low = text.translate(_PLAIN)
    folded = low.lower()
    return folded if len(folded) == len(low) else "".join(c.lower() if len(c.lower()) == 1 else c for c in low)


@dataclass(frozen=True)
class Shadow:
    """The text of one turn for finding: `text` as written, `low` its shadow."""

    text: str

    @cached_property
    def low(self) -> str:
        return lowered(self.text)

    @cached_property
    def sentences(self) -> tuple[tuple[int, int], ...]:
        """Half-open spans that cover the text, cut after full stops, question marks and line ends."""
        return _cut(self.low, 0, len(self.low), _SENTENCE_END)

    @cached_property
    def clauses(self) -> tuple[tuple[int, int], ...]:
        """Half-open spans within the sentences, cut at commas, brackets, dashes and contrasting words."""
        found: list[tuple[int, int]] = []
        for start, end in self.sentences:
            found.extend(_cut(self.low, start, end, _CLAUSE_END))
        return tuple(found)

    def sentence(self, at: int) -> tuple[int, int]:
        return _around(self.sentences, at)

    def clause(self, at: int) -> tuple[int, int]:
        return _around(self.clauses, at)


def _cut(low: str, start: int, end: int, ends: re.Pattern[str]) -> tuple[tuple[int, int], ...]:
    found, begin = [], start
    for stop in ends.finditer(low, start, end):
        if stop.end() > begin:
            found.append((begin, stop.end()))
        begin = stop.end()
    if begin < end:
        found.append((begin, end))
    return tuple(found)


def _around(spans: tuple[tuple[int, int], ...], at: int) -> tuple[int, int]:
    import bisect

    if not spans:
        return (0, 0)
    index = bisect.bisect_right(spans, at, key=lambda span: span[0]) - 1
    return spans[max(index, 0)]
