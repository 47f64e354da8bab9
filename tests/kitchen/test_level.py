"""The level of a set, by the table of points in intake.kitchen.level."""

from __future__ import annotations

import pytest

from intake.kitchen.level import lettered, level_of
from intake.model import Cell, Design, Draft


def draft(designs: int, colors: int, texts: int, count: int | None) -> Draft:
    return Draft(
        count=Cell(count),
        designs=Cell(tuple(Design(f"shape {n}") for n in range(designs))),
        colors=Cell(tuple(f"color {n}" for n in range(colors))),
        lettering=Cell(tuple(f"Name {n}" for n in range(texts))),
    )


@pytest.mark.parametrize(
    ("designs", "colors", "texts", "count", "expected"),
    [
        (0, 0, 0, 24, "plain"),
        (2, 3, 0, 24, "plain"),
        (2, 3, 5, 24, "plain"),
        (2, 3, 6, 24, "detailed"),
        (3, 3, 0, 24, "detailed"),
        (2, 4, 0, 24, "detailed"),
        (3, 4, 0, 24, "detailed"),
        (0, 0, 24, 24, "detailed"),
        (5, 4, 0, 24, "elaborate"),
        (3, 4, 6, 24, "elaborate"),
        (5, 6, 24, 24, "elaborate"),
        (0, 0, 3, None, "plain"),
    ],
)
def test_level(designs: int, colors: int, texts: int, count: int | None, expected: str) -> None:
    assert level_of(draft(designs, colors, texts, count))[0] == expected


def test_the_reason_names_what_was_counted() -> None:
    assert level_of(draft(3, 4, 2, 24))[1] == "3 designs, 4 colors, lettering on 2 of 24 cookies"


def test_no_more_cookies_are_lettered_than_there_are() -> None:
    assert lettered(draft(0, 0, 20, 12)) == 12
