"""Plans that leave standing what was planned: against a search of everything, and by the independent checker."""

from dataclasses import replace
from datetime import time, timedelta
from itertools import product
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.kitchen.hours import Free, span
from intake.kitchen.jobs import Begun
from intake.kitchen.plan import decide
from intake.kitchen.standing import moves, settled
from intake.kitchen.steps import Step
from intake.kitchen.tasks import Row, Task
from intake.kitchen.timetable import standing_of
from intake.model import Fits, Mark
from tests.kitchen.checker import faults
from tests.kitchen.kit import at, every_day, house, job
from tests.kitchen.test_outside import QUICK

RULES = house()
NOW = at("2026-03-11T18:00", RULES)
FRIDAY = at("2026-03-20T17:00", RULES)


def _stood(plan):
    """Order, label, start and end of all work."""
    return {(w.order_id, w.label, w.start, w.end) for w in plan.works}


def _plan(jobs, rules=RULES, now=NOW, standing=None):
    verdict = decide(jobs, rules, now=now, standing=standing)
    assert isinstance(verdict, Fits), verdict
    return verdict.plan


def test_a_new_order_goes_beside_the_old_ones():
    old = [job(n, FRIDAY, 24) for n in (1, 2)]
    before = _plan(old)
    after = _plan([*old, job(3, FRIDAY - timedelta(days=3), 36, age=0)], standing=standing_of(before))
    assert _stood(before) <= _stood(after)


def test_what_was_not_done_in_time_is_planned_again_and_the_rest_stays():
    old = [job(n, FRIDAY, 24) for n in (1, 2)]
    before = _plan(old)
    missed = min((w for w in before.works if w.order_id == 1), key=lambda w: w.start)
    now = missed.end + timedelta(minutes=30)
    done = {w.task: (w.parts[1], w.end) for w in before.works if w.order_id == 2 and w.end <= now}
    begun = Begun(2, "order 2", 24, FRIDAY, marks=tuple(Mark(2, step, *mark) for step, mark in done.items()))
    after = _plan([old[0], begun], now=now, standing=standing_of(before))
    assert {w for w in _stood(before) if w[0] == 2 and w[2] >= now} <= _stood(after)
    assert min(w.start for w in after.works if w.order_id == 1 and w.label == missed.label) >= now


@st.composite
def _weeks(draw):
    """Orders of a week as (cookies, level, hours from now to the hand-over), the last of them new."""
    levels = st.sampled_from(["plain", "detailed", "elaborate"])
    one = st.tuples(st.integers(6, 36), levels, st.integers(70, 220))
    return draw(st.lists(one, min_size=2, max_size=4))


@QUICK
@given(_weeks(), st.integers(0, 30))
def test_a_plan_that_stands_keeps_every_rule(week, hours_on):
    jobs = [job(n, NOW + timedelta(hours=hours), count, level=level) for n, (count, level, hours) in enumerate(week, 1)]
    first = decide(jobs[:-1], RULES, now=NOW)
    if not isinstance(first, Fits):
        return
    standing = standing_of(first.plan)
    now = NOW + timedelta(hours=hours_on)
    for asked in (jobs[:-1], jobs):
        verdict = decide(asked, RULES, now=now, standing=standing)
        if isinstance(verdict, Fits):
            assert faults(verdict.plan, asked, RULES, now) == []
    if hours_on == 0:
        assert decide(jobs[:-1], RULES, now=NOW, standing=standing) == first


def _tiny_rows(seed):
    """Chains of one or two tasks of one to three ticks, in breaks."""
    pick = Random(seed)
    rows = []
    for number in range(3):
        lengths = [pick.randint(1, 3) for _ in range(pick.randint(1, 2))]
        due, tasks = pick.randint(9, 14), []
        for place, length in enumerate(lengths):
            after = ((place - 1, pick.randint(0, 2)),) if place else ()
            tasks.append(Task(Step("flood", "flood", (5 * length,)), place, length, length, after, 0, due - length))
        rows.append(Row(job(number, NOW), tuple(tasks), due))
    return rows, span(0, 5) | span(6, 14)


def _all_plans(rows, free):
    flat = [(r, t) for r, row in enumerate(rows) for t in range(len(row.tasks))]
    options = [
        [s for s in range(rows[r].tasks[t].latest + 1)
         if span(s, s + rows[r].tasks[t].length) & ~free == 0] for r, t in flat
    ]
    for starts in product(*options):
        at_ = dict(zip(flat, starts, strict=True))
        busy = [tick for r, t in flat for tick in range(at_[r, t], at_[r, t] + rows[r].tasks[t].length)]
        waits = all(
            at_[r, t] >= at_[r, i] + rows[r].tasks[i].length + wait
            for r, t in flat for i, wait in rows[r].tasks[t].after
        )
        if waits and len(busy) == len(set(busy)):
            yield tuple(tuple(at_[r, t] for t in range(len(row.tasks))) for r, row in enumerate(rows))


@pytest.mark.parametrize("seed", range(25))
def test_as_little_moves_as_a_search_of_everything_finds(seed):
    rows, free = _tiny_rows(seed)
    old = next(_all_plans(rows[:2], free), None)
    plans = list(_all_plans(rows, free))
    if old is None or not plans:
        return
    wishes = [*old, [None] * len(rows[2].tasks)]
    found = settled(rows, Free(free, free), plans[-1], wishes, 0)
    assert found in plans
    assert len(list(moves(wishes, found))) == min(len(list(moves(wishes, plan))) for plan in plans)


@pytest.mark.parametrize(("late", "by"), [("21:00", "21:00"), ("23:59", "22:30")])
def test_evenings_are_kept_short_where_there_is_time(late, by):
    rules = house(hours=every_day(("18:00", "22:30")), kitchen={"late_after": time.fromisoformat(late)})
    plan = _plan([job(1, FRIDAY, 48, level="elaborate")], rules, at("2026-03-11T18:00", rules))
    assert max(w.end.time() for w in plan.works if "hands" in w.uses) == time.fromisoformat(by)


def test_a_late_evening_is_better_than_no_plan():
    rules = house(hours=every_day(("18:00", "23:00")), kitchen={"late_after": time(21)})
    now = at("2026-03-11T18:00", rules)
    orders = [job(1, at("2026-03-14T19:00", rules), 24, level="elaborate")]
    plan = _plan(orders, rules, now)
    assert faults(plan, orders, rules, now) == []
    assert max(w.end.time() for w in plan.works) > time(21)


def test_the_age_of_an_order_changes_nothing_of_where_it_stands():
    old = [job(n, FRIDAY, 24, age=0) for n in (1, 2)]
    before = _plan(old)
    assert _plan([replace(one, age=1) for one in old], standing=standing_of(before)) == before
