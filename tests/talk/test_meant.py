"""What the baker types to the assistant, and what it means by what is in hand: the lines of cases.jsonl."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.model import DRAFT_FIELDS
from intake.talk import Correction
from intake.talk_known import ACTS, ASKS, KNOWN, VOCABULARY
from intake.talk_meant import LONGEST, meant
from intake.talk_shapes import Act, Ask, Meant, NotUnderstood, Unclear
from intake.talk_words import phrased

from .kit import cases, hand, short

LINES = cases()
HANDS = ("draft", "booked", "bare", "none")
#: Done with one yes, and missed: what is read from a slip of the pen must say so.
HEAVY = ("drop", "book")


def said(words: str, name: str = "draft") -> Meant:
    return meant(words, hand(name))


@pytest.mark.parametrize("line", LINES, ids=lambda line: f"{line['hand']}: {line['words']}")
def test_a_line_means(line: dict[str, str]) -> None:
    assert short(said(line["words"], line["hand"])) == line["meant"]


def test_the_lines_are_many_and_differ() -> None:
    assert len(LINES) >= 150
    assert len({(line["hand"], line["words"]) for line in LINES}) == len(LINES)


@pytest.mark.parametrize("known", KNOWN, ids=lambda known: f"{known.kind} {known.what}")
def test_what_is_offered_is_understood(known: object) -> None:
    """Each thing that can be done is meant by the words in which it is offered, or asks which days."""
    found = said(known.says, "booked")  # type: ignore[attr-defined]
    assert isinstance(found, Ask | Act | Unclear)
    if isinstance(found, Ask | Act):
        assert found.what == known.what  # type: ignore[attr-defined]


@pytest.mark.parametrize(
    ("words", "near"),
    [
        ("fully book the thing", "book it"),
        ("blok the oven", "block next weekend"),
        ("the labels of hers are nice", "print the labels"),
        ("zzz", "price it"),
    ],
)
def test_what_is_not_understood_names_the_nearest_three(words: str, near: str) -> None:
    found = said(words)
    assert isinstance(found, NotUnderstood)
    assert len(set(found.nearest)) == 3
    assert near in found.nearest


@pytest.mark.parametrize(
    ("name", "words", "choices"),
    [
        ("draft", "the 5th or the 15th", ("december 5", "december 15")),
        ("draft", "due next friday", ("due november 27", "due december 4")),
        ("draft", "make it 2 or 3 dozen", ("make it 24", "make it 36")),
        ("none", "block next weekend", ("block november 28 to november 29", "block december 5 to december 6")),
        ("none", "block", ("block november 26", "block november 28 to november 29")),
        ("none", "has Nell paid?", ("has Nell Hart paid?", "has Nell Marsh paid?")),
        ("booked", "she paid", ("she paid 54", "she paid 108")),
        ("booked", "she paid cash", ("she paid 54 cash", "she paid 108 cash")),
    ],
)
def test_a_doubt_is_asked_about(name: str, words: str, choices: tuple[str, ...]) -> None:
    found = said(words, name)
    assert isinstance(found, Unclear)
    assert found.choices == choices
    assert all(not isinstance(said(choice, name), Unclear | NotUnderstood) for choice in choices)


@pytest.mark.parametrize(
    "words",
    [
        "don't book it", "do not drop it", "never drop her order", "not book it", "no booking", "didn't book it",
        "dont price it",
    ],
)
def test_what_is_not_to_be_done_is_not_done(words: str) -> None:
    assert not isinstance(said(words), Act | Correction)


@pytest.mark.parametrize(
    ("words", "what"),
    [("bok it", "book"), ("drp it", "drop"), ("dorp it", "drop"), ("prise it", "price"), ("confrim", "confirm")],
)
def test_words_spelt_otherwise_are_marked_as_guessed(words: str, what: str) -> None:
    found = said(words)
    assert isinstance(found, Act)
    assert (found.what, found.guessed) == (what, True)


@pytest.mark.parametrize("words", ["look it", "back it", "crop it", "drip it in", "brook", "stop it"])
def test_other_words_are_not_respelt_into_booking_or_dropping(words: str) -> None:
    found = said(words)
    assert not (isinstance(found, Act) and found.what in HEAVY and not found.guessed)


def test_asks_and_acts_of_the_cases_cover_what_can_be_said() -> None:
    """A few are left to the test above: they are typed in one way."""
    told = {" ".join(line["meant"].split()[:2]) for line in LINES}
    held = {f"ask {what}" for what in ASKS} | {f"act {what}" for what in ACTS}
    assert len(held - told) <= len(held) // 4


PARTS = st.one_of(
    st.sampled_from([line["words"] for line in LINES]),
    st.sampled_from(VOCABULARY),
    st.sampled_from(["no", "not", "or", "the 5th", "next friday", "36", "$5", "?", "\n", "“", "½", "8-12", "Nell"]),
    st.text(max_size=8),
)


@settings(max_examples=60)
@given(st.lists(PARTS, max_size=5).map(" ".join), st.sampled_from(HANDS))
def test_no_words_make_an_exception(words: str, name: str) -> None:
    match said(words, name):
        case Ask() as ask:
            assert ask.what in ASKS
        case Act() as act:
            assert act.what in ACTS
            assert act.says
        case Correction() as found:
            assert set(found.changes) <= set(DRAFT_FIELDS)
            assert name != "none"
        case Unclear() as doubt:
            assert len(doubt.choices) >= 2
        case NotUnderstood() as near:
            assert len(near.nearest) == 3


LETTERS = st.text("abcdefghijklmnopqrstuvwxyz", min_size=1, max_size=9)


@settings(max_examples=60)
@given(LETTERS, st.sampled_from(["it", "the order", "hers", ""]))
def test_a_guess_at_booking_or_dropping_is_told_as_one(word: str, rest: str) -> None:
    found = said(f"{word} {rest}".strip())
    as_typed = phrased(f"{word} {rest}").split() == f"{word} {rest}".split()
    if as_typed and isinstance(found, Act) and found.what in HEAVY and word not in VOCABULARY:
        assert found.guessed


@pytest.mark.parametrize("words", ["book it " * 40_000, "the 5th or " * 30_000, "'s" * 200_000, "why " * 100_000])
def test_words_without_end_are_dealt_with(words: str) -> None:
    assert len(words) > LONGEST
    assert not isinstance(meant(words, hand("none")), Act)
