"""What the orders of a session take together: dough in whole batches, icing, cutters, trays, packaging.

A session is a day at the bench. Dough and icing belong to the day on which the plan has them mixed, cutters to the day
of cutting, trays to that of the first oven load, packaging to that of packing. What has no plan is one heap on one day.
Dough that is left goes into the next session that comes while it keeps, the oldest first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, timedelta

from intake.house import House
from intake.kitchen.amounts import (
    Cut,
    Icing,
    cuts,
    deepens,
    doughs,
    icing_on,
    icing_recipe,
    icings,
    per_tray,
    unknown_flavors,
)
from intake.kitchen.recipes import Recipe
from intake.kitchen.steps import BAKE, CUT, ICING, MIX, PACK
from intake.model import Order, Problem, Work

BY_DOZEN, BY_COOKIE = ("gift box",), ("individually bagged", "heat sealed", "ribbon", "tags")
NOTHING_SAID, PARCEL = "nothing said of packaging", "parcel"
#: Grams of dough that are not worth keeping: less than a cookie.
SCRAP = 30
_DOZEN, _PARCEL = 12, 24


@dataclass(frozen=True, slots=True)
class Left:
    """Dough over from a session: `grams` of a recipe, mixed on `made`."""

    recipe: str
    grams: float
    made: date


@dataclass(frozen=True, slots=True)
class DoughPool:
    """Dough of one recipe. `needed` grams, of which `from_left` are there; `left` is what the whole batches leave over,
    to be used by `keeps_until`."""

    recipe: Recipe
    count: int
    needed: float
    from_left: float
    batches: int
    left: float
    keeps_until: date
    orders: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class IcingPool:
    """Icing of one color and consistency for several orders."""

    icing: Icing
    orders: tuple[int, ...]
    deep: bool


@dataclass(frozen=True, slots=True)
class Trays:
    """`count` cookies of one size lie on `trays` trays, whatever their shapes; `across` in millimetres."""

    across: float
    count: int
    trays: int


@dataclass(frozen=True, slots=True)
class Session:
    """What one day takes. `icing_grams` are mixed in `icing_batches` whole batches of `icing`; `to_tint` are the colors
    of the next day that deepen overnight. `problems` says what could not be worked out."""

    day: date
    doughs: tuple[DoughPool, ...] = ()
    icing: Recipe | None = None
    icings: tuple[IcingPool, ...] = ()
    icing_batches: int = 0
    to_tint: tuple[str, ...] = ()
    cutters: tuple[Cut, ...] = ()
    trays: tuple[Trays, ...] = ()
    loads: int = 0
    packaging: tuple[tuple[str, int], ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def icing_grams(self) -> float:
        return math.fsum(pool.icing.mixed for pool in self.icings)


Days = Mapping[int, date]


@dataclass(frozen=True, slots=True)
class When:
    """On which day an order's dough and icing are mixed, its cookies cut, baked and packed; an order not named is done
    with that."""

    dough: Days
    icing: Days
    cut: Days
    bake: Days
    pack: Days

    @property
    def all(self) -> tuple[Days, ...]:
        return tuple(getattr(self, field.name) for field in fields(self))

    def beside(self, other: When) -> When:
        """Both, `other` where they name the same order."""
        return When(*({**mine, **its} for mine, its in zip(self.all, other.all, strict=True)))


def when(works: Iterable[Work]) -> When:
    """The days of a plan's work, each the first on which it comes up."""
    found: dict[str, dict[int, date]] = {task: {} for task in (MIX, ICING, CUT, BAKE, PACK)}
    for work in sorted(works, key=lambda w: w.start):
        if work.task in found:
            found[work.task].setdefault(work.order_id, work.start.date())
    return When(*found.values())


def at_once(orders: Iterable[Order], day: date) -> When:
    """Everything on one day."""
    days = {order.id: day for order in orders}
    return When(days, days, days, days, days)


def sessions(orders: Sequence[Order], days: When, house: House, left: Sequence[Left] = ()) -> tuple[Session, ...]:
    """The sessions of `orders` in the order of their days, with what dough there is to begin with in `left`."""
    by_id = {order.id: order for order in orders}
    held = {day for of in days.all for key, day in of.items() if key in by_id}
    made: list[Session] = []
    for day in sorted(held):
        mixed = [order for order in orders if days.dough.get(order.id) == day]
        pools, left, problems = _doughs(day, mixed, house, left)
        trays = _trays([order for order in orders if days.bake.get(order.id) == day], house)
        session = Session(
            day=day,
            doughs=pools,
            cutters=_cutters([order for order in orders if days.cut.get(order.id) == day], house),
            trays=trays,
            loads=math.ceil(sum(each.trays for each in trays) / house.oven.trays),
            packaging=_packaging([order for order in orders if days.pack.get(order.id) == day]),
            problems=problems,
        )
        made.append(_iced(session, [order for order in orders if days.icing.get(order.id) == day], house))
    return _tinted_before(made)


def _doughs(
    day: date, orders: Sequence[Order], house: House, left: Sequence[Left]
) -> tuple[tuple[DoughPool, ...], list[Left], tuple[Problem, ...]]:
    recipes: dict[str, Recipe] = {}
    needed: dict[str, list[tuple[int, int, float]]] = {}
    problems = []
    for order in orders:
        found = doughs(order.draft, house, order.terms.size)
        if isinstance(found, Problem):
            problems.append(replace(found, where=f"{order.who}, {found.where}"))
            continue
        if unknown := unknown_flavors(order.draft, house):
            what = f"no recipe for {', '.join(unknown)}: {found[0].recipe.name} is taken"
            problems.append(Problem(order.who, what, "Add the flavor to a recipe in the house rules"))
        for dough in found:
            recipes[dough.recipe.name] = dough.recipe
            needed.setdefault(dough.recipe.name, []).append((order.id, dough.count, dough.grams))
    keeps = timedelta(days=house.keeping.dough_days)
    fresh = sorted((each for each in left if day - each.made <= keeps), key=lambda each: each.made)
    pools = []
    for name, shares in needed.items():
        need = math.fsum(grams for _, _, grams in shares)
        used, fresh = _used(name, need, fresh)
        batches = math.ceil((need - used) / recipes[name].grams - 1e-9)
        over = max(0.0, batches * recipes[name].grams - (need - used))
        if over >= SCRAP:
            fresh.append(Left(name, over, day))
        count = sum(count for _, count, _ in shares)
        ids = tuple(number for number, _, _ in shares)
        pools.append(DoughPool(recipes[name], count, need, used, batches, over, day + keeps, ids))
    return tuple(pools), fresh, tuple(problems)


def _used(name: str, need: float, left: Sequence[Left]) -> tuple[float, list[Left]]:
    """How much of `need` is there already, the oldest first, and what then remains of `left`."""
    used, rest = 0.0, []
    for each in left:
        take = min(each.grams, need - used) if each.recipe == name else 0.0
        used += take
        if each.grams - take >= (SCRAP if take else 0):
            rest.append(replace(each, grams=each.grams - take))
    return used, rest


def _iced(session: Session, orders: Sequence[Order], house: House) -> Session:
    if not orders:
        return session
    recipe = icing_recipe(house)
    if isinstance(recipe, Problem):
        return replace(session, problems=(*session.problems, recipe))
    on: dict[tuple[str, str], float] = {}
    of: dict[tuple[str, str], list[int]] = {}
    for order in orders:
        for key, weight in icing_on(order.draft, house, order.terms.size).items():
            on[key] = on.get(key, 0.0) + weight
            of.setdefault(key, []).append(order.id)
    pools = tuple(
        IcingPool(icing, tuple(of[icing.color, icing.consistency]), deepens(icing.color, house))
        for icing in sorted(icings(on, house), key=lambda icing: icing.color)
    )
    whole = math.fsum(pool.icing.mixed for pool in pools)
    return replace(session, icing=recipe, icings=pools, icing_batches=math.ceil(whole / recipe.grams - 1e-9))


def _tinted_before(made: Sequence[Session]) -> tuple[Session, ...]:
    """The sessions with the colors that deepen overnight put down for the day before, work or not."""
    by_day = {session.day: session for session in made}
    for session in made:
        deep = tuple(dict.fromkeys(pool.icing.color for pool in session.icings if pool.deep))
        if deep:
            eve = session.day - timedelta(days=1)
            by_day[eve] = replace(by_day.get(eve, Session(eve)), to_tint=deep)
    return tuple(by_day[day] for day in sorted(by_day))


def _cutters(orders: Sequence[Order], house: House) -> tuple[Cut, ...]:
    counted: dict[tuple[str, float], int] = {}
    for order in orders:
        for cut in cuts(order.draft, house, order.terms.size):
            key = (" ".join(cut.what.casefold().split()), cut.across)
            counted[key] = counted.get(key, 0) + cut.count
    return tuple(Cut(what, count, across) for (what, across), count in counted.items())


def _trays(orders: Sequence[Order], house: House) -> tuple[Trays, ...]:
    counted: dict[float, int] = {}
    for cut in _cutters(orders, house):
        counted[cut.across] = counted.get(cut.across, 0) + cut.count
    return tuple(
        Trays(across, count, math.ceil(count / per_tray(across, house)))
        for across, count in sorted(counted.items(), reverse=True)
    )


def _packaging(orders: Sequence[Order]) -> tuple[tuple[str, int], ...]:
    counted: dict[str, int] = {}
    for order in orders:
        count = max(0, order.draft.count.value or 0)
        kinds = tuple(dict.fromkeys(" ".join(kind.casefold().split()) for kind in order.draft.packaging.value or ()))
        wanted = {kind: _many(kind, count) for kind in kinds} or {NOTHING_SAID: count}
        if order.draft.handover.value == "ship":
            wanted[PARCEL] = math.ceil(count / _PARCEL)
        for kind, many in wanted.items():
            counted[kind] = counted.get(kind, 0) + many
    return tuple(counted.items())


def _many(kind: str, count: int) -> int:
    if kind in BY_COOKIE:
        return count
    return math.ceil(count / _DOZEN) if kind in BY_DOZEN else 1
