"""What the baker settles of a price, at the desk: terms, versions, rates of a day, a budget, the cost sheet."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Order, OrdertinError, State
from tests.desk.kit import NOW, ORDER, Clock, Writes, booked

D = Decimal
TODAY = NOW.date()


@pytest.fixture
def order(desk: Desk, writes: Writes) -> Order:
    return booked(desk, writes("Dana", ORDER))



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
