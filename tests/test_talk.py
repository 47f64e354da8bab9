"""What the baker types about an order, and the fields that it sets or clears."""

from __future__ import annotations

from datetime import date, datetime, time
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.house import default_house
from intake.model import DRAFT_FIELDS, Cell, Draft, Due, Message, Order, State, Thread
from intake.record import in_words
from intake.talk import Correction, corrections

# By a calendar of 2027: May 10 is a Monday, May 22 a Saturday, June 4 a Friday.
ZONE = ZoneInfo("America/Chicago")
SENT = datetime(2027, 5, 10, 18, 0, tzinfo=ZONE)
TYPED = datetime(2027, 5, 11, 9, 0, tzinfo=ZONE)
RULES = default_house().reading


def case(text: str, **values: Any) -> tuple[Thread, Order]:
    cells = {name: Cell(value, True) for name, value in values.items()}
    thread = Thread("t1", "chat", (Message("m1", "Maren Holt", False, SENT, text),))
    return thread, Order(1, "t1", 0, State.DRAFT, Draft(customer=Cell("Maren Holt", True), **cells))


BARE = case("hello, could you make me some cookies for a party?")
FULL = case(
    "Hi! 2 dozen hedgehog cookies for Wilma's 6th birthday, pickup Saturday May 22 at 10am, put WILMA on 6 of them. "
    "Brown and green please, vanilla",
    count=24,
    theme="hedgehog",
    occasion="birthday",
    honoree="Wilma",
    age=6,
    lettering=("WILMA",),
    colors=("brown", "green"),
    flavors=("vanilla",),
    due=Due.on(date(2027, 5, 22), time(10)),
    due_is="handover",
    handover="pickup",
)
SENT_OFF = case(
    "can i get 40 tulip cookies shipped to 9 Fern Road, Elgin IL 60120, by june 4th, budget $150, individually bagged, "
    "nut free",
    count=40,
    theme="tulip",
    dietary=("nut-free",),
    due=Due.on(date(2027, 6, 4)),
    due_is="arrival",
    handover="ship",
    address="9 Fern Road, Elgin IL 60120",
    packaging=("individually bagged",),
    budget=Decimal(150),
)
ORDERS = {"bare": BARE, "full": FULL, "sent off": SENT_OFF}


def typed(order: str, words: str) -> Correction:
    return corrections(words, *ORDERS[order], RULES, at=TYPED)


def in_short(correction: Correction) -> dict[str, str]:
    return {name: "" if cell.missing else in_words(cell.value) for name, cell in correction.changes.items()}


PICKUP = {"due_is": "handover", "handover": "pickup"}

CASES: list[tuple[str, str, dict[str, str]]] = [
    # How many
    ("full", "36", {"count": "36"}),
    ("full", "just 18", {"count": "18"}),
    ("full", "it's 40", {"count": "40"}),
    ("full", "make it 3 dozen", {"count": "36"}),
    ("full", "make that 30", {"count": "30"}),
    ("full", "actually 30", {"count": "30"}),
    ("full", "let's do 30", {"count": "30"}),
    ("full", "30 please", {"count": "30"}),
    ("full", "change the count to 30", {"count": "30"}),
    ("full", "three dozen", {"count": "36"}),
    ("full", "3 doz", {"count": "36"}),
    ("full", "two and a half dozen", {"count": "30"}),
    ("full", "1.5 dozen", {"count": "18"}),
    ("full", "4 dozen instead", {"count": "48"}),
    ("full", "a dozen less", {"count": "12"}),
    ("full", "hacer 3 docenas", {"count": "36"}),
    ("sent off", "48", {"count": "48"}),
    # When
    ("full", "due the 28th", {"due": "Fri 28 May 2027, 10:00"}),
    ("full", "it's due Friday May 28", {"due": "Fri 28 May 2027, 10:00"}),
    ("full", "needed by June 5", {"due": "Sat 5 Jun 2027, 10:00"}),
    ("full", "pickup on the 28th", {"due": "Fri 28 May 2027, 10:00"}),
    ("full", "pickup may 28 at 3pm", {"due": "Fri 28 May 2027, 15:00"}),
    ("full", "friday may 28 at 3pm", {"due": "Fri 28 May 2027, 15:00"}),
    ("full", "may 28", {"due": "Fri 28 May 2027, 10:00"}),
    ("full", "move it to sunday", {"due": "Sun 23 May 2027, 10:00"}),
    ("full", "one day earlier", {"due": "Fri 21 May 2027, 10:00"}),
    ("full", "pickup at noon", {"due": "Sat 22 May 2027, 12:00"}),
    ("full", "change the time to 5pm", {"due": "Sat 22 May 2027, 17:00"}),
    ("sent off", "due june 3", {"due": "Thu 3 Jun 2027"}),
    ("bare", "june 5", {"due": "Sat 5 Jun 2027", "due_is": "handover"}),
    ("bare", "06/05", {"due": "Sat 5 Jun 2027", "due_is": "handover"}),
    ("bare", "2027-06-05", {"due": "Sat 5 Jun 2027", "due_is": "handover"}),
    ("bare", "due tomorrow", {"due": "Wed 12 May 2027", "due_is": "handover"}),
    ("bare", "in two weeks", {"due": "Tue 25 May 2027", "due_is": "handover"}),
    ("bare", "the party is on the 23rd", {"due": "Sun 23 May 2027", "due_is": "event"}),
    ("bare", "pickup friday may 28 at 3pm", {"due": "Fri 28 May 2027, 15:00", **PICKUP}),
    # How it leaves
    ("full", "ship it", {"handover": "ship"}),
    ("full", "delivery", {"handover": "deliver"}),
    ("full", "ship instead of pickup", {"handover": "ship"}),
    (
        "full",
        "ship it to 12 Elm Street, Duluth MN 55802",
        {"handover": "ship", "address": "12 Elm Street, Duluth MN 55802"},
    ),
    ("sent off", "pickup instead", PICKUP),
    ("sent off", "local pickup june 5 at 3", {"due": "Sat 5 Jun 2027, 15:00", **PICKUP}),
    (
        "sent off",
        "change the address to 4 Oak Lane, Elgin IL 60120",
        {"address": "4 Oak Lane, Elgin IL 60120"},
    ),
    # What is on them
    ("full", "theme is foxes", {"theme": "foxes"}),
    ("full", "change theme to mermaids", {"theme": "mermaids"}),
    ("full", "12 foxes and 12 owls", {"designs": "12 foxes, 12 owls"}),
    ("bare", "hedgehogs", {"theme": "hedgehogs"}),
    ("bare", "put IDA on 3", {"lettering": "IDA"}),
    ("full", "put IDA on 3", {"lettering": "IDA"}),
    ("full", "lettering: Ida", {"lettering": "Ida"}),
    ("bare", 'lettering "Happy Day"', {"lettering": "Happy Day"}),
    ("bare", "pink and gold", {"colors": "pink, gold"}),
    ("full", "pink and gold", {"colors": "pink, gold"}),
    ("full", "add blue", {"colors": "brown, green, blue"}),
    ("full", "no names", {"lettering": ""}),
    ("full", "no lettering", {"lettering": ""}),
    ("full", "forget the names", {"lettering": ""}),
    ("full", "sin nombres", {"lettering": ""}),
    ("full", "clear the theme", {"theme": ""}),
    ("full", "swap brown for gold", {"colors": "gold, green"}),
    ("full", "change the hedgehog to foxes", {"theme": "foxes"}),
    ("full", "change WILMA to WILLA", {"lettering": "WILLA"}),
    # The rest
    ("full", "nut allergy", {"dietary": "nut-free"}),
    ("full", "gluten free", {"dietary": "gluten-free"}),
    ("full", "individually bagged", {"packaging": "individually bagged"}),
    ("full", "budget is $80", {"budget": "80"}),
    ("full", "phone 555-0142", {"phone": "555-0142"}),
    ("full", "email ida@example.com", {"email": "ida@example.com"}),
    ("full", "she is turning 7", {"age": "7"}),
    ("full", "no age", {"age": ""}),
    ("full", "the customer is Ida Holt", {"customer": "Ida Holt"}),
    ("full", "cancel it", {"cancelled": "yes"}),
    ("full", "not cancelled", {"cancelled": "no"}),
    ("sent off", "no address", {"address": ""}),
    ("sent off", "no budget", {"budget": ""}),
    ("bare", "for ida's 7th birthday", {"occasion": "birthday", "honoree": "Ida", "age": "7"}),
    # Several at once
    ("bare", "make it 3 dozen, pickup", {"count": "36", "handover": "pickup"}),
    ("full", "18 cookies, ship it", {"count": "18", "handover": "ship"}),
    (
        "bare",
        "24 fox cookies, pickup june 5 at 2pm, put IDA on them",
        {"count": "24", "theme": "fox", "lettering": "IDA", "due": "Sat 5 Jun 2027, 14:00", **PICKUP},
    ),
]
MISSES = [
    ("full", "add a dozen", {"count": "36"}),
    ("full", "2 dozen more", {"count": "48"}),
    ("full", "not 2 dozen, 3 dozen", {"count": "36"}),
    ("full", "30 not 24", {"count": "30"}),
    ("full", "pickup friday may 28 3pm", {"due": "Fri 28 May 2027, 15:00"}),
    ("full", "a week later", {"due": "Sat 29 May 2027, 10:00"}),
    ("full", "make them foxes", {"theme": "foxes"}),
    ("full", "no colours", {"colors": ""}),
    ("full", "no flavors", {"flavors": ""}),
    ("sent off", "no bags", {"packaging": ""}),
]


@pytest.mark.parametrize(("order", "words", "expected"), [*CASES, *MISSES])
def test_typed_words_set_and_clear_fields(order: str, words: str, expected: dict[str, str]) -> None:
    correction = typed(order, words)
    assert in_short(correction) == expected
    assert correction.answer.startswith("Changed. ")
    assert all(cell.sure and not cell.why and not cell.others for cell in correction.changes.values())


@pytest.mark.parametrize(
    ("order", "words"),
    [
        *(("full", words) for words in ("hello", "thanks", "ok", "yes", "???", "99999", "[/] {{7*7}}")),
        *(("bare", words) for words in ("asdf qwer", "she picks up the phone late", "\x00\x1b[31m", "%s %d {0}")),
        *(("full", words) for words in ("0", "0 cookies")),
    ],
)
def test_what_is_not_understood_is_said(order: str, words: str) -> None:
    correction = typed(order, words)
    assert correction.changes == {}
    assert "nothing to change" in correction.answer


@pytest.mark.parametrize(
    ("order", "words", "answer"),
    [
        ("full", "2 dozen", "Count is 24 already."),
        ("full", "pickup", "Hand-over is pickup already."),
        ("bare", "no names", "Lettering is none already."),
        ("full", "  \n", "Nothing was typed."),
        ("full", "make it 3 dozen", "Changed. Count: 36."),
        ("full", "no names", "Changed. No lettering."),
        ("bare", "make it 3 dozen, pickup", "Changed. Count: 36; hand-over: pickup."),
    ],
)
def test_the_answer_says_what_became_of_it(order: str, words: str, answer: str) -> None:
    assert typed(order, words).answer == answer


def test_a_doubt_is_settled_by_saying_the_same_again() -> None:
    thread, _ = case("Hi! About 2 dozen moon cookies")
    doubtful = Draft(count=Cell(24, False, why="“about” is not a number"), theme=Cell("moon", True))
    changes = corrections("24", thread, Order(1, "t1", 0, State.DRAFT, doubtful), RULES, at=TYPED).changes
    assert changes == {"count": Cell(24, True)}


@pytest.mark.parametrize("words", ["x instead of " * 30_000, "no " * 100_000, "make it 30 " * 30_000])
def test_a_very_long_text_is_no_correction(words: str) -> None:
    correction = typed("full", words)
    assert correction.changes == {}
    assert "too long" in correction.answer


@settings(max_examples=80)
@given(
    st.lists(
        st.one_of(
            st.sampled_from([words for _, words, _ in CASES]),
            st.sampled_from(["no", "not", "on", "the day before", "dozen", "instead", "and", ",", "(", "½", "“", "\n"]),
            st.text(max_size=6),
        ),
        max_size=6,
    ).map(" ".join)
)
def test_anything_can_be_typed(words: str) -> None:
    correction = typed("full", words)
    assert correction.answer
    assert set(correction.changes) <= set(DRAFT_FIELDS)
