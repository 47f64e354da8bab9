"""Answers by mail: kept before they go, sent once, and what became of each, on a real server and a real book."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from email import message_from_bytes, policy
from pathlib import Path
from typing import Any

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Fate, Order, OrdertinError, Reply
from tests.desk.kit import FULL, NOW, Clock
from tests.replies.office import PASSWORD, USER, Papers, PostOffice, papers, post_office

MAIL = (
    "From: Dana Whitlock <dana@example.org>\r\nTo: nell@example.com\r\nSubject: Cookies\r\n"
    "Date: Mon, 9 Mar 2026 10:00:00 -0500\r\nMessage-ID: <1@example.org>\r\n\r\n{}\r\n"
)
ANSWER = (
    "From: Dana Whitlock <dana@example.org>\r\nTo: nell@example.com\r\nSubject: Re: Cookies\r\n"
    "Date: Thu, 12 Mar 2026 10:00:00 -0500\r\nMessage-ID: <2@example.org>\r\n"
    "In-Reply-To: {id}\r\nReferences: {older}\r\n\r\ncount=48\r\n"
)
Opened = Callable[..., AbstractContextManager[tuple[Desk, PostOffice]]]


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> Papers:
    return papers(tmp_path_factory.mktemp("papers"))


@pytest.fixture
def opened(
    reader: None, home: Home, clock: Clock, signed: Papers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Opened:
    """`with opened(fault) as (desk, office)`: a desk whose account is at a server with that fault; order 1 is Dana's,
    who wrote by mail."""
    monkeypatch.setenv("SSL_CERT_FILE", str(signed.authority))
    monkeypatch.setenv("ORDERTIN_MAIL_PASSWORD", PASSWORD)

    @contextmanager
    def open_desk(fault: str = "", *, said: str = FULL, **rules: Any) -> Iterator[tuple[Desk, PostOffice]]:
        with post_office(fault, certificate=signed.server) as office:
            account(home, office.at, **rules)
            (tmp_path / "dana.eml").write_text(MAIL.format(said), newline="")
            with Desk(home, now=clock) as desk:
                desk.take([tmp_path / "dana.eml"])
                yield desk, office

    return open_desk


def account(home: Home, port: int, **rules: Any) -> None:
    text = home.rules.read_text(encoding="utf-8")
    own = {"server": "127.0.0.1", "security": "starttls", "port": port, "user": USER, "address": "nell@example.com"}
    lines = "".join(f"{key} = {value!r}\n" for key, value in (own | {"seconds": 5} | rules).items())
    start, end = text.index("[mail]"), text.index("[parcels]")
    home.rules.write_text(f"{text[:start]}[mail]\n{lines}\n{text[end:]}", encoding="utf-8")


def answer(desk: Desk, text: str = "Hi Dana,\n\nThe price is ten.") -> Reply:
    return replace(desk.reply(1, "quote"), text=text)


def told(desk: Desk) -> list[str]:
    return [message.text for message in desk.case("t1").thread.messages if message.mine]


def test_an_answer_is_sent_once_and_noted(opened: Opened) -> None:
    with opened() as (desk, office):
        letter = desk.send(1, answer(desk))
        assert (letter.state, letter.to, letter.subject) == (Fate.ACCEPTED, "dana@example.org", "Re: Cookies")
        (got,) = office.parsed()
        assert got["from"] == "Nell <nell@example.com>"
        assert (got["in-reply-to"], got["references"]) == ("<1@example.org>", "<1@example.org>")
        assert told(desk) == ["Hi Dana,\n\nThe price is ten."]
        assert desk.outbox() == (letter,)
        with pytest.raises(OrdertinError, match=r"order 1 .*these words went to dana@example.org on 11 Mar, 09:00"):
            desk.send(1, answer(desk, "Hi Dana,\nThe price  is ten."))
        assert len(office.mails) == 1
        assert desk.send(1, answer(desk, "Another word.")).state is Fate.ACCEPTED
        assert desk.send(1, answer(desk), again=True).state is Fate.ACCEPTED
        assert len({mail["message-id"] for mail in office.parsed()}) == 3


def test_a_question_that_is_sent_waits_for_its_answer(opened: Opened) -> None:
    with opened(said="count=24") as (desk, _):
        desk.send(1, desk.reply(1, "ask"))
        assert desk.order(1).state == "asked"
        assert desk.undo() == "note of the mail to dana@example.org, order 1"
        assert (desk.order(1).state, told(desk)) == ("draft", [])
        # That it has gone stays known.
        assert [letter.state for letter in desk.outbox()] == [Fate.ACCEPTED]
        with pytest.raises(OrdertinError, match="these words went"):
            desk.send(1, desk.reply(1, "ask"))


@pytest.mark.parametrize(
    ("fault", "state"),
    [("recipient", Fate.REFUSED), ("text", Fate.REFUSED), ("cut before", Fate.UNREACHED)],
)
def test_what_has_surely_not_gone_may_go_again_without_a_word(opened: Opened, fault: str, state: Fate) -> None:
    with opened(fault) as (desk, office):
        first = desk.send(1, answer(desk))
        assert (first.state, told(desk)) == (state, [])
        assert first.why
        office.fault = ""
        again = desk.letters.send_again(first.id)
        assert (again.id, again.state, again.mail_id) == (first.id, Fate.ACCEPTED, first.mail_id)
        assert told(desk) == [first.text]
        with pytest.raises(OrdertinError, match="letter 1: this has been sent"):
            desk.letters.send_again(first.id)
        assert len(office.mails) == 1


@pytest.mark.parametrize("fault", ["cut", "dropped", "strange"])
def test_what_may_have_gone_is_asked_about(opened: Opened, fault: str) -> None:
    with opened(fault) as (desk, office):
        letter = desk.send(1, answer(desk))
        assert (letter.state, told(desk)) == (Fate.UNKNOWN, [])
        office.fault = ""
        for words in ("Hi Dana,\n\nThe price is ten.", "Other words."):
            with pytest.raises(OrdertinError, match=r"it is not known whether your answer .* went.*sent mails"):
                desk.send(1, answer(desk, words))
        went = bool(office.mails)
        after = desk.letters.settle(letter.id, went=went)
        assert after.state is (Fate.ACCEPTED if went else Fate.UNREACHED)
        assert told(desk) == ([letter.text] if went else [])
        if not went:
            desk.send(1, answer(desk))
        assert len(office.mails) == 1
        with pytest.raises(OrdertinError, match="is known: sent"):
            desk.letters.settle(desk.outbox()[0].id, went=False)


def test_what_may_have_gone_goes_again_as_the_same_mail(opened: Opened) -> None:
    with opened("cut") as (desk, office):
        letter = desk.send(1, answer(desk))
        office.fault = "recipient"
        assert desk.send(1, answer(desk), again=True).state is Fate.UNKNOWN  # of the first time nothing is known yet
        office.fault = ""
        assert desk.send(1, answer(desk), again=True).id == letter.id
        assert office.mails[0] == office.mails[1]
        assert told(desk) == [letter.text]


@pytest.mark.parametrize(
    ("left", "becomes"), [(Fate.WRITTEN, Fate.UNREACHED), (Fate.LEAVING, Fate.UNKNOWN)], ids=["before", "after"]
)
def test_a_program_that_was_stopped(opened: Opened, left: Fate, becomes: Fate) -> None:
    with opened("recipient") as (desk, office):
        letter = desk.send(1, answer(desk))
        with desk._book.change("", NOW) as change:
            desk.letters._letters.put(change, letter.id, left, "", NOW, was=(Fate.REFUSED,))
        with desk.letters._letters.alone() as alone:
            assert alone
            # Somebody is sending: it may be under way.
            assert [each.state for each in desk.outbox()] == [left]
            with pytest.raises(OrdertinError, match="another window is sending"):
                desk.send(1, answer(desk, "Other words."))
        (found,) = desk.outbox()
        assert (found.state, "was stopped" in found.why) == (becomes, True)
        assert office.mails == []


def test_a_mail_that_comes_back_in_an_export_is_known(opened: Opened, tmp_path: Path) -> None:
    with opened() as (desk, office):
        desk.send(1, answer(desk, "Hi Dana,\n\n" + "many words " * 40))
        # By the id alone: her mail program may have broken the lines otherwise.
        sent = message_from_bytes(office.mails[0], policy=policy.default)
        sent.set_content("Hi Dana,\n> many words")  # type: ignore[attr-defined]
        (tmp_path / "sent.eml").write_bytes(sent.as_bytes())
        report = desk.take([tmp_path / "sent.eml"])
        assert (report.messages_new, report.messages_known) == (0, 1)
        assert len(told(desk)) == 1


def test_the_customers_answer_lands_in_the_conversation(opened: Opened, tmp_path: Path) -> None:
    with opened() as (desk, office):
        desk.send(1, answer(desk))
        sent = office.parsed()[0]
        older = f"{sent['references']} {sent['message-id']}"
        (tmp_path / "again.eml").write_text(ANSWER.format(id=sent["message-id"], older=older), newline="")
        report = desk.take([tmp_path / "again.eml"])
        assert (report.threads_new, report.messages_new) == (0, 1)
        assert desk.order(1).draft.count.value == 48
        # What names nothing but our mail lands there, too.
        alone = ANSWER.format(id=sent["message-id"], older=sent["message-id"]).replace("<2@", "<3@")
        (tmp_path / "alone.eml").write_text(alone.replace("count=48", "count=36"), newline="")
        assert desk.take([tmp_path / "alone.eml"]).threads_new == 0


@pytest.mark.parametrize(
    ("rules", "reply", "words"),
    [
        ({"server": ""}, {}, "no mail account is set up"),
        ({"address": ""}, {}, "not a mail address"),
        ({}, {"to": "555-0163"}, "“555-0163” is not a mail address"),
        ({"user": "stranger", "server": "127.0.0.2"}, {}, "no password is known for stranger"),
    ],
    ids=["no server", "no address", "no recipient", "no password"],
)
def test_what_is_lacking_is_told_before_anything_is_written(
    opened: Opened, rules: dict[str, Any], reply: dict[str, Any], words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    with opened(**rules) as (desk, office):
        if "password" in words:
            monkeypatch.delenv("ORDERTIN_MAIL_PASSWORD")
            monkeypatch.setenv("PYTHON_KEYRING_BACKEND", "keyring.backends.null.Keyring")
        with pytest.raises(OrdertinError, match=words):
            desk.send(1, replace(answer(desk), **reply))
        assert (desk.outbox(), office.mails) == ((), [])


@pytest.mark.parametrize(("to", "can"), [("dana@example.org", True), ("555-0163", False)])
def test_whether_an_answer_can_go_by_mail(opened: Opened, to: str, can: bool) -> None:
    with opened() as (desk, _):
        assert desk.letters.can_send(replace(answer(desk), to=to)) is can


def test_an_answer_as_a_file_for_another_program(opened: Opened, tmp_path: Path) -> None:
    with opened() as (desk, office):
        path = tmp_path / "answer.eml"
        order = desk.mail_file(1, answer(desk), path)
        mail = message_from_bytes(path.read_bytes(), policy=policy.default)
        assert (mail["to"], mail["in-reply-to"]) == ("Dana Whitlock <dana@example.org>", "<1@example.org>")
        assert (told(desk), office.mails, desk.outbox()) == (["Hi Dana,\n\nThe price is ten."], [], ())
        assert isinstance(order, Order)
        with pytest.raises(OrdertinError, match="already there"):
            desk.mail_file(1, answer(desk), path)
        # Once it has been sent from there it comes back as what it is.
        assert desk.take([path]).messages_new == 0


def test_what_has_gone_keeps_its_order(opened: Opened) -> None:
    with opened() as (desk, _):
        desk.send(1, answer(desk))
        assert desk.undo() == "note of the mail to dana@example.org, order 1"
        with pytest.raises(OrdertinError, match="has been handed to the mail"):
            desk.undo()
        assert desk.order(1).id == 1
