"""The welcome of a first run: asked once, kept in the house rules with their notes, each question to be skipped."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from textual.widgets import Input

from intake import house
from intake.home import Home
from tui.app import OrdertinApp
from tui.counter import Counter
from tui.welcome import Welcome

from .conftest import LARGE, SMALL, click, press, settle
from .seen import notice, screen_text


@pytest.fixture
def nowhere(tmp_path: Path) -> Home:
    return Home.at(tmp_path / "new")


async def typed(pilot, text: str) -> None:  # type: ignore[no-untyped-def]
    """Type over what stands in the line with the focus."""
    assert isinstance(pilot.app.focused, Input)
    pilot.app.focused.value = ""
    await pilot.press(*({" ": "space", ".": "full_stop"}.get(letter, letter) for letter in text))


async def test_three_questions_by_keyboard_and_a_wrong_price_is_told_beside_it(nowhere: Home) -> None:
    app = OrdertinApp(nowhere)
    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Welcome)
        await typed(pilot, "Bea Bakes")
        await press(pilot, "enter")
        await typed(pilot, "Bea")
        await press(pilot, "enter", "enter")

        assert "2 of 3" in screen_text(app)
        await press(pilot, "enter")
        await typed(pilot, "90")
        await press(pilot, "enter", "enter", "enter")
        assert "! This must rise with the work: plain 90" in screen_text(app)
        await typed(pilot, "40.50")
        await press(pilot, "enter", "enter", "enter")

        assert "Sunday" in screen_text(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, Counter)
        assert "paste it below" in notice(pilot)
        assert "ordertin demo" in screen_text(app)
        assert app.desk.house.house.name == "Bea Bakes"
        rules = house.load(nowhere.rules)
        assert (rules.house.baker, rules.rates.per_dozen.plain) == ("Bea", Decimal("40.50"))
        assert rules.hours == house.default_house().hours
        assert nowhere.rules.read_text().count("#") == house.default_text().count("#")
    app.desk.close()


async def test_all_of_it_is_skipped_by_mouse(nowhere: Home) -> None:
    app = OrdertinApp(nowhere)
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        await click(pilot, "#skip")
        assert "2 of 3" in screen_text(app)
        await click(pilot, "#skip-all")
        assert isinstance(app.screen, Counter)
        assert nowhere.rules.read_text() == house.default_text()
    app.desk.close()


async def test_house_rules_of_her_own_are_asked_nothing(home: Home) -> None:
    app = OrdertinApp(home)
    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Counter)
        home.rules.write_text(home.rules.read_text().replace("= 36.00", "= 35.00"))
        assert app.rules
        app.rules.peek()
        await settle(pilot)
        assert "they hold from now on" in notice(pilot)
        assert app.desk.house.rates.per_dozen.plain == 35
        home.rules.write_text("[house\n")
        app.rules.peek()
        await settle(pilot)
        assert "not TOML" in notice(pilot)
        assert app.desk.house.rates.per_dozen.plain == 35
    app.desk.close()
