"""How elaborate a set is: plain, detailed or elaborate (common practice, no source).

Three things make a set slow to ice, and each gives points:

| points | designs   | colors    | cookies lettered, as a share of the count |
| ------ | --------- | --------- | ----------------------------------------- |
| 0      | up to 2   | up to 3   | under a quarter                           |
| 1      | 3 or 4    | 4 or 5    | a quarter to a half                       |
| 2      | 5 or more | 6 or more | over a half                               |

No point is plain, 1 or 2 are detailed, 3 or more elaborate. Each text counts as one lettered cookie, unless the baker
has said how many carry one. She may also set the level itself.
"""

from __future__ import annotations

from fractions import Fraction

from intake.counted import many
from intake.model import Draft, Terms

LEVELS = ("plain", "detailed", "elaborate")
_NONE = Terms()


def lettered(draft: Draft, terms: Terms = _NONE) -> int:
    """How many cookies are lettered: as many as set, else one for each text; never more than there are cookies."""
    texts = len(draft.lettering.value or ()) if terms.lettered is None else terms.lettered
    return min(texts, draft.count.value) if draft.count.value else texts


def level_of(draft: Draft, terms: Terms = _NONE) -> tuple[str, str]:
    """The level (`plain`, `detailed`, `elaborate`) and the reason for it in a baker's words."""
    designs = max(1, len(draft.designs.value or ()))
    colors = len(draft.colors.value or ())
    count = draft.count.value or 0
    share = Fraction(lettered(draft, terms), count) if count > 0 else Fraction(0)

    points = (designs > 2) + (designs > 4) + (colors > 3) + (colors > 5)
    points += (share >= Fraction(1, 4)) + (share > Fraction(1, 2))
    level = LEVELS[0] if points == 0 else LEVELS[1] if points <= 2 else LEVELS[2]

    seen = [many(designs, "design"), many(colors, "color") if colors else "no colors named"]
    if share:
        seen.append(f"lettering on {lettered(draft, terms)} of {count} cookies")
    if terms.level and terms.level != level:
        return terms.level, f"set by you; by its {', '.join(seen)} it would be {level}"
    return level, ", ".join(seen)
