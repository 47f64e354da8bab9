"""The Till: what is owed and said to be paid, payments by keyboard and mouse, the months, the cap, the ledger."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from intake.desk import Desk
from intake.home import Home
from intake.model import Due, Order
from tui.app import OrdertinApp
from tui.page import Page
from tui.reply_sheet import ReplySheet
from tui.till import TillScreen
from tui.typed import Typed

from .conftest import (
    LARGE,
    MESSAGE,
    NOW,
    SIZES,
    SMALL,
    Opened,
    booked,
    click,
    counter,
    press,
    settle,
    whole_slip,
    write,
)
from .seen import notice, screen_text, text_of

D = Decimal
# 24 plain cookies are 72.00 by the default house rules, half of it down; 12 December is far enough off for no rush.


def till(pilot: Pilot[int]) -> TillScreen:
    assert isinstance(pilot.app.screen, TillScreen)
    return pilot.app.screen


async def typed(pilot: Pilot[int], text: str) -> None:
    """Put `text` into the sheet's box in place of what stands there."""
    assert isinstance(pilot.app.screen, Typed)
    pilot.app.screen.query_one(Input).value = text
    await press(pilot, "enter")


def says_paid(desk: Desk, order: Order, words: str = "just sent the deposit by transfer") -> None:
    desk.paste(words, to=order.thread_id, at=NOW + timedelta(minutes=5))


async def test_an_empty_till_says_so(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+y")
        assert "Nothing is owed" in screen_text(pilot.app)
        for key in ("f4", "f8", "f5", "f7", "f3", "f10", "enter"):
            await press(pilot, key)
            assert isinstance(pilot.app.screen, TillScreen)
        await press(pilot, "escape")
        assert pilot.app.screen is counter(pilot)


@SIZES
async def test_what_is_owed_and_the_figures_of_the_month(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    first = booked(desk, f"{MESSAGE} one", sender="Ana [a]")
    booked(desk, f"{MESSAGE} two", sender="Bea", due=Due.on(date(2026, 12, 19)))
    desk.till.pay(first.id, D(36), "cash")
    async with opened(size) as pilot:
        await press(pilot, "ctrl+y")
        shown = screen_text(pilot.app)
        for words in ("Owed", "Bea, 24 cookies", "deposit $36.00", "Ana [a], 24 cookies", "balance $36.00", "Nov 2026"):
            assert words in shown
        assert "taken        $36.00   $36.00" in shown
        # 72.00 for Bea, 36.00 left of Ana's
        assert "owed in all $108.00" in shown
        await press(pilot, "f6")
        assert "Dec 2026" in screen_text(pilot.app)
        assert "booked      $144.00  $144.00" in screen_text(pilot.app)
        await press(pilot, "f2", "f2")
        assert "Oct 2026" in screen_text(pilot.app)


async def test_a_payment_is_typed_and_taken_back(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+y", "f4")
        assert isinstance(pilot.app.screen, Typed)
        # what is due next stands in the box
        await press(pilot, "end", "enter")
        assert desk.order(order.id).paid == 36
        assert "$36.00 left to pay" in notice(pilot)
        await press(pilot, "f4")
        await typed(pilot, "40 cash")
        assert "more than is left to pay" in notice(pilot)
        await press(pilot, "f4")
        await typed(pilot, "cash")
        assert "Expected an amount" in notice(pilot)
        await press(pilot, "f5")
        await typed(pilot, "back 6 card")
        assert desk.order(order.id).paid == 30
        await press(pilot, "f4", "escape", "f10")
        assert desk.order(order.id).paid == 36
        await press(pilot, "f10")
        assert desk.order(order.id).paid == 0


async def test_who_says_that_she_paid_comes_first_and_nothing_is_booked_by_itself(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    says_paid(desk, order)
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+y")
        shown = screen_text(pilot.app)
        assert shown.index("They say it is paid") < shown.index("Owed")
        assert "just sent the deposit by transfer" in shown
        assert "says it is paid: look at your account first" in notice(pilot)
        assert desk.order(order.id).paid == 0
        await press(pilot, "f4")
        assert "just sent the deposit" in text_of(pilot.app.screen)
        await press(pilot, "enter")
        (payment,) = desk.till.payments()
        assert (payment.what, payment.amount, payment.how) == ("deposit", D(36), "transfer")
        assert payment.message
        assert "They say it is paid" not in screen_text(pilot.app)


async def test_a_message_that_is_no_payment_is_put_aside(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    says_paid(desk, order)
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+y", "f8")
        assert "They say it is paid" not in screen_text(pilot.app)
        assert desk.till.payments() == ()
        await press(pilot, "f8")
        assert "Point at a message" in notice(pilot)
        await press(pilot, "f10")
        assert "They say it is paid" in screen_text(pilot.app)


async def test_a_reminder_is_written_and_sent_nowhere(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+y", "f7")
        assert isinstance(pilot.app.screen, ReplySheet)
        assert "a reminder" in screen_text(pilot.app)
        assert "$36.00" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert counter(pilot).view.thread_id == order.thread_id
        assert not any("reminder" in message.text for message in desk.case(order.thread_id).thread.messages)


async def test_the_mouse_does_it_too(opened: Opened, desk: Desk) -> None:
    first = booked(desk, f"{MESSAGE} one", sender="Ana")
    second = booked(desk, f"{MESSAGE} two", sender="Bea", due=Due.on(date(2026, 12, 19)))
    async with opened(LARGE) as pilot:
        await click(pilot, "#cap-go_till")
        rows = till(pilot).query_one("#rails", OptionList)
        rows.highlighted = 2
        await pilot.pause()
        assert till(pilot).row and till(pilot).row.order.id == second.id
        await click(pilot, "#cap-paid")
        await click(pilot, "#save")
        assert (desk.order(first.id).paid, desk.order(second.id).paid) == (0, 36)
        await click(pilot, "#cap-go_counter")
        assert pilot.app.screen is counter(pilot)


async def test_from_the_rack_to_the_till_and_to_the_conversation(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f9", "ctrl+y")
        assert isinstance(pilot.app.screen, TillScreen)
        await press(pilot, "f3")
        assert pilot.app.screen is counter(pilot)
        assert counter(pilot).view.thread_id == order.thread_id


async def test_a_payment_at_the_rack(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f9", "ctrl+w")
        await typed(pilot, "72 cash")
        assert desk.order(order.id).paid == 72
        assert "all is paid" in notice(pilot)


async def test_the_cap_comes_with_its_caution(home: Home) -> None:
    text = home.rules.read_text(encoding="utf-8").replace("sales_cap = 0", "sales_cap = 144")
    home.rules.write_text(text, encoding="utf-8")
    with Desk(home, now=lambda: NOW) as desk:
        order = booked(desk)
        desk.till.pay(order.id, D(36))
        app = OrdertinApp(home, desk=desk)
        async with app.run_test(size=LARGE) as pilot:
            await settle(pilot)
            await press(pilot, "ctrl+y")
            told = text_of(app.screen.query_one("#tag-text"))
            # 36 of 144
            assert "Sales cap: $36.00 of $144.00 since 2026-01-01, 25%" in told
            assert "your local office to say" in told


async def test_no_cap_no_caution(opened: Opened) -> None:
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+y")
        assert "cap" not in text_of(pilot.app.screen.query_one("#tag-text"))


async def test_the_ledger_says_where_it_is(opened: Opened, desk: Desk) -> None:
    order = booked(desk)
    desk.till.pay(order.id, D(36))
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+y", "ctrl+l")
        path = desk.home.book.parent / "ledger.csv"
        assert str(path) in notice(pilot)
        assert path.read_bytes().count(b"\r\n") == 2


# At the Counter


async def test_the_price_says_what_an_hour_earns(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "f4", "f5")
        assert "$72.00 in all; it earns $" in notice(pilot)
        assert "your least is" not in notice(pilot)


async def test_below_the_floor_is_said_with_the_price(home: Home) -> None:
    text = home.rules.read_text(encoding="utf-8").replace("floor_hour = 15.00", "floor_hour = 80.00")
    home.rules.write_text(text, encoding="utf-8")
    with Desk(home, now=lambda: NOW) as desk:
        whole_slip(desk)
        app = OrdertinApp(home, desk=desk)
        async with app.run_test(size=LARGE) as pilot:
            await settle(pilot)
            await press(pilot, "f4", "f5")
            assert "your least is $80.00" in notice(pilot)


async def test_something_is_settled_about_the_price(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "f4", "f5", "ctrl+e")
        await write(pilot, "courtesy -5")
        await press(pilot, "enter")
        quote = desk.order(order.id).quote
        assert quote and quote.total == 67
        assert "$67.00 in all" in notice(pilot)
        assert "-$5.00  courtesy" in text_of(counter(pilot).query_one("#part-price"))
        await press(pilot, "ctrl+e")
        assert "courtesy -5" in text_of(pilot.app.screen)
        await write(pilot, "make it nice")
        await press(pilot, "enter")
        assert "expected a level" in notice(pilot)
        await press(pilot, "ctrl+e", "escape", "f10")
        quote = desk.order(order.id).quote
        assert quote and quote.total == 72


async def test_the_cost_sheet_opens_as_a_page(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "f5", "ctrl+u")
        assert isinstance(pilot.app.screen, Page)
        for words in ("Dough, vanilla", "margin", "an hour"):
            assert words in screen_text(pilot.app)


async def test_a_payment_at_the_counter_shows_on_the_slip(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+w")
        assert "Not priced yet" in notice(pilot)
        await press(pilot, "f5", "ctrl+w")
        await typed(pilot, "36 cash")
        assert desk.order(order.id).paid == 36
        assert "paid $36.00, left $36.00" in text_of(counter(pilot).query_one("#part-price"))


@pytest.mark.parametrize("words", ["[/] [red]x", "[@click=app.quit()]paid the deposit"])
async def test_a_customers_words_are_words_only(opened: Opened, desk: Desk, words: str) -> None:
    order = booked(desk)
    says_paid(desk, order, f"just sent the deposit {words}")
    async with opened(LARGE) as pilot:
        await press(pilot, "ctrl+y")
        assert words in screen_text(pilot.app)


async def test_the_foot_has_words_on_a_small_terminal(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+y")
        foot = screen_text(pilot.app).splitlines()[-1]
        assert foot.split() == (
            "F4 Paid F8 Unpaid F5 Back F7 Remind F3 Talk F2 Before F6 After F10 Undo ^p More".split()
        )
