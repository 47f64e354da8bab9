"""Ten thousand drafts priced, and a thousand cost sheets, against nothing but writing as many amounts by babel."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from time import perf_counter

from babel.numbers import format_currency

from intake.desk_quote import priced
from intake.house import default_house
from intake.model import Cell, Design, Draft, Due, Order, Quote, State, Terms
from intake.pricing.cost import cost_sheet
from intake.pricing.quote import quote
from tests.bench.row import Row, in_turns

TODAY = date(2026, 11, 25)
MANY, SOME = 10_000, 1_000
SHAPES = "mini stars, owls, large hives, trucks, foxes, hearts, tiaras".split(", ")
COLORS = "red, navy, white, gold, mint, black, pink".split(", ")
PACKING = ("individually bagged", "ribbon", "gift box")


def drafts(count: int) -> list[Draft]:
    """Drafts of every kind, always the same."""
    pick = random.Random(7)

    def one() -> Draft:
        day = TODAY + timedelta(days=pick.randrange(1, 90))
        values = {
            "count": pick.choice((6, 12, 18, 24, 36, 48, 72, 144)),
            "designs": tuple(Design(shape) for shape in pick.sample(SHAPES, pick.randrange(0, 5))),
            "colors": tuple(pick.sample(COLORS, pick.randrange(0, 6))),
            "lettering": tuple(f"Name {n}" for n in range(pick.randrange(0, 4))),
            "packaging": tuple(pick.sample(PACKING, pick.randrange(0, 2))),
            "handover": pick.choice(("pickup", "pickup", "ship", "deliver")),
            "due": Due.on(day),
        }
        return Draft(**{name: Cell(value, sure=True) for name, value in values.items()})

    return [one() for _ in range(count)]


def speed() -> Iterator[Row]:
    house, many = default_house(), drafts(MANY)
    # A budget that is too small is compared with what a smaller set would cost, which is priced too.
    tight = [draft_with(each, Decimal(40)) for each in many[:SOME]]
    made = [(each, quote(each, house, today=TODAY)) for each in many[:SOME]]
    orders = [
        (Order(1, "t1", 0, State.QUOTED, draft, quote=price, terms=Terms()), price)
        for draft, price in made
        if isinstance(price, Quote)
    ]

    def timed(work: Callable[[], object]) -> Callable[[], float]:
        def run() -> float:
            begun = perf_counter()
            work()
            return perf_counter() - begun

        return run

    ours, over, sheets, plain = in_turns(
        [
            timed(lambda: [quote(each, house, today=TODAY) for each in many]),
            timed(lambda: [priced(each, house, TODAY) for each in tight]),
            timed(lambda: [cost_sheet(order, price, house) for order, price in orders]),
            timed(lambda: [format_currency(n / Decimal(100), "USD", locale="en_US") for n in range(MANY)]),
        ],
        3,
    )
    beside = f"{MANY:,} amounts by babel {plain:.2f} s"
    yield Row(f"{MANY:,} drafts quoted", f"{ours:.2f} s", beside, f"{ours / plain:.1f}")
    yield Row(f"{len(tight):,} quoted over a budget of 40", f"{over:.2f} s", beside, f"{over / plain:.1f}")
    yield Row(f"{len(orders):,} cost sheets", f"{sheets:.2f} s", beside, f"{sheets / plain:.1f}")


def draft_with(draft: Draft, budget: Decimal) -> Draft:
    return replace(draft, budget=Cell(budget, sure=True))
