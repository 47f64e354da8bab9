"""Hostile messages come in by every way, and nothing of them acts on any way out. `python -m tests.bench leaks` runs
all of them by all ways."""

from __future__ import annotations

import asyncio
from collections.abc import Iterator
from pathlib import Path

import pytest

from intake.clean import clean
from intake.desk import Desk
from tests.hostile import ways_out
from tests.hostile.book import made
from tests.hostile.cases import CASES, NOW, payload
from tests.hostile.screens import walk
from tests.hostile.ways_in import WAYS_IN


@pytest.fixture(scope="module")
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    with made(tmp_path_factory.mktemp("hostile"), each=1) as desk:
        yield desk


@pytest.mark.parametrize("way", ways_out.OUT)
def test_nothing_leaks(desk: Desk, way: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("ORDERTIN_HOME", str(desk.home.book.parent))
    monkeypatch.setenv("ORDERTIN_NOW", NOW.isoformat())
    found = list(ways_out.OUT[way](desk, tmp_path))
    assert [(case, wrong) for case, wrong in found if wrong] == []
    # That something was looked at: most cases come out by every way that shows single orders.
    assert len({case for case, _ in found}) > (1 if way in ("calendar", "ledger", "papers") else 20)


def test_nothing_leaks_to_the_screens(desk: Desk) -> None:
    threads = [thread for customer in desk.customers() for thread in customer.threads]
    found = asyncio.run(walk(desk, threads[::5]))
    assert [(case, wrong) for case, wrong in found if wrong] == []
    assert len({case for case, _ in found}) > 5


def test_every_way_in_gave_conversations(desk: Desk, tmp_path: Path) -> None:
    channels = {channel for customer in desk.customers() for channel in customer.channels}
    assert len(desk.customers()) > len(CASES) * 0.6
    assert channels >= {"chat", "mail"}
    assert len(list((desk.home.book.parent.parent / "in").iterdir())) == len(WAYS_IN) - 1  # a paste leaves no file


@pytest.mark.parametrize("case", CASES)
def test_the_searches_for_leaks_find_one(case: str) -> None:
    """What `clean` would take out is seen where it was not taken out."""
    raw = payload(case)
    assert bool(ways_out.acts(raw)) == (clean(raw.replace("\ufeff", "")) != raw.replace("\ufeff", ""))
