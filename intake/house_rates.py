"""The money part of the house rules: the rate card with its dated changes, parcels, costs, the till's sales cap.

Checked one by one by pydantic, and together by `absurd`: what no single figure shows, such as a dozen that costs less
than one of its cookies' lettering.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from functools import cached_property, lru_cache
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

from intake.money import CURRENCIES, HOME, decimals, known_locale

Money = Annotated[Decimal, Field(ge=0, le=100_000_000)]
Price = Annotated[Decimal, Field(gt=0, le=100_000_000)]
Percent = Annotated[Decimal, Field(ge=0, le=100)]
Inches = Annotated[Decimal, Field(gt=0, le=60)]
_NAME = Field(min_length=1, max_length=40)
# Currencies worth between a half and two of a dollar: of these, an amount too large or too small to be meant is known.
_LIKE_THE_DOLLAR = frozenset({"USD", "EUR", "GBP", "CAD", "AUD", "NZD", "CHF", "SGD"})


class Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", ignored_types=(cached_property,))


def _currency(code: str) -> str:
    if len(code) != 3 or not (code.isascii() and code.isupper() and code.isalpha()):
        raise ValueError('a three-letter currency code such as "USD"')
    if code not in CURRENCIES:
        raise ValueError('a currency of ISO 4217 such as "USD"')
    return code


def _locale(name: str) -> str:
    if name != HOME and not known_locale(name):
        raise ValueError('a language and country such as "en_US"')
    return name


Currency = Annotated[str, AfterValidator(_currency)]
LocaleName = Annotated[str, AfterValidator(_locale)]


class ByLevel(Part):
    """One figure for each of the three levels of elaborateness."""

    plain: Decimal = Field(ge=0, le=100_000_000)
    detailed: Decimal = Field(ge=0, le=100_000_000)
    elaborate: Decimal = Field(ge=0, le=100_000_000)

    def of(self, level: str) -> Decimal:
        figure: Decimal = getattr(self, level)
        return figure


class Size(Part):
    """A size of `cookies.sizes`: what its dozen costs, in per cent of the usual dozen."""

    name: str = _NAME
    percent: Decimal = Field(gt=0, le=1000)


class Discount(Part):
    from_count: int = Field(ge=2, le=100_000)
    percent: Decimal = Field(gt=0, lt=100)


class Rush(Part):
    """With fewer than `under_days` days' notice: `percent` of the work and packing, or a `flat` amount, or both."""

    under_days: int = Field(ge=1, le=365)
    percent: Percent = Decimal(0)
    flat: Money = Decimal(0)


class Band(Part):
    """Up to so far, or so heavy, this price."""

    up_to: Decimal = Field(gt=0, le=10_000)
    price: Money


def _rising(bands: Sequence[Band]) -> Sequence[Band]:
    reach = [band.up_to for band in bands]
    if reach != sorted(set(reach)):
        raise ValueError("bands whose `up_to` rises from one to the next")
    return bands


Bands = Annotated[tuple[Band, ...], Field(max_length=100), AfterValidator(_rising)]


def _delivery(given: Any) -> Any:
    """One price for any distance may be written as a bare number."""
    return given if isinstance(given, list | tuple) else [{"up_to": 10_000, "price": given}]


class RatesPart(Part):
    """What one order costs the customer, in the house's currency."""

    per_dozen: ByLevel
    sizes: tuple[Size, ...] = Field(default=(), max_length=20)
    minimum_count: int = Field(ge=1, le=10_000)
    minimum_total: Money = Decimal(0)
    lettering_each: Money
    extra_design: Money
    free_designs: int = Field(ge=0, le=100)
    extra_color: Money
    free_colors: int = Field(ge=0, le=100)
    individually_bagged_each: Money
    heat_sealed_each: Money
    ribbon_each: Money
    tags_each: Money
    gift_box_dozen: Money
    discounts: tuple[Discount, ...] = Field(default=(), max_length=20)
    shipping: Money
    shipping_pounds: Bands = ()
    delivery: Annotated[Bands, BeforeValidator(_delivery)]
    rush: tuple[Rush, ...] = Field(default=(), max_length=20)
    deposit_percent: Percent
    balance_days: int = Field(ge=0, le=365)
    valid_days: int = Field(ge=1, le=365)
    tax_percent: Decimal = Field(default=Decimal(0), ge=0, le=50)
    tax_on_the_way: bool = False
    round_to: Decimal = Field(gt=0, le=1_000_000)
    rounding: Literal["half up", "half even", "up"] = "half up"


class RateChange(BaseModel):
    """Rates that change on the day it `starts`; those that are not named stay as they were. See `changed`."""

    model_config = ConfigDict(frozen=True, extra="allow")

    starts: date

    def __hash__(self) -> int:
        return hash(self.starts)


class ParcelsPart(Part):
    """What goes by post: how many cookies in a box, its outer size, and by whose rule the box itself is weighed."""

    cookies: int = Field(default=24, ge=1, le=1000)
    box: tuple[Inches, Inches, Inches] = (Decimal(12), Decimal(10), Decimal(6))
    box_grams: int = Field(default=350, ge=0, le=20_000)
    cookie_grams: int = Field(default=42, ge=1, le=2000)
    rule: Literal["post", "courier"] = "post"


class Tool(Part):
    """Something bought once and used for years."""

    name: str = _NAME
    price: Price
    years: Decimal = Field(ge=1, le=100)


class Yearly(Part):
    name: str = _NAME
    price: Price


class CostsPart(Part):
    """What an order costs the baker beside its ingredients. `hour` is what an hour of hers counts as."""

    hour: Money = Decimal("18.00")
    floor_hour: Money = Decimal("15.00")
    oven_hour: Money = Decimal("0.60")
    bag_each: Money = Decimal("0.08")
    seal_each: Money = Decimal("0.02")
    ribbon_each: Money = Decimal("0.10")
    tag_each: Money = Decimal("0.08")
    gift_box: Money = Decimal("1.20")
    plain_box: Money = Decimal("0.60")
    mailing_box: Money = Decimal("2.50")
    postage_pound: Money = Decimal("3.00")
    distance: Money = Decimal("0.30")
    mile_minutes: Decimal = Field(default=Decimal(2), ge=0, le=60)
    fee_percent: Percent = Decimal(0)
    fee_each: Money = Decimal(0)
    cookies_a_year: int = Field(default=2000, ge=1, le=10_000_000)
    tools: tuple[Tool, ...] = Field(default=(), max_length=200)
    yearly: tuple[Yearly, ...] = Field(default=(), max_length=200)


class TillPart(Part):
    """The most that may be sold in a year where the baker lives, as she has been told; 0 for none."""

    sales_cap: Money = Decimal(0)
    year_starts: int = Field(default=1, ge=1, le=12)


Wrong = tuple[tuple[str, ...], str]


def absurd(cards: Sequence[tuple[date, RatesPart]], currency: str) -> Wrong | None:
    """The first rate that can't be meant, as its place in the file and a word on why; None where all can."""
    for i, (starts, card) in enumerate(cards):
        place = ("rates_later", str(i - 1)) if i else ("rates",)
        if i and starts <= cards[i - 1][0]:
            what = f"`rates_later.starts` is {starts}, not after {cards[i - 1][0]}: put the changes in order"
            return (*place, "starts"), what
        for name, what in _doubts(card, currency):
            return (*place, name), f"`{place[0]}.{name}` {what}"
    return None


def changed(rates: RatesPart, change: RateChange) -> RatesPart:
    """`rates` as they are from the change on. Raises pydantic's ValidationError for one that is no rate."""
    return RatesPart.model_validate({**dict(rates), **(change.model_extra or {})})


@lru_cache(maxsize=64)
def rates_on(rates: RatesPart, later: tuple[RateChange, ...], day: date) -> RatesPart:
    """The rate card of a day."""
    for change in later:
        if change.starts <= day:
            rates = changed(rates, change)
    return rates


@lru_cache(maxsize=64)
def rates_text(rates: RatesPart) -> str:
    """A rate card as JSON, to be kept with what it priced."""
    return rates.model_dump_json()


@lru_cache(maxsize=64)
def rates_of_text(text: str) -> RatesPart | None:
    """The rate card that `rates_text` made `text` from; None where there is none that can be read."""
    try:
        return RatesPart.model_validate_json(text) if text else None
    except ValidationError:
        return None


def _doubts(rates: RatesPart, currency: str) -> Iterator[tuple[str, str]]:
    plain, detailed, elaborate = (rates.per_dozen.of(level) for level in ("plain", "detailed", "elaborate"))
    if plain == 0:
        yield "per_dozen", "gives plain cookies away for nothing: set what a dozen costs"
    if not plain <= detailed <= elaborate:
        yield "per_dozen", f"must rise with the work: plain {plain}, detailed {detailed}, elaborate {elaborate}"
    if currency in _LIKE_THE_DOLLAR and elaborate > 2000:
        yield "per_dozen", f"is {elaborate} {currency} for one dozen: is the point in its place?"
    if currency in _LIKE_THE_DOLLAR and 0 < plain < 1:
        yield "per_dozen", f"is {plain} {currency} for a whole dozen: is the point in its place?"
    for name in ("lettering_each", "individually_bagged_each", "heat_sealed_each", "ribbon_each", "tags_each"):
        if (each := getattr(rates, name)) > elaborate:
            yield name, f"is {each} for one cookie, more than a dozen of the most elaborate ({elaborate})"
    dear = {name: getattr(rates, name) for name in ("extra_design", "extra_color", "gift_box_dozen", "shipping")}
    dear |= {name: max((b.price for b in getattr(rates, name)), default=0) for name in ("delivery", "shipping_pounds")}
    for name, each in dear.items():
        if each > 10 * elaborate:
            yield name, f"is {each}, more than ten dozen of the most elaborate ({elaborate} each)"
    if rates.minimum_count > 1200:
        yield "minimum_count", f"turns away every order under {rates.minimum_count} cookies"
    if rates.round_to > plain:
        yield "round_to", f"is {rates.round_to}, more than a whole dozen costs ({plain})"
    smallest = Decimal(1).scaleb(-decimals(currency))
    if rates.round_to % smallest and rates.round_to > smallest:
        yield "round_to", f"is {rates.round_to}, and the smallest amount of {currency} is {smallest}"
    names = [" ".join(size.name.casefold().split()) for size in rates.sizes]
    if len(set(names)) < len(names):
        yield "sizes", "name one size twice"
    steps = {"rush": [r.under_days for r in rates.rush], "discounts": [d.from_count for d in rates.discounts]}
    for name, numbers in steps.items():
        if len(set(numbers)) < len(numbers):
            yield name, "sets two things for the same number"
