"""What the baker types into one field of the slip, as a value, and a value as she would type it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date, time
from decimal import Decimal, InvalidOperation
from typing import Any

from intake.model import Design, Due, OrdertinError
from tui.words import DUE_IS, MONTHS

CHOICES: Mapping[str, tuple[str, ...]] = {
    "handover": ("pickup", "ship", "deliver"),
    "due_is": ("handover", "arrival", "event"),
    "occasion": (
        "birthday", "baby shower", "bridal shower", "wedding", "engagement", "anniversary", "graduation",
        "gender reveal", "baptism", "holiday", "retirement", "corporate", "team", "school", "housewarming",
        "thank you", "memorial", "other",
    ),
    "cancelled": ("yes", "no"),
}  # fmt: skip
LISTS = frozenset({"designs", "lettering", "colors", "flavors", "dietary", "packaging"})
_FORMS: Mapping[str, str] = {
    "count": "a number of cookies, such as 24, or 2 dozen",
    "due": "a day such as 14 Mar, 14 Mar 2pm or 2027-03-14; two days with \u201cto\u201d between them for a window",
    "designs": "such as 12 unicorns; 12 rainbows; stars",
    "lettering": "one text for each cookie, a semicolon between two",
    "age": "a number",
    "budget": "an amount, such as 120",
    "email": "an address such as dana@example.com",
}
_COUNT = re.compile(r"(\d+|\?)\s*x\s+(.+)|(\d+)\s+(.+)", re.S)
_DOZENS = re.compile(r"(\d+|a)(\.5)?\s*(?:dozen|doz\.?|dz\.?)(\s+and\s+a\s+half)?", re.I)
_CLOCK = re.compile(r"(\d{1,2})(?::(\d\d))?\s*(am|pm)?|noon", re.I)
_ISO = re.compile(r"(\d{4})-(\d\d?)-(\d\d?)")
_WEEKDAY = r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+)?"
_MONTH = rf"({'|'.join(MONTHS)})[a-z]*\.?"
_DAY_MONTH = re.compile(rf"{_WEEKDAY}(\d\d?)(?:st|nd|rd|th)?\s+(?:of\s+)?{_MONTH}(?:,?\s+(\d{{4}}))?", re.I)
_MONTH_DAY = re.compile(rf"{_WEEKDAY}{_MONTH}\s+(\d\d?)(?:st|nd|rd|th)?(?:,?\s+(\d{{4}}))?", re.I)


def form(name: str) -> str:
    """What to type, in words."""
    if name in CHOICES:
        return f"one of: {', '.join(_shown(name, choice) for choice in CHOICES[name])}"
    return _FORMS.get(name, "a semicolon between two" if name in LISTS else "a few words")


def typed(name: str, value: Any) -> str:
    """`value` as it would be typed; `value_of` reads it back."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case Due(first, last, at):
            days = first.isoformat() if first == last else f"{first.isoformat()} to {last.isoformat()}"
            return f"{days} {at:%H:%M}" if at else days
        case tuple() if name == "designs":
            return "; ".join(_typed_design(design) for design in value)
        case tuple():
            return "; ".join(value)
        case _:
            return _shown(name, str(value))


def _shown(name: str, choice: str) -> str:
    """A fixed word as the slip shows it."""
    return DUE_IS.get(choice, choice) if name == "due_is" else choice


def _typed_design(design: Design) -> str:
    if design.count is not None:
        return f"{design.count} x {design.what}"
    return f"? x {design.what}" if _COUNT.fullmatch(design.what) else design.what


def value_of(name: str, text: str, today: date) -> Any:
    """The value that `text` gives the field `name`, None where it is empty.

    A day without a year is the next such day from `today` on. Raises OrdertinError that says what to type instead.
    """
    text = text.strip()
    if not text:
        return () if name in LISTS else None
    try:
        match name:
            case "count":
                return _count(text)
            case "age":
                return _whole(text, 0, 150)
            case "budget":
                return _amount(text)
            case "due":
                return _due(text, today)
            case "designs":
                return tuple(_design(part) for part in _parts(text))
            case "cancelled":
                return {"yes": True, "no": False}[text.lower()]
            case _ if name in LISTS:
                return _parts(text)
            case _ if name in CHOICES:
                return next(choice for choice in CHOICES[name] if text.lower() in {choice, _shown(name, choice)})
            case _:
                return " ".join(text.split())
    except (ValueError, KeyError, StopIteration, InvalidOperation):
        raise OrdertinError("this field can't hold that", todo=f"Type {form(name)}", excerpt=text) from None


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part for piece in text.split(";") if (part := " ".join(piece.split())))


def _whole(text: str, low: int, high: int) -> int:
    number = int(text)
    if not low <= number <= high:
        raise ValueError(text)
    return number


def _count(text: str) -> int:
    if dozens := _DOZENS.fullmatch(text):
        whole = 1 if dozens[1] in "aA" else int(dozens[1])
        return _whole(str(12 * whole + (6 if dozens[2] or dozens[3] else 0)), 1, 100_000)
    return _whole(text.removesuffix("cookies").strip().replace(",", ""), 1, 100_000)


def _amount(text: str) -> Decimal:
    amount = Decimal(re.sub(r"[^\d.,\-]", "", text).replace(",", ""))
    if not 0 <= amount <= 1_000_000:
        raise ValueError(text)
    return amount


def _design(text: str) -> Design:
    found = _COUNT.fullmatch(text)
    if not found:
        return Design(text)
    number, what = found[1] or found[3], found[2] or found[4]
    return Design(what, None if number == "?" else _whole(number, 1, 100_000))


def _due(text: str, today: date) -> Due:
    first, *rest = re.split(r"\s+to\s+", text, maxsplit=1)
    start, at = _day_and_clock(first, today)
    if not rest:
        return Due.on(start, at)
    end, late = _day_and_clock(rest[0], today)
    if end < start:
        raise ValueError(text)
    return Due(start, end, late or at)


def _day_and_clock(text: str, today: date) -> tuple[date, time | None]:
    for shape in (_ISO, _DAY_MONTH, _MONTH_DAY):
        if found := shape.match(text):
            rest = text[found.end() :].removeprefix(",").strip().removeprefix("at ").strip()
            day = _day(shape, found, today)
            return day, _clock(rest) if rest else None
    raise ValueError(text)


def _day(shape: re.Pattern[str], found: re.Match[str], today: date) -> date:
    if shape is _ISO:
        return date(int(found[1]), int(found[2]), int(found[3]))
    number, name = (found[1], found[2]) if shape is _DAY_MONTH else (found[2], found[1])
    month = MONTHS.index(name.title()) + 1
    if found[3]:
        return date(int(found[3]), month, int(number))
    return next(
        day for year in range(today.year, today.year + 9) if (day := _real(year, month, int(number))) and day >= today
    )


def _real(year: int, month: int, number: int) -> date | None:
    try:
        return date(year, month, number)
    except ValueError:
        return None


def _clock(text: str) -> time:
    found = _CLOCK.fullmatch(text)
    if not found:
        raise ValueError(text)
    if text.lower() == "noon":
        return time(12)
    hour, half = int(found[1]), (found[3] or "").lower()
    if half and not 1 <= hour <= 12:
        raise ValueError(text)
    return time((hour % 12) + 12 * (half == "pm") if half else hour, int(found[2] or 0))
