"""The kitchen at the desk: what is ticked off, days and hours, plans that stand; all of it can be taken back."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

import pytest

from intake.desk import Desk
from intake.model import Clash, Fits, OrdertinError
from tests.desk.kit import NOW, ZONE, Clock, Writes, booked

SATURDAY = "due=2026-03-21 handover=pickup"
EVENING = datetime(2026, 3, 11, 18, 0, tzinfo=ZONE)


def _starts(desk: Desk) -> dict[tuple[int, str], datetime]:
    return {(w.order_id, w.label): w.start for w in desk.kitchen.bench().works}


def test_the_bench_is_empty_without_orders(desk: Desk) -> None:
    sheet = desk.kitchen.bench()
    assert (sheet.works, sheet.late, sheet.unplanned) == ((), (), ())
    assert len(sheet.loads) == 42 and sheet.loads[0].day == NOW.date()


def test_a_booked_order_is_planned_and_a_new_one_moves_nothing(desk: Desk, writes: Writes, clock: Clock) -> None:
    first = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    before = _starts(desk)
    assert {number for number, _ in before} == {first.id}
    clock.now += timedelta(hours=5)
    booked(desk, writes("Leo", f"count=36 theme=owls {SATURDAY}"))
    after = _starts(desk)
    assert before.items() <= after.items() and len(after) > len(before)


def test_a_step_ticked_off_is_done_and_can_be_taken_back(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    first = desk.kitchen.bench().works[0]
    assert (first.label, desk.order(order.id).step) == ("mix dough", "")
    clock.now = first.end
    assert desk.kitchen.tick(order, first.task, first.parts[1]) == "bake"
    assert desk.order(order.id).step == "bake"
    sheet = desk.kitchen.bench()
    assert "mix dough" not in {w.task for w in sheet.works}
    assert next(w.start for w in sheet.works if w.task == "roll and cut") >= first.end + timedelta(minutes=120)
    assert [m.step for m in desk.kitchen.ticked_on(first.end.date())] == ["mix dough"]
    assert desk.undo() == f"mix dough done, order {order.id} (Dana)"
    assert desk.order(order.id).step == ""
    assert desk.kitchen.bench().works[0].task == "mix dough"
    assert desk.kitchen.ticked_on(first.end.date()) == ()


def test_what_is_under_way_stays_and_then_is_ticked(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    clock.now = EVENING - timedelta(minutes=20)
    desk.kitchen.begin(order, "mix dough", 0)
    (work,) = [w for w in desk.kitchen.bench().works if w.task == "mix dough"]
    assert (work.start, work.end) == (clock.now, EVENING)
    clock.now = EVENING
    desk.kitchen.tick(desk.order(order.id), "mix dough", 1)
    assert desk.order(order.id).step == "bake"


def test_ticks_come_off_again_and_with_them_what_follows(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    desk.kitchen.tick(order, "mix dough", 1)
    desk.kitchen.tick(order, "roll and cut", 1)
    desk.kitchen.tick(order, "bake", 1)
    assert desk.order(order.id).step == "flood"
    desk.kitchen.untick(order, "bake")
    assert desk.order(order.id).step == "bake"
    desk.advance(order.id, "dough")
    assert desk.kitchen.ticked_on(NOW.date()) == ()
    assert desk.kitchen.bench().works[0].task == "mix dough"


@pytest.mark.parametrize(
    ("step", "says"), [("knead", "it has no step “knead”"), ("", "it has no step")], ids=["unknown", "none"]
)
def test_an_unknown_step_is_refused(desk: Desk, writes: Writes, step: str, says: str) -> None:
    order = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    with pytest.raises(OrdertinError, match=says):
        desk.kitchen.tick(order, step, 1)


def test_only_booked_orders_are_ticked(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", f"count=24 theme=owls {SATURDAY}")
    version = desk.version()
    with pytest.raises(OrdertinError, match="Only booked orders"):
        desk.kitchen.tick(order, "mix dough", 1)
    assert desk.version() == version


def test_a_missed_session_is_late_and_goes_on_while_it_lasts(desk: Desk, writes: Writes, clock: Clock) -> None:
    booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    first = desk.kitchen.bench().works[0]
    clock.now = first.start + timedelta(minutes=10)
    sheet = desk.kitchen.bench()
    assert (sheet.works[0].task, sheet.works[0].start, sheet.late) == (first.task, first.start, ())
    clock.now = first.start + timedelta(days=1, hours=1)
    sheet = desk.kitchen.bench()
    assert [(late.task, late.planned) for late in sheet.late][:1] == [(first.task, first.start)]
    assert sheet.works[0].start >= clock.now


def test_an_order_that_can_not_be_made_in_time_is_planned_late(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = booked(desk, writes("Dana", "count=24 theme=owls due=2026-03-14 handover=pickup"))
    clock.now += timedelta(days=3)
    sheet = desk.kitchen.bench()
    assert sheet.behind and sheet.behind[order.id].date() > date(2026, 3, 14)
    assert {w.order_id for w in sheet.works} == {order.id}


@pytest.mark.parametrize(
    ("change", "then"),
    [
        (lambda desk, id_: desk.correct(id_, {"count": 48}), "more"),
        (lambda desk, id_: desk.till.settle(id_, "elaborate"), "more"),
        (lambda desk, id_: desk.till.settle(id_, "jumbo"), "more"),
        (lambda desk, id_: desk.drop(id_), "none"),
        (lambda desk, id_: desk.advance(id_, "handed over"), "none"),
        (lambda desk, id_: desk.correct(id_, {"phone": "555 010 2233"}), "same"),
    ],
    ids=["corrected", "a level", "a size", "dropped", "handed over", "nothing for the kitchen"],
)
def test_what_changes_the_work_is_planned_and_taken_back(desk: Desk, writes: Writes, change: Any, then: str) -> None:
    """What was planned by the end of the month is what the book keeps of the plan."""
    order = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    other = booked(desk, writes("Leo", f"count=12 theme=owls {SATURDAY}"))
    end = datetime(2026, 3, 31, tzinfo=ZONE)

    def kept(number: int) -> list[Any]:
        return [each[2:] for each in desk.kitchen.planned_by(end) if each[1] == number]

    before, beside = kept(order.id), kept(other.id)
    change(desk, order.id)
    after = kept(order.id)
    assert {"more": sum(n for _, n in after) > sum(n for _, n in before), "none": after == [], "same": after == before}[
        then
    ]
    assert kept(other.id) == beside
    desk.undo()
    assert kept(order.id) == before


def test_a_change_that_is_taken_is_planned(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    writes("Dana", "count=48")
    before = desk.kitchen.planned_by(datetime(2026, 3, 31, tzinfo=ZONE))
    desk.accept(order.id)
    after = desk.kitchen.planned_by(datetime(2026, 3, 31, tzinfo=ZONE))
    assert sum(parts for *_, parts in after) > sum(parts for *_, parts in before)


def test_an_order_booked_again_is_not_late_with_its_old_plan(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    begins = desk.kitchen.bench().works[0].start
    desk.drop(order.id)
    clock.now = begins + timedelta(days=1)
    booked(desk, desk.reopen(order.id))
    assert desk.kitchen.bench().late == ()


# Days and hours


def test_a_day_off_moves_the_work_and_comes_back(desk: Desk, writes: Writes) -> None:
    booked(desk, writes("Dana", f"count=24 theme=owls {SATURDAY}"))
    before = _starts(desk)
    day = min(before.values()).date()
    desk.kitchen.day_off(day)
    assert day not in {at.date() for at in _starts(desk).values()}
    assert [(rule.day, rule.kind) for rule in desk.kitchen.days()] == [(day, "off")]
    assert next(load.off for load in desk.kitchen.bench().loads if load.day == day)
    desk.undo()
    assert (_starts(desk), desk.kitchen.days()) == (before, ())


def test_days_off_and_added_hours_make_or_take_room(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", "count=24 theme=owls due=2026-03-14 handover=pickup")
    assert isinstance(desk.room(order.id), Fits)
    desk.kitchen.day_off(date(2026, 3, 12), date(2026, 3, 14))
    clash = desk.room(order.id)
    assert isinstance(clash, Clash)
    assert any(way.kind == "day" for way in desk.ways(order.id, clash))
    desk.kitchen.more_hours(date(2026, 3, 12), "08:00-12:00, 13:00-18:00")
    desk.kitchen.more_hours(date(2026, 3, 13), "08:00-18:00")
    desk.kitchen.usual_hours(date(2026, 3, 14))
    assert isinstance(desk.room(order.id), Fits)
    assert [(rule.day.day, rule.kind, rule.hours) for rule in desk.kitchen.days()] == [
        (12, "extra", "08:00-12:00 13:00-18:00"), (13, "extra", "08:00-18:00"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda k: k.day_off(date(2026, 3, 10)), "2026-03-10 is past"),
        (lambda k: k.day_off(date(2026, 3, 12), date(2026, 3, 11)), "no span of days"),
        (lambda k: k.day_off(date(2026, 3, 12), date(2036, 3, 11)), "no span of days"),
        (lambda k: k.more_hours(date(2026, 3, 12), "8 to 12"), "“8 to 12” must be hours"),
        (lambda k: k.more_hours(date(2026, 3, 12), ""), "no hours"),
        (lambda k: k.more_hours(date(2026, 3, 12), "05:00-08:00"), "when you sleep"),
        (lambda k: k.more_hours(date(2026, 3, 10), "08:00-12:00"), "is past"),
        (lambda k: k.usual_hours(date(2026, 3, 12)), "nothing was set"),
    ],
    ids=["past", "backwards", "ten years", "no hours", "none", "asleep", "past hours", "nothing set"],
)
def test_days_that_can_not_be_set(desk: Desk, call: Any, says: str) -> None:
    version = desk.version()
    with pytest.raises(OrdertinError, match=says):
        call(desk.kitchen)
    assert desk.version() == version


# When


def test_when_answers_without_an_order(desk: Desk, writes: Writes) -> None:
    alone, hands = desk.kitchen.when(48, "elaborate")
    assert alone is not None and hands > 600
    booked(desk, writes("Dana", f"count=60 theme=owls due={alone} handover=pickup"))
    beside, _ = desk.kitchen.when(48, "elaborate")
    assert beside is not None and beside > alone
    assert desk.kitchen.when(12, "plain")[0] < alone
    assert desk.kitchen.when(12, "plain", handover="ship")[0] > desk.kitchen.when(12, "plain")[0]
    assert desk.kitchen.when(12, "plain")[1] < hands
