"""What a customer's orders tell of her, and an order made the same as a past one."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from intake.desk import Desk
from intake.desk_likes import SAME, Birthday, as_last_time, birthdays, diets, likes
from intake.model import Cell, Draft, Due, Order, OrdertinError, State
from tests.desk.kit import FULL, NOW, Writes, booked

TODAY = NOW.date()


def order(number: int, state: State = State.HANDED_OVER, **values: Any) -> Order:
    cells = {name: value if isinstance(value, Cell) else Cell(value, True) for name, value in values.items()}
    return Order(number, "t1", 0, state, Draft(**cells))


def test_what_she_likes_is_counted_once_an_order_the_most_named_first() -> None:
    history = [
        order(1, theme="dinosaurs", colors=("green", "white")),
        order(2, theme="dinosaurs", colors=("green",)),
        order(3),
    ]
    assert likes(history) == {"theme": (("dinosaurs", 2),), "colors": (("green", 2), ("white", 1))}
    assert likes([order(4)]) == {}


@pytest.mark.parametrize(
    ("cells", "told"),
    [
        ([Cell(("nut free",), True)], [("nut free", True)]),
        ([Cell(("nut free",), False, why="for whom?")], [("nut free", False)]),
        ([Cell(None, False, why="an allergy may be meant")], [("an allergy may be meant", False)]),
        ([Cell(("nut free",), True), Cell(("nut free",), False)], [("nut free", True)]),
        ([Cell()], []),
    ],
    ids=["sure", "to check", "a doubt alone", "sure once is enough", "nothing said"],
)
def test_no_diet_is_left_out(cells: list[Cell[Any]], told: list[tuple[str, bool]]) -> None:
    found = diets([order(n, state=State.DROPPED, dietary=cell) for n, cell in enumerate(cells, 1)])
    assert [(diet.what, diet.settled) for diet in found] == told


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ({"due": date(2025, 6, 12), "age": 5}, Birthday("Leo", 6, date(2026, 6, 12))),
        ({"due": date(2025, 1, 9), "age": 5}, Birthday("Leo", 7, date(2027, 1, 9))),
        ({"due": date(2026, 3, 11), "age": 5}, Birthday("Leo", 5, date(2026, 3, 11))),
        ({"due": date(2024, 2, 29), "occasion": "birthday"}, Birthday("Leo", None, date(2027, 2, 28))),
        ({"due": date(2025, 6, 12), "occasion": "wedding"}, None),
        ({"due": date(2025, 6, 12), "age": 5, "honoree": None}, None),
    ],
    ids=["this year", "next year", "today", "a leap day", "no birthday", "nobody named"],
)
def test_a_birthday_comes_round(values: dict[str, Any], expected: Birthday | None) -> None:
    past = order(1, **{"honoree": "Leo", **values, "due": Due.on(values["due"])})
    assert birthdays([past], TODAY) == ((expected,) if expected else ())


def test_the_newest_order_for_somebody_counts_and_a_dropped_one_does_not() -> None:
    history = [
        order(1, honoree="Leo", age=5, due=Due.on(date(2025, 6, 12))),
        order(2, honoree="leo ", age=4, due=Due.on(date(2024, 6, 10))),
        order(3, State.DROPPED, honoree="Mia", age=4, due=Due.on(date(2025, 6, 10))),
    ]
    assert birthdays(history, TODAY) == (Birthday("Leo", 6, date(2026, 6, 12)),)


def test_the_same_as_last_time_fills_what_is_missing_to_be_checked() -> None:
    past = order(1, count=24, theme="unicorns", lettering=("Leo",), due=Due.on(date(2025, 6, 12)), age=5)
    after = as_last_time(past, Draft(count=Cell(36, True)), "order 1")
    assert (after.count, after.due, after.age, after.lettering) == (Cell(36, True), Cell(), Cell(), Cell())
    assert (after.theme.value, after.theme.sure, after.theme.why) == ("unicorns", False, "as in order 1")
    assert {"due", "age", "lettering", "honoree", "budget", "cancelled"}.isdisjoint(SAME)


def made(desk: Desk, writes: Writes) -> Order:
    writes("Dana", FULL)
    return booked(desk, desk.case(desk.waiting()[0].thread_id).orders[0])


def test_same_again_is_a_draft_that_undo_takes_back(desk: Desk, writes: Writes) -> None:
    past = made(desk, writes)
    again = desk.same_again(past.id, past.thread_id)
    assert again.state is State.DRAFT
    assert again.draft.count.value == past.draft.count.value
    assert not again.draft.count.sure
    assert again.draft.due.missing
    assert [o.id for o in desk.case(past.thread_id).orders] == [past.id, again.id]
    assert "same again as order" in (desk.undo() or "")
    assert [o.id for o in desk.case(past.thread_id).orders] == [past.id]


def test_same_again_fills_an_open_order_and_no_other(desk: Desk, writes: Writes) -> None:
    past = made(desk, writes)
    writes("Bea", "count=36")
    thread = next(w.thread_id for w in desk.waiting() if w.customer == "Bea")
    opened = desk.case(thread).orders[0]
    after = desk.same_again(past.id, thread, opened.id)
    assert (after.id, after.draft.count.value, after.draft.theme.value) == (opened.id, 36, past.draft.theme.value)
    with pytest.raises(OrdertinError, match="no draft"):
        desk.same_again(opened.id, past.thread_id, past.id)
