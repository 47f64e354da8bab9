"""The commands of money: price, pay, till."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import pytest

from intake.desk import Desk
from intake.home import Home
from tests.cli.conftest import ORDER, Run, rules

# 24 plain cookies at 36.00 a dozen, handed over on 21 May, eleven days after 10 May: no rush.
LINE = "$72.00  24 cookies, plain  24 at $36.00 a dozen; plain: 1 design, no colors named"


@pytest.fixture
def order(home: Path, run: Run) -> int:
    """A booked order of 72.00, half of it down."""
    rules(home)
    with Desk(Home.at(home)) as desk:
        order = desk.paste(ORDER).orders[0]
        desk.correct(order.id, {"theme": "cuckoo clock", "due_is": "handover"})
        desk.confirm(order.id)
        desk.quote(order.id)
        return desk.book(order.id).id


def test_a_quote_is_printed_with_its_reasons(run: Run, order: int) -> None:
    status, out, err = run("price", str(order))
    assert (status, err) == (0, "")
    assert out.startswith("Quote 1.1 for Isolde, 2027-05-10; holds until 2027-05-17\n")
    assert LINE in out
    assert "$72.00  In all" in out
    assert "deposit $36.00 by 2027-05-17" in out
    # three days before the 21st
    assert "balance $36.00 by 2027-05-18" in out
    assert "Cost" not in out


def test_a_line_of_her_own_makes_another_version(run: Run, order: int) -> None:
    status, out, _ = run("price", str(order), "courtesy", "-5", "--versions")
    assert status == 0
    assert out.count("Quote 1.1 for") == 1
    assert out.count("Quote 1.2 for") == 2
    assert "-$5.00  courtesy" in out
    assert "$67.00  In all" in out


def test_the_cost_sheet(run: Run, order: int) -> None:
    status, out, _ = run("price", str(order), "--cost")
    assert status == 0
    for words in ("Dough, vanilla", "Oven", "your 3 h 10", "an hour", "margin", "your own figures in the house rules"):
        assert words in out


def test_what_it_would_cost_is_not_kept(run: Run, home: Path) -> None:
    rules(home)
    with Desk(Home.at(home)) as desk:
        made = desk.paste(ORDER).orders[0]
    status, out, _ = run("price", str(made.id))
    assert status == 0
    assert "it is not kept" in out
    with Desk(Home.at(home)) as desk:
        assert desk.order(made.id).quote is None


def test_payments_refunds_and_the_till(run: Run, order: int) -> None:
    assert run("pay", "1", "36", "cash") == (0, "Isolde: deposit $36.00, cash; $36.00 left to pay.\n", "")
    assert run("pay", "1", "36 card", "--on", "2027-04-30")[1] == "Isolde: balance $36.00, card; all is paid.\n"
    assert run("pay", "1", "back", "6", "--note", "late")[1] == "Isolde: refund $6.00; $6.00 left to pay.\n"
    status, out, err = run("till")
    assert (status, err) == (0, "")
    assert "May 2027" in out
    lines = [" ".join(line.split()) for line in out.splitlines()]
    # 36 in May, 36 in April
    for line in ("month year", "booked $72.00 (1) $72.00 (1)", "taken $36.00 $72.00", "given back $6.00 $6.00"):
        assert line in lines
    assert "Apr $36.00" in out
    assert "order 1, Isolde: deposit $6.00" in out or "order 1, Isolde: balance $6.00" in out
    april = [" ".join(line.split()) for line in run("till", "--month", "2027-04")[1].splitlines()]
    assert "booked $0.00 $72.00 (1)" in april


def test_an_entry_is_struck_out(run: Run, order: int) -> None:
    run("pay", "1", "36", "cash")
    assert "payment 1: deposit $36.00, cash, 2027-05-10" in run("price", "1")[1]
    assert run("pay", "1", "strike", "1")[0] == 0
    assert "payment 1" not in run("price", "1")[1]
    run("undo")
    assert "payment 1" in run("price", "1")[1]


def test_a_customer_who_says_she_paid_is_listed(run: Run, order: int, home: Path) -> None:
    with Desk(Home.at(home)) as desk:
        thread = desk.order(order).thread_id
        desk.paste("just sent the deposit by transfer", to=thread)
    out = run("till")[1]
    assert "They say they have paid" in out
    assert "ordertin pay 1 36.00 transfer" in out
    run("pay", "1", "36", "--on", "2027-05-09")
    assert "They say" in run("till")[1]  # what came the day before can't be meant
    run("pay", "1", "20")
    assert "They say" not in run("till")[1]


def test_the_ledger_is_written_and_written_again(run: Run, order: int, tmp_path: Path) -> None:
    run("pay", "1", "36", "cash")
    assert run("till", "--ledger", "money.csv") == (0, "1 payment written to money.csv\n", "")
    path = tmp_path / "money.csv"
    assert path.stat().st_mode & 0o077 == 0
    run("pay", "1", "back", "6")
    assert run("till", "--ledger", "money.csv")[1] == "2 payments written to money.csv\n"
    held = list(csv.reader(io.StringIO(path.read_bytes().decode(), newline="")))
    assert [row[6] for row in held] == ["amount", "36.00", "-6.00"]
    assert run("till", "--ledger", "-")[1] == path.read_bytes().decode()


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("price", "x"), "“x” is not the number of an order"),
        (("price", "99"), "there is no order 99"),
        (("price", "1", "make it nice"), "expected a level"),
        (("price", "1", "stand 99999999"), "expected an amount up to"),
        (("pay", "1", "cash"), "expected an amount and how it was paid"),
        (("pay", "1", "strike", "9"), "there is no payment 9"),
        (("pay", "1", "strike", "it"), "expected the number of a payment"),
        (("pay", "1", "80"), "$80.00 is $8.00 more than is left to pay ($72.00)"),
        (("pay", "1", "back", "1"), "is more than was paid for it (nothing)"),
        (("pay", "1", "5", "--on", "2027-06-01"), "no day on which money can have come"),
        (("pay", "1", "5", "--on", "soon"), "“soon” is not a day"),
        (("till", "--month", "May"), "“May” is not a month"),
        (("till", "--ledger", "letter.txt"), "it is no ledger"),
        (("till", "--ledger", "nowhere/money.csv"), "can't be written"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else "",
)
def test_what_is_refused(run: Run, order: int, tmp_path: Path, arguments: tuple[str, ...], says: str) -> None:
    (tmp_path / "letter.txt").write_text("Dear Isolde,", encoding="utf-8")
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert says in err
    assert (tmp_path / "letter.txt").read_text(encoding="utf-8") == "Dear Isolde,"
