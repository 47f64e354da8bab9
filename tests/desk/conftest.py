"""A desk on a real book, with the tests' own reader and clock."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Draft, Order, State
from tests.desk.kit import RULES, Clock, Export, Writes, fake_read


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def home(tmp_path: Path) -> Home:
    from intake.house import default_text

    text = default_text()
    for was, becomes in RULES.items():
        text = text.replace(was, becomes)
    home = Home.at(tmp_path / "home")
    home.rules.parent.mkdir()
    home.rules.write_text(text)
    return home


@pytest.fixture
def reader(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    reader = ModuleType("intake.reading.pipeline")
    reader.read = fake_read  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "intake.reading.pipeline", reader)
    yield


@pytest.fixture
def desk(reader: None, home: Home, clock: Clock) -> Iterator[Desk]:
    with Desk(home, now=clock) as desk:
        yield desk


@pytest.fixture
def export(tmp_path: Path) -> Export:
    return Export(tmp_path / "chats.jsonl")


@pytest.fixture
def writes(desk: Desk, export: Export) -> Writes:
    """A customer writes, the export is taken, and her first order is given."""

    def write(who: str, *texts: str) -> Order:
        report = desk.take([export.writes(who, *texts).path])
        assert not report.problems
        thread = next(w.thread_id for w in desk.waiting() if w.customer == who)
        return next(iter(desk.case(thread).orders), Order(0, thread, 0, State.DRAFT, Draft()))

    return write
