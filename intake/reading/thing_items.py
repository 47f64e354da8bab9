"""The single things of a turn that are to be drawn, each with its words and its share of the count."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from intake.reading import fuzzy
from intake.reading.counts import Quantity
from intake.reading.thing_words import (
    CLOSED,
    COOKIE_WORDS,
    ENDS,
    HEAD_NOUN,
    PAIR,
    PRIORS,
    SEPARATORS,
    TAIL,
    known_words,
    motif_words,
)
from intake.reading.things import Chunker, Item


def items_of(chunker: Chunker) -> list[Item]:
    """The things of the turn in text order; heads of people and what is already a theme are left out."""
    out: list[Item] = []
    terms = chunker.things
    i = 0
    while i < len(terms):
        first = last = terms[i]
        # A singular thing right before another is its first half: "mail trucks".
        while i + 1 < len(terms) and not last.plural and chunker.low[last.end : terms[i + 1].start] in (" ", "-"):
            i += 1
            last = terms[i]
        i += 1
        start, end = _widen(chunker, first.start), last.end
        if not last.plural and (head := HEAD_NOUN.match(chunker.low, end)):
            end = head.end("head")
        if last.plural and (of := _SPANISH_OF.match(chunker.low, end)) and chunker.low[last.start : end].split()[-1] not in chunker.stop:
            end = of.end("of")  # "flores de cempasúchil"
        what = chunker.low[start:end]
        out.append(_with_share(chunker, Item(start, end, chunker.spelled(what))))
    out.extend(_unknown_items(chunker, out))
    heads = [q.end for q in chunker.quantities if q.role == "people"]
    out = [
        item
        for item in out
        if item.start - 1 not in heads and not any(item.start < e and item.end > s for s, e in chunker.themed)
    ]
    return sorted(out, key=lambda item: item.start)


_SPANISH_OF = re.compile(
    r"(?P<of> de (?:la |el |los |las )?(?!(?:color|cada|mi|su|colores|chocolate|vainilla|un|una|todo|todas|eso|esos|ellas|ellos|en|\d)\b)[a-zñáéíóú]{4,})(?=\s*(?:$|[.,;!?\n]|y\b|en\b|con\b|para\b|por\b))"
)


def _widen(chunker: Chunker, start: int) -> int:
    """Take in words that are no known thing but stand between a number, a comma or "and" and the thing."""
    index = chunker.by_start.get(start, 0)
    at = index
    for _ in range(2):
        if at == 0:
            break
        word = chunker.words[at - 1]
        if chunker.low[word.end : chunker.words[at].start] not in (" ", "-", "") or not re.fullmatch(
            r"[a-zñáéíóú'-]+", word.low
        ):
            break
        if (
            word.low in chunker.stop
            or word.low in COOKIE_WORDS
            or word.low in SEPARATORS
            or word.low in chunker.shades
            or any(c.start <= word.start < c.end for c in chunker.colors)
        ):
            break
        if any(q.start <= word.start < q.end for q in chunker.quantities) or any(
            s <= word.start < e for s, e in chunker.taken
        ):
            break
        if any(t.start <= word.start < t.end for t in chunker.things):
            break
        if any(t.kind in ("name", "relation") and t.start <= word.start < t.end for t in chunker.terms):
            break
        at -= 1
    if at == index:
        return start
    before = chunker.words[at - 1] if at else None
    begins = (
        before is None
        or before.low in SEPARATORS | ENDS
        or "\n" in chunker.low[before.end : chunker.words[at].start]
        or any(q.end == before.end for q in chunker.quantities)
    )
    return chunker.words[at].start if begins else start


def _unknown_items(chunker: Chunker, known: list[Item]) -> Iterator[Item]:
    """Words of a list that no word list knows: misspelt things, and what stands between two separators."""
    for at, word in enumerate(chunker.words):
        if not word.low.isalpha() or len(word.low) < 3 or word.low in chunker.stop or word.low in COOKIE_WORDS:
            continue
        if any(
            t.kind in ("color", "name", "relation", "modifier", "flavor") and t.start <= word.start < t.end
            for t in chunker.terms
        ):
            continue
        if any(k.start <= word.start < k.end for k in known) or any(s <= word.start < e for s, e in chunker.taken):
            continue
        before = chunker.low[: word.start].rstrip()
        prior = chunker.words[chunker.by_start[word.start] - 1] if chunker.by_start[word.start] else None
        after_number = any(q.end == len(before) and q.role not in ("other", "people") for q in chunker.quantities)
        starts = prior is None or prior.low in ENDS or "\n" in chunker.low[prior.end : word.start]
        halved = prior is not None and prior.low in ("half", "mitad")
        if not (starts or halved or after_number or (prior is not None and prior.low in PRIORS)):
            continue
        guess = fuzzy.nearest(word.low, motif_words()) if word.low not in known_words() else None
        end, said = word.end, guess or word.low
        after = chunker.words[at + 1] if at + 1 < len(chunker.words) else None
        if (
            after is not None
            and not guess
            and (more := TAIL.match(chunker.low, word.end))
            and more["w"].split()[-1] not in chunker.stop
        ):
            end, said = more.end("w"), chunker.low[word.start : more.end("w")]
        closed = CLOSED.match(chunker.low, end) is not None
        beside = any(
            max(k.start - end, word.start - k.end) <= 12
            and not re.search(r"[.!?\n]", chunker.low[min(end, k.end) : max(word.start, k.start)])
            for k in known
        )
        many = said.endswith("s") or after_number
        colored = starts and re.match(r",\s", chunker.low[end:]) and any(0 < c.start - end < 4 for c in chunker.colors)
        paired = starts and PAIR.match(chunker.low, word.start)
        if (
            (guess and (after_number or beside or (starts and closed)))
            or (closed and many and (beside or halved))
            or (many and (colored or paired))
            or (halved and many)
        ):
            item = _with_share(chunker, Item(word.start, end, said))
            yield item
            known = [*known, item]


_FRACTIONS = {
    "a third": Fraction(1, 3), "one third": Fraction(1, 3), "1/3": Fraction(1, 3), "a quarter": Fraction(1, 4),
    "one quarter": Fraction(1, 4), "1/4": Fraction(1, 4), "three quarters": Fraction(3, 4), "3/4": Fraction(3, 4),
    "two thirds": Fraction(2, 3), "2/3": Fraction(2, 3), "1/2": Fraction(1, 2), "one half": Fraction(1, 2),
    "the other half": Fraction(1, 2), "other half": Fraction(1, 2), "la otra mitad": Fraction(1, 2), "un tercio": Fraction(1, 3),
}  # fmt: skip
_FRACTION = re.compile(
    r"(?<![\w/])(?P<f>(?:a|one) (?:third|quarter)|one half|three quarters|two thirds|(?:the )?other half|la otra mitad|un tercio|[123]/[234])\s+(?:of (?:them|'?em|the (?:cookies|order))\s+|(?:will be|are|can be|should be|being|as|just|de)\s+|the\s+)*$"
)
_REST = re.compile(
    r"\b(?:(?:the |all )?(?:rest|remainder|el resto|others|other ones)|(?:the )?remaining(?: \w+)?|all the others?)(?: of (?:them|the [\w ]{1,14}?))?\s*(?:,|:)?\s*(?:are |be |as |being |can be |should be |will be |with |in |just |of |de )*$"
)
_SHARE_BEHIND = re.compile(r"\s?\(\s?x?(?P<n>\d{1,3})\s?\)")


def _with_share(chunker: Chunker, item: Item) -> Item:
    before = chunker.low[: item.start]
    gap = re.search(
        r"(?:\s+(?:of|de)(?:\s+(?:the|los|las|my|those|these))?)?(?:\s+(?:the|little|big|small|large|mini|cute|los|las))?\s*$",
        before,
    )
    at = gap.start() if gap else item.start
    quantity = next((q for q in chunker.quantities if q.end in (at, item.start - 1)), None)
    if quantity and chunker.low[quantity.end - 1] == "." and re.match(r"\s", chunker.low[quantity.end :]):
        quantity = None  # "6 doz. Caps and diplomas": a full stop
    if quantity and quantity.exact and quantity.role not in ("people", "other", "boxes", "part"):
        big = re.search(r"\b(big|large|little|mini|small)\s*$", before)
        what = f"{big[1]} {item.what}" if big and big[1] in ("big", "large", "mini") else item.what
        start = big.start() if big and what != item.what else item.start
        return Item(start, item.end, what, quantity.low, False, quantity)
    if (behind := _SHARE_BEHIND.match(chunker.low, item.end)) and int(behind["n"]) > 1:
        start, end = behind.span("n")
        quantity = next((q for q in chunker.quantities if q.start == start), Quantity(start, end, int(behind["n"]), int(behind["n"]), False, False))
        return Item(item.start, item.end, item.what, int(behind["n"]), False, quantity)
    spread = re.match(r"(?:\s+on\s+|,\s*)", chunker.low[item.end :])
    behind_q = next((q for q in chunker.quantities if spread and q.start == item.end + spread.end()), None)
    if (
        behind_q is not None
        and spread
        and behind_q.exact
        and behind_q.low > 1
        and not re.search(r"[/x]", chunker.low[behind_q.start : behind_q.end])
        and (
            ("on" in spread[0] and behind_q.role in ("part", "dozens", "lone") and re.match(r"\s*(?:$|[,.;!?\n]|and\b|of\b)", chunker.low[behind_q.end :]))
            or (behind_q.role == "lone" and re.match(r"(?: of (?:those|them))?\s*(?:,|;|$|\.|and\b(?!\s+\d))", chunker.low[behind_q.end :]))
        )
        and not any(q.end in (at, item.start - 1) for q in chunker.quantities)
    ):
        return Item(item.start, item.end, item.what, behind_q.low, False, replace(behind_q, role="design"))
    if fraction := _FRACTION.search(before):
        return Item(item.start, item.end, item.what, part=_FRACTIONS[" ".join(fraction["f"].split())])
    if _REST.search(before):
        return Item(item.start, item.end, item.what, rest=True)
    if re.search(
        r"\b(?:half|mitad)\s+(?:of (?:them|em|'em|the (?:cookies|order))\s+|(?:will be|are|can be|should be|being|as|just|de)\s+|the\s+)*(?:\w+ing\s+)?$",
        before,
    ):
        return Item(item.start, item.end, item.what, None, True)
    return item
