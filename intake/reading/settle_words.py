"""Lettering, colours, flavours, packaging and diets of an order: added, taken back and changed over the thread."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from intake.model import Cell, Evidence
from intake.reading import cues
from intake.reading.found import Found
from intake.reading.fuzzy import alike
from intake.reading.lettering import HIS
from intake.reading.mention import Mention


def gathered(kind: str, found: Sequence[Found], about: Callable[[int, int], bool]) -> Cell[tuple[str, ...]]:
    """Values of `kind` in the order of saying, without what was taken back; "X instead of Y" swaps Y for X."""
    kept: dict[str, tuple[Mention, Evidence]] = {}
    spoken = -1
    for f in found:
        if f.turn.mine:
            continue
        here = [m for m in f.of(kind) if about(f.turn.index, m.start)]
        dropped = [m.value for m in here if m.op == "drop"]
        fresh = [m for m in here if m.op == "add"]
        if fresh and kept and f.turn.index != spoken and not dropped and _swaps(f, fresh):
            kept.clear()
        position = [next((i for i, known in enumerate(kept) if _like(known, old)), -1) for old in dropped]
        for m in fresh:
            if any(_like(m.value, known) for known in kept) and m.value in kept:
                continue
            entry = (m, f.turn.evidence(m.start, m.end))
            if position and position[0] >= 0:
                rows = list(kept.items())
                rows[position[0]] = (m.value, entry)
                kept = dict(rows)
                position = position[1:]
                continue
            kept[m.value] = entry
        for old in dropped:
            for known in [k for k in kept if _like(k, old)]:
                if known not in [m.value for m in fresh]:
                    del kept[known]
        if here:
            spoken = f.turn.index
    if not kept:
        return _from_summary(kind, found, about)
    return Cell(tuple(kept), True, tuple(e for _, e in kept.values()), rule=next(iter(kept.values()))[0].rule)


_PACKED = re.compile(r"\b(?:box|bag|ribbon|tag|wrap)")


def _from_summary(kind: str, found: Sequence[Found], about: Callable[[int, int], bool]) -> Cell[tuple[str, ...]]:
    """What only the baker's own summary holds, where the customer has agreed to it and speaks of nothing of the kind."""
    if any(not f.turn.mine and (f.of(kind) or (kind == "packaging" and _PACKED.search(f.turn.low))) for f in found):
        return Cell()
    for index in range(len(found) - 1, -1, -1):
        f = found[index]
        answer = next((g for g in found[index + 1 :] if not g.turn.mine and g.turn.bare), None)
        if not f.turn.mine or f.turn.kind != "quoted" or answer is None or not cues.agrees(answer.turn.bare):
            continue
        said = [m for m in f.of(kind) if m.op == "add" and m.value != HIS and about(f.turn.index, m.start)]
        if said:
            values = tuple(dict.fromkeys(m.value for m in said))
            where = tuple(f.turn.evidence(m.start, m.end) for m in said)
            return Cell(values, False, where, "only in the summary that she agreed to", rule="a summary agreed to")
    return Cell()


def _like(a: str, b: str) -> bool:
    return a == b or a.rstrip("s") == b.rstrip("s")


def _swaps(f: Found, fresh: Sequence[Mention]) -> bool:
    """Whether a later message replaces the list: "can we do pink and gold instead"."""
    start, end = f.turn.shadow.sentence(fresh[0].start)
    return bool(
        re.search(r"\binstead\b|\bchange (?:the )?colou?rs?\b|\bactually\b|\bswitch\b|\bmejor\b", f.turn.low[start:end])
    )


def without(colors: Cell[tuple[str, ...]], flavors: Cell[tuple[str, ...]]) -> Cell[tuple[str, ...]]:
    """The colours without what is asked for as a flavour: "it was chocolate, not vanilla"."""
    kept = [(c, e) for c, e in zip(colors.value or (), colors.evidence, strict=False) if c not in (flavors.value or ())]
    if len(kept) == len(colors.value or ()):
        return colors
    return replace(colors, value=tuple(c for c, _ in kept), evidence=tuple(e for _, e in kept)) if kept else Cell()


def dietary(found: Sequence[Found], about: Callable[[int, int], bool]) -> Cell[tuple[str, ...]]:
    """Needs of any customer turn. What was only asked for counts once an order follows; vegan keeps its own name."""
    kept: dict[str, Evidence] = {}
    asked: dict[str, Evidence] = {}
    unknown: Evidence | None = None
    for f in found:
        if f.turn.mine:
            continue
        for m in f.of("dietary"):
            if m.role == "unknown" and about(f.turn.index, m.start):
                unknown = unknown or f.turn.evidence(m.start, m.end)
            elif about(f.turn.index, m.start):
                (asked if m.role == "asked" else kept).setdefault(m.value, f.turn.evidence(m.start, m.end))
    for need, evidence in asked.items():
        kept.setdefault(need, evidence)
    if not kept and unknown:
        return Cell(
            None, False, (unknown,), "an allergy is spoken of: ask to what", rule="an allergy, to what is not clear"
        )
    if not kept:
        return Cell()
    # Read rightly or not, a diet is never settled without the baker's own eyes.
    doubt = "asked about, not asked for" if set(asked) == set(kept) else "a diet or an allergy: look before you confirm"
    return Cell(tuple(kept), False, tuple(kept.values()), doubt, rule="dietary words")


def lettering(found: Sequence[Found], about: Callable[[int, int], bool], honoree: str | None) -> Cell[tuple[str, ...]]:
    """Texts to pipe. "His name" is the celebrated one's; a later "no names" clears; a later text of its own adds or corrects."""
    kept: dict[str, Evidence] = {}
    doubt = ""
    rule = ""
    pending: Evidence | None = None
    for f in found:
        turn = f.turn
        if turn.mine:
            continue
        here = [m for m in f.of("lettering") if about(turn.index, m.start)]
        fresh = [m for m in here if m.op == "add"]
        if any(m.op == "drop" for m in here) or (not here and "lettering" in turn.asked and _plain_no(turn.bare)):
            kept.clear()
            pending, doubt = None, ""
        later = next((m for m in here if m.op == "later"), None)
        if later is not None:
            pending = turn.evidence(later.start, later.end)
        for old in [k for k in kept if k != HIS]:
            # "DR. PACHECO, not DR. CORI": the one takes the other's place.
            if taken := re.search(rf",?\s+not\s+{re.escape(old)}(?!\w)", turn.text, re.IGNORECASE):
                new = re.split(r"[.!?,:]\s(?=[A-Z]?[a-z])|\b(?:says?|is|be|it'?s)\s", turn.text[: taken.start()])[
                    -1
                ].strip()
                where = turn.evidence(taken.start() - len(new), taken.start())
                kept = {(new if k == old else k): (where if k == old else e) for k, e in kept.items()}
                fresh = [x for x in fresh if x.value.lower() != old.lower() and new.lower() not in x.value.lower()]
        others = [m for m in fresh if m.rule not in ("spelled out", "a text, changed")]
        if others and kept and re.search(r"\b(?:instead|actually|changed?|rather|mejor)\b", turn.low):
            kept.clear()
        changed = next((m for m in fresh if m.rule == "a text, changed"), None)
        if changed and kept and not others:
            kept = {changed.value: turn.evidence(changed.start, changed.end)}
        for m in others:
            kept[m.value] = turn.evidence(m.start, m.end)
            rule = m.rule
        for m in (m for m in fresh if m.rule == "spelled out"):
            misspelt = next((k for k in kept if k != HIS and alike(k, m.value)), None)
            if misspelt or HIS in kept or "lettering" in turn.asked:
                kept = {(m.value if k in (misspelt, HIS) else k): e for k, e in kept.items()}
                kept.setdefault(m.value, turn.evidence(m.start, m.end))
                rule = rule or m.rule
        if not here and _accepts(turn.bare):
            for offered in _offered(found, f):
                kept[offered[0]] = offered[1]
                rule = "an offer accepted"
        if not here and not kept and "lettering" in turn.asked and _YES_TO_IT.search(turn.bare) and honoree and _asked_name(found, f):
            kept[HIS] = turn.evidence(*_first_word(turn.low))
            rule = "yes to a name"
    value: list[str] = []
    evidence: list[Evidence] = []
    for text, where in kept.items():
        if text == HIS:
            if honoree:
                for name in honoree.split(" and "):
                    if name.lower() not in (v.lower() for v in value):
                        value.append(name)
                        evidence.append(where)
            elif not value:
                doubt = "a name is wanted: ask which"
                evidence.append(where)
        elif text.lower() not in (v.lower() for v in value):
            value.append(text)
            evidence.append(where)
    if pending is not None and not value:
        return Cell(None, False, (pending,), "the names are still to come", rule="a list to come")
    if not value:
        if doubt or any(m.op in ("drop", "later") for f in found if not f.turn.mine for m in f.of("lettering")):
            return Cell(None, False, tuple(evidence), doubt, rule="name wanted") if doubt else Cell()
        return _from_summary("lettering", found, about)
    return Cell(tuple(value), not doubt, tuple(evidence), doubt, rule=rule)


_YES_TO_IT = re.compile(
    cues.YES.pattern + r"|\b(?:yes|yeah|yep|please|sure|s[ií])\b|\bon (?:\d+|half|each|all|a few|some|most|every|a couple|two|three|four|five|six|ten|a dozen)\b"
)


def _accepts(bare: str) -> bool:
    if re.search(r"\b(?:no|not|isn'?t|wrong)\b", bare):
        return False
    if re.match(r"\W*(?:just |only |maybe )?(?:on )?(?:one|two|three|four|five|six|a few|a couple|all|each|half|some|\d{1,2})\b(?: of (?:them|em|each))?[\W]*(?:please|pls|plz|thanks)?\W*$", bare):
        return True
    return cues.YES.search(bare) is not None or re.match(r"\W*(?:ooh|aw+|oh)\W+y", bare) is not None


def _offered(found: Sequence[Found], f: Found) -> list[tuple[str, Evidence]]:
    """Texts in the baker's question that a yes takes up: "shall I pipe “Sixteen” on a few?"."""
    previous = next((g for g in reversed(found) if g.turn.index < f.turn.index and g.turn.mine), None)
    if previous is None:
        return []
    out = []
    for m in previous.of("lettering"):
        start, end = previous.turn.shadow.sentence(m.start)
        if m.op == "add" and m.value != HIS and "?" in previous.turn.low[start : end + 1]:
            out.append((m.value, previous.turn.evidence(m.start, m.end)))
    return out


def _plain_no(bare: str) -> bool:
    return bool(
        re.match(
            r"^\W*(?:no+|nah|nope|none|no thanks?(?: you)?|nothing|not (?:needed|necessary|this time)|no hace falta)\b(?!\s+(?:problem|worries|wait))",
            bare,
        )
    )


def _asked_name(found: Sequence[Found], f: Found) -> bool:
    previous = next((g for g in reversed(found) if g.turn.index < f.turn.index and g.turn.mine), None)
    return previous is not None and bool(re.search(r"\bname\b|\bnombre\b", previous.turn.low))


def _first_word(low: str) -> tuple[int, int]:
    m = re.search(r"\w+", low)
    return m.span() if m else (0, 0)
