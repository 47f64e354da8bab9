"""House rules of the mixing bowl: recipes, what an ingredient is and costs, cutters, icing, labels and papers.

An older file of house rules that lacks one of these sections has the defaults of that section.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from importlib.resources import files
from typing import Annotated, Any, Literal, TypeVar

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, TypeAdapter

from intake.measures import millimetres

# FDA, allergens as defined by 21 USC 321(qq), nine kinds since 1 January 2023.
ALLERGENS = ("milk", "egg", "fish", "crustacean shellfish", "tree nuts", "peanut", "wheat", "soy", "sesame")
# FDA, Questions and Answers on food allergens, edition 5 (January 2025), table 1. Coconut is none of them.
TREE_NUTS = (
    *("almond", "black walnut", "Brazil nut", "California walnut", "cashew", "hazelnut", "heartnut"),
    *("macadamia nut", "pecan", "pine nut", "pistachio", "walnut"),
)
_SAID = {"eggs": "egg", "peanuts": "peanut", "soybean": "soy", "soybeans": "soy", "filbert": "hazelnut"}

Named = TypeVar("Named")
Grams = Annotated[Decimal, Field(gt=0, le=100_000)]
Share = Annotated[Decimal, Field(ge=0, le=100)]


def _length(text: Any) -> Fraction:
    if not isinstance(text, str):
        raise ValueError('a length such as "3 in" or "75 mm"')
    return millimetres(text)


def _within(least: int, most: int) -> Callable[[Fraction], Fraction]:
    def checked(length: Fraction) -> Fraction:
        if not least <= length <= most:
            raise ValueError(f"a length from {least} to {most} mm")
        return length

    return checked


def _allergen(said: Any) -> str:
    plain = " ".join(str(said).casefold().split())
    plain = _SAID.get(plain, plain)
    found = next((each for each in (*ALLERGENS, *TREE_NUTS) if each.casefold() == plain), None)
    if found is None:
        raise ValueError(f"one of {', '.join(ALLERGENS)}, or the kind of nut ({', '.join(TREE_NUTS)})")
    return found


Across = Annotated[Fraction, BeforeValidator(_length), AfterValidator(_within(10, 400))]
Thick = Annotated[Fraction, BeforeValidator(_length), AfterValidator(_within(1, 30))]
Allergen = Annotated[str, BeforeValidator(_allergen)]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class MakesPart(_Part):
    """What a recipe says it makes: so many cookies of a cutter and a thickness, or so many cups of icing."""

    count: int | None = Field(default=None, ge=1, le=10_000)
    across: Across | None = None
    thick: Thick | None = None
    cups: Decimal | None = Field(default=None, gt=0, le=1000)


class RecipePart(_Part):
    """One recipe. `ingredients` are lines such as "2 1/2 cups flour"; what is wrong with one is said in its use."""

    kind: Literal["dough", "icing"]
    flavors: tuple[str, ...] = ()
    ingredients: tuple[str, ...] = Field(min_length=1, max_length=60)
    bake_loss: Share = Decimal(12)
    makes: MakesPart = MakesPart()


class IngredientPart(_Part):
    """What the baker knows of an ingredient. None of `parts` or `allergens`: not told yet; empty: there are none.

    `cup`, `tbsp`, `tsp` and `each` are her own grams. `package` is an amount such as "5 lb", `price` what it costs.
    """

    label: str = ""
    parts: tuple[str, ...] | None = None
    allergens: tuple[Allergen, ...] | None = None
    cup: Grams | None = None
    tbsp: Grams | None = None
    tsp: Grams | None = None
    each: Grams | None = None
    package: str = ""
    price: Annotated[Decimal, Field(ge=0, le=100_000)] | None = None


class CookiesPart(_Part):
    """How dough becomes cookies. `sizes` are cutters by a word of the design, in millimetres across.

    The tray's sides are those of the part that cookies may lie on, `gap` is between two of them.
    """

    across: Across
    thick: Thick
    density: Decimal = Field(ge=Decimal("0.8"), le=Decimal("1.5"))
    waste: Decimal = Field(ge=0, le=50)
    sizes: dict[str, Across]
    tray_long: Annotated[Fraction, BeforeValidator(_length), AfterValidator(_within(50, 2000))]
    tray_wide: Annotated[Fraction, BeforeValidator(_length), AfterValidator(_within(50, 2000))]
    gap: Annotated[Fraction, BeforeValidator(_length), AfterValidator(_within(1, 100))]


class IcingPart(_Part):
    """How icing covers cookies: a flood layer in millimetres, grams a millilitre, shares in per cent, grams a bag."""

    layer: Annotated[Fraction, BeforeValidator(_length), AfterValidator(_within(0, 20))]
    density: Decimal = Field(ge=Decimal("0.8"), le=Decimal("1.44"))
    outline: Share
    first_color: Share
    least_bag: Grams
    bag_holds: Grams
    loss: Decimal = Field(ge=0, le=50)
    day_before: tuple[str, ...]


class LabelsPart(_Part):
    """What a label says beside the ingredients. All of it the baker's own words; empty where she hasn't given it."""

    identity: str
    made_by: str
    address: str
    home_kitchen: str
    colors: dict[str, tuple[str, ...]]


class PapersPart(_Part):
    page: Literal["letter", "a4"]
    alarm_minutes: int = Field(ge=0, le=10_080)


@lru_cache(maxsize=1)
def _defaults() -> dict[str, Any]:
    return tomllib.loads(
        files("intake").joinpath("default_house.toml").read_text(encoding="utf-8"), parse_float=Decimal
    )


def default(section: str, kind: type[Named]) -> Callable[[], Named]:
    """A factory of what the default house rules have in `section`."""
    return lambda: TypeAdapter(kind).validate_python(_defaults()[section])
