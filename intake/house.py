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
from intake.model import HouseWord, OrdertinError

WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]

Money = Annotated[Decimal, Field(ge=0, le=100_000)]
Minutes = Annotated[int, Field(ge=0, le=10_080)]
Percent = Annotated[Decimal, Field(ge=0, le=100)]


def _known_zone(name: str) -> str:
    if name and name not in available_timezones():
        raise ValueError('a time zone such as "America/Chicago", or "" for this machine\'s')
    return name


def _currency(code: str) -> str:
    if not re.fullmatch(r"[A-Z]{3}", code):
        raise ValueError('a three-letter currency code such as "USD"')
    return code


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", ignored_types=(cached_property,))


class ByLevel(_Part):
    """One figure for each of the three levels of elaborateness."""

    plain: Decimal = Field(ge=0, le=100_000)
    detailed: Decimal = Field(ge=0, le=100_000)
    elaborate: Decimal = Field(ge=0, le=100_000)

    def of(self, level: str) -> Decimal:
        figure: Decimal = getattr(self, level)
        return figure


class HousePart(_Part):
    name: str = Field(min_length=1, max_length=120)
    baker: str = ""
    place: str = ""
    senders: tuple[str, ...] = ()
    timezone: Annotated[str, AfterValidator(_known_zone)] = ""
    currency: Annotated[str, AfterValidator(_currency)] = "USD"
    language: Literal["en", "es"] = "en"
    sales_region: str = ""


class ReadingPart(_Part):
    date_order: Literal["MDY", "DMY", "YMD"] = "MDY"
    next_weekday: Literal["coming", "week after"] = "week after"
    themes: tuple[str, ...] = ()
    flavors: tuple[str, ...] = ()
    words: tuple[HouseWord, ...] = ()


class RatesPart(_Part):
    per_dozen: ByLevel
    minimum_count: int = Field(ge=1, le=10_000)
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
    shipping: Money
    delivery: Money
    rush_days: int = Field(ge=0, le=365)
    rush_percent: Percent
    deposit_percent: Percent
    balance_days: int = Field(ge=0, le=365)
    valid_days: int = Field(ge=1, le=365)
    round_to: Decimal = Field(gt=0, le=100)


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
    allergens: str = Field(min_length=1)


class House(_Part):
    """All the house rules. Money in `house.currency`, durations in minutes."""

    house: HousePart
    reading: ReadingPart
    rates: RatesPart
    hours: HoursPart
    oven: OvenPart
    steps: StepsPart
    waits: WaitsPart
    keeping: KeepingPart
    shipping: ShippingPart
    reply: ReplyPart
    kitchen: KitchenPart = KitchenPart()

    @cached_property
    def zone(self) -> ZoneInfo:
        return zone_of(self.house.timezone)


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
        return House.model_validate(table)
    except ValidationError as error:
        # A misspelt key shows up as a missing one too: the key as written is the one to name.
        first = min(error.errors(include_url=False), key=lambda e: e["type"] != "extra_forbidden")
        path = tuple(str(part) for part in first["loc"])
        line = _line_of(text, path)
        place = f"{where}, line {line}" if line else where
        raise OrdertinError(_expected(path, first), where=place, todo="Change it and try again") from None


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
    for number, line in enumerate(text.split("\n"), 1):
        if opened := re.match(r"\s*\[([\w.\-]+)\]", line):
            table = tuple(opened[1].split("."))
            if table == path[: len(table)]:
                header = number
        elif (key := re.match(r'\s*"?([\w\-]+)"?\s*=', line)) and (*table, key[1]) == path[: len(table) + 1]:
            found = number
    return found or header
