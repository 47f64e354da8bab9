"""The Counter: who waits, what goes wrong, another window, and texts that mean harm."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from intake.desk import Desk
from intake.model import Due, State
from tui.cell_edit import CellEdit
from tui.conversation import Bubble, Conversation
from tui.counter import Counter
from tui.page import Page
from tui.road import greeting
from tui.slip import Slip
from tui.tray import Tray

from .conftest import (
    MESSAGE,
    SIZES,
    SMALL,
    Opened,
    box,
    click,
    counter,
    paste,
    press,
    settle,
    slip,
    whole_slip,
    write,
)
from .seen import notice, row, screen_text, text_of


async def test_the_next_conversation_round_and_round(opened: Opened, desk: Desk) -> None:
    for name in ("Ana", "Bea", "Cleo"):
        slip(desk, f"{MESSAGE} {name}", sender=name)
    async with opened() as pilot:
        first = counter(pilot).view.thread_id
        seen = {first}
        for _ in range(2):
            await press(pilot, "f3")
            seen.add(counter(pilot).view.thread_id)
        assert len(seen) == 3
        await press(pilot, "f3")
        assert counter(pilot).view.thread_id == first


async def test_next_goes_on_from_the_one_just_handled(opened: Opened, desk: Desk) -> None:
    orders = [
        whole_slip(desk, f"{MESSAGE} {name}", sender=name, customer=name, due=Due.on(date(2026, 12, day)))
        for day, name in ((12, "Ana"), (13, "Bea"), (14, "Cleo"), (15, "Dot"))
    ]
    desk.replied(orders[2].id, desk.reply(orders[2].id, "ask"), "copied")
    async with opened() as pilot:
        assert counter(pilot).view.thread_id == orders[0].thread_id
        await press(pilot, "f3")
        assert counter(pilot).view.thread_id == orders[1].thread_id
        assert "3 conversations wait for you" in greeting(desk.waiting())
        desk.replied(orders[1].id, desk.reply(orders[1].id, "ask"), "copied")
        counter(pilot).reload()
        await settle(pilot)
        await press(pilot, "f3")
        assert counter(pilot).view.thread_id == orders[3].thread_id
        await press(pilot, "ctrl+b")
        assert counter(pilot).view.thread_id == orders[1].thread_id
        await press(pilot, "f3", "f3")
        assert counter(pilot).view.thread_id == orders[0].thread_id


async def test_the_list_opens_over_the_conversation_on_a_small_terminal(opened: Opened, desk: Desk) -> None:
    for name in ("Ana", "Bea"):
        slip(desk, f"{MESSAGE} {name}", sender=name)
    async with opened(SMALL) as pilot:
        tray = counter(pilot).query_one(Tray)
        assert not tray.region.width
        assert "2 waiting for you" in screen_text(pilot.app)
        was = counter(pilot).view.thread_id
        await press(pilot, "ctrl+t")
        assert tray.region.width and tray.has_focus
        await press(pilot, "down", "enter")
        assert counter(pilot).view.thread_id != was
        assert not tray.region.width


async def test_the_one_line_list_is_a_button(opened: Opened, desk: Desk) -> None:
    slip(desk)
    async with opened(SMALL) as pilot:
        await click(pilot, "#who-line")
        assert counter(pilot).query_one(Tray).region.width


async def test_a_conversation_without_an_order_is_set_aside(opened: Opened, desk: Desk) -> None:
    desk.paste("Thank you, the cookies were lovely!", sender="Ana")
    async with opened(SMALL) as pilot:
        assert "no order was read" in screen_text(pilot.app)
        await press(pilot, "f5")
        assert "holds no order" in notice(pilot)
        await press(pilot, "ctrl+g")
        assert desk.waiting() == ()


async def test_drop_bring_back_and_undo(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "ctrl+r", "d")
        assert desk.order(order.id).state is State.DROPPED
        await press(pilot, "ctrl+r")
        assert desk.order(order.id).state is State.DRAFT
        await press(pilot, "f10", "f10")
        assert desk.order(order.id).state is State.DRAFT
        assert notice(pilot).startswith("Taken back")


async def test_two_orders_in_one_conversation_have_two_slips(opened: Opened, desk: Desk) -> None:
    desk.paste(
        "Hi! Two orders please: 2 dozen unicorn cookies for pickup on December 12, and a separate order of "
        "3 dozen robot cookies for pickup on December 19.",
        sender="Ana",
    )
    async with opened() as pilot:
        assert "1 of 2" in text_of(counter(pilot).query_one("#slip-title"))
        first = counter(pilot).view.order
        await press(pilot, "ctrl+n")
        second = counter(pilot).view.order
        assert first and second and first.id != second.id
        await click(pilot, "#slip-title")
        assert counter(pilot).view.order == first


async def test_nothing_to_take_back(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "f10")
        assert notice(pilot) == "There is nothing to take back."


async def test_an_empty_book_answers_every_key(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        for key in ("f3", "f4", "f5", "f6", "f7", "f8", "ctrl+g", "ctrl+r", "ctrl+n", "ctrl+l", "ctrl+o"):
            await press(pilot, key)
            assert "Nobody waits" in notice(pilot) or "no conversation" in notice(pilot).lower(), key


async def test_an_unexpected_fault_is_one_line(
    opened: Opened, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole_slip(desk)

    def broken(order_id: int) -> None:
        raise ZeroDivisionError(f"[/ {order_id}")

    monkeypatch.setattr(desk, "quote", broken)
    async with opened(SMALL) as pilot:
        await press(pilot, "f4", "f5")
        assert "program's fault (ZeroDivisionError)" in notice(pilot)
        assert isinstance(pilot.app.screen, Counter)
        pilot.app.debugging = True  # type: ignore[attr-defined]
        await press(pilot, "f5")
        assert isinstance(pilot.app.screen, Page)
        assert "Traceback" in screen_text(pilot.app)


async def test_another_window_shows_within_a_look(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await paste(pilot, "half typed")
        with Desk(desk.home) as other:
            other.correct(order.id, {"count": 84})
        pilot.app._peek()  # type: ignore[attr-defined]
        await settle(pilot)
        assert "84 (7 dozen)" in row(pilot, "count")
        assert box(pilot).text == "half typed"




HOSTILE = ["[@click=app.quit()]free[/] [/ [red]hi[/red] [Sam] {0} %s [b", "\x1b]0;title\x07 \x1b[31mred [/"]


@pytest.mark.parametrize("text", HOSTILE)
async def test_a_hostile_message_is_shown_and_does_nothing(opened: Opened, desk: Desk, text: str) -> None:
    name = f"Mal {text}"
    slip(desk, f"{text}\n{MESSAGE}\n{text}", sender=name, theme=text, customer=name, lettering=[text])
    visible = text.replace("\x1b]0;title\x07", "").replace("\x1b[31m", "").strip()
    async with opened() as pilot:
        counter(pilot).talked(counter(pilot).view.thread_id, "you", text)
        await settle(pilot)
        bubble = counter(pilot).query_one(Bubble)
        assert visible in text_of(bubble)
        assert visible in text_of(counter(pilot).query_one("#row-theme"))
        assert "\x1b" not in screen_text(pilot.app)
        await click(pilot, "Bubble", offset=(20, 1))
        await press(pilot, "f9", "f9", "f7", "escape", "ctrl+t")
        counter(pilot).query_one(Slip).point("theme")
        counter(pilot).action_edit()
        await settle(pilot)
        assert isinstance(pilot.app.screen, CellEdit)
        assert pilot.app.is_running


@SIZES
async def test_long_names_and_endless_words(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    long = "Bartholomew" * 12
    slip(desk, f"{MESSAGE} {'x' * 3000} for {long}", sender=long, customer=long, theme="very " * 60)
    async with opened(size) as pilot:
        assert long in text_of(counter(pilot).query_one("#row-customer"))
        slip_ = counter(pilot).query_one(Slip)
        assert slip_.max_scroll_y >= 0
        assert max(len(line) for line in screen_text(pilot.app).split("\n")) <= size[0]
        await press(pilot, "f9", "f9")


async def test_a_very_long_conversation_begins_with_its_end(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    for number in range(80):
        reply = desk.reply(order.id, "ask")
        desk.replied(order.id, replace(reply, text=f"line {number}"), "copied")
    async with opened() as pilot:
        conversation = counter(pilot).query_one(Conversation)
        assert len(conversation.query(Bubble)) < 81
        assert "earlier messages" in text_of(conversation)
        conversation.focus()
        await press(pilot, "home")
        assert len(conversation.query(Bubble)) == 81


async def test_half_typed_words_wait_in_their_own_conversation(opened: Opened, desk: Desk) -> None:
    slip(desk)
    slip(desk, "36 owls for Saturday, December 19, pickup", sender="Bea Ortiz")
    async with opened() as pilot:
        first = counter(pilot).view.thread_id
        await write(pilot, "6 miles")
        await press(pilot, "f3")
        assert counter(pilot).view.thread_id != first
        assert box(pilot).text == ""
        await press(pilot, "ctrl+b")
        assert (counter(pilot).view.thread_id, box(pilot).text) == (first, "6 miles")
