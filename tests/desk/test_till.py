"""What is owed, the till of a month, the ledger, and undo."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Order, State
from tests.desk.kit import FULL, NOW, ORDER, Clock, Writes, booked, everything

D = Decimal
TODAY = NOW.date()


@pytest.fixture
def order(desk: Desk, writes: Writes) -> Order:
    return booked(desk, writes("Dana", ORDER))




def test_what_is_owed_and_when(desk: Desk, order: Order, clock: Clock) -> None:
    # the price holds seven days, and so long the deposit has time; the balance is due three days before 21 April
    (first,) = desk.till.owed()
    assert (first.what, first.amount, first.by, first.left, first.late) == (
        "deposit",
        D(36),
        date(2026, 3, 18),
        D(72),
        0,
    )
    assert desk.till.reminders() == ()
    clock.now += timedelta(days=5)
    assert [each.what for each in desk.till.reminders()] == ["deposit"]
    clock.now += timedelta(days=4)
    assert [each.late for each in desk.till.owed()] == [2]
    desk.till.pay(order.id, D(36))
    (second,) = desk.till.owed()
    assert (second.what, second.amount, second.by) == ("balance", D(36), date(2026, 4, 18))
    assert desk.till.reminders() == ()
    desk.advance(order.id, "handed over")
    clock.now += timedelta(days=40)
    assert [(each.what, each.late) for each in desk.till.reminders()] == [("balance", 11)]
    desk.till.pay(order.id, D(36))
    assert desk.till.owed() == desk.till.reminders() == ()


def test_of_an_order_handed_over_the_whole_is_owed_at_once(desk: Desk, order: Order) -> None:
    desk.advance(order.id, "handed over")
    (owed,) = desk.till.owed()
    assert (owed.what, owed.amount, owed.by) == ("balance", D(72), date(2026, 4, 18))


def test_who_says_that_she_has_paid_is_not_reminded(desk: Desk, order: Order, clock: Clock) -> None:
    clock.now += timedelta(days=9)
    assert len(desk.till.reminders()) == 1
    desk.paste("just sent the deposit", to=order.thread_id)
    assert desk.till.reminders() == ()
    desk.till.not_paid(desk.till.told()[0])
    assert len(desk.till.reminders()) == 1


def test_a_price_that_was_lowered_after_payment_is_to_give_back(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(72))
    desk.till.settle(order.id, "courtesy -5")
    (back,) = desk.till.owed()
    assert (back.what, back.amount, back.left) == ("to give back", D(5), D(-5))
    assert desk.till.reminders() == ()
    desk.till.refund(order.id, D(5))
    assert desk.till.owed() == ()


def test_a_price_about_to_end_is_worth_a_word(desk: Desk, writes: Writes, clock: Clock) -> None:
    desk.quote(writes("Dana", ORDER).id)
    assert desk.till.owed() == desk.till.reminders() == ()
    clock.now += timedelta(days=6)
    assert [each.what for each in desk.till.reminders()] == ["price ends"]
    clock.now += timedelta(days=2)
    assert desk.till.reminders() == ()


# The till


def test_the_figures_of_a_month_and_its_year(desk: Desk, writes: Writes, home: Home, clock: Clock) -> None:
    dana = booked(desk, writes("Dana", "count=24 theme=owls due=2026-03-28 handover=pickup"))
    leo = booked(desk, writes("Leo", "count=12 theme=owls due=2026-04-04 handover=pickup"))
    desk.quote(writes("Sam", "count=36 theme=owls due=2026-03-30 handover=pickup").id)
    desk.till.pay(dana.id, D(36), on=date(2026, 2, 20))
    desk.till.pay(dana.id, D(36))
    desk.till.refund(dana.id, D(6))
    desk.till.pay(leo.id, D(18))
    found = desk.till.till()
    assert found.month == date(2026, 3, 1)
    # Leo's is handed over in April
    assert {s.state: (s.orders, s.total, s.year_orders, s.year_total) for s in found.stands} == {
        State.QUOTED: (1, D(108), 1, D(108)),
        State.BOOKED: (1, D(72), 2, D(108)),
        State.HANDED_OVER: (0, D(0), 0, D(0)),
    }
    assert found.year_given_back == 6
    # 36 + 18 came in March, 6 went back; Dana's order lacks the 6, Leo's 18 of 36
    assert (found.taken, found.given_back) == (D(54), D(6))
    assert [month.taken for month in found.months[:4]] == [0, D(36), D(48), 0]
    assert [month.to_come for month in found.months[:4]] == [0, 0, D(6), D(18)]
    assert found.year_taken == 84
    assert sum(each.left for each in found.owed) == 24
    assert found.an_hour is not None and found.an_hour > 0
    assert found.cap is None
    empty = desk.till.till(date(2025, 7, 9))
    assert (empty.month, empty.taken, empty.an_hour, empty.year_taken) == (date(2025, 7, 1), 0, None, 0)


@pytest.mark.parametrize(
    ("starts", "since", "taken"),
    [(1, date(2026, 1, 1), "40"), (3, date(2026, 3, 1), "30"), (4, date(2025, 4, 1), "47")],
)
def test_progress_to_a_cap(
    desk: Desk, order: Order, home: Home, clock: Clock, starts: int, since: date, taken: str
) -> None:
    for day, amount in ((date(2025, 12, 30), 7), (date(2026, 2, 1), 10), (date(2026, 3, 10), 30)):
        desk.till.pay(order.id, D(amount), on=day)
    text = home.rules.read_text().replace("sales_cap = 0", "sales_cap = 500")
    home.rules.write_text(text.replace("year_starts = 1", f"year_starts = {starts}"))
    with Desk(home, now=clock) as capped:
        cap = capped.till.till().cap
        assert cap is not None
        assert (cap.cap, cap.taken, cap.since) == (D(500), D(taken), since)
        # In a month of an earlier year, only what came in that year.
        before = capped.till.till(date(2025, 3, 1)).cap
        assert before is not None and before.since == since.replace(year=2025 if starts < 4 else 2024)
        assert before.taken == (D(7) if starts == 1 else D(17) if starts == 3 else D(0))


def test_the_ledger(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("=SUM(A1)", ORDER))
    desk.till.pay(order.id, D(36), "check, signed", note='the "good" one')
    desk.till.refund(order.id, D("12.50"), note="-5 for the crack")
    desk.till.pay(order.id, D(1))
    desk.till.strike(desk.till.payments()[-1].id)
    rows = list(csv.DictReader(io.StringIO(desk.till.ledger(), newline="")))
    assert [(row["what"], row["amount"], row["customer"], row["how"], row["note"]) for row in rows] == [
        ("deposit", "36.00", "'=SUM(A1)", "check, signed", 'the "good" one'),
        ("refund", "-12.50", "'=SUM(A1)", "", "'-5 for the crack"),
    ]


# Undo

USE_CASES: dict[str, tuple[Callable[[Desk, int], object], str]] = {
    "settle": (lambda desk, n: desk.till.settle(n, "courtesy -5"), "price of order 1 (Dana)"),
    "pay": (lambda desk, n: desk.till.pay(n, D(10)), "payment for order 1 (Dana)"),
    "refund": (lambda desk, n: desk.till.refund(n, D(10)), "refund for order 1 (Dana)"),
    "strike": (lambda desk, n: desk.till.strike(1), "striking out of a payment for order 1 (Dana)"),
}


@pytest.mark.parametrize("name", USE_CASES)
def test_undo_takes_back_each_use_case(desk: Desk, writes: Writes, name: str) -> None:
    order = booked(desk, writes("Dana", FULL))
    desk.till.pay(order.id, D(20))

    def book() -> object:
        return everything(desk), desk.till.payments(), desk.till.versions(order.id), desk.till.owed()

    before = book()
    do, what = USE_CASES[name]
    do(desk, order.id)
    assert book() != before
    assert desk.undo() == what
    assert book() == before


def test_a_payment_does_not_stand_in_the_way_of_undoing_what_came_before(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    desk.till.pay(order.id, D(20))
    while desk.undo():
        pass
    assert (desk.waiting(), desk.rack(), desk.till.payments()) == ((), (), ())
