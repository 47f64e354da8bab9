"""What the baker types to the assistant about an order, as corrections of its fields. Reads with the same reader."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from intake.house import ReadingPart
from intake.model import Cell, Design, Draft, Order, Thread
from intake.record import in_words

#: What is longer is a message, not a correction of one.
LONGEST = 2_000
_BY_NAME = "named by the baker"
#: How a field is spoken of where its name would not do.
SPOKEN = {"handover": "hand-over", "due_is": "what the day is", "dietary": "diet", "honoree": "for whom"}
_PLURAL = ("designs", "colors", "flavors")
_LISTS = ("colors", "flavors", "packaging", "dietary")
_ADDS = re.compile(r"\b(?:add|also|plus|too|as well|another|throw in)\b", re.IGNORECASE)
_FIELD_WORDS = {
    "lettering": r"names?|lettering|words|writing|texts?",
    "colors": r"colou?rs?",
    "packaging": r"packaging|bags|box(?:es)?|ribbons?|tags?",
    "flavors": r"flavou?rs?",
    "theme": r"theme",
    "designs": r"designs?|shapes?",
    "budget": r"budget",
    "address": r"address",
    "phone": r"phone|number",
    "email": r"e-?mail",
    "age": r"age",
    "occasion": r"occasion",
    "honoree": r"for whom",
}
_NO_FIELD = {
    field: re.compile(
        rf"^\s*(?:no|without|clear(?: the)?|drop the|forget the|remove the)\s+(?:{words})\s*(?:on (?:them|it))?\W*$",
        re.I,
    )
    for field, words in _FIELD_WORDS.items()
}
_TO = r"\s*(?:to|is|should be|:|=)?"
_SET = {
    field: re.compile(rf"^\s*(?:(?:change|make|set) )?(?:the )?(?:{words})\s+(?P<v>[^\n]{{1,160}})$", re.I)
    for field, words in (
        ("customer", r"(?:customer(?:'s name)?|name|her full name)\s*(?:is|:|=)"),
        ("theme", rf"theme{_TO}"),
        ("lettering", rf"(?:lettering|wording|text){_TO}"),
        ("honoree", rf"(?:it'?s |they'?re )?for whom{_TO}"),
        ("address", rf"address{_TO}"),
    )
}
_LONE_COUNT = re.compile(
    r"^\s*(?:it'?s |just |only )?(\d{1,4})\s*(?:cookies|biscuits)?(?:,? not \d+)?\s*[.!]?\s*$", re.I
)
_FOR = re.compile(r"^\s*(?:[Ii]t|[Tt]hey)(?:['\u2019]s|['\u2019]re| is| are) for (?P<v>[A-Z][a-z]{1,20})\s*[.!]?\s*$")
_ANEW = re.compile(r"^\s*(?:make|change|switch|turn)\b", re.I)
_CANCELLED = re.compile(
    r"^\s*(?:(?:she|he|they|the customer)(?:'s| has| have)? )?cancel(?:led|ed|s)?(?: it| the order| this)?\s*[.!]?\s*$",
    re.I,
)
_MORE = re.compile(
    r"^\s*(?:(?:and )?(?:add|plus|another|an extra|take off|remove)\s+(?:another |an extra )?[\w ½/.-]+?"
    r"(?:cookies|dozen|doz|dz|more)?"
    r"|[\w ½/.-]+? (?:more|extra|fewer|less)(?: cookies)?)\s*(?:please)?\W*$",
    re.I,
)
_FEWER = re.compile(r"\b(?:fewer|less|take off|remove)\b", re.I)
_SWAP = re.compile(r"(?P<new>\b[\w ]{1,60}?)\s+instead of(?: the)?\s+(?P<old>[\w ]+)", re.I)
_FOR_ANOTHER = re.compile(
    r"^\s*(?:swap|switch|change|replace)(?: out)?(?: the)?\s+(?P<old>[\w ]{2,40}?)"
    r"\s+(?:for|to|with|by|into)(?: the)?\s+(?P<new>[\w ]{2,40})$",
    re.I,
)
_GONE = re.compile(r"\s*(?:no|without|remove|drop|skip|lose|take out|not)\s+(?:the )?(?P<what>[\w ,]+?)\W*$", re.I)
_NOT_CANCELLED = re.compile(r"\b(?:not cancell?ed|un-?cancel|back on)\b", re.I)
_MONEY_TALK = re.compile(r"^\s*(?:the )?(?:price|charge|total)\b|^\s*charge\b", re.I)
_NOT_UNDERSTOOD = (
    "I found nothing to change in that. Try a count, a day, a way of handing over, or words for the cookies: "
    "“make it 3 dozen, pickup”."
)


@dataclass(frozen=True, slots=True)
class Correction:
    """The cells to change (an empty one clears its field) and the assistant's answer.

    No changes: not understood, unless all of it is so `already`.
    """

    changes: dict[str, Cell[Any]]
    answer: str
    already: bool = False


def corrections(words: str, thread: Thread, order: Order, rules: ReadingPart, *, at: datetime) -> Correction:
    """What `words` ("make it 3 dozen, pickup", "due the 14th", "no names") change of an order. Raises nothing."""
    from intake.reading.pipeline import said_by_baker

    draft = order.draft
    if not words.strip():
        return Correction({}, "Nothing was typed.")
    if len(words) > LONGEST:
        return Correction({}, "That is too long for a correction. Say it shorter, or take it in as a new message.")
    if _MONEY_TALK.match(words):
        return Correction({}, "The price follows from your house rules; it can't be typed in here.")
    cells = _plainly(words) or _swapped(draft, words) or _more(draft, words)
    cells = cells or said_by_baker(draft, words, at, rules) or _for_whom(words)
    cells = _merged(draft, _follow(draft, cells, words), words)
    changes = {
        name: replace(cell, sure=True, why="", others=())
        for name, cell in cells.items()
        if cell.value != draft.cell(name).value or (not cell.missing and not draft.cell(name).sure)
    }
    if any(name != "due_is" for name in changes):
        return Correction(changes, _answer(draft, changes))
    if cells:
        name = next(iter(cells))
        verb, value = "are" if name in _PLURAL else "is", in_words(cells[name].value) or "empty"
        said = f"{_spoken(name)} {verb} {value} already."
        return Correction({}, said[:1].upper() + said[1:], already=True)
    return Correction({}, _NOT_UNDERSTOOD)


def _plainly(words: str) -> dict[str, Cell[Any]]:
    """Corrections that name their field: "theme gnomes", "no packaging", "name: Ada Quill", "36", "she cancelled"."""
    for field, pattern in _NO_FIELD.items():
        if pattern.match(words):
            return {field: Cell(rule=_BY_NAME)}
    for field, pattern in _SET.items():
        if m := pattern.match(words):
            said = m["v"].strip(" .\"“”'")
            parts = tuple(part.strip(" \"“”") for part in re.split(r",|\band\b", said) if part.strip())
            return {field: Cell(parts if field == "lettering" else said, True)} if said else {}
    if (m := _LONE_COUNT.match(words)) and int(m[1]):
        return {"count": Cell(int(m[1]), True)}
    if _NOT_CANCELLED.search(words):
        return {"cancelled": Cell(False, True)}
    if _CANCELLED.match(words):
        return {"cancelled": Cell(True, True)}
    return {}


def _for_whom(words: str) -> dict[str, Cell[Any]]:
    """ "It's for Leo", where nothing else was read from it: a name, which begins with a capital."""
    m = _FOR.match(words)
    return {"honoree": Cell(m["v"], True)} if m else {}


def _swapped(draft: Draft, words: str) -> dict[str, Cell[Any]]:
    """ "Swap pink for gold", "change Mia to Leo": the one in its place, where the other is what stands."""
    m = _FOR_ANOTHER.match(words.strip(" .!"))
    if not m:
        return {}
    old, new = m["old"].strip().casefold(), m["new"].strip()
    if str(draft.theme.value or "").casefold() in (old, f"{old}s", old.removesuffix("s")) and not draft.theme.missing:
        return {"theme": Cell(new, True)}
    for name in ("colors", "flavors", "lettering"):
        held: tuple[str, ...] = draft.cell(name).value or ()
        if old in (value.casefold() for value in held):
            return {name: Cell(tuple(new if value.casefold() == old else value for value in held), True)}
    return {}


def _more(draft: Draft, words: str) -> dict[str, Cell[Any]]:
    """"Add a dozen", "6 more", "2 fewer": so many on top of the count that stands, or off it."""
    m = _MORE.match(words)
    if not m or draft.count.missing or not draft.count.value:
        return {}
    from intake.reading.counts import quantities

    said = [q for q in quantities(words.lower()) if q.exact]
    if len(said) != 1:
        return {}
    sign = -1 if _FEWER.search(words) else 1
    total = draft.count.value + sign * said[0].low
    return {"count": Cell(total, True)} if total > 0 else {}


def _merged(draft: Draft, cells: dict[str, Cell[Any]], words: str) -> dict[str, Cell[Any]]:
    """Lists put together with what stands: added to, taken from, or put in its place."""
    out = dict(cells)
    adds = _ADDS.search(words) is not None
    for name in _LISTS:
        held = tuple(draft.cell(name).value or ())
        swap = _SWAP.search(words)
        gone = _GONE.match(words)
        if name in ("colors", "flavors", "packaging") and gone and not (name in cells and cells[name].rule == _BY_NAME):
            left = tuple(v for v in held if v not in re.split(r",\s*|\s+and\s+", gone["what"].lower()))
            if left != held:
                out[name] = Cell(left, True)
                continue
            out.pop(name, None)
            continue
        if name not in cells or cells[name].missing:
            continue
        fresh: tuple[str, ...] = tuple(cells[name].value or ())
        if name == "dietary" or (adds and not swap):
            out[name] = Cell(tuple(dict.fromkeys([*held, *fresh])), True)
        elif swap and name == "colors":
            old = swap["old"].lower().strip()
            kept = tuple(v for v in fresh if v != old)
            out[name] = Cell(tuple(kept[0] if v == old else v for v in held) if old in held and kept else kept, True)
    if "lettering" in cells and not cells["lettering"].missing and adds:
        held = tuple(draft.lettering.value or ())
        out["lettering"] = Cell(tuple(dict.fromkeys([*held, *(cells["lettering"].value or ())])), True)
    return out


def _follow(draft: Draft, cells: dict[str, Cell[Any]], words: str) -> dict[str, Cell[Any]]:
    """What a change brings along: the role of a new day, the designs' shares of a new count."""
    out = dict(cells)
    shapes = cells.get("theme", Cell()).rule == "shapes joined"
    if shapes and not draft.theme.missing and draft.theme.rule != "shapes joined" and not _ANEW.match(words):
        del out["theme"]  # naming the shapes does not change a theme that was stated
    way = cells["handover"].value if "handover" in cells else draft.handover.value
    if "due" in cells and "due_is" not in cells:
        out["due_is"] = Cell("arrival" if way == "ship" else "handover", True)
    elif "handover" in cells and draft.due_is.value == "arrival" and way != "ship":
        out["due_is"] = Cell("handover", True)
    designs: tuple[Design, ...] = (cells["designs"].value if "designs" in cells else draft.designs.value) or ()
    shares = [d.count for d in designs]
    known = [n for n in shares if n is not None]
    if "designs" in cells and designs and len(known) == len(shares) and "count" not in cells:
        out["count"] = Cell(sum(known), True)
    count = out["count"].value if "count" in out else draft.count.value
    if "count" in out and known and count and sum(known) != count:
        even = len(set(shares)) == 1 and count % len(designs) == 0
        share = count // len(designs) if even else None
        out["designs"] = Cell(tuple(replace(d, count=share) for d in designs), True)
    return out


def _spoken(name: str) -> str:
    return SPOKEN.get(name, name)


def _answer(draft: Draft, changes: dict[str, Cell[Any]]) -> str:
    parts = []
    for name, cell in changes.items():
        if name == "due_is":
            continue
        if name == "cancelled":
            parts.append("the customer has cancelled" if cell.value else "not cancelled")
        elif cell.missing:
            parts.append(f"no {_spoken(name)}")
        elif name == "designs" and "count" in changes and all(d.count is None for d in cell.value or ()):
            parts.append("the designs' numbers no longer add up, so they are open")
        else:
            parts.append(f"{_spoken(name)}: {in_words(cell.value)}")
    said = "; ".join(parts)
    return f"Changed. {said[:1].upper()}{said[1:]}."


