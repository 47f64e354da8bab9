"""Days against the standard library's calendar, dateutil (easter, rrule) and the holidays library."""

from __future__ import annotations

import calendar
from datetime import date, timedelta

import holidays
import pytest
from dateutil.rrule import MONTHLY, WEEKLY, rrule, weekday

from intake.reading import dates, named_days

YEARS = range(2024, 2034)


@pytest.mark.parametrize("year", YEARS)
def test_named_days_of_the_united_states(year: int) -> None:
    """5 USC 6103(a) as the `holidays` library generates it."""
    table = holidays.country_holidays("US", years=year, observed=False)
    ours = {
        "Martin Luther King Jr. Day": "mlk day",
        "Washington's Birthday": "presidents day",
        "Memorial Day": "memorial day",
        "Juneteenth National Independence Day": "juneteenth",
        "Independence Day": "4th of july",
        "Labor Day": "labor day",
        "Columbus Day": "columbus day",
        "Veterans Day": "veterans day",
        "Thanksgiving Day": "thanksgiving",
        "Christmas Day": "christmas",
    }
    for name, said in ours.items():
        match = named_days.NAMED.search(said)
        assert match
        assert named_days.day_of(match, date(year, 1, 1)) == next(d for d, title in table.items() if title == name)


@pytest.mark.parametrize("year", YEARS)
def test_easter_and_what_hangs_on_it(year: int) -> None:
    """Easter Monday of `holidays` for Germany; Mothering Sunday is three weeks before Easter (from memory)."""
    germany = holidays.country_holidays("DE", years=year, language="en_US")
    monday = next(d for d, title in germany.items() if title == "Easter Monday")
    for said, offset in (("easter", -1), ("good friday", -3), ("palm sunday", -8), ("mothering sunday", -22)):
        match = named_days.NAMED.search(said)
        assert match
        assert named_days.day_of(match, date(year, 1, 1)) == monday + timedelta(days=offset)


@pytest.mark.parametrize("nth", [1, 2, 3, 4, -1])
def test_nth_weekday_of_a_month(nth: int) -> None:
    for month in range(1, 13):
        for day in range(7):
            first = rrule(MONTHLY, count=1, dtstart=date(2026, month, 1), byweekday=weekday(day)(nth))[0].date()
            assert named_days.nth_weekday(2026, month, day, nth) == first


def test_weekday_phrases_on_every_day_of_two_years() -> None:
    """Each family, worked out by walking a calendar instead of by arithmetic."""
    for offset in range(731):
        sent = date(2026, 1, 1) + timedelta(days=offset)
        for number, name in enumerate(calendar.day_name):
            ahead = [
                d.date() for d in rrule(WEEKLY, count=4, dtstart=sent + timedelta(days=1), byweekday=weekday(number))
            ]
            weeks = calendar.Calendar(firstweekday=6)
            own = next(w for w in weeks.monthdatescalendar(sent.year, sent.month) if sent in w)
            following = [d + timedelta(days=7) for d in own]
            expected = {
                f"a week from {name}": ahead[1],
                f"two weeks from {name}": ahead[2],
                f"two {name}s from now": ahead[1],
                f"{name} week": ahead[1],
                f"{name} of next week": next(d for d in following if d.weekday() == number),
                f"next {name}": next(d for d in following if d.weekday() == number),
            }
            for said, day in expected.items():
                (phrase,) = dates.find(said.lower(), sent)
                assert (said, phrase.first) == (said, day)


def test_month_and_day_on_every_day_of_two_years() -> None:
    sent = date(2026, 1, 1)
    for offset in range(365):
        day = sent + timedelta(days=offset)
        for said in (
            f"{day:%B} {day.day}",
            f"{day.day} {day:%b}" if day.month != 5 else f"{day.day} of May",
            f"{day.month}/{day.day}",
        ):
            (phrase,) = dates.find(said.lower(), sent)
            assert (said, phrase.first) == (said, day)
