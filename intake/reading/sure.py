"""The one place that decides what is sure: from the rule that made a value and from what contradicts it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import fields, replace
from typing import Any

from intake.model import Cell, Draft
from intake.reading.thing_words import known_words

#: Rules whose value is worth showing but not promising, with the word for the baker.
_CHECK: dict[str, str] = {
    "number and street without its kind": "a street without its kind: check the address",
    "a question about the way": "asked about, not chosen",
    "the name on the cookies": "a name taken from the lettering",
    "named day": "only the feast was named: check the day",
}


def calibrate(drafts: Sequence[Draft]) -> list[Draft]:
    """Drafts whose cells keep `sure` only where nothing speaks against it."""
    out = []
    for draft in drafts:
        changes: dict[str, Any] = {}
        for f in fields(Draft):
            cell = draft.cell(f.name)
            if cell.sure and cell.rule in _CHECK:
                changes[f.name] = replace(cell, sure=False, why=cell.why or _CHECK[cell.rule])
        theme = draft.theme
        if theme.sure and theme.value and theme.rule == "shapes joined" and not _all_known(theme.value):
            changes["theme"] = replace(theme, sure=False, why="a word that I don't know: check it")
        out.append(_across(replace(draft, **changes)))
    return out


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
