"""What an order costs the baker, and what its price leaves her for an hour.

Ingredients come from the recipes by weight, minutes from the kitchen's steps, the rest from the `costs` of the house
rules. Nothing is rounded before the end, so that a share of a cent for each cookie is not lost or made up; what is
shown is rounded line by line, and the sums are those of the unrounded lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from intake.counted import many
from intake.house import House
from intake.kitchen.amounts import doughs, icing, icing_recipe, unknown_flavors
from intake.kitchen.jobs import job_of
from intake.kitchen.recipes import Recipe, ingredient
from intake.kitchen.steps import steps_of
from intake.model import Job, Order, Problem, Quote
from intake.pricing.lines import DOZEN, Ask, boxes_of, kinds, pounds_of
from intake.pricing.money import rounded, shown, unit_of
from intake.pricing.quote import asked
from intake.pricing.sums import break_even, margin, markup
from intake.pricing.sums import yearly as a_year_of


@dataclass(frozen=True, slots=True)
class CostLine:
    """`amount` is not rounded."""

    label: str
    amount: Fraction
    why: str


@dataclass(frozen=True, slots=True)
class CostSheet:
    """What one order costs and leaves. Amounts are not rounded; `minutes` are of the baker's hands, by step.

    `price` is what the customer pays without sales tax. `spent` is the sum of the lines, `time` what the baker's hours
    count as, `cost` both. `an_hour` is what the price leaves of `spent` for an hour of hers, None where no minute is
    worked.
    """

    lines: tuple[CostLine, ...]
    minutes: tuple[tuple[str, int], ...]
    price: Fraction
    time: Fraction
    currency: str
    locale: str
    floor_hour: Fraction
    covers: int | None
    notes: tuple[str, ...]

    @property
    def spent(self) -> Fraction:
        return sum((line.amount for line in self.lines), Fraction(0))

    @property
    def cost(self) -> Fraction:
        return self.spent + self.time

    @property
    def left(self) -> Fraction:
        """What the price leaves for the baker's time."""
        return self.price - self.spent

    @property
    def worked(self) -> int:
        return sum(minutes for _, minutes in self.minutes)

    @property
    def an_hour(self) -> Fraction | None:
        return self.left * 60 / self.worked if self.worked else None

    @property
    def margin(self) -> Fraction | None:
        return margin(self.price, self.cost)

    @property
    def markup(self) -> Fraction | None:
        return markup(self.price, self.cost)

    @property
    def below_floor(self) -> bool:
        return self.an_hour is not None and self.an_hour < self.floor_hour

    def shown(self, amount: Fraction) -> str:
        """An amount to the minor unit, half up."""
        return shown(rounded(amount, unit_of(self.currency)), self.currency, self.locale)


def cost_sheet(order: Order, quote: Quote, house: House) -> CostSheet | Problem:
    """The cost sheet of `order` at the price of `quote`, or a Problem where a recipe or the kitchen can't tell."""
    made_on = min(quote.made_on, order.draft.due.value.last) if order.draft.due.value else quote.made_on
    ask = asked(order.draft, house, today=made_on, terms=order.terms)
    if isinstance(ask, Problem):
        return ask
    job = job_of(replace(order, step=""), house, newest=True)
    if isinstance(job, Problem):
        return job
    stuff = _ingredients(ask)
    if isinstance(stuff, Problem):
        return stuff
    lines, notes = stuff
    steps = steps_of(job, house)
    oven = sum(sum(step.parts) for step in steps if step.oven)
    price = sum((Fraction(line.amount) for line in quote.lines if line.kind != "tax"), Fraction(0))
    lines += tuple(line for line in (*_packing(ask), _oven(oven, ask), *_on_the_way(ask)) if line.amount)
    lines += tuple(line for line in (*_fees(quote, ask), _share(ask)) if line.amount)
    minutes = _minutes(job, ask)
    sheet = CostSheet(
        lines=lines,
        minutes=minutes,
        price=price,
        time=Fraction(sum(each for _, each in minutes), 60) * Fraction(house.costs.hour),
        currency=quote.currency,
        locale=quote.locale,
        floor_hour=Fraction(house.costs.floor_hour),
        covers=None,
        notes=notes,
    )
    fixed = _fixed(house)
    own = sum((line.amount for line in lines if line.label != _SHARE), Fraction(0))
    return replace(sheet, covers=break_even(fixed, price, own + sheet.time) if fixed else None)


def _minutes(job: Job, ask: Ask) -> tuple[tuple[str, int], ...]:
    """Minutes of hands by step; waits and the oven's own minutes are none of them."""
    found: dict[str, int] = {}
    for step in steps_of(job, ask.house):
        hands = sum(step.parts) if step.hands is None else step.hands * len(step.parts)
        if hands:
            found[step.label] = found.get(step.label, 0) + hands
    if job.handover == "ship":
        found["post office"] = ask.house.steps.post_office
    if ask.draft.handover.value == "deliver" and ask.terms.distance:
        found["drive"] = ceil(2 * ask.terms.distance * ask.house.costs.mile_minutes)
    return tuple(found.items())


def _ingredients(ask: Ask) -> tuple[tuple[CostLine, ...], tuple[str, ...]] | Problem:
    draft, house, size = ask.draft, ask.house, ask.terms.size
    made, royal = doughs(draft, house, size), icing_recipe(house)
    if isinstance(made, Problem):
        return made
    if isinstance(royal, Problem):
        return royal
    notes: list[str] = []
    lines = [_mixture(f"Dough, {each.recipe.name}", each.recipe, each.grams, ask, notes) for each in made]
    colors = icing(draft, house, size)
    bags = sum(each.bags for each in colors)
    mixed = sum(each.mixed for each in colors)
    hues = len({each.color for each in colors})
    lines.append(_mixture(f"Icing, {many(hues, 'color')} in {many(bags, 'bag')}", royal, mixed, ask, notes))
    for flavor in unknown_flavors(draft, house):
        notes.append(f'There is no recipe for "{flavor}": the first dough stands in for it.')
    return tuple(lines), tuple(dict.fromkeys(notes))


def _mixture(label: str, recipe: Recipe, grams: float, ask: Ask, notes: list[str]) -> CostLine:
    total, parts = Fraction(0), []
    for what, weight in recipe.needs(grams).items():
        known = ingredient(ask.house, what)
        if known.price is None or not known.package_grams:
            notes.append(f"The house rules have no price for {what}: it is not in the cost.")
            continue
        amount = Fraction(known.price) * Fraction(weight) / Fraction(known.package_grams)
        total += amount
        if amount:
            parts.append(f"{what} {weight:.0f} g {ask.shown(rounded(amount, unit_of(ask.house.house.currency)))}")
    return CostLine(label, total, f"{grams:.0f} g: {', '.join(parts)}")


def _packing(ask: Ask) -> Iterator[CostLine]:
    costs, asked_for = ask.house.costs, kinds(ask.draft)
    each = {
        "individually bagged": costs.bag_each,
        "heat sealed": costs.seal_each,
        "ribbon": costs.ribbon_each,
        "tags": costs.tag_each,
    }
    for kind in asked_for:
        if kind in each:
            why = f"{ask.count} at {ask.shown(each[kind])}"
            yield CostLine(kind.capitalize(), Fraction(each[kind]) * ask.count, why)
    boxes = ceil(ask.count / DOZEN)
    price, box = (costs.gift_box, "gift box") if "gift box" in asked_for else (costs.plain_box, "plain box")
    label = many(boxes, box)
    yield CostLine(label, Fraction(price) * boxes, f"{label} at {ask.shown(price)}, one for each dozen begun")


def _oven(minutes: int, ask: Ask) -> CostLine:
    rate = ask.house.costs.oven_hour
    return CostLine("Oven", Fraction(rate) * minutes / 60, f"{minutes} min at {ask.shown(rate)} an hour")


def _on_the_way(ask: Ask) -> Iterator[CostLine]:
    costs = ask.house.costs
    match ask.draft.handover.value:
        case "ship":
            boxes, pounds = len(boxes_of(ask)), sum(charged for charged, _ in pounds_of(ask))
            parcels = many(boxes, "parcel")
            yield CostLine(many(boxes, "mailing box"), Fraction(costs.mailing_box) * boxes, f"for {parcels}")
            why = f"{pounds} lb in {parcels} at {ask.shown(costs.postage_pound)} a pound"
            yield CostLine("Postage", Fraction(costs.postage_pound) * pounds, why)
        case "deliver" if ask.terms.distance:
            miles = 2 * ask.terms.distance
            why = f"{miles.normalize():f} miles there and back at {ask.shown(costs.distance)}"
            yield CostLine("Driving", Fraction(costs.distance) * Fraction(miles), why)


def _fees(quote: Quote, ask: Ask) -> Iterator[CostLine]:
    costs = ask.house.costs
    times = bool(quote.deposit) + bool(quote.balance)
    amount = Fraction(quote.total) * Fraction(costs.fee_percent) / 100 + Fraction(costs.fee_each) * times
    why = f"{costs.fee_percent.normalize():f}% of {ask.shown(quote.total)}, and {ask.shown(costs.fee_each)} x {times}"
    yield CostLine("Payment fees", amount, why)


_SHARE = "Tools and yearly costs"


def _fixed(house: House) -> Fraction:
    """What a year costs whether anything is baked or not."""
    costs = house.costs
    parts: Iterable[Fraction] = (
        *(a_year_of(tool.price, tool.years) for tool in costs.tools),
        *(Fraction(each.price) for each in costs.yearly),
    )
    return sum(parts, Fraction(0))


def _share(ask: Ask) -> CostLine:
    fixed, made = _fixed(ask.house), ask.house.costs.cookies_a_year
    a_year = ask.shown(rounded(fixed, unit_of(ask.house.house.currency)))
    return CostLine(_SHARE, fixed * ask.count / made, f"{a_year} a year over {made} cookies, {ask.count} of them here")
