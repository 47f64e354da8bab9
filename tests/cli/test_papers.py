"""The commands that print lists and write papers, on the book of the samples."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from intake.cli_papers import day_said
from intake.model import OrdertinError
from tests.cli.conftest import ORDER, Run, kept, rules, samples

MONDAY = date(2027, 5, 10)


@pytest.fixture
def order(home: Path, run: Run, tmp_path: Path) -> int:
    """A booked order of 24 for May 21, with a book around it."""
    from intake.desk import Desk
    from intake.home import Home

    rules(home)
    run("take", *samples(tmp_path))
    with Desk(Home.at(home)) as desk:
        made = desk.paste(ORDER, sender="Isolde").orders[0]
        desk.confirm(made.id)
        desk.quote(made.id)
        desk.book(made.id)
    return made.id


@pytest.mark.parametrize(
    ("said", "day"),
    [
        ("", MONDAY),
        ("today", MONDAY),
        ("Tomorrow", date(2027, 5, 11)),
        ("monday", MONDAY),
        ("Sunday", date(2027, 5, 16)),
        ("2027-05-21", date(2027, 5, 21)),
    ],
)
def test_days(said: str, day: date) -> None:
    assert day_said(said, MONDAY, "DAY") == day


@pytest.mark.parametrize("said", ["5/21", "someday", "0001-01-01", "2027-02-30"])
def test_what_is_no_day_is_said(said: str) -> None:
    with pytest.raises(OrdertinError, match="is not a day"):
        day_said(said, MONDAY, "DAY")


def test_batch(run: Run, order: int) -> None:
    status, out, err = run("batch", "--to", "2027-05-21")
    assert (status, err) == (0, "")
    assert "vanilla dough: 1 batch for 24 cookies" in out
    assert "417 g  flour, 3 1/3 cups" in out
    assert "24 cuckoo clock" in out


def test_a_batch_of_no_day(run: Run, order: int) -> None:
    assert run("batch", "2027-06-10")[1] == "Nothing to mix or bake from 2027-06-10 to 2027-06-16.\n"
    status, out, err = run("batch", "2027-05-12", "--to", "2027-05-11")
    assert (status, out) == (2, "")
    assert "2027-05-11 is before 2027-05-12" in err


def test_shopping_and_the_pantry(run: Run, order: int) -> None:
    assert run("pantry")[1].startswith("Nothing put down yet")
    before = run("shopping", "--to", "friday")[1]
    assert "[ ] flour: 1 x 5 lb (needed 417 g (15 oz)), $4.00" in before
    assert "[ ] egg: 1 x 12 (needed 1), $4.00" in before
    assert "About $" in before
    assert run("pantry", "5 lb flour", "6 eggs")[1].splitlines() == [
        "There is now 5 lb flour, 2,268 g (5 lb).", "There is now 6 eggs, 300 g (11 oz).",
    ]  # fmt: skip
    after = run("shopping", "--to", "friday")[1]
    assert "flour" not in after
    assert "[ ] egg" not in after
    assert "flour" in run("pantry")[1]
    assert run("pantry", "--out", "flour")[1] == "No more flour.\n"
    assert "[ ] flour" in run("shopping", "--to", "friday")[1]
    status, _, err = run("pantry", "3 cups sprinkles")
    assert status == 2
    assert "isn't known" in err


def test_papers_are_written_where_they_are_wanted(run: Run, order: int, tmp_path: Path) -> None:
    for command, name in (
        (["sheet", "2027-05-10"], "day-2027-05-10.pdf"), (["labels", str(order)], f"labels-{order}.pdf"),
        (["sheet", "--out", "mine.pdf"], "mine.pdf"), (["labels", str(order), "--out", "own.pdf"], "own.pdf"),
    ):  # fmt: skip
        status, out, _ = run(*command)
        assert status == 0
        assert f"Written: {tmp_path / name}" in out
        assert (tmp_path / name).read_bytes().startswith(b"%PDF")


def test_labels_print_the_cautions_and_what_is_missing(run: Run, order: int) -> None:
    out = run("labels", str(order), "--net", "12 oz", "--made", "2027-05-20")[1]
    assert "Missing on the labels" in out
    assert "your address" in out
    assert "local code" in out
    assert "Look at every package" in out
    assert "Weigh a package" not in out


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["labels", "99"], "there is no order 99"),
        (["labels", "{order}", "--net", "heavy"], "is not a weight"),
        (["labels", "{order}", "--made", "soon"], "is not a day"),
        (["sheet", "--out", "no/such/folder.pdf"], "it can't be written"),
        (["calendar", "--out", "."], "it can't be written"),
    ],
)
def test_what_can_not_be_written_is_said_and_leaves_nothing(
    run: Run, order: int, tmp_path: Path, arguments: list[str], says: str
) -> None:
    before = {name for name in kept(tmp_path) if name.endswith(".pdf")}
    status, _, err = run(*(argument.format(order=order) for argument in arguments))
    assert status == 2
    assert says in err
    assert {name for name in kept(tmp_path) if name.endswith(".pdf")} == before


def test_the_calendar_goes_to_standard_output_or_a_file(run: Run, order: int, tmp_path: Path) -> None:
    status, out, err = run("calendar")
    assert (status, err) == (0, "")
    assert out.startswith("BEGIN:VCALENDAR")
    assert "Isolde" in out
    assert run("calendar", "--out", "orders.ics")[1] == f"Written: {tmp_path / 'orders.ics'}\n"
    assert (tmp_path / "orders.ics").read_bytes().replace(b"\r\n", b"\n").decode() == out.replace("\r\n", "\n")


def test_the_calendar_of_a_book_that_can_not_be_read_is_no_file(run: Run, home: Path, tmp_path: Path) -> None:
    home.mkdir()
    (home / "orders.db").write_bytes(b"not a book" * 100)
    status, _, err = run("calendar", "--out", "orders.ics")
    assert status == 2
    assert "not an order book" in err
    assert not (tmp_path / "orders.ics").exists()
