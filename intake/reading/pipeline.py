"""A thread becomes a reading: the ordered list of what finds and what settles, and why the order matters."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import fields, replace
from datetime import datetime
from typing import Any

from intake.house import ReadingPart
from intake.model import Cell, Draft, Evidence, Message, Reading, Thread, Trail
from intake.reading import found as finders
from intake.reading import (
    house_words,
    intent,
    segments,
    settle_count,
    settle_due,
    settle_rest,
    settle_things,
    settle_words,
    sure,
)
from intake.reading.found import Found
from intake.reading.turns import turns_of

_ORDERLESS = frozenset({"spam"})


def read(thread: Thread, rules: ReadingPart) -> Reading:
    """The orders of a thread as they stand after its last message. Any text reads; nothing is raised."""
    # Quotes and signatures leave first, so that nobody's old mail is read as an order.
    turns, folds = turns_of(thread)
    # Then every turn is searched whole: what is found does not depend on what was settled before.
    found = finders.find_all(turns, rules)
    # Which order each passage is about comes before any weighing, since all weighing is within one order.
    parts = segments.segment(found)
    trail: list[Trail] = []
    drafts = [_order(thread, found, _about(parts, k), trail) for k in range(parts.count)]
    drafts = _same_way(drafts)
    drafts = [house_words.in_house_terms(d, rules) for d in drafts]
    shared = [sure.calibrate(d, found, _about(parts, k)) for k, d in enumerate(drafts) if _is_order(d, found)]
    changed, new = _last_change(thread, found, rules, shared)
    said = intent.settle(found, bool(shared), changed, new)
    if (
        said.value in _ORDERLESS
        or said.rule in ("asks around, no order yet", "talk, no order")
        or (said.value in ("ask", "chat") and not _standing(found, shared))
    ):
        shared = []
    if said.value == "ask" and shared and _only_shopping(found):
        shared = []
    shared = _cancelled(shared, found, parts)
    return Reading(said, tuple(shared), tuple(trail), folds, _language(found))


def _same_way(drafts: list[Draft]) -> list[Draft]:
    """Of two orders of one thread, one with a way of handing over: the other may go the same way, which is to be asked."""
    told = [d.handover for d in drafts if d.handover.value]
    if len(drafts) < 2 or len({c.value for c in told}) != 1:
        return drafts
    same = replace(told[0], sure=False, why="said of the other order: check")
    return [d if d.handover.value or d.handover.evidence else replace(d, handover=same) for d in drafts]


def said_by_baker(draft: Draft, words: str, at: datetime, rules: ReadingPart) -> dict[str, Cell[Any]]:
    """The cells that `words`, typed about an order at moment `at`, give; an empty cell clears its field.

    The words are read for themselves. The order only lends what they hang on: its day for "the day before" or a bare
    weekday, its celebrated person for "with his name".
    """
    thread = Thread("typed", "chat", (Message("typed", "", False, at, words),))
    turns, _ = turns_of(thread)
    found = finders.find_all(turns, rules)
    read_alone = _order(thread, found, lambda turn, place: True, [])
    cells: dict[str, Cell[Any]] = {}
    for f in fields(Draft):
        cell = read_alone.cell(f.name)
        if f.name in ("due", "due_is", "customer"):
            continue
        if not cell.missing and cell.evidence:
            cells[f.name] = cell
        elif any(m.op == "drop" for x in found for m in x.of(f.name)):
            cells[f.name] = Cell()
    letters = settle_words.lettering(found, lambda turn, place: True, draft.honoree.value)
    if not letters.missing:
        cells["lettering"] = letters
    if found and (due := settle_due.typed(found[-1], draft.due.value)):
        cells["due"] = due
        if read_alone.due_is.value == "event":
            cells["due_is"] = read_alone.due_is
    return cells


def _about(parts: segments.Segments, order: int) -> Callable[[int, int], bool]:
    return lambda turn, at: parts.about(turn, at, order)


def _order(thread: Thread, found: Sequence[Found], about: Callable[[int, int], bool], trail: list[Trail]) -> Draft:
    customer = settle_rest.customer(found, thread.customer)
    way = settle_rest.handover(found, about)
    # The way of handing over tells an arrival from a hand-over.
    due, due_is, due_trail = settle_due.settle(found, about, way.value)
    trail.extend(
        Trail("due", rule, _text(thread, where), value, outcome, where) for rule, value, outcome, where in due_trail
    )
    # The total comes before the designs: their shares are worked out from it.
    count, tally = settle_count.settle(found, about)
    trail.extend(
        Trail("count", rule, _text(thread, where), value, outcome, where) for rule, value, outcome, where in tally.trail
    )
    theme, designs = settle_things.settle(found, about, tally)
    occasion = settle_rest.occasion(found, about)
    # Who is celebrated comes before the lettering, for "with his name on them".
    honoree = settle_rest.honoree(found, about, customer.value, not occasion.missing)
    letters = settle_words.lettering(found, about, honoree.value)
    if honoree.missing and occasion.value in (
        "birthday",
        "baptism",
        "graduation",
        "retirement",
        "other",
        "baby shower",
    ):
        honoree = _named_in_lettering(letters)
    colors = settle_words.gathered("colors", found, about)
    flavors = settle_words.gathered("flavors", found, about)
    draft = Draft(
        customer=customer,
        count=count,
        designs=designs,
        theme=theme,
        occasion=occasion,
        honoree=honoree,
        age=settle_rest.age(found, about),
        lettering=letters,
        colors=settle_words.without(colors, flavors),
        flavors=flavors,
        dietary=settle_words.dietary(found, about),
        due=due,
        due_is=due_is,
        handover=way,
        address=settle_rest.address(found, about, way),
        packaging=settle_words.gathered("packaging", found, about),
        budget=settle_rest.budget(found, about),
        phone=settle_rest.phone(found),
        email=settle_rest.email(found),
    )
    for name in (
        "theme",
        "designs",
        "lettering",
        "handover",
        "occasion",
        "honoree",
        "age",
        "colors",
        "flavors",
        "dietary",
        "packaging",
        "address",
        "budget",
        "phone",
        "email",
        "customer",
    ):
        cell = draft.cell(name)
        if not cell.missing or cell.evidence:
            where = cell.evidence[0] if cell.evidence else None
            trail.append(Trail(name, cell.rule, _text(thread, where), str(cell.value), cell.why or "stands", where))
    return draft


def _text(thread: Thread, where: Evidence | None) -> str:
    message = next((m for m in thread.messages if where and m.id == where.message), None)
    return " ".join(message.text[where.start : where.end].split()) if message and where else ""


def _named_in_lettering(letters: Cell[tuple[str, ...]]) -> Cell[str]:
    from intake.reading.language import listed

    texts = letters.value or ()
    for text in texts if len(texts) == 1 else ():
        said = re.findall(r"[A-Za-z'’-]+", text)
        known = [w for w in said if w.lower() in listed("names.txt")]
        known = known or [w for w in said[-1:] if w.lower() in listed("names_also_words.txt")]
        if len(known) == 1:
            return Cell(
                known[0].capitalize(),
                len(text.split()) == 1,
                letters.evidence[:1],
                "" if len(text.split()) == 1 else "a name in the lettering",
                rule="the name on the cookies",
            )
    return Cell()


def _is_order(draft: Draft, found: Sequence[Found]) -> bool:
    """Whether enough is said for a slip: a count, or a thing wanted with a day or in so many words."""
    signs = sum(
        (not draft.cell(name).missing and (name != "theme" or draft.theme.sure)) or bool(draft.cell(name).others)
        for name in ("count", "theme", "due", "handover", "lettering")
    )
    asked_for = any(not f.turn.mine and intent._ORDERING.search(f.turn.low) for f in found)
    has_count = not draft.count.missing or bool(draft.count.others)
    wished = (
        not draft.due.missing
        or not draft.handover.missing
        or any(f.turn.mine for f in found)
        or any(
            re.search(r"\b(?:please|pls|plz|por favor|plis|can (?:you|u|i)|could (?:you|u|i))\b", f.turn.low)
            for f in found
            if not f.turn.mine
        )
    )
    baked = any(f.turn.mine or intent.BAKERY.search(f.turn.low) for f in found)
    worded = draft.theme.rule == "words before “cookies”" and not draft.due.missing
    return (
        worded
        or (has_count and signs >= 2 and (asked_for or wished))
        or (signs >= 2 and asked_for)
        or (signs >= 3 and (asked_for or baked or (has_count and not draft.due.missing)))
        or (asked_for and (has_count or not draft.theme.missing))
    )


def _standing(found: Sequence[Found], drafts: Sequence[Draft]) -> bool:
    """Whether an order stands although the last message is only talk or a question."""
    turns = [f for f in found if not f.turn.mine and f.turn.bare]
    if len(turns) > 1 and drafts and any(f.turn.mine for f in found):
        return True
    return bool(drafts) and any(intent._ORDERING.search(f.turn.low) for f in turns) and not _only_shopping(found)


def _only_shopping(found: Sequence[Found]) -> bool:
    turns = [f for f in found if not f.turn.mine and f.turn.bare]
    return (
        bool(turns)
        and all(intent._SHOPPING.search(f.turn.low) for f in turns[-1:])
        and not any(f.turn.mine for f in found)
    )


def _last_change(
    thread: Thread, found: Sequence[Found], rules: ReadingPart, now: Sequence[Draft]
) -> tuple[frozenset[str], frozenset[str]]:
    """Fields that the customer's last run of messages altered, and those that it added."""
    customers = [f for f in found if not f.turn.mine and f.turn.bare and f.turn.kind == "said"]
    if not customers or not any(f.turn.mine for f in found):
        return frozenset(), frozenset()
    last = min(f.turn.index for f in customers if f.turn.message == customers[-1].turn.message)
    before = [f for f in found if f.turn.index < last]
    if not any(not f.turn.mine for f in before):
        return frozenset(), frozenset()
    parts = segments.segment(before)
    scratch: list[Trail] = []
    old = [_order(thread, before, _about(parts, k), scratch) for k in range(parts.count)]
    altered: set[str] = set()
    added: set[str] = set()
    for k, draft in enumerate(now):
        if k >= len(old):
            added.add("count")
            continue
        for f in fields(Draft):
            a, b = old[k].cell(f.name), draft.cell(f.name)
            if (
                f.name in ("customer", "due_is", "designs", "cancelled", "phone", "email", "occasion", "honoree")
                or a.value == b.value
            ):
                continue
            if a.missing or (
                f.name == "due"
                and (_refined(a.value, b.value) or (old[k].due_is.value == "event" and draft.due_is.value != "event"))
            ):
                added.add(f.name)
            else:
                altered.add(f.name)
    return frozenset(altered), frozenset(added)


def _refined(old: Any, new: Any) -> bool:
    """A time added to the same day, or a day within the window, is more of the same and no change."""
    if old is None or new is None:
        return False
    return bool(old.first <= new.first <= new.last <= old.last and (old.time in (None, new.time)))


def _cancelled(drafts: list[Draft], found: Sequence[Found], parts: segments.Segments) -> list[Draft]:
    """Mark the orders that a cancellation is about, unless it was taken back later."""
    out = []
    for k, draft in enumerate(drafts):
        where: Evidence | None = None
        for f in found:
            if f.turn.mine or f.turn.kind != "said":
                continue
            if (m := intent._UNCANCEL.search(f.turn.low)) and parts.about(f.turn.index, m.start(), k):
                where = None
            elif (m := intent._CANCEL.search(f.turn.low)) and parts.about(f.turn.index, m.start(), k):
                if (
                    parts.count > 1
                    and len(parts.orders(f.turn.index, m.end() - 1)) == 1
                    and k not in parts.orders(f.turn.index, m.end() - 1)
                ):
                    continue
                where = f.turn.evidence(m.start(), m.end())
        out.append(replace(draft, cancelled=Cell(True, True, (where,), rule="a cancellation")) if where else draft)
    return out


_SPANISH = re.compile(
    r"\b(?:hola|quiero|quisiera|necesito|docenas?|galletas?|para|gracias|por favor|cumple\w*|fiesta|el|las|los|que|con|mi|una?|de|es|s[ií])\b"
)


def _language(found: Sequence[Found]) -> str:
    words = [w for f in found if not f.turn.mine for w in re.findall(r"[a-záéíóúñ]+", f.turn.low)]
    spanish = sum(bool(_SPANISH.fullmatch(w)) for w in words)
    return "es" if words and spanish >= max(3, len(words) // 5) else "en"
