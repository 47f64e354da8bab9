"""Whole threads: what is read, what is asked, what is left alone."""

from __future__ import annotations

from datetime import date, time

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake.model import DRAFT_FIELDS, Due, Message, Thread
from intake.reading.pipeline import read
from tests.reading.kit import RULES, SENT, draft_of, reading_of, thread_of

ORDER = "2 dozen owl cookies for my son Leo's 5th birthday, party is saturday april 4. "


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("pickup please", "pickup"),
        ("i can come get them", "pickup"),
        ("my husband will swing by", "pickup"),
        ("happy to collect", "pickup"),
        ("paso por ellas", "pickup"),
        ("can you drop them off at 12 Vine St", "deliver"),
        ("please deliver to 12 Vine St", "deliver"),
        ("please ship to 5 Pebble Ln, Macon GA 31201", "ship"),
        ("no preference on color", None),
        ("the theme is pickup trucks", None),
    ],
    ids=str,
)
def test_hand_over(text: str, value: str | None) -> None:
    assert draft_of(ORDER + text).handover.value == value


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("Put LEO on half", ("LEO",)),
        ('with "Happy Birthday Leo" on six', ("Happy Birthday Leo",)),
        ('Green and gold, "25 years" on a dozen of them', ("25 years",)),
        ("one should say Hoot Hoot", ("Hoot Hoot",)),
        ("with his name on them", ("Leo",)),
        ("no names please", None),
        ("nothing written on them", None),
        ("in blue and green", None),
    ],
    ids=str,
)
def test_lettering(text: str, value: tuple[str, ...] | None) -> None:
    assert draft_of(ORDER + text).lettering.value == value


@pytest.mark.parametrize(
    ("text", "due", "is_"),
    [
        ("", Due.on(date(2026, 4, 4)), "event"),
        ("i'd pick up the day before at 5", Due.on(date(2026, 4, 3), time(17)), "handover"),
        ("need them friday by noon", Due.on(date(2026, 4, 3), time(12)), "handover"),
        ("rsvps are due march 20", Due.on(date(2026, 4, 4)), "event"),
        ("pick up that morning at 9", Due.on(date(2026, 4, 4), time(9)), "handover"),
    ],
    ids=str,
)
def test_due(text: str, due: Due, is_: str) -> None:
    draft = draft_of(ORDER + text)
    assert (draft.due.value, draft.due_is.value) == (due, is_)


@pytest.mark.parametrize(
    ("text", "needs"),
    [
        ("nut free please", {"nut-free"}),
        ("she's allergic to peanuts", {"peanut-free"}),
        ("one guest is celiac", {"gluten-free"}),
        ("no dairy, and no eggs either", {"dairy-free", "egg-free"}),
        ("my nephew has a dairy allergy", {"dairy-free"}),
        ("he reacts to food dye so none of that", {"dye-free"}),
        ("nothing with sesame", {"sesame-free"}),
        ("halal only", {"halal"}),
        ("no allergies", set()),
        ("he is nuts about owls", set()),
        ("no problem with anything", set()),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_dietary_needs(text: str, needs: set[str]) -> None:
    assert set(draft_of(ORDER + text).dietary.value or ()) == needs


@pytest.mark.parametrize(
    ("turns", "intent", "orders"),
    [
        ((ORDER,), "order", 1),
        (("how much is a dozen and do you ship to Ohio? just shopping around",), "ask", 0),
        (("thank you, the owls were perfect!",), "chat", 0),
        (("Dear Merchant, your invoice #88 for domain listing is due. Order today",), "spam", 0),
        ((ORDER, "B: 24 owls, Sat Apr 4, $80. Good?", "yes, confirmed"), "confirm", 1),
        ((ORDER, "B: Got it!", "sorry, we have to cancel the cookies"), "cancel", 1),
        ((ORDER, "B: $80, half holds it", "just sent the $40"), "paid", 1),
        ((ORDER, "B: Got it!", "actually make it 3 dozen"), "change", 1),
    ],
    ids=str,
)
def test_intent(turns: tuple[str, ...], intent: str, orders: int) -> None:
    reading = reading_of(*turns)
    assert (reading.intent.value, len(reading.drafts)) == (intent, orders)


def test_a_flavor_word_may_begin_a_list_of_shapes() -> None:
    draft = draft_of("30 lemon and lime slice cookies for saturday april 4, pickup")
    assert draft.theme.value == "lemon and lime slice"


def test_one_open_question_unsettles_nothing_else() -> None:
    draft = draft_of("24 pinecone cookies, our lunch is 4/17, not sure yet if we pick up or need them delivered")
    assert (draft.theme.value, draft.theme.sure) == ("pinecone", True)
    assert (draft.due.value, draft.due.sure) == (Due.on(date(2026, 4, 17)), True)
    assert (draft.handover.value, draft.handover.sure, bool(draft.handover.why)) == (None, False, True)


def test_two_orders_in_one_message() -> None:
    reading = reading_of(
        "2 orders pls. A) 18 pirate cookies for Ronan's 6th bday on april 11. B) 3 dz bats for the office party may 9"
    )
    assert [(d.count.value, str(d.due.value and d.due.value.first)) for d in reading.drafts] == [
        (18, "2026-04-11"),
        (36, "2026-05-09"),
    ]


def test_what_a_mail_quotes_is_folded_and_not_read() -> None:
    text = (
        "Yes please, that is right.\n\nRenee\n\n-- \nRenee Abel\nTel 555-0175\n\n"
        "On Tue, Mar 10, 2026 at 4:12 PM Baker wrote:\n> 5 dozen is $230. I am booked on the 18th.\n"
    )
    reading = reading_of(
        "60 lemon cookies for april 4, pickup", "B: 5 dozen is $230. I am booked on the 18th.", text, channel="mail"
    )
    assert reading.drafts[0].due.value == Due.on(date(2026, 4, 4))
    assert {fold.kind for fold in reading.folds} == {"signature", "attribution", "quote"}


def test_evidence_is_the_words_themselves() -> None:
    thread = thread_of(ORDER + "Pick up friday at 5.")
    draft = read(thread, RULES).drafts[0]
    said = {
        name: [thread.messages[0].text[e.start : e.end] for e in draft.cell(name).evidence]
        for name in ("count", "theme", "age", "handover")
    }
    assert said == {"count": ["2 dozen"], "theme": ["owl"], "age": ["Leo's 5th"], "handover": ["Pick up"]}


words = st.sampled_from(
    "2 dozen cookies for sat the 14th with his name on half pickup \" ' ( ) $40 next friday before after no not "
    "555-0101 June 5/6 a@example.com each of 3 theme: leo's 4th bday > -- \n On Monday wrote: says ship to "
    "12 Elm St , . ? ! ½ ñ 🎂".split(" ")
)


@settings(max_examples=150, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.one_of(st.text(max_size=60), st.lists(words, max_size=40).map(" ".join)), min_size=1, max_size=4))
def test_any_text_reads_and_every_span_slices_back(texts: list[str]) -> None:
    thread = Thread("t", "mail", tuple(Message(f"m{i}", "Ada Quill", i % 2 == 1, SENT, t) for i, t in enumerate(texts)))
    reading = read(thread, RULES)
    lengths = {m.id: len(m.text) for m in thread.messages}
    for draft in reading.drafts:
        for name in DRAFT_FIELDS:
            for where in draft.cell(name).evidence:
                assert 0 <= where.start <= where.end <= lengths[where.message]


@pytest.mark.parametrize(
    "bait",
    [
        "a " * 2000,
        "on " * 1500,
        '"' * 4000,
        "(" * 4000,
        "1 " * 2000,
        " " * 5000,
        "the day before " * 300,
        "x" * 5000,
        "and, " * 1000,
    ],
    ids=lambda text: text[:4] + "...",
)
def test_long_dull_text_reads(bait: str) -> None:
    assert reading_of(bait).drafts == ()
