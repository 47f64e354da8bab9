"""Things named one after another: what they share, and how surely they are an order."""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading import cues
from intake.reading.counts import Quantity
from intake.reading.mention import Mention
from intake.reading.thing_items import items_of
from intake.reading.thing_words import (
    COOKIE_WORDS,
    JOINS,
    MADE_OF,
    PLACE,
)
from intake.reading.things import Chunker, Item, ItemList


def lists(chunker: Chunker) -> Iterator[ItemList]:
    """Runs of things with nothing but joining words, colours and numbers between them."""
    group: list[Item] = []
    for item in items_of(chunker):
        if group and item.share is None and _adjoins(chunker, group[-1], item) and _SHAPED.match(chunker.low, item.end):
            continue  # "peaches, peach shaped I mean"
        if group and not _adjoins(chunker, group[-1], item):
            if (made := _list(chunker, group)) is not None:
                yield made
            group = []
        group.append(item)
    if group and (made := _list(chunker, group)) is not None:
        yield made


_SHAPED = re.compile(r"[ -]shaped?\b")


def spelled_out(chunker: Chunker, theme: Mention) -> ItemList:
    """ "Pumpkin and turkey cookies, 8 of each": the words before "cookies" as a list of things."""
    items, at = [], theme.start
    for part in JOINS.split(theme.value):
        start = chunker.low.find(part, at)
        start = start if start >= 0 else at
        items.append(Item(start, start + len(part), part))
        at = start + len(part)
    end = next((w.end for w in chunker.words if w.start >= theme.end and w.low in COOKIE_WORDS), theme.end)
    halves = re.match(r"[\s,]*(?:please,? )?half (?:and|&|n) half\b", chunker.low[end:]) is not None
    return ItemList(tuple(items), _each(chunker, end), halves, True, "cookies", theme.start, theme.end)


def _adjoins(chunker: Chunker, a: Item, b: Item) -> bool:
    if (b.rest or b.half) and (a.share is not None or a.half or a.part is not None) and b.start - a.end < 70:
        return "\n\n" not in chunker.low[a.end : b.start]  # "6 ducks with JOSIE on them and the rest beach balls"
    gap = chunker.low[a.end : (b.quantity.start if b.quantity and a.end < b.quantity.start < b.start else b.start)]
    gap = re.sub(r"\(\s?x?\d{1,3}\s?\)", " ", gap)
    gap = re.sub(
        r"\b(?:for|last|on|half|rest|remaining|remainder|others|all|fill|third|quarters?|thirds?|one|two|three|an?|should|be|will|in|dozen|doz|dz|1/2|1/3|1/4|3/4|el|resto|la|otra|docena|una|media|to|that|makes?|half|the|other|of|them|em|maybe|some|a few|little|big|just|also|then|with|\d{1,3}|los|las|mitad|is|are|and|n|or|y|plus|mixed)\b",
        " ",
        gap,
    )
    gap = re.sub(r"(?<=[a-z])?\b(?:cookies|please)\b", " ", gap)
    for c in chunker.colors:
        if a.end <= c.start and c.end <= b.start:
            gap = gap.replace(chunker.low[c.start : c.end], " ")
    for shade in chunker.shades:
        gap = re.sub(rf"\b{re.escape(shade)}\b", " ", gap) if shade in gap else gap
    return not gap.strip(" ,&+/-\n'") and "\n\n" not in gap


def _list(chunker: Chunker, group: list[Item]) -> ItemList | None:
    start, end = group[0].start, group[-1].end
    sentence = chunker.turn.shadow.sentence(start)
    lead = chunker.low[sentence[0] : (group[0].quantity.start if group[0].quantity else start)]
    if cues.is_past(chunker.low, sentence[0], start, sentence[1]):
        return None
    after = chunker.low[end : end + 40]
    if re.match(r"\s*(?:is|was|are|were) (?:at|on|in|from|where|closed|open)\b", after):
        return None
    each = _each(chunker, end)
    halves = bool(
        re.match(
            r"[\s,]*(?:cookies?,?\s*)?(?:half\s*(?:and|&|n|/|y)\s*half|half half|half of each|the same (?:number|amount) of (?:each|both)|in equal (?:number|numbers|parts)|evenly|equal(?:ly| amounts| parts)?|50/50|split evenly|mitad y mitad|even split|same of each)",
            after,
        )
    ) or bool(re.search(r"half\s*(?:and|&|n)\s*half(?:\s+of)?\s*$", lead))
    if len(group) > 1 and re.search(
        r"\b(?:split(?: evenly| equally)?(?: between| among| into)?|equal (?:amounts?|parts?|numbers?|mix) of|50 ?/ ?50|evenly(?: split)?(?: between| among)?|an even (?:mix|split) of|a mix of half)\s*(?:the )?$",
        lead,
    ):
        halves = True
    if not halves and re.search(r"\bhalf\s*(?:and|&|n)\s*half\b", chunker.low[end : sentence[1]]):
        halves = len(group) == 2
    cue = _cue(chunker, lead, after, group)
    strong = bool((len(group) > 1 and cue != "place") or cue in ("asked", "please", "number", "alone", "verb"))
    if cue == "place" and len(group) == 1:
        return None
    each_before = _each_before(chunker, group[0].start)
    if (
        len(group) > 1
        and PLACE.search(lead)
        and not MADE_OF.search(lead)
        and re.match(r"\s*,", chunker.low[group[0].end :])
        and group[0].share is None
    ):
        # "graduation from nursing school, stethoscopes and caps": the first is where, not what.
        group = group[1:]
        start = group[0].start
    if (
        len(group) > 1
        and group[0].share is not None
        and not each_before
        and (each is None or each.low * len(group) == group[0].share)
        and all(i.share is None for i in group[1:])
        and not any(i.half for i in group)
    ):
        # "2 dozen trout and canoes": the number is the whole's, not the first one's.
        first = group[0]
        group = [Item(first.start, first.end, first.what, None, False, first.quantity), *group[1:]]
    return ItemList(tuple(group), each_before or each, halves, strong, cue, start, end)


def _each(chunker: Chunker, end: int) -> Quantity | None:
    """ "10 each", "8 of each", "a dozen each" behind a list, in this sentence or as the next."""
    stop = chunker.turn.shadow.sentence(end)[1]
    for q in chunker.quantities:
        if q.role != "each" or q.start < end:
            continue
        gap = chunker.low[end : q.start]
        if q.start < stop and not re.search(
            r"\b(?:kids|people|guests|girls|boys|players|students|swimmers|of us|names?)\b", gap
        ):
            return q
        if q.start <= stop + 3 and not re.search(
            r"[a-z]{3,}", re.sub(r"\b(?:and|cookies|please|so|with|about|like|colors?)\b", "", gap)
        ):
            return q
    return None


def _each_before(chunker: Chunker, start: int) -> Quantity | None:
    for q in chunker.quantities:
        if (
            q.role == "each"
            and q.end <= start
            and re.fullmatch(r"\s*(?:of\s+)?each\s*(?:of|:|-|,)?\s*(?:the\s+)?", chunker.low[q.end : start])
        ):
            return q
    return None


_YES_LEAD = re.compile(r"^\W*(?:(?:yes|yeah|yep|yup|yea|ok|okay|so|nah|no|nope|oh|ooh|well|um+|uh|hmm+|maybe|sure|please|how about|just|s[ií]|pues|ah)\b\W*)+")
_DOES = re.compile(
    r"\s+(?:is|are|was|were|has|have|had|will|can|could|said|says|wants?|needs?|does|did|do|gets?|got|called|asked|told|closes?|opens?|starts?|lets?|won|lost|meets?)\b(?! (?:fine|good|ok|okay|perfect|great|what|the theme|my|her|his|on them|our|please|cute|best))"
)


def _cue(chunker: Chunker, lead: str, after: str, group: list[Item]) -> str:
    if group[0].start in chunker.asked:
        return "verb"
    if group[0].share is not None or group[0].half:
        return "number"
    if re.search(r"\b(?:do|can|could|would) (?:you|u|ya) (?:do|make|ever do|ever make)(?: any| some)?\s*$", lead):
        return "verb"
    if len(group) == 1 and PLACE.search(lead) and not MADE_OF.search(lead):
        return "place"
    if (
        "theme" in chunker.turn.asked
        and group[0].start == next((i.start for i in group), -1)
        and not _YES_LEAD.sub("", lead).strip(" ,.!\n")
    ):
        return "asked"
    if re.match(
        r"\s*,?\s*(?:please|pls|plz|plis|por favor|if (?:that|you|u|it|possible)|would be|ish\b|i guess|i think|maybe|and (?:stuff|such|things)|theme|cookies|only)",
        after,
    ):
        return "please"
    if len(group) == 1 and not lead.strip() and _DOES.match(after):
        return ""  # "Church is having a supper": who does something, not what is drawn
    clause = chunker.low[slice(*chunker.turn.shadow.clause(group[0].start))]
    rest = clause.replace(chunker.low[group[0].start : group[-1].end], " ")
    if any(
        not re.sub(r"[\W\d_]+|\b(?:and|n|with|the|some|just|maybe|mostly|in)\b", "", _without_colors(chunker, t))
        for t in (lead, rest)
    ):
        return "alone"
    if re.search(
        r"\b(?:shaped like|in the shape of|shapes of|look like|like|want|wanting|do|doing|make|with|so|love|maybe|thinking|just|get|some|need|order|of|have|including|include|e\.?g\.?|such as|mix in|add|prefer|cookies|set|theme|shapes?|designs?|for|con|de|are|be|is|either|dozen|doz|dz|dozens|mostly)\s*(?:some|of|a few|the|little|a mix of|both|cute|like|in|:|-|,|\(|\.\.+)*\s*$",
        lead,
    ):
        return (
            "verb"
            if len(group) > 1
            or re.search(
                r"\b(?:dozen|doz|dz|so|maybe|thinking|cookies|add|mix in|shapes?|designs?|shaped like|in the shape of|look like)\W*(?:some|of|the)?\s*$",
                lead,
            )
            else "weak verb"
        )
    return ""


def _without_colors(chunker: Chunker, text: str) -> str:
    for color in {chunker.low[c.start : c.end] for c in chunker.colors}:
        text = re.sub(rf"\b{re.escape(color)}\b", " ", text)
    return text
