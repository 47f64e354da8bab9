"""The fields of an order in the baker's words: named, or by the value that they have."""

from __future__ import annotations

import re
from collections.abc import Sequence

from intake.model import Due, Order
from intake.record import in_words

_NAMED = {
    "count": "howmany count number amount",
    "theme": "theme motif themed",
    "designs": "design designs shape shapes picture pictures cutter cutters",
    "lettering": "lettering name names writing text wording words spelling spelled spell say says written",
    "colors": "color colors colour colours coloring",
    "flavors": "flavor flavors flavour flavours taste",
    "packaging": "packaging bag bags box boxes ribbon ribbons wrapped wrapping bagged",
    "dietary": "allergy allergies allergic diet dietary allergen allergens gluten vegan nuts nut dairy",
    "due": "when day date due time",
    "handover": "handover pickup delivery shipping ship shipped deliver delivered delivering pickedup",
    "address": "address where",
    "budget": "budget spend",
    "phone": "phone telephone cell",
    "email": "email mail",
    "age": "age turning",
    "occasion": "occasion party event",
    "honoree": "honoree birthday child kid",
}
FIELD_OF = {word: field for field, words in _NAMED.items() for word in words.split()}
#: What is asked for by these words alone is told by what else is said.
VAGUE = frozenset("when where day time party say says written pickedup ship number amount".split())
_WAYS = {"pickup": "pickedup pickup", "ship": "ship shipping shipped", "deliver": "deliver delivery delivered"}


def fields_in(tokens: Sequence[str], order: Order | None, *, values: bool) -> dict[int, str]:
    """The places of words that name a field; with `values` also of those that its value in `order` holds."""
    found = {place: FIELD_OF[token] for place, token in enumerate(tokens) if token in FIELD_OF}
    if values and order:
        held = _values(order)
        for place, token in enumerate(tokens):
            field = held.get(token) or held.get(f"{token}s") or held.get(token.removesuffix("s"))
            if field:
                found[place] = field
    return found


def _values(order: Order) -> dict[str, str]:
    """The words of the values that are kept, each with its field; the earlier field has a word that two share."""
    found: dict[str, str] = {}
    for name in ("handover", "theme", "designs", "lettering", "colors", "flavors", "dietary", "packaging", "occasion",
                 "honoree", "address"):  # fmt: skip
        value = order.draft.cell(name).value
        if name == "handover":
            said = _WAYS.get(str(value), "")
        else:
            said = "" if isinstance(value, Due) or not value else in_words(value).lower()
        for word in re.findall(r"[a-z]{3,}", said):
            found.setdefault(word, name)
    return found


def of_words(tokens: Sequence[str]) -> tuple[str, ...]:
    """The field of which a known value is named ("vanilla"), if any."""
    from intake.reading.language import listed

    lists = {"flavors": listed("flavors_en.txt"), "colors": listed("colors_en.txt")}
    return tuple(field for field, known in lists.items() if any(token in known for token in tokens))[:1]


def meant_fields(tokens: Sequence[str], found: dict[int, str]) -> tuple[str, ...]:
    """The fields that are meant: those named outright, else those of the vague words."""
    plain = [field for place, field in found.items() if tokens[place] not in VAGUE]
    return tuple(dict.fromkeys(plain or found.values()))
