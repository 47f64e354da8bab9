"""One date phrase with its readings, and what does not agree in it.

A phrase is either settled (`first`/`last`, both ends included) or hangs on another day of the conversation
(`anchor`), such as "the day before" or a bare "friday" once the party's date is known. What was said (month, day,
weekday) and what follows from the message (year, month, week) are kept apart, so that a weekday that disagrees
with its date is seen.
"""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date

from intake.reading.date_phrases import weekday_of


@dataclass(frozen=True, slots=True)
class DateSaid:
    """One date phrase, characters `start` to `end`.

    `grain`: day, weekend, week, month or part (of a month). `anchor`: None, or ("offset", days), ("weekday", weekday,
    "before" | "after" | "near"), ("ordinal", day, weekday | -1). `others`: further readings as (first, last).
    `doubt` says in a baker's words what does not agree.
    """

    start: int
    end: int
    first: date | None
    last: date | None
    rule: str
    grain: str = "day"
    anchor: tuple[object, ...] | None = None
    others: tuple[tuple[date, date], ...] = ()
    doubt: str = ""
    named: str = ""


def wrong_weekday(day: date, weekday_text: str | None) -> str:
    if not weekday_text or day.weekday() == weekday_of(weekday_text):
        return ""
    said = calendar.day_name[weekday_of(weekday_text)]
    return f"says {said}, but {day:%B} {day.day} is a {calendar.day_name[day.weekday()]}"


def short(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b}"
