"""The house rules: defaults, mistakes named by their line, hours."""

from __future__ import annotations

import stat
from datetime import date, time
from decimal import Decimal
from pathlib import Path

import pytest

from intake.house import default_house, default_text, load, parse
from intake.model import OrdertinError


def changed(old: str, new: str) -> tuple[str, int]:
    """The defaults with the one line that starts with `old` replaced, and the number of that line."""
    lines = default_text().split("\n")
    (number,) = (n for n, line in enumerate(lines, 1) if line.startswith(old))
    lines[number - 1] = new
    return "\n".join(lines), number


def test_the_defaults_are_whole() -> None:
    house = default_house()
    assert house.house.currency == "USD"
    prices = [house.rates.per_dozen.of(level) for level in ("plain", "detailed", "elaborate")]
    assert prices == sorted(set(prices))
    assert isinstance(house.rates.lettering_each, Decimal)
    assert house.house.senders == house.reading.themes == house.hours.blocked == ()
    assert str(house.zone)


def test_every_setting_of_the_defaults_has_a_line_and_most_a_note() -> None:
    settings = [line for line in default_text().split("\n") if " = " in line and not line.startswith("#")]
    assert len(settings) > 50
    assert sum("#" in line for line in settings) > len(settings) // 2


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        # A key written wrongly
        ("minimum_count", "minimun_count = 12", "`rates.minimun_count` is not a house rule; did you mean `minimum_c"),
        ("currency", 'curency = "USD"', "`house.curency` is not a house rule; did you mean `currency`?"),
        ("[waits]", "[wait]", "`wait` is not a house rule; did you mean `waits`?"),
        ("trays", "racks = 2", "`oven.racks` is not a house rule"),
        ("per_dozen", "per_dozen = { plain = 36, detailed = 48, fancy = 62 }", "`rates.per_dozen.fancy` is not"),
        # A value that can't be
        ("rush", "rush = [{ under_days = 7, percent = 250 }]", "`rates.rush.percent` must be less than or equal to"),
        ("deposit_percent", "deposit_percent = 250", "`rates.deposit_percent` must be less than or equal to 100"),
        ("lettering_each", "lettering_each = -0.5", "`rates.lettering_each` must be greater than or equal to 0"),
        ("minimum_count", "minimum_count = 0", "`rates.minimum_count` must be greater than or equal to 1"),
        ("trays", 'trays = "two"', "`oven.trays` must be a valid integer"),
        ("round_to", "round_to = 0", "`rates.round_to` must be greater than 0"),
        ("shipping =", "shipping = true", "`rates.shipping` must be"),
        ("shipping =", "shipping = nan", "`rates.shipping` must be"),
        ("flood_each", "flood_each = { plain = 2, detailed = 3 }", "`steps.flood_each.elaborate` is missing"),
        ("currency", 'currency = "dollars"', '`house.currency` must be a three-letter currency code such as "USD"'),
        ("language", 'language = "fr"', "`house.language` must be 'en' or 'es'; it is fr"),
        ("date_order", 'date_order = "MYD"', "`reading.date_order` must be 'MDY', 'DMY' or 'YMD'; it is MYD"),
        ("timezone", 'timezone = "Chicago"', '`house.timezone` must be a time zone such as "America/Chicago"'),
        ("name = ", 'name = ""', "`house.name` must"),
        ("allergens", 'allergens = ""', "`reply.allergens` must"),
        ("send_on", "send_on = []", "`shipping.send_on` must"),
        ("send_on", 'send_on = ["mon"]', "`shipping.send_on` must be 'monday', "),
        # Hours
        ("monday", 'monday = ["6pm-9pm"]', '`hours.monday` must be hours such as "18:00-21:30"; it is '),
        ("monday", 'monday = "18:00-21:30"', "`hours.monday` must be a valid tuple"),
        ("monday", 'monday = ["21:00-18:00"]', "`hours.monday` must be hours whose end is after their start"),
        ("monday", 'monday = ["18:00-25:00"]', '`hours.monday` must be hours such as "18:00-21:30", from 0:00'),
        ("saturday", 'saturday = ["08:00-12:00", "11:00-18:00"]', "`hours.saturday` must be hours that don't overlap"),
        ("blocked", 'blocked = ["4 July"]', "`hours.blocked` must be a valid date"),
        ("handover_time", 'handover_time = "noon"', "`hours.handover_time` must be in a valid time format"),
    ],
)
def test_a_mistake_is_named_with_its_line_and_what_was_expected(old: str, new: str, says: str) -> None:
    text, line = changed(old, new)
    with pytest.raises(OrdertinError) as error:
        parse(text, where="house.toml")
    assert error.value.problem.where == f"house.toml, line {line}"
    assert error.value.problem.what.startswith(says)
    assert error.value.problem.todo
    assert str(error.value).isprintable()


def test_a_missing_line_is_named_with_its_table() -> None:
    text, _ = changed("bake_minutes", "")
    (table,) = (n for n, line in enumerate(text.split("\n"), 1) if line == "[oven]")
    with pytest.raises(OrdertinError, match=r"`oven\.bake_minutes` is missing") as error:
        parse(text)
    assert error.value.problem.where.endswith(f"line {table}")


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("monday", 'monday = ["18:00-21:30"', "this is not TOML: "),
        ("name = ", 'name = "My kitchen', "this is not TOML: "),
        ("[oven]", "[oven", "this is not TOML: "),
        ("trays", "trays 2", "this is not TOML: "),
        ("trays", "trays = 2\ntrays = 3", "this is not TOML: "),
    ],
)
def test_what_is_not_toml_is_named_with_its_line(old: str, new: str, says: str) -> None:
    text, line = changed(old, new)
    with pytest.raises(OrdertinError) as error:
        parse(text)
    assert error.value.problem.what.startswith(says)
    named = int(error.value.problem.what.partition("at line ")[2].partition(",")[0])
    assert 0 <= named - line <= 1


def test_the_file_is_made_on_first_run_for_its_owner_alone(tmp_path: Path) -> None:
    path = tmp_path / "new" / "config" / "house.toml"
    assert load(path) == default_house()
    assert path.read_text(encoding="utf-8") == default_text()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_a_file_that_is_there_is_read_and_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    text, _ = changed("minimum_count", "minimum_count = 24  # my own")
    path.write_text(text, encoding="utf-8")
    assert load(path).rates.minimum_count == 24
    assert path.read_text(encoding="utf-8") == text


@pytest.mark.parametrize(
    ("content", "says"),
    [(b"\xff\xfe[\0h\0", "this is not a text file in UTF-8"), (None, "the house rules can't be read")],
    ids=["UTF-16", "a folder"],
)
def test_what_can_not_be_read_is_said(content: bytes | None, says: str, tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.mkdir() if content is None else path.write_bytes(content)
    with pytest.raises(OrdertinError, match=says) as error:
        load(path)
    assert error.value.problem.where == str(path)


@pytest.mark.parametrize(
    ("line", "spans"),
    [
        ("monday = []", []),
        ('monday = ["18:00-21:30"]', [(time(18), time(21, 30))]),
        ('monday = [" 8:00-9:05 "]', [(time(8), time(9, 5))]),
        ('monday = ["13:00-18:00", "08:00-12:00"]', [(time(8), time(12)), (time(13), time(18))]),
        ('monday = ["08:00-12:00", "12:00-18:00"]', [(time(8), time(12)), (time(12), time(18))]),
        ('monday = ["0:00-24:00"]', [(time(0), time(23, 59))]),
    ],
)
def test_hours_of_a_day(line: str, spans: list[tuple[time, time]]) -> None:
    # May 10, 2027 is a Monday.
    assert list(parse(changed("monday", line)[0]).hours.on(date(2027, 5, 10))) == spans


def test_no_hours_on_a_blocked_day() -> None:
    hours = parse(changed("blocked", 'blocked = ["2027-05-10", 2027-05-12]')[0]).hours
    assert [bool(hours.on(date(2027, 5, day))) for day in (10, 11, 12, 17)] == [False, True, False, True]
