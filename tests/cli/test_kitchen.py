"""The kitchen's commands. It is noon in Chicago on Monday, May 10, 2027."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from intake.bench_text import day_named
from intake.desk import Desk
from intake.home import Home
from intake.model import OrdertinError
from tests.cli.conftest import ORDER, Run

MONDAY = date(2027, 5, 10)


@pytest.fixture
def booked(home: Path) -> int:
    with Desk(Home.at(home)) as desk:
        order = desk.paste(ORDER).orders[0]
        desk.confirm(order.id)
        desk.quote(order.id)
        return desk.book(order.id).id


@pytest.mark.parametrize(
    ("said", "day"),
    [("today", 10), ("", 10), ("Tomorrow", 11), ("monday", 10), ("sun", 16), ("FRIDAY", 14), ("2027-05-30", 30)],
)
def test_days_by_name(said: str, day: int) -> None:
    assert day_named(said, MONDAY) == date(2027, 5, day)


@pytest.mark.parametrize("said", ["m", "someday", "2027-13-01", "5/10", "fridayy"])
def test_what_is_no_day(said: str) -> None:
    with pytest.raises(OrdertinError, match="is not a day"):
        day_named(said, MONDAY)


def _first_day(run: Run) -> str:
    out = run("bench", "--load")[1]
    return next(
        f"2027-05-{int(found[1]):02}" for line in out.splitlines() if (found := re.match(r"\w+ +(\d+) May  █", line))
    )


def test_an_empty_day(run: Run) -> None:
    status, out, err = run("bench")
    assert (status, err) == (0, "")
    assert out == "Monday 10 May: 0 min of work in 3 h 30\n  Nothing to do.\n"


def test_a_day_and_a_line_ticked_off(run: Run, booked: int) -> None:
    day = _first_day(run)
    _, out, _ = run("bench", day)
    assert re.search(r"^  1  ○ 1\d:\d\d-1\d:\d\d  mix dough +Isolde, 24 cuckoo clock$", out, re.MULTILINE)
    status, out, err = run("bench", day, "--done", "1")
    assert (status, err) == (0, "")
    assert "mix dough" not in out
    assert re.search(r"● 12:00 +mix dough +Isolde", run("bench")[1])
    assert run("undo")[1] == f"Taken back: mix dough done, order {booked} (Isolde)\n"
    assert "○" in run("bench", day)[1]


@pytest.mark.parametrize("line", ["0", "99", "-1", "one"])
def test_a_line_that_is_none(run: Run, booked: int, line: str) -> None:
    status, _, err = run("bench", f"--done={line}")
    assert status == 2
    assert "nothing to tick off" in err or "no number" in err


def test_the_hand_over_is_on_its_day(run: Run, booked: int) -> None:
    assert "→ 16:00        picked up" in run("bench", "2027-05-21")[1]
    assert "1 leaves" in run("bench", "--load")[1]


def test_the_load_of_six_weeks(run: Run) -> None:
    lines = [line for line in run("bench", "--load")[1].splitlines() if line]
    assert len(lines) == 42
    assert lines[0] == "Mon 10 May  ░░░░░░░░░░░░░░░░░░░░   0%  0 min of work in 3 h 30"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["48", "elaborate"], r"48 elaborate cookies, \d+ h \d+ of your hands: they could be handed over on \w+ \d+ M"),
        (["12"], r"12 detailed cookies, .* on \w+ \d+ May 2027\."),
        (["12", "plain", "--inches", "4", "--colors", "2", "--lettered", "12"], r"12 plain cookies"),
        (["24", "--ship"], r"they could arrive on .* May 2027\.\nSelling across a state line may not be allowed"),
        (["9999", "elaborate"], "no day of the next sixty"),
    ],
    ids=" ".join,
)
def test_when_there_would_be_room(run: Run, arguments: list[str], says: str) -> None:
    status, out, err = run("when", *arguments)
    assert (status, err) == (0, "")
    assert re.search(says, out), out


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["0"], "no order"), (["many"], "no number of cookies"), (["12", "fancy"], "plain, detailed, elaborate"),
        (["12", "--inches", "x"], "no size"), (["12", "--inches", "nan"], "no size"),
        (["12", "--inches", "40"], "no size"),
    ],
    ids=" ".join,
)  # fmt: skip
def test_what_can_not_be_asked(run: Run, arguments: list[str], says: str) -> None:
    status, out, err = run("when", *arguments)
    assert (status, out) == (2, "")
    assert says in err and "should not happen" not in err


def test_days_off_and_hours_more(run: Run) -> None:
    assert run("hours")[1] == "Every day is as in your house rules.\n"
    out = run("hours", "--off", "2027-05-20", "--until", "2027-05-21", "--more", "saturday", "06:30-08:00")[1]
    assert out == "Sat 2027-05-15  more hours 06:30-08:00\nThu 2027-05-20  off\nFri 2027-05-21  off\n"
    assert "a day off" in run("bench", "2027-05-20")[1]
    assert "in 10 h 30" in run("bench", "saturday")[1]
    assert "2027-05-21" not in run("hours", "--usual", "2027-05-21")[1]
    run("undo")
    assert "2027-05-21" in run("hours")[1]


def test_hours_while_she_sleeps_are_refused(run: Run) -> None:
    status, _, err = run("hours", "--more", "friday", "04:00-06:00")
    assert status == 2 and "when you sleep" in err
