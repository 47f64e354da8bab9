"""Words of this house: what the baker's own corrections teach the reader, and how it uses them.

A lesson is a phrase as a customer wrote it, the field it was for, and what it means. Only what can't be a slip of one
order is learnt: a phrase that stands in the customer's words, or a word that no list knows.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from intake.house import ReadingPart
from intake.model import Cell, Draft, Due, HouseWord
from intake.reading.language import listed, plural
from intake.reading.thing_words import known_words, stop_words

#: The rule of a value that one of the house's own words gave.
RULE = "a word of this house"
_FIELDS = {"theme": "theme", "designs": "theme", "colors": "colors", "flavors": "flavors"}
_HABIT = "habit"
_OTHER_HABIT = {"coming": "week after", "week after": "coming"}


def lessons(name: str, before: Cell[Any], value: Any, texts: Mapping[str, str], rules: ReadingPart) -> tuple[HouseWord, ...]:
    """What setting field `name` to `value` teaches, where the reader had given `before`.

    `texts` are the customer's messages by their ids.
    """
    if name == "due":
        return _habit(before, value, rules)
    if name not in _FIELDS or not value:
        return ()
    field = _FIELDS[name]
    now, was = _phrases(value), _phrases(before.value)
    added = [p for p in now if _key(p) not in {_key(w) for w in was}]
    gone = [p for p in was if _key(p) not in {_key(n) for n in now}]
    out: list[HouseWord] = []
    for phrase in added:
        said = _as_written(phrase, texts)
        if (said and _teachable(phrase, field)) or (not said and len(added) == len(gone) == 1 and (said := _as_written(gone[0], texts)) and not _known(said)):
            out.append(HouseWord(field, said, phrase))
    return tuple(out)


def _habit(before: Cell[Any], value: Any, rules: ReadingPart) -> tuple[HouseWord, ...]:
    """ "Next Friday" set to its other reading: from now on that one is offered first."""
    due: Due | None = before.value
    if before.rule != "next weekday" or due is None or not isinstance(value, Due) or value.first == due.first:
        return ()
    if any(other.first == value.first for other in before.others):
        return (HouseWord(_HABIT, "next weekday", _OTHER_HABIT[rules.next_weekday]),)
    return ()


def with_words(rules: ReadingPart, learnt: Iterable[HouseWord]) -> ReadingPart:
    """The house rules for reading, with the words and habits that corrections have taught."""
    words = tuple(learnt)
    if not words:
        return rules
    habit = next((w.means for w in words if w.field == _HABIT), rules.next_weekday)
    return rules.model_copy(update={"words": (*rules.words, *words), "next_weekday": habit})


def terms(rules: ReadingPart) -> tuple[tuple[str, str], ...]:
    """(kind, phrase) of every term that the house adds to the reader's lists."""
    kinds = {"theme": "theme", "colors": "color", "flavors": "flavor"}
    own = [("theme", theme.lower()) for theme in rules.themes]
    return tuple(dict.fromkeys(own + [(kinds[w.field], w.said.lower()) for w in rules.words if w.field in kinds]))


def flavors(rules: ReadingPart) -> tuple[str, ...]:
    return (*rules.flavors, *(w.said for w in rules.words if w.field == "flavors"))


def in_house_terms(draft: Draft, rules: ReadingPart) -> Draft:
    """A draft whose themes, colours and flavours are called what the baker calls them."""
    meanings = {(w.field, _key(w.said)): w.means for w in rules.words}
    if not meanings:
        return draft
    changes: dict[str, Any] = {}
    theme = draft.theme.value
    if theme and (means := meanings.get(("theme", _key(theme)))):
        changes["theme"] = replace(draft.theme, value=means, sure=True, why="", rule=RULE)
    for name in ("colors", "flavors"):
        cell = draft.cell(name)
        renamed = tuple(meanings.get((name, _key(v)), v) for v in cell.value or ())
        if renamed != (cell.value or ()):
            changes[name] = replace(cell, value=renamed, rule=RULE)
    designs = tuple(replace(d, what=meanings.get(("theme", _key(d.what)), d.what)) for d in draft.designs.value or ())
    if designs != (draft.designs.value or ()):
        changes["designs"] = replace(draft.designs, value=designs, rule=RULE)
    return replace(draft, **changes)


def _phrases(value: Any) -> list[str]:
    if value is None:
        return []
    if isinstance(value, str):
        return [value]
    return [v if isinstance(v, str) else v.what for v in value]


def _key(phrase: str) -> str:
    """A phrase without the difference of one and many."""
    words = phrase.lower().split()
    return " ".join(re.sub(r"(?:ies|ves|es|s|y|f|fe)$", "", w) if len(w) > 3 else w for w in words)


def _as_written(phrase: str, texts: Mapping[str, str]) -> str:
    """The words of a customer that say `phrase`, in the one or the many; "" where none do."""
    words = re.findall(r"[^\W\d_][\w'’-]*", phrase.lower())
    if not 0 < len(words) <= 4:
        return ""
    head = {words[-1], plural(words[-1]), re.sub(r"(?:ies)$", "y", words[-1]), re.sub(r"e?s$", "", words[-1])}
    body = "".join(re.escape(w) + r"\s+" for w in words[:-1])
    pattern = re.compile(rf"(?<!\w){body}(?:{'|'.join(map(re.escape, sorted(head, key=len, reverse=True)))})(?!\w)", re.IGNORECASE)
    for text in texts.values():
        if m := pattern.search(text):
            return " ".join(m[0].lower().split())
    return ""


def _teachable(phrase: str, field: str) -> bool:
    """Whether a phrase is worth knowing: no bare colour for a theme, no small word, nothing of one letter."""
    low = phrase.lower()
    colors = listed("colors_en.txt", "colors_es.txt")
    if len(low) < 3 or all(w in stop_words() for w in low.split()):
        return False
    return field != "theme" or low not in colors


def _known(said: str) -> bool:
    return all(w in known_words() for w in said.split())
