"""Papers at the desk: sessions by the plan, shopping against the pantry, labels, the calendar's sequence, undo."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import OrdertinError
from tests.desk.kit import Clock, Writes, booked
from tests.papers.kit import pages

FULL = "count=20 theme=unicorns due=2026-03-21 handover=pickup colors=white"
TODAY = date(2026, 3, 11)
LAST = date(2026, 3, 31)


def sequences(file: bytes) -> dict[str, int]:
    """The sequence of each entry by the first words of its name."""
    text = file.replace(b"\r\n ", b"").decode()
    found = re.findall(r"UID:(.*?)-[0-9a-f]{16}@ordertin\r\n(?:.*\r\n)*?SEQUENCE:(\d+)", text)
    assert len(found) == text.count("BEGIN:VEVENT")
    return {key: int(number) for key, number in found}


def test_sessions_follow_the_plan_and_pool_what_falls_on_a_day(desk: Desk, writes: Writes) -> None:
    for who in ("Dana", "Bea"):
        booked(desk, writes(who, FULL))
    heap = desk.papers.sessions(TODAY, LAST)
    assert heap.note == ""
    pools = [pool for session in heap.sessions for pool in session.doughs]
    assert sum(pool.count for pool in pools) == 40
    assert {number for pool in pools for number in pool.orders} == {1, 2}
    assert desk.papers.sessions(LAST, LAST).sessions == ()


@pytest.mark.parametrize(
    ("count", "says", "heaped"),
    [(60, "Dana: due Thu 12 Mar 17:00, planned for ", False), (400, "Dana: no plan was found for it.", True)],
    ids=["late", "never"],
)
def test_what_the_plan_can_not_keep_is_said(
    desk: Desk, writes: Writes, count: int, says: str, heaped: bool
) -> None:
    """An order without a plan is one heap on the first of the days within which it leaves."""
    many = FULL.replace("due=2026-03-21", "due=2026-03-12").replace("count=20", f"count={count}")
    order, _ = booked(desk, writes("Dana", many)), booked(desk, writes("Bea", FULL))
    heap = desk.papers.sessions(TODAY, LAST)
    assert says in heap.note
    assert says in " ".join(pages(desk.papers.day_sheet(TODAY)))
    mixed = {number: session.day for session in heap.sessions for pool in session.doughs for number in pool.orders}
    assert set(mixed) == {1, 2}
    starts = [work.start.date() for work in heap.works if work.order_id == order.id]
    assert (starts == []) is heaped
    assert mixed[order.id] == min(starts, default=TODAY)


def test_sheet_batches_and_calendar_say_what_the_bench_says(desk: Desk, writes: Writes, clock: Clock) -> None:
    """Also once a session was missed, a step ticked off and a day taken off: what is planned then is no fresh plan."""
    for who in ("Dana", "Bea"):
        order = booked(desk, writes(who, FULL))
    first = desk.kitchen.bench().works[0]
    clock.now = first.end
    desk.kitchen.tick(order, "mix dough", 1)
    desk.kitchen.day_off(first.start.date() + timedelta(days=2))
    clock.now += timedelta(days=1)
    works = desk.kitchen.bench().works
    assert works
    for day in {work.start.date() for work in works}:
        text = " ".join(pages(desk.papers.day_sheet(day)))
        for work in works:
            said = f"{work.start:%H:%M}-{work.end:%H:%M} {work.label}: {desk.order(work.order_id).draft.customer.value}"
            assert (said in text) is (work.start.date() == day)
    found = {
        (number, session.day) for session in desk.papers.sessions(TODAY, LAST).sessions for pool in session.doughs
        for number in pool.orders
    }  # fmt: skip
    assert found == {(work.order_id, work.start.date()) for work in works if work.task == "mix dough"}
    file = desk.papers.calendar().replace(b"\r\n ", b"").decode().replace("\\,", ",")
    for work in works:
        assert f"{work.start:%H:%M}-{work.end:%H:%M} {work.label}: " in file


def test_dough_in_the_pantry_is_used_first_while_it_keeps(desk: Desk, writes: Writes, clock: Clock) -> None:
    booked(desk, writes("Dana", FULL))
    desk.papers.stock("2 kg vanilla dough")
    (pool,) = (pool for session in desk.papers.sessions(TODAY, LAST).sessions for pool in session.doughs)
    assert pool.batches == 0
    clock.now += timedelta(days=4)
    (pool,) = (pool for session in desk.papers.sessions(TODAY, LAST).sessions for pool in session.doughs)
    assert pool.batches == 1


def test_shopping_takes_off_what_is_there(desk: Desk, writes: Writes) -> None:
    booked(desk, writes("Dana", FULL))

    def to_buy() -> set[str]:
        return {need.what for need in desk.papers.shopping(TODAY, LAST)[0].to_buy}

    assert {"flour", "butter", "powdered sugar"} <= to_buy()
    desk.papers.stock("5 lb all-purpose flour")
    assert "flour" not in to_buy()
    assert "butter" in to_buy()
    desk.papers.used_up("Flour")
    assert "flour" in to_buy()


def test_the_pantry_is_undone_step_by_step(desk: Desk) -> None:
    desk.papers.stock("5 lb flour")
    desk.papers.stock("1 lb flour")
    desk.papers.used_up("flour")
    seen = []
    while (what := desk.undo()) is not None:
        seen.append((what, [stock.typed for stock in desk.papers.pantry()]))
    assert seen == [
        ("pantry, flour used up", ["1 lb flour"]), ("pantry, flour", ["5 lb flour"]), ("pantry, flour", []),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "says"),
    [("flour", "an amount"), ("3 cups sprinkles", "isn't known"), ("", "an amount"), ("0 g flour", "above 0")],
)
def test_what_is_no_amount_changes_nothing(desk: Desk, text: str, says: str) -> None:
    with pytest.raises(OrdertinError, match=says):
        desk.papers.stock(text)
    with pytest.raises(OrdertinError, match="no “flour” in the pantry"):
        desk.papers.used_up("flour")
    assert desk.papers.pantry() == ()
    assert desk.version() == 0


def test_the_calendar_counts_what_changes(desk: Desk, writes: Writes, clock: Clock) -> None:
    first, second = (booked(desk, writes(who, FULL)) for who in ("Dana", "Bea"))
    orders = {f"order-{order.id}-hand-over": 0 for order in (first, second)}
    assert sequences(desk.papers.calendar()).items() >= orders.items()
    stood = desk.papers.calendar()
    assert desk.papers.calendar() == stood
    desk.correct(first.id, {"due": "2026-03-22"})
    moved = sequences(desk.papers.calendar())
    assert (moved[f"order-{first.id}-hand-over"], moved[f"order-{second.id}-hand-over"]) == (1, 0)
    desk.drop(second.id)
    file = desk.papers.calendar()
    assert sequences(file)[f"order-{second.id}-hand-over"] == 1
    assert b"STATUS:CANCELLED" in file
    assert "dropping" in (desk.undo() or "")
    assert sequences(desk.papers.calendar())[f"order-{second.id}-hand-over"] == 2


def test_another_window_sees_the_same_calendar(desk: Desk, writes: Writes, home: Home, clock: Clock) -> None:
    booked(desk, writes("Dana", FULL))
    with Desk(home, now=clock) as other:
        assert other.papers.calendar() == desk.papers.calendar()


def test_labels_say_what_is_missing_and_a_wrong_weight_is_refused(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    pdf, found = desk.papers.labels(order, net="12 oz")
    assert "Net Wt 12 oz (340 g)" in pages(pdf)[0]
    assert found.missing
    assert f"{TODAY:%B} {TODAY.day}, {TODAY.year}" in pages(pdf)[0]
    for wrong in ("heavy", "12", "-1 oz", "2 cups"):
        with pytest.raises(OrdertinError, match="is not a weight"):
            desk.papers.labels(order, net=wrong)
