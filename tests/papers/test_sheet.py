"""The sheet of a day: what stands on it, that it fits both papers, that no letter breaks it."""

from __future__ import annotations

from datetime import date, time, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.house import House
from intake.kitchen.jobs import job_of
from intake.kitchen.plan import decide
from intake.kitchen.pooling import When, at_once, sessions, when
from intake.model import Design, Due, Fits, Job, Order, Work
from intake.papers.session_lines import session_text
from intake.papers.sheet import NO_WORK, day_of, day_sheet
from tests.kitchen.kit import house
from tests.papers.kit import DAY, at, order, pages, sizes, texts_at

RULES = house()
NOW = at("2026-03-09T09:00")
MADE = at("2026-03-09T09:05")


def planned(*orders: Order) -> tuple[Work, ...]:
    jobs = [job for each in orders if isinstance(job := job_of(each, RULES, newest=False), Job)]
    verdict = decide(jobs, RULES, now=NOW)
    assert isinstance(verdict, Fits)
    return verdict.plan.works


def sheet(day: date, *orders: Order, rules: House = RULES, note: str = "") -> list[str]:
    plan = planned(*orders)
    of = day_of(day, orders, plan, sessions(orders, when(plan), rules), rules, note)
    return pages(day_sheet(of, rules, made=MADE))


def test_a_working_day() -> None:
    dana = order(1, count=20, customer="Dana Reyes", theme="moons", colors=("white", "navy"), lettering=("Leo",))
    bea = order(2, customer="Bea Ortiz", designs=(Design("stars", 24),), flavors=("chocolate",), note="No nuts please.")
    plan = planned(dana, bea)
    first = min(work.start for work in plan).date()
    text = " ".join(sheet(first, dana, bea))
    for words in (
        "Monday, March 9", "By the clock", "18:00-18:20 mix dough: ", "mix and tint icing: Dana Reyes",
        "vanilla dough: 1 batch for 20 cookies", "chocolate dough: 1 batch", "flour, 3 1/3 cups", "417 g",
        "will be over: use it by Thursday, March 12", "Dana Reyes: 20 moons", "lettering: Leo", "24 stars",
        "No nuts please.",
    ):  # fmt: skip
        assert words in text, words


def test_cutting_on_the_eve_of_baking_is_each_on_its_day() -> None:
    """A plan may have the dough cut in one evening and the loads in the next."""
    dana, eve = order(1, customer="Dana Reyes", theme="moons"), DAY - timedelta(days=1)
    cut, baked = sessions([dana], When({}, {}, {1: eve}, {1: DAY}, {}), RULES)
    assert [line.split(":")[0].strip() for line in session_text(cut, RULES)][1:] == ["Cut"]
    assert [line.split(":")[0].strip() for line in session_text(baked, RULES)][1:] == ["Bake"]
    for each, said, other in ((cut, "24 moons, 3 in", "2 trays"), (baked, "2 trays", "24 moons, 3 in")):
        text = " ".join(pages(day_sheet(day_of(each.day, (), (), [each], RULES), RULES, made=MADE)))
        assert said in text and other not in text


def test_the_day_they_leave() -> None:
    dana = order(1, customer="Dana Reyes", theme="moons")
    text = " ".join(sheet(DAY, dana))
    assert "Leaves today" in text
    assert "14:00 Dana Reyes, 24 moons, pickup" in text


def test_a_parcel_leaves_on_the_day_it_is_posted() -> None:
    parcel = order(1, customer="Dana Reyes", handover="ship", due=Due.on(date(2026, 3, 20)))
    texts = {day: " ".join(sheet(day, parcel)) for day in (date(2026, 3, 17), date(2026, 3, 20))}
    assert ["Leaves today" in text for text in texts.values()] == [True, False]


def test_an_empty_day_says_so() -> None:
    (text,) = sheet(DAY + timedelta(days=30), order(1))
    assert NO_WORK in text
    assert "1 of 1" in text


def test_without_a_plan_the_reason_is_on_the_sheet() -> None:
    orders = (order(1, customer="Dana Reyes"),)
    of = day_of(DAY, orders, (), sessions(orders, at_once(orders, DAY), RULES), RULES, "There is no plan.")
    text = " ".join(pages(day_sheet(of, RULES, made=MADE)))
    assert "There is no plan." in text
    assert "vanilla dough" in text


@pytest.mark.parametrize(("page", "side"), [("letter", (215.9, 279.4)), ("a4", (210.0, 297.0))])
def test_it_fits_letter_and_a4(page: str, side: tuple[float, float]) -> None:
    """Letter is 8.5 x 11 in, A4 210 x 297 mm (ISO 216). All text lies in what both have, 10 mm from the edges; the
    foot is below it."""
    rules = house(papers={"page": page})
    orders = tuple(order(n, customer=f"Customer {n} {'long ' * n * 9}", colors=("red", "blue")) for n in range(1, 9))
    of = day_of(DAY, orders, (), sessions(orders, at_once(orders, DAY), rules), rules)
    made = day_sheet(of, rules, made=MADE)
    assert sizes(made) == {side}
    for text, x, y in texts_at(made):
        assert abs(x - side[0] / 2) <= 210 / 2 - 10, text
        assert abs(y - side[1] / 2) <= (279.4 / 2 - 10 if " of " not in text else 279.4 / 2 - 4), text


def test_the_same_day_gives_the_same_bytes() -> None:
    orders = (order(1, customer="Dana Reyes"),)
    of = day_of(DAY, orders, (), sessions(orders, at_once(orders, DAY), RULES), RULES)
    assert day_sheet(of, RULES, made=MADE) == day_sheet(of, RULES, made=MADE)


def test_a_long_day_goes_over_pages_and_loses_nothing() -> None:
    orders = tuple(
        order(number, customer=f"Customer {number}", colors=(f"color {number}",), theme=f"theme {number}")
        for number in range(1, 31)
    )
    of = day_of(DAY, orders, (), sessions(orders, at_once(orders, DAY), RULES), RULES)
    texts = pages(day_sheet(of, RULES, made=MADE))
    assert len(texts) > 2
    whole = " ".join(texts)
    assert all(f"color {number}, flood" in whole and f"{24} theme {number}," in whole for number in range(1, 31))
    assert all(f"{place} of {len(texts)}" in text for place, text in enumerate(texts, 1))


LONG = ["x" * 400, "李伟" * 40, "\U0001f382" * 30, "שלום", "ক্ষ", "\u202e", "**b** [/]"]
ODD = st.text(max_size=60) | st.sampled_from(LONG)


@given(ODD, ODD, ODD)
@settings(max_examples=40)
def test_no_letter_breaks_a_sheet(who: str, theme: str, color: str) -> None:
    values: dict[str, Any] = {"customer": who, "theme": theme, "colors": (color,), "lettering": (theme,), "note": who}
    orders = (order(1, **values),)
    of = day_of(DAY, orders, (), sessions(orders, at_once(orders, DAY), RULES), RULES)
    assert day_sheet(of, RULES, made=MADE).startswith(b"%PDF")


def test_a_name_in_other_letters_is_written_in_latin_ones_and_the_foot_says_so() -> None:
    orders = (order(1, customer="李伟"), order(2, customer="Łucja Жданова"))
    of = day_of(DAY, orders, (), (), RULES)
    text = " ".join(pages(day_sheet(of, RULES, made=MADE)))
    assert "‹LiWei›" in text
    assert "Łucja Жданова" in text
    assert "in Latin letters" in text
    plain = day_of(DAY, orders[1:], (), (), RULES)
    assert "in Latin letters" not in " ".join(pages(day_sheet(plain, RULES, made=MADE)))


def test_the_same_session_on_the_screen() -> None:
    orders = (order(1, due=Due.on(DAY, time(9)), colors=("navy",), packaging=("gift box",)),)
    made = sessions(orders, at_once(orders, DAY), RULES)
    lines = [line for session in made for line in session_text(session, RULES)]
    assert lines[:2] == [
        "Friday, March 13", "  Mix today for tomorrow, for the color deepens overnight: navy",
    ]  # fmt: skip
    assert "        417 g  flour, 3 1/3 cups" in lines
    assert "      160 g, 1 bag  navy, flood (best mixed the day before)" not in lines[:5]
    assert lines[-1] == "  Pack: gift box: 2"
