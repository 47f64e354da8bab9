"""The house rules: one commented TOML file, checked, as frozen models. What the baker sets once."""

from __future__ import annotations

import os
import re
import tomllib
from datetime import date, time
from decimal import Decimal
from functools import cached_property
from importlib.resources import files
from pathlib import Path
from typing import Annotated, Any, Literal
from zoneinfo import ZoneInfo, available_timezones

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

from intake.clock import zone_of
from intake.house_kitchen import KitchenPart, Spans
from intake.house_mail import MailPart
from intake.house_rates import (
    ByLevel,
    CostsPart,
    Currency,
    LocaleName,
    ParcelsPart,
    RateChange,
    RatesPart,
    TillPart,
    absurd,
    changed,
    rates_on,
)
from intake.house_recipes import (
    CookiesPart,
    IcingPart,
    IngredientPart,
    LabelsPart,
    PapersPart,
    RecipePart,
    default,
)
from intake.model import HouseWord, OrdertinError
from intake.money import HOME

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]

Minutes = Annotated[int, Field(ge=0, le=10_080)]


def _known_zone(name: str) -> str:
    if name and name not in available_timezones():
        raise ValueError('a time zone such as "America/Chicago", or "" for this machine\'s')
    return name




class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", ignored_types=(cached_property,))


class HousePart(_Part):
    name: str = Field(min_length=1, max_length=120)
    baker: str = ""
    place: str = ""
    senders: tuple[str, ...] = ()
    timezone: Annotated[str, AfterValidator(_known_zone)] = ""
    currency: Currency = "USD"
    locale: LocaleName = HOME
    language: Literal["en", "es"] = "en"
    sales_region: str = ""


class ReadingPart(_Part):
    date_order: Literal["MDY", "DMY", "YMD"] = "MDY"
    next_weekday: Literal["coming", "week after"] = "week after"
    themes: tuple[str, ...] = ()
    flavors: tuple[str, ...] = ()
    words: tuple[HouseWord, ...] = ()


class InboxPart(_Part):
    columns: dict[Literal["sender", "time", "date", "clock", "text", "to", "mine", "conversation", "subject"], str] = {}


class HoursPart(_Part):
    monday: Spans = ()
    tuesday: Spans = ()
    wednesday: Spans = ()
    thursday: Spans = ()
    friday: Spans = ()
    saturday: Spans = ()
    sunday: Spans = ()
    blocked: tuple[date, ...] = ()
    handover_time: time = time(17)

    def on(self, day: date) -> tuple[tuple[time, time], ...]:
        """The working hours of one day, in order; none on a blocked day."""
        if day in self.blocked:
            return ()
        spans: tuple[tuple[time, time], ...] = getattr(self, WEEKDAYS[day.weekday()])
        return spans


class OvenPart(_Part):
    trays: int = Field(ge=1, le=50)
    cookies_per_tray: int = Field(ge=1, le=500)
    bake_minutes: int = Field(ge=1, le=240)
    turn_minutes: Minutes


class StepsPart(_Part):
    mix_dough_batch: Minutes
    cookies_per_batch: int = Field(ge=1, le=5000)
    cut_each: Decimal = Field(ge=0, le=240)
    mix_icing: Minutes
    color_each: Minutes
    flood_each: ByLevel
    detail_each: ByLevel
    letter_each: Decimal = Field(ge=0, le=240)
    pack_each: Decimal = Field(ge=0, le=240)
    pack_order: Minutes
    post_office: Minutes


class WaitsPart(_Part):
    chill: Minutes
    cool: Minutes
    crust: Minutes
    dry_before_detail: Minutes
    dry_before_pack: Minutes


class KeepingPart(_Part):
    fresh_days: int = Field(ge=1, le=365)
    dough_days: int = Field(ge=0, le=60)


class ShippingPart(_Part):
    transit_days: int = Field(ge=0, le=30)
    send_on: tuple[Weekday, ...] = Field(min_length=1)


class ReplyPart(_Part):
    greeting: str = "Hi {name},"
    sign_off: str = "Thank you,"
    tone: Literal["brief", "warm"] = "brief"
    allergens: str = Field(min_length=1)


class House(_Part):
    """All the house rules. Money in `house.currency`, durations in minutes."""

    house: HousePart
    reading: ReadingPart
    inbox: InboxPart = InboxPart()
    rates: RatesPart
    rates_later: tuple[RateChange, ...] = ()
    hours: HoursPart
    oven: OvenPart
    steps: StepsPart
    waits: WaitsPart
    keeping: KeepingPart
    shipping: ShippingPart
    reply: ReplyPart
    mail: MailPart = MailPart()
    parcels: ParcelsPart = ParcelsPart()
    costs: CostsPart = CostsPart()
    till: TillPart = TillPart()
    recipes: dict[str, RecipePart] = Field(default_factory=default("recipes", dict[str, RecipePart]))
    ingredients: dict[str, IngredientPart] = Field(default_factory=default("ingredients", dict[str, IngredientPart]))
    cookies: CookiesPart = Field(default_factory=default("cookies", CookiesPart))
    icing: IcingPart = Field(default_factory=default("icing", IcingPart))
    labels: LabelsPart = Field(default_factory=default("labels", LabelsPart))
    papers: PapersPart = Field(default_factory=default("papers", PapersPart))
    kitchen: KitchenPart = KitchenPart()

    @cached_property
    def zone(self) -> ZoneInfo:
        return zone_of(self.house.timezone)

    def rates_on(self, day: date) -> RatesPart:
        """The rate card of a day: `rates` with the changes of `rates_later` up to it."""
        return rates_on(self.rates, self.rates_later, day)


def default_text() -> str:
    """The house rules a new baker starts from, comments and all."""
    return files("intake").joinpath("default_house.toml").read_text(encoding="utf-8")


def default_house() -> House:
    return parse(default_text(), where="default house rules")


def load(path: Path) -> House:
    """The house rules at `path`, made from the defaults where there are none.

    Raises OrdertinError that names the line and what was expected.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        text = default_text()
        _create(path, text)
    except UnicodeDecodeError:
        raise OrdertinError("this is not a text file in UTF-8", where=str(path), todo="Save it as UTF-8") from None
    except OSError as error:
        raise OrdertinError(
            f"the house rules can't be read: {error.strerror}", where=str(path), todo="Check the folder's permissions"
        ) from None
    return parse(text, where=str(path))


def _create(path: Path, text: str) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with open(handle, "w", encoding="utf-8") as file:
            file.write(text)
    except OSError as error:
        raise OrdertinError(
            f"the house rules can't be written: {error.strerror}",
            where=str(path),
            todo="Make the folder writable, or name another in ORDERTIN_HOME",
        ) from None


def parse(text: str, where: str = "house rules") -> House:
    """House rules from TOML. Raises OrdertinError naming the first line that is wrong and what was expected."""
    try:
        table = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        raise OrdertinError(
            f"this is not TOML: {str(error)[:1].lower()}{str(error)[1:]}",
            where=where,
            todo="Mend that line, or move the file away to start from the defaults",
        ) from None
    try:
        house = House.model_validate(table)
    except ValidationError as error:
        raise _refusal(error, text, where) from None
    cards = [(date.min, house.rates)]
    for place, change in enumerate(house.rates_later):
        try:
            cards.append((change.starts, changed(cards[-1][1], change)))
        except ValidationError as error:
            raise _refusal(error, text, where, ("rates_later", str(place))) from None
    if wrong := absurd(cards, house.house.currency):
        raise OrdertinError(wrong[1], where=_place(text, where, wrong[0]), todo="Change it and try again")
    return house


def _refusal(error: ValidationError, text: str, where: str, within: tuple[str, ...] = ()) -> OrdertinError:
    # A misspelt key shows up as a missing one too: the key as written is the one to name.
    first = min(error.errors(include_url=False), key=lambda e: e["type"] != "extra_forbidden")
    path = (*within, *(str(part) for part in first["loc"]))
    return OrdertinError(_expected(path, first), where=_place(text, where, path), todo="Change it and try again")


def _place(text: str, where: str, path: tuple[str, ...]) -> str:
    line = _line_of(text, path)
    return f"{where}, line {line}" if line else where


def _expected(path: tuple[str, ...], error: Any) -> str:
    name = ".".join(part for part in path if not part.isdigit())
    given = error.get("input")
    match error["type"]:
        case "missing":
            return f"`{name}` is missing"
        case "extra_forbidden":
            return f"`{name}` is not a house rule{_nearest(path)}"
        case "value_error":
            return f"`{name}` must be {error['ctx']['error']}; it is {given!r}"
        case _:
            message = error["msg"].replace("Input should be ", "").replace("Value error, ", "")
            return f"`{name}` must be {message}; it is {given!s:.60}"


def _nearest(path: tuple[str, ...]) -> str:
    from difflib import get_close_matches

    model: Any = House
    for part in path[:-1]:
        known = getattr(model, "model_fields", {}).get(part)
        if known is None:
            return ""
        model = known.annotation
    close = get_close_matches(path[-1], getattr(model, "model_fields", {}), n=1)
    return f"; did you mean `{close[0]}`?" if close else ""


def _line_of(text: str, path: tuple[str, ...]) -> int:
    """The line (from 1) that sets the key at `path`, or its table's header; 0 where it can't be told."""
    header = found = 0
    table: tuple[str, ...] = ()
    seen: dict[str, int] = {}
    for number, line in enumerate(text.split("\n"), 1):
        if several := re.match(r"\s*\[\[([\w.\-]+)\]\]", line):
            seen[several[1]] = seen.get(several[1], -1) + 1
            table = (*several[1].split("."), str(seen[several[1]]))
            if table == path[: len(table)]:
                header = number
        elif opened := re.match(r"\s*\[([\w.\-]+)\]", line):
            table = tuple(opened[1].split("."))
            if table == path[: len(table)]:
                header = number
        elif (key := re.match(r'\s*"?([\w\-]+)"?\s*=', line)) and (*table, key[1]) == path[: len(table) + 1]:
            found = number
    return found or header
