"""How values, days, verdicts and standings read on a screen."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal
from typing import Any

import pytest

from intake.model import DRAFT_FIELDS, Cell, Clash, Design, Draft, Due, Fits, NotProven, Order, Plan, State, Verdict
from tui import words

TODAY = date(2026, 11, 25)
NAMES = {1: "Dana, 24 cookies", 2: "Lee, 60 cookies", 3: "Ana, 12 cookies"}


@pytest.mark.parametrize(
    ("field", "value", "shown"),
    [
        ("count", 24, "24 (2 dozen)"),
        ("count", 30, "30 (2 dozen and 6)"),
        ("count", 7, "7"),
        ("age", 4, "4"),
        ("due", Due.on(date(2026, 12, 12), time(14)), "Sat 12 Dec 2pm"),
        ("due", Due.on(date(2027, 3, 14)), "Sun 14 Mar 2027"),
        ("due", Due(date(2026, 12, 10), date(2026, 12, 12)), "Thu 10 Dec to Sat 12 Dec"),
        ("due", Due.on(date(2026, 12, 12), time(12)), "Sat 12 Dec noon"),
        ("due", Due.on(date(2026, 12, 12), time(0, 5)), "Sat 12 Dec 12:05am"),
        ("lettering", ("Leo", "[b]"), "\u201cLeo\u201d, \u201c[b]\u201d"),
        ("designs", (Design("unicorns", 12), Design("stars")), "12 unicorns, stars"),
        ("budget", Decimal("95.5"), "95.50"),
        ("cancelled", True, "yes"),
        ("theme", "", ""),
        ("colors", (), ""),
        ("age", None, ""),
    ],
)
def test_a_value_reads_as_a_baker_would_say_it(field: str, value: Any, shown: str) -> None:
    assert words.value_words(field, value, TODAY) == shown


@pytest.mark.parametrize(
    ("count", "shown"),
    [(0, "0 min"), (45, "45 min"), (60, "1 h"), (200, "3 h 20"), (2879, "47 h 59"), (2880, "2 days")],
)
def test_minutes(count: int, shown: str) -> None:
    assert words.minutes(count) == shown


SURE = Cell("x", sure=True)
UNSURE = Cell("x", why="which one?")


@pytest.mark.parametrize(
    ("field", "draft", "standing"),
    [
        ("theme", Draft(theme=SURE), "ok"),
        ("theme", Draft(theme=UNSURE), "check"),
        ("theme", Draft(), "ask"),
        ("theme", Draft(lettering=Cell(("Leo",), True)), ""),
        ("count", Draft(), "ask"),
        ("age", Draft(), ""),
        ("dietary", Draft(dietary=Cell(why="an allergy may be meant")), "ask"),
        ("address", Draft(), ""),
        ("address", Draft(handover=Cell("ship", True)), "ask"),
        ("due", Draft(due=Cell(Due.on(TODAY), True)), "ok"),
        ("dietary", Draft(dietary=Cell(("nut-free",), why="you said no nuts")), "check"),
        ("due_is", Draft(due_is=Cell("event", True)), "ask"),
        ("due_is", Draft(due_is=Cell("handover", True)), "ok"),
        ("due", Draft(due=Cell(Due(TODAY, date(2026, 11, 28)), True)), "check"),
    ],
)
def test_how_a_field_stands(field: str, draft: Draft, standing: str) -> None:
    assert words.standing(draft, field) == standing


def test_a_doubt_about_the_day_is_told_once() -> None:
    draft = Draft(due=Cell(Due.on(TODAY), why="which week?"), due_is=Cell("handover", why="which week?"))

    assert words.left_to_do(draft)[0] == ("due",)


@pytest.mark.parametrize(("count", "shown"), [(1, "1 cookie"), (2, "2 cookies"), (24, "24 cookies")])
def test_cookies_are_counted(count: int, shown: str) -> None:
    order = Order(7, "t1", 0, State.DRAFT, Draft(count=Cell(count, True)))

    assert words.order_name(order) == f"order 7, {shown}"


def test_what_the_day_is_does_not_read_as_a_day() -> None:
    assert "day" not in words.LABELS["due_is"]


def test_every_field_has_a_place_and_a_name() -> None:
    assert sorted(words.ON_SLIP) == sorted(DRAFT_FIELDS)
    assert len(set(words.LABELS.values())) == len(DRAFT_FIELDS)


@pytest.mark.parametrize(
    ("verdict", "word", "parts"),
    [
        (Fits(Plan((), {1: 200})), "Fits", ["3 h 20 to spare"]),
        (Fits(Plan((), {1: 0}), tight=(1, 2)), "Tight", ["nothing to spare", "tight for Lee, 60 cookies"]),
        (
            Clash((2, 3, 1), 1, "6 hours of hands are lacking", date(2026, 12, 19)),
            "Clash",
            ["Lee, 60 cookies and Ana, 12 cookies", "6 hours of hands are lacking.", "Sat 19 Dec"],
        ),
        (Clash((1,), 1, "", None), "Clash", ["it can't be made in time.", "No day ahead would work"]),
        (Clash((1, 9), 1, "short", None), "Clash", ["beside order 9"]),
        (NotProven("the time to decide ran out"), "Not decided", ["ran out. Treat the day as full"]),
    ],
)
def test_a_verdict_in_words(verdict: Verdict, word: str, parts: list[str]) -> None:
    found, sentence = words.room_words(verdict, 1, NAMES, TODAY)

    assert found == word
    assert all(part in sentence for part in parts), sentence
