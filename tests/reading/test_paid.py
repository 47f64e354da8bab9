"""What a message says of a payment, and what sounds like one and is none."""

from __future__ import annotations

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.model import Message, Thread
from intake.reading.paid import payments_told

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)


def thread(*texts: str, mine: bool = False) -> Thread:
    said = [Message(f"m{n}", "Nell" if mine else "Dana", mine, AT, text) for n, text in enumerate(texts)]
    return Thread("t1", "chat", tuple(said))


@pytest.mark.parametrize(
    ("text", "amount", "part", "how"),
    [
        ("Paid the deposit", None, "deposit", ""),
        ("just sent the deposit of $36.50 by transfer", "36.50", "deposit", "transfer"),
        ("i sent you half in cash", None, "deposit", "cash"),
        ("just sent the other half!", None, "balance", ""),
        ("we paid the balance, $42", "42", "balance", ""),
        ("Paid in full just now, 84 dollars", "84", "in full", ""),
        ("sent $1,250.00 over", "1250.00", "", ""),
        ("just paid by card, thank you!", None, "", "card"),
        ("mailed the check today", None, "", "check"),
        ("sent you 36 for the deposit", "36", "deposit", ""),
        ("paid $20 and then $16 more, thats the deposit", None, "deposit", ""),
    ],
)
def test_what_is_told(text: str, amount: str | None, part: str, how: str) -> None:
    (told,) = payments_told(thread(text))
    assert told.amount == (Decimal(amount) if amount else None)
    assert (told.message, told.part, told.how) == ("m0", part, how)
    assert told.words


@pytest.mark.parametrize(
    "text",
    [
        "how do I pay the deposit?",
        "I'll send the deposit tomorrow",
        "when do i send the balance",
        "2 dozen unicorns please, $60 budget",
        "see you saturday!",
        "",
    ],
)
def test_what_is_no_payment(text: str) -> None:
    assert payments_told(thread(text)) == ()


def test_the_bakers_own_words_and_quoted_ones_are_none() -> None:
    assert payments_told(thread("Paid the deposit", mine=True)) == ()
    quoted = Message("m1", "Dana", False, AT, "What time works?\n\nOn Monday Dana wrote:\n> just sent the deposit")
    assert payments_told(Thread("t1", "mail", (quoted,))) == ()


@pytest.mark.parametrize(
    ("asked", "answer", "told"),
    [
        ("Half down holds the day.", "sent it!! thx ur the best", True),
        ("The deposit is $36.", "Done!", True),
        ("The deposit is $36.", "done with the guest list, it is 40 people now and they all love cookies", False),
        ("Shall I book it?", "sent it!! thx ur the best", False),
        ("The deposit is $36.", "sent it where?", False),
        ("The deposit is $36.", "ok!", False),
    ],
)
def test_a_short_answer_where_money_was_asked_for(asked: str, answer: str, told: bool) -> None:
    messages = (Message("m0", "Nell", True, AT, asked), Message("m1", "Dana", False, AT, answer))
    assert bool(payments_told(Thread("t1", "chat", messages))) == told


def test_each_message_once_in_their_order() -> None:
    told = payments_told(thread("sent the deposit", "is 5 ok?", "just paid the balance"))
    assert [each.message for each in told] == ["m0", "m2"]


@given(st.text(max_size=300))
def test_any_text(text: str) -> None:
    for told in payments_told(thread(text, f"just paid {text}")):
        assert told.amount is None or told.amount >= 0
