"""The slip: corrections by field and by words, and confirming."""

from __future__ import annotations

import sys
from datetime import date, datetime, time
from decimal import Decimal
from types import ModuleType, SimpleNamespace
from typing import Any

import pytest

from intake.desk import Desk
from intake.model import Cell, Due, Evidence, Order, OrdertinError, Thread
from tests.desk.kit import FULL, Writes


def test_a_correction_is_the_bakers_word(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=24? theme=owls").id, {"count": 30, "theme": "owls", "budget": "60"})
    cells = order.draft
    assert [(c.value, c.sure, c.rule) for c in (cells.count, cells.theme, cells.budget)] == [
        (30, True, "baker"),
        ("owls", True, "baker"),
        (Decimal(60), True, "baker"),
    ]
    assert (cells.count.evidence, len(cells.theme.evidence)) == ((), 1)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"cuont": 24}, "Did you mean count"),
        ({"count": "many"}, "count must be a whole number"),
        ({"due": "someday"}, "day must be a day such as"),
        ({"count": 24, "handover": "drone"}, "pickup, ship or deliver"),
    ],
    ids=str,
)
def test_a_wrong_correction_changes_nothing(desk: Desk, writes: Writes, changes: dict[str, Any], said: str) -> None:
    order = writes("Dana", "count=12")
    with pytest.raises(OrdertinError, match=said):
        desk.correct(order.id, changes)
    assert desk.order(order.id) == order


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("theme=owls", "count, day, hand-over missing"),
        ("count=24 theme=owls handover=ship", "day missing"),
        ("count=24 due=2026-03-21 handover=ship", "theme or designs missing"),
        ("count=24? due=2026-03-21? handover=ship? lettering=Leo?", ""),
        ("count=24 due=2026-03-21 handover=ship designs=owls", ""),
    ],
    ids=str,
)
def test_confirming_names_what_is_missing(desk: Desk, writes: Writes, words: str, said: str) -> None:
    order = writes("Dana", words)
    if said:
        with pytest.raises(OrdertinError, match=said):
            desk.confirm(order.id)
    else:
        draft = desk.confirm(order.id).draft
        given = [draft.cell(word.partition("=")[0]) for word in words.split()]
        assert [(c.sure, c.why, c.rule) for c in given] == [(True, "", "fake")] * len(given)


def test_a_window_is_not_confirmed(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", FULL).id, {"due": {"from": "2026-03-20", "to": "2026-03-22"}})
    with pytest.raises(OrdertinError, match="window"):
        desk.confirm(order.id)


def test_what_the_baker_says_in_words(
    monkeypatch: pytest.MonkeyPatch, desk: Desk, writes: Writes
) -> None:
    def corrections(words: str, thread: Thread, order: Order, rules: object, *, at: datetime) -> Any:
        cell = Cell(int(words), True, (Evidence("words", 0, 2),))
        return SimpleNamespace(changes={"count": cell} if words != "0" else {}, answer=f"for {thread.customer}")

    talk = ModuleType("intake.talk")
    talk.corrections = corrections  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "intake.talk", talk)
    order = writes("Dana", "count=24")
    said = desk.say(order.id, "36")
    assert (said.order.draft.count, said.changed, said.answer) == (Cell(36, True, rule="baker"), ("count",), "for Dana")
    assert desk.order(order.id) == said.order
    version = desk.version()
    assert desk.say(order.id, "0").changed == () and desk.version() == version


def test_a_time_of_day_comes_back(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=1").id, {"due": Due.on(date(2026, 3, 21), time(14, 30))})
    assert desk.order(order.id).draft.due.value == Due.on(date(2026, 3, 21), time(14, 30))
