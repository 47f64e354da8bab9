"""The theme and the designs of an order, weighed over the whole thread."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from intake.model import Cell, Design, Evidence
from intake.reading import cues, named_days
from intake.reading.found import Found
from intake.reading.language import listed
from intake.reading.mention import Mention
from intake.reading.settle_count import rebalanced
from intake.reading.shares import agreed, answered_even, even_split, head_key, parted, summed_up, swapped
from intake.reading.tally import Tally
from intake.reading.thing_words import many as as_many
from intake.reading.things import Item, ItemList

_EXTRA = re.compile(
    r"\b(?:all )?(?:the )?(?:extra|rest|others|additional) (?:ones |of them |are |be |will be |all |can be |should be |just )*(?P<t>[a-z][a-z']{2,24})"
)
_BOTH = re.compile(r"\bor\b")


def settle(
    found: Sequence[Found], about: Callable[[int, int], bool], tally: Tally
) -> tuple[Cell[str], Cell[tuple[Design, ...]]]:
    """(theme, designs): a stated theme wins, then the words before "cookies", then the shapes joined with "and".

    What the baker has summed up counts where the customer agrees and has named nothing herself.
    """
    own = _settle([f for f in found if not f.turn.mine], found, about, tally)
    if not own[0].missing or own[0].evidence or not own[1].missing:
        return own
    taken_up = [f for i, f in enumerate(found) if f.turn.mine and agreed(found, i)]
    return _settle(taken_up[-1:], found, about, tally) if taken_up else own


def _settle(
    said: Sequence[Found], found: Sequence[Found], about: Callable[[int, int], bool], tally: Tally
) -> tuple[Cell[str], Cell[tuple[Design, ...]]]:
    stated: list[tuple[Found, Mention]] = []
    worded: list[tuple[Found, Mention]] = []
    lists: list[tuple[Found, ItemList]] = []
    refused = False
    for f in said:
        for m in f.of("theme"):
            if not about(f.turn.index, m.start):
                continue
            if m.op == "drop":
                refused = True
            elif m.role == "stated":
                stated.append((f, m))
            else:
                worded.append((f, m))
        lists.extend((f, g) for g in f.lists if about(f.turn.index, g.start))
    lone = [g for _, g in lists if len(g.items) == 1 and g.strong]
    if lone and not any(len(g.items) > 1 for _, g in lists) and all(m.role in ("team", "club") for _, m in worded):
        worded = []
    if any(len(g.items) > 1 and g.strong for _, g in lists):
        # "40 gingerbread cookies, sleds and skates": the dough, and what is drawn.
        tastes = listed("flavors_en.txt", "flavors_es.txt")
        wished = any(len(g.items) > 1 and g.strong and g.cue in ("verb", "number", "please") for _, g in lists)
        worded = [x for x in worded if x[1].value.lower() not in tastes and x[1].role != "club" and not (wished and x[1].role == "team")]
        # "Easter cookies", and to the question for the theme: "carrots and chicks".
        answers = [f for f, g in lists if len(g.items) > 1 and "theme" in f.turn.asked]
        worded = [x for x in worded if not (answers and x[0].turn.index < answers[0].turn.index and named_days.NAMED.fullmatch(x[1].value.lower()))]
    lists, spelled = _spelled_out(lists)
    theme, alternative = _theme(stated, worded)
    if theme.missing and not theme.evidence and not refused:
        theme = spelled
    designs, either = _designs(found, lists, theme, worded, tally)
    if either and theme.missing:
        return Cell(None, False, either, "one of several themes, not settled", rule="themes to choose from"), Cell()
    if alternative:
        return theme, designs[1]
    heading = _heading(lists)
    if theme.missing and not refused and heading:
        theme = heading
    if theme.missing and not refused:
        items, evidence, strong = designs[0]
        if items:
            value = _joined([_tidy(i.what) for i in items])
            theme = Cell(
                value,
                strong,
                evidence,
                "" if strong else "taken from a thing that is named in passing",
                rule="shapes joined",
            )
    return theme, designs[1]


def _heading(lists: list[tuple[Found, ItemList]]) -> Cell[str]:
    """ "Construction trucks! 6 diggers, 6 dump trucks": a thing alone, then the list that spells it out."""
    for (f, one), (g, many) in itertools.pairwise(lists):
        if (
            f is g
            and len(one.items) == 1
            and one.cue in ("alone", "asked")
            and len(many.items) > 1
            and not one.items[0].share
            and many.start - one.end < 30
            and (many.items[0].share or (_activity(one.items[0].what) and all(i.what.endswith("s") for i in many.items)))
        ):
            return Cell(one.items[0].what, True, (f.turn.evidence(one.start, one.end),), rule="the heading of a list")
    return Cell()


def _spelled_out(lists: list[tuple[Found, ItemList]]) -> tuple[list[tuple[Found, ItemList]], Cell[str]]:
    """ "Five dozen songbirds, half cardinals and half wrens": what is counted first is the theme of the parts behind it."""
    for at, (f, g) in enumerate(lists):
        head, rest = g.items[0], g.items[1:]
        if len(rest) < 2 or head.quantity is None or head.rest or head.half:
            continue
        told = [i.share for i in rest]
        halves = all(i.half or i.part or i.rest for i in rest)
        whole = head.quantity.low
        if halves or (all(told) and sum(t or 0 for t in told) == whole):
            parts = replace(g, items=rest, start=rest[0].start)
            theme = Cell(head.what, True, (f.turn.evidence(head.start, head.end),), rule="the heading of a list")
            return [*lists[:at], (f, parts), *lists[at + 1 :]], theme
    return lists, Cell()


def _activity(what: str) -> bool:
    """Whether a word names what one does or where one is rather than a thing: "tennis", "running", "basketball"."""
    return bool(re.search(r"(?:ing|ball|is|ics|y|garden|night|beach)$", what)) and not re.search(r"[^i]s$", what)


def _theme(stated: list[tuple[Found, Mention]], worded: list[tuple[Found, Mention]]) -> tuple[Cell[str], bool]:
    # The sport of a team is its theme only where no single thing is asked for.
    team = [x for x in worded if x[1].role in ("team", "club")]
    worded = [x for x in worded if x not in team] or team
    for pool, rule in ((stated, "a theme, stated"), (worded, "words before “cookies”")):
        if not pool:
            continue
        f, m = pool[0]
        for g, later in pool[1:]:
            sentence = g.turn.shadow.sentence(later.start)
            if (
                pool is stated
                and (g.turn.index > f.turn.index or cues.REPAIR.search(g.turn.low, sentence[0], later.start))
            ) or (
                pool is worded
                and g.turn.index > f.turn.index
                and cues.REPAIR.search(g.turn.low, sentence[0], sentence[1])
            ):
                f, m = g, later
        evidence = (f.turn.evidence(m.start, m.end),)
        # "Rainbows or strawberries, she hasn't decided": an "or" beside the theme, not anywhere in its sentence.
        sentence = f.turn.shadow.sentence(m.start)
        beside = f.turn.low[max(sentence[0], m.start - 24) : min(sentence[1], m.end + 24)]
        beside = re.sub(r"(?:either )?[\w½]+(?: to)? or [\w½]+(?: dozen| doz| dz| cookies)", " ", beside)
        open_choice = re.search(r"\bor\b|\beither\b", beside) and cues.UNSETTLED.search(f.turn.low, *sentence)
        unsettled = m.doubt or open_choice
        if unsettled:
            return Cell(None, False, evidence, "the theme is not settled yet", rule=rule), True
        return Cell(_tidy(m.value), True, evidence, rule=rule), False
    return Cell(), False


_TASTE = re.compile(
    r"^(?:gingerbread|chocolate|vanilla|lemon|sugar|shortbread) (?!and\b|y\b|n\b|or\b|man|men|house|girl|boy|chip|bar|cake|train|people)(?=\w)"
)


def _tidy(value: str) -> str:
    """One line without a flavour in front: "gingerbread stars" are stars."""
    return as_many(_TASTE.sub("", " ".join(value.strip(" .,-").split())))


def _joined(words: Sequence[str]) -> str:
    words = list(dict.fromkeys(words))
    if len(words) < 3:
        return " and ".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]


Picked = tuple[list[Item], tuple[Evidence, ...], bool]


def _designs(
    found: Sequence[Found],
    lists: list[tuple[Found, ItemList]],
    theme: Cell[str],
    worded: list[tuple[Found, Mention]],
    tally: Tally,
) -> tuple[tuple[Picked, Cell[tuple[Design, ...]]], tuple[Evidence, ...]]:
    shares: dict[str, int | None] = {}
    evidence: list[Evidence] = []
    items: dict[str, Item] = {}
    halves = strong = False
    single: tuple[Found, ItemList] | None = None
    either: tuple[Evidence, ...] = ()
    for f, group in lists:
        low = f.turn.low
        gap = low[group.start : group.end]
        sentence = f.turn.shadow.sentence(group.start)
        here = f.turn.evidence(group.start, group.end)
        if (
            len(group.items) > 1
            and _BOTH.search(gap)
            and (cues.UNSETTLED.search(low, *sentence) or "either" in low[max(0, group.start - 16) : group.start])
        ):
            either = (here,)
            continue
        if len(group.items) > 1:
            if not group.strong and items:
                continue
            names = {head_key(i.what) for i in group.items} | {head_key(_same(i.what, items)) for i in group.items}
            # A later list that shares a name with the first, or is said with a word of change, takes its place.
            known = {head_key(w) for w in items}
            replaced = bool(known) and (
                len(names & known) > 0 or cues.REPAIR.search(low, max(0, sentence[0] - 30), group.start) is not None
            )
            if known and not replaced:
                if not re.search(r"\b(?:also|and|plus|add|mix in|with|some)\b", low[sentence[0] : group.start]):
                    continue
            elif known:
                shares, items, evidence = {}, {}, []
            for i in group.items:
                items.setdefault(_same(i.what, items), i)
                each = (
                    group.each.low
                    if group.each is not None and group.each.exact and not (i.share and i.quantity is not group.each)
                    else None
                )
                shares[_same(i.what, items)] = each if each is not None else i.share
            halves = (
                group.halves
                or (all(i.half for i in group.items) and len(group.items) == 2)
                or (any(i.half for i in group.items) and len(group.items) == 2)
            )
            evidence.append(here)
            strong = strong or group.strong
        else:
            item = group.items[0]
            if re.search(r"\b(?:say|says|put|write|name|with|on)\b", low[group.end : group.end + 16]) and (
                items or worded
            ):
                continue
            if items and (key := _same(item.what, items)) in items:
                if (
                    item.share is not None
                    and item.quantity is not None
                    and item.quantity.role not in ("part",)
                    and not item.quantity.dozens
                ):
                    shares[key] = item.share
                continue
            added = re.search(
                r"\b(?:mix in|add|plus|also|with|throw in|and)\s*(?:some|a few|in)?\s*$", low[sentence[0] : group.start]
            )
            if added and (items or single or worded) and group.strong:
                base = (
                    single[1].items[0].what if single else (_tidy(worded[0][1].value) if worded and not items else "")
                )
                if base and not items:
                    items[base] = single[1].items[0] if single else Item(0, 0, base)
                    shares[base] = None
                items[item.what] = item
                shares[item.what] = item.share if item.share is not None and (tally.total or 0) > item.share else None
                evidence.append(here)
                strong = True
            elif (
                single is None or (group.strong and not single[1].strong) or (group.strong and "theme" in f.turn.asked)
            ):
                single = (f, group)
    if items and len(items) > 1:
        for f, _ in lists:
            for rest in _EXTRA.finditer(f.turn.low):
                key = _same(rest["t"], items)
                if (
                    key in shares
                    and tally.total is not None
                    and all(n is not None for w, n in shares.items() if w != key)
                ):
                    shares[key] = tally.total - sum(n or 0 for w, n in shares.items() if w != key)
        for f in found:
            # "8 of each yep": a share for all, said after the things.
            told = [q for q in f.quantities if q.role == "each" and q.exact]
            if told and not f.lists and not f.turn.mine and tally.total == told[0].low * len(shares):
                shares = dict.fromkeys(shares, told[0].low)
        shares = summed_up(found, items, shares)
        for f in found:
            if not f.turn.mine:
                items, shares = swapped(f, items, shares)
        offered = even_split(found, tally, shares) or answered_even(found)
        shares = parted(tally.total, items, shares)
        shares = rebalanced(tally, shares, halves or offered)
        value = tuple(Design(what, shares.get(what)) for what in items)
        doubt = "" if strong else "things named in passing"
        picked: Picked = (list(items.values()), tuple(evidence), strong)
        named = [Item(i.start, i.end, what) for what, i in items.items()]
        return (
            (named, picked[1], strong),
            Cell(value, strong, tuple(evidence), doubt, rule="a list of things"),
        ), either
    if single:
        f, group = single
        item = group.items[0]
        here = f.turn.evidence(item.start, item.end)
        share = (
            item.share
            if item.share is not None
            and tally.total is not None
            and item.share < tally.total
            and item.share != tally.first
            and item.quantity is not None
            and item.quantity.role != "part"
            else None
        )
        cell: Cell[tuple[Design, ...]] = (
            Cell((Design(item.what, share),), group.strong, (here,), rule="one thing with its share")
            if share and share > 1
            else Cell()
        )
        return (([item], (here,), group.strong), cell), either
    return (([], (), False), Cell()), either


def _same(what: str, items: dict[str, Item]) -> str:
    """The name under which `items` holds the same thing: by its head, or as a part of a longer name."""
    exact = next((known for known in items if head_key(known) == head_key(what)), None)
    if exact:
        return exact
    stems = {head_key(w) for w in what.lower().split()}
    return next((known for known in items if stems <= {head_key(w) for w in known.lower().split()}), what)
