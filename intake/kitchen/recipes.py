"""The recipes of the house rules in grams, and whether their weights can be true.

A recipe that can't be true (a tablespoon typed for a cup, a yield that its weight doesn't hold) is a Problem that says
why. The bounds are wide: the published doughs and icings they are drawn around lie well inside. An ingredient
whose nature isn't known is given the benefit of the doubt.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from intake.house import House
from intake.house_recipes import IngredientPart, MakesPart, RecipePart
from intake.measures import CUP_ML, grams, measure, same
from intake.model import Problem

DOUGH, ICING = "dough", "icing"

_ROLES: Mapping[str, str] = {
    **dict.fromkeys(("flour", "cocoa", "cornstarch", "almonds", "ground almonds", "oats", "rye flour"), "flour"),
    **dict.fromkeys(("butter", "shortening", "margarine", "lard", "oil", "cream cheese"), "fat"),
    **dict.fromkeys(("sugar", "brown sugar", "unpacked brown sugar", "honey", "molasses", "corn syrup"), "sugar"),
    **dict.fromkeys(("powdered sugar", "sifted powdered sugar"), "sugar"),
    **dict.fromkeys(("egg", "egg white", "egg yolk"), "egg"),
    **dict.fromkeys(("milk", "water", "sour cream", "cream", "lemon juice", "buttermilk"), "liquid"),
    **dict.fromkeys(("baking powder", "baking soda", "cream of tartar"), "leavening"),
    **dict.fromkeys(("vanilla extract", "almond extract", "lemon extract", "extract"), "extract"),
    "salt": "salt",
    "meringue powder": "meringue powder",
}
# Least and most of each role, in hundredths of the whole.
_BOUNDS: Mapping[str, tuple[tuple[str, int, int], ...]] = {
    DOUGH: (
        *(("flour", 30, 65), ("fat", 8, 45), ("sugar", 8, 50), ("egg", 0, 25), ("liquid", 0, 25)),
        *(("leavening", 0, 3), ("extract", 0, 5), ("salt", 0, 2), ("meringue powder", 0, 5)),
    ),
    ICING: (
        *(("sugar", 60, 94), ("flour", 0, 10), ("fat", 0, 5), ("egg", 0, 25), ("liquid", 0, 30)),
        *(("leavening", 0, 2), ("extract", 0, 5), ("salt", 0, 2), ("meringue powder", 0, 15)),
    ),
}
# Grams a millilitre without any air in it (from memory); what isn't named is taken to be as heavy as sugar, so that the
# least volume of a batch is never put too high.
_SUGAR_DENSITY = 1.587
_SOLID = {"water": 1.0, "milk": 1.03, "egg white": 1.03, "egg": 1.03, "vanilla extract": 0.9, "meringue powder": 1.35}
_LIGHT_DOUGH, _HEAVY_DOUGH = 1.15, 1.30
_TOO_MANY, _TOO_FEW = 1.25, 0.35


@dataclass(frozen=True, slots=True)
class Ingredient:
    """What the baker knows of `what`. None of `parts` or `allergens`: not told. `price` is for `package_grams`."""

    what: str
    label: str
    parts: tuple[str, ...] | None = None
    allergens: tuple[str, ...] | None = None
    package: str = ""
    package_grams: float | None = None
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a recipe: as typed, what it is, and its grams."""

    typed: str
    what: str
    grams: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """A recipe in grams. `bake_loss` is the part of the dough's weight that is lost in the oven, from 0 to 1."""

    name: str
    kind: str
    flavors: tuple[str, ...]
    lines: tuple[Line, ...]
    bake_loss: float

    @property
    def grams(self) -> float:
        """The weight of one batch."""
        return math.fsum(line.grams for line in self.lines)

    def needs(self, weight: float) -> dict[str, float]:
        """Grams of each ingredient in `weight` grams of the mixture, in the order of the recipe."""
        found: dict[str, float] = {}
        for line in self.lines:
            found[line.what] = found.get(line.what, 0.0) + line.grams * weight / self.grams
        return found


def recipes(house: House, kind: str) -> tuple[Recipe | Problem, ...]:
    """The recipes of one kind, in the order of the house rules; a wrong one as the Problem that says why."""
    return tuple(_recipe(name, part, house) for name, part in house.recipes.items() if part.kind == kind)


def recipe_for(house: House, kind: str, flavor: str = "") -> Recipe | Problem:
    """The recipe for a flavor, else the first of its kind. A Problem where there is none, or the one meant is wrong."""
    wanted = " ".join(flavor.casefold().split())
    parts = [(name, part) for name, part in house.recipes.items() if part.kind == kind]
    if not parts:
        return Problem("house rules", f"there is no recipe for {kind}", "Put one under [recipes]")
    named = next((each for each in parts if wanted and wanted in _flavors(*each)), parts[0])
    return _recipe(*named, house)


def has_flavor(house: House, flavor: str) -> bool:
    """Whether a dough of the house is of this flavor."""
    wanted = " ".join(flavor.casefold().split())
    return any(wanted in _flavors(name, part) for name, part in house.recipes.items() if part.kind == DOUGH)


def _flavors(name: str, part: RecipePart) -> set[str]:
    return {" ".join(flavor.casefold().split()) for flavor in (name.replace("_", " "), *part.flavors)}


def ingredient(house: House, what: str) -> Ingredient:
    """What the house rules say of an ingredient; one they don't name has its name alone."""
    part = _part(house, what)
    if part is None:
        return Ingredient(what, what)
    package = None
    if part.package:
        try:
            package = float(grams(measure(f"{part.package} {what}"), _own(part)))
        except ValueError:
            package = None
    return Ingredient(what, part.label or what, part.parts, part.allergens, part.package, package, part.price)


def weighed(house: House, text: str) -> tuple[str, float]:
    """What is meant by "2 lb flour", and its grams by the baker's own cups. Raises ValueError, in words."""
    read = measure(text)
    part = _part(house, read.what)
    return read.what, float(grams(read, _own(part) if part else None))


def _part(house: House, what: str) -> IngredientPart | None:
    return next((part for name, part in house.ingredients.items() if same(name.replace("_", " ")) == what), None)


def _own(part: IngredientPart) -> dict[str, Fraction]:
    held = {"cup": part.cup, "tbsp": part.tbsp, "tsp": part.tsp, "large": part.each}
    return {unit: Fraction(weight) for unit, weight in held.items() if weight is not None}


def _recipe(name: str, part: RecipePart, house: House) -> Recipe | Problem:
    where = f"recipe {name}"
    lines = []
    for typed in part.ingredients:
        try:
            what, weight = weighed(house, typed)
        except ValueError as error:
            return Problem(where, f"expected {error}", "Change that line in the house rules", typed[:60])
        lines.append(Line(typed, what, weight))
    recipe = Recipe(name, part.kind, part.flavors, tuple(lines), float(part.bake_loss) / 100)
    if wrong := next(_faults(recipe, part.makes, house), None):
        return Problem(where, wrong, "Check its amounts in the house rules")
    return recipe


def _faults(recipe: Recipe, makes: MakesPart, house: House) -> Iterator[str]:
    whole = recipe.grams
    if not 50 <= whole <= 50_000:
        yield f"a batch of {whole:,.0f} g can't be meant: from 50 g to 50 kg"
    share: dict[str, float] = {}
    for line in recipe.lines:
        role = _ROLES.get(line.what, "")
        share[role] = share.get(role, 0.0) + 100 * line.grams / whole
    # What there is too much of comes first: it makes the others look too little.
    for role, _, most in _BOUNDS[recipe.kind]:
        if (has := share.get(role, 0.0)) > most:
            yield f"{has:.0f}% of it is {role}, and no {recipe.kind} holds more than {most}%"
    for role, least, _ in _BOUNDS[recipe.kind]:
        if (has := share.get(role, 0.0)) + share.get("", 0.0) < least:
            yield f"{has:.0f}% of it is {role}, and no {recipe.kind} holds less than {least}%"
    if recipe.kind == ICING and makes.cups:
        least_cups = sum(line.grams / _SOLID.get(line.what, _SUGAR_DENSITY) for line in recipe.lines) / float(CUP_ML)
        if float(makes.cups) < least_cups:
            yield f"it can't make {makes.cups} cups: even without air it fills {least_cups:.2f}"
    if recipe.kind == DOUGH and makes.count:
        volume = area(float(makes.across or house.cookies.across)) * float(makes.thick or house.cookies.thick) / 10
        if makes.count * volume * _LIGHT_DOUGH > _TOO_MANY * whole:
            fits = whole / (volume * _LIGHT_DOUGH)
            yield f"it can't make {makes.count} cookies of that size: its {whole:,.0f} g are about {fits:.0f}"
        if makes.count * volume * _HEAVY_DOUGH < _TOO_FEW * whole:
            fits = whole / (volume * _HEAVY_DOUGH)
            yield f"it makes far more than {makes.count} cookies of that size: its {whole:,.0f} g are about {fits:.0f}"


def area(across: float) -> float:
    """Square centimetres of a round `across` millimetres wide."""
    return math.pi / 4 * (across / 10) ** 2
