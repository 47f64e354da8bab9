"""The planner against rules, a search and a theorem that share nothing with it."""

from datetime import date, time, timedelta
from functools import cache
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake.house_kitchen import Passes
from intake.kitchen.hours import Timeline, span
from intake.kitchen.plan import decide
from intake.kitchen.room import Room, Watch
from intake.kitchen.solver import solve
from intake.kitchen.steps import Step
from intake.kitchen.tasks import Row, Task, open_for, row_of
from intake.model import Clash, Fits
from tests.kitchen.checker import faults
from tests.kitchen.kit import at, every_day, house, job

QUICK = settings(max_examples=40, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
RULES = house()
NOW = at("2026-03-11T17:50", RULES)


@st.composite
def _orders(draw):
    numbers = range(1, draw(st.integers(1, 4)) + 1)
    return [
        job(
            n,
            at("2026-03-12T09:00", RULES) + timedelta(hours=draw(st.integers(0, 200))),
            draw(st.integers(1, 60)),
            level=draw(st.sampled_from(["plain", "detailed", "elaborate"])),
            colors=draw(st.integers(0, 6)),
            designs=draw(st.integers(1, 4)),
            lettered=draw(st.integers(0, 12)),
            handover=draw(st.sampled_from(["pickup", "deliver", "ship"])),
        )
        for n in numbers
    ]


@st.composite
def _houses(draw):
    pick = lambda *values: draw(st.sampled_from(values))  # noqa: E731
    return house(
        hours=pick(
            {},
            every_day(("09:00", "12:00"), ("13:00", "18:02")),
            every_day(("00:00", "02:00"), ("20:00", "23:59")),
        ),
        waits={
            "chill": pick(0, 60, 123), "cool": pick(0, 45), "crust": pick(0, 30, 200),
            "dry_before_detail": pick(0, 180), "dry_before_pack": pick(0, 480, 1440),
        },
        keeping={"fresh_days": pick(1, 2, 7), "dough_days": pick(0, 1, 3)},
        oven={
            "trays": pick(1, 2), "cookies_per_tray": pick(3, 12),
            "bake_minutes": pick(7, 12), "turn_minutes": pick(0, 6),
        },
        kitchen={
            "supper": pick((), ((time(17), time(21)),), ((time(9), time(10)), (time(20, 2), time(21)))),
            "sleep": pick(None, (time(23), time(6, 30)), (time(1), time(9, 3))),
            "holidays": pick((), ((date(2026, 3, 13), date(2026, 3, 14)),)),
            "extra_hours": pick({}, {date(2026, 3, 13): ((time(6), time(9)),)}),
            "flood_passes": pick(Passes(), Passes(detailed=3, elaborate=4)),
            "color_rest": pick(0, 240), "icing_days": pick(1, 5), "delivery_way": pick(0, 30),
        },
    )


@QUICK
@given(_orders(), _houses())
def test_no_plan_breaks_a_rule_and_no_clash_leaves_one_out(jobs, rules):
    verdict = decide(jobs, rules, now=NOW)
    if isinstance(verdict, Fits):
        assert faults(verdict.plan, jobs, rules, NOW) == []
        return
    assert isinstance(verdict, Clash)
    clashing = [one for one in jobs if one.order_id in verdict.orders]
    for left_out in clashing:
        rest = [one for one in clashing if one is not left_out]
        made = decide(rest, rules, now=NOW)
        assert isinstance(made, Fits)
        assert faults(made.plan, rest, rules, NOW) == []


@cache
def _can_be_made(open_slots, supper, chains, dues):
    """Whether chains of half-hour tasks, each "hands" or "oven" with a wait in half hours behind it, can be done in
    time: every choice at every half hour is tried."""

    @cache
    def search(slot, states):
        if all(done == len(chain) for (done, _), chain in zip(states, chains, strict=True)):
            return True
        if slot > max(dues) or any(
            done < len(chain) and due - slot < len(chain) - done
            for (done, _), chain, due in zip(states, chains, dues, strict=True)
        ):
            return False
        if slot not in open_slots:
            return search(slot + 1, states)
        ready = {
            use: [i for i, (done, at_) in enumerate(states)
                  if done < len(chains[i]) and chains[i][done][0] == use and at_ <= slot]
            for use in ("hands", "oven")
        }
        if slot % 48 in supper:
            ready["oven"] = []
        for hand in (*ready["hands"], None):
            for oven in (*ready["oven"], None):
                then = list(states)
                for i in (hand, oven):
                    if i is not None:
                        done = states[i][0]
                        then[i] = (done + 1, slot + 1 + chains[i][done][1])
                if search(slot + 1, tuple(then)):
                    return True
        return False

    return search(0, tuple((0, 0) for _ in chains))


def _tiny(seed):
    """A small week: hours of the day, waits in half hours, orders as (cookies, due in half hours from midnight), and
    the half hours of a day in which the oven is the household's."""
    pick = Random(seed)
    blocks = pick.choice([((8, 11), (14, 16)), ((9, 13),), ((6, 7), (10, 11), (15, 18))])
    waits = {name: pick.choice([0, 0, 1, 3]) for name in ("chill", "cool", "dry_before_pack")}
    counts = pick.choice([(1, 1), (1, 2), (2, 2), (1, 1, 1)])
    orders = [(count, pick.randint(24, 84)) for count in counts]
    return blocks, waits, orders, pick.choice([(), (), (2 * blocks[0][0], 2 * blocks[0][0] + 1), (21, 22)])


def _small_house(blocks, waits, supper):
    half = dict.fromkeys(("plain", "detailed", "elaborate"), 30)
    return house(
        hours=every_day(*((f"{a:02}:00", f"{b:02}:00") for a, b in blocks)),
        waits={"crust": 0, **{name: 30 * count for name, count in waits.items()}},
        oven={"trays": 1, "cookies_per_tray": 1, "bake_minutes": 30, "turn_minutes": 0},
        steps={
            "mix_dough_batch": 30, "cookies_per_batch": 99, "cut_each": 30, "mix_icing": 0, "color_each": 0,
            "flood_each": RULES.steps.flood_each.model_copy(update=half),
            "detail_each": RULES.steps.detail_each.model_copy(update=dict.fromkeys(half, 0)),
            "pack_each": 0, "pack_order": 30,
        },
        keeping={"fresh_days": 300, "dough_days": 60},
        kitchen={"icing_days": 60, "supper": tuple((_clock(slot), _clock(slot + 1)) for slot in supper)},
    )


def _clock(slot):
    return time(slot // 2, slot % 2 * 30)


def _small_chain(count, waits):
    """The half hours of one order in the small house, each with the half hours of waiting behind it."""
    return (
        ("hands", waits["chill"]), *[("hands", 0)] * count,
        *[("oven", 0)] * (count - 1), ("oven", waits["cool"]),
        *[("hands", 0)] * (count - 1), ("hands", waits["dry_before_pack"]), ("hands", 0),
    )


@pytest.mark.parametrize("first", range(0, 75, 15))
def test_what_can_be_made_is_what_a_search_of_everything_finds(first):
    answers = []
    for seed in range(first, first + 15):
        blocks, waits, orders, supper = _tiny(seed)
        rules = _small_house(blocks, waits, supper)
        midnight = at("2026-03-10T00:00", rules)
        jobs = [job(n, midnight + timedelta(minutes=30 * due), count, level="plain")
                for n, (count, due) in enumerate(orders, 1)]
        slots = frozenset(day * 48 + slot for day in range(2) for a, b in blocks for slot in range(2 * a, 2 * b))
        chains = tuple(_small_chain(count, waits) for count, _ in orders)
        answers.append(_can_be_made(slots, supper, chains, tuple(due for _, due in orders)))
        verdict = decide(jobs, rules, now=midnight)
        assert isinstance(verdict, Fits if answers[-1] else Clash), (seed, orders)
        line = Timeline.of(rules, now=midnight, until=max(job.due for job in jobs))
        rows = [row_of(job, rules, line) for job in jobs]
        assert solve(rows, open_for(rows, line), effort=5, seconds=5).fits is answers[-1], (seed, orders)
    assert 2 < sum(answers) < 13


def _earliest_due_first(work, open_ticks):
    """W. A. Horn, "Some simple scheduling algorithms", Naval Research Logistics Quarterly 21 (1974): one machine,
    release dates, work that may be put down: always go on with what is released and due first. `work` holds
    (release, due, amount); True where all are in time."""
    left = [amount for _, _, amount in work]
    for tick in range(open_ticks.bit_length()):
        at_hand = [i for i, (release, _, _) in enumerate(work) if release <= tick and left[i]]
        if open_ticks >> tick & 1 and at_hand:
            first = min(at_hand, key=lambda i: work[i][1])
            left[first] -= 1
            if tick + 1 > work[first][1]:
                return False
    return not any(left)


@settings(parent=QUICK, max_examples=300)
@given(
    st.lists(st.tuples(st.integers(0, 20), st.integers(1, 20), st.integers(1, 5)), min_size=1, max_size=7),
    st.integers(0, 2**40 - 1),
)
def test_work_that_may_be_put_down_at_any_tick_is_decided_as_horn_proved(asked, closed):
    open_ticks = span(0, 45) & ~(closed & closed >> 1 & closed >> 2)
    work = [(release, release + length, amount) for release, length, amount in asked]
    dummy = job(1, NOW)
    rows = [
        Row(dummy, tuple(Task(Step("flood", "flood", (5,)), 0, 1, 1, (), release, due - 1) for _ in range(amount)), due)
        for release, due, amount in work
    ]
    line = Timeline(RULES.zone, 0, 45, open_ticks)
    assert Room(rows, line, Watch(5)).fits(range(len(rows))) is _earliest_due_first(work, open_ticks)


@pytest.mark.parametrize(
    ("work", "in_time"),
    [
        pytest.param([(0, 4, 2), (1, 2, 1)], True, id="put down for one that is due sooner"),
        pytest.param([(0, 3, 2), (1, 2, 1), (1, 3, 1)], False, id="four ticks of work in three"),
    ],
)
def test_the_reference_itself(work, in_time):
    assert _earliest_due_first(work, span(0, 20)) is in_time
