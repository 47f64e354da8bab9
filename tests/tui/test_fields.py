"""What is typed into one field: the value it gives, and the line it is refused with."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.model import DRAFT_FIELDS, Design, Due, OrdertinError
from tui.fields import CHOICES, form, typed, value_of
from tui.words import value_words

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("field", "text", "value"),
    [
        ("count", "24", 24),
        ("count", " 2 dozen ", 24),
        ("count", "a dozen", 12),
        ("count", "2.5 dz", 30),
        ("count", "a dozen and a half", 18),
        ("count", "1,200", 1200),
        ("count", "36 cookies", 36),
        ("count", "", None),
        ("age", "4", 4),
        ("budget", "$120", Decimal(120)),
        ("budget", "95.50", Decimal("95.50")),
        ("theme", "  under   the sea ", "under the sea"),
        ("handover", "Pickup", "pickup"),
        ("cancelled", "no", False),
        ("due_is", "the party", "event"),
        ("due_is", "event", "event"),
        ("due_is", "Hand-over", "handover"),
        ("due_is", "parcel arrives", "arrival"),
        ("colors", "sage green; ivory;", ("sage green", "ivory")),
        ("lettering", "Happy Birthday, Leo; Leo", ("Happy Birthday, Leo", "Leo")),
        ("lettering", "", ()),
        ("designs", "12 unicorns; 6 x stars; moons", (Design("unicorns", 12), Design("stars", 6), Design("moons"))),
        ("designs", "? x 3 little pigs", (Design("3 little pigs"),)),
        ("due", "2027-03-14", Due.on(date(2027, 3, 14))),
        ("due", "14 Mar", Due.on(date(2027, 3, 14))),
        ("due", "march 14th, 2pm", Due.on(date(2027, 3, 14), time(14))),
        ("due", "Sat 12 December at 2:30 pm", Due.on(date(2026, 12, 12), time(14, 30))),
        ("due", "25 nov", Due.on(date(2026, 11, 25))),
        ("due", "24 nov", Due.on(date(2027, 11, 24))),
        ("due", "29 feb", Due.on(date(2028, 2, 29))),
        ("due", "dec 12 noon", Due.on(date(2026, 12, 12), time(12))),
        ("due", "12 dec 12am", Due.on(date(2026, 12, 12), time(0))),
        ("due", "10 dec to 12 dec", Due(date(2026, 12, 10), date(2026, 12, 12))),
    ],
)
def test_what_is_typed_gives_a_value(field: str, text: str, value: Any) -> None:
    assert value_of(field, text, TODAY) == value


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("count", "some"),
        ("count", "0"),
        ("count", "-3"),
        ("age", "old"),
        ("budget", "cheap"),
        ("handover", "drone"),
        ("cancelled", "perhaps"),
        ("due", "soon"),
        ("due", "31 feb"),
        ("due", "12 dec 25:00"),
        ("due", "12 dec 14pm"),
        ("due", "12 dec to 10 dec"),
        ("due", "2026-13-01"),
    ],
)
def test_what_it_cannot_hold_is_said_with_what_to_type(field: str, text: str) -> None:
    with pytest.raises(OrdertinError) as caught:
        value_of(field, text, TODAY)

    assert form(field) in str(caught.value)
    assert text in str(caught.value)


def test_every_field_says_what_to_type() -> None:
    assert all(form(field) for field in DRAFT_FIELDS)


@pytest.mark.parametrize("choice", CHOICES["due_is"])
def test_what_a_day_is_may_be_typed_as_it_is_shown_and_as_it_is_told(choice: str) -> None:
    shown = value_words("due_is", choice)

    assert shown in form("due_is")
    assert value_of("due_is", shown, TODAY) == value_of("due_is", choice, TODAY) == choice


WORDS = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9,.'&!?-]{0,8}( [A-Za-z0-9'&-]{1,8}){0,3}", fullmatch=True)
DAYS = st.dates(date(2000, 1, 1), date(2099, 12, 31))
CLOCKS = st.none() | st.builds(time, st.integers(0, 23), st.integers(0, 59))
DUES = st.builds(Due.on, DAYS, CLOCKS) | st.tuples(DAYS, DAYS, CLOCKS).map(lambda t: Due(min(t[:2]), max(t[:2]), t[2]))
VALUES = (
    st.tuples(st.just("count"), st.integers(1, 100_000))
    | st.tuples(st.just("age"), st.integers(0, 150))
    | st.tuples(st.just("budget"), st.decimals(0, 10_000, places=2))
    | st.tuples(st.just("due"), DUES)
    | st.tuples(st.sampled_from(["theme", "honoree", "address", "customer"]), WORDS)
    | st.tuples(st.sampled_from(["lettering", "colors", "flavors"]), st.lists(WORDS, min_size=1).map(tuple))
    | st.tuples(
        st.just("designs"),
        st.lists(st.builds(Design, WORDS, st.none() | st.integers(1, 999)), min_size=1).map(tuple),
    )
    | st.sampled_from([(field, choice) for field in ("handover", "due_is", "occasion") for choice in CHOICES[field]])
    | st.tuples(st.just("cancelled"), st.booleans())
)


@given(VALUES)
def test_a_value_comes_back_from_the_line_it_is_typed_as(pair: tuple[str, Any]) -> None:
    field, value = pair

    assert value_of(field, typed(field, value), TODAY) == value
