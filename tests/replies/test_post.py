"""Handing in a mail to a real server on loopback that also refuses, keeps silent and cuts the line."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread

import pytest

from intake.model import Fate, OrdertinError, Reply
from intake.model import Thread as Talk
from intake.replies.post import Server, post, try_login
from intake.replies.sending import Mail, mail_of
from tests.replies.office import PASSWORD, USER, Papers, papers, post_office

AT = datetime(2026, 11, 25, 10, tzinfo=UTC)
TEXT = "Hi Dana,\n\n.a line with a dot\n..\n.\nThank you,\nNell"


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> Papers:
    return papers(tmp_path_factory.mktemp("papers"))


@pytest.fixture(autouse=True)
def trusted(signed: Papers, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SSL_CERT_FILE", str(signed.authority))


def mail(text: str = TEXT) -> Mail:
    reply = Reply("quote", "dana@example.org", "Cookies", text)
    return mail_of(reply, Talk("t1", "mail", ()), name="Nell", address="nell@example.com", mail_id="1@x", at=AT)


class Left:
    """Counts how often the text was about to leave."""

    times = 0

    def __call__(self) -> None:
        self.times += 1


@pytest.mark.parametrize(("security", "user"), [("starttls", USER), ("implicit", USER), ("none", "")])
def test_a_mail_is_handed_in_whole(signed: Papers, security: str, user: str) -> None:
    left = Left()
    with post_office(security=security, certificate=signed.server) as office:
        outcome = post(mail(), Server("127.0.0.1", office.at, security, user), PASSWORD, leaving=left)
        assert outcome.state is Fate.ACCEPTED, outcome
        (got,) = office.parsed()
        assert office.envelopes == [("nell@example.com", ["dana@example.org"])]
        assert got.get_content().replace("\r\n", "\n") == f"{TEXT}\n"
        assert (office.logins, left.times) == (1 if user else 0, 1)


#: What goes wrong, what the baker is told, and whether the text was about to leave.
FAULTS = [
    ("sender", Fate.REFUSED, "refuses your address, nell@example.com (550 5.7.1 not your address)", 0),
    ("recipient", Fate.REFUSED, "refuses the recipient, dana@example.org (550 5.1.1 no such mailbox)", 0),
    ("later", Fate.REFUSED, "does not take the recipient, dana@example.org just now (451", 0),
    ("cut before", Fate.UNREACHED, "was cut", 0),
    ("text", Fate.REFUSED, "refuses the mail (552 5.3.4 too large)", 1),
    ("text later", Fate.REFUSED, "does not take the mail just now (452 4.3.1 no room)", 1),
    ("cut", Fate.UNKNOWN, "cut before it was said whether", 1),
    ("dropped", Fate.UNKNOWN, "cut before it was said whether", 1),
    ("strange", Fate.UNKNOWN, "something strange before it was said", 1),
]


@pytest.mark.parametrize(("fault", "state", "words", "left"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_what_goes_wrong_is_told_apart(signed: Papers, fault: str, state: Fate, words: str, left: int) -> None:
    leaving = Left()
    with post_office(fault, certificate=signed.server) as office:
        outcome = post(mail(), Server("127.0.0.1", office.at, "starttls", USER), PASSWORD, leaving=leaving)
    assert (outcome.state, leaving.times) == (state, left)
    assert words in outcome.what
    assert outcome.todo


@pytest.mark.parametrize(("limit", "words"), [("seconds", "fell silent before"), ("whole", "was cut before")])
def test_a_server_that_keeps_silent_is_not_waited_for_forever(signed: Papers, limit: str, words: str) -> None:
    with post_office("silent", certificate=signed.server) as office:
        server = replace(Server("127.0.0.1", office.at, "starttls", USER), **{limit: 1.0})
        outcome = post(mail(), server, PASSWORD, leaving=Left())
    assert outcome.state is Fate.UNKNOWN
    assert words in outcome.what


def test_a_wrong_password_is_tried_once(signed: Papers) -> None:
    with post_office(certificate=signed.server) as office:
        outcome = post(mail(), Server("127.0.0.1", office.at, "starttls", USER), "wrong", leaving=Left())
        assert (outcome.state, office.logins, office.mails) == (Fate.REFUSED, 1, [])
    assert "refuses the login of nell (535" in outcome.what
    assert "ordertin outbox --password" in outcome.todo


def test_a_login_can_be_tried_without_a_mail(signed: Papers) -> None:
    with post_office(certificate=signed.server) as office:
        server = Server("127.0.0.1", office.at, "starttls", USER)
        assert try_login(server, PASSWORD).state is Fate.ACCEPTED
        assert try_login(server, "wrong").state is Fate.REFUSED
        assert office.mails == []


@contextmanager
def listener(answer: bytes | None) -> Iterator[int]:
    """A port where nobody speaks mail: each call is answered with `answer` and hung up, or never answered."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        calls: list[socket.socket] = []

        def serve() -> None:
            while True:
                try:
                    call, _ = server.accept()
                except OSError:
                    return
                calls.append(call)
                if answer is not None:
                    call.sendall(answer)
                    call.close()

        thread = Thread(target=serve, daemon=True)
        thread.start()
        yield server.getsockname()[1]
        server.shutdown(socket.SHUT_RDWR)
        thread.join()
        for call in calls:
            call.close()


@pytest.mark.parametrize(
    ("answer", "security", "words"),
    [
        (b"", "starttls", "was cut"),
        (b"554 5.7.1 go away\r\n", "starttls", "refuses the call (554 5.7.1 go away)"),
        (b"HTTP/1.1 200 OK\r\n\r\n", "implicit", "speaks no such encryption"),
        (None, "starttls", "does not answer"),
        (None, "implicit", "does not answer"),
    ],
    ids=["hangs up", "not wanted", "no TLS", "silent", "silent at TLS"],
)
def test_where_no_mail_server_answers(answer: bytes | None, security: str, words: str) -> None:
    with listener(answer) as port:
        outcome = post(mail(), Server("127.0.0.1", port, security, USER, seconds=0.5), PASSWORD, leaving=Left())
    assert words in outcome.what
    assert outcome.state is (Fate.REFUSED if b"554" in (answer or b"") else Fate.UNREACHED)


def test_where_nobody_listens() -> None:
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    outcome = post(mail(), Server("127.0.0.1", port, "starttls", USER), PASSWORD, leaving=Left())
    assert (outcome.state, outcome.what) == (Fate.UNREACHED, f"nobody answers at 127.0.0.1, port {port}")


def test_a_server_that_can_not_show_who_it_is(signed: Papers, tmp_path: Path) -> None:
    strangers = papers(tmp_path)
    with post_office(certificate=strangers.server) as office:
        outcome = post(mail(), Server("127.0.0.1", office.at, "starttls", USER), PASSWORD, leaving=Left())
        assert (outcome.state, office.logins, office.mails) == (Fate.UNREACHED, 0, [])
    assert "can't show that it is 127.0.0.1" in outcome.what


@pytest.mark.parametrize(("security", "words"), [("none", "never goes over"), ("starttls", "does not offer")])
def test_no_password_goes_over_an_open_line(signed: Papers, security: str, words: str) -> None:
    with post_office(security="none", certificate=signed.server) as office:
        outcome = post(mail(), Server("127.0.0.1", office.at, security, USER), PASSWORD, leaving=Left())
        assert (outcome.state, office.logins, office.mails) == (Fate.UNREACHED, 0, [])
    assert words in outcome.what


def test_nothing_leaves_where_it_can_not_be_noted_first(signed: Papers) -> None:
    def full() -> None:
        raise OrdertinError("there is no room left on the disk")

    with post_office(certificate=signed.server) as office:
        with pytest.raises(OrdertinError, match="no room left"):
            post(mail(), Server("127.0.0.1", office.at, "starttls", USER), PASSWORD, leaving=full)
        assert office.mails == []
