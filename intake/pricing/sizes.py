"""Which cookies of an order are of another size than the usual: as the baker set it, or as its words name a size.

A size word in the theme is for all of them; on designs with counts, for those; on all designs, for all.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import Decimal

from intake.house_rates import Size
from intake.model import Draft, Terms

USUAL = Size(name="usual", percent=Decimal(100))
_OTHER_WORDS = {
    "mini": r"mini|minis|miniatures?|bite[- ]sized?",
    "large": r"large|oversized?|xl",
}


def sizes_of(draft: Draft, terms: Terms, sizes: Sequence[Size]) -> tuple[tuple[Size, int], ...]:
    """Each size of the order with how many cookies are of it, the usual first; they add up to the count."""
    count = draft.count.value or 0
    if terms.size:
        return ((next((size for size in sizes if size.name == terms.size), USUAL), count),)
    if (size := _named(draft.theme.value or "", sizes)) is not USUAL:
        return ((size, count),)
    designs = [(_named(design.what, sizes), design.count) for design in draft.designs.value or ()]
    named = {size.name: size for size, _ in designs}
    if len(named) == 1:
        return ((designs[0][0], count),)
    parts = {name: sum(n or 0 for size, n in designs if size.name == name) for name in named if name != USUAL.name}
    left = count - sum(parts.values())
    if left < 0:
        # Counts that can't be are asked about elsewhere; nothing is priced by them.
        return ((USUAL, count),)
    held = [(USUAL, left), *((named[name], n) for name, n in parts.items())]
    return tuple((size, n) for size, n in held if n)


def _named(text: str, sizes: Sequence[Size]) -> Size:
    for size in sizes:
        words = _OTHER_WORDS.get(size.name.casefold(), re.escape(size.name.casefold()))
        if re.search(rf"\b(?:{words})\b", text.casefold()):
            return size
    return USUAL
