"""How many cookies: the total, and what each design gets of it."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from intake.model import Cell, Evidence
from intake.reading import cues, numbers
from intake.reading.counts import Quantity
from intake.reading.found import Found
from intake.reading.things import Item, ItemList

_ORIGINAL = re.compile(
    r"\b(?:back to|go(?:ing)? back to|return to|the) (?:the |our |my )?(?:original|first|initial) (?:number|amount|count|quantity|order)\b"
)
_MORE = re.compile(
    r"\b(?:add(?:ing)?|another|extra|more|plus)\s*(?:on )?(?:an? )?(?:extra |other |additional )?\s*$|\b(?:add|throw in|tack on)\s+(?:an? )?(?:another |extra )?$"
)
_MORE_AFTER = re.compile(r"^\s*(?:more|extra|additional)\b")
_FEWER_AFTER = re.compile(r"^\s*(?:fewer|less)\b")
_STAY_AWAY = re.compile(
    rf"(?P<n>\d{{1,3}}|{numbers.WORDS}) (?:of (?:the|my|our|them|those|us)(?: \w+)?|kids|guests|people|families)\s*(?:\w+\s){{0,3}}?(?:can'?t|cannot|cant|aren'?t|won'?t|wont|bailed|dropped|cancell?ed|backed out|not coming|couldn'?t)"
)
_COMING_TOO = re.compile(rf"(?P<n>\d{{1,3}}|{numbers.WORDS}) more (?:kids|people|guests)")
_PRICE = re.compile(
    r"\b(?:how much|what (?:would|do|does|is|are)|cost|price|quote|ballpark|charge|per dozen|a dozen\?|minimum)\b"
)
_UNIT_PRICE = re.compile(
    r"(?:\bper|/|\ba|\bla|\bprice (?:for|of)(?: a)?|\bby the)\s*$|\b(?:price|cost|charge|cu[aá]nto (?:sale|cuesta))\b[^.!?\n]{0,14}$"
)
_ALTERNATIVE = re.compile(r"\b(?:could (?:be|end up)|might (?:be|end up)|either|or maybe|might be|depending|not sure|maybe)\b")


@dataclass
class Tally:
    """The state of one order's count while the thread is read. `each` is cookies for one head."""

    total: int | None = None
    first: int | None = None
    heads: int | None = None
    each: int | None = None
    evidence: tuple[Evidence, ...] = ()
    why: str = ""
    rule: str = ""
    others: tuple[int, ...] = ()
    kinds: int = 0
    strong: bool = False
    trail: list[tuple[str, str, str, Evidence]] = field(default_factory=list)

    def set(self, total: int, evidence: tuple[Evidence, ...], rule: str, why: str = "") -> None:
        self.total, self.evidence, self.rule, self.why, self.others = total, evidence, rule, why, ()
        self.first = self.first or total
        self.trail.append((rule, str(total), why if why else "stands", evidence[0]))

    def unsettled(self, low: int, high: int, evidence: tuple[Evidence, ...], rule: str, why: str) -> None:
        self.total, self.evidence, self.rule, self.why, self.others = None, evidence, rule, why, (low, high)
        self.trail.append((rule, f"{low} or {high}", why, evidence[0]))


def settle(found: Sequence[Found], about: Callable[[int, int], bool]) -> tuple[Cell[int], Tally]:
    """The count of one order; unsettled counts have no value, their two readings and a reason."""
    tally = Tally()
    for index, f in enumerate(found):
        if f.turn.mine:
            _offer(tally, found, index, about)
        elif f.turn.bare:
            _turn(tally, f, about)
    if tally.total is None and not tally.others:
        _left_over(tally, found, about)
    value = tally.total
    if value is not None and not 0 < value <= 5000:
        return Cell(None, False, tally.evidence, "a count that can't be meant", rule=tally.rule), tally
    if value is None and not tally.others:
        return Cell(), tally
    return Cell(
        value, value is not None and not tally.why, tally.evidence, tally.why, tally.others, rule=tally.rule
    ), tally


#: What stands around a number that is said for itself: "axolotls. 18, pink", "forty for my friend's shower".
_BARE_BEFORE = re.compile(r"(?:^|[.,;:!?\n(]|\b(?:about|like|say|maybe|just|want|wanted|need|order|get|for|is|are|thinking|probably|total of|of))\s*$")
_BARE_AFTER = re.compile(
    r"\s*(?:$|[.,;:!?\n)]|(?:of|o) (?:them|'?em|these|those)\b|pcs\b|pieces\b|count\b|ct\b|total\b|altogether|all told|in all\b|please|pls|plz|by\b|doable|possible|for (?:my|our|a|the|his|her|their|mi)\b|should do|would do|will do|ought to)"
)


_LETTERED = re.compile(r"\s*(?:of (?:them|'?em|those|these) )?(?:should |to |that |can |could )?(?:say|says|saying|with|get|have|read|reading)\b")


def _left_over(tally: Tally, found: Sequence[Found], about: Callable[[int, int], bool]) -> None:
    """The only number of the thread that is nothing else, where no count was said as one."""
    left: list[tuple[Found, Quantity]] = []
    heads = False
    for f in found:
        if f.turn.mine or f.turn.kind != "said":
            continue
        low = f.turn.low
        for q in f.quantities:
            if not about(f.turn.index, q.start) or _past(f, q):
                continue
            heads = heads or q.role == "people"
            if q.role not in ("lone", "part") or not q.exact or not 4 <= q.low <= 600:
                continue
            if _ON_SOME.search(low[max(0, q.start - 20) : q.start]) or not _BARE_AFTER.match(low[q.end :]):
                continue
            if q.role == "lone" and not _BARE_BEFORE.search(low[: q.start]):
                continue
            if f.turn.asked & {"time"} and len(f.turn.bare) < 40:
                continue
            left.append((f, q))
    if len({q.low for _, q in left}) > 1:
        left = [(f, q) for f, q in left if not _LETTERED.match(f.turn.low[q.end :])]
    if len({q.low for _, q in left}) == 1:
        f, q = left[0]
        why = "" if not heads else "a number without its noun: check it"
        tally.set(q.low, _evidence(f, q), "the only number left", why)


def _evidence(f: Found, *spans: Quantity) -> tuple[Evidence, ...]:
    return tuple(f.turn.evidence(q.start, q.end) for q in spans)


def _turn(tally: Tally, f: Found, about: Callable[[int, int], bool]) -> None:
    low = f.turn.low
    here = [q for q in f.quantities if about(f.turn.index, q.start) and not _past(f, q)]
    lists = [g for g in f.lists if g.items and about(f.turn.index, g.start)]
    if (m := _ORIGINAL.search(low)) and tally.first and about(f.turn.index, m.start()):
        tally.set(tally.first, (f.turn.evidence(*m.span()),), "back to the first number")
        return
    if _people(tally, f, here):
        return
    if tally.total is not None and _delta(tally, f, here):
        return
    if "count" in f.turn.asked and (told := _in_dozens(f, here)):
        tally.set(told[0], (told[1],), "an answer in dozens")
        return
    shares = [i for g in lists for i in g.items if i.share is not None and i.quantity in here]
    share_quantities = {id(i.quantity) for i in shares}
    plain = [
        q
        for q in here
        if q.role in ("total", "cookies", "dozens") and id(q) not in share_quantities and not _shares_out(f, q, lists)
    ]
    # "20 keys and doors": the number before a row is the whole's.
    before_row = {id(i.quantity) for g in lists for i in g.items[:1] if len(g.items) > 1 and i.share is None and i.quantity is not None}
    plain += [q for q in here if id(q) in before_row and q.role == "lone" and not plain]
    own = [q for q in here if id(q) in share_quantities]
    boxed = _boxes(f, here)
    each = max(
        ((g, g.each) for g in lists if g.each is not None and g.each.exact and g.each in here),
        key=lambda pair: len(pair[0].items),
        default=None,
    )
    if not lists and tally.kinds > 1 and (whole := _of_kinds(f, here, tally.kinds)):
        tally.set(whole[0], (whole[1],), f"so many of each of {tally.kinds} designs")
        return
    tally.kinds = max((len(g.items) for g in lists if g.strong), default=0) or tally.kinds
    if boxed and not plain:
        count, first, second = boxed
        tally.set(count, _evidence(f, first, second), "boxes of so many")
        return
    lone = [q for q in here if q.role in ("lone", "one") and id(q) not in share_quantities]
    if "count" in f.turn.asked and not plain and not shares and lone and not any(q.role == "each" for q in here):
        plain = [q for q in lone if q.role == "lone"][:1]
    if not plain and not shares and not each and (changed := _bare_change(f, lone)):
        plain = [changed]
    if not plain and not shares and not each and tally.total is None:
        # "Owl cookies, 30 of them please": of them, and nothing else is counted.
        plain = [
            q
            for q in here
            if q.role == "part"
            and _WHOLE.match(low[q.end :])
            and not _ON_SOME.search(low[max(0, q.start - 20) : q.start])
        ][:1]
    asked_price = bool(_PRICE.search(low)) and not re.search(
        r"\b(?:i'?d like|i need|can i (?:get|order)|could i (?:get|order)|want|order)\b", low
    )
    if plain:
        _totals(tally, f, plain, shares, each[0] if each else None)
        if (
            asked_price
            and tally.total is not None
            and not tally.why
            and tally.first == tally.total
            and tally.strong is False
        ):
            tally.strong = False
        return
    if each and each[1] and (len(each[0].items) > 1 or each[1].low > 1):
        group, q = each
        whole = sum(i.share if i.share is not None and i.quantity is not q else q.low for i in group.items)
        tally.set(
            whole,
            (*_evidence(f, q), f.turn.evidence(group.start, group.end)),
            f"{q.low} of each of {len(group.items)} designs",
        )
        return
    if shares:
        full = [g for g in lists if all(i.share is not None for i in g.items)]
        complete = bool(full)
        shares = [i for g in full for i in g.items] or shares
        whole = sum(i.share or 0 for i in shares)
        dozens = any(q.dozens for q in own)
        if complete and (len(shares) > 1 or dozens or tally.total is None or "count" in f.turn.asked):
            if (
                len(shares) == 1
                and not dozens
                and tally.total is not None
                and not cues.REPAIR.search(low)
                and "count" not in f.turn.asked
            ):
                return
            spans = tuple(f.turn.evidence(i.quantity.start if i.quantity else i.start, i.end) for i in shares)
            tally.set(whole, spans, "the designs' counts added up")
        elif dozens and tally.total is None:
            tally.set(own[0].low, _evidence(f, own[0]), "a count by the dozen")


_DOUBLE = re.compile(r"(?<!a )\b(?:double (?:that|it|the (?:order|number|count|amount)|up)|twice (?:that|as many)|el doble)\b")
_OFF = re.compile(r"\b(?:knock|take|drop|cut|shave|trim|lose|minus|subtract|remove)(?: it)?(?: off| out| back| down)?(?: by)?\s*(?:an?\s*)?$")
_ON_TOP = re.compile(
    r"\b(?:throw in|add(?: in| on)?|tack on|another|plus|extra|an extra|an additional|otra|m[aá]s)\s*(?:an?\s|another\s)?$"
)
_ON_TOP_AFTER = re.compile(
    r"\s*(?:more|extra|additional|on top|m[aá]s)\b(?=\s*(?:$|[.,!?;:\n)]|cookies|biscuits|galletas|of\b|on\b|please|pls|plz|for\b|to\b|if\b|with\b|in\b|and\b|lol|than\b))"
)
_OFF_AFTER = re.compile(r"\s*(?:fewer|less|off)\b")


def _delta(tally: Tally, f: Found, here: list[Quantity]) -> bool:
    """A change told by its difference, in a later message: "throw in six more", "knock off a dozen", "double that"."""
    low, first = f.turn.low, tally.evidence[0].message if tally.evidence else ""
    if any(q.role == "total" and not q.dozens for q in here) and not _DOUBLE.search(low):
        return False
    if tally.total is None or first == f.turn.message or f.lists and any(len(g.items) > 1 for g in f.lists):
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
        if q.low == 1 and not q.dozens or re.match(r"\s*more (?:quick )?(?:thing|question|time)", after):
            continue
        if (_OFF.search(before) or _OFF_AFTER.match(after)) and q.low < tally.total:
            tally.set(tally.total - q.low, _evidence(f, q), "some taken off")
            return True
        if (_ON_TOP.search(before) or _ON_TOP_AFTER.match(after) or before.strip() == "another") and q.role != "total":
            tally.set(tally.total + q.low, _evidence(f, q), "some added")
            return True
    return False


def _of_kinds(f: Found, here: list[Quantity], kinds: int) -> tuple[int, Evidence] | None:
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


def _in_dozens(f: Found, here: list[Quantity]) -> tuple[int, Evidence] | None:
    """ "One and a half", "3": an answer where the baker has asked how many dozen."""
    if "dozens" not in f.turn.asked or any(q.dozens for q in here):
        return None
    m = re.match(rf"\W*(?:just |about |maybe |let'?s do |i'?d say )?(?P<n>\d{{1,2}}|{numbers.WORDS})(?P<half>(?: and)?(?: a)? (?:half|1/2)|\.5|½)?\b(?!\s*(?:cookies|biscuits|people|kids|pm|am|/|:))", f.turn.low)
    n = numbers.value(m["n"]) if m else None
    if m is None or n is None or n > 12:
        return None
    return int(n * 12 + (6 if m["half"] else 0)), f.turn.evidence(*m.span())


_WHOLE = re.compile(r"\s*of (?:them|those|these|em|'em)\s*(?:please|pls|plz|total|in all|for|by|[,.!?\n]|$)")
_ON_SOME = re.compile(r"\b(?:on|put|with|only|say|and|make)\s*$")


def _shares_out(f: Found, q: Quantity, lists: Sequence[ItemList]) -> bool:
    """Whether the quantity is a share that a list names behind or before its things ("stethoscopes, a dozen each")."""
    return any(g.each is q for g in lists)


def _past(f: Found, q: Quantity) -> bool:
    start, end = f.turn.shadow.sentence(q.start)
    return cues.is_past(f.turn.low, start, q.start, end) or bool(
        q.dozens
        and q.low == 12
        and _UNIT_PRICE.search(f.turn.low[max(0, q.start - 24) : q.start])
        and "?" in f.turn.low[q.end : end]
    )


def _people(tally: Tally, f: Found, here: list[Quantity]) -> bool:
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
        heads, evidence = last.low, _evidence(f, last)
        if len(people) > 1:
            tied = [q for q in people if each and _tied(low, q, each[0])]
            if tied:
                heads, evidence = tied[0].low, _evidence(f, tied[0])
            elif re.fullmatch(r"[^.!?\n]{0,24}(?:\+|and|&|plus|n|y)\s*", low[people[0].end : people[1].start]):
                heads, evidence = people[0].low + people[1].low, _evidence(f, people[0], people[1])
            elif each:
                before = [q for q in people if q.start < each[0].start]
                heads, evidence = (
                    (before[-1] if before else people[0]).low,
                    _evidence(f, before[-1] if before else people[0]),
                )
        if each and heads and (plus := _AND_ME.match(low, people[-1].end)):
            heads += 1 + bool(plus["more"])
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
            tally.set(moved.low * tally.each, _evidence(f, moved, each[0]), "heads changed, cookies a head kept")
            return True
    if people and heads and not each and (m := _EVERYBODY.search(low)):
        per = numbers.value(m["n"] or m["n2"]) if (m["n"] or m["n2"]) not in ("a", "an") else Fraction(1)
        if per:
            tally.each, tally.heads = int(per), heads
            tally.set(heads * int(per), (*evidence, f.turn.evidence(*m.span())), f"{heads} heads, {int(per)} each")
            return True
    if each and not any(q.role in ("total", "cookies", "dozens") and q.start < each[0].start for q in here):
        per = each[0].low
        n = heads if heads is not None else tally.heads
        explicit = any(g.each is each[0] for g in f.lists)
        if n and per <= 24 and not (explicit and not people and not tally.heads):
            tally.each, tally.heads = per, n
            tally.set(n * per, evidence + _evidence(f, each[0]), f"{n} heads, {per} each")
            return True
    return False


#: Cookies a head told without "each": "everybody gets one", "a pin for each".
_EVERYBODY = re.compile(
    rf"\b(?:everybody|everyone|each(?: kid| child| one| person| guest| player)?|every [a-z]+|they (?:all|each)|all of them) (?:gets?|has|have|to have|to get|wants?|should get) (?P<n>\d|{numbers.WORDS}|an?)\b"
    rf"|\b(?P<n2>\d|an?|{numbers.WORDS}) (?:[a-z]+ ){{0,3}}for (?:each|every|everyone|everybody)\b"
)
_AND_ME = re.compile(
    r"\s*(?:of them|[a-z]+)?\s*(?:\+|and|plus|&)\s*(?:me|myself|my \w+|the teacher|a teacher|the coach)\b(?P<more>\s*(?:\+|and|plus|&)\s*(?:me|my \w+|an? \w+|the \w+)\b)?"
)


def _tied(low: str, people: Quantity, each: Quantity) -> bool:
    clause = re.split(r"[,.;!?\n]", low[people.end : people.end + 34])[0]
    after = set(re.findall(r"[a-z]{5,}", clause)) - {"people", "cookies", "cookie"}
    end = re.search(r"[.!?\n]|$", low[each.end :])
    near = set(re.findall(r"[a-z]{5,}", low[each.start : each.end + (end.start() if end else 0)]))
    return bool(after & near)


def _boxes(f: Found, here: list[Quantity]) -> tuple[int, Quantity, Quantity] | None:
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


_CHANGED_TO = re.compile(
    r"\b(?:make (?:it|that|them)|change (?:it |that )?to|bump (?:it )?(?:up )?to|up (?:it )?to|down to|go (?:with|to)|leave it at|keep it at|need|do|just|actually|sean|want|so|take|order|total|let'?s say)\s*(?:just |an even |about )?$"
)
_STOPS = re.compile(r"\s*(?:$|[.,!?;:\n]|instead|please|pls|plz|now|total|then|if|cookies|for|but|lol|and|bc|because)")


def _bare_change(f: Found, lone: list[Quantity]) -> Quantity | None:
    """ "Wait make it 30", "30 instead": a lone number said with a word of change."""
    for q in lone:
        before, after = f.turn.low[max(0, q.start - 30) : q.start], f.turn.low[q.end : q.end + 20]
        if _CHANGED_TO.search(before) and _STOPS.match(after):
            return q
        if re.match(r"\s*now\b", after) and re.search(r"\b(?:so|it'?s|its|we'?re|that'?s|is|are|make)\s*$", before):
            return q
    return None


def _totals(tally: Tally, f: Found, plain: list[Quantity], shares: Sequence[Item], each_list: ItemList | None) -> None:
    low = f.turn.low
    chosen = next((q for q in plain if not re.search(r"\bnot\s*$", low[: q.start])), plain[0])
    why = ""
    for q in plain[plain.index(chosen) + 1 :]:
        between = low[chosen.end : q.start]
        before = low[max(0, q.start - 30) : q.start]
        repaired = bool(cues.REPAIR.search(between)) or q.role == "total"
        refused = (
            bool(re.match(r"\s*(?:doz\w*|dz)?\s*(?:,|\()?\s*not\b", low[chosen.end : chosen.end + 12]))
            or re.search(r"\bnot\s*$", before) is not None
        )
        if re.search(r"\bnot\s*$", before) or refused:
            continue
        if q.low == chosen.low and q.high == chosen.high:
            continue
        if repaired:
            chosen, why = q, ""
        elif (re.search(r"\bor\b", between) and len(between) < 40) or (
            _ALTERNATIVE.search(low[max(0, chosen.start - 24) : q.start]) and len(between) < 40
        ):
            tally.unsettled(
                min(chosen.low, q.low),
                max(chosen.high, q.high),
                _evidence(f, chosen, q),
                "two counts",
                "two counts are named: ask which",
            )
            return
        elif _adds(low, plain, chosen, q):
            total = sum(p.low for p in plain if p.exact)
            tally.set(total, _evidence(f, *plain), "counts added up")
            return
    more = _MORE.search(low[max(0, chosen.start - 24) : chosen.start]) or _MORE_AFTER.match(
        low[chosen.end : chosen.end + 12]
    )
    if not chosen.exact:
        tally.unsettled(
            chosen.low,
            chosen.high,
            _evidence(f, chosen),
            "a range",
            f"between {chosen.low} and {chosen.high}: ask which",
        )
        return
    if tally.total is not None and more and chosen.role != "total":
        tally.set(tally.total + chosen.low, _evidence(f, chosen), "so many more")
        return
    if tally.total is not None and _FEWER_AFTER.match(low[chosen.end : chosen.end + 12]):
        tally.set(max(tally.total - chosen.low, 0), _evidence(f, chosen), "so many fewer")
        return
    known = [i for i in shares if i.share is not None]
    listed = sum(i.share or 0 for i in known)
    items = [i for g in f.lists for i in g.items]
    if len(known) > 1 and len(known) == len(items) and listed != chosen.low and not cues.REPAIR.search(low):
        why = f"{chosen.low} in all, but the designs add up to {listed}"
        tally.set(chosen.low, _evidence(f, chosen), "a total and its parts disagree", why)
        tally.others = (listed,)
        return
    if chosen.about:
        why = "“about”: ask for the number"
    tally.set(chosen.low, _evidence(f, chosen), "a count by the dozen" if chosen.dozens else "a count of cookies", why)


def _adds(low: str, plain: list[Quantity], a: Quantity, b: Quantity) -> bool:
    """ "2 dozen unicorn cookies and 1 dozen rainbow cookies": two counts that are parts of one order."""
    return (
        a.role == b.role == "cookies"
        and bool(re.search(r"\b(?:and|plus|&|\+|y)\s*$", low[a.end : b.start]))
        and all(q.exact for q in plain)
    )


def _offer(tally: Tally, found: Sequence[Found], index: int, about: Callable[[int, int], bool]) -> None:
    """A count in the baker's summary, taken up by the customer's yes."""
    f = found[index]
    if tally.total is not None and not tally.why:
        return
    answer = next((g for g in found[index + 1 :] if not g.turn.mine and g.turn.bare), None)
    if answer is None:
        return
    low = f.turn.low
    options = [
        q for q in f.quantities if q.role in ("total", "cookies", "dozens") and q.exact and about(f.turn.index, q.start)
    ]
    if not options:
        lists = [g for g in f.lists if about(f.turn.index, g.start) and g.items and all(i.share for i in g.items)]
        whole = sum(i.share or 0 for g in lists for i in g.items)
        if whole and cues.YES.search(answer.turn.bare) and not answer.quantities:
            tally.set(whole, tuple(f.turn.evidence(g.start, g.end) for g in lists), "an offer accepted")
        return
    if re.search(r"\b(?:the )?(?:bigger|larger|second|latter)\b", answer.turn.bare) and len(options) > 1:
        tally.set(max(q.low for q in options), _evidence(f, *options), "an offer accepted")
    elif re.search(r"\b(?:the )?(?:smaller|first|former)\b", answer.turn.bare) and len(options) > 1:
        tally.set(min(q.low for q in options), _evidence(f, *options), "an offer accepted")
    elif (
        len({q.low for q in options}) == 1
        and cues.YES.search(answer.turn.bare)
        and not any(q.role in ("total", "cookies", "dozens") for q in answer.quantities)
        and not re.search(r"minimum|start at|at least", low)
    ):
        tally.set(options[0].low, _evidence(f, options[0]), "an offer accepted")


def rebalanced(tally: Tally, shares: dict[str, int | None], halves: bool) -> dict[str, int | None]:
    """Shares that fit the total: halves are worked out; shares that no longer add up are dropped, not guessed."""
    total = tally.total
    if total is None or not shares:
        return shares
    if halves and total % len(shares) == 0:
        return {what: total // len(shares) for what in shares}
    known = [n for n in shares.values() if n is not None]
    if len(known) == len(shares) and sum(known) != total:
        if len(set(known)) == 1 and total % len(shares) == 0:
            return {what: total // len(shares) for what in shares}
        return dict.fromkeys(shares)
    return shares
