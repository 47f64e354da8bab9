import pytest

from intake.kitchen.jobs import Begun
from intake.kitchen.steps import steps_of
from intake.model import STEPS
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
        ("flood", "flood", 75, 3, ((2, 60), (3, 0))),
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
        ("flood", "flood", 100, 4, ((2, 60), (3, 0))),
        ("pack", "pack", 60, 2, ((4, 480),)),
    ]


@pytest.mark.parametrize(
    ("count", "level", "left"),
    [
        pytest.param(1, "elaborate", 30, id="one cookie waits for all of the crust"),
        pytest.param(6, "elaborate", 18, id="the others give the first one time"),
        pytest.param(24, "elaborate", None, id="the first one is dry by then"),
        pytest.param(6, "plain", None, id="plain cookies have one section"),
    ],
)
def test_touching_sections_wait_for_the_crust(count, level, left):
    """5 minutes a cookie, half in each pass: after the first cookie there are 2.5 minutes a cookie of other work."""
    steps = [step for step in steps_of(job(1, DUE, count, level=level), RULES) if step.name == "flood"]
    waits = [wait for step in steps if step.label == "flood touching sections" for _, wait in step.after]
    assert waits == ([] if left is None else [left])


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
    assert labels == ["mix dough", "roll and cut", "bake", "flood", "detail", "pack"]


def test_more_of_anything_is_never_less_work():
    def work(**more):
        return sum(sum(step.parts) for step in steps_of(job(1, DUE, **{"count": 24, **more}), RULES))

    assert work(count=12) < work(count=24) < work(count=48)
    assert work(level="plain") < work(level="detailed") < work(level="elaborate")
    assert work(colors=1) < work(colors=4)
    assert work(lettered=0) < work(lettered=24)
