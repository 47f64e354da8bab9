"""Undo takes back each use case whole."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from intake.desk import Desk
from tests.desk.kit import FULL, Export, Writes, booked, everything, sent

USE_CASES: dict[str, tuple[Callable[[Desk, int], object], str]] = {
    "correct": (lambda desk, n: desk.correct(n, {"count": 48}), "count of order 1 (Dana)"),
    "confirm": (lambda desk, n: desk.confirm(n), "confirmation of order 1 (Dana)"),
    "quote": (lambda desk, n: desk.quote(n), "price of order 1 (Dana)"),
    "replied": (lambda desk, n: sent(desk, desk.order(n)), "answer to order 1 (Dana), by hand"),
    "drop": (lambda desk, n: desk.drop(n), "dropping of order 1 (Dana)"),
    "paste": (lambda desk, n: desk.paste("count=12", sender="Leo"), "message from Leo"),
    "set aside": (lambda desk, n: desk.set_aside("t2"), "setting aside of Sam"),
    "book": (lambda desk, n: desk.book(n), "booking of order 1 (Dana)"),
    "advance": (lambda desk, n: desk.advance(n, "handed over"), "handing over of order 1 (Dana)"),
    "reopen": (lambda desk, n: desk.reopen(n), "bringing back of order 1 (Dana)"),
}
BEFORE = {
    "book": ["confirm", "quote"],
    "advance": ["confirm", "quote", "book"],
    "reopen": ["drop"],
}


@pytest.mark.parametrize("name", USE_CASES)
def test_undo_takes_back_each_use_case(desk: Desk, export: Export, name: str) -> None:
    desk.take([export.writes("Dana", FULL + " colors=pink?").writes("Sam", "intent=ask").path])
    for earlier in BEFORE.get(name, ()):
        USE_CASES[earlier][0](desk, 1)
    before = everything(desk)
    do, what = USE_CASES[name]
    do(desk, 1)
    assert everything(desk) != before
    assert desk.undo() == what
    assert everything(desk) == before


def test_undo_takes_back_a_take_and_what_it_changed(desk: Desk, export: Export) -> None:
    desk.take([export.writes("Dana", FULL).path])
    order = desk.quote(1)
    before = everything(desk)
    desk.take([export.writes("Dana", "count=48").writes("Leo", "count=12").path])
    assert desk.order(order.id).quote is None
    assert desk.undo() == "messages of chats.jsonl"
    assert everything(desk) == before
    report = desk.take([export.path])
    assert (report.messages_new, desk.order(order.id).draft.count.value) == (2, 48)


def test_undo_walks_back_to_an_empty_book(desk: Desk, writes: Writes) -> None:
    booked(desk, writes("Dana", FULL + " colors=pink?"))
    undone = []
    while what := desk.undo():
        undone.append(what.removesuffix(" of order 1 (Dana)"))
    assert undone == ["booking", "price", "confirmation", "messages of chats.jsonl"]
    assert (desk.waiting(), desk.rack()) == ((), ())
