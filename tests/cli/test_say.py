"""Saying it at the command line. It is noon in Chicago on Monday, May 10, 2027."""

from __future__ import annotations

import builtins
import sys
from pathlib import Path

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import State
from tests.cli.conftest import ORDER, Run


@pytest.fixture
def order(home: Path) -> int:
    with Desk(Home.at(home)) as desk:
        return desk.paste(ORDER).orders[0].id


def state(home: Path, number: int) -> State:
    with Desk(Home.at(home)) as desk:
        return desk.order(number).state


def test_an_ask_is_answered(run: Run, order: int) -> None:
    status, out, err = run("say", "what's", "due", "next", "week?")
    assert (status, err) == (0, "")
    assert "not booked" in out


def test_a_correction_is_made_at_once(run: Run, order: int, home: Path) -> None:
    assert run("say", "make it 3 dozen", "--about", str(order))[:2] == (0, "Changed. Count: 36.\n")
    with Desk(Home.at(home)) as desk:
        assert desk.order(order).draft.count.value == 36


def test_an_act_is_only_shown_where_nobody_can_say_yes(run: Run, order: int, home: Path) -> None:
    status, out, _ = run("say", "price it", "--about", str(order))
    assert status == 2
    assert "in all" in out
    assert "Nothing was changed." in out
    assert state(home, order) is State.DRAFT


def test_an_act_is_done_with_yes(run: Run, order: int, home: Path) -> None:
    status, out, _ = run("say", "price", "it", "--about", str(order), "--yes")
    assert (status, "Priced:" in out) == (0, True)
    assert state(home, order) is State.QUOTED


@pytest.mark.parametrize(
    ("words", "typed", "done"),
    [
        ("drop it", "", True),
        ("drop it", "yes", True),
        ("drop it", "n", False),
        ("drop it", "what", False),
        ("drp it", "", False),
        ("drp it", "y", True),
    ],
)
def test_she_is_asked_first(
    run: Run, order: int, home: Path, monkeypatch: pytest.MonkeyPatch, words: str, typed: str, done: bool
) -> None:
    from intake import cli_say

    class Terminal:
        def isatty(self) -> bool:
            return True

    class Fake:
        stdin = Terminal()

    monkeypatch.setattr(cli_say, "sys", Fake)
    monkeypatch.setattr(builtins, "input", lambda prompt: typed)
    status, *_ = run("say", words, "--about", str(order))
    assert (status == 0) is done
    assert (state(home, order) is State.DROPPED) is done
    assert sys.stdin is not Fake.stdin


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("colour me surprised",), "didn't understand"),
        (("block next weekend",), "block may"),
        (("price it",), "No order is open"),
        (("price it", "--about", "99"), ""),
        (("price it", "--about", "x"), ""),
    ],
)
def test_what_can_not_be_done_changes_nothing(run: Run, order: int, arguments: tuple[str, ...], says: str) -> None:
    status, out, err = run("say", *arguments)
    assert status == 2
    assert says in out
    assert out or err
