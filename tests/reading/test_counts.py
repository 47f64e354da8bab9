"""Quantities and what they count."""

from __future__ import annotations

import pytest

from intake.reading import counts
from intake.reading.shadow import lowered
from tests.reading.kit import draft_of


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("2 dozen", 24),
        ("2 doz", 24),
        ("2dz", 24),
        ("2.5 dozen", 30),
        ("2 1/2 dozen", 30),
        ("2½ dozen", 30),
        ("two and a half dozen", 30),
        ("a dozen and a half", 18),
        ("half a dozen", 6),
        ("half dozen", 6),
        ("a couple dozen", 24),
        ("four dozen", 48),
        ("docena y media", 18),
        ("media docena", 6),
        ("3 docenas", 36),
        ("thirty-six", 36),
        ("a hundred and twenty", 120),
        ("36 nos.", 36),
    ],
    ids=str,
)
def test_ways_of_saying_so_many(said: str, value: int) -> None:
    assert draft_of(f"i need {said} unicorn cookies by april 4, pickup").count.value == value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2 dozen cookies please: rockets, planets and stars, for april 4", 24),
        ("rockets, planets and stars cookies please, 8 of each, for april 4", 24),
        ("cookies for april 4 please: 12 cows, 12 pigs, 6 hens", 30),
        ("cookies for 15 kids, 2 each, april 4. crayons", 30),
        ("can i get 12 boxes of 6 cookies for april 4, acorns", 72),
        ("27 swimmers plus 3 coaches, one cookie each, april 4, goggles theme", 30),
        ("I need 2 dozen, no make it 3 dozen owl cookies for april 4", 36),
        ("owl cookies for april 4, 4 doz total: half barn owls half snowy owls", 48),
        ("owl cookies, 30 of them please, april 4", 30),
        ("party of 30 on april 4, can i order owl cookies for it", None),
        ("owl cookies for april 4, she is turning 12", None),
        ("owl cookies to 1450 Windrow Trl by april 4", None),
        ("3 dozen owls for april 4. put his name on 6 of them", 36),
        ("3 dozen owl cookies for april 4, my budget is $90", 36),
    ],
    ids=str,
)
def test_what_counts_and_what_does_not(text: str, value: int | None) -> None:
    assert draft_of(text).count.value == value


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("2-3 dozen owl cookies for april 4", (24, 36)),
        ("18-24 owl cookies for april 4", (18, 24)),
        ("four or five dozen owl cookies for april 4", (48, 60)),
        ("between 40 and 50 owl cookies for april 4", (40, 50)),
    ],
    ids=str,
)
def test_a_range_is_asked(text: str, readings: tuple[int, int]) -> None:
    count = draft_of(text).count
    assert (count.value, count.sure, count.others, bool(count.why)) == (None, False, readings, True)


def test_parts_that_do_not_add_up_are_seen() -> None:
    count = draft_of("4 dozen farm cookies for april 4: 12 cows, 12 pigs, 12 hens").count
    assert (count.value, count.sure, count.others) == (48, False, (36,))


@pytest.mark.parametrize(
    ("turns", "value"),
    [
        (("2 dozen owl cookies for april 4", "B: Lovely! $80.", "actually make it 3 dozen"), 36),
        (("2 dozen owl cookies for april 4", "wait make it 30"), 30),
        (("owl cookies for april 4", "B: How many?", "20"), 20),
        (("2 dozen owls for april 4", "make it 30", "B: ok 30", "sorry, back to the original number"), 24),
        (("owl cookies for april 4", "B: 24 owls, $80, pickup Friday. Good?", "yes perfect"), 24),
        (("14 kids, 2 each, owls, april 4", "B: Got it!", "3 of the kids cant make it, still 2 each"), 22),
    ],
    ids=str,
)
def test_later_words_win(turns: tuple[str, ...], value: int) -> None:
    assert draft_of(*turns).count.value == value


@pytest.mark.parametrize("text", ["", "555-0117", "$60", "6/5", "4th", "no numbers here"], ids=str)
def test_spans_slice_back(text: str) -> None:
    for quantity in counts.quantities(lowered(text)):
        assert text[quantity.start : quantity.end].strip()
