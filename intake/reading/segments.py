"""Which order of a thread each passage is about: enumerated orders, a second order asked for later, references back."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from intake.reading.found import Found

_TWO = re.compile(
    r"(?<!has )(?<!have )(?<!had )(?<!already )\b(?:two|2|couple(?: of)?|dos|three|3)\s+(?:separate |different |cookie )?(?:orders?|things|sets|events|pedidos|parties|batches|lots|bits|jobs|requests|bookings|gigs|occasions|dates|for you)\b|\border twice\b|\bi(?:'?ve got| have) a list\b|\bneed you twice\b"
)
_MARK = re.compile(
    r"(?:(?<=^)|(?<=[\s(.,!?:]))(?P<k>[1-3]|[a-c])\s?[).:](?=\s)|\b(?P<w>first|second|third|1st|2nd|3rd)(?:ly)?(?:(?:\s+(?:order|one|set|batch|lot))?\s+is\b|(?:\s+(?:order|one|set|batch|lot))?\s*[,:-])|(?:(?<=^)|(?<=[.!?:\n]\s)|(?<=\n))(?P<e>one|two|three|uno|dos)\s?[:)]\s|\b(?:number|order) (?P<n>one|two|three|1|2|3)\b(?=\s*(?:is|,|:|-|would|for))|#(?P<h>[1-3])\b|\border\s+(?P<o>[1-3a-c])\b"
)
_ALSO = re.compile(
    r"\b(?:also (?:need|want|would like|looking|wanting|can i|could i|could we|can we|i need|i'd like|like to order)|(?:another|second|separate|new|additional|different) order|one more (?:order|set|batch|lot)|another (?:set|batch|lot)|(?:a |the )?(?:second|separate) (?:set|batch|lot)|can i also (?:get|order|have|do)|could i also (?:get|order|have)"
    r"|i also (?:need|want|would|have)|we also (?:need|want)|tambi[eé]n (?:quiero|necesito|ocupo|quisiera)|plus (?:a separate|another)|and (?:then )?(?:separately|for (?:a )?different))\b"
)
_ORDER_WORDS = {
    "first": 0,
    "1st": 0,
    "1": 0,
    "a": 0,
    "second": 1,
    "2nd": 1,
    "2": 1,
    "b": 1,
    "third": 2,
    "3rd": 2,
    "3": 2,
    "c": 2,
    "one": 0,
    "two": 1,
    "three": 2,
    "uno": 0,
    "dos": 1,
}
_REFERENCE = re.compile(
    r"\b(?:the )?(?P<w>first|second|third|1st|2nd|3rd) (?:one|order|set|batch|ones)\b|\border (?P<o>[1-3a-c])\b|(?<=[\s(])(?P<c>[A-C])(?=[\s.,!?)])"
)
_ALL = re.compile(r"\b(?:both|each one|each of them|all of them|all three|either of them|ambos|los dos)\b")


@dataclass
class Segments:
    """`count` orders; `passages` say which orders (start, end, orders) of a turn's text are about."""

    count: int = 1
    passages: dict[int, list[tuple[int, int, frozenset[int]]]] = field(default_factory=dict)

    def orders(self, turn: int, at: int) -> frozenset[int]:
        for start, end, orders in self.passages.get(turn, ()):
            if start <= at < end:
                return orders
        return frozenset(range(self.count))

    def about(self, turn: int, at: int, order: int) -> bool:
        return order in self.orders(turn, at)


def segment(found: Sequence[Found]) -> Segments:
    """Cut the customer's turns into passages by order. One order: no passages at all."""
    segments = Segments()
    words: list[set[str]] = [set()]
    current = 0
    for f in found:
        turn = f.turn
        if turn.mine and segments.count > 1:
            segments.passages[turn.index], current = _routed(f, words, current)
        if turn.mine or not turn.bare:
            continue
        low = turn.low
        cuts = _enumerated(f) if segments.count == 1 else []
        if cuts:
            first = segments.count - 1
            segments.count = len(cuts)
            passages = [(0, cuts[0], frozenset(range(len(cuts))))]
            for i, start in enumerate(cuts):
                end = cuts[i + 1] if i + 1 < len(cuts) else len(low)
                passages.append((start, end, frozenset({i})))
            passages[-1:] = _tail(low, passages[-1], len(cuts))
            segments.passages[turn.index] = passages
            words = [_words_of(f, s, e) for s, e, o in passages[1:] if len(o) == 1][: len(cuts)]
            segments.passages[turn.index] = _by_words(f, passages, words)
            current = len(cuts) - 1 if first else 0
            continue
        cut = _second(f, found) if words[current] else None
        if cut is not None:
            for earlier in found:
                if earlier.turn.index < turn.index and earlier.turn.index not in segments.passages:
                    segments.passages[earlier.turn.index] = [
                        (0, len(earlier.turn.low) + 1, frozenset(range(segments.count)))
                    ]
            before = frozenset({current}) if segments.count > 1 else frozenset({0})
            segments.passages[turn.index] = [(0, cut, before), (cut, len(low) + 1, frozenset({segments.count}))]
            current = segments.count
            segments.count += 1
            words.append(_words_of(f, cut, len(low)))
            continue
        if segments.count > 1:
            # "How will you get the kites?" - "I'll pick those up": those that were asked about.
            prior = segments.passages.get(turn.index - 1, [])
            asked = {p[2] for p in prior if len(p[2]) == 1} if turn.index and found[turn.index - 1].turn.mine else set()
            one = asked == {frozenset({current})}
            segments.passages[turn.index], current = _routed(f, words, current, one)
        else:
            words[0] |= _words_of(f, 0, len(low))
    if segments.count > 1:
        # The baker speaks of whatever the customer's next words are about.
        for f in found:
            segments.passages.setdefault(f.turn.index, [(0, len(f.turn.low) + 1, frozenset(range(segments.count)))])
    return segments


def _enumerated(f: Found) -> list[int]:
    """Where each of several orders of one turn begins; empty where there is one."""
    low = f.turn.low
    two = _TWO.search(low)
    marks: dict[int, int] = {}
    for m in _MARK.finditer(low):
        k = _ORDER_WORDS[(m["k"] or m["w"] or m["e"] or m["n"] or m["h"] or m["o"]).lower()]
        if k == len(marks):
            marks[k] = m.start()
    ordered = [marks[k] for k in sorted(marks)]
    totals = [q for q in f.quantities if q.role in ("total", "cookies", "dozens")]
    if two or _THEN.search(low):
        # "24 for that ... then I want 100 with our initials": where two orders are told, bare numbers count.
        shared = {id(i.quantity) for g in f.lists for i in g.items}
        totals += [q for q in f.quantities if q.role == "lone" and q.exact and q.low >= 6 and id(q) not in shared and _BARE.match(low, q.end)]
        totals.sort(key=lambda q: q.start)
    wholes = list(totals)
    totals += [i.quantity for g in f.lists for i in g.items if i.quantity is not None and i.share and i.quantity not in totals]
    if len(ordered) >= 2 and (
        two
        or all(any(s <= q.start < e for q in totals) for s, e in zip(ordered, [*ordered[1:], len(low)], strict=True))
    ):
        return ordered
    if two:
        shares = [i.quantity for g in f.lists for i in g.items if i.quantity is not None and i.share]
        counted = sorted({q.start for q in [*totals, *shares] if q.start >= two.end()})
        for start, end in f.turn.shadow.sentences:
            # The sentence that begins anew with a count of its own is the second order's.
            if (
                start > two.end()
                and counted
                and counted[0] < start
                and any(start <= c < end for c in counted)
                and _AGAIN.match(low, start)
            ):
                return [two.end(), start]
        if len(wholes) >= 2:
            at = wholes[1].start
            return [
                two.end(),
                max(low.rfind(" and ", 0, at), low.rfind(". ", 0, at), low.rfind("\n", 0, at), two.end()) + 1,
            ]
    for m in _THEN.finditer(low):
        at = m.start("w")
        own = [q.start for q in totals]
        if not any(s < at for s in own) or not any(at < s < at + 140 for s in own):
            continue
        days = [d.start for d in f.dates if d.rule != "named day as a thing"]
        if any(d < at for d in days) and any(d > at for d in days) and any(o.start > at for o in f.of("occasion")):
            return [0, at]
    return []


_BARE = re.compile(r"\s*(?:$|[.,;:!?\n)]|(?:for|of|with|please|pls)\b)")
#: Words that begin another order after one that has its own count and day.
_THEN = re.compile(
    r"(?:^|[.!?;\n]\s*)(?P<w>(?:and )?then\b|second(?:ly)?\b|also\b|and also\b|plus\b|the (?:other|second)\b|next\b|luego\b|despu[eé]s\b)"
)


def _by_words(f: Found, passages: list[tuple[int, int, frozenset[int]]], words: list[set[str]]) -> list[tuple[int, int, frozenset[int]]]:
    """The last passage cut further where its clauses name the things of an earlier order ("the caps on the 14th, the swans on the 5th")."""
    start, end, orders = passages[-1]
    low = f.turn.low
    counts = [q.start for q in f.quantities if q.role in ("total", "cookies", "dozens", "lone") and q.start >= start]
    begin = next((s for s, _ in f.turn.shadow.sentences if counts and s > counts[0]), None)
    if begin is None or len(orders) != 1:
        return passages
    pieces: list[tuple[int, int, frozenset[int]]] = []
    at = begin
    cuts = [m.end() for m in re.finditer(r"(?:,|;|\band\b|[.!?\n])\s*", low[begin:end])]
    for cut in (*(begin + c for c in cuts), end):
        stems = {_stem(w) for w in re.findall(r"[a-zñáéíóú]{4,}", low[at:cut])}
        scores = [len(stems & w) for w in words]
        if max(scores) and scores.count(max(scores)) == 1:
            named = frozenset({scores.index(max(scores))})
            pieces.append((at, cut, named))
            at = cut
    if not pieces or all(p[2] == orders for p in pieces):
        return passages
    pieces[-1] = (pieces[-1][0], end + 1, pieces[-1][2])
    return [*passages[:-1], (start, begin, orders), *pieces]


_AGAIN = re.compile(r"\W*(?:then|and|also|second(?:ly)?|plus|the (?:other|second)|next|2nd|y|luego)\b")


def _tail(low: str, last: tuple[int, int, frozenset[int]], count: int) -> list[tuple[int, int, frozenset[int]]]:
    """Closing words about all the orders ("I'd get each one the day before") leave the last passage."""
    start, end, orders = last
    for m in _ALL.finditer(low, start):
        begin = max(
            low.rfind(". ", start, m.start()), low.rfind("\n", start, m.start()), low.rfind("! ", start, m.start())
        )
        if begin > start:
            return [(start, begin + 1, orders), (begin + 1, end + 1, frozenset(range(count)))]
    return [(start, end + 1, orders)]


#: Words that alter what stands; a message with one asks for no further order.
_ALTERS = re.compile(
    r"\b(?:instead|change[ds]?|make (?:it|that|them)|bump|up to|down to|actually|more|rather|turns out|switch|swap|cancel\w*|correction|scratch|not|now|only|add|extra|so that'?s|so it'?s|sorry)\b"
)


def _anew(f: Found, found: Sequence[Found]) -> bool:
    """Whether a later message, asked for by nobody, is an order of its own: its own count, things and day, and no word of change."""
    before = [g for g in found if g.turn.index < f.turn.index]
    last = next((g for g in reversed(before) if g.turn.mine), None)
    if last is None or f.turn.asked or f.turn.kind != "said" or _ALTERS.search(f.turn.low):
        return False
    counted = [q for q in f.quantities if q.role in ("cookies", "dozens") and q.exact]
    days = [d for d in f.dates if d.rule != "named day as a thing"]
    things = {w for w in _words_of(f, 0, len(f.turn.low)) if w[0] != "#"}
    earlier: set[str] = set().union(*(_words_of(g, 0, len(g.turn.low)) for g in before))
    had = any(q.role in ("total", "cookies", "dozens", "lone") for g in before if not g.turn.mine for q in g.quantities)
    return bool(counted and days and had and things - earlier and (f.of("theme") or f.lists)) and not things & earlier


def _second(f: Found, found: Sequence[Found]) -> int | None:
    """Where a further order begins in a later turn: "also need 1 dz for ..." with a count and a day or occasion of its own."""
    low = f.turn.low
    if _anew(f, found):
        return 0
    for m in _ALSO.finditer(low):
        after_count = [q for q in f.quantities if q.start >= m.start() and q.role in ("total", "cookies", "dozens")]
        own_day = [d for d in f.dates if d.start >= m.start()]
        own_event = [o for o in f.of("occasion") if o.start >= m.start()]
        earlier_count = any(
            q.role in ("total", "cookies", "dozens")
            for g in found
            if not g.turn.mine
            for q in g.quantities
            if (g.turn.index, q.start) < (f.turn.index, m.start())
        )
        explicit = re.search(r"order|set|batch|lot", m[0]) is not None
        if after_count and earlier_count and (own_day or own_event or explicit):
            return m.start()
    return None


_COMMON = frozenset(
    "cookies cookie dozen please pickup party that this with from they them have need want would like pick".split()
)


def _words_of(f: Found, start: int, end: int) -> set[str]:
    """Words by which this passage's order may be referred to later: its things, theme and occasion."""
    low = f.turn.low
    spans = [(i.start, i.end) for group in f.lists for i in group.items] + [
        (m.start, m.end) for kind in ("theme", "occasion", "honoree") for m in f.of(kind)
    ]
    return _days_of(f, start, end) | {
        _stem(word)
        for s, e in spans
        if start <= s < end
        for word in re.findall(r"[a-zñáéíóú]{4,}", low[s:e])
        if word not in _COMMON
    }


def _days_of(f: Found, start: int, end: int) -> set[str]:
    """The days of the month that are named in characters `start` to `end`, as words of an order."""
    out = set()
    for d in f.dates:
        if start <= d.start < end and d.rule != "named day as a thing":
            day = d.first.day if d.first and d.first == d.last else d.anchor[1] if d.anchor and d.anchor[0] == "ordinal" else None
            if day:
                out.add(f"#{day}")
    return out


def _stem(word: str) -> str:
    word = re.sub(r"(?:ies|y)$", "i", re.sub(r"ves$", "f", word))
    return re.sub(r"e?s?$", "", word) or word


def _routed(f: Found, words: list[set[str]], current: int, asked_of_one: bool = False) -> tuple[list[tuple[int, int, frozenset[int]]], int]:
    low, text = f.turn.low, f.turn.text
    out: list[tuple[int, int, frozenset[int]]] = []
    here: frozenset[int] = frozenset(range(len(words)))
    cuts = [0]
    for start, end in f.turn.shadow.clauses:
        marks = [m for m in _REFERENCE.finditer(text, start, end) if m["c"] or m["o"]]
        later = [max(low.rfind(" and ", start, m.start()), m.start() - 1) for m in marks[1:]]
        days = [d.start for d in f.dates if start <= d.start < end]
        if len(days) > 1:
            # "11 on the 20th for his lot and 3 on the 10th for the others": each day with what stands around it.
            later += [at for at in (low.rfind(" and ", days[0], day) for day in days[1:]) if at > 0]
        cuts.extend(c for c in sorted({start, *later}) if c > cuts[-1])
    cuts.append(len(low))
    for start, end in itertools.pairwise(cuts):
        piece = low[start:end]
        named: set[int] = set()
        for m in _REFERENCE.finditer(text, start, end):
            key = m["w"] or m["o"] or m["c"] or ""
            index = _ORDER_WORDS.get(key.lower())
            if index is not None and index < len(words):
                named.add(index)
        if not named:
            stems = {_stem(w) for w in re.findall(r"[a-zñáéíóú]{4,}", piece)} | _days_of(f, start, end)
            scores = [len(stems & w) for w in words]
            if max(scores) and scores.count(max(scores)) == 1:
                named = {scores.index(max(scores))}
        if _ALL.search(piece):
            here = frozenset(range(len(words)))
        elif len(named) == 1:
            here = frozenset(named)
            current = next(iter(named))
        elif not out and re.search(r"\bthat one\b" if not asked_of_one else r"\b(?:that one|those|these|them|it)\b", piece):
            here = frozenset({current})
        out.append((start, end, here))
    if out and len(out[-1][2]) == 1:
        out[-1] = (out[-1][0], out[-1][1] + 1, out[-1][2])
    return out, current
