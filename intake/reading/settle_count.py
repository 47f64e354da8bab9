"""How many cookies: the total, and what each design gets of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from intake.model import Cell
from intake.reading import cues
from intake.reading.count_changes import by_difference, in_dozens, in_place_of, of_each_kind
from intake.reading.count_heads import by_boxes, by_heads
from intake.reading.counts import Quantity
from intake.reading.found import Found
from intake.reading.tally import Tally, spans
from intake.reading.things import Item, ItemList

_ORIGINAL = re.compile(
    r"\b(?:back to|go(?:ing)? back to|return to|the) (?:the |our |my )?(?:original|first|initial) (?:number|amount|count|quantity|order)\b|\b(?:put|set|change|leave) (?:it|that|them) back (?:to )?(?:how|what|the way) (?:it|they|we) (?:was|were|had)\b"
)
_MORE = re.compile(
    r"\b(?:add(?:ing)?|another|extra|more|plus)\s*(?:on )?(?:an? )?(?:extra |other |additional )?\s*$|\b(?:add|throw in|tack on)\s+(?:an? )?(?:another |extra )?$"
)
_MORE_AFTER = re.compile(r"^\s*(?:more|extra|additional)\b")
_FEWER_AFTER = re.compile(r"^\s*(?:fewer|less)\b")
_UNIT_PRICE = re.compile(
    r"(?:\bper|/|\ba|\bla|\bprice (?:for|of)(?: a)?|\bby the)\s*$|\b(?:price|cost|charge|cu[aá]nto (?:sale|cuesta))\b[^.!?\n]{0,14}$"
)
_ALTERNATIVE = re.compile(r"\b(?:could (?:be|end up)|might (?:be|end up)|either|or maybe|might be|depending|not sure|maybe)\b")


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
_BARE_BEFORE = re.compile(r"(?:^|[.,;:!?\n(]|\b(?:about|like|say|maybe|just|want|wanted|need|order|get|for|is|are|thinking|probably|total of|of|love|hey|hi|hello|hiya|do|doing|book|after|make|that'?s))\s*$")
_BARE_AFTER = re.compile(
    r"\s*(?:$|[.,;:!?\n)]|(?:of|o) (?:them|'?em|these|those)\b|pcs\b|pieces\b|count\b|ct\b|total\b|altogether|all told|in all\b|please|pls|plz|by\b|with\b(?! (?:me|us|my|your|the kids))|doable|possible|for\b|sh(?:ou|u)l?d do|would do|will do|'?ll do|ought to|(?:is|are|seems?|sounds?|feels?) (?:plenty|enough|fine|good|right|perfect|about right)|works\b)"
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
        tally.set(q.low, spans(f, q), "the only number left", why)


def _turn(tally: Tally, f: Found, about: Callable[[int, int], bool]) -> None:
    low = f.turn.low
    here = [q for q in f.quantities if about(f.turn.index, q.start) and not _past(f, q)]
    lists = [g for g in f.lists if g.items and about(f.turn.index, g.start)]
    if (m := _ORIGINAL.search(low)) and tally.first and about(f.turn.index, m.start()):
        tally.set(tally.first, (f.turn.evidence(*m.span()),), "back to the first number")
        return
    if by_heads(tally, f, here):
        return
    if tally.total is not None and (in_place_of(tally, f) or by_difference(tally, f, here)):
        return
    if "count" in f.turn.asked and (told := in_dozens(f, here)):
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
    if len(plain) == 1 and len(shares) == 1 and shares[0].quantity is not None and _FURTHER.fullmatch(low[plain[0].end : shares[0].quantity.start]):
        # "15 lighthouse cookies and 15 sailboats": two parts of one order.
        tally.set(plain[0].low + (shares[0].share or 0), spans(f, plain[0], shares[0].quantity), "counts added up")
        return
    boxed = by_boxes(f, here)
    each = max(
        ((g, g.each) for g in lists if g.each is not None and g.each.exact and g.each in here),
        key=lambda pair: len(pair[0].items),
        default=None,
    )
    if not lists and tally.kinds > 1 and (kinds := of_each_kind(f, here, tally.kinds)):
        tally.set(kinds[0], (kinds[1],), f"so many of each of {tally.kinds} designs")
        return
    tally.kinds = max((len(g.items) for g in lists if g.strong), default=0) or tally.kinds
    if boxed and not plain:
        count, first, second = boxed
        tally.set(count, spans(f, first, second), "boxes of so many")
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
    if plain:
        _totals(tally, f, plain, shares)
        return
    if each and each[1] and (len(each[0].items) > 1 or each[1].low > 1):
        group, q = each
        whole = sum(i.share if i.share is not None and i.quantity is not q else q.low for i in group.items)
        tally.set(
            whole,
            (*spans(f, q), f.turn.evidence(group.start, group.end)),
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
            parts = tuple(f.turn.evidence(i.quantity.start if i.quantity else i.start, i.end) for i in shares)
            tally.set(whole, parts, "the designs' counts added up")
        elif dozens and tally.total is None:
            tally.set(own[0].low, spans(f, own[0]), "a count by the dozen")


_FURTHER = re.compile(r"\s*(?:[a-z'-]+ ){1,4}(?:cookies|biscuits)(?: and|,? plus| \+| &|,) ?(?:then |another )?")
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


def _totals(tally: Tally, f: Found, plain: list[Quantity], shares: Sequence[Item]) -> None:
    low = f.turn.low
    chosen = next((q for q in plain if not re.search(r"\bnot\s*$", low[: q.start])), plain[0])
    why = ""
    for q in plain[plain.index(chosen) + 1 :]:
        between = low[chosen.end : q.start]
        before = low[max(0, q.start - 30) : q.start]
        repaired = bool(cues.REPAIR.search(between)) or q.role == "total"
        # "Change it from 2 dozen to 3 dozen": what it is to be.
        repaired |= re.fullmatch(r"\s*(?:cookies |biscuits )?(?:up |down )?to\s*", between) is not None and low[: chosen.start].endswith("from ")
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
                spans(f, chosen, q),
                "two counts",
                "two counts are named: ask which",
            )
            return
        elif _adds(low, plain, chosen, q):
            total = sum(p.low for p in plain if p.exact)
            tally.set(total, spans(f, *plain), "counts added up")
            return
    more = _MORE.search(low[max(0, chosen.start - 24) : chosen.start]) or _MORE_AFTER.match(
        low[chosen.end : chosen.end + 12]
    )
    if not chosen.exact:
        tally.unsettled(
            chosen.low,
            chosen.high,
            spans(f, chosen),
            "a range",
            f"between {chosen.low} and {chosen.high}: ask which",
        )
        return
    if tally.total is not None and more and chosen.role != "total":
        tally.set(tally.total + chosen.low, spans(f, chosen), "so many more")
        return
    if tally.total is not None and _FEWER_AFTER.match(low[chosen.end : chosen.end + 12]):
        tally.set(max(tally.total - chosen.low, 0), spans(f, chosen), "so many fewer")
        return
    known = [i for i in shares if i.share is not None]
    listed = sum(i.share or 0 for i in known)
    items = [i for g in f.lists for i in g.items]
    if len(known) > 1 and len(known) == len(items) and listed != chosen.low and not cues.REPAIR.search(low):
        why = f"{chosen.low} in all, but the designs add up to {listed}"
        tally.set(chosen.low, spans(f, chosen), "a total and its parts disagree", why)
        tally.others = (listed,)
        return
    if chosen.about:
        why = "“about”: ask for the number"
    tally.set(chosen.low, spans(f, chosen), "a count by the dozen" if chosen.dozens else "a count of cookies", why)


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
        if whole and cues.agrees(answer.turn.bare) and not answer.quantities:
            tally.set(whole, tuple(f.turn.evidence(g.start, g.end) for g in lists), "an offer accepted")
        return
    if re.search(r"\b(?:the )?(?:bigger|larger|second|latter)\b", answer.turn.bare) and len(options) > 1:
        tally.set(max(q.low for q in options), spans(f, *options), "an offer accepted")
    elif re.search(r"\b(?:the )?(?:smaller|first|former)\b", answer.turn.bare) and len(options) > 1:
        tally.set(min(q.low for q in options), spans(f, *options), "an offer accepted")
    elif (
        len({q.low for q in options}) == 1
        and cues.agrees(answer.turn.bare)
        and not any(q.role in ("total", "cookies", "dozens") for q in answer.quantities)
        and not re.search(r"minimum|start at|at least", low)
    ):
        tally.set(options[0].low, spans(f, options[0]), "an offer accepted")


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
