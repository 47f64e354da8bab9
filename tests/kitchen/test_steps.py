
import pytest

from intake.kitchen.jobs import Begun
from intake.kitchen.steps import steps_of, trays_of
from intake.model import STEPS, Mark
from tests.kitchen.kit import at, house, job

RULES = house()
DUE = at("2026-03-14T17:00", RULES)


def _card(card, rules=RULES):
    return [(step.name, step.label, sum(step.parts), len(step.parts), step.after) for step in steps_of(card, rules)]


def test_two_dozen_detailed_by_the_default_house():
    """Minutes worked by hand from the default house rules, rounded up to five."""
    assert _card(job(1, DUE, 24, level="detailed", colors=3, lettered=4)) == [
        ("dough", "mix dough", 20, 1, ()),
        ("bake", "roll and cut", 25, 1, ((0, 120),)),
        ("bake", "bake", 20, 1, ((1, 0),)),
        ("flood", "mix and tint icing", 45, 2, ()),
        ("flood", "outline and flood", 75, 3, ((2, 60), (3, 0))),
        ("detail", "detail and letter", 80, 3, ((4, 180),)),
        ("pack", "pack", 35, 2, ((5, 480),)),
    ]


def test_fifty_plain_without_detail():
    rules = house(steps={"detail_each": RULES.steps.detail_each.model_copy(update={"plain": 0})})
    assert _card(job(1, DUE, 50, level="plain", colors=1), rules) == [
        ("dough", "mix dough", 60, 3, ()),
        ("bake", "roll and cut", 50, 2, ((0, 120),)),
        ("bake", "bake", 60, 3, ((1, 0),)),
        ("flood", "mix and tint icing", 25, 1, ()),
        ("flood", "outline and flood", 100, 4, ((2, 60), (3, 0))),
        ("pack", "pack", 60, 2, ((4, 480),)),
    ]


@pytest.mark.parametrize(
    ("more", "passes"),
    [
        pytest.param({"count": 1}, [(5, 30), (5, 30), (5, None)], id="one cookie waits for all of the crust"),
        pytest.param({"count": 6}, [(10, 22), (10, 22), (10, None)], id="the others give the first one time"),
        pytest.param({"count": 24}, [(120, None)], id="the first one is dry by then"),
        pytest.param({"count": 6, "colors": 2}, [(15, 18), (15, None)], id="two colors, two passes"),
        pytest.param({"count": 6, "colors": 1}, [(30, None)], id="one color touches nothing"),
        pytest.param({"count": 6, "level": "plain"}, [(15, None)], id="plain cookies have one section"),
    ],
)
def test_touching_sections_wait_for_the_crust(more, passes):
    """5 minutes a cookie in three passes: behind the first cookie there are 5/3 minutes a cookie of other work."""
    card = {"level": "elaborate", "colors": 3, **more}
    steps = [step for step in steps_of(job(1, DUE, **card), RULES) if "flood" in step.label]
    waits = [step.after[0][1] for step in steps[1:]]
    assert list(zip((sum(step.parts) for step in steps), [*waits, None], strict=True)) == passes


def _labels(*marks, step="dough", **more):
    steps = steps_of(Begun(1, "order 1", 48, DUE, step=step, marks=tuple(marks), level="detailed", **more), RULES)
    return steps, [step.label for step in steps]


def test_what_is_ticked_is_not_planned_again_and_its_wait_goes_on():
    at_eight = at("2026-03-11T20:00", RULES)
    steps, labels = _labels(Mark(1, "mix dough", 2, at_eight))
    assert labels == ["roll and cut", "bake", "mix and tint icing", "outline and flood", "detail", "pack"]
    assert (steps[0].ready, steps[0].after) == (at("2026-03-11T22:00", RULES), ())
    assert steps[1].by == at("2026-03-14T20:00", RULES)


def test_a_step_half_done_keeps_the_rest():
    steps, labels = _labels(Mark(1, "bake", 1, at("2026-03-11T20:00", RULES)))
    assert labels[0] == "bake"
    assert (steps[0].parts, steps[0].gone, steps[0].ready) == ((20,), 1, None)


def test_work_on_a_step_shows_that_what_it_waits_for_is_done():
    steps, labels = _labels(Mark(1, "outline and flood", 1, at("2026-03-11T20:00", RULES)))
    assert labels == ["outline and flood", "detail", "pack"]
    assert [step.ready for step in steps] == [None] * 3


def test_icing_mixed_ahead_leaves_the_baking_to_do():
    _, labels = _labels(Mark(1, "mix and tint icing", 2, at("2026-03-11T20:00", RULES)), colors=3)
    assert labels == ["mix dough", "roll and cut", "bake", "outline and flood", "detail", "pack"]


def test_an_order_with_everything_ticked_has_nothing_left():
    assert _labels(Mark(1, "pack", 9, at("2026-03-11T20:00", RULES)), step="pack")[1] == []


@pytest.mark.parametrize(
    ("count", "sizes", "trays"),
    [
        pytest.param(24, (), 2, id="the usual cutter"),
        pytest.param(25, (), 3, id="one more"),
        pytest.param(24, ((101.6, 24),), 4, id="six of 4 in on each"),
        pytest.param(24, ((50.8, 12), (101.6, 12)), 3, id="each size on its own trays"),
        pytest.param(12, ((50.8, 12), (101.6, 12)), 2, id="half as many, shared alike"),
    ],
)
def test_trays(count, sizes, trays):
    assert trays_of(job(1, DUE, count, sizes=sizes), RULES) == trays


def test_a_bigger_cutter_takes_more_of_everything_but_the_waits():
    usual, big = (steps_of(job(1, DUE, 24, level="detailed", sizes=sizes), RULES) for sizes in ((), ((101.6, 24),)))
    assert [step.label for step in big] == [step.label for step in usual]
    minutes = {step.label: (sum(step.parts), sum(then.parts)) for step, then in zip(usual, big, strict=True)}
    # 16/9 of the area: 43 cookies' worth of dough, 6 on a tray, 72 x 16/9 = 128 minutes of flooding and of detail.
    assert minutes["mix dough"] == (20, 40)
    assert minutes["bake"] == (20, 40)
    assert minutes["outline and flood"] == minutes["detail"] == (75, 130)
    assert minutes["roll and cut"] == (25, 25)
    assert [step.after for step in big] == [step.after for step in usual]


def test_each_further_design_takes_longer_to_cut():
    cut = [sum(steps_of(job(1, DUE, 24, designs=n), RULES)[1].parts) for n in (1, 2, 4)]
    assert cut == [25, 30, 40]


def test_the_oven_has_the_hands_for_the_turns_alone():
    bake = next(step for step in steps_of(job(1, DUE, 100), RULES) if step.oven)
    assert (bake.parts, bake.hands) == ((20,) * 5, 10)
    assert [step.label for step in steps_of(job(1, DUE), RULES) if step.oven] == ["bake"]


@pytest.mark.parametrize("step", STEPS)
def test_work_that_is_done_is_not_planned_again(step):
    begun = Begun(1, "order 1", 24, DUE, step=step)
    names = [planned.name for planned in steps_of(begun, RULES)]
    assert list(dict.fromkeys(names)) == list(STEPS[STEPS.index(step) :])
    assert steps_of(begun, RULES)[0].after == ()


def test_work_without_minutes_still_has_its_place_between_the_waits():
    rules = house(steps={"mix_dough_batch": 0, "cut_each": 0, "pack_each": 0, "pack_order": 0, "mix_icing": 0,
                         "color_each": 0})
    labels = [label for _, label, _, _, _ in _card(job(1, DUE), rules)]
    assert labels == ["mix dough", "roll and cut", "bake", "outline and flood", "detail", "pack"]


def test_more_of_anything_is_never_less_work():
    def work(**more):
        return sum(sum(step.parts) for step in steps_of(job(1, DUE, **{"count": 24, **more}), RULES))

    assert work(count=12) < work(count=24) < work(count=48)
    assert work(level="plain") < work(level="detailed") < work(level="elaborate")
    assert work(colors=1) < work(colors=4)
    assert work(lettered=0) < work(lettered=24)
