"""Which cookies of an order are of another size than the usual: as the baker set it, or as the cutters of its designs.

The kitchen's cutters (`cookies.sizes` of the house rules) say how wide a size is, `rates.sizes` what its dozen costs.
"""

from __future__ import annotations

from decimal import Decimal

from intake.house import House
from intake.house_rates import RatesPart, Size
from intake.kitchen.amounts import cuts
from intake.model import Draft, Terms

USUAL = Size(name="usual", percent=Decimal(100))


def sizes_of(draft: Draft, terms: Terms, rates: RatesPart, house: House) -> tuple[tuple[Size, int], ...]:
    """Each size of the order with how many cookies are of it; they add up to the count. One that the rate card does not
    name costs as much as the usual."""
    priced = {size.name: size for size in rates.sizes}
    called = {float(across): name for name, across in reversed(house.cookies.sizes.items())}
    found: dict[str, int] = {}
    for cut in cuts(draft, house, terms.size):
        name = called.get(cut.across, USUAL.name)
        name = name if name in priced else USUAL.name
        found[name] = found.get(name, 0) + cut.count
    return tuple((priced.get(name, USUAL), count) for name, count in found.items())


def mean_area(draft: Draft, terms: Terms, house: House) -> float:
    """How large a cookie of the order is on average, the usual one being 1."""
    made = cuts(draft, house, terms.size)
    usual = float(house.cookies.across) ** 2
    return sum(cut.across**2 * cut.count for cut in made) / usual / sum(cut.count for cut in made)
