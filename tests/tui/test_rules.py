"""House rules in forms: found, changed, refused beside the field, kept with their notes, taken back."""

from __future__ import annotations

from decimal import Decimal

import pytest
from textual.widgets import Input

from intake import house
from intake.home import Home
from tui.counter import Counter
from tui.form_row import FormRow
from tui.rules import Rules

from .conftest import LARGE, SMALL, Opened, click, counter, press, settle
from .seen import notice, screen_text, text_of


@pytest.fixture(autouse=True)
def no_peeks(monkeypatch: pytest.MonkeyPatch) -> None:
    """What another hand has done is looked at when a test says so."""
    monkeypatch.setattr("tui.app.PEEK_EVERY", 1e6)


def line(pilot, *path: str) -> FormRow:  # type: ignore[no-untyped-def]
    return next(row for row in pilot.app.screen.query(FormRow) if row.field.path == path)


async def to_rules(pilot) -> None:  # type: ignore[no-untyped-def]
    """By the palette's own way."""
    await counter(pilot).do("go_rules")
    await settle(pilot)


def rule_lines(home: Home) -> list[str]:
    return home.rules.read_text(encoding="utf-8").split("\n")


async def test_a_price_is_changed_refused_kept_and_taken_back_by_keyboard(opened: Opened, home: Home) -> None:
    before = rule_lines(home)
    async with opened(SMALL) as pilot:
        await to_rules(pilot)
        await press(pilot, "down", "enter")
        assert isinstance(pilot.app.screen, Rules)
        assert pilot.app.focused is line(pilot, "rates", "per_dozen", "plain").query_one(Input)

        await press(pilot, "ctrl+u", "9", "0", "f4")
        assert "! This must rise with the work" in text_of(line(pilot, "rates", "per_dozen", "plain"))
        assert "! Prices" in screen_text(pilot.app)
        assert rule_lines(home) == before

        await press(pilot, "ctrl+u", "4", "1", "full_stop", "5", "0", "f4")
        changed = [(old, new) for old, new in zip(before, rule_lines(home), strict=True) if old != new]
        assert changed == [
            (
                "per_dozen = { plain = 36.00, detailed = 48.00, elaborate = 62.00 }",
                "per_dozen = { plain = 41.50, detailed = 48.00, elaborate = 62.00 }",
            )
        ]
        assert "1 rule kept" in notice(pilot)
        assert pilot.app.desk.house.rates.per_dozen.plain == Decimal("41.50")  # type: ignore[attr-defined]

        await press(pilot, "f10")
        assert rule_lines(home) == before
        assert pilot.app.desk.house.rates.per_dozen.plain == 36  # type: ignore[attr-defined]
        await press(pilot, "escape", "escape")
        assert isinstance(pilot.app.screen, Counter)


async def test_a_rule_is_found_and_another_hands_change_is_not_written_over(opened: Opened, home: Home) -> None:
    async with opened(LARGE) as pilot:
        await to_rules(pilot)
        await click(pilot, "#rules-find")
        await press(pilot, *"allergens")
        await settle(pilot)
        row = line(pilot, "reply", "allergens")
        row.query_one(Input).value = "Made with wheat, milk and egg."
        await settle(pilot)
        other = home.rules.read_text().replace('place = "my kitchen door"', 'place = "the blue door"')
        home.rules.write_text(other)

        await click(pilot, "#cap-keep_rules")
        assert "changed elsewhere" in notice(pilot)
        assert home.rules.read_text() == other
        assert line(pilot, "reply", "allergens").typed == "Made with wheat, milk and egg."
        await click(pilot, "#cap-keep_rules")
        rules = house.load(home.rules)
        assert rules.reply.allergens == "Made with wheat, milk and egg."
        assert rules.house.place == "the blue door"

        home.rules.write_text(home.rules.read_text() + "# a note of hers\n")
        await press(pilot, "f10")
        assert "changed elsewhere since" in notice(pilot)
        assert home.rules.read_text().endswith("# a note of hers\n")


async def test_what_is_too_deep_is_pointed_to_the_file_and_leaving_asks(opened: Opened) -> None:
    async with opened(LARGE) as pilot:
        await to_rules(pilot)
        await press(pilot, "down")
        assert "edit in the file" in text_of(line(pilot, "rates", "rush"))
        assert not line(pilot, "rates", "rush").query(Input)
        line(pilot, "rates", "valid_days").query_one(Input).value = "12"
        await settle(pilot)
        await press(pilot, "f9", "s")
        assert isinstance(pilot.app.screen, Rules)
        await press(pilot, "f9", "k")
        assert isinstance(pilot.app.screen, Counter)
        assert pilot.app.desk.house.rates.valid_days == 12  # type: ignore[attr-defined]
