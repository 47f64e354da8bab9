"""The nearest set that fits a customer's budget: fewer cookies, plainer work, no packaging, or some of each.

Every proposal is priced by `quote` itself. The nearest is the one whose price comes closest to the budget, since it
gives up the least; of two that cost the same, the one that gives up fewer kinds of things.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from intake.counted import many
from intake.house import House
from intake.house_rates import RatesPart
from intake.kitchen.level import LEVELS, level_of
from intake.model import Cell, Draft, Problem, Quote, Terms
from intake.pricing.quote import quote

_STEP, _TRIES = 6, 60
# The most designs and colors of each level, see intake.kitchen.level.
_MOST = {"plain": (2, 3), "detailed": (4, 3)}
_NO_TERMS = Terms()


@dataclass(frozen=True, slots=True)
class Offer:
    """A set that fits: what is given up, in words, with its draft, its terms and its quote."""

    gives_up: tuple[str, ...]
    draft: Draft
    terms: Terms
    quote: Quote

    @property
    def words(self) -> str:
        return ", ".join(self.gives_up)


def fitting(
    draft: Draft,
    house: House,
    budget: Decimal,
    *,
    today: date,
    terms: Terms = _NO_TERMS,
    rates: RatesPart | None = None,
    asked_on: date | None = None,
) -> tuple[Offer, ...]:
    """The sets that fit `budget`, the nearest first; none where nothing does, or where it can't be priced at all."""
    count = draft.count.value
    if not count or count < 0:
        return ()
    card = rates or house.rates_on(today)
    found = []
    for words, changed, settled in _variants(draft, terms):
        for fewer in _counts(count, card.minimum_count):
            smaller = changed if fewer == count else _with_count(changed, fewer)
            kept = _lettered(settled, fewer)
            made = quote(smaller, house, today=today, terms=kept, rates=card, asked_on=asked_on)
            if isinstance(made, Problem):
                return ()
            if made.total <= budget:
                given = ((f"{many(fewer, 'cookie')} instead of {count}",) if fewer != count else ()) + words
                found.append(Offer(given, smaller, kept, made))
                break
    found.sort(key=lambda offer: (budget - offer.quote.total, len(offer.gives_up)))
    return tuple(found)


def _variants(draft: Draft, terms: Terms) -> Iterator[tuple[tuple[str, ...], Draft, Terms]]:
    """The order as it is, plainer, and each of these without packaging."""
    level, _ = level_of(draft, terms)
    plainer: list[tuple[tuple[str, ...], Draft, Terms]] = [((), draft, terms)]
    plainer += [_plainer(draft, terms, level, lower) for lower in LEVELS[: LEVELS.index(level)]]
    for words, changed, settled in plainer:
        yield words, changed, settled
        if draft.packaging.value:
            yield (*words, "no packaging"), replace(changed, packaging=Cell((), sure=True)), settled


def _plainer(draft: Draft, terms: Terms, level: str, lower: str) -> tuple[tuple[str, ...], Draft, Terms]:
    """The order cut down to a lower level: fewer designs and colors and, where that is not enough, no lettering."""
    if terms.level:
        return (f"{lower} work instead of {level}",), draft, replace(terms, level=lower)
    words = []
    designs, colors = draft.designs.value or (), draft.colors.value or ()
    most_designs, most_colors = _MOST[lower]
    if len(designs) > most_designs:
        words.append(f"{many(most_designs, 'design')} instead of {len(designs)}")
        kept = tuple(replace(design, count=None) for design in designs[:most_designs])
        draft = replace(draft, designs=replace(draft.designs, value=kept))
    if len(colors) > most_colors:
        words.append(f"{many(most_colors, 'color')} instead of {len(colors)}")
        draft = replace(draft, colors=replace(draft.colors, value=colors[:most_colors]))
    if LEVELS.index(level_of(draft, terms)[0]) > LEVELS.index(lower):
        words.append("no lettering")
        draft, terms = replace(draft, lettering=Cell((), sure=True)), replace(terms, lettered=None)
    return tuple(words), draft, terms


def _counts(count: int, least: int) -> Iterator[int]:
    """The count, then fewer by half dozens, down to the least that the house takes on."""
    yield count
    fewer = (count - 1) // _STEP * _STEP
    step = max(_STEP, -(-(fewer - least) // _TRIES // _STEP) * _STEP)
    while fewer >= least and fewer > 0:
        yield fewer
        fewer -= step


def _with_count(draft: Draft, count: int) -> Draft:
    """The draft for fewer cookies; how many of each design is then open."""
    designs = tuple(replace(design, count=None) for design in draft.designs.value or ())
    return replace(
        draft, count=replace(draft.count, value=count), designs=replace(draft.designs, value=designs or None)
    )


def _lettered(terms: Terms, count: int) -> Terms:
    return terms if terms.lettered is None else replace(terms, lettered=min(terms.lettered, count))
