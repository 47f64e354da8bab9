"""Money at the desk: terms of a price, versions, payments, what customers say, what is owed, the till, undo."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Order, OrdertinError, State
from tests.desk.kit import FULL, NOW, Clock, Writes, booked, everything

D = Decimal
TODAY = NOW.date()
# 24 plain cookies at 36.00 a dozen are 72.00, half of it down; the rates are those of the default house rules.
ORDER = "count=24 theme=unicorns due=2026-04-21 handover=pickup"


@pytest.fixture
def order(desk: Desk, writes: Writes) -> Order:
    return booked(desk, writes("Dana", ORDER))


# The price


@pytest.mark.parametrize(
    ("words", "total"),
    [
        ("elaborate", "124.00"),
        ("mini", "43.20"),
        ("courtesy -5", "67.00"),
        ("stand $12.50", "84.50"),
        ("6 miles", "72.00"),
    ],
)
def test_what_is_settled_makes_the_price_anew(desk: Desk, writes: Writes, words: str, total: str) -> None:
    quoted = desk.quote(writes("Dana", ORDER).id)
    after = desk.till.settle(quoted.id, words)
    assert after == desk.order(quoted.id)
    assert after.quote and after.quote.total == D(total)
    assert after.state is State.QUOTED


def test_terms_wait_for_the_price(desk: Desk, writes: Writes) -> None:
    order = desk.till.settle(writes("Dana", ORDER).id, "courtesy -5")
    assert order.quote is None
    assert desk.till.price(order.id).total == 67
    assert desk.order(order.id).quote is None
    assert desk.quote(order.id).quote == desk.till.price(order.id)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("nice and cheap", "expected a level"),
        ("courtesy -72.01", "less than nothing"),
        ("25 lettered", "0 to 24"),
        ("courtesy -0.001", "at most 2 decimals"),
    ],
)
def test_what_can_not_be_settled_changes_nothing(desk: Desk, order: Order, words: str, says: str) -> None:
    with pytest.raises(OrdertinError, match=says) as error:
        desk.till.settle(order.id, words)
    assert f"order {order.id} (Dana)" in str(error.value) and error.value.problem.todo
    assert desk.order(order.id) == order


def test_a_price_of_what_is_over_stays(desk: Desk, order: Order) -> None:
    desk.advance(order.id, "handed over")
    with pytest.raises(OrdertinError, match="handed over"):
        desk.till.settle(order.id, "courtesy -5")


def test_every_version_of_a_quote_is_kept(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = desk.quote(writes("Dana", ORDER).id)
    desk.quote(order.id)
    assert len(desk.till.versions(order.id)) == 1
    desk.till.settle(order.id, "courtesy -5")
    clock.now += timedelta(days=1)
    desk.quote(order.id)
    desk.correct(order.id, {"count": 36})
    assert desk.order(order.id).quote is None
    desk.quote(order.id)
    found = [(quote.total, quote.made_on) for quote in desk.till.versions(order.id)]
    # 36 x 3.00 - 5.00 = 103.00
    tomorrow = TODAY + timedelta(days=1)
    assert found == [(D(72), TODAY), (D(67), TODAY), (D(67), tomorrow), (D(103), tomorrow)]
    desk.undo()
    assert len(desk.till.versions(order.id)) == 3


def test_a_change_of_rates_never_prices_a_booked_order_anew(
    desk: Desk, home: Home, clock: Clock, writes: Writes
) -> None:
    agreed = booked(desk, writes("Dana", ORDER))
    open_one = desk.quote(writes("Leo", ORDER).id)
    text = home.rules.read_text().replace("plain = 36.00", "plain = 40.00")
    home.rules.write_text(text)
    clock.now += timedelta(days=38)  # three days before the hand-over: by then it would be a rush
    with Desk(home, now=clock) as dearer:
        assert dearer.order(agreed.id).quote == agreed.quote
        again = dearer.quote(agreed.id).quote
        assert again and [(line.label, line.amount) for line in again.lines] == [("24 cookies, plain", D(72))]
        dearer.correct(agreed.id, {"count": 36})
        more = dearer.quote(agreed.id).quote
        assert more and more.total == 108
        fresh = dearer.quote(open_one.id).quote
        # 24 x 40.00 / 12 = 80.00, and a quarter for the rush
        assert fresh and fresh.total == 100


def test_rates_that_start_on_a_day(desk: Desk, home: Home, clock: Clock, writes: Writes) -> None:
    order = writes("Dana", ORDER)
    later = "\n[[rates_later]]\nstarts = 2026-03-13\nper_dozen = { plain = 40, detailed = 50, elaborate = 65 }\n"
    home.rules.write_text(home.rules.read_text() + later)
    with Desk(home, now=clock) as desk_now:
        assert desk_now.till.price(order.id).total == 72
        clock.now += timedelta(days=2)
        assert desk_now.till.price(order.id).total == 80


def test_a_budget_is_compared_and_the_nearest_set_proposed(desk: Desk, writes: Writes) -> None:
    order = desk.quote(writes("Dana", f"{ORDER} budget=60").id)
    assert order.quote
    assert "This is $12.00 over the customer's budget of $60.00." in order.quote.notes
    assert "Nearest that fits: 18 cookies instead of 24: $54.00." in order.quote.notes
    assert [offer.quote.total for offer in desk.till.fitting(order.id, D(40))] == [D(36)]
    roomy = desk.quote(writes("Leo", f"{ORDER} budget=72").id)
    assert roomy.quote and roomy.quote.notes == ()
    poor = desk.quote(writes("Sam", f"{ORDER} budget=20").id)
    assert poor.quote and "Nothing that you take on fits that budget." in poor.quote.notes


def test_the_cost_sheet_of_an_order(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", ORDER)
    found = desk.till.sheet(order.id)
    assert found.price == 72
    assert found.cost > found.time > 0
    with pytest.raises(OrdertinError, match="missing"):
        desk.till.sheet(writes("Leo", "theme=owls").id)


# Payments


def test_deposit_and_balance(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(20), "cash")
    desk.till.pay(order.id, D("16"), "check", on=TODAY - timedelta(days=1))
    after = desk.till.pay(order.id, D("36.00"), "card", note="thanks")
    assert after == desk.order(order.id)
    assert after.paid == 72
    told = {(p.what, p.amount, p.how, p.day) for p in desk.till.payments(order.id)}
    # the day of the second is before that of the first
    assert told == {
        ("part", D(20), "cash", TODAY),
        ("deposit", D(16), "check", TODAY - timedelta(days=1)),
        ("balance", D(36), "card", TODAY),
    }
    assert desk.till.owed() == ()


def test_all_at_once(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(72))
    assert [p.what for p in desk.till.payments()] == ["in full"]


@pytest.mark.parametrize(
    ("do", "says"),
    [
        (lambda desk, n: desk.till.pay(n, D("72.01")), r"\$72.01 is \$0.01 more than is left to pay \(\$72.00\)"),
        (lambda desk, n: desk.till.pay(n, D(0)), "above zero"),
        (lambda desk, n: desk.till.pay(n, D(-5)), "above zero"),
        (lambda desk, n: desk.till.pay(n, D("0.005")), "at most 2 decimals"),
        (lambda desk, n: desk.till.pay(n, D(5), on=TODAY + timedelta(days=1)), "no day on which money can have come"),
        (lambda desk, n: desk.till.pay(n, D(5), on=date(1990, 1, 1)), "no day on which money can have come"),
        (lambda desk, n: desk.till.refund(n, D(5)), r"\$5.00 is more than was paid for it \(nothing\)"),
        (lambda desk, n: desk.till.strike(9), "no payment 9"),
        (lambda desk, n: desk.till.pay(99, D(5)), "no order 99"),
    ],
    ids=["over", "zero", "negative", "half a cent", "tomorrow", "long ago", "refund", "strike", "no order"],
)
def test_what_is_refused(desk: Desk, order: Order, do: Callable[[Desk, int], object], says: str) -> None:
    version = desk.version()
    with pytest.raises(OrdertinError, match=says):
        do(desk, order.id)
    assert desk.version() == version
    assert desk.till.payments() == ()


def test_a_refund_over_what_was_paid_and_one_within_it(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    with pytest.raises(OrdertinError, match=r"\$36.01 is more than was paid for it \(\$36.00\)"):
        desk.till.refund(order.id, D("36.01"))
    assert desk.till.refund(order.id, D("10"), "card").paid == 26
    assert [(p.what, p.signed) for p in desk.till.payments()] == [("deposit", D(36)), ("refund", D(-10))]


@pytest.mark.parametrize(
    ("text", "says"),
    [(ORDER, "no price yet"), (None, "was dropped")],
    ids=["not priced", "dropped"],
)
def test_orders_that_take_no_payment(desk: Desk, writes: Writes, text: str | None, says: str) -> None:
    order = writes("Dana", ORDER)
    if text is None:
        desk.quote(order.id)
        desk.drop(order.id)
    with pytest.raises(OrdertinError, match=says):
        desk.till.pay(order.id, D(5))


def test_what_was_paid_for_a_dropped_order_can_be_given_back(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    desk.drop(order.id)
    (kept,) = desk.till.owed()
    assert (kept.what, kept.amount, kept.left) == ("paid, then dropped", D(36), 0)
    assert desk.till.refund(order.id, D(36)).paid == 0
    assert desk.till.owed() == ()


def test_a_payment_entered_by_mistake_is_struck_out(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    (payment,) = desk.till.payments()
    assert desk.till.till().taken == 36
    assert desk.till.strike(payment.id).paid == 0
    assert desk.till.till().taken == 0
    assert [p.struck for p in desk.till.payments()] == [True]
    with pytest.raises(OrdertinError, match="no payment"):
        desk.till.strike(payment.id)


def test_a_payment_that_a_refund_rests_on_stays(desk: Desk, order: Order) -> None:
    desk.till.pay(order.id, D(36))
    desk.till.refund(order.id, D(30))
    (payment, _) = desk.till.payments()
    with pytest.raises(OrdertinError, match="a refund rests on"):
        desk.till.strike(payment.id)


# What customers say


def test_a_message_that_tells_of_a_payment_is_proposed_and_never_booked_by_itself(
    desk: Desk, writes: Writes, clock: Clock
) -> None:
    order = booked(desk, writes("Dana", ORDER))
    clock.now += timedelta(days=1)
    desk.paste("just sent the deposit by transfer!", to=order.thread_id)
    assert desk.order(order.id).paid == 0
    (told,) = desk.till.told()
    assert (told.order.id, told.amount, told.how, told.doubt) == (order.id, D(36), "transfer", "")
    assert desk.till.take(told).paid == 36
    assert desk.till.told() == ()
    assert [(p.what, p.how, p.message) for p in desk.till.payments()] == [("deposit", "transfer", told.message)]
    desk.undo()
    assert len(desk.till.told()) == 1


@pytest.mark.parametrize(
    ("words", "amount", "doubt"),
    [
        ("just paid the deposit", "36", ""),
        ("just sent you $20", "20", ""),
        ("just paid", "36", ""),
        ("paid in full just now", "72", ""),
        ("sent the whole thing, $90", "72", "the message says $90.00, and $72.00 is owed"),
        ("just sent $500", "36", "the message says $500.00, and $72.00 is owed"),
    ],
)
def test_what_a_message_most_likely_paid(
    desk: Desk, order: Order, clock: Clock, words: str, amount: str, doubt: str
) -> None:
    clock.now += timedelta(hours=2)
    desk.paste(words, to=order.thread_id)
    (told,) = desk.till.told()
    assert (told.amount, told.doubt) == (D(amount), doubt)


def test_a_message_put_aside_is_not_asked_about_again(desk: Desk, order: Order, clock: Clock) -> None:
    clock.now += timedelta(hours=2)
    desk.paste("just sent the deposit", to=order.thread_id)
    (told,) = desk.till.told()
    desk.till.not_paid(told)
    assert desk.till.told() == desk.till.payments() == ()
    assert desk.order(order.id).paid == 0
    desk.undo()
    assert len(desk.till.told()) == 1


@pytest.mark.parametrize("words", ["how do I pay the deposit?", "I'll send the deposit tomorrow", "see you then!"])
def test_what_is_no_payment_is_not_proposed(desk: Desk, order: Order, clock: Clock, words: str) -> None:
    clock.now += timedelta(hours=2)
    desk.paste(words, to=order.thread_id)
    assert desk.till.told() == ()


def test_what_was_paid_for_an_earlier_order_is_not_proposed(desk: Desk, writes: Writes) -> None:
    booked(desk, writes("Dana", "just sent the deposit for last month", ORDER))
    # both were written two days before the price was made
    assert desk.till.told() == ()


# Owed and reminded


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


def test_a_change_that_is_taken_is_priced_by_what_was_agreed(
    desk: Desk, home: Home, clock: Clock, writes: Writes
) -> None:
    order = booked(desk, writes("Dana", ORDER))
    desk.till.settle(order.id, "courtesy -5")
    home.rules.write_text(home.rules.read_text().replace("plain = 36.00", "plain = 40.00"))
    clock.now += timedelta(days=38)  # within a week of the hand-over
    desk.paste("count=36", to=order.thread_id)
    with Desk(home, now=clock) as dearer:
        assert dearer.order(order.id).change
        quote = dearer.accept(order.id).quote
        # 36 x 36.00 / 12 - 5.00, and no rush
        assert quote and [line.amount for line in quote.lines] == [D(108), D(-5)]
        assert len(dearer.till.versions(order.id)) == 3
