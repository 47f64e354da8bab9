"""What is asked, and in which words."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from intake.model import Cell, Design, Due
from intake.replies.questions import open_fields, questions
from tests.replies.orders import SAID, sure

FRIDAYS = (Due.on(date(2026, 6, 12)), Due.on(date(2026, 6, 19)))
WINDOW = Due(date(2026, 6, 11), date(2026, 6, 20))

OPEN = [
    ("nothing said", {}, ("count", "theme", "due", "handover")),
    ("all settled", SAID, ()),
    ("designs stand in for a theme", {"designs": (Design("owls"),)}, ("count", "due", "handover")),
    ("lettering stands in for a theme", {"lettering": ("Leo",)}, ("count", "due", "handover")),
    ("a missing allergy is not asked for", {**SAID, "dietary": Cell()}, ()),
    ("a doubtful allergy is", {**SAID, "dietary": Cell(why="2 allergies in the room")}, ("dietary",)),
    ("names promised for later", {**SAID, "lettering": Cell(why="the names come later")}, ("lettering",)),
    ("an address is needed", {**SAID, "handover": "ship"}, ("address",)),
    ("not before the way is known", {**SAID, "handover": Cell("ship")}, ("handover",)),
    ("whose day it is", {**SAID, "due_is": Cell("event")}, ("due_is",)),
    ("colors in doubt", {**SAID, "colors": Cell(("red",))}, ("colors",)),
]


@pytest.mark.parametrize(("values", "expected"), [c[1:] for c in OPEN], ids=[c[0] for c in OPEN])
def test_the_fewest_questions(values: dict[str, Any], expected: tuple[str, ...]) -> None:
    assert open_fields(sure(**values)) == expected


WORDED = [
    ("count", Cell(), "How many cookies would you like?"),
    ("count", Cell(24), "Would you like 24 cookies?"),
    ("count", Cell(24, others=(36,)), "How many cookies would you like: 24 or 36?"),
    ("count", Cell(None, others=(24, 36)), "How many cookies would you like: 24 or 36?"),
    ("due", Cell(FRIDAYS[0], others=FRIDAYS[1:]), "cookies: Friday, June 12, 2026 or Friday, June 19, 2026?"),
    ("due", Cell(FRIDAYS[0]), "Is Friday, June 12, 2026 the day you need the cookies?"),
    ("due", Cell(WINDOW), "Which day do you need the cookies, between Thursday, June 11 and Saturday, June 20, 2026?"),
    ("handover", Cell("pickup"), "Would you like to pick them up?"),
    ("handover", Cell("ship", others=("deliver",)), "Would you like to have them shipped or have them delivered?"),
    ("lettering", Cell(("Leo", "Mia")), "Should the lettering say “Leo” and “Mia”, spelled exactly like that?"),
    ("lettering", Cell(("Leah",), others=(("Lea",),)), "Which lettering would you like: “Leah” or “Lea”?"),
    ("dietary", Cell(("nut-free",)), "Do the cookies need to be nut-free? Please tell me of any allergy."),
    ("theme", Cell("{0.__class__}"), "Is the theme {0.__class__}?"),
]


@pytest.mark.parametrize(("field", "cell", "expected"), WORDED)
def test_words(field: str, cell: Cell[Any], expected: str) -> None:
    asked = {question.field: question.text for question in questions(sure(**{**SAID, field: cell}), "en")}
    assert asked[field].endswith(expected)


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        (Cell(), "¿Cuántas galletas desea?"),
        (Cell(24, others=(36,)), "¿Cuántas galletas desea: 24 o 36?"),
        (Cell(6, others=(8,)), "¿Cuántas galletas desea: 6 u 8?"),
    ],
)
def test_spanish(cell: Cell[int], expected: str) -> None:
    assert questions(sure(**{**SAID, "count": cell}), "es")[0].text == expected


def test_a_doubtful_cancellation_is_the_only_question() -> None:
    asked = questions(sure(count=Cell(), cancelled=Cell(True, why="might have to skip it")), "en")
    assert [question.field for question in asked] == ["cancelled"]
    assert asked[0].why == "cancelled: might have to skip it"
