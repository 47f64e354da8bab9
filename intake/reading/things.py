"""Things to be drawn and lists of them, and the words of one turn classed for finding them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from intake.reading import fuzzy
from intake.reading.counts import Quantity
from intake.reading.language import Term, Word, listed
from intake.reading.thing_words import COOKIE_WORDS, known_words, motif_words, stop_words
from intake.reading.turns import Turn


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to be drawn: the words `start` to `end`, and its share of the count where one was said.

    `part` is a share told as a fraction of the whole; `rest` marks the thing that fills what is left.
    """

    start: int
    end: int
    what: str
    share: int | None = None
    half: bool = False
    quantity: Quantity | None = None
    part: Fraction | None = None
    rest: bool = False


@dataclass(frozen=True, slots=True)
class ItemList:
    """Things named one after another. `each`: the share said once for all; `halves`: "half and half".

    `strong` lists are surely an order; others only where nothing better is found.
    """

    items: tuple[Item, ...]
    each: Quantity | None = None
    halves: bool = False
    strong: bool = True
    cue: str = ""
    start: int = 0
    end: int = 0


class Chunker:
    """Words of one turn classed for chunking; positions are characters.

    `all_things`: the known motifs and themes, the longest first and without overlap; `things`: those of them that are
    free to be drawn; `themed`: the spans already read as themes; `asked`: where a phrase begins that is surely asked for.
    """

    def __init__(
        self,
        turn: Turn,
        words: Sequence[Word],
        terms: Sequence[Term],
        quantities: Sequence[Quantity],
        taken: Sequence[tuple[int, int]],
    ) -> None:
        self.turn, self.low, self.words, self.terms = turn, turn.low, list(words), terms
        self.quantities = list(quantities)
        self.taken = list(taken)
        self.stop = stop_words()
        self.by_start = {w.start: i for i, w in enumerate(self.words)}
        self.colors = [t for t in terms if t.kind == "color"]
        self.shades = listed("color_modifiers.txt")
        self.all_things = self._longest(
            [t for t in terms if t.kind in ("motif", "theme") and t.entry not in COOKIE_WORDS]
        )
        self.things = self._thing_terms()
        self.themed: list[tuple[int, int]] = []
        self.asked: frozenset[int] = frozenset()

    def _thing_terms(self) -> list[Term]:
        """Motif and theme terms without overlap, the longest first; what is rather a colour, a date or lettering is left out."""
        free = [t for t in self.all_things if not any(t.start < e and t.end > s for s, e in self.taken)]
        return [t for t in free if not self._is_color(t)]

    def _longest(self, pool: list[Term]) -> list[Term]:
        kept: list[Term] = []
        for term in sorted(pool, key=lambda t: (t.start - t.end, t.kind == "theme")):
            if not any(term.start < k.end and term.end > k.start for k in kept):
                kept.append(term)
        return sorted(kept, key=lambda t: t.start)

    def _is_color(self, term: Term) -> bool:
        """ "Olive", "rose", "lemon" said as a colour: singular, beside other colours, not before "cookies"."""
        same = [c for c in self.colors if c.start <= term.start and c.end >= term.end]
        if not same or (term.plural and (same[0].start, same[0].end) != (term.start, term.end)):
            return False
        after = self.low[same[0].end : same[0].end + 20]
        return not re.match(r"\s*(?:cookies|biscuits|theme|shaped|cookie)", after)

    def spelled(self, said: str) -> str:
        """`said` with each unknown word replaced by the known thing that it misspells."""
        return " ".join(self._spell(word) for word in said.split())

    def _spell(self, word: str) -> str:
        if not word.isalpha() or len(word) < fuzzy.SHORTEST or word in known_words() or word in self.stop:
            return word
        return fuzzy.nearest(word, motif_words()) or word
