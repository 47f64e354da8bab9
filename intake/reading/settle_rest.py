"""Hand-over, address, occasion, age, celebrated person, budget, contacts and customer of an order."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from decimal import Decimal

from intake.model import Cell, Evidence
from intake.reading import cues, occasions
from intake.reading.found import Found
from intake.reading.mention import Mention

About = Callable[[int, int], bool]


def _said(kind: str, found: Sequence[Found], about: About) -> list[tuple[Found, Mention]]:
    return [(f, m) for f in found if not f.turn.mine for m in f.of(kind) if about(f.turn.index, m.start)]


def _where(f: Found, m: Mention) -> tuple[Evidence, ...]:
    return (f.turn.evidence(m.start, m.end),)


def handover(found: Sequence[Found], about: About) -> Cell[str]:
    """pickup, ship or deliver: the customer's own last choice, or her yes to the baker's offer."""
    value: str | None = None
    evidence: tuple[Evidence, ...] = ()
    doubt, rule = "", ""
    asked: tuple[str, tuple[Evidence, ...]] | None = None
    for index, f in enumerate(found):
        if f.turn.mine:
            offer = [m for m in f.of("handover") if about(f.turn.index, m.start) and m.op == "set"]
            ways = list(dict.fromkeys(m.value for m in offer))
            answer = next((g for g in found[index + 1 :] if not g.turn.mine and g.turn.bare), None)
            if not ways or answer is None:
                continue
            own = [m for m in answer.of("handover") if m.op == "set" and m.role == "chosen"]
            if own or re.search(r"\b(?:full|booked)\b", f.turn.low) or (ways == ["pickup"] and _place_told(answer)):
                continue
            undecided = value is None or value == ways[0] or doubt
            if len(ways) == 1 and undecided and _takes_up(f, answer, offer[0]):
                evidence = (*_where(f, offer[0]), answer.turn.evidence(*_lead(answer.turn.low)))
                value, doubt, rule = ways[0], "", "an offer accepted"
            continue
        here = [m for m in f.of("handover") if about(f.turn.index, m.start)]
        chosen = [m for m in here if m.role == "chosen" and m.op == "set"]
        for m in here:
            if m.op == "drop" and value == m.value:
                value, evidence = None, ()
            if m.role == "asked":
                asked = (m.value, _where(f, m))
        if chosen:
            last = chosen[-1]
            here_start, here_end = f.turn.shadow.sentence(last.start)
            sentence = f.turn.low[here_start:here_end]
            beside = [m for m in here if m.op == "set" and m.role == "if" and here_start <= m.start < here_end]
            ways = list(dict.fromkeys(m.value for m in [*beside, *chosen]))
            if len(ways) > 1 and (
                re.search(r"\bor\b", sentence)
                and (cues.UNSETTLED.search(sentence) or "either" in sentence or "?" in sentence)
            ):
                value, evidence, doubt, rule = (
                    None,
                    _where(f, last),
                    "one of two ways, not settled",
                    "ways to choose from",
                )
            else:
                pick = last
                if len(ways) > 1:
                    # Being fetched somewhere beats being brought in passing: the clause that names the cookies decides.
                    strong = [m for m in chosen if re.search(r"\binstead\b", f.turn.low[m.start : m.end + 24])]
                    pick = (
                        strong[-1]
                        if strong
                        else (chosen[0] if not cues.REPAIR.search(f.turn.low, chosen[0].end, last.start) else last)
                    )
                value, evidence, doubt, rule = pick.value, _where(f, pick), "", pick.rule
        elif value is None and not here and "handover" in f.turn.asked and (told := _place_told(f)):
            value, evidence, doubt, rule = "deliver", (f.turn.evidence(*told),), "", "a place, told when asked"
        elif any(m.role == "if" for m in here) and value is None:
            m = next(m for m in here if m.role == "if")
            if asked:
                value, evidence, doubt, rule = (
                    asked[0],
                    asked[1],
                    "asked about, with a fallback",
                    "a question about the way",
                )
    if value is None and asked and not doubt:
        way, where = asked
        placed = any(m.role == "full" for _, m in _said("address", found, about))
        if way == "ship" and placed:
            return Cell("ship", True, where, rule="asked, and an address given")
        fallback = any(m.role == "if" for f in found if not f.turn.mine for m in f.of("handover"))
        return Cell(None if fallback else way, False, where, "asked about, not chosen", rule="a question about the way")
    return Cell(value, value is not None and not doubt, evidence, doubt, rule=rule) if value or doubt else Cell()


_TO_PLACE = re.compile(r"(?:^|[.!?,]\s*)(?:yes|yep|yeah|sure|please)?\W*to (?:the|our|my|his|her|their) (?!day|morning|evening|first|second)[a-z]+")


def _place_told(f: Found) -> tuple[int, int] | None:
    """Where the cookies are to go, told in answer to "shall I bring them?": an address, or "to the venue please"."""
    if cues.NO.search(f.turn.bare) or re.search(r"\b(?:i|we|he|she|they|my \w+)(?:'?ll| will| can|'?d) (?:come|be|get|pick|collect|fetch)", f.turn.low):
        return None
    placed = next((m for m in f.of("address")), None)
    if placed:
        return placed.start, placed.end
    m = _TO_PLACE.search(f.turn.low)
    return m.span() if m else None


def _lead(low: str) -> tuple[int, int]:
    m = re.search(r"\S+", low)
    return m.span() if m else (0, 0)


def _takes_up(offer: Found, answer: Found, way: Mention) -> bool:
    """Whether the customer's answer accepts an offered way of handing over."""
    bare = answer.turn.bare
    several = offer.turn.low.count("?") > 1
    # "Pick up the day before?" - "No, that morning, 9:15": the day is refused, not the way.
    if (
        cues.NO.search(bare)
        and not several
        and not (answer.dates or any(not t.bare for t in answer.times))
        and not re.match(r"no (?:name|words|writing|problem|worries|need|allerg)", bare)
    ):
        return False
    if cues.ACCEPTS.search(bare) or any(cues.YES.search(piece.strip()) for piece in re.split(r"[.!?\n]+", bare) if piece.strip()):
        return True
    asked = "?" in offer.turn.low[way.start :] or "?" in offer.turn.low
    if answer.dates or any(not t.bare for t in answer.times):
        return True
    return asked and bool(
        re.search(r"\b(?:works?|great|perfect|fine|good|ok|okay|yes|yep|sure|s[ií])\b", bare) or answer.times
    )


def address(found: Sequence[Found], about: About, way: Cell[str]) -> Cell[str]:
    """Where to ship or deliver; none for a pickup. A full address wins over a part, a later over an earlier."""
    if way.value == "pickup":
        return Cell()
    said = _said("address", found, about)
    if way.value is None and way.missing and not way.evidence:
        return Cell()
    full = [x for x in said if x[1].role != "loose"] or said
    if not full:
        return Cell()
    f, m = full[-1]
    to = [
        x
        for x in full
        if re.search(
            r"\b(?:to|at|address|deliver|ship|drop)\b[^.!?\n]{0,40}$",
            x[0].turn.low[max(0, x[1].start - 50) : x[1].start],
        )
    ]
    if to:
        f, m = to[-1]
    return Cell(
        m.value,
        m.role != "loose" and way.sure,
        _where(f, m),
        "" if m.role != "loose" else "a street without its kind: check the address",
        rule=m.rule,
    )


def occasion(found: Sequence[Found], about: About) -> Cell[str]:
    said = [(f, m) for f, m in _said("occasion", found, about) if m.role not in ("past", "none")]
    if any(m.role == "none" for _, m in _said("occasion", found, about)) and len(said) < 2:
        return Cell()
    ages = _said("age", found, about)
    if ages and all(m.value == "other" for _, m in said):
        # Somebody's new age is a birthday, whatever the party is called.
        f, m = ages[0]
        return Cell("birthday", True, _where(f, m), rule="an age is told")
    if not said:
        return Cell()
    f, m = min(
        said, key=lambda x: (occasions.RANK[x[1].value] - 3 * (x[1].role == "of the day") + 2.5 * (x[1].role == "weak"), x[1].turn, x[1].start)
    )
    return Cell(m.value, True, _where(f, m), rule=m.rule)


def age(found: Sequence[Found], about: About) -> Cell[int]:
    said = _said("age", found, about)
    if not said:
        return Cell()
    values = list(dict.fromkeys(m.value for _, m in said))
    f, m = said[0]
    if len(values) > 1:
        return Cell(
            None, False, tuple(e for x in said for e in _where(*x)), "two different ages", tuple(values), rule=m.rule
        )
    return Cell(m.value, True, _where(f, m), rule=m.rule)


def honoree(found: Sequence[Found], about: About, customer: str | None, celebrated: bool) -> Cell[str]:
    """Who it is for, if named and not the customer: a name given as such first, then beside a relation, then by the day."""
    said = _said("honoree", found, about)
    own = {w.lower() for w in (customer or "").split()}
    said = [x for x in said if x[1].value.split()[0].lower() not in own]
    if not said:
        return Cell()
    rank = {"named": 0, "day": 1, "relation": 2}
    best = min(said, key=lambda x: (" and " not in x[1].value, rank.get(x[1].role, 3), x[1].turn, x[1].start))
    f, m = best
    return Cell(
        m.value,
        celebrated or m.role != "relation",
        _where(f, m),
        "" if celebrated or m.role != "relation" else "a person is named: check whether it is for them",
        rule=m.rule,
    )


def budget(found: Sequence[Found], about: About) -> Cell[Decimal]:
    said = _said("budget", found, about)
    if not said:
        return Cell()
    f, m = said[-1]
    if m.doubt:
        return Cell(None, False, _where(f, m), m.doubt, rule=m.rule)
    return Cell(m.value, True, _where(f, m), rule=m.rule)


def phone(found: Sequence[Found]) -> Cell[str]:
    said = [(f, m) for f in found if not f.turn.mine for m in f.of("phone")]
    if not said:
        return Cell()
    own = [x for x in said if x[0].turn.kind == "said"] or said
    mine = [x for x in own if x[1].role == "mine"] or own
    f, m = mine[-1] if mine is not own else own[0]
    return Cell(m.value, True, _where(f, m) if m.end else (), rule=m.rule)


def email(found: Sequence[Found]) -> Cell[str]:
    said = [(f, m) for f in found if not f.turn.mine for m in f.of("email")]
    if not said:
        return Cell()
    f, m = said[-1]
    return Cell(m.value, True, _where(f, m) if m.end else (), rule=m.rule)


def customer(found: Sequence[Found], shown: str) -> Cell[str]:
    """As they name themselves; a full name or any name beats a handle, else the sender's display name."""
    said = [(f, m) for f in found if not f.turn.mine and f.turn.kind == "said" for m in f.of("customer")]
    selves = [x for x in said if x[1].role == "self"]
    signed = [x for x in said if x[1].role == "signed"]
    for f, m in [*selves, *reversed(signed)]:
        words = m.value.split()
        pair = _PAIR_SHOWN.search(shown) is not None
        handle = bool(re.search(r"[\d_]|[a-z]\.[a-z]", shown)) or not shown.strip() or " " not in shown.strip() or pair
        if m.role == "self" or len(words) > 1 or (handle and (pair or not _within(m.value, shown))):
            if m.role == "signed" and len(words) == 1 and not handle:
                continue
            if (
                m.role == "self"
                and len(words) == 1
                and len(shown.split()) > 1
                and _within(m.value, shown)
                and not _PAIR_SHOWN.search(shown)
                and not _nickname(shown)
            ):
                continue
            return Cell(m.value, True, _where(f, m), rule=m.rule)
    return Cell(shown, True, (), rule="sender's name") if shown else Cell()


#: Two people's account: who of them writes, she may sign.
_PAIR_SHOWN = re.compile(r"&|\+|\band\b|\by\b")


def _nickname(shown: str) -> bool:
    return shown.split()[0].lower() in ("big", "lil", "little", "old", "crazy", "the")


def _within(name: str, shown: str) -> bool:
    return name.lower() in shown.lower()
