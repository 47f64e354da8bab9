from __future__ import annotations

from pathlib import Path

import pytest

from intake import house
from intake.house_edit import known_as, with_value, write
from intake.model import OrdertinError


def test_only_the_line_concerned_changes() -> None:
    before = house.default_text()
    after = with_value(before, ("house", "senders"), ["Nell", "nell@example.org"])
    moved = [(a, b) for a, b in zip(before.split("\n"), after.split("\n"), strict=True) if a != b]
    assert len(moved) == 1
    assert 'senders = ["Nell", "nell@example.org"]' in moved[0][1]
    assert moved[0][0].partition("#")[2] == moved[0][1].partition("#")[2]
    assert house.parse(after).house.senders == ("Nell", "nell@example.org")


@pytest.mark.parametrize(
    ("text", "path", "value"),
    [
        (house.default_text(), ("house", "currency"), "dollars"),
        (house.default_text(), ("house", "nonsense"), 1),
        ("[house\n", ("house", "senders"), []),
        ("house = 3\n", ("house", "senders"), []),
    ],
    ids=["a wrong value", "no such rule", "no TOML", "not a table"],
)
def test_what_would_be_no_house_rules_is_refused(text: str, path: tuple[str, ...], value: object) -> None:
    with pytest.raises(OrdertinError):
        with_value(text, path, value)


def test_a_name_is_added_once_and_odd_ones_are_kept_whole(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    for name in ("Nell", "  Nell ", 'N "x" \\ Ames', ""):
        known_as(path, name)
    assert house.load(path).house.senders == ("Nell", 'N "x" \\ Ames')
    assert path.stat().st_mode & 0o077 == 0
    assert [p.name for p in tmp_path.iterdir()] == ["house.toml"]


def test_rules_that_are_a_link_stay_one(tmp_path: Path) -> None:
    (tmp_path / "real.toml").write_text(house.default_text())
    (tmp_path / "house.toml").symlink_to(tmp_path / "real.toml")
    write(tmp_path / "house.toml", house.default_text() + "\n# end\n")
    assert (tmp_path / "house.toml").is_symlink()
    assert (tmp_path / "real.toml").read_text().endswith("# end\n")


def test_a_folder_that_is_gone(tmp_path: Path) -> None:
    with pytest.raises(OrdertinError, match="can't be written"):
        write(tmp_path / "none" / "house.toml", "")
