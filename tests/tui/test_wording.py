"""The words of answers: changed with the answer in sight, mistakes told, kept, put back; by keys or by mouse."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot
from textual.widgets import Button, OptionList, Static, TextArea

from intake.desk import Desk
from intake.home import Home
from tui.ask import Ask
from tui.counter import Counter
from tui.reply_sheet import ReplySheet
from tui.wording_screen import WordingScreen

from .conftest import LARGE, SIZES, SMALL, Opened, booked, click, press, settle, write
from .seen import screen_text, text_of


def screen(pilot: Pilot[int]) -> WordingScreen:
    found = pilot.app.screen
    assert isinstance(found, WordingScreen)
    return found


def shows(pilot: Pilot[int], part: str) -> str:
    return " ".join(text_of(screen(pilot).query_one(f"#wording-{part}", Static)).split())


def file(home: Home, name: str = "confirm.txt") -> str:
    return (home.templates / name).read_text(encoding="utf-8")


@SIZES
async def test_by_keys_alone(opened: Opened, desk: Desk, home: Home, size: tuple[int, int]) -> None:
    booked(desk)
    async with opened(size) as pilot:
        await press(pilot, "f7", "f4")
        assert "{{ greeting }}" in screen_text(pilot.app)
        assert "Order 1" in shows(pilot, "whose")
        await write(pilot, "Oh ")
        await settle(pilot)
        # What it makes is seen at once, and is nowhere yet.
        assert shows(pilot, "answer").startswith("Oh Hi Dana,")
        assert "Oh " not in file(home)
        assert "changed, not kept" in shows(pilot, "title")
        await write(pilot, "{{x}}")
        await settle(pilot)
        assert "Line 16: there is no field called `x`" in shows(pilot, "fault")
        assert shows(pilot, "answer").startswith("Hi Dana,")
        await press(pilot, "f4")
        assert "Kept for you to mend. Until then answers are in our words" in shows(pilot, "said")
        assert "▲ confirm" in " ".join(screen_text(pilot.app).split())
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, ReplySheet)
        assert "Your own words have a mistake (confirm.txt, line 16" in " ".join(text_of(pilot.app.screen).split())
        assert pilot.app.screen.query_one(TextArea).text.startswith("Hi Dana,")
        await press(pilot, "f4", "f3", "end")
        await pilot.press("home", *["right"] * 3, *["delete"] * 5)
        await press(pilot, "f4")
        assert "Kept. Answers are in these words" in shows(pilot, "said")
        await press(pilot, "escape")
        assert pilot.app.screen.query_one(TextArea).text.startswith("Oh Hi Dana,")
        assert "mistake" not in text_of(pilot.app.screen)


@SIZES
async def test_by_mouse_alone(opened: Opened, desk: Desk, home: Home, size: tuple[int, int]) -> None:
    booked(desk)
    async with opened(size) as pilot:
        await click(pilot, "#cap-reply")
        await click(pilot, "#wording")
        await click(pilot, "#do-fields")
        await click(pilot, "#wording-fields", offset=(2, 2))
        assert shows(pilot, "answer") != ""
        assert "changed, not kept" in shows(pilot, "title")
        await click(pilot, "#do-keep")
        hers = file(home)
        assert "Kept." in shows(pilot, "said")
        await click(pilot, "#do-ours")
        assert "F10 brings them back" in shows(pilot, "said")
        ours = file(home)
        assert ours != hers
        assert "our words" in shows(pilot, "title")
        await click(pilot, "#do-swap")
        assert file(home) == hers
        assert screen(pilot).query_one(TextArea).text == hers
        await click(pilot, "#do-other_order")
        assert "An invented order" in shows(pilot, "whose")
        assert "Bea" in shows(pilot, "answer")
        # The list: its second line is the first answer.
        await click(pilot, "#wording-list", offset=(4, 2))
        assert "the price" in shows(pilot, "title")
        await click(pilot, "#do-leave")
        assert isinstance(pilot.app.screen, ReplySheet)


@pytest.mark.parametrize(("key", "kept"), [("k", True), ("l", False), ("g", None)])
async def test_what_was_typed_is_not_lost_by_leaving(
    opened: Opened, desk: Desk, home: Home, key: str, kept: bool | None
) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+p", *"wording", "enter")
        assert "the question" in shows(pilot, "title")
        await write(pilot, "My ")
        await press(pilot, "shift+tab", "down")
        # Another of them, and back: what was typed is still there.
        assert "the price" in shows(pilot, "title")
        await press(pilot, "up")
        assert "My " in screen(pilot).query_one(TextArea).text
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, key)
        assert ("My " in file(home, "ask.txt")) is bool(kept)
        assert isinstance(pilot.app.screen, Counter if kept is not None else WordingScreen)
    if kept is None:
        # The window was closed: what was typed comes back.
        async with opened(SMALL) as pilot:
            await press(pilot, "ctrl+p", *"wording", "enter")
            assert "My " in screen(pilot).query_one(TextArea).text


async def test_a_field_is_put_in_where_the_cursor_stands(opened: Opened, desk: Desk) -> None:
    booked(desk)
    async with opened(LARGE) as pilot:
        await press(pilot, "f7", "f4", "f6")
        fields = screen(pilot).query_one("#wording-fields", OptionList)
        fields.highlighted = 8
        await press(pilot, "enter")
        assert "\n{{ count }}{{ greeting }}\n" in screen(pilot).query_one(TextArea).text
        assert shows(pilot, "answer").startswith("24Hi Dana")


async def test_where_nothing_is_to_do_it_says_so(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+p", *"wording", "enter", "f4")
        assert "Nothing to keep" in shows(pilot, "said")
        await press(pilot, "f8")
        assert "our words already" in shows(pilot, "said")
        await press(pilot, "f10")
        assert "no words went aside" in shows(pilot, "said")


@pytest.mark.parametrize("size", [(60, 15), SMALL])
async def test_its_buttons_are_in_sight(opened: Opened, desk: Desk, size: tuple[int, int]) -> None:
    booked(desk)
    async with opened(size) as pilot:
        await press(pilot, "f7", "f4")
        for button in screen(pilot).query(Button):
            if not button.display:
                continue  # at this height by its key alone
            assert screen(pilot).region.contains_region(button.region), button.id
        assert "{{ greeting }}" in screen_text(pilot.app)
        assert "Hi Dana," in screen_text(pilot.app)


async def test_markup_in_the_words_is_shown_as_it_stands(opened: Opened, desk: Desk) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "ctrl+p", *"wording", "enter")
        text = screen(pilot).query_one(TextArea)
        text.text = "[red]{{ name }}[/] [@click=app.quit()]x"
        await settle(pilot)
        assert shows(pilot, "answer") == "[red]Bea[/] [@click=app.quit()]x"
