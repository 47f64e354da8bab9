import subprocess
import sys
from dataclasses import replace
from datetime import date, timedelta

import pytest

from intake.kitchen.jobs import Begun, moved
from intake.kitchen.plan import decide, earliest_day
from intake.model import Clash, Fits, Mark, NotProven, Plan
from tests.kitchen.checker import faults
from tests.kitchen.kit import at, every_day, house, job

RULES = house()
NOW = at("2026-03-11T18:00", RULES)  # a Wednesday
SATURDAY = at("2026-03-14T17:00", RULES)


def test_nothing_to_make_fits():
    assert decide([], RULES, now=NOW) == Fits(Plan((), {}))


@pytest.mark.parametrize("handover", ["pickup", "deliver", "ship"])
def test_a_plan_keeps_every_rule(handover):
    jobs = [job(1, SATURDAY + timedelta(days=4), 48, level="elaborate", handover=handover), job(2, SATURDAY)]
    verdict = decide(jobs, RULES, now=NOW)
    assert isinstance(verdict, Fits)
    assert faults(verdict.plan, jobs, RULES, NOW) == []


def test_the_same_orders_get_the_same_verdict():
    jobs = [job(n, SATURDAY + timedelta(days=n), 24 + 6 * n, level="detailed") for n in range(1, 7)]
    assert decide(jobs, RULES, now=NOW) == decide(jobs, RULES, now=NOW)


def test_two_that_each_fit_alone_can_clash():
    big = {"count": 24, "level": "elaborate"}
    jobs = [job(1, SATURDAY, **big), job(2, SATURDAY, age=0, **big)]
    assert all(isinstance(decide([one], RULES, now=NOW), Fits) for one in jobs)
    clash = decide(jobs, RULES, now=NOW)
    assert isinstance(clash, Clash)
    assert (clash.orders, clash.newest) == ((2, 1), 2)
    assert clash.short.startswith("your hands on ")


@pytest.mark.parametrize(
    ("jobs", "clashing"),
    [
        pytest.param([(1, "plain"), (2, "elaborate"), (3, "elaborate"), (4, "plain")], {2, 3}, id="two of four"),
        pytest.param([(n, "detailed") for n in range(1, 9)], None, id="many alike"),
        pytest.param([(1, "elaborate"), (2, "detailed"), (3, "plain"), (4, "elaborate")], {1, 4}, id="first and last"),
    ],
)
def test_the_orders_of_a_clash_are_the_fewest(jobs, clashing):
    made = [job(n, SATURDAY, 24 if level == "elaborate" else 12, level=level) for n, level in jobs]
    made[-1] = replace(made[-1], age=0)
    clash = decide(made, RULES, now=NOW)
    assert isinstance(clash, Clash)
    assert clashing is None or set(clash.orders) == clashing
    chosen = [one for one in made if one.order_id in clash.orders]
    assert isinstance(decide(chosen, RULES, now=NOW), Clash)
    for left_out in chosen:
        assert isinstance(decide([one for one in chosen if one is not left_out], RULES, now=NOW), Fits)


@pytest.mark.parametrize(
    ("rules", "due", "count", "says"),
    [
        pytest.param({}, "2026-03-11T17:00", 12, "Wednesday 11 March 17:00, is past", id="past"),
        pytest.param({}, "2026-03-12T21:00", 12, "drying time", id="no time to dry"),
        pytest.param({}, "2026-03-14T17:00", 400, "hands", id="too many cookies"),
        pytest.param({"keeping": {"fresh_days": 1}}, "2026-03-27T17:00", 12, "freshness", id="has to be too fresh"),
        pytest.param({"hours": every_day()}, "2026-03-27T17:00", 12, "2 h 20 of work, none free", id="no hours at all"),
        pytest.param(
            {"steps": {"mix_dough_batch": 300}}, "2026-03-13T17:00", 12,
            '"mix dough" takes 5 h in one go', id="one go",
        ),
    ],
)
def test_one_order_that_can_not_be_made(rules, due, count, says):
    changed = house(**rules)
    clash = decide([job(5, at(due, changed), count)], changed, now=at("2026-03-11T18:00", changed))
    assert isinstance(clash, Clash)
    assert clash.orders == (5,) and clash.newest == 5
    assert says in clash.short


def test_the_oven_can_be_what_is_short():
    rules = house(oven={"trays": 1, "cookies_per_tray": 1, "bake_minutes": 95, "turn_minutes": 0})
    jobs = [job(n, at("2026-03-16T17:00", rules), 4, level="plain", colors=1) for n in (1, 2)]
    clash = decide(jobs, rules, now=NOW)
    assert isinstance(clash, Clash)
    assert clash.short.startswith("the oven")
    assert isinstance(decide(jobs[:1], rules, now=NOW), Fits)


@pytest.mark.parametrize(
    ("newest", "others"),
    [
        pytest.param({"count": 24, "level": "elaborate"}, [{"count": 24, "level": "elaborate"}], id="a full week"),
        pytest.param({"count": 24, "due": "2026-03-12T17:00"}, [], id="too soon"),
        pytest.param({"count": 24, "due": "2026-03-12T17:00"},
                     [{"count": 48, "level": "elaborate", "due": "2026-03-18T17:00"}], id="the others make way"),
        pytest.param({"count": 24, "due": "2026-03-10T17:00"}, [{"count": 12}], id="past"),
        pytest.param({"count": 36, "level": "elaborate", "due": "2026-03-11T17:00", "handover": "ship"},
                     [{"count": 24}], id="a parcel"),
    ],
)
def test_the_earliest_day_works_and_the_day_before_does_not(newest, others):
    due = at(newest.pop("due", "2026-03-14T17:00"), RULES)
    asked = job(9, due, age=0, **newest)
    rest = [job(n, at(other.pop("due", "2026-03-14T17:00"), RULES), **other) for n, other in enumerate(others, 1)]
    clash = decide([*rest, asked], RULES, now=NOW)
    assert isinstance(clash, Clash) and clash.earliest is not None
    assert clash.earliest == earliest_day(asked, rest, RULES, now=NOW)
    assert isinstance(decide([*rest, moved(asked, clash.earliest, RULES)], RULES, now=NOW), Fits)
    before = moved(asked, clash.earliest - timedelta(days=1), RULES)
    assert isinstance(decide([*rest, before], RULES, now=NOW), Clash)


def test_a_day_that_works_is_its_own_earliest():
    assert earliest_day(job(1, SATURDAY), [], RULES, now=NOW) == date(2026, 3, 14)


def test_no_day_works_where_the_others_already_clash():
    others = [job(n, SATURDAY, 24, level="elaborate") for n in (1, 2)]
    assert earliest_day(job(3, SATURDAY, age=0), others, RULES, now=NOW) is None


def test_time_that_runs_out_is_not_a_clash():
    jobs = [job(n, SATURDAY + timedelta(days=n), 30, level="elaborate") for n in range(1, 31)]
    assert isinstance(decide(jobs, RULES, now=NOW, seconds=0.0), NotProven | Clash)
    far = decide([job(1, SATURDAY.replace(year=2036))], RULES, now=NOW)
    assert isinstance(far, NotProven)
    assert "2036" not in far.why and "too far" in far.why


def test_little_to_spare_is_tight():
    verdict = decide([job(1, SATURDAY, 36, level="detailed"), job(2, SATURDAY + timedelta(days=14))], RULES, now=NOW)
    assert isinstance(verdict, Fits)
    assert verdict.tight == tuple(n for n, spare in verdict.plan.slack.items() if spare < 720)
    assert verdict.plan.slack[2] > verdict.plan.slack[1]


def test_parcels_of_one_day_share_the_way():
    days = every_day(("08:00", "20:00"))
    rules = house(hours=days)
    due = at("2026-03-17T17:00", rules)
    jobs = [job(n, due, handover="ship") for n in (1, 2)]
    verdict = decide(jobs, rules, now=NOW)
    assert isinstance(verdict, Fits)
    assert faults(verdict.plan, jobs, rules, NOW) == []
    trips = [(f"{w.start:%H:%M}", f"{w.end:%H:%M}", w.uses) for w in verdict.plan.works if w.label == "post office"]
    assert trips == [("16:30", "17:00", ())] * 2


def test_the_way_to_the_post_office_takes_the_hands():
    rules = house(hours=every_day(("16:00", "17:00")))
    due, now = at("2026-03-17T17:00", rules), at("2026-03-17T09:00", rules)
    packing = Begun(1, "order 1", 24, due, step="pack")
    parcel = Begun(2, "order 2", 10, due, step="pack", handover="ship")
    assert isinstance(decide([packing], rules, now=now), Fits)
    assert isinstance(decide([parcel], rules, now=now), Fits)
    clash = decide([packing, parcel], rules, now=now)
    assert isinstance(clash, Clash) and set(clash.orders) == {1, 2}


@pytest.mark.parametrize("now", ["2026-03-07T20:00", "2026-10-31T20:00"], ids=["forward", "back"])
def test_plans_hold_over_the_night_the_clocks_change(now):
    rules = house(hours=every_day(("07:00", "10:00"), ("20:00", "23:59")))
    begin = at(now, rules)
    jobs = [job(n, begin + timedelta(days=2, hours=2 * n), 12) for n in (1, 2)]
    verdict = decide(jobs, rules, now=begin)
    assert isinstance(verdict, Fits)
    assert faults(verdict.plan, jobs, rules, begin) == []


def test_an_order_under_way_is_not_made_again():
    due = at("2026-03-12T17:00", RULES)
    assert isinstance(decide([job(1, due)], RULES, now=NOW), Clash)
    verdict = decide([Begun(1, "order 1", 24, due, step="pack")], RULES, now=NOW)
    assert isinstance(verdict, Fits)
    assert {work.step for work in verdict.plan.works} == {"pack"}


def test_the_heavy_packages_wait_until_they_are_needed():
    heard = subprocess.run(
        [sys.executable, "-c", "import sys, intake.kitchen.plan; print({'ortools', 'holidays'} & set(sys.modules))"],
        capture_output=True, text=True, check=True,
    )
    assert heard.stdout.strip() == "set()"


def test_no_parcel_is_offered_for_a_day_whose_way_others_need():
    rules = house(hours=every_day(("16:00", "17:00")))
    now = at("2026-03-16T16:45", rules)
    packing = Begun(1, "order 1", 24, at("2026-03-17T17:00", rules), step="pack")
    parcel = Begun(2, "order 2", 4, at("2026-03-16T17:00", rules), step="pack", handover="ship")
    assert earliest_day(parcel, [], rules, now=now) == date(2026, 3, 20)
    assert earliest_day(parcel, [packing], rules, now=now) == date(2026, 3, 23)


def test_work_under_way_goes_on_and_nothing_beside_it():
    marks = (Mark(1, "mix dough", 1, NOW - timedelta(hours=5)),
             Mark(1, "roll and cut", 0, begun=NOW - timedelta(minutes=10)))
    begun = Begun(1, "order 1", 24, SATURDAY, marks=marks)
    verdict = decide([begun, job(2, SATURDAY)], RULES, now=NOW)
    assert isinstance(verdict, Fits)
    going = next(w for w in verdict.plan.works if w.order_id == 1)
    assert (going.label, going.start) == ("roll and cut", NOW - timedelta(minutes=10))
    assert going.end == NOW + timedelta(minutes=15)
    beside = [w for w in verdict.plan.works if w is not going and "hands" in w.uses and w.start < going.end]
    assert beside == []


def test_a_wait_goes_on_after_what_was_ticked():
    ticked = Mark(1, "outline and flood", 3, NOW - timedelta(minutes=30))
    begun = Begun(1, "order 1", 24, SATURDAY, step="flood", level="detailed", marks=(ticked,))
    verdict = decide([begun], RULES, now=NOW)
    assert isinstance(verdict, Fits)
    assert min(w.start for w in verdict.plan.works if w.step == "detail") == NOW + timedelta(minutes=150)


def test_an_order_with_everything_done_takes_no_time():
    done = Begun(1, "order 1", 24, NOW + timedelta(hours=1), step="pack", marks=(Mark(1, "pack", 9, NOW),))
    verdict = decide([done, job(2, SATURDAY)], RULES, now=NOW)
    assert isinstance(verdict, Fits)
    assert {w.order_id for w in verdict.plan.works} == {2}
    assert verdict.plan.slack[1] == 60
