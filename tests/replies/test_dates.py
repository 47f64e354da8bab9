"""Days and clock times in words."""

from __future__ import annotations

from datetime import date, time

import pytest

from intake.model import Due
from intake.replies.dates import day_words, due_words, time_words

JUNE_19 = date(2026, 6, 19)


# ISO 8601 week dates: 2026-06-19 is a Friday, 2027-01-01 is 2026-W53-5 (a Friday), 2024-12-30 is 2025-W01-1 (a Monday).
@pytest.mark.parametrize(
    ("day", "language", "expected"),
    [
        (JUNE_19, "en", "Friday, June 19, 2026"),
        (JUNE_19, "es", "viernes 19 de junio de 2026"),
        (date(2027, 1, 1), "en", "Friday, January 1, 2027"),
        (date(2024, 12, 30), "es", "lunes 30 de diciembre de 2024"),
    ],
)
def test_days(day: date, language: str, expected: str) -> None:
    assert day_words(day, language) == expected


@pytest.mark.parametrize(
    ("at", "english", "spanish"),
    [
        (time(14), "2 pm", "las 2:00 p. m."),
        (time(14, 30), "2:30 pm", "las 2:30 p. m."),
        (time(13, 5), "1:05 pm", "la 1:05 p. m."),
        (time(9), "9 am", "las 9:00 a. m."),
        (time(12), "noon", "las 12:00 p. m."),
        (time(12, 15), "12:15 pm", "las 12:15 p. m."),
        (time(0), "midnight", "las 12:00 a. m."),
        (time(0, 30), "12:30 am", "las 12:30 a. m."),
    ],
)
def test_times(at: time, english: str, spanish: str) -> None:
    assert (time_words(at, "en"), time_words(at, "es")) == (english, spanish)


@pytest.mark.parametrize(
    ("due", "language", "expected"),
    [
        (Due.on(JUNE_19), "en", "Friday, June 19, 2026"),
        (Due.on(JUNE_19, time(14)), "en", "Friday, June 19, 2026 at 2 pm"),
        (Due.on(JUNE_19, time(14)), "es", "viernes 19 de junio de 2026 a las 2:00 p. m."),
        (Due(date(2026, 6, 11), JUNE_19), "en", "between Thursday, June 11 and Friday, June 19, 2026"),
        (Due(date(2026, 6, 11), JUNE_19), "es", "entre el jueves 11 de junio y el viernes 19 de junio de 2026"),
        (
            Due(date(2026, 12, 30), date(2027, 1, 2)),
            "en",
            "between Wednesday, December 30, 2026 and Saturday, January 2, 2027",
        ),
    ],
)
def test_due(due: Due, language: str, expected: str) -> None:
    assert due_words(due, language) == expected
