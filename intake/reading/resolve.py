"""The only file that imports dateparser: what month and day a clean date phrase names.

dateparser is given nothing but a phrase that our own grammar already believes, and only for the names of months and
the order of their parts. Which year is meant follows from the message and is worked out by the caller: its own
forward rule gives past days, and its weekday readings have changed between versions.
"""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache
from threading import Lock
from typing import Any

_LOCK = Lock()
_BASE = datetime(2024, 1, 1)  # a leap year, so that 29 February is a day


@lru_cache(maxsize=1)
def _parser() -> Any:
    from dateparser.date import DateDataParser

    return DateDataParser(
        languages=["en", "es"],
        settings={
            "RELATIVE_BASE": _BASE,
            "PREFER_DATES_FROM": "current_period",
            "REQUIRE_PARTS": ["day", "month"],
            "DATE_ORDER": "MDY",
            "PARSERS": ["absolute-time"],
        },
    )


@lru_cache(maxsize=2048)
def month_day(phrase: str) -> tuple[int, int] | None:
    """(month, day) of a phrase such as "june 7" or "7 de junio"; None where it names no day of the year."""
    with _LOCK:  # concurrent calls of the library give each other's answers
        found = _parser().get_date_data(phrase)
    return (found.date_obj.month, found.date_obj.day) if found and found.date_obj else None
