"""Whose conversation is whose: one person in several channels, a like name proposed, joined, declined, taken apart."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import timedelta
from pathlib import Path
from time import perf_counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.book.ties import keys
from intake.desk import Desk
from intake.model import OrdertinError
from tests.desk.kit import FULL, NOW, Clock, Writes, booked, everything

# What two people write, and whether they are one customer.
PAIRS = [
    pytest.param(("Dana", "phone=217-555-0142"), ("Mum", "phone=(217)555.0142"), True, id="a phone written otherwise"),
    pytest.param(("Dana", "phone=+12175550142"), ("D", "phone=217-555-0142"), True, id="with its country code"),
    pytest.param(("Dana", "phone=217-555-0142"), ("Dana B", "phone=217-555-0143"), False, id="another phone"),
    pytest.param(("Dana", "phone=555-0142"), ("Mum", "phone=555-0142"), False, id="a phone without its town"),
    pytest.param(("Dana", "phone=217-555-0142?"), ("Mum", "phone=217-555-0142"), False, id="a phone to check"),
    pytest.param(("Dana", "email=dana@example.org"), ("D", "email=Dana@Example.ORG"), True, id="an e-mail"),
    pytest.param(("Dana", "email=no-reply@example.org"), ("D", "email=no-reply@example.org"), False, id="nobody's"),
    pytest.param(("dana@example.org", "count=12"), ("D", "email=dana@example.org"), True, id="the sender is an e-mail"),
    pytest.param(("+1 217 555 0142", "count=12"), ("D", "phone=217-555-0142"), True, id="the sender is a number"),
    pytest.param(("Dana Reyes", "count=12"), ("dana reyes", "count=24"), False, id="the same name"),
]


@pytest.mark.parametrize(("one", "other", "same"), PAIRS)
def test_the_same_number_or_address_is_the_same_customer(
    desk: Desk, writes: Writes, one: tuple[str, str], other: tuple[str, str], same: bool
) -> None:
    writes(*one)
    writes(*other)
    assert (desk.customer("t1").id == desk.customer("t2").id) is same
    assert len(desk.customers()) == (1 if same else 2)
    before = desk.undo()
    assert before and [c.threads for c in desk.customers()] == [("t1",)]


def test_a_customer_has_her_conversations_and_orders(desk: Desk, writes: Writes, clock: Clock) -> None:
    writes("Ada", "count=12")
    first = booked(desk, writes("Dana Reyes", f"{FULL} phone=217-555-0142"))
    second = writes("Dana R.", "count=12 theme=owls due=2026-04-02 phone=217-555-0142")
    dana, ada = desk.customers()
    assert (dana.id, dana.name, dana.threads, dana.orders) == ("c2", "Dana R.", ("t2", "t3"), 2)
    assert (ada.id, ada.threads, ada.orders) == ("c1", ("t1",), 1)
    assert dana.last == desk.case("t3").thread.messages[-1].at
    assert [order.id for order in desk.customer("t2").history] == [second.id, first.id]
    desk.drop(second.id)
    assert desk.customer("c2").orders == 1


def test_a_number_set_by_the_baker_ties_too(desk: Desk, writes: Writes) -> None:
    writes("Dana", "count=12 phone=217-555-0142")
    other = writes("Mum", "count=24")
    desk.correct(other.id, {"phone": "217 555 0142"})
    assert desk.customer("t2").threads == ("t1", "t2")
    desk.undo()
    assert desk.customer("t2").threads == ("t2",)


def test_one_message_can_bring_two_together(desk: Desk, writes: Writes) -> None:
    writes("Dana", "phone=217-555-0142")
    writes("D", "email=dana@example.org")
    before = everything(desk), desk.customers()
    writes("Reyes", "phone=217-555-0142 email=dana@example.org")
    assert [c.threads for c in desk.customers()] == [("t1", "t2", "t3")]
    desk.undo()
    assert (everything(desk), desk.customers()) == before


# Two names, and whether they are proposed as one person.
NAMES = [
    pytest.param("Dana Reyes", "dana  reyes", True, id="the same"),
    pytest.param("Dana Reyes", "Reyes, Dana", True, id="the other way round"),
    pytest.param("Dana Reyes", "Dana Maria Reyes", True, id="a name more"),
    pytest.param("Dana Reyes", "Dana Reyess", True, id="a slip"),
    pytest.param("Inés Peña", "Ines Pena", True, id="without accents"),
    pytest.param("Dana Reyes", "Dana Ortiz", False, id="another family"),
    pytest.param("Dana Reyes", "Bea Reyes", False, id="a sister"),
    pytest.param("Dana", "Dana", False, id="a first name alone"),
    pytest.param("Dana", "Dana Reyes", False, id="a first name and a whole one"),
    pytest.param("Mrs Li", "Mr Li", False, id="titles are no names"),
]


@pytest.mark.parametrize(("one", "other", "proposed"), NAMES)
def test_a_like_name_is_proposed_and_no_more(
    desk: Desk, writes: Writes, one: str, other: str, proposed: bool
) -> None:
    writes("Bea Ortiz", "count=6")
    writes(one, "count=12")
    desk.paste("count=24", sender=other)
    assert [(a.one.id, a.other.id) for a in desk.alike()] == ([("c2", "c3")] if proposed else [])
    assert len(desk.alike("t3")) == len(desk.alike("c2")) == proposed and desk.alike("t1") == ()
    assert len(desk.customers()) == 3


def test_why_it_is_proposed_is_said(desk: Desk, writes: Writes) -> None:
    writes("Dana Reyes", "count=12 phone=217-555-0142")
    desk.paste("count=24 phone=217-555-0143", sender="Dana Reyes")
    desk.paste("count=24", sender="Dana Reyess")
    assert [a.why for a in desk.alike()] == ["the same name, other addresses", *["nearly the same name"] * 2]


@pytest.fixture
def two(desk: Desk, writes: Writes) -> Desk:
    writes("Dana Reyes", "count=12")
    desk.paste("count=24", sender="Dana  Reyes")
    assert len(desk.customers()) == 2
    return desk


@pytest.mark.parametrize("names", [("c1", "c2"), ("t2", "t1"), ("T1", "c2 ")])
def test_two_are_joined_and_taken_apart(two: Desk, names: tuple[str, str]) -> None:
    apart = two.customers()
    joined = two.join(*names)
    assert [c.id for c in two.customers()] == ["c1"] and two.customer("t2") == joined
    assert joined.threads == ("t1", "t2") and two.alike() == ()
    assert {c.threads for c in two.part("c1")} == {("t1",), ("t2",)}
    assert two.customers() == apart and two.alike() == ()
    assert two.undo() == "parting of Dana Reyes (c1)"
    assert two.customer("t2") == joined
    two.undo()
    assert two.customers() == apart and len(two.alike()) == 1


def test_declined_is_not_asked_again_until_joined(two: Desk) -> None:
    two.keep_apart("c1", "t2")
    assert two.alike() == two.alike("t1") == ()
    two.undo()
    assert len(two.alike()) == 1
    two.keep_apart("c2", "c1")
    two.join("c1", "c2")
    assert two.customer("t2").id == "c1"


def test_what_is_kept_apart_no_number_brings_together(two: Desk, clock: Clock) -> None:
    two.keep_apart("c1", "c2")
    for n in (1, 2):
        two.paste("phone=217-555-0142", to=f"t{n}", at=clock.now + timedelta(hours=n))
    assert [c.threads for c in two.customers()] == [("t2",), ("t1",)]


@pytest.mark.parametrize(("taken", "left"), [("t1", "c2"), ("t2", "c1"), ("t3", "c1")])
def test_one_conversation_is_taken_away(desk: Desk, writes: Writes, taken: str, left: str) -> None:
    for who in ("Dana", "Reyes", "School"):
        writes(who, "phone=217-555-0142")
    assert desk.customer("t3").id == "c1"
    desk.part(taken)
    rest = tuple(t for t in ("t1", "t2", "t3") if t != taken)
    assert (desk.customer(taken).threads, desk.customer(rest[0]).threads) == ((taken,), rest)
    assert desk.customer(rest[1]).id == left
    desk.paste("count=24", to=taken)
    assert desk.customer(taken).threads == (taken,)


# What can't be done, and the words that say so.
NOT_DONE = [
    pytest.param("join", ("c1", "c9"), "no customer c9", id="nobody"),
    pytest.param("join", ("c1", "Dana"), "“Dana” is no customer", id="a name"),
    pytest.param("join", ("c1", "t1"), "one customer already", id="herself"),
    pytest.param("keep_apart", ("t1", "c1"), "one customer already", id="from herself"),
    pytest.param("part", ("c1",), "only one conversation", id="one conversation"),
    pytest.param("part", ("t1",), "only one conversation", id="her only one"),
    pytest.param("part", ("c3",), "share a number", id="the same number"),
    pytest.param("part", ("",), "is no customer", id="nothing"),
    pytest.param("customer", ("t" + "9" * 30,), "is no customer", id="a number too long"),
]


@pytest.mark.parametrize(("do", "names", "said"), NOT_DONE)
def test_what_can_not_be_done_is_said_and_changes_nothing(
    two: Desk, writes: Writes, do: str, names: Sequence[str], said: str
) -> None:
    writes("Ada", "phone=217-555-0142")
    writes("A", "phone=217-555-0142")
    before = two.customers(), two.version()
    with pytest.raises(OrdertinError, match=said) as error:
        getattr(two, do)(*names)
    assert error.value.problem.todo
    assert (two.customers(), two.version()) == before


@given(st.text(max_size=40), st.text(max_size=40))
def test_any_text_gives_keys_or_none(sender: str, value: str) -> None:
    cell = {"value": value, "sure": True}
    assert all(kind and key for kind, key in keys([sender], [value], [{"phone": cell, "email": cell}]))


def test_hostile_senders_are_done_with_at_once() -> None:
    begun = perf_counter()
    for text in ("a@" * 500_000, "1 " * 500_000, "a." * 500_000, "'" * 1_000_000):
        keys([text], [text], [])
    assert perf_counter() - begun < 2


@pytest.mark.parametrize("channel", ["chat", "mail"])
def test_the_address_a_mail_came_from_ties(desk: Desk, tmp_path: Path, channel: str) -> None:
    lines = []
    for name, address in (("Dana", "dana@example.org"), ("Orders", "DANA@example.org"), ("Bea", "bea@example.org")):
        message = {"id": "m1", "from": name, "address": address, "at": NOW.isoformat(), "text": "count=12"}
        lines.append(json.dumps({"id": name, "channel": channel, "messages": [{**message, "mine": False}]}))
    (tmp_path / "all.jsonl").write_text("\n".join(lines))
    assert not desk.take([tmp_path / "all.jsonl"]).problems
    assert {c.threads for c in desk.customers()} == {("t1", "t2"), ("t3",)}
    assert desk.customer("t2").channels == (channel, channel)
