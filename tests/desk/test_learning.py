"""What the baker corrects is known the next time: themes, colours, flavours and what "next Friday" means."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Due, HouseWord, OrdertinError

ZONE = ZoneInfo("America/Chicago")
WEDNESDAY = datetime(2027, 3, 10, 9, tzinfo=ZONE)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with Desk(Home.at(tmp_path), now=lambda: WEDNESDAY) as made:
        yield made


def drafted(desk: Desk, text: str) -> int:
    return desk.paste(text, at=WEDNESDAY).orders[0].id


@pytest.mark.parametrize(
    ("field", "first", "corrected", "second", "value"),
    [
        pytest.param(
            "theme",
            "Hi, 2 dozen gonk cookies for April 3 please, I'll pick up",
            "gnomes",
            "we'd love 30, gonks, for April 10, will collect",
            "gnomes",
            id="another name for it",
        ),
        pytest.param(
            "theme",
            "2 dozen for April 3, pickup. My girl is a huge Doodle Moon fan",
            "doodle moon",
            "hey 18 for april 17, doodle moon in mint, ill pick up",
            "doodle moon",
            id="a theme in the customer's words",
        ),
        pytest.param(
            "colors",
            "2 dozen owl cookies for April 3 in oyster mist and gold, pickup",
            ["oyster mist", "gold"],
            "3 dozen stars, oyster mist and navy, for April 17, will pick up",
            ("oyster mist", "navy"),
            id="a color",
        ),
        pytest.param(
            "flavors",
            "2 dozen owl cookies for April 3, in your speculoos swirl, pickup",
            ["speculoos swirl"],
            "3 dozen star cookies, speculoos swirl flavor, for April 17, will pick up",
            ("speculoos swirl",),
            id="a flavor",
        ),
    ],
)  # fmt: skip
def test_a_correction_is_read_right_the_next_time(
    desk: Desk, field: str, first: str, corrected: object, second: str, value: object
) -> None:
    before = desk.order(drafted(desk, first)).draft.cell(field).value
    assert before != corrected
    desk.correct(drafted(desk, first), {field: corrected})
    cell = desk.order(drafted(desk, second)).draft.cell(field)
    assert cell.value == value
    assert cell.sure


def test_the_other_reading_of_next_friday_is_offered_first_from_then_on(desk: Desk) -> None:
    text = "Hi! 2 dozen {} cookies for next friday please, pickup"
    due = desk.order(drafted(desk, text.format("owl"))).draft.due
    assert (due.value, due.others, due.sure) == (Due.on(date(2027, 3, 19)), (Due.on(date(2027, 3, 12)),), False)
    desk.correct(drafted(desk, text.format("owl")), {"due": {"date": "2027-03-12"}})
    due = desk.order(drafted(desk, text.format("star"))).draft.due
    assert (due.value, due.others, due.sure) == (Due.on(date(2027, 3, 12)), (Due.on(date(2027, 3, 19)),), False)


def test_typed_words_teach_and_say_so(desk: Desk) -> None:
    order = drafted(desk, "Hi, 2 dozen gonk cookies for April 3 please, I'll pick up")
    said = desk.say(order, "theme is gnomes")
    assert "“gonk” is a theme, called “gnomes” here" in said.answer
    assert desk.words() == (HouseWord("theme", "gonk", "gnomes"),)


def test_what_is_undone_or_forgotten_is_not_known(desk: Desk) -> None:
    order = drafted(desk, "Hi, 2 dozen gonk cookies for April 3 please, I'll pick up")
    desk.correct(order, {"theme": "gnomes"})
    desk.undo()
    assert desk.words() == ()
    desk.correct(order, {"theme": "gnomes"})
    assert desk.forget_word("Gonk") == (HouseWord("theme", "gonk", "gnomes"),)
    assert desk.words() == ()
    desk.undo()
    assert [w.said for w in desk.words()] == ["gonk"]
    with pytest.raises(OrdertinError, match="not among the words"):
        desk.forget_word("griffin")


@pytest.mark.parametrize(
    ("text", "changes"),
    [
        pytest.param("2 dozen owl cookies for April 3, pickup", {"theme": "barn owls"}, id="narrower"),
        pytest.param("2 dozen owl cookies for April 3, pickup", {"count": 36}, id="a number"),
        pytest.param("2 dozen owl cookies in blue for April 3, pickup", {"theme": "blue"}, id="a color as a theme"),
        pytest.param("2 dozen cookies for April 3, pickup", {"theme": "surprise me"}, id="words nobody wrote"),
    ],
)
def test_what_may_be_one_orders_own_is_not_learnt(desk: Desk, text: str, changes: dict[str, object]) -> None:
    desk.correct(drafted(desk, text), changes)
    assert desk.words() == ()


def test_words_of_the_house_rules_are_known(tmp_path: Path) -> None:
    with Desk(Home.at(tmp_path), now=lambda: WEDNESDAY):
        pass
    rules = Home.at(tmp_path).rules
    own = 'words = [{ field = "theme", said = "gonks", means = "gnomes" }]'
    rules.write_text(rules.read_text(encoding="utf-8").replace("words = []", own), encoding="utf-8")
    with Desk(Home.at(tmp_path), now=lambda: WEDNESDAY) as desk:
        assert desk.order(drafted(desk, "2 dozen gonk cookies for April 3, pickup")).draft.theme.value == "gnomes"
