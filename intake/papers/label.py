"""What a label says of an order's cookies, and what it lacks.

Ingredients stand by weight, the heaviest first, as they go into the cookies of this order (21 CFR 101.4(a)(1)); what
is two per cent or less comes after them (101.4(a)(2)); the own ingredients of one stand in brackets after it
(101.4(b)(2)). Nothing is made up: what the house rules don't tell is named as missing. No label is said to be lawful.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

from intake.house import House, default_house
from intake.house_recipes import TREE_NUTS
from intake.kitchen.amounts import UNSAID, Dough, doughs, icing_on, icing_recipe, plain_color
from intake.kitchen.pooling import BY_COOKIE
from intake.kitchen.recipes import Ingredient, Recipe, ingredient
from intake.model import Order, Problem
from intake.papers.session_lines import RAW_EGG, shown_recipe
from intake.papers.weights import us
from intake.replies.cautions import cautions

CAUTIONS = (
    "Label rules differ from place to place: hold these labels against your local code, or ask the licensing office.",
    "Ingredients and allergens are those that you typed into the house rules. Look at every package each time you buy: "
    "makers change what is in it.",
    "Nothing here says that a cookie is free of anything, safe to eat or legal to sell.",
)
NOT_COMPLETE = "NOT COMPLETE, DON'T USE: see the last page"
_TRAILING = 0.02
# What is only a kind of allergen; the law wants the kind of nut, fish or shellfish (21 USC 343(w)).
_NO_KIND = ("tree nuts", "fish", "crustacean shellfish")
_SHOWN = {"egg": "eggs", "peanut": "peanuts"}
_DOZEN = 12


@dataclass(frozen=True, slots=True)
class Label:
    """One label. `ingredients` by weight; `trailing` are those of two per cent or less; `net` is empty until weighed.

    `count` cookies are in the package, `copies` packages of them; `estimate` is grams by the recipes.
    """

    identity: str
    ingredients: tuple[str, ...]
    trailing: tuple[str, ...]
    contains: tuple[str, ...]
    net: str
    made_by: str
    address: str
    home_kitchen: str
    made_on: date
    count: int
    copies: int
    estimate: float


@dataclass(frozen=True, slots=True)
class Labels:
    """The labels of an order, one kind for each dough; `missing` names what has to be told, `notes` what to heed.

    While anything is missing a label says that it is not complete.
    """

    labels: tuple[Label, ...]
    missing: tuple[str, ...]
    notes: tuple[str, ...]


def labels(order: Order, house: House, *, made_on: date, net: float | None = None) -> Labels | Problem:
    """The labels for `order`. `net` are the grams that a package weighs without its wrapping.

    A Problem where a recipe is wrong or the count is missing.
    """
    of, icing = doughs(order.draft, house, order.terms.size), icing_recipe(house)
    if isinstance(of, Problem):
        return of
    if isinstance(icing, Problem):
        return icing
    on = icing_on(order.draft, house, order.terms.size)
    tints, lacking = _tints(tuple(dict.fromkeys(color for color, _ in on)), house)
    iced = math.fsum(on.values()) / sum(dough.count for dough in of)
    found: list[Label] = []
    missing = list(_lacking(house))
    for dough in of:
        weights = dough.recipe.needs(dough.on_tray)
        for what, weight in icing.needs(iced * dough.count).items():
            weights[what] = weights.get(what, 0.0) + weight
        known = [(ingredient(house, what), weight) for what, weight in weights.items()]
        known.sort(key=lambda each: (-each[1], each[0].label))
        missing += [lack for each, _ in known for lack in _unknown(each)]
        least = _TRAILING * math.fsum(weights.values())
        other = f", {shown_recipe(dough.recipe.name)}" if _not_first(dough, house) else ""
        each = _each_package(order, dough.count)
        full = Label(
            identity=house.labels.identity + other,
            ingredients=tuple(_listed(i) for i, weight in known if weight > least),
            trailing=(*(_listed(i) for i, weight in known if weight <= least), *tints),
            contains=_contains(tuple(i for i, _ in known)),
            net="" if net is None else f"Net Wt {net_weight(net)}",
            made_by=_maker(house),
            address=house.labels.address,
            home_kitchen=house.labels.home_kitchen,
            made_on=made_on,
            count=each,
            copies=dough.count // each,
            estimate=(dough.baked / dough.count + iced) * each,
        )
        found.append(full)
        if rest := dough.count % each:
            # The last package holds fewer: its weight is not that of the others.
            found.append(replace(full, count=rest, copies=1, net="", estimate=full.estimate / each * rest))
    return Labels(
        tuple(found),
        tuple(dict.fromkeys((*missing, *lacking))),
        (*_notes(found, icing, house), *cautions(order, house)),
    )


def net_weight(weight: float) -> str:
    """`3 oz (85 g)`, `1 lb 2.2 oz (516 g)`: ounces to a tenth, grams to one."""
    return f"{us(weight, 1)} ({weight:,.0f} g)"


def _not_first(dough: Dough, house: House) -> bool:
    first = next(name for name, part in house.recipes.items() if part.kind == "dough")
    return dough.recipe.name != first


def _maker(house: House) -> str:
    """The baker's or her business's name; the placeholder of the defaults is nobody's."""
    named = house.house.name
    return house.labels.made_by or ("" if named == default_house().house.name else named)


def _lacking(house: House) -> Iterator[str]:
    if not house.labels.identity:
        yield "what the cookies are called (identity, under [labels])"
    if not _maker(house):
        yield "your name or your business's (made_by, under [labels])"
    if not house.labels.address:
        yield "your address: street, city, state, ZIP (address, under [labels])"


def _unknown(of: Ingredient) -> Iterator[str]:
    parts = "its own ingredients" if of.parts is None else ""
    allergens = "its allergens" if of.allergens is None else ""
    if lacks := " and ".join(lack for lack in (parts, allergens) if lack):
        yield f"{of.label}: {lacks}, from the package ({of.what.replace(' ', '_')}, under [ingredients])"
    for allergen in of.allergens or ():
        if allergen in _NO_KIND:
            yield f"which kind of {allergen} is in {of.label}"


def _tints(colors: tuple[str, ...], house: House) -> tuple[tuple[str, ...], list[str]]:
    """The color additives of an order by name, and what isn't known of them."""
    known = {plain_color(color): named for color, named in house.labels.colors.items()}
    names: dict[str, None] = {}
    missing = []
    for color in colors:
        if color == UNSAID:
            missing.append("the colors of the icing: the order names none")
        elif color in known:
            names |= dict.fromkeys(known[color])
        else:
            missing.append(f"what colors the {color} icing, as on the bottle (colors, under [labels])")
    return tuple(names), missing


def _listed(of: Ingredient) -> str:
    return f"{of.label} ({', '.join(of.parts)})" if of.parts else of.label


def _contains(of: tuple[Ingredient, ...]) -> tuple[str, ...]:
    """Each allergen once, in the order of the ingredients; nuts by their kind."""
    found: dict[str, None] = {}
    for each in of:
        for allergen in each.allergens or ():
            shown = f"tree nuts ({allergen})" if allergen in TREE_NUTS else _SHOWN.get(allergen, allergen)
            found[shown] = None
    return tuple(found)


def _each_package(order: Order, count: int) -> int:
    kinds = {" ".join(kind.casefold().split()) for kind in order.draft.packaging.value or ()}
    return 1 if kinds & set(BY_COOKIE[:2]) else min(_DOZEN, count)


def _notes(found: list[Label], icing: Recipe, house: House) -> Iterator[str]:
    for label in found:
        if not label.net:
            yield (
                f"Weigh a package of {label.count} without its wrapping and write the net weight in: by your recipes "
                f"it is about {net_weight(label.estimate)}."
            )
    if len({label.identity for label in found}) > 1:
        yield "The order has more than one dough: a package that holds several needs the label of each."
    if not house.labels.home_kitchen:
        yield "No home-kitchen line is on them. Where your local office asks for one: home_kitchen, under [labels]."
    said = " ".join(name for label in found for name in label.trailing).casefold()
    if "red 3" in said or "red no. 3" in said or "erythrosine" in said:
        yield "Red No. 3: its authorization in food was revoked; foods have until January 15, 2027 (FDA order of 2025)."
    if "titanium dioxide" in said:
        yield "Titanium dioxide is not permitted in food in the European Union since 2022."
    if any(line.what == "egg white" for line in icing.lines):
        yield RAW_EGG


def lines_of(label: Label, *, whole: bool) -> Iterator[tuple[str, str]]:
    """The parts of a label in their order, each with its kind; a part that is missing is left out.

    `whole` is False where something is missing, and the label says so.
    """
    if not whole:
        yield "contains", NOT_COMPLETE
    yield "identity", label.identity
    listed = ", ".join(label.ingredients)
    if label.trailing:
        listed += f". Contains 2% or less of: {', '.join(label.trailing)}"
    yield "ingredients", f"Ingredients: {listed}."
    if label.contains:
        yield "contains", f"Contains: {', '.join(label.contains)}."
    yield "home", label.home_kitchen
    yield "maker", ", ".join(part for part in (label.made_by, label.address) if part)
    yield "made", f"Made on {label.made_on:%B} {label.made_on.day}, {label.made_on.year}"
    yield "net", label.net or "Net Wt ________ oz (________ g)"
