"""One table of actions feeds keys, key bars, palette and help; its keys are those that every terminal sends."""

from __future__ import annotations

import re

import pytest

from intake.home import Home
from tui.actions import ACTIONS, ANYWHERE, BENCH, COUNTER, RACK, RULES, TILL, Action, named, on, shown_key
from tui.app import OrdertinApp
from tui.bench import Bench
from tui.caps import Cap
from tui.counter import Counter
from tui.page import help_text
from tui.rack import Rack
from tui.rules import Rules
from tui.till import TillScreen

from .conftest import SMALL, Opened, press
from .seen import screen_text

OWNERS = {COUNTER: Counter, RACK: Rack, BENCH: Bench, TILL: TillScreen, RULES: Rules, ANYWHERE: OrdertinApp}
# F1 to F10 and ctrl with a letter: https://textual.textualize.io/FAQ/ ("Why do some key combinations never make it to
# my app?"). A letter alone is typed.
UNIVERSAL = re.compile(r"f[1-9]|f10|ctrl\+[a-z]")
# What terminals take for themselves: ^c ^z ^s, and ^i ^m ^j ^h, which are tab, enter, newline and backspace.
TAKEN = {f"ctrl+{letter}" for letter in "czsimjh"}


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.name)
def test_an_action_can_be_done_where_it_says(action: Action) -> None:
    for screen in action.on:
        assert callable(getattr(OWNERS[screen], f"action_{action.name}"))
    assert all(UNIVERSAL.fullmatch(key) and key not in TAKEN for key in action.keys)


@pytest.mark.parametrize("screen", [COUNTER, RACK, BENCH, TILL])
def test_no_key_does_two_things(screen: str) -> None:
    keys = [key for action in on(screen, ANYWHERE) if not action.stead for key in action.keys]

    assert len(keys) == len(set(keys))
    assert all(named(action.stead).keys == action.keys for action in on(screen) if action.stead)


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.name)
def test_the_help_names_it(action: Action) -> None:
    assert f"{action.label}: {action.says}" in help_text().plain
    assert all(shown_key(key) in help_text().plain for key in action.keys)


@pytest.mark.parametrize(("screen", "keys"), [(COUNTER, ""), (RACK, "f9"), (BENCH, "ctrl+d"), (TILL, "ctrl+y")])
async def test_every_cap_of_a_bar_is_in_sight_on_a_small_terminal(opened: Opened, screen: str, keys: str) -> None:
    async with opened(SMALL) as pilot:
        if keys:
            await press(pilot, keys)
        shown = {cap.does for cap in pilot.app.screen.query(Cap) if cap.region.right <= SMALL[0] and cap.region.width}

        assert shown == {action.name for action in on(screen, ANYWHERE) if action.bar and not action.stead}


async def test_the_palette_offers_every_action(opened: Opened) -> None:
    async with opened() as pilot:
        offered = {command.title for command in pilot.app.get_system_commands(pilot.app.screen)}

        assert offered == {action.label for action in on(COUNTER, ANYWHERE)} - {"More"}


def test_the_help_says_where_the_book_and_the_house_rules_are(home: Home) -> None:
    assert all(str(path) in help_text(home).plain for path in (home.book, home.rules, home.templates))


async def test_help_opens_and_closes(opened: Opened) -> None:
    async with opened(SMALL) as pilot:
        await press(pilot, "f1")
        assert "At the Counter" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Counter)


async def test_the_palette_does_what_is_chosen(opened: Opened) -> None:
    async with opened() as pilot:
        await pilot.press("ctrl+p")
        await pilot.pause()
        await pilot.press(*"light")
        await pilot.app.workers.wait_for_complete()
        was = pilot.app.theme
        await press(pilot, "down", "enter")

        assert pilot.app.theme != was
