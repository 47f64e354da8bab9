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
