"""The Counter from a pasted message to a booked order, by keys alone and by mouse alone, on both sizes of terminal."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, time

import pytest
from textual.events import Paste
from textual.pilot import Pilot
from textual.widgets import Input, OptionList, TextArea

from intake.desk import Desk
from intake.model import Due, State
from tui.ask import Ask
from tui.cell_edit import CellEdit
from tui.conversation import MARK, Bubble, Conversation
from tui.counter import Counter
from tui.page import Page
from tui.rack import Rack
from tui.reply_sheet import ReplySheet
from tui.say import Words
from tui.slip import Slip
from tui.tray import Tray

from .conftest import LARGE, MESSAGE, SMALL, Opened, click, press, settle, slip, whole_slip, write
from .seen import notice, row, screen_text, text_of

SIZES = pytest.mark.parametrize("size", [SMALL, LARGE], ids=["80x24", "140x45"])


async def paste(pilot: Pilot[int], text: str) -> None:
    pilot.app.post_message(Paste(text))
    await settle(pilot)


def counter(pilot: Pilot[int]) -> Counter:
    found = pilot.app.screen_stack[0]
    assert isinstance(found, Counter)
    return found


def box(pilot: Pilot[int]) -> Words:
    return counter(pilot).query_one(Words)


@pytest.fixture
def copied(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What was copied; nothing reaches a real clipboard."""
    texts: list[str] = []

    def copy(text: str) -> str:
        texts.append(text)
        return "sent to the terminal's clipboard (it does not confirm)"

    monkeypatch.setattr("intake.replies.clipboard.copy", copy)
    return texts


# The road


@SIZES
async def test_the_whole_road_by_keyboard(opened: Opened, desk: Desk, copied: list[str], size: tuple[int, int]) -> None:
    async with opened(size) as pilot:
        await paste(pilot, MESSAGE)
        assert box(pilot).text == MESSAGE
        await press(pilot, "enter")
        order = counter(pilot).view.order
        assert order and order.draft.count.value == 24

        await write(pilot, "make it 3 dozen, pickup")
        await press(pilot, "enter")
        assert "36 (3 dozen)" in row(pilot, "count")

        desk.correct(order.id, {"due": Due.on(date(2026, 12, 12), time(14)), "customer": "Dana", "theme": "unicorns"})
        counter(pilot).reload()
        await settle(pilot)
        await press(pilot, "f4", "f5")
        assert "in all" in text_of(counter(pilot).query_one("#part-price"))
        await press(pilot, "f6")
        assert "Fits" in text_of(counter(pilot).query_one("#part-room"))
        await press(pilot, "f7")
        assert isinstance(pilot.app.screen, ReplySheet)
        await press(pilot, "f7")
        assert notice(pilot).startswith("Sent to the terminal's clipboard")
        assert len(copied) == 1 and "Dana" in copied[0]
        assert desk.case(order.thread_id).thread.messages[-1].mine
        await press(pilot, "f8")
        assert desk.order(order.id).state is State.BOOKED
        await press(pilot, "f9")
        assert isinstance(pilot.app.screen, Rack)
        assert "Sat 12 Dec" in screen_text(pilot.app)
        assert "Dana" in screen_text(pilot.app)


@SIZES
async def test_the_whole_road_by_mouse(opened: Opened, desk: Desk, copied: list[str], size: tuple[int, int]) -> None:
    order = whole_slip(desk)
    async with opened(size) as pilot:
        await click(pilot, "#row-count .value")
        await click(pilot, "#row-count .value")
        assert isinstance(pilot.app.screen, CellEdit)
        pilot.app.screen.query_one(Input).value = "36"
        await click(pilot, "#save")
        assert "36 (3 dozen)" in row(pilot, "count")
        await click(pilot, "#cap-confirm")
        await click(pilot, "#cap-price")
        await click(pilot, "#cap-room")
        await click(pilot, "#cap-reply")
        await click(pilot, "#copy")
        assert len(copied) == 1
        await click(pilot, "#cap-book")
        assert desk.order(order.id).state is State.BOOKED
        await click(pilot, "#cap-go_rack")
        assert isinstance(pilot.app.screen, Rack)
        await click(pilot, "#cap-go_counter")
        assert isinstance(pilot.app.screen, Counter)


async def test_headings_of_the_slip_are_buttons(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    desk.confirm(order.id)
    async with opened() as pilot:
        await click(pilot, "#part-price .heading")
        assert desk.order(order.id).quote
        await click(pilot, "#part-reply .heading")
        assert isinstance(pilot.app.screen, ReplySheet)


@pytest.mark.parametrize("keys", [["escape"], ["tab"]])
async def test_letters_are_keys_outside_the_box(opened: Opened, desk: Desk, keys: list[str]) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "shift+tab", *keys) if keys == ["tab"] else await press(pilot, *keys)
        box(pilot).screen.query_one(Slip).focus()
        await press(pilot, "c", "p")
        assert desk.order(order.id).state is State.QUOTED


@pytest.mark.parametrize(
    ("values", "keys", "said"),
    [
        ({"count": None}, ["f5"], "Not agreed yet: count"),
        ({"count": None}, ["f4"], "Not agreed yet: count"),
        ({"due": None}, ["f6"], "Not agreed yet: day"),
        ({"due": Due(date(2026, 12, 10), date(2026, 12, 12))}, ["f4"], "Not agreed yet: day"),
        ({}, ["f4", "f8"], "Not priced yet"),
        ({}, ["f4", "f4"], "confirmed already"),
        ({}, ["ctrl+n"], "holds one order"),
        ({}, ["ctrl+g"], "still open"),
    ],
)
async def test_what_can_not_be_done_yet_says_why(
    opened: Opened, desk: Desk, values: dict[str, object], keys: list[str], said: str
) -> None:
    whole_slip(desk, **values)
    async with opened(SMALL) as pilot:
        await press(pilot, *keys)
        assert said in notice(pilot)


async def test_a_clash_is_told_and_booking_asks_first(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk, count=600, due=Due.on(date(2026, 11, 27), time(9)))
    async with opened() as pilot:
        await press(pilot, "f4", "f5", "f6")
        room = text_of(counter(pilot).query_one("#part-room"))
        assert "Clash: it can't be made in time" in room
        assert "First day that would work" in room or "No day ahead" in room

        await press(pilot, "f8")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, "l")
        assert notice(pilot) == "Not booked."
        await press(pilot, "f8", "b")
        assert desk.order(order.id).state is State.BOOKED


async def test_booking_looks_at_the_room_by_itself(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    desk.confirm(order.id)
    desk.quote(order.id)
    async with opened() as pilot:
        await press(pilot, "f8")
        assert desk.order(order.id).state is State.BOOKED


async def test_a_verdict_does_not_outlive_what_it_rests_on(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "f6")
        assert counter(pilot).view.room
        await paste(pilot, "make it 5 dozen")
        await press(pilot, "enter")
        assert counter(pilot).view.room is None
        assert "has changed" in text_of(counter(pilot).query_one("#part-room"))


# Messages and words


async def test_a_paste_over_an_open_slip_asks_what_it_is(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await paste(pilot, "Hello\r\ncan I get 4 dozen robots\r\nfor pickup?")
        assert isinstance(pilot.app.screen, Ask)
        assert "3 lines" in screen_text(pilot.app)
        await press(pilot, "n")
        assert len(desk.waiting()) == 2
        order = counter(pilot).view.order
        assert order and order.draft.count.value == 48


@pytest.mark.parametrize(
    ("key", "count", "left"), [("c", 60, ""), ("k", 24, "make it 5 dozen\n"), ("escape", 24, "")]
)
async def test_a_paste_may_be_a_correction_or_stay(
    opened: Opened, desk: Desk, key: str, count: int, left: str
) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        await paste(pilot, "make it 5 dozen\nplease")
        await press(pilot, key)
        assert desk.order(order.id).draft.count.value == count
        assert box(pilot).text.startswith(left)
        assert len(desk.waiting()) == 1


@pytest.mark.parametrize(
    ("text", "asks"), [("3 dozen", False), ("3 dozen\n", False), ("a\nb", True), ("very " * 40, True)]
)
async def test_only_a_long_or_many_lined_paste_asks(opened: Opened, desk: Desk, text: str, asks: bool) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await paste(pilot, text)
        assert isinstance(pilot.app.screen, Ask) is asks


async def test_a_paste_reaches_the_box_from_anywhere(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened() as pilot:
        counter(pilot).query_one(Slip).focus()
        await paste(pilot, "3 dozen")
        assert box(pilot).text == "3 dozen"
        assert box(pilot).has_focus


async def test_a_new_message_with_its_sender(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f2")
        counter(pilot).query_one("#say-from", Input).value = "Lee [b]Park[/]"
        await paste(pilot, "4 dozen robots\nfor pickup")
        await press(pilot, "enter")
        assert counter(pilot).view.case and counter(pilot).view.case.thread.customer == "Lee [b]Park[/]"
        assert not counter(pilot).wants_new


async def test_new_message_goes_back_without_a_trace(opened: Opened, desk: Desk) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f2")
        assert "New message" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert "Correction to Dana Whitlock" in screen_text(pilot.app)


async def test_lines_typed_with_ctrl_j_are_one_message(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await write(pilot, "2 dozen\npickup")
        assert box(pilot).text == "2 dozen\npickup"
        await press(pilot, "enter")
        assert box(pilot).text == ""
        assert len(desk.waiting()) == 1


async def test_words_that_are_not_understood_stay_in_the_box(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await write(pilot, "hmm")
        await press(pilot, "enter")
        assert box(pilot).text == "hmm"
        assert "hmm" in text_of(counter(pilot).query_one(Conversation))
        assert desk.order(order.id).draft == order.draft


async def test_a_message_that_can_not_be_read_is_told(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await paste(pilot, "x" * 300_000)
        await press(pilot, "enter")
        assert notice(pilot)
        assert desk.waiting() == ()


# The slip


async def test_arrows_walk_the_slip_and_mark_the_words(opened: Opened, desk: Desk) -> None:
    desk.paste(MESSAGE, sender="Dana Whitlock")
    async with opened() as pilot:
        slip_ = counter(pilot).query_one(Slip)
        for _ in slip_.fields:
            await press(pilot, "up")
        walked = [slip_.field]
        for _ in slip_.fields[1:]:
            await press(pilot, "down")
            walked.append(slip_.field)
            if slip_.field == "count":
                assert "2 dozen" in marked_words(pilot)
        assert tuple(walked) == slip_.fields


def marked_words(pilot: Pilot[int]) -> str:
    return " ".join(
        bubble.content.plain[span.start : span.end]
        for bubble in counter(pilot).query(Bubble)
        for span in bubble.content.spans
        if span.style == MARK
    )


@SIZES
async def test_every_field_comes_into_sight(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    whole_slip(desk)
    async with opened(size) as pilot:
        await press(pilot, "ctrl+l")
        slip_ = counter(pilot).query_one(Slip)
        for field in slip_.fields:
            slip_.point(field)
            await pilot.pause()
            assert slip_.region.contains_region(counter(pilot).query_one(f"#row-{field} .head").region), field


@pytest.mark.parametrize(
    ("field", "typed", "shown"),
    [
        ("count", "4 dozen", "48 (4 dozen)"),
        ("due", "19 dec 11am", "Sat 19 Dec 11am"),
        ("lettering", "Leo; Happy Birthday", "\u201cLeo\u201d, \u201cHappy Birthday\u201d"),
        ("designs", "12 stars; 12 moons", "12 stars, 12 moons"),
        ("budget", "95", "95.00"),
        ("customer", "[red]Mallory[/", "[red]Mallory[/"),
    ],
)
async def test_a_field_is_changed_by_typing(opened: Opened, desk: Desk, field: str, typed: str, shown: str) -> None:
    whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+l")
        counter(pilot).query_one(Slip).point(field)
        await press(pilot, "enter")
        pilot.app.screen.query_one(Input).focus()
        pilot.app.screen.query_one(Input).value = typed
        await press(pilot, "enter")
        assert shown in row(pilot, field)
        assert row(pilot, field).startswith("\u25b8\u25cf ok")


async def test_a_wrong_value_is_told_and_the_sheet_stays(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        counter(pilot).query_one(Slip).point("count")
        await press(pilot, "enter")
        pilot.app.screen.query_one(Input).value = "lots"
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, CellEdit)
        assert "a number of cookies" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert desk.order(order.id).draft.count.value == 24


async def test_a_fixed_word_is_chosen_and_a_field_emptied(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        counter(pilot).query_one(Slip).point("handover")
        await press(pilot, "enter")
        options = pilot.app.screen.query_one(OptionList)
        assert options.has_focus
        options.highlighted = 1
        await press(pilot, "enter")
        assert desk.order(order.id).draft.handover.value == "ship"
        counter(pilot).query_one(Slip).point("theme")
        await press(pilot, "enter")
        await click(pilot, "#clear")
        assert desk.order(order.id).draft.theme.missing


# Who waits


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


async def test_the_list_opens_over_the_conversation_on_a_small_terminal(opened: Opened, desk: Desk) -> None:
    for name in ("Ana", "Bea"):
        slip(desk, f"{MESSAGE} {name}", sender=name)
    async with opened(SMALL) as pilot:
        tray = counter(pilot).query_one(Tray)
        assert not tray.region.width
        assert "2 waiting" in screen_text(pilot.app)
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
        await press(pilot, "ctrl+r")
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


@pytest.mark.parametrize("key", ["f3", "f4", "f5", "f6", "f7", "f8", "ctrl+g", "ctrl+r", "ctrl+n", "ctrl+l", "ctrl+o"])
async def test_an_empty_book_answers_every_key(opened: Opened, key: str) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, key)
        assert "Nobody waits" in notice(pilot) or "no conversation" in notice(pilot).lower()


# Answers


async def test_an_answer_is_changed_and_written_to_a_file(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened(SMALL) as pilot:
        await press(pilot, "f7")
        pilot.app.screen.query_one(TextArea).text = "Hi Dana, [b]yes[/b]!"
        await press(pilot, "f8")
        path = next((desk.home.book.parent / "answers").iterdir())
        assert path.read_text(encoding="utf-8") == "Hi Dana, [b]yes[/b]!\n"
        assert path.stat().st_mode & 0o077 == 0
        assert path.name in notice(pilot).replace("\n", "")
        assert desk.case(order.thread_id).thread.messages[-1].text.strip() == "Hi Dana, [b]yes[/b]!"


async def test_another_answer_and_none_at_all(opened: Opened, desk: Desk) -> None:
    order = whole_slip(desk)
    async with opened() as pilot:
        await press(pilot, "f7")
        sheet = pilot.app.screen
        assert isinstance(sheet, ReplySheet)
        first = sheet._reply.kind
        await press(pilot, "f6")
        assert isinstance(pilot.app.screen, ReplySheet)
        assert pilot.app.screen._reply.kind != first
        await press(pilot, "escape")
        assert "went nowhere" in notice(pilot)
        assert not desk.case(order.thread_id).thread.messages[-1].mine


# What goes wrong


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


# Texts from outside


HOSTILE = ["[/", "[@click=app.quit()]free[/]", "[red]hi[/red] [Sam] [b", "{0} %s \\[x]", "\x1b]0;title\x07 \x1b[31mred"]


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
