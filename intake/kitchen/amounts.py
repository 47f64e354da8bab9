"""What one order takes: dough by recipe and icing by color, in grams.

A cookie is counted as the round its cutter fits in, so a figure with a narrow waist takes somewhat less than is said.
Which color covers how much of a cookie nobody says: the first one named has the share of the house rules, the others
divide the rest. Yields of real doughs are known to miss such sums by a tenth, some by far more.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil, fsum, isclose

from intake.house import House
from intake.kitchen.recipes import DOUGH, ICING, Recipe, area, has_flavor, recipe_for
from intake.model import Draft, Problem

OUTLINE, FLOOD = "outline", "flood"
#: The color of an order that names none.
UNSAID = "color not said"
_WORD = re.compile(r"[^\W_]+")


@dataclass(frozen=True, slots=True)
class Cut:
    """So many cookies of one cutter. `across` in millimetres."""

    what: str
    count: int
    across: float

    @property
    def square_cm(self) -> float:
        return self.count * area(self.across)


@dataclass(frozen=True, slots=True)
class Dough:
    """What an order takes of one dough. `on_tray` is what is cut; `grams` adds what re-rolling loses."""

    recipe: Recipe
    count: int
    on_tray: float
    grams: float

    @property
    def baked(self) -> float:
        """Grams that come out of the oven."""
        return self.on_tray * (1 - self.recipe.bake_loss)


@dataclass(frozen=True, slots=True)
class Icing:
    """Icing of one color and consistency: `grams` on the cookies, `mixed` with the least amount and the bags' loss."""

    color: str
    consistency: str
    grams: float
    mixed: float
    bags: int


def cuts(draft: Draft, house: House, size: str = "") -> tuple[Cut, ...]:
    """The cutters of an order, together as many cookies as it has. Where the baker has set a `size`, all are of that
    one, whatever the designs say; here and below.

    Designs that say no count share what the others leave, the first ones one more. Where the designs say more than
    the order has, the last of them go short.
    """
    designs = draft.designs.value or ()
    named = [max(0, design.count) if design.count is not None else None for design in designs]
    said = sum(each or 0 for each in named)
    left = count = max(0, draft.count.value or said)
    open_ones = named.count(None)
    each, more = divmod(max(0, count - said), open_ones) if open_ones else (0, 0)
    found = []
    for design, of in zip(designs, named, strict=True):
        if of is None:
            of, more = each + (more > 0), more - 1
        if of := min(of, left):
            found.append(Cut(design.what, of, _across(size or design.what, house)))
            left -= of
    what = "not said" if designs else draft.theme.value or "cookies"
    return (*found, Cut(what, left, _across(size or what, house))) if left else tuple(found)


def _across(what: str, house: House) -> float:
    words = set(_WORD.findall(what.casefold()))
    for word, across in house.cookies.sizes.items():
        if set(_WORD.findall(word.casefold())) <= words:
            return float(across)
    return float(house.cookies.across)


def per_tray(across: float, house: House) -> int:
    """How many cookies of a cutter lie on a tray: the baker's own count for her usual one, else rows of rounds; one at
    the least."""
    rules = house.cookies
    if isclose(across, float(rules.across)):
        return house.oven.cookies_per_tray
    each = across + float(rules.gap)
    # A hair more, so that what fits exactly is not lost to rounding.
    long, wide = ((float(side) + float(rules.gap)) / each + 1e-9 for side in (rules.tray_long, rules.tray_wide))
    return max(1, int(long) * int(wide))


def doughs(draft: Draft, house: House, size: str = "") -> tuple[Dough, ...] | Problem:
    """The dough of an order by recipe; flavors share the cookies evenly. A Problem where a recipe is wrong."""
    made = cuts(draft, house, size)
    count = sum(cut.count for cut in made)
    square = fsum(cut.square_cm for cut in made)
    if not count:
        return Problem("dough", "the count is missing", "Ask the customer, or type it in")
    flavors = draft.flavors.value or ("",)
    counted: dict[str, int] = {}
    by_name: dict[str, Recipe] = {}
    for place, flavor in enumerate(flavors):
        recipe = recipe_for(house, DOUGH, flavor)
        if isinstance(recipe, Problem):
            return recipe
        by_name[recipe.name] = recipe
        counted[recipe.name] = counted.get(recipe.name, 0) + count // len(flavors) + (place < count % len(flavors))
    each = square / count * float(house.cookies.thick) / 10 * float(house.cookies.density)
    kept = 1 - float(house.cookies.waste) / 100
    return tuple(
        Dough(by_name[name], cookies, cookies * each, cookies * each / kept)
        for name, cookies in counted.items()
        if cookies
    )


def unknown_flavors(draft: Draft, house: House) -> tuple[str, ...]:
    """Flavors that no recipe of the house is for: the first dough stands in for them."""
    return tuple(flavor for flavor in draft.flavors.value or () if not has_flavor(house, flavor))


def icing_on(draft: Draft, house: House, size: str = "") -> dict[tuple[str, str], float]:
    """Grams on the cookies of an order, by color and consistency, in the order in which the colors were said."""
    rules = house.icing
    square = fsum(cut.square_cm for cut in cuts(draft, house, size))
    whole = square * float(rules.layer) / 10 * float(rules.density)
    colors = tuple(dict.fromkeys(plain_color(color) for color in draft.colors.value or (UNSAID,)))
    first = float(rules.first_color) / 100 if len(colors) > 1 else 1.0
    found: dict[tuple[str, str], float] = {}
    for place, color in enumerate(colors):
        of = whole * (first if place == 0 else (1 - first) / (len(colors) - 1))
        outline = of * float(rules.outline) / 100
        found[color, OUTLINE], found[color, FLOOD] = outline, of - outline
    return {key: weight for key, weight in found.items() if weight > 0}


def icings(on: Mapping[tuple[str, str], float], house: House) -> tuple[Icing, ...]:
    """What is mixed of each color and consistency: never less than a bag can be filled with, then the loss."""
    rules = house.icing
    found = []
    for (color, consistency), weight in on.items():
        mixed = max(weight, float(rules.least_bag)) * (1 + float(rules.loss) / 100)
        found.append(Icing(color, consistency, weight, mixed, ceil(mixed / float(rules.bag_holds))))
    return tuple(found)


def icing(draft: Draft, house: House, size: str = "") -> tuple[Icing, ...]:
    """The icing of one order, mixed for it alone."""
    return icings(icing_on(draft, house, size), house)


def icing_recipe(house: House) -> Recipe | Problem:
    """The icing of the house: the first of its recipes of that kind."""
    return recipe_for(house, ICING)


def plain_color(color: str) -> str:
    return " ".join(color.casefold().split())


def deepens(color: str, house: House) -> bool:
    """Whether a color is to be mixed the day before."""
    words = set(_WORD.findall(plain_color(color)))
    pale = {"light", "pale", "pastel", "soft", "baby"}
    return not words & pale and any(set(_WORD.findall(deep.casefold())) <= words for deep in house.icing.day_before)
