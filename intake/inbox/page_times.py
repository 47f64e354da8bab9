"""The times that a saved page shows: whole dates, days, clock times, and words such as "yesterday"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from intake.inbox import numeric_dates, times

_DAYS = ("mon lun", "tue mar", "wed mie mié", "thu jue", "fri vie", "sat sab sáb", "sun dom")
_DAY = {word: n for n, words in enumerate(_DAYS) for word in words.split()}
_MONTHS = ("jan ene", "feb", "mar", "apr abr", "may", "jun", "jul", "aug ago", "sep set", "oct", "nov", "dec dic")
_MONTH = {word: n for n, words in enumerate(_MONTHS, 1) for word in words.split()}
_NEAR = {"today": 0, "hoy": 0, "yesterday": 1, "ayer": 1}
_NAME = r"(?:jan|ene|feb|mar|apr|abr|may|jun|jul|aug|ago|sep|set|oct|nov|dec|dic)[a-z]{0,7}"
_WORDS = re.compile(
    rf"(?:(?P<near>today|yesterday|hoy|ayer)|(?:{numeric_dates.WEEKDAY}\.?,?\s)?"
    rf"(?:(?P<month>{_NAME})\.?\s(?P<day>\d{{1,2}})(?:st|nd|rd|th)?|(?P<day_2>\d{{1,2}})\.?\s(?:de\s)?(?P<month_2>{_NAME})\.?)"
    rf"|(?P<weekday>{numeric_dates.WEEKDAY})\.?)"
    r"(?:,?\s(?:at\s|a\slas?\s|[·|\-]\s)?(?P<clock>\d[\d:.apmh\s]{1,14}))?",
    re.IGNORECASE,
)
_SIGNS = " \t\r\n\xa0·•|,;()[]-–—✓✔"
_COUNT = re.compile(r"\d{9,19}(?:\.\d{1,9})?")


def trimmed(said: str) -> str:
    """A text without the signs that part a time from what is beside it."""
    return " ".join(said.split()).strip(_SIGNS)


def kind_of(said: str) -> str:
    """`full`, `day` or `clock` by what a text gives, else an empty text."""
    text = trimmed(said)
    if len(text) > numeric_dates.LONGEST or len(text) < 3:
        return ""
    if any(c.isdigit() for c in text):
        if kind := numeric_dates.kind_of(text):
            return kind
        if text[:4].isdecimal() and not _COUNT.fullmatch(text) and times.of_any(text, ZoneInfo("UTC")):
            return "full"
    found = _WORDS.fullmatch(text)
    if not found:
        return ""
    if not found["clock"]:
        return "day"
    return "full" if numeric_dates.clock_of(found["clock"]) else ""


def stamp_of(said: str, latest: datetime) -> datetime | None:
    """The moment of an attribute: an ISO time or a count since 1970, where it can be a message's."""
    text = said.strip()
    if not text[:1].isdigit() or not (_COUNT.fullmatch(text) or ("-" in text and ":" in text)):
        return None
    zone = latest.tzinfo if isinstance(latest.tzinfo, ZoneInfo) else ZoneInfo("UTC")
    at = times.of_any(text, zone)
    return at if at and times.is_sane(at, latest) else None


@dataclass(slots=True)
class PageClock:
    """Reads the times of one page in their order. `at`: when it was saved; `day`: the one that was shown last."""

    order: str
    zone: ZoneInfo
    at: datetime
    day: date | None = None
    bare: int = 0  # clock times of no known day

    def read(self, said: str) -> datetime | None:
        """The moment of a text; one that shows its day is remembered for those below it that don't."""
        text = trimmed(said)
        if at := stamp_of(text, self.at):
            at = at.astimezone(self.zone)
        elif clock := numeric_dates.clock_of(text) if numeric_dates.kind_of(text) == "clock" else None:
            return self._on(self.day, clock)
        else:
            at = numeric_dates.at_of(text, self.order, self.zone) or self._of_words(text)
            at = at or times.of_any(text, self.zone)
        if at:
            self.day = at.date()
        return at

    def _on(self, day: date | None, clock: time) -> datetime:
        if day:
            return datetime.combine(day, clock, self.zone)
        self.bare += 1
        at = datetime.combine(self.at.astimezone(self.zone).date(), clock, self.zone)
        return at if at <= self.at else at - timedelta(days=1)

    def _of_words(self, text: str) -> datetime | None:
        found = _WORDS.fullmatch(text)
        if not found:
            return None
        today = self.at.astimezone(self.zone).date()
        if found["near"]:
            day: date | None = today - timedelta(days=_NEAR[found["near"].lower()])
        elif found["weekday"]:
            day = today - timedelta(days=(today.weekday() - _DAY[found["weekday"][:3].lower()]) % 7)
        else:
            month = _MONTH[(found["month"] or found["month_2"]).lower()[:3]]
            day = _last(month, int(found["day"] or found["day_2"]), today)
        clock = numeric_dates.clock_of(found["clock"]) if found["clock"] else time()
        return datetime.combine(day, clock, self.zone) if day and clock is not None else None


def _last(month: int, day: int, today: date) -> date | None:
    """The last such day up to `today`, or the day after it: another time zone may be ahead."""
    for year in range(today.year + 1, today.year - 8, -1):
        try:
            found = date(year, month, day)
        except ValueError:
            continue
        if found <= today + timedelta(days=1):
            return found
    return None
