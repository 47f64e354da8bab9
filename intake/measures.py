"""Kitchen measures as grams and millimetres: "2 1/2 cups flour", "1 stick butter", "2 large eggs", "1/4 in".

What was typed is kept beside the grams, since a cup of flour is a convention and not a weight. Weights are those of the
USDA National Nutrient Database, Release 28, household weights; the number beside each row is its NDB number. A measure
that a row doesn't give is worked out from the next larger one by 1 cup = 16 tbsp = 48 tsp = 8 fl oz; no row is
mixed with millilitres, but for what is measured in them.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

# NIST SP 811: the ounce avoirdupois and the inch are exact; the US cup is 231/16 cubic inches.
OUNCE = Fraction("28.349523125")
POUND = 16 * OUNCE
INCH = Fraction("25.4")
CUP_ML = Fraction("236.5882365")

_CUPS: Mapping[str, Fraction] = {
    "cup": Fraction(1),
    "fl oz": Fraction(1, 8),
    "tbsp": Fraction(1, 16),
    "tsp": Fraction(1, 48),
    "pint": Fraction(2),
    "quart": Fraction(4),
}
_MASS: Mapping[str, Fraction] = {"g": Fraction(1), "kg": Fraction(1000), "oz": OUNCE, "lb": POUND}
_ML: Mapping[str, Fraction] = {"ml": Fraction(1), "l": Fraction(1000)}
_MM: Mapping[str, Fraction] = {"mm": Fraction(1), "cm": Fraction(10), "in": INCH}
#: Units of which something is counted, not weighed or measured.
PIECES = ("small", "medium", "large", "extra large", "jumbo", "stick")
LARGEST = 1_000_000

# Grams of one unit of each ingredient. A size stands for one piece of it.
_WEIGHTS: Mapping[str, Mapping[str, str]] = {
    "flour": {"cup": "125"},  # 20081
    "sugar": {"cup": "200", "tsp": "4.2"},  # 19335
    "powdered sugar": {"cup": "120", "tbsp": "8.0", "tsp": "2.5"},  # 19336, unsifted
    "sifted powdered sugar": {"cup": "100"},  # 19336
    "brown sugar": {"cup": "220"},  # 19334, packed
    "unpacked brown sugar": {"cup": "145"},  # 19334
    "butter": {"cup": "227", "stick": "113", "tbsp": "14.2"},  # 01001, 01145
    "egg": {"small": "38", "medium": "44", "large": "50", "extra large": "56", "jumbo": "63", "cup": "243"},  # 01123
    "egg white": {"large": "33", "cup": "243"},  # 01124
    "egg yolk": {"large": "17", "cup": "243"},  # 01125
    "vanilla extract": {"cup": "208", "tbsp": "13.0", "tsp": "4.2"},  # 02050
    "corn syrup": {"cup": "341", "tbsp": "22"},  # 19350
    "baking powder": {"tsp": "4.6"},  # 18369
    "baking soda": {"tsp": "4.6"},  # 18372
    "cream of tartar": {"tsp": "3.0"},  # 18373
    "cocoa": {"cup": "86", "tbsp": "5.4"},  # 19165
    "salt": {"cup": "292", "tbsp": "18", "tsp": "6.0"},  # 02047
    "milk": {"cup": "244"},  # 01077
    "water": {"fl oz": "29.6"},  # 14429
    "cornstarch": {"cup": "128"},  # 20027
    "honey": {"cup": "339"},  # 19296
    "cinnamon": {"tsp": "2.6"},  # 02010
    "ginger": {"tsp": "1.8"},  # 02021
    "almonds": {"cup": "143"},  # 12061, whole
    "ground almonds": {"cup": "95"},  # 12061
    "molasses": {"cup": "337"},  # 19304
    "meringue powder": {"tbsp": "9"},  # no entry; recipes that give both measures say 8 to 10.8
}
_ALSO: Mapping[str, str] = {
    **dict.fromkeys(("all-purpose flour", "all purpose flour", "plain flour", "wheat flour", "ap flour"), "flour"),
    **dict.fromkeys(("granulated sugar", "white sugar", "caster sugar"), "sugar"),
    **dict.fromkeys(("confectioners sugar", "confectioner's sugar", "confectioners' sugar"), "powdered sugar"),
    **dict.fromkeys(("icing sugar", "unsifted powdered sugar"), "powdered sugar"),
    **dict.fromkeys(("unsalted butter", "salted butter", "softened butter"), "butter"),
    **dict.fromkeys(("packed brown sugar", "light brown sugar", "dark brown sugar"), "brown sugar"),
    **dict.fromkeys(("eggs", "whole egg", "whole eggs"), "egg"),
    **dict.fromkeys(("vanilla", "pure vanilla extract", "vanilla essence"), "vanilla extract"),
    **dict.fromkeys(("cocoa powder", "unsweetened cocoa", "unsweetened cocoa powder"), "cocoa"),
    **dict.fromkeys(("whole milk", "lukewarm milk"), "milk"),
    **dict.fromkeys(("warm water", "cold water"), "water"),
    "egg whites": "egg white",
    "egg yolks": "egg yolk",
    "light corn syrup": "corn syrup",
    "table salt": "salt",
    "fine salt": "salt",
    "corn starch": "cornstarch",
    "ground cinnamon": "cinnamon",
    "ground ginger": "ginger",
    "whole almonds": "almonds",
    "almond meal": "ground almonds",
    "bicarbonate of soda": "baking soda",
}
_UNITS: Mapping[str, str] = {
    **dict.fromkeys(("g", "gram", "grams", "gr"), "g"),
    **dict.fromkeys(("kg", "kilo", "kilos", "kilogram", "kilograms"), "kg"),
    **dict.fromkeys(("oz", "ounce", "ounces"), "oz"),
    **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "lb"),
    **dict.fromkeys(("ml", "millilitre", "millilitres", "milliliter", "milliliters"), "ml"),
    **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), "l"),
    **dict.fromkeys(("cup", "cups", "c"), "cup"),
    **dict.fromkeys(("tbsp", "tbsps", "tablespoon", "tablespoons"), "tbsp"),
    **dict.fromkeys(("tsp", "tsps", "teaspoon", "teaspoons"), "tsp"),
    **dict.fromkeys(("fl oz", "fluid ounce", "fluid ounces"), "fl oz"),
    **dict.fromkeys(("pint", "pints"), "pint"),
    **dict.fromkeys(("quart", "quarts", "qt"), "quart"),
    **dict.fromkeys(("stick", "sticks"), "stick"),
    **dict.fromkeys(("extra large", "extra-large", "xl"), "extra large"),
    **{size: size for size in ("small", "medium", "large", "jumbo")},
}
_SIGNS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = re.compile(r"(?:(\d{1,6}) +(?:and +)?)?(\d{1,4})/(\d{1,4})(?![\d/.])|(\d{1,7}(?:\.\d{1,6})?)(?![\d/.])")


@dataclass(frozen=True, slots=True)
class Measure:
    """An amount of something as it was typed: so many of `unit` (a key of the tables, such as `cup` or `large`)."""

    typed: str
    amount: Fraction
    unit: str
    what: str


def same(what: str) -> str:
    """The plain name of an ingredient: "Unsalted  Butter" is "butter"; one that no table knows stays as it is."""
    plain = " ".join(what.casefold().replace("’", "'").split()).removeprefix("of ").rstrip(".,")
    return _ALSO.get(plain, plain)


def measure(text: str) -> Measure:
    """Reads "2 1/2 cups flour". Raises ValueError, in words, where that is no amount of something."""
    typed = " ".join(text.split())
    number, rest = _number(typed)
    words = rest.split()
    for taken in (2, 1):
        unit = _UNITS.get(" ".join(words[:taken]).casefold().rstrip("."))
        if unit and len(words) > taken:
            return Measure(typed, number, unit, same(" ".join(words[taken:])))
    if not words or " ".join(words).casefold() in _UNITS:
        raise ValueError(f"an amount of something, such as “2 cups flour”; “{typed:.60}” doesn't say of what")
    what = same(" ".join(words))
    if "large" not in _WEIGHTS.get(what, {}):
        raise ValueError(f"an amount with its measure, such as “2 cups {what:.30}” or “250 g {what:.30}”: {typed:.60}")
    # An egg whose size isn't said is a large one, as in recipes.
    return Measure(typed, number, "large", what)


def grams(of: Measure, own: Mapping[str, Fraction] | None = None) -> Fraction:
    """The weight of a measure. `own` are the baker's own grams of a unit (`cup`, `tbsp`, ...), which come first.

    Raises ValueError where it isn't known how much such a measure weighs.
    """
    if of.unit in _MASS:
        return of.amount * _MASS[of.unit]
    known = {unit: Fraction(weight) for unit, weight in _WEIGHTS.get(of.what, {}).items()}
    if own:
        # The baker's cup is also the cup that her spoons are part of.
        known = {unit: weight for unit, weight in known.items() if unit not in _CUPS} | dict(own)
    cups = of.amount * _ML[of.unit] / CUP_ML if of.unit in _ML else None
    one = _of_cups(known, cups) if cups is not None else known.get(of.unit) or _of_cups(known, _CUPS.get(of.unit))
    if one is None:
        by = f"how much that weighs by the {_called(of.unit)} isn't known"
        raise ValueError(f"a weight, as in “100 g {of.what:.40}”: {by}")
    return one if cups is not None else of.amount * one


def _of_cups(known: Mapping[str, Fraction], cups: Fraction | None) -> Fraction | None:
    """Grams of so many cups by the row's own measure that comes nearest above, else the largest it has."""
    rows = sorted((_CUPS[unit], weight) for unit, weight in known.items() if unit in _CUPS)
    if cups is None or not rows:
        return None
    size, weight = next((row for row in rows if row[0] >= cups), rows[-1])
    return cups / size * weight


def _called(unit: str) -> str:
    return {"tbsp": "tablespoon", "tsp": "teaspoon", "fl oz": "fluid ounce"}.get(unit, unit)


def millimetres(text: str) -> Fraction:
    """Reads "3 in", "1/4 inch", "7.5 cm" or "6 mm". Raises ValueError, in words, where that is no length."""
    try:
        number, rest = _number(" ".join(text.split()))
    except ValueError:
        number, rest = Fraction(0), ""
    unit = {"inch": "in", "inches": "in", '"': "in", "”": "in"}.get(rest.casefold(), rest.casefold().rstrip("."))
    if not number or unit not in _MM:
        raise ValueError('a length such as "3 in" or "75 mm"')
    return number * _MM[unit]


def _number(text: str) -> tuple[Fraction, str]:
    """The amount that `text` begins with, and the words after it."""
    plain = text
    for sign, fraction in _SIGNS.items():
        plain = plain.replace(sign, f" {fraction}")
    plain = " ".join(plain.replace("⁄", "/").split())
    found = _NUMBER.match(plain)
    if not found:
        raise ValueError(f"an amount, such as “2 1/2 cups flour”: {text[:60]}")
    whole, top, bottom, lone = found.groups()
    if bottom is not None and not int(bottom):
        raise ValueError(f"an amount: nothing is divided by 0: {text[:60]}")
    number = Fraction(lone) if lone else Fraction(int(whole or 0)) + Fraction(int(top), int(bottom))
    if not 0 < number <= LARGEST:
        raise ValueError(f"an amount above 0 and up to {LARGEST:,}: {text[:60]}")
    return number, plain[found.end() :].strip()
