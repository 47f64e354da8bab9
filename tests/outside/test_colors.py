"""Colour words against the named colours of CSS (W3C CSS Color Module Level 4, 6.1), as webcolors lists them."""

from __future__ import annotations

import re

import webcolors

from tests.reading.kit import draft_of

#: The parts of which CSS writes its longer names in one word.
_PARTS = (
    "light dark medium pale deep hot dim dodger midnight royal cornflower powder steel slate sky cadet navajo "
    "antique old papaya blanched burly fire forest floral ghost green yellow spring sea lawn indian lemon misty "
    "mint olive orange peach peru rosy saddle sandy alice blue violet red white gold goldenrod gray grey khaki "
    "magenta orchid salmon turquoise coral cyan pink purple almond wood brick rod smoke lace whip drab chiffon "
    "cream rose puff brown blush rebecca azure shell"
).split()


def spaced(name: str) -> str:
    """A CSS name as people write it: "lightseagreen" is "light sea green"."""
    parts = "|".join(sorted(_PARTS, key=len, reverse=True))
    return " ".join(re.findall(parts, name)) if re.fullmatch(f"(?:{parts})+", name) else name


def test_every_named_color_of_css_is_read_as_a_color() -> None:
    missed = []
    for name in webcolors.names("css3"):
        said = spaced(name)
        draft = draft_of(f"Could I get 24 star cookies for May 3, iced in {said} and white?")
        colors = " ".join(draft.colors.value or ())
        if said not in colors:
            missed.append((said, colors))
    assert missed == []
