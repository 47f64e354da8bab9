"""Readings and orders as lines of text."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from intake.model import Cell, Design, Draft, Due, Evidence, Fold, Message, Order, Reading, Shift, State, Thread, Trail
from intake.slip_text import rack_line, slip, trail

TEXT = "two or three dozen\nmoons, pickup saturday"
THREAD = Thread(
    "t1", "chat", (Message("m1", "Ann", False, datetime(2027, 5, 10, 9, tzinfo=ZoneInfo("UTC")), TEXT),)
)


def words(said: str) -> tuple[Evidence, ...]:
    start = TEXT.index(said)
    return (Evidence("m1", start, start + len(said)),)


def rows(*drafts: Draft, intent: Cell[str] | None = None) -> list[str]:
    return slip(THREAD, Reading(intent or Cell("order", True), drafts)).split("\n")


@pytest.mark.parametrize(
    ("field", "cell", "row"),
    [
        ("count", Cell(24, True, words("two")), "  + sure  cookies    24   “two”"),
        ("count", Cell(24, False, words("two"), "a range", (36,)), "  ? check cookies    24 (a range) - or 36   “two”"),
        ("count", Cell(), "  ? ask   cookies    not said"),
        ("count", Cell(why="two numbers"), "  ? check cookies    two numbers"),
        ("theme", Cell("moons", True, words("dozen\nmoons")), "  + sure  theme      moons   “dozen moons”"),
        ("lettering", Cell(), "  - none  lettering  nothing said of it"),
        ("lettering", Cell(("Ann", "Bo"), True), "  + sure  lettering  Ann, Bo"),
        ("designs", Cell((Design("moons", 12), Design("stars")), True), "  + sure  designs    12 moons, stars"),
        ("due", Cell(Due.on(date(2027, 5, 15), time(16)), True), "  + sure  due        Sat 15 May 2027, 16:00"),
        ("due_is", Cell("event", False, why="a party"), "  ? check the day is the party itself (a party)"),
        ("handover", Cell("pickup", True, words("pickup")), "  + sure  hand-over  pickup   “pickup”"),
        ("dietary", Cell(why="“nuts” is said"), "  ? check diet       “nuts” is said"),
    ],
)
def test_a_field_is_a_row_with_a_sign_and_a_word(field: str, cell: Cell[Any], row: str) -> None:
    assert row in rows(Draft(**{field: cell}))


def test_fields_that_an_order_needs_are_there_and_the_rest_where_it_says_something() -> None:
    names = [row[10:21].strip() for row in rows(Draft(age=Cell(6, True)))[3:]]
    assert names == ["cookies", "theme", "age", "lettering", "due", "hand-over"]


def test_orders_are_numbered_where_there_are_several() -> None:
    assert "order" in rows(Draft())
    several = rows(Draft(), Draft())
    assert "order 1 of 2" in several
    assert "order 2 of 2" in several


@pytest.mark.parametrize(
    ("intent", "first"), [(Cell("spam", True), "message   spam"), (Cell("ask"), "message   ask (check)")]
)
def test_a_message_without_an_order_says_so(intent: Cell[str], first: str) -> None:
    assert rows(intent=intent) == [first, "No order in it."]


def test_the_trail_is_one_line_a_step() -> None:
    steps = (
        Trail("count", "a number of dozens", "two\nor three dozen", "24", "stands"),
        Trail("due", "a weekday", "", "", "in the past"),
    )
    reading = Reading(Cell("order", True, rule="asks"), (), steps, (Fold(Evidence("m1", 0, 12), "signature"),))
    assert trail(reading).split("\n") == [
        "intent: order (asks)",
        "count      “two or three dozen” -> 24   [a number of dozens: stands]",
        "due        -> nothing   [a weekday: in the past]",
        "folded     signature, 12 characters: shown, not read as an order",
    ]


@pytest.mark.parametrize(
    ("draft", "step", "parts"),
    [
        (
            Draft(
                customer=Cell("Ann"),
                count=Cell(24),
                theme=Cell("moons"),
                due=Cell(Due.on(date(2027, 5, 15))),
                handover=Cell("ship"),
            ),
            "bake",
            ["Sat 15 May 2027", "7", "Ann", "24 moons", "ship", "bake"],
        ),
        (Draft(), "", ["no day", "7", "a customer", "? cookies", "not begun"]),
    ],
)
def test_a_line_of_the_rack(draft: Draft, step: str, parts: list[str]) -> None:
    line = rack_line(Order(7, "t1", 0, State.BOOKED, draft, step=step))
    assert [part.strip() for part in line.split("  ") if part.strip()] == parts


@pytest.mark.parametrize("change", [(Shift("count", 24, Cell(36, True)),), ()], ids=["asked for", "none"])
def test_the_rack_marks_an_order_of_which_a_change_is_asked(change: tuple[Shift, ...]) -> None:
    order = Order(7, "t1", 0, State.BOOKED, Draft(count=Cell(24, True)), change=change)
    assert ("! asks for a change" in rack_line(order)) is bool(change)


def test_long_names_keep_the_columns_of_the_rack() -> None:
    long, short = (Draft(customer=Cell(name), theme=Cell(name), handover=Cell("ship")) for name in ("m" * 99, "m"))
    ends = {rack_line(Order(7, "t1", 0, State.BOOKED, draft)).index("ship") for draft in (long, short)}
    assert len(ends) == 1
