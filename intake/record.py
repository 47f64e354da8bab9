"""Drafts, quotes and readings as plain JSON-able values, and back.

A record leaves out what is at its default. Money is a text (`"60.00"`), days and moments are ISO 8601, a due day is
`{"date", "time"}` and a window `{"from", "to"}` with a `"time"` where one was said. Only `reading_plain`, which is
for others to read, gives the budget as a number.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import MISSING, fields, is_dataclass
from datetime import date, datetime, time
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Final, TypeVar, Union, get_args, get_origin, get_type_hints

from intake.clean import clean
from intake.model import DRAFT_FIELDS, Cell, Design, Draft, Due, Quote, Reading, Shift, Terms

CHOICES: Final = {"handover": ("pickup", "ship", "deliver"), "due_is": ("handover", "arrival", "event")}
_LONGEST_TEXT, _MOST_ITEMS = 500, 200
_LIMITS = {"count": (1, 100_000), "age": (0, 150)}


def to_plain(thing: Any) -> Any:
    """Any of the model's values (a Draft, a Quote, a Reading, a Cell, a Due, ...) as JSON-able values."""
    if thing is None or isinstance(thing, bool | int | float):
        return thing
    if isinstance(thing, str):
        return str(thing)
    if isinstance(thing, Decimal):
        return str(thing)
    if isinstance(thing, Due):
        return _due_plain(thing)
    if isinstance(thing, date | time):
        return thing.isoformat()
    if isinstance(thing, tuple | list):
        return [to_plain(item) for item in thing]
    if is_dataclass(thing):
        return {f.name: to_plain(v) for f in fields(thing) if (v := getattr(thing, f.name)) != _default(f)}
    raise TypeError(f"no plain form for {type(thing).__name__}")


def _default(f: Any) -> Any:
    return f.default_factory() if f.default_factory is not MISSING else f.default


def draft_of(plain: dict[str, Any]) -> Draft:
    """The Draft that `to_plain` made `plain` from. Raises ValueError where it is not one."""
    draft: Draft = _of(Draft, plain)
    return draft


def quote_of(plain: dict[str, Any]) -> Quote:
    """The Quote that `to_plain` made `plain` from. Raises ValueError where it is not one."""
    quote: Quote = _of(Quote, plain)
    return quote


def terms_of(plain: dict[str, Any]) -> Terms:
    """The Terms that `to_plain` made `plain` from. Raises ValueError where they are none."""
    terms: Terms = _of(Terms, plain)
    return terms


def reading_of(plain: dict[str, Any]) -> Reading:
    """The Reading that `to_plain` made `plain` from, trail and all. Raises ValueError where it is not one."""
    reading: Reading = _of(Reading, plain)
    return reading


def shifts_of(plain: Any) -> tuple[Shift, ...]:
    """The Shifts that `to_plain` made `plain` from. Raises ValueError where they are none."""
    if not isinstance(plain, list) or not all(isinstance(each, dict) for each in plain):
        raise ValueError(f"a list of changed fields; it is {plain!s:.60}")
    return tuple(_shift_of(each) for each in plain)


def _shift_of(plain: dict[str, Any]) -> Shift:
    field = plain.get("field")
    if field not in DRAFT_FIELDS or not {"was", "reads"} <= plain.keys():
        raise ValueError(f"a changed field; it is {plain!s:.60}")
    kind = _hints(Draft)[field]
    was = plain["was"]
    return Shift(field, None if was is None else _of(get_args(kind)[0], was), _of(kind, plain["reads"]))


def _due_plain(due: Due) -> dict[str, str | None]:
    at = due.time.isoformat(_grain(due.time)) if due.time else None
    if not due.is_window:
        return {"date": due.first.isoformat(), "time": at}
    window: dict[str, str | None] = {"from": due.first.isoformat(), "to": due.last.isoformat()}
    return {**window, "time": at} if at else window


def _grain(at: time) -> str:
    return "auto" if at.second or at.microsecond else "minutes"


def _due_of(plain: Any) -> Due:
    if not isinstance(plain, dict):
        raise ValueError(f"a day or a window of days; it is {plain!s:.60}")
    first = plain.get("date") or plain.get("from")
    last = plain.get("date") or plain.get("to")
    if not isinstance(first, str) or not isinstance(last, str):
        raise ValueError(f"a day or a window of days; it is {plain!s:.60}")
    at = plain.get("time")
    return Due(date.fromisoformat(first), date.fromisoformat(last), time.fromisoformat(at) if at else None)


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)


def _of(kind: Any, plain: Any, item: Any = None) -> Any:
    """A value of type `kind` from its plain form; `item` is what the type variable of a Cell stands for."""
    return _reader(kind, item)(plain)


@cache
def _reader(kind: Any, item: Any = None) -> Callable[[Any], Any]:
    """What reads values of type `kind`, found out once a type: a book holds thousands of drafts."""
    if isinstance(kind, TypeVar):
        kind = item
    origin = get_origin(kind)
    if origin in (Union, UnionType):
        given = _reader(next(arg for arg in get_args(kind) if arg is not NoneType), item)
        return lambda plain: None if plain is None else given(plain)
    if origin is tuple:
        return _items(_reader(get_args(kind)[0], item))
    if origin is Cell:
        return _record(Cell, get_args(kind)[0])
    if kind is Due:
        return _due_of
    if is_dataclass(kind):
        return _record(kind, item)
    if kind is Decimal:
        return _decimal
    if not isinstance(kind, type):
        raise TypeError(f"no plain form for {kind}")
    if issubclass(kind, StrEnum):
        return kind
    return _moment(kind) if kind in (date, datetime, time) else _same(kind)


def _items(each: Callable[[Any], Any]) -> Callable[[Any], Any]:
    def items(plain: Any) -> Any:
        if not isinstance(plain, list | tuple):
            raise ValueError(f"a list; it is {plain!s:.60}")
        return tuple(map(each, plain))

    return items


def _moment(kind: Any) -> Callable[[Any], Any]:
    same = _same(kind)
    return lambda plain: kind.fromisoformat(plain) if isinstance(plain, str) else same(plain)


def _same(kind: type) -> Callable[[Any], Any]:
    def same(plain: Any) -> Any:
        if type(plain) is not kind:
            raise ValueError(f"{_a(kind)}; it is {plain!s:.60}")
        return plain

    return same


def _record(kind: Any, item: Any) -> Callable[[Any], Any]:
    hints = _hints(kind)
    names = tuple(f.name for f in fields(kind))

    def record(plain: Any) -> Any:
        if not isinstance(plain, dict):
            raise ValueError(f"{_a(kind)}; it is {plain!s:.60}")
        try:
            return kind(**{name: _reader(hints[name], item)(plain[name]) for name in names if name in plain})
        except TypeError as error:
            raise ValueError(f"{_a(kind)}: {error}") from None

    return record


def _a(kind: type) -> str:
    return {int: "a whole number", str: "a text", bool: "yes or no"}.get(kind, f"a {kind.__name__.lower()}")


def _decimal(given: Any) -> Decimal:
    try:
        amount = Decimal(str(given))
    except InvalidOperation:
        raise ValueError(f"an amount; it is {given!s:.60}") from None
    if not amount.is_finite():
        raise ValueError(f"an amount; it is {given!s:.60}")
    return amount


def reading_plain(thread_id: str, reading: Reading) -> dict[str, Any]:
    """One thread's reading as others read it: `{"id", "intent", "orders": [{field: cell}]}`.

    A cell is `{"value", "sure", "evidence": [{"message", "start", "end"}], "why"}`; a field without a value is absent.
    """
    return {
        "id": thread_id,
        "intent": _cell_plain("intent", reading.intent),
        "orders": [
            {
                name: _cell_plain(name, cell)
                for name in DRAFT_FIELDS
                if not (cell := draft.cell(name)).missing and cell.value is not False
            }
            for draft in reading.drafts
        ],
    }


def _cell_plain(name: str, cell: Cell[Any]) -> dict[str, Any]:
    return {
        "value": _value_plain(cell.value),
        "sure": cell.sure,
        "evidence": [{"message": e.message, "start": e.start, "end": e.end} for e in cell.evidence],
        "why": cell.why,
    }


def _value_plain(value: Any) -> Any:
    if isinstance(value, Decimal):
        return int(value) if value == value.to_integral_value() else float(value)
    if isinstance(value, tuple) and any(isinstance(item, Design) for item in value):
        return [{"what": design.what, "count": design.count} for design in value]
    return to_plain(value)


def value_of(name: str, given: Any) -> Any:
    """What the baker gives for the draft field `name`, as a value of that field; None where it clears the field.

    Takes the value itself, its plain form, or a text: "24", "2026-03-14 14:00", "pink, white", "6 pumpkins, 6 ghosts".
    Each line is one lettering. Raises KeyError for an unknown field, ValueError in a baker's words for a wrong value.
    """
    kind = get_args(_hints(Draft)[name])[0]
    if isinstance(given, str):
        given = clean(given).strip()
    if given is None or given == "" or given == () or given == []:
        return None
    value = _listed(name, kind, given) if get_origin(kind) is tuple else _single(name, kind, given)
    return _within(name, value)


def _single(name: str, kind: Any, given: Any) -> Any:
    if isinstance(given, kind) and type(given) is not bool:
        return given
    if kind is Due:
        return _due_given(given)
    if kind is Decimal:
        return _decimal(given.lstrip("$€£ ") if isinstance(given, str) else given)
    if kind is int and isinstance(given, str) and re.fullmatch(r"\d{1,9}", given):
        return int(given)
    if kind is bool and isinstance(given, str) and given.lower() in ("yes", "no", "true", "false"):
        return given.lower() in ("yes", "true")
    return _of(kind, given)


def _due_given(given: Any) -> Due:
    try:
        if isinstance(given, datetime):
            return Due.on(given.date(), given.time().replace(tzinfo=None))
        if isinstance(given, date):
            return Due.on(given)
        if isinstance(given, str):
            day, _, at = given.replace("T", " ").partition(" ")
            return Due.on(date.fromisoformat(day), time.fromisoformat(at.strip()) if at.strip() else None)
        return _due_of(given)
    except (TypeError, ValueError):
        raise ValueError(f'a day such as "2026-03-14" or "2026-03-14 14:00"; it is {given!s:.60}') from None


def _listed(name: str, kind: Any, given: Any) -> tuple[Any, ...]:
    if isinstance(given, str):
        given = re.split(r"\n" if name == "lettering" else r"[\n,;]", given)
    if not isinstance(given, list | tuple):
        raise ValueError(f"a list; it is {given!s:.60}")
    items = [clean(item).strip() if isinstance(item, str) else item for item in given]
    if name == "designs":
        return tuple(_design(item) for item in items if item)
    return tuple(_of(get_args(kind)[0], item) for item in items if item)


def _design(given: Any) -> Design:
    if isinstance(given, Design):
        return given
    if isinstance(given, str):
        counted = re.fullmatch(r"(\d{1,6})\s+(.+)", given)
        return Design(counted[2], int(counted[1])) if counted else Design(given)
    design: Design = _of(Design, given)
    return design


def _within(name: str, value: Any) -> Any:
    if name in CHOICES and value not in CHOICES[name]:
        raise ValueError(f"{', '.join(CHOICES[name][:-1])} or {CHOICES[name][-1]}; it is {value!s:.60}")
    low, high = _LIMITS.get(name, (None, None))
    if low is not None and high is not None and not low <= value <= high:
        raise ValueError(f"a whole number from {low} to {high:,}; it is {value!s:.60}")
    if isinstance(value, Decimal) and not 0 <= value <= 1_000_000:
        raise ValueError(f"an amount from 0 to 1,000,000; it is {value!s:.60}")
    if isinstance(value, Due) and value.first > value.last:
        raise ValueError("a window of days whose end is after its start")
    texts = value if isinstance(value, tuple) else (value,)
    if len(texts) > _MOST_ITEMS:
        raise ValueError(f"a list of at most {_MOST_ITEMS}; it has {len(texts)}")
    for text in texts:
        text = text.what if isinstance(text, Design) else text
        if isinstance(text, str) and len(text) > _LONGEST_TEXT:
            raise ValueError(f"a text of at most {_LONGEST_TEXT} letters; it has {len(text)}")
    return value


def on_the_party(draft: Draft) -> bool:
    """Whether the day is the party's own, and it is still open when the customer has the cookies.

    Cookies may be delivered to a party at a set time; nobody picks them up, nor awaits a parcel, at its hour.
    """
    due = draft.due.value
    brought = draft.handover.value == "deliver" and due is not None and due.time is not None
    return draft.due_is.value == "event" and not brought


def in_words(value: Any) -> str:
    """A cell's value in one line for the baker: "24", "Sat 14 Mar 2026, 14:00", "6 pumpkins, ghosts", "none"."""
    match value:
        case None | () | "":
            return "none"
        case bool():
            return "yes" if value else "no"
        case Due():
            at = f", {value.time:%H:%M}" if value.time else ""
            return (f"{_day(value.first)} to {_day(value.last)}" if value.is_window else _day(value.first)) + at
        case Design():
            what = in_words(value.what)
            return f"{value.count} {what}" if value.count is not None else what
        case tuple():
            return ", ".join(in_words(item) for item in value)
    return " ".join(str(value).split())


def _day(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"

