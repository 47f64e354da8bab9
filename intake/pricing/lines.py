"""The lines of a quote, one kind after another, before and after rounding.

What the house charges nothing for has no line. Each line comes to a whole number of minor units; a coarser rounding of
the sum is a line of its own, so that what the customer adds up is what she pays.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil

from intake.counted import many
from intake.house import House
from intake.house_rates import RatesPart
from intake.kitchen.carrier_days import last_send_day
from intake.kitchen.level import lettered
from intake.model import Draft, Due, OrdertinError, QuoteLine, Terms
from intake.money import shown
from intake.pricing.money import rounded, step_of, unit_of
from intake.pricing.parcels import charged_pounds, rule_of
from intake.pricing.sizes import USUAL, mean_area, sizes_of

DOZEN = 12
_Raw = tuple[str, Fraction, str, str]


@dataclass(frozen=True, slots=True)
class Ask:
    """All that a price is worked out from. `notice` is whole days from the asking to the hand-over, `sent` the day on
    which a parcel leaves."""

    draft: Draft
    count: int
    terms: Terms
    rates: RatesPart
    house: House
    level: str
    why: str
    notice: int
    sent: date

    def shown(self, amount: Decimal) -> str:
        return shown(amount, self.house.house.currency, self.house.house.locale)


def lines_of(ask: Ask) -> tuple[QuoteLine, ...]:
    """Every line of the quote. Raises OrdertinError where the house rules have no price for what is asked."""
    rates, currency = ask.rates, ask.house.house.currency
    unit = unit_of(currency)

    def rounds(lines: Iterable[_Raw]) -> tuple[QuoteLine, ...]:
        return tuple(
            QuoteLine(label, rounded(amount, unit, rates.rounding), why, kind) for label, amount, why, kind in lines
        )

    made = rounds((*_work(ask), *_packing(ask)))
    made += rounds(_minimum(ask, _sum(made)))
    made += rounds(_discount(ask, _sum(made)))
    made += rounds(_rush(ask, _sum(made)))
    made += rounds(_on_the_way(ask))
    made += ask.terms.edits
    step = step_of(rates.round_to, currency)
    made += rounds(_rounding(ask, _sum(made), rounded(_sum(made), step, rates.rounding)))
    return made + rounds(_tax(ask, made))


def _sum(lines: Iterable[QuoteLine]) -> Decimal:
    return sum((line.amount for line in lines), Decimal(0))


def _work(ask: Ask) -> Iterator[_Raw]:
    rates, draft = ask.rates, ask.draft
    per_dozen = rates.per_dozen.of(ask.level)
    charged = max(ask.count, rates.minimum_count)
    for place, (size, count) in enumerate(sizes_of(draft, ask.terms, rates, ask.house)):
        number = count + (charged - ask.count if place == 0 else 0)
        dozen = Fraction(per_dozen) * Fraction(size.percent) / 100
        reason = f"{number} at {ask.shown(per_dozen)} a dozen"
        if size is not USUAL:
            reason += f", {size.name} at {_percent(size.percent)} of it"
        reason += f"; {ask.level}: {ask.why}"
        if number > count:
            fewest = rates.minimum_count
            reason = f"fewer than the {fewest} you take on, so {fewest} are charged; {reason}"
        what = "cookie" if size is USUAL else f"{size.name} cookie"
        yield f"{many(count, what)}, {ask.level}", dozen * number / DOZEN, reason, "work"
    designs, colors = len(draft.designs.value or ()), len(draft.colors.value or ())
    for thing, asked, free, rate in (
        ("design", designs, rates.free_designs, rates.extra_design),
        ("color", colors, rates.free_colors, rates.extra_color),
    ):
        label = many(asked - free, f"extra {thing}")
        yield from _each(ask, label, asked - free, rate, f"{asked} asked for, {free} in the price")
    texts = lettered(draft, ask.terms)
    told = "one cookie for each text" if ask.terms.lettered is None else "as many as you set"
    yield from _each(ask, f"Lettering on {many(texts, 'cookie')}", texts, rates.lettering_each, told)


def _each(ask: Ask, label: str, number: int, rate: Decimal, reason: str, kind: str = "work") -> Iterator[_Raw]:
    if number > 0 and rate > 0:
        yield label, Fraction(rate) * number, f"{reason}, {ask.shown(rate)} each", kind


def _packing(ask: Ask) -> Iterator[_Raw]:
    prices = packaging(ask.rates)
    for kind in kinds(ask.draft):
        if kind == "gift box":
            boxes = ceil(ask.count / DOZEN)
            rate = ask.rates.gift_box_dozen
            yield from _each(ask, many(boxes, "gift box"), boxes, rate, "one box for each dozen begun", "packing")
        elif kind in prices:
            yield from _each(ask, kind.capitalize(), ask.count, prices[kind], many(ask.count, "cookie"), "packing")


def kinds(draft: Draft) -> tuple[str, ...]:
    """The kinds of packaging asked for, each once, in the order said."""
    return tuple(dict.fromkeys(" ".join(kind.casefold().split()) for kind in draft.packaging.value or ()))


def packaging(rates: RatesPart) -> dict[str, Decimal]:
    """What each kind costs for one cookie; a gift box is by the dozen and is not among them."""
    return {
        "individually bagged": rates.individually_bagged_each,
        "heat sealed": rates.heat_sealed_each,
        "ribbon": rates.ribbon_each,
        "tags": rates.tags_each,
    }


def _minimum(ask: Ask, so_far: Decimal) -> Iterator[_Raw]:
    least = ask.rates.minimum_total
    if so_far < least:
        yield "Minimum order", Fraction(least - so_far), f"an order comes to {ask.shown(least)} at least", "work"


def _discount(ask: Ask, so_far: Decimal) -> Iterator[_Raw]:
    reached = [each for each in ask.rates.discounts if each.from_count <= ask.count]
    if reached:
        best = max(reached, key=lambda each: each.from_count)
        off = Fraction(so_far) * Fraction(best.percent) / 100
        yield "Discount", -off, f"{_percent(best.percent)} off for {best.from_count} cookies or more", "discount"


def rush_of(rates: RatesPart, notice: int) -> tuple[Decimal, Decimal, int] | None:
    """The per cent, the flat amount and the days of the rush that so many days' notice falls under, if it does."""
    under = [each for each in rates.rush if notice < each.under_days and (each.percent or each.flat)]
    if not under:
        return None
    rush = min(under, key=lambda each: each.under_days)
    return rush.percent, rush.flat, rush.under_days


def _rush(ask: Ask, so_far: Decimal) -> Iterator[_Raw]:
    if rush := rush_of(ask.rates, ask.notice):
        share, flat, days = rush
        parts = [f"{_percent(share)} of the work and packing"] if share else []
        parts += [ask.shown(flat)] if flat else []
        why = f"{many(ask.notice, 'day')} of notice, fewer than {days}: {' and '.join(parts)}"
        yield "Rush", Fraction(so_far) * Fraction(share) / 100 + Fraction(flat), why, "rush"


def _on_the_way(ask: Ask) -> Iterator[_Raw]:
    match ask.draft.handover.value:
        case "ship":
            yield from _parcels(ask)
        case "deliver" if ask.rates.delivery:
            yield from _delivery(ask)


def _delivery(ask: Ask) -> Iterator[_Raw]:
    bands, far = ask.rates.delivery, ask.terms.distance
    if far is None:
        band, why = bands[0], "brought to the address"
        if len(bands) > 1:
            why = f"how far it is has not been set: priced for up to {_plain(band.up_to)} miles"
    else:
        reach = [band for band in bands if far <= band.up_to]
        if not reach:
            raise OrdertinError(
                f"{_plain(far)} miles is farther than you deliver ({_plain(bands[-1].up_to)})",
                todo="Add a band to `rates.delivery`, or set another hand-over",
            )
        band, why = reach[0], f"{_plain(far)} miles, up to {_plain(reach[0].up_to)} in this band"
    if band.price:
        yield "Delivery", Fraction(band.price), why, "way"


def boxes_of(ask: Ask) -> tuple[int, ...]:
    """How many cookies go in each parcel: as many as fit, and what is left in the last."""
    holds = ask.house.parcels.cookies
    full, left = divmod(ask.count, holds)
    return (holds,) * full + ((left,) if left else ())


def pounds_of(ask: Ask) -> tuple[tuple[int, int], ...]:
    """For each parcel what it is charged at and what it weighs, in pounds."""
    parcels = ask.house.parcels
    box = ask.terms.box or parcels.box
    boxes = boxes_of(ask)
    found = {}
    for cookies in set(boxes):
        grams = cookie_grams(ask) * cookies + parcels.box_grams
        if ask.terms.pounds is not None:
            grams = ask.terms.pounds * Decimal("453.59237")
        found[cookies] = charged_pounds(grams, box, parcels.rule, ask.sent)
    return tuple(found[cookies] for cookies in boxes)


def cookie_grams(ask: Ask) -> Decimal:
    """The mean weight of a cookie of the order: that of the usual one, by its area."""
    return ask.house.parcels.cookie_grams * Decimal(mean_area(ask.draft, ask.terms, ask.house))


def _parcels(ask: Ask) -> Iterator[_Raw]:
    rates, boxes = ask.rates, boxes_of(ask)
    label = f"Shipping, {many(len(boxes), 'parcel')}"
    if not rates.shipping_pounds:
        holds = ask.house.parcels.cookies
        yield from _each(ask, label, len(boxes), rates.shipping, f"a parcel holds up to {holds} cookies", "way")
        return
    total, told = Fraction(0), []
    for charged, actual in pounds_of(ask):
        band = next((band for band in rates.shipping_pounds if charged <= band.up_to), None)
        if band is None:
            raise OrdertinError(
                f"a parcel charged at {charged} lb is heavier than you have a price for "
                f"({_plain(rates.shipping_pounds[-1].up_to)})",
                todo="Add a band to `rates.shipping_pounds`",
            )
        total += Fraction(band.price)
        by_size = f", by the size of its box, at 1 lb for each {rule_of(ask.house.parcels.rule, ask.sent).divisor} in3"
        told.append(f"{charged} lb{by_size if charged > actual else ''}: {ask.shown(band.price)}")
    why = "; ".join(dict.fromkeys(told))
    if total:
        yield label, total, f"{why}; sent by {ask.sent}", "way"


def _rounding(ask: Ask, so_far: Decimal, to: Decimal) -> Iterator[_Raw]:
    if to != so_far:
        step = ask.shown(step_of(ask.rates.round_to, ask.house.house.currency))
        why = f"the sum goes to whole steps of {step}, {ask.rates.rounding}"
        yield "Rounding", Fraction(to - so_far), why, "rounding"


def _tax(ask: Ask, lines: Iterable[QuoteLine]) -> Iterator[_Raw]:
    percent = ask.rates.tax_percent
    if not percent:
        return
    base = _sum(line for line in lines if line.kind != "way" or ask.rates.tax_on_the_way)
    if base > 0:
        what = "all of it" if ask.rates.tax_on_the_way else "all but delivery and shipping"
        yield "Sales tax", Fraction(base) * Fraction(percent) / 100, f"{_percent(percent)} of {what}", "tax"


def day_sent(due: Due, handover: str | None, house: House, today: date) -> date:
    """The day on which the order leaves the baker: that of the hand-over, or the last on which a parcel can be sent."""
    first = max(due.first, today)
    if handover != "ship":
        return first
    return last_send_day(first, house.shipping.transit_days, house.shipping.send_on)


def _percent(percent: Decimal) -> str:
    return f"{_plain(percent)}%"


def _plain(number: Decimal) -> str:
    """`5`, `2.5`."""
    return f"{number.normalize():f}"
