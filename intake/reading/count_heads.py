"""Counts told by heads or by boxes: so many guests, two each; twelve boxes of six."""

from __future__ import annotations

import itertools
import re

from intake.model import Evidence
from intake.reading import numbers
from intake.reading.counts import Quantity
from intake.reading.found import Found
from intake.reading.tally import Tally, spans

_STAY_AWAY = re.compile(
    rf"(?P<n>\d{{1,3}}|{numbers.WORDS}) (?:of (?:the|my|our|them|those|us)(?: \w+)?|kids|guests|people|families)\s*(?:\w+\s){{0,3}}?(?:can'?t|cannot|cant|aren'?t|won'?t|wont|bailed|dropped|cancell?ed|backed out|not coming|couldn'?t)"
)
_COMING_TOO = re.compile(rf"(?P<n>\d{{1,3}}|{numbers.WORDS}) more (?:kids|people|guests)")


def by_heads(tally: Tally, f: Found, here: list[Quantity]) -> bool:
    """Heads times cookies for one head, however they are said apart."""
    low = f.turn.low
    if tally.heads and tally.each:
        for pattern, sign in ((_STAY_AWAY, -1), (_COMING_TOO, 1)):
            if m := pattern.search(low):
                some = numbers.value(m["n"])
                if some:
                    tally.heads += sign * int(some)
                    tally.set(
                        tally.heads * tally.each, (f.turn.evidence(*m.span()),), "heads changed, cookies a head kept"
                    )
                    return True
    people = [q for q in here if q.role == "people" and q.exact]
    each = [
        q
        for q in here
        if q.role == "each" and q.exact and not re.search(r"\b(?:don'?t|not|no)\b(?: \w+){0,2}\s*$", low[: q.start])
    ]
    heads: int | None = None
    evidence: tuple[Evidence, ...] = ()
    if people:
        last = people[-1]
        heads, evidence = last.low, spans(f, last)
        if len(people) > 1:
            tied = [q for q in people if each and _tied(low, q, each[0])]
            if tied:
                heads, evidence = tied[0].low, spans(f, tied[0])
            elif re.fullmatch(r"[^.!?\n]{0,24}(?:\+|and|&|plus|n|y)\s*", low[people[0].end : people[1].start]) or re.search(r"(?:\+|\bplus)\s*$", low[: people[1].start]):
                heads, evidence = people[0].low + people[1].low, spans(f, people[0], people[1])
            elif each:
                before = [q for q in people if q.start < each[0].start]
                heads, evidence = (
                    (before[-1] if before else people[0]).low,
                    spans(f, before[-1] if before else people[0]),
                )
        if each and heads and (plus := _AND_ME.match(low, people[-1].end)):
            heads += len(_ADDEND.findall(plus[0]))
        tally.heads = heads
    if not people and tally.each and each and each[0].low == tally.each:
        # "One moved away, so it's 13 now, still 3 each"
        moved = next(
            (
                q
                for q in here
                if q.role in ("lone", "total") and re.match(r"\s*(?:now|of us|kids|left)\b", low[q.end :])
            ),
            None,
        )
        if moved:
            tally.heads = moved.low
            tally.set(moved.low * tally.each, spans(f, moved, each[0]), "heads changed, cookies a head kept")
            return True
    if people and heads and not each and (m := _EVERYBODY.search(low)):
        said = m["n"] or m["n2"] or m["n3"]
        apiece = 1 if said in ("a", "an") else int(numbers.value(said) or 0)
        if apiece:
            tally.each, tally.heads = apiece, heads
            tally.set(heads * apiece, (*evidence, f.turn.evidence(*m.span())), f"{heads} heads, {apiece} each")
            return True
    if each and not any(q.role in ("total", "cookies", "dozens") and q.start < each[0].start for q in here):
        per = each[0].low
        n = heads if heads is not None else tally.heads
        explicit = any(g.each is each[0] for g in f.lists)
        if n and per <= 24 and not (explicit and not people and not tally.heads):
            tally.each, tally.heads = per, n
            tally.set(n * per, evidence + spans(f, each[0]), f"{n} heads, {per} each")
            return True
    return False


#: Cookies a head told without "each": "everybody gets one", "a pin for each".
_EVERYBODY = re.compile(
    rf"\b(?:everybody|everyone|each(?: kid| child| one| person| guest| player)?|every [a-z]+|they (?:all|each)|all of them) (?:gets?|has|have|to have|to get|wants?|should get) (?P<n>\d|{numbers.WORDS}|an?)\b"
    r"|\b(?P<n3>an?) (?:\w+ )?(?:cookie|biscuit|bikkie) (?:apiece|each|per (?:kid|child|person|head|guest))\b"
    rf"|\b(?P<n2>\d|an?|{numbers.WORDS}) (?:[a-z]+ ){{0,3}}for (?:each|every|everyone|everybody)\b"
)
_ONE_MORE = r"(?:me\b|myself\b|(?:my|his|her|our|their|the|an?|one) (?!dozen|few|couple|half|cookie|party|day)(?:assistant |head |room |co-)?[a-z]+\b)"
#: "22 kids plus the teacher and his aide": heads told one by one behind their number.
_AND_ME = re.compile(
    rf"\s*(?:of them|[a-z]+)?\s*,?\s*(?:(?:\+|plus)\s*{_ONE_MORE}|(?:and|&)\s*(?:me\b|myself\b|my \w+|the teacher|a teacher|the coach|their (?:teacher|coach)))(?:,?\s*(?:\+|and|plus|&)\s*{_ONE_MORE}){{0,3}}"
)
_ADDEND = re.compile(rf"(?:\+|and|plus|&)\s*{_ONE_MORE}")


def _tied(low: str, people: Quantity, each: Quantity) -> bool:
    clause = re.split(r"[,.;!?\n]", low[people.end : people.end + 34])[0]
    after = set(re.findall(r"[a-z]{5,}", clause)) - {"people", "cookies", "cookie"}
    end = re.search(r"[.!?\n]|$", low[each.end :])
    near = set(re.findall(r"[a-z]{5,}", low[each.start : each.end + (end.start() if end else 0)]))
    return bool(after & near)


def by_boxes(f: Found, here: list[Quantity]) -> tuple[int, Quantity, Quantity] | None:
    low = f.turn.low
    for a, b in itertools.pairwise(here):
        gap = low[a.end : b.start]
        if (
            a.role == "boxes"
            and a.exact
            and b.exact
            and len(gap) < 40
            and re.search(r"(?:\b(?:of|with|de|con|w|holding|containing|hold|each)|w/)\s*$|,\s*$", gap)
        ):
            return a.low * b.low, a, b
        if (
            a.exact
            and b.exact
            and b.role == "each"
            and len(gap) < 40
            and re.match(r"\s*(?:\w+ )?(?:boxes|bags|packs|sets|tins|cajas|bolsas|bolsitas)\b", low[a.end : a.end + 24])
        ):
            return a.low * b.low, a, b
        if (
            a.exact
            and b.exact
            and a.role in ("people", "lone", "boxes")
            and re.match(
                r"\s*(?:cookies|biscuits|galletas)? (?:in|per|a|por) (?:each |every )?(?:gift |favou?r )?(?:box|bag|set|pack|caja|bolsa)",
                low[b.end : b.end + 40],
            )
        ):
            return a.low * b.low, a, b
    return None
