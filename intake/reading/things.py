"""Themes and designs: stated themes, the words before "cookies", and lists of things to be drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from intake.reading import cues, fuzzy
from intake.reading.counts import Quantity
from intake.reading.language import Term, Word, listed
from intake.reading.mention import Mention
from intake.reading.thing_words import (
    CLOSED,
    COOKIE_WORDS,
    ENDS,
    HEAD_NOUN,
    JOINS,
    MADE_OF,
    OCCASION_THEMES,
    PAIR,
    PLACE,
    PRIORS,
    SEPARATORS,
    SIZES,
    SPORT,
    STOP_LEFT,
    TAIL,
    UNITS,
    known_words,
    motif_words,
    stop_words,
)
from intake.reading.turns import Turn


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to be drawn: the words `start` to `end`, and its share of the count where one was said."""

    start: int
    end: int
    what: str
    share: int | None = None
    half: bool = False
    quantity: Quantity | None = None


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
    """Words of one turn classed for chunking; positions are characters."""

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
        self.by_end = {w.end: i for i, w in enumerate(self.words)}
        self.colors = [t for t in terms if t.kind == "color"]
        self.shades = listed("color_modifiers.txt")
        self.all_things = self._longest(
            [t for t in terms if t.kind in ("motif", "theme") and t.entry not in COOKIE_WORDS]
        )
        self.things = self._thing_terms()
        self.themed: list[tuple[int, int]] = []

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
        if not word.isalpha() or len(word) < fuzzy.SHORTEST or word in self._known() or word in self.stop:
            return word
        return fuzzy.nearest(word, motif_words()) or word

    def _known(self) -> frozenset[str]:
        return known_words()

    # -- words before "cookies" or "theme"

    def left_of(self, at: int, *, theme: bool = False) -> tuple[int, int, str] | None:
        """The thing phrase that ends right before character `at`: (start, end, words), or None."""
        index = next((i for i in range(len(self.words) - 1, -1, -1) if self.words[i].end <= at), None)
        if index is None or self.low[self.words[index].end : at].strip(" -'\"”") not in ("", "'s"):
            return None
        end = self.words[index].end
        while index >= 0 and self.words[index].low in ('"', "'", "”", "-"):
            index -= 1
        quote = re.search(r"[\"'“](?P<q>[^\"'”\n]{2,50})[\"'”]\s*$", self.low[:at])
        if quote and theme:
            return quote.start("q"), quote.end("q"), quote["q"]
        start, first = None, index
        taken_words = 0
        while index >= 0 and taken_words < 5:
            word = self.words[index]
            # a gap of more than one blank is masked text
            if first != index and self.low[word.end : self.words[index + 1].start] not in ("", " ", "\n"):
                break
            inside = next((t for t in self.all_things if t.start <= word.start and t.end >= word.end), None)
            if inside and inside.start == word.start and inside.end == word.end and word.low in STOP_LEFT:
                break  # "would love cookies"
            if inside:
                index = self.by_start.get(inside.start, index)
                start = inside.start
                taken_words += 1
                index -= 1
                continue
            if any(word.start < e and word.end > s for s, e in self.taken):
                break
            if word.low in ("and", "&", "n", "+", "y", "'n", "/", ",") and start is not None and index > 0:
                left = self.words[index - 1]
                thing = next((t for t in self.all_things if t.start <= left.start and t.end >= left.end), None)
                named = theme and word.low != "," and left.low.isalpha() and left.low not in self.stop
                if named or (thing and (word.low != "," or thing.plural)):
                    index -= 1
                    continue
                break
            if (
                word.low in ("'s", "of", "in", "the")
                and theme
                and start is not None
                and index > 0
                and self._is_phrase(index)
            ):
                index -= 1
                continue
            if (
                not re.fullmatch(r"[a-zñáéíóúü'’-]+", word.low)
                or (word.low in self.stop and not (theme and word.low in OCCASION_THEMES))
                or word.low in COOKIE_WORDS
                or word.low in UNITS
            ):
                break
            if any(q.start <= word.start < q.end for q in self.quantities):
                break
            start = word.start
            taken_words += 1
            index -= 1
        if start is None:
            return None
        said = self.low[start:end]
        # Colours and shades in front belong to the colours: "pink flamingo" is a flamingo.
        while True:
            color = next((c for c in self.colors if c.start == start and c.end < end), None)
            known = any(t.start == start and (color is None or t.end > color.end) for t in self.all_things) or (
                color is not None
                and re.match(r"\s+(?:and|n|&|y)\s", self.low[color.end : end]) is not None
                and any(t.start == start for t in self.all_things)
            )
            shade = re.match(r"[a-z-]+(?=\s)", said)
            if known:
                break
            if color:
                start = color.end + len(self.low[color.end : end]) - len(self.low[color.end : end].lstrip(" ,&/-"))
            elif shade and shade[0] in self.shades | SIZES:
                start += len(shade[0]) + 1
            else:
                break
            said = self.low[start:end]
            said2 = re.sub(r"^(?:and|n|&|y)\s+", "", said)
            start += len(said) - len(said2)
            said = said2
        said = said.strip(" -'\"")
        if not said or (
            any(c.start <= start and c.end >= end for c in self.colors)
            and not any(t.start <= start < t.end for t in self.all_things)
        ):
            return None
        return start, end, said

    def _is_phrase(self, index: int) -> bool:
        """Whether a small word at `index` joins two words of a theme name ("under the sea")."""
        return any(t.start <= self.words[index].start < t.end for t in self.terms if t.kind == "theme")

    def before_cookies(self) -> Iterator[Mention]:
        for word in self.words:
            if word.low not in COOKIE_WORDS:
                continue
            sentence = self.turn.shadow.sentence(word.start)
            if cues.is_past(self.low, sentence[0], word.start, sentence[1]):
                continue
            left = self.left_of(word.start)
            if left:
                start, end, said = left
                if self.low[max(0, start - 2) : start].strip() in ("'", "’"):
                    continue
                yield Mention(
                    "theme", self.spelled(said), self.turn.index, start, end, "words before “cookies”", "cookies"
                )

    def teams(self) -> Iterator[Mention]:
        """A sport before "team" or "club" is the theme of its party where no other is stated."""
        for term in self.all_things:
            if re.match(
                r"\s+(?:team|club|league|squad)(?:'?s)?\b", self.low[term.end : term.end + 10]
            ) and term.entry not in ("book", "fan", "house"):
                yield Mention(
                    "theme",
                    self.low[term.start : term.end],
                    self.turn.index,
                    term.start,
                    term.end,
                    "the sport of a team",
                    "team",
                )
        for m in SPORT.finditer(self.low):
            yield Mention("theme", m["s"], self.turn.index, m.start("s"), m.end("s"), "the sport of a team", "team")
        for m in re.finditer(
            r"(?:^|[.,!?\n]\s*|cookies,?\s+)(?:all |everything )?(?P<t>[a-zñáéíóú' ]{3,28}?):\s", self.low
        ):
            words = m["t"].split()
            if not words or any(w in self.stop for w in words) or words[-1] in COOKIE_WORDS | {"colors", "theme"}:
                continue
            listed_next = [t for t in self.things if m.end() <= t.start < m.end() + 40]
            if len(listed_next) > 1 and any(t.start <= m.end("t") - 1 < t.end for t in self.all_things):
                yield Mention(
                    "theme",
                    m["t"].strip(),
                    self.turn.index,
                    m.start("t"),
                    m.end("t"),
                    "the heading of a list",
                    "cookies",
                )

    def spelled_out(self, theme: Mention) -> ItemList:
        """ "Pumpkin and turkey cookies, 8 of each": the words before "cookies" as a list of things."""
        items, at = [], theme.start
        for part in JOINS.split(theme.value):
            start = self.low.find(part, at)
            start = start if start >= 0 else at
            items.append(Item(start, start + len(part), part))
            at = start + len(part)
        end = next((w.end for w in self.words if w.start >= theme.end and w.low in COOKIE_WORDS), theme.end)
        halves = re.match(r"[\s,]*(?:please,? )?half (?:and|&|n) half\b", self.low[end:]) is not None
        return ItemList(tuple(items), self._each(end), halves, True, "cookies", theme.start, theme.end)

    # -- lists of things

    def lists(self) -> Iterator[ItemList]:
        items = self._items()
        group: list[Item] = []
        for item in items:
            if group and not self._adjoins(group[-1], item):
                if (made := self._list(group)) is not None:
                    yield made
                group = []
            group.append(item)
        if group and (made := self._list(group)) is not None:
            yield made

    def _items(self) -> list[Item]:
        out: list[Item] = []
        terms = self.things
        i = 0
        while i < len(terms):
            first = last = terms[i]
            # A singular thing right before another is its first half: "mail trucks".
            while i + 1 < len(terms) and not last.plural and self.low[last.end : terms[i + 1].start] in (" ", "-"):
                i += 1
                last = terms[i]
            i += 1
            start, end = self._widen(first.start), last.end
            if not last.plural and (head := HEAD_NOUN.match(self.low, end)):
                end = head.end("head")
            what = self.low[start:end]
            out.append(self._with_share(Item(start, end, self.spelled(what))))
        out.extend(self._unknown_items(out))
        heads = [q.end for q in self.quantities if q.role == "people"]
        out = [
            item
            for item in out
            if item.start - 1 not in heads and not any(item.start < e and item.end > s for s, e in self.themed)
        ]
        return sorted(out, key=lambda item: item.start)

    def _widen(self, start: int) -> int:
        """Take in words that are no known thing but stand between a number, a comma or "and" and the thing."""
        index = self.by_start.get(start, 0)
        at = index
        for _ in range(2):
            if at == 0:
                break
            word = self.words[at - 1]
            if self.low[word.end : self.words[at].start] not in (" ", "-", "") or not re.fullmatch(
                r"[a-zñáéíóú'-]+", word.low
            ):
                break
            if (
                word.low in self.stop
                or word.low in COOKIE_WORDS
                or word.low in SEPARATORS
                or word.low in self.shades
                or any(c.start <= word.start < c.end for c in self.colors)
            ):
                break
            if any(q.start <= word.start < q.end for q in self.quantities) or any(
                s <= word.start < e for s, e in self.taken
            ):
                break
            if any(t.start <= word.start < t.end for t in self.things):
                break
            if any(t.kind in ("name", "relation") and t.start <= word.start < t.end for t in self.terms):
                break
            at -= 1
        if at == index:
            return start
        before = self.words[at - 1] if at else None
        begins = (
            before is None
            or before.low in SEPARATORS | ENDS
            or "\n" in self.low[before.end : self.words[at].start]
            or any(q.end == before.end for q in self.quantities)
        )
        return self.words[at].start if begins else start

    def _unknown_items(self, known: list[Item]) -> Iterator[Item]:
        """Words of a list that no word list knows: misspelt things, and what stands between two separators."""
        for at, word in enumerate(self.words):
            if not word.low.isalpha() or len(word.low) < 3 or word.low in self.stop or word.low in COOKIE_WORDS:
                continue
            if any(
                t.kind in ("color", "name", "relation", "modifier", "flavor") and t.start <= word.start < t.end
                for t in self.terms
            ):
                continue
            if any(k.start <= word.start < k.end for k in known) or any(s <= word.start < e for s, e in self.taken):
                continue
            before = self.low[: word.start].rstrip()
            prior = self.words[self.by_start[word.start] - 1] if self.by_start[word.start] else None
            after_number = any(q.end == len(before) and q.role not in ("other", "people") for q in self.quantities)
            starts = prior is None or prior.low in ENDS or "\n" in self.low[prior.end : word.start]
            halved = prior is not None and prior.low in ("half", "mitad")
            if not (starts or halved or after_number or (prior is not None and prior.low in PRIORS)):
                continue
            guess = fuzzy.nearest(word.low, motif_words()) if word.low not in known_words() else None
            end, said = word.end, guess or word.low
            after = self.words[at + 1] if at + 1 < len(self.words) else None
            if (
                after is not None
                and not guess
                and (more := TAIL.match(self.low, word.end))
                and more["w"].split()[-1] not in self.stop
            ):
                end, said = more.end("w"), self.low[word.start : more.end("w")]
            closed = CLOSED.match(self.low, end) is not None
            beside = any(
                max(k.start - end, word.start - k.end) <= 12
                and not re.search(r"[.!?\n]", self.low[min(end, k.end) : max(word.start, k.start)])
                for k in known
            )
            many = said.endswith("s") or after_number
            colored = starts and re.match(r",\s", self.low[end:]) and any(0 < c.start - end < 4 for c in self.colors)
            paired = starts and PAIR.match(self.low, word.start)
            if (
                (guess and (after_number or beside or (starts and closed)))
                or (closed and many and (beside or halved))
                or (many and (colored or paired))
                or (halved and many)
            ):
                item = self._with_share(Item(word.start, end, said))
                yield item
                known = [*known, item]

    def _with_share(self, item: Item) -> Item:
        before = self.low[: item.start]
        gap = re.search(
            r"(?:\s+(?:of|de)(?:\s+(?:the|los|las|my|those|these))?)?(?:\s+(?:the|little|big|small|large|mini|cute|los|las))?\s*$",
            before,
        )
        at = gap.start() if gap else item.start
        quantity = next((q for q in self.quantities if q.end in (at, item.start - 1)), None)
        if quantity and self.low[quantity.end - 1] == "." and re.match(r"\s", self.low[quantity.end :]):
            quantity = None  # "6 doz. Caps and diplomas": a full stop
        if quantity and quantity.exact and quantity.role not in ("people", "other", "boxes"):
            big = re.search(r"\b(big|large|little|mini|small)\s*$", before)
            what = f"{big[1]} {item.what}" if big and big[1] in ("big", "large", "mini") else item.what
            start = big.start() if big and what != item.what else item.start
            return Item(start, item.end, what, quantity.low, False, quantity)
        if re.search(
            r"\b(?:half|mitad)\s+(?:of (?:them|em|'em|the (?:cookies|order))\s+|(?:will be|are|can be|should be|being|as|just|de)\s+|the\s+)*(?:\w+ing\s+)?$",
            before,
        ):
            return Item(item.start, item.end, item.what, None, True)
        return item

    def _adjoins(self, a: Item, b: Item) -> bool:
        gap = self.low[a.end : (b.quantity.start if b.quantity and b.quantity.start > a.end else b.start)]
        gap = re.sub(
            r"\b(?:half|the|other|of|them|em|maybe|some|a few|little|big|just|also|then|with|\d{1,3}|los|las|mitad|is|are|and|n|or|y|plus|mixed)\b",
            " ",
            gap,
        )
        gap = re.sub(r"(?<=[a-z])?\b(?:cookies|please)\b", " ", gap)
        for c in self.colors:
            if a.end <= c.start and c.end <= b.start:
                gap = gap.replace(self.low[c.start : c.end], " ")
        for shade in self.shades:
            gap = re.sub(rf"\b{re.escape(shade)}\b", " ", gap) if shade in gap else gap
        return not gap.strip(" ,&+/-\n'") and "\n\n" not in gap

    def _list(self, group: list[Item]) -> ItemList | None:
        start, end = group[0].start, group[-1].end
        sentence = self.turn.shadow.sentence(start)
        lead = self.low[sentence[0] : (group[0].quantity.start if group[0].quantity else start)]
        if cues.is_past(self.low, sentence[0], start, sentence[1]):
            return None
        after = self.low[end : end + 40]
        if re.match(r"\s*(?:is|was|are|were) (?:at|on|in|from|where|closed|open)\b", after):
            return None
        each = self._each(end)
        halves = bool(
            re.match(
                r"[\s,]*(?:cookies?,?\s*)?(?:half\s*(?:and|&|n|/|y)\s*half|half half|half of each|in equal (?:number|numbers|parts)|evenly|equal(?:ly| amounts| parts)?|50/50|split evenly|mitad y mitad|even split|same of each)",
                after,
            )
        ) or bool(re.search(r"half\s*(?:and|&|n)\s*half(?:\s+of)?\s*$", lead))
        if not halves and re.search(r"\bhalf\s*(?:and|&|n)\s*half\b", self.low[end : sentence[1]]):
            halves = len(group) == 2
        cue = self._cue(lead, after, group)
        strong = bool((len(group) > 1 and cue != "place") or cue in ("asked", "please", "number", "alone", "verb"))
        if cue == "place" and len(group) == 1:
            return None
        each_before = self._each_before(group[0].start)
        if (
            len(group) > 1
            and PLACE.search(lead)
            and not MADE_OF.search(lead)
            and re.match(r"\s*,", self.low[group[0].end :])
            and group[0].share is None
        ):
            # "graduation from nursing school, stethoscopes and caps": the first is where, not what.
            group = group[1:]
            start = group[0].start
        if (
            len(group) > 1
            and group[0].share is not None
            and not each_before
            and (each is None or each.low * len(group) == group[0].share)
            and all(i.share is None for i in group[1:])
            and not any(i.half for i in group)
        ):
            # "2 dozen trout and canoes": the number is the whole's, not the first one's.
            first = group[0]
            group = [Item(first.start, first.end, first.what, None, False, first.quantity), *group[1:]]
        return ItemList(tuple(group), each_before or each, halves, strong, cue, start, end)

    def _each(self, end: int) -> Quantity | None:
        """ "10 each", "8 of each", "a dozen each" behind a list, in this sentence or as the next."""
        stop = self.turn.shadow.sentence(end)[1]
        for q in self.quantities:
            if q.role != "each" or q.start < end:
                continue
            gap = self.low[end : q.start]
            if q.start < stop and not re.search(
                r"\b(?:kids|people|guests|girls|boys|players|students|swimmers|of us|names?)\b", gap
            ):
                return q
            if q.start <= stop + 3 and not re.search(
                r"[a-z]{3,}", re.sub(r"\b(?:and|cookies|please|so|with|about|like|colors?)\b", "", gap)
            ):
                return q
        return None

    def _each_before(self, start: int) -> Quantity | None:
        for q in self.quantities:
            if (
                q.role == "each"
                and q.end <= start
                and re.fullmatch(r"\s*(?:of\s+)?each\s*(?:of|:|-|,)?\s*(?:the\s+)?", self.low[q.end : start])
            ):
                return q
        return None

    def _cue(self, lead: str, after: str, group: list[Item]) -> str:
        if group[0].share is not None or group[0].half:
            return "number"
        if re.search(r"\b(?:do|can|could|would) (?:you|u|ya) (?:do|make|ever do|ever make)(?: any| some)?\s*$", lead):
            return "verb"
        if len(group) == 1 and PLACE.search(lead) and not MADE_OF.search(lead):
            return "place"
        if (
            "theme" in self.turn.asked
            and group[0].start == next((i.start for i in group), -1)
            and not lead.strip(" ,\n")
        ):
            return "asked"
        if re.match(
            r"\s*,?\s*(?:please|pls|plz|plis|por favor|if (?:that|you|u|it|possible)|would be|ish\b|i guess|i think|maybe|and (?:stuff|such|things)|theme|cookies|only)",
            after,
        ):
            return "please"
        clause = self.low[slice(*self.turn.shadow.clause(group[0].start))]
        rest = clause.replace(self.low[group[0].start : group[-1].end], " ")
        if any(
            not re.sub(r"[\W\d_]+|\b(?:and|n|with|the|some|just|maybe|mostly)\b", "", self._without_colors(t))
            for t in (lead, rest)
        ):
            return "alone"
        if re.search(
            r"\b(?:shaped like|in the shape of|shapes of|look like|like|want|wanting|do|doing|make|with|so|love|maybe|thinking|just|get|some|need|order|of|have|including|include|e\.?g\.?|such as|mix in|add|prefer|cookies|set|theme|shapes?|designs?|for|con|de|are|be|is|either|dozen|doz|dz|dozens|mostly)\s*(?:some|of|a few|the|little|a mix of|both|cute|like|in|:|-|,|\(|\.\.+)*\s*$",
            lead,
        ):
            return (
                "verb"
                if len(group) > 1
                or re.search(
                    r"\b(?:dozen|doz|dz|so|maybe|thinking|cookies|add|mix in|shapes?|designs?|shaped like|in the shape of|look like)\W*(?:some|of|the)?\s*$",
                    lead,
                )
                else "weak verb"
            )
        return ""

    def _without_colors(self, text: str) -> str:
        for color in {self.low[c.start : c.end] for c in self.colors}:
            text = re.sub(rf"\b{re.escape(color)}\b", " ", text)
        return text
