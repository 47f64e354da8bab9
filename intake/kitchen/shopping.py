"""What has to be bought for some sessions: the ingredients of all their batches against what is on the shelf."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from intake.house import House
from intake.kitchen.pooling import NOTHING_SAID, Session
from intake.kitchen.recipes import ingredient


@dataclass(frozen=True, slots=True)
class Need:
    """`grams` of an ingredient are needed and `have` are there. `packages` of `package` make up what is short; None
    where no package is known. `cost` is what they cost, None where no price is known."""

    what: str
    grams: float
    have: float
    package: str = ""
    packages: int | None = 0
    cost: Decimal | None = Decimal(0)

    @property
    def short(self) -> float:
        return max(0.0, self.grams - self.have)


@dataclass(frozen=True, slots=True)
class Shopping:
    """Needs in the order in which recipes name them, packaging by kind, colors to have in the house."""

    needs: tuple[Need, ...]
    packaging: tuple[tuple[str, int], ...]
    colors: tuple[str, ...]

    @property
    def to_buy(self) -> tuple[Need, ...]:
        return tuple(need for need in self.needs if need.packages != 0)


def shopping(made: Iterable[Session], house: House, pantry: Mapping[str, float]) -> Shopping:
    """The list for the sessions of `made`; `pantry` holds the grams of what is on the shelf."""
    grams: dict[str, float] = {}
    packaging: dict[str, int] = {}
    colors: dict[str, None] = {}
    for session in made:
        batches = [(pool.recipe, pool.batches) for pool in session.doughs]
        if session.icing:
            batches.append((session.icing, session.icing_batches))
        for recipe, many in batches:
            for what, weight in recipe.needs(many * recipe.grams).items():
                grams[what] = grams.get(what, 0.0) + weight
        for kind, many in session.packaging:
            if kind != NOTHING_SAID:
                packaging[kind] = packaging.get(kind, 0) + many
        colors |= dict.fromkeys(pool.icing.color for pool in session.icings)
    needs = tuple(_need(what, weight, pantry.get(what, 0.0), house) for what, weight in grams.items() if weight)
    return Shopping(needs, tuple(packaging.items()), tuple(colors))


def _need(what: str, grams: float, have: float, house: House) -> Need:
    known = ingredient(house, what)
    # What costs nothing, such as water, is not bought.
    if grams - have < 0.5 or known.price == 0:
        return Need(what, grams, have, known.package)
    if not known.package_grams:
        return Need(what, grams, have, known.package, None, None)
    packages = math.ceil((grams - have) / known.package_grams - 1e-9)
    return Need(what, grams, have, known.package, packages, None if known.price is None else packages * known.price)
