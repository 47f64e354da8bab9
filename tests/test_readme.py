"""The README against the program: its commands, its test command, and what lies beside it."""

from __future__ import annotations

import argparse
import re
import shlex
import subprocess
from pathlib import Path

import pytest
from platformdirs.api import PlatformDirsABC
from platformdirs.macos import MacOS
from platformdirs.unix import Unix

from intake.cli import _parser

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "intake", "tui", "tests", "sample_messages"}


def commands() -> dict[str, argparse.ArgumentParser]:
    """Each command of the program with its own parser; the bare one is called ""."""
    parser = _parser()
    (subs,) = (action for action in parser._actions if isinstance(action, argparse._SubParsersAction))
    return {"": parser, **subs.choices}


def documented() -> list[str]:
    """The first cells of the table of commands, as typed."""
    _, found, table = README.partition("\n## Commands\n")
    assert found
    return [row.replace("\\|", "|") for row in re.findall(r"^\| `ordertin ?([^`]*)` \|", table, re.MULTILINE)]


def test_every_command_is_in_the_table_and_the_other_way_round() -> None:
    rows = documented()
    assert {row.partition(" ")[0] for row in rows} == set(commands())
    assert len(rows) == len(set(rows))


@pytest.mark.parametrize("name", commands(), ids=lambda name: name or "bare")
def test_the_options_of_a_command_are_those_of_the_table(name: str) -> None:
    rows = [row for row in documented() if row.partition(" ")[0] == name]
    told = {option for row in rows for option in re.findall(r"--[a-z]+", row)}
    has = {option for action in commands()[name]._actions for option in action.option_strings if option[:2] == "--"}
    if name == "":
        # They stand in the text below the table.
        assert has - {"--help"} <= set(re.findall(r"`(--[a-z]+)`", README))
    else:
        assert told == has - {"--help"}


@pytest.mark.parametrize("row", documented(), ids=lambda row: row or "bare")
def test_a_row_of_the_table_can_be_typed(row: str) -> None:
    typed = re.sub(r"\bFILE\|-", "-", row.replace("[", "").replace("]", "")).replace("...", "")
    args = commands()[""].parse_args(shlex.split(typed))
    assert callable(args.run)


@pytest.mark.parametrize("line", re.findall(r"^\.venv/bin/ordertin(.*)$", README, re.MULTILINE))
def test_an_example_can_be_typed(line: str) -> None:
    assert callable(commands()[""].parse_args(shlex.split(line, comments=True)).run)


def test_the_first_paragraph_says_what_it_is() -> None:
    title, paragraph, *_ = README.split("\n\n")
    assert title == "# ordertin"
    assert paragraph.startswith("ordertin turns ")
    assert "\n" not in paragraph


def test_the_test_command_is_one_line() -> None:
    """.ci/run takes it from between the mark and the end of the fence."""
    (block,) = re.findall(r"<!-- test -->\n```sh\n(.*?)```\n", README, re.DOTALL)
    assert len(block.splitlines()) == 1
    assert "pytest" in block
    assert "pip install" in block


@pytest.mark.parametrize(("system", "dirs"), [("Linux", Unix), ("macOS", MacOS)])
def test_the_usual_places_are_those_of_the_system(
    system: str, dirs: type[PlatformDirsABC], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("XDG_CONFIG_HOME", "XDG_DATA_HOME"):
        monkeypatch.delenv(name, raising=False)
    found = dirs("ordertin")
    own = (found.user_config_dir, found.user_data_dir)
    places = (place.replace(str(Path.home()), "~") for place in own)
    assert f"| {system} | {' | '.join(f'`{place}`' for place in places)} |" in README


def test_linked_pages_are_there() -> None:
    links = re.findall(r"\]\(([^)#]+)\)", README)
    assert links
    assert [link for link in links if "://" not in link and not (ROOT / link).exists()] == []


def test_nothing_else_lies_at_the_top() -> None:
    """By git's own list, so that environments and caches don't count; without a repository there is nothing to ask."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=False)
    if listed.returncode:
        pytest.skip("not a checkout")
    top = {name.partition("/")[0] for name in listed.stdout.decode().split("\0") if name}
    assert {name for name in top if not name.startswith(".")} - TOP_LEVEL == set()
    assert TOP_LEVEL - top == set()
