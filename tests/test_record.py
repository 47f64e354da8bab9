"""Records: every draft, quote and reading comes back as it went, and the reading's form is the one others read."""

from __future__ import annotations

import json
from dataclasses import fields
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any, get_args, get_type_hints

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake import record
from intake.model import (
    DRAFT_FIELDS,
    Cell,
    Design,
    Draft,
    Due,
    Evidence,
    Fold,
    Quote,
    QuoteLine,
    Reading,
    Shift,
    Trail,
)

WORDS = st.text(max_size=20)
DAYS = st.dates(date(1990, 1, 1), date(2100, 12, 31))
MONEY = st.decimals(0, 100_000, places=2)
EVIDENCE = st.builds(Evidence, WORDS, st.integers(0, 99), st.integers(100, 999))
DUES = st.builds(
    lambda first, days, at: Due(first, date.fromordinal(first.toordinal() + days), at),
    DAYS,
    st.integers(0, 40),
    st.none() | st.times(),
)
VALUES: dict[Any, st.SearchStrategy[Any]] = {
    str: WORDS,
    int: st.integers(-(10**12), 10**12),
    bool: st.booleans(),
    Decimal: MONEY,
    Due: DUES,
    tuple[str, ...]: st.lists(WORDS, max_size=3).map(tuple),
    tuple[Design, ...]: st.lists(st.builds(Design, WORDS, st.none() | st.integers(0, 999)), max_size=3).map(tuple),
}


def cells(kind: Any) -> st.SearchStrategy[Cell[Any]]:
    value = VALUES[kind]
    return st.builds(
        Cell,
        st.none() | value,
        st.booleans(),
        st.lists(EVIDENCE, max_size=2).map(tuple),
        WORDS,
        st.lists(value, max_size=2).map(tuple),
        WORDS,
    )


HINTS = get_type_hints(Draft)
DRAFTS = st.builds(Draft, **{f.name: cells(get_args(HINTS[f.name])[0]) for f in fields(Draft)})
QUOTES = st.builds(
    Quote,
    st.lists(st.builds(QuoteLine, WORDS, MONEY, WORDS), max_size=3).map(tuple),
    *(MONEY, MONEY, MONEY, st.just("USD"), WORDS, DAYS, DAYS, st.none() | DAYS, st.none() | DAYS),
    st.lists(WORDS, max_size=2).map(tuple),
)
READINGS = st.builds(
    Reading,
    cells(str),
    st.lists(DRAFTS, max_size=2).map(tuple),
    st.lists(st.builds(Trail, WORDS, WORDS, WORDS, WORDS, WORDS, st.none() | EVIDENCE), max_size=2).map(tuple),
    st.lists(st.builds(Fold, EVIDENCE, WORDS), max_size=2).map(tuple),
    st.sampled_from(["en", "es"]),
)


def through_json(plain: Any) -> Any:
    return json.loads(json.dumps(plain))


@settings(max_examples=50)
@given(DRAFTS)
def test_a_draft_comes_back(draft: Draft) -> None:
    assert record.draft_of(through_json(record.to_plain(draft))) == draft


@settings(max_examples=50)
@given(QUOTES)
def test_a_quote_comes_back(quote: Quote) -> None:
    assert record.quote_of(through_json(record.to_plain(quote))) == quote


@settings(max_examples=50)
@given(DRAFTS, DRAFTS)
def test_changed_fields_come_back(one: Draft, other: Draft) -> None:
    shifts = tuple(Shift(name, one.cell(name).value, other.cell(name)) for name in DRAFT_FIELDS)
    assert record.shifts_of(through_json(record.to_plain(shifts))) == shifts


@pytest.mark.parametrize(
    "plain",
    ["", {}, [1], [{}], [{"field": "weight", "was": 1, "reads": {}}], [{"field": "count", "was": "x", "reads": {}}]],
    ids=str,
)
def test_what_is_no_changed_field_is_refused(plain: Any) -> None:
    with pytest.raises(ValueError):
        record.shifts_of(plain)


@settings(max_examples=50)
@given(READINGS)
def test_a_reading_comes_back(reading: Reading) -> None:
    assert record.reading_of(through_json(record.to_plain(reading))) == reading


@settings(max_examples=50)
@given(READINGS)
def test_a_reading_for_others_is_json_with_every_value_there_is(reading: Reading) -> None:
    plain = through_json(record.reading_plain("t1", reading))
    assert [set(order) for order in plain["orders"]] == [
        {f.name for f in fields(Draft) if not (c := draft.cell(f.name)).missing and c.value is not False}
        for draft in reading.drafts
    ]


@pytest.mark.parametrize(
    ("name", "value", "plain"),
    [
        ("count", 24, 24),
        ("due", Due.on(date(2026, 3, 14)), {"date": "2026-03-14", "time": None}),
        ("due", Due.on(date(2026, 3, 14), time(14)), {"date": "2026-03-14", "time": "14:00"}),
        ("due", Due(date(2026, 6, 11), date(2026, 6, 20)), {"from": "2026-06-11", "to": "2026-06-20"}),
        (
            "due",
            Due(date(2026, 6, 11), date(2026, 6, 20), time(9, 30)),
            {"from": "2026-06-11", "to": "2026-06-20", "time": "09:30"},
        ),
        (
            "designs",
            (Design("pumpkins", 6), Design("ghosts")),
            [{"what": "pumpkins", "count": 6}, {"what": "ghosts", "count": None}],
        ),
        ("lettering", ("Leo",), ["Leo"]),
        ("budget", Decimal("60.00"), 60),
        ("budget", Decimal("62.50"), 62.5),
        ("cancelled", True, True),
    ],
    ids=lambda x: str(x)[:30],
)
def test_a_value_for_others(name: str, value: Any, plain: Any) -> None:
    cell: Cell[Any] = Cell(value, False, (Evidence("m1", 9, 16),), "two numbers", (value,), "finder")
    reading = Reading(Cell("order", True), (Draft(**{name: cell}),))
    assert through_json(record.reading_plain("dev-1", reading)) == {
        "id": "dev-1",
        "intent": {"value": "order", "sure": True, "evidence": [], "why": ""},
        "orders": [
            {
                name: {
                    "value": plain,
                    "sure": False,
                    "evidence": [{"message": "m1", "start": 9, "end": 16}],
                    "why": "two numbers",
                }
            }
        ],
    }


def test_a_record_leaves_out_what_is_at_its_default() -> None:
    assert record.to_plain(Draft(count=Cell(24))) == {"count": {"value": 24}}


@pytest.mark.parametrize(
    ("name", "given_", "value"),
    [
        ("count", 24, 24),
        ("count", " 24 ", 24),
        ("count", "", None),
        ("lettering", (), None),
        ("theme", "un\x1b[31micorns", "unicorns"),
        ("due", date(2026, 3, 14), Due.on(date(2026, 3, 14))),
        ("due", datetime(2026, 3, 14, 14), Due.on(date(2026, 3, 14), time(14))),
        ("due", "2026-03-14", Due.on(date(2026, 3, 14))),
        ("due", "2026-03-14 14:00", Due.on(date(2026, 3, 14), time(14))),
        ("due", "2026-03-14T14:00", Due.on(date(2026, 3, 14), time(14))),
        ("due", {"from": "2026-06-11", "to": "2026-06-20"}, Due(date(2026, 6, 11), date(2026, 6, 20))),
        ("colors", "pink, sage green", ("pink", "sage green")),
        ("colors", ["pink"], ("pink",)),
        ("lettering", "Happy Birthday, Leo\n10", ("Happy Birthday, Leo", "10")),
        ("designs", "6 pumpkins, ghosts", (Design("pumpkins", 6), Design("ghosts"))),
        ("designs", [{"what": "pumpkins", "count": 6}], (Design("pumpkins", 6),)),
        ("budget", "$60", Decimal(60)),
        ("budget", 62.5, Decimal("62.5")),
        ("cancelled", "no", False),
        ("handover", "pickup", "pickup"),
    ],
    ids=lambda x: str(x)[:30],
)
def test_what_the_baker_gives(name: str, given_: Any, value: Any) -> None:
    assert record.value_of(name, given_) == value


@pytest.mark.parametrize(
    ("name", "given_", "said"),
    [
        ("count", "two", "a whole number"),
        ("count", 0, "a whole number from 1"),
        ("count", True, "a whole number"),
        ("count", 2.5, "a whole number"),
        ("due", "next Friday", 'a day such as "2026-03-14"'),
        ("due", {"date": "2026-02-30"}, 'a day such as "2026-03-14"'),
        ("due", {"from": "2026-06-20", "to": "2026-06-11"}, "whose end is after its start"),
        ("handover", "drone", "pickup, ship or deliver"),
        ("budget", "NaN", "an amount"),
        ("budget", -1, "an amount from 0"),
        ("theme", "x" * 10_000, "at most"),
        ("colors", 7, "a list"),
        ("colors", ["pink"] * 5_000, "a list of at most"),
    ],
    ids=lambda x: str(x)[:30],
)
def test_a_wrong_value_says_what_was_expected(name: str, given_: Any, said: str) -> None:
    with pytest.raises(ValueError) as error:
        record.value_of(name, given_)
    assert said in str(error.value)


@pytest.mark.parametrize(
    "plain",
    [{"count": {"value": "24"}}, {"due": {"value": "soon"}}, {"count": 24}, {"budget": {"value": "much"}}, []],
    ids=str,
)
def test_what_is_no_draft_is_refused(plain: Any) -> None:
    with pytest.raises(ValueError):
        record.draft_of(plain)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (24, "24"),
        (Due.on(date(2026, 3, 14), time(14)), "Sat 14 Mar 2026, 14:00"),
        (Due(date(2026, 3, 14), date(2026, 3, 15)), "Sat 14 Mar 2026 to Sun 15 Mar 2026"),
        ((Design("pumpkins", 6), Design("ghosts")), "6 pumpkins, ghosts"),
        (("Happy\nBirthday",), "Happy Birthday"),
        (None, "none"),
        (True, "yes"),
    ],
    ids=str,
)
def test_a_value_in_words(value: Any, words: str) -> None:
    assert record.in_words(value) == words
