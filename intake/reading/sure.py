"""The one place that decides what is sure: from the rule that made a value and from what contradicts it.

A value stays sure only where nothing else in the customer's words could have been meant for it. Which doubts are worth
a baker's look was weighed over the annotated threads of tests/reading/cases: each of those here at least trebles the
share of wrong values among the cells that it marks.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields, replace
from datetime import date
from typing import Any

from intake.model import Cell, Draft
from intake.reading import cues
from intake.reading.found import Found
from intake.reading.intent import says_paid
from intake.reading.thing_words import COOKIE_WORDS, known_words, stop_words

About = Callable[[int, int], bool]

#: Rules whose value is worth showing but not promising, with the word for the baker.
_CHECK: dict[str, str] = {
    "number and street without its kind": "a street without its kind: check the address",
    "a question about the way": "asked about, not chosen",
    "the name on the cookies": "a name taken from the lettering",
    "named day": "only the feast was named: check the day",
    "the kind of party": "the kind of party, taken for the theme",
}


def calibrate(draft: Draft, found: Sequence[Found], about: About) -> Draft:
    """A draft whose cells keep `sure` only where nothing speaks against them; each doubt is told in `why`."""
    changes: dict[str, Any] = {}
    for f in fields(Draft):
        cell = draft.cell(f.name)
        if cell.sure and cell.rule in _CHECK:
            changes[f.name] = replace(cell, sure=False, why=cell.why or _CHECK[cell.rule])
    own = [f for f in found if not f.turn.mine and f.turn.kind == "said"]
    for name, doubts in (("count", _count), ("theme", _theme), ("due", _due), ("lettering", _lettering), ("handover", _handover)):
        cell = draft.cell(name)
        if cell.sure and not cell.missing and name not in changes:
            why = next(doubts(draft, own, about), None)
            if why:
                changes[name] = replace(cell, sure=False, why=why)
    due = changes.get("due")
    if due is not None and draft.due_is.sure and due.why != draft.due.why:
        changes["due_is"] = replace(draft.due_is, sure=False, why=due.why)
    return _across(replace(draft, **changes))


def _used(draft: Draft, f: Found, start: int, end: int, *names: str) -> bool:
    """Whether characters `start` to `end` of a turn are evidence of one of the cells."""
    here = f.turn.evidence(start, end)
    return any(
        e.message == here.message and e.start < here.end and e.end > here.start
        for name in names
        for e in draft.cell(name).evidence
    )


def _count(draft: Draft, own: Sequence[Found], about: About) -> Iterator[str]:
    total = draft.count.value or 0
    told = {e.message for e in draft.count.evidence}
    since = max((f.turn.index for f in own if f.turn.message in told), default=0)
    for f in own:
        low = f.turn.low
        if says_paid(low) or (f.turn.index < since and draft.count.rule != "a count by the dozen"):
            continue  # a sum of money; a number that a later one has replaced
        for q in f.quantities:
            if q.low > 1000 or (q.low < total and any(q.low * parts == total for parts in (2, 3, 4))):
                continue
            if any(m.start <= q.start < m.end for m in f.of("address")):
                continue
            if not about(f.turn.index, q.start) or _used(draft, f, q.start, q.end, "count", "designs", "due", "lettering", "age", "budget"):
                continue
            if any(i.quantity is q for g in f.lists for i in g.items):
                continue
            said = " ".join(low[q.start : q.end].split())
            past = cues.is_past(low, f.turn.shadow.sentence(q.start)[0], q.start, q.end)
            if q.role == "people" and draft.count.rule == "a count of cookies" and not past and "each" not in low:
                continue
            alone = q.role == "lone" and q.exact and q.low > 5 and re.match(r"\s*(?:$|[.,!?;)\n]|of\b|please|total|cookies)", low[q.end :])
            if not past and q.low != draft.count.value and (q.role in ("cookies", "total") or alone):
                yield f"“{said}” is named as well: check the number"


def _theme(draft: Draft, own: Sequence[Found], about: About) -> Iterator[str]:
    theme = str(draft.theme.value)
    if re.search(r"\d", theme) or len(re.split(r",| and | y ", theme)[0].split()) > 4:
        yield "more words than a theme has: check it"
    if any(_left_beside(draft, f) for f in own):
        yield "a word beside it is left over: check the theme"
    if draft.theme.rule == "shapes joined" and not _all_known(theme):
        yield "a word that I don't know: check it"
    held = {_stem(w) for w in re.findall(r"[^\W\d_]+", theme.lower())}
    for design in draft.designs.value or ():
        held |= {_stem(w) for w in re.findall(r"[^\W\d_]+", design.what.lower())}
    stated = draft.theme.rule in ("a theme, stated", "words before “theme”", "what the cookies are about")
    for f in own:
        for m in f.of("theme"):
            if m.op != "drop" and m.role not in ("team", "club") and about(f.turn.index, m.start) and not {_stem(w) for w in m.value.lower().split()} & held:
                yield f"“{m.value}” is named as well: check the theme"
        for g in f.lists:
            if stated or not g.strong or not about(f.turn.index, g.start):
                continue
            for item in g.items:
                if _used(draft, f, item.start, item.end, "theme", "designs"):
                    continue
                if not {_stem(w) for w in item.what.lower().split()} & held:
                    yield f"“{item.what}” is named as well: check the theme"


def _left_beside(draft: Draft, f: Found) -> bool:
    """Whether a word that nothing explains stands right beside what the theme was read from."""
    low, text = f.turn.low, f.turn
    for where in draft.theme.evidence:
        if where.message != text.message or not where.end > where.start or where.start not in text.places:
            continue
        start = text.places.index(where.start)
        end = start + where.end - where.start
        before, after = re.search(r"([a-zà-ÿ]{4,}) $", low[:start]), re.match(r" ([a-zà-ÿ]{4,})\b", low[end:])
        for m, at in ((before, start - 1), (after, end + 1)):
            word = m[1] if m else ""
            if not word or word in stop_words() or word in COOKIE_WORDS or word in known_words():
                continue
            spans = [(x.start, x.end) for kind in f.mentions.values() for x in kind] + [
                *((d.start, d.end) for d in f.dates),
                *((t.start, t.end) for t in f.times),
                *((q.start, q.end) for q in f.quantities),
            ]
            if not any(s <= at < e for s, e in spans):
                return True
    return False


def _due(draft: Draft, own: Sequence[Found], about: About) -> Iterator[str]:
    due = draft.due.value
    assert due is not None
    days = {
        (d.first, d.last)
        for f in own
        for d in f.dates
        if d.first and d.last and d.rule != "named day as a thing" and about(f.turn.index, d.start)
    }
    phrases = sum(
        1 for f in own for d in f.dates if d.rule != "named day as a thing" and about(f.turn.index, d.start)
    )
    fits = _fits(draft, {d for d in days if d[0] == d[1]})
    if phrases > 2 and len(own) < 3 and not fits:
        yield "several days are named: check which is meant"
    if draft.due.rule == "weekday" and (phrases > 1 or len(days) > 1) and not fits:
        yield "a bare weekday among other days: check which week"
    clocks = {t.value for f in own for t in f.times if not t.bare and about(f.turn.index, t.start)}
    if len(clocks) > 1 and len(own) < 3:
        yield "several hours are named: check which is meant"


#: A hand-over this many days before the party is what people ask for.
_EVE = 4


def _fits(draft: Draft, days: set[tuple[date, date]]) -> bool:
    """Whether the days bear each other out: the hand-over on the day that the baker named too, or just before the one party."""
    due = draft.due.value
    if due is None or due.first != due.last or draft.due_is.value == "event":
        return False
    others = {a for a, _ in days} - {due.first}
    return bool(others) and all(0 < (day - due.first).days <= _EVE for day in others)


def _lettering(draft: Draft, own: Sequence[Found], about: About) -> Iterator[str]:
    ops = {m.op for f in own for m in f.of("lettering") if about(f.turn.index, m.start)}
    if "later" in ops:
        yield "more names were promised: check the list"
    if any(len(text) > 24 or text.startswith("A ") or text.islower() for text in draft.lettering.value or ()) and draft.lettering.rule != "quoted text":
        yield "where the text begins and ends: check it"
    if draft.lettering.rule == "the name of who is celebrated" and not (draft.honoree.sure and draft.honoree.value):
        yield "whose name it is was not said beside it"


def _handover(draft: Draft, own: Sequence[Found], about: About) -> Iterator[str]:
    ways = {
        m.value
        for f in own
        for m in f.of("handover")
        if m.op == "set" and m.role == "chosen" and about(f.turn.index, m.start)
    }
    if len(ways) > 1 and not any(cues.REPAIR.search(f.turn.low) for f in own[1:]):
        yield "more than one way is named: check which"


def _stem(word: str) -> str:
    return re.sub(r"(?:ies|ves|es|s|y|f|fe)$", "", word)


def _all_known(theme: str) -> bool:
    """Whether every word of a theme stands in some word list."""
    words = {w for w in re.findall(r"[^\W\d_]+", theme.lower()) if len(w) > 2 and w != "and"}
    return words <= known_words()


def _across(draft: Draft) -> Draft:
    """Contradictions between cells: an arrival that is picked up, a hand-over after the party."""
    due_is: Cell[str] = draft.due_is
    if due_is.value == "arrival" and draft.handover.value == "pickup":
        draft = replace(draft, due_is=replace(due_is, value="handover"))
    return draft
