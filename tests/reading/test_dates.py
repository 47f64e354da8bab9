"""The date grammar: phrase, and the day it means for a message of Wednesday 11 March 2026."""

from __future__ import annotations

from datetime import date

import pytest

from intake.reading import dates
from intake.reading.date_anchors import hang
from intake.reading.shadow import lowered

SENT = date(2026, 3, 11)


def found(text: str, **how: str) -> list[tuple[str, str, str]]:
    said = dates.find(lowered(text), SENT, **how)  # type: ignore[arg-type]
    settled = [hang(d, None, SENT) for d in said]
    return [(text[d.start : d.end], str(d.first), str(d.last)) for d in settled if d.first]


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("by March 14", "2026-03-14"),
        ("by 14 March", "2026-03-14"),
        ("the 7th of June", "2026-06-07"),
        ("on June the 7th", "2026-06-07"),
        ("the fifth of may", "2026-05-05"),
        ("Friday, May 29, 2026", "2026-05-29"),
        ("on 3/14", "2026-03-14"),
        ("10/16/26", "2026-10-16"),
        ("2026-08-01", "2026-08-01"),
        ("feb 7th", "2027-02-07"),
        ("this sat", "2026-03-14"),
        ("friday", "2026-03-13"),
        ("a week from sunday", "2026-03-22"),
        ("Saturday week", "2026-03-21"),
        ("a fortnight on Saturday", "2026-03-28"),
        ("two Saturdays from now", "2026-03-21"),
        ("two weeks from today", "2026-03-25"),
        ("in 3 weeks", "2026-04-01"),
        ("tomorrow", "2026-03-12"),
        ("the day after tomorrow", "2026-03-13"),
        ("the 14th", "2026-03-14"),
        ("the 5th", "2026-04-05"),
        ("thursday the 26th", "2026-03-26"),
        ("the 27th (fri)", "2026-03-27"),
        ("second Saturday in June", "2026-06-13"),
        ("last thursday of the month", "2026-03-26"),
        ("Christmas Eve", "2026-12-24"),
        ("mothers day", "2026-05-10"),
        ("Mother's Day", "2026-05-10"),
        ("Labor Day", "2026-09-07"),
        ("the saturday before easter", "2026-04-04"),
        ("the day before Labor Day", "2026-09-06"),
        ("the friday after thanksgiving", "2026-11-27"),
        ("el sábado 21 de marzo", "2026-03-21"),
        ("el 11 de diciembre", "2026-12-11"),
    ],
    ids=str,
)
def test_a_phrase_means_one_day(text: str, day: str) -> None:
    assert [(first, last) for _, first, last in found(text)] == [(day, day)]


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("mid-June", "2026-06-11", "2026-06-20"),
        ("early May", "2026-05-01", "2026-05-10"),
        ("Late August", "2026-08-21", "2026-08-31"),
        ("the week before Easter", "2026-03-29", "2026-04-04"),
        ("June 5-7", "2026-06-05", "2026-06-07"),
        ("between 18/5 and 22/5", "2026-05-18", "2026-05-22"),
        ("the 9th or the 16th of jan", "2027-01-09", "2027-01-16"),
        ("the weekend of April 18", "2026-04-18", "2026-04-19"),
        ("this weekend", "2026-03-14", "2026-03-15"),
    ],
    ids=str,
)
def test_a_phrase_means_a_span(text: str, first: str, last: str) -> None:
    assert [found[1:] for found in found(text)] == [(first, last)]


@pytest.mark.parametrize(
    "text",
    [
        "her 4th birthday",
        "turning 40",
        "1208 May St",
        "24/7",
        "on 10 of them",
        "you may want 3",
        "2 dozen",
        "the 2nd grade class",
        "i sat down",
        "a second coat",
        "call 555-0117",
        "$60",
        "half of them",
        "we are so excited",
        "3 1/2 dozen",
    ],
    ids=str,
)
def test_what_is_no_date(text: str) -> None:
    assert found(text) == []


def test_a_weekday_that_disagrees_is_seen() -> None:
    (said,) = dates.find(lowered("Sat 14th June"), SENT)
    assert said.first == date(2026, 6, 14)
    assert "Sunday" in said.doubt
    assert said.others == ((date(2026, 6, 13), date(2026, 6, 13)),)


@pytest.mark.parametrize(
    ("habit", "first", "other"),
    [("week after", date(2026, 3, 20), date(2026, 3, 13)), ("coming", date(2026, 3, 13), date(2026, 3, 20))],
    ids=str,
)
def test_next_friday_has_two_readings(habit: str, first: date, other: date) -> None:
    (said,) = dates.find(lowered("next Friday"), SENT, next_weekday=habit)
    assert (said.first, said.others, bool(said.doubt)) == (first, ((other, other),), True)


@pytest.mark.parametrize(("order", "day"), [("MDY", "2026-06-05"), ("DMY", "2026-05-06")], ids=str)
def test_slash_dates_follow_the_house(order: str, day: str) -> None:
    assert found("6/5", order=order) == [("6/5", day, day)]


def test_a_day_number_above_twelve_settles_the_order() -> None:
    assert [f[1] for f in found("14/6")] == [f[1] for f in found("6/14")] == ["2026-06-14"]
