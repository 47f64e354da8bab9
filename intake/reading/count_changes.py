"""A count changed by its difference, or told by what is known of the order: "six more", "double that", "18 of each"."""

from __future__ import annotations

import itertools
import re

from intake.model import Evidence
from intake.reading import numbers
from intake.reading.counts import Quantity
from intake.reading.found import Found
from intake.reading.tally import Tally, spans

_DOUBLE = re.compile(r"(?<!a )\b(?:double (?:that|it|the (?:order|number|count|amount)|up)|twice (?:that|as many)|el doble)\b")
_OFF = re.compile(r"\b(?:knock|take|drop|cut|shave|trim|lose|minus|subtract|remove)(?: it)?(?: off| out| back| down)?(?: by)?\s*(?:an?\s*)?$")
_ON_TOP = re.compile(
    r"\b(?:throw in|add(?: in| on)?|tack on|another|plus|extra|an extra|an additional|otra|m[aá]s)\s*(?:an?\s|another\s)?$"
)
_ON_TOP_AFTER = re.compile(
    r"\s*(?:more|extra|additional|on top|m[aá]s)\b(?=\s*(?:$|[.,!?;:\n)]|cookies|biscuits|galletas|of\b|on\b|please|pls|plz|for\b|to\b|if\b|with\b|in\b|and\b|lol|than\b))"
)
_OFF_AFTER = re.compile(r"\s*(?:fewer|less|off)\b")


def by_difference(tally: Tally, f: Found, here: list[Quantity]) -> bool:
    """A change told by its difference, in a later message: "throw in six more", "knock off a dozen", "double that"."""
    low, first = f.turn.low, tally.evidence[0].message if tally.evidence else ""
    if any(q.role == "total" and not q.dozens for q in here) and not _DOUBLE.search(low):
        return False
    if tally.total is None or first == f.turn.message or (f.lists and any(len(g.items) > 1 for g in f.lists)):
        return False
    if m := _DOUBLE.search(low):
        tally.set(tally.total * 2, (f.turn.evidence(*m.span()),), "doubled")
        return True
    for q in here:
        before, after = low[max(0, q.start - 30) : q.start], low[q.end : q.end + 14]
        if not q.exact or q.role in ("people", "each", "other", "per box", "boxes"):
            continue
        if q.role == "part" and not _ON_TOP.search(before):
            continue
        if (q.low == 1 and not q.dozens) or re.match(r"\s*more (?:quick )?(?:thing|question|time)", after):
            continue
        if (_OFF.search(before) or _OFF_AFTER.match(after)) and q.low < tally.total:
            tally.set(tally.total - q.low, spans(f, q), "some taken off")
            return True
        if (_ON_TOP.search(before) or _ON_TOP_AFTER.match(after) or before.strip() == "another") and q.role != "total":
            tally.set(tally.total + q.low, spans(f, q), "some added")
            return True
    return False


def of_each_kind(f: Found, here: list[Quantity], kinds: int) -> tuple[int, Evidence] | None:
    """ "Make that 18 of each", "15 and 15": shares of the designs that were named before."""
    each = [q for q in here if q.role == "each" and q.exact and re.match(r"\s*(?:of )?each\b", f.turn.low[q.end :])]
    if each:
        return each[0].low * kinds, f.turn.evidence(each[0].start, each[0].end)
    lone = [q for q in here if q.role in ("lone", "one") and q.exact]
    if len(lone) == kinds and "count" in f.turn.asked and all(
        re.fullmatch(r"\s*(?:,|and|&|n|/|y|,? and)\s*", f.turn.low[a.end : b.start]) for a, b in itertools.pairwise(lone)
    ):
        return sum(q.low for q in lone), f.turn.evidence(lone[0].start, lone[-1].end)
    return None


def in_dozens(f: Found, here: list[Quantity]) -> tuple[int, Evidence] | None:
    """ "One and a half", "3": an answer where the baker has asked how many dozen."""
    if "dozens" not in f.turn.asked or any(q.dozens for q in here):
        return None
    m = re.match(rf"\W*(?:just |about |maybe |let'?s do |i'?d say )?(?P<n>\d{{1,2}}|{numbers.WORDS})(?P<half>(?: and)?(?: a)? (?:half|1/2)|\.5|½)?\b(?!\s*(?:cookies|biscuits|people|kids|pm|am|/|:))", f.turn.low)
    n = numbers.value(m["n"]) if m else None
    if m is None or n is None or n > 12:
        return None
    return int(n * 12 + (6 if m["half"] else 0)), f.turn.evidence(*m.span())


_N = rf"(?P<n>\d{{1,3}}|{numbers.WORDS})"
_M = rf"(?P<m>\d{{1,3}}|{numbers.WORDS})"
_DZ = r"(?P<d>\s*(?:dozen|doz|dz)\b)?"
_DZ2 = r"(?P<d2>\s*(?:dozen|doz|dz)\b)?"
#: A number that takes another's place: "19 teachers, not 15", "it's 34 instead of 30", "from 20 to 28".
_IN_PLACE = (
    re.compile(rf"(?<![\w:/$.-]){_N}{_DZ}(?: [a-z]+)?,? (?:and )?(?:not|instead of|rather than|in place of|en vez de) (?:the )?{_M}{_DZ2}(?![\w:/%]|\.\d)"),
    re.compile(rf"\bnot {_M}{_DZ2}(?: [a-z]+)?,? ?(?:but|it'?s|they'?re|we'?re|make (?:it|that)|sino) {_N}{_DZ}(?![\w:/%]|\.\d)"),
    re.compile(rf"\b(?:from|de) {_M}{_DZ2}(?: [a-z]+)? (?:up |down )?(?:to|a) {_N}{_DZ}(?![\w:/%]|\.\d)"),
)
#: A number that is told anew in a later message: "turns out it's 34 we need", "we're 28 now".
_TOLD_ANEW = re.compile(
    rf"\b(?:turns out|correction|make (?:it|that)|so|now|actually)\b[^.!?\n]{{0,24}}?\b(?:it'?s|we'?re|there'?s|that'?s|need|be|have|got) {_N}{_DZ} (?:we|i|that we|that i|cookies|now|in all|total)\b"
)
_HALF = re.compile(r"\b(?:(?:go|cut|come|bring|drop|scale|take) (?:it |that |them |us |the \w+ )?(?:down |back )?(?:to|by|in) half|halve (?:it|that|them|the)|half (?:of that|that|as many|the (?:amount|number|order)|the cookies)|la mitad de eso)\b(?! (?:pink|blue|red|white|[a-z]+ and half))")


def in_place_of(tally: Tally, f: Found) -> bool:
    """A count that is set right against the one that stands: by both numbers, or told anew, or halved."""
    low, first = f.turn.low, tally.evidence[0].message if tally.evidence else ""
    if tally.total is None or first == f.turn.message:
        return False
    for pattern in _IN_PLACE:
        for m in pattern.finditer(low):
            new, old = _times(m["n"], m["d"]), _times(m["m"], m["d2"])
            if new and old in (tally.total, tally.heads) and old != new:
                whole = new * tally.each if tally.each and old == tally.heads and old != tally.total else new
                if whole != new:
                    tally.heads = new
                tally.set(whole, (f.turn.evidence(*m.span()),), "one number in place of another")
                return True
    if (anew := _TOLD_ANEW.search(low)) and (new := _times(anew["n"], anew["d"])) and new > 3:
        tally.set(new, (f.turn.evidence(anew.start("n"), anew.end("n")),), "a number told anew")
        return True
    if (half := _HALF.search(low)) and tally.total % 2 == 0 and not f.lists:
        tally.set(tally.total // 2, (f.turn.evidence(*half.span()),), "halved")
        return True
    return False


def _times(said: str, dozen: str | None) -> int:
    n = numbers.value(said)
    return int(n * (12 if dozen else 1)) if n is not None else 0
