"""Answers as mails against the standards of mail, by the standard library's own parser and a real server on loopback.

RFC 5322 (the head and its lines), RFC 2047 (names and subjects beyond ASCII), RFC 2045 and 2046 (the text), RFC 5321
(the line to the server), RFC 3207 (STARTTLS), RFC 4954 (AUTH). Sections are named beside each check.
"""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime
from email import message_from_bytes, policy
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.utils import getaddresses

import pytest

from intake.house import default_house
from intake.model import Clash, Fate, Message, Thread
from intake.replies.post import Server, post
from intake.replies.sending import Mail, mail_of
from intake.replies.wording import KINDS, write
from tests.replies.office import PASSWORD, USER, Papers, papers, post_office
from tests.replies.orders import order

AT = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
HOUSE = default_house()
DAY = datetime(2026, 6, 27, tzinfo=UTC).date()


def mail(
    name: str = "Nell", text: str = "", subject: str = "Cookies", kind: str = "confirm", language: str = "en"
) -> Mail:
    made = order(customer=name, handover="ship", address="12 Alder Ct", dietary=("nut-free",))
    reply = write(kind, made, HOUSE, templates=None, verdict=Clash((7,), 7, "", DAY), language=language)
    asked = Message("m1", name, False, AT, "hi", address="dana@example.org", mail_id="1@example.org")
    return mail_of(
        replace(reply, to="dana@example.org", subject=subject, text=text or reply.text),
        Thread("t1", "mail", (asked,), subject="Cookies"),
        name=name,
        address="nell@example.com",
        mail_id="abc@example.com",
        at=AT,
    )


def parsed(data: bytes) -> EmailMessage:
    found = message_from_bytes(data, policy=policy.default)
    assert isinstance(found, EmailMessage)
    return found


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("language", ["en", "es"])
def test_every_answer_is_read_back_as_it_was_written(kind: str, language: str) -> None:
    """RFC 5322 2.1 and 3.6, RFC 2045 6.7 and 6.8: each field at most once, no defect, the text to the letter."""
    sent = mail(kind=kind, language=language)
    found = parsed(sent.data)
    assert found.defects == []
    assert len({key.lower() for key in found}) == len(list(found))
    verdict = Clash((7,), 7, "", DAY)
    made = order(customer="Nell", handover="ship", address="12 Alder Ct", dietary=("nut-free",))
    text = write(kind, made, HOUSE, templates=None, verdict=verdict, language=language).text
    assert found.get_content().replace("\r\n", "\n").rstrip("\n") == text.rstrip("\n")
    assert found["date"].datetime == AT


#: A name, and whether it needs encoding: by RFC 2047 section 5 (3) as a word of a phrase.
NAMES = [
    ("Dana Reyes", False),
    ("Reyes, Dana (mother)", False),
    ('Dana "Dee" Reyes', False),
    ("Zo\u00eb Nu\u00f1ez", True),
    ("\u674e\u5c0f\u660e", True),
    ("\U0001f36a Cookie Dana", True),
    ("Dana " + "\u00e9" * 100, True),
    ("=?utf-8?q?not_encoded?=", True),
    ("A" * 110, True),
]


@pytest.mark.parametrize(("name", "encoded"), NAMES)
def test_a_name_beyond_ascii_comes_back(name: str, encoded: bool) -> None:
    """RFC 2047 2: an encoded word has at most 75 characters, a line that holds one at most 76."""
    data = mail(name=name).data
    head = data.partition(b"\r\n\r\n")[0].decode("ascii")
    words = re.findall(r"=\?[^?\s]+\?[bqBQ]\?[^?\s]*\?=", head)
    assert bool(words) is encoded
    assert all(len(word) <= 75 for word in words)
    assert all(len(line) <= 76 for line in head.split("\r\n") if "=?" in line)
    # The older decoder, which joins encoded words as the standard says; the newer one puts a space between them.
    for field in ("From", "To"):
        raw = message_from_bytes(data)[field]
        ((shown, address),) = getaddresses([str(raw)])
        assert str(make_header(decode_header(shown))) == name[:120]
        assert address in ("nell@example.com", "dana@example.org")


@pytest.mark.parametrize(
    "subject", ["Galletas de cumplea\u00f1os", "x" * 250, "\U0001f382" * 40, "a\r\nBcc: x@example.net"]
)
def test_a_subject_comes_back_on_one_line(subject: str) -> None:
    found = parsed(mail(subject=subject).data)
    assert found["subject"] == " ".join(subject.split())
    assert found["bcc"] is None


@pytest.mark.parametrize(
    "text",
    ["x" * 5000, "word " * 3000, "\u00e9" * 4000, "\n".join([".", "..", "From here", "-- ", "\ttab "]), "a\rb\x00c"],
)
def test_no_line_is_longer_than_a_mail_may_have(text: str) -> None:
    """RFC 5322 2.1.1: a line MUST be no more than 998 characters and SHOULD be no more than 78, without its CRLF; RFC
    5321 4.5.3.1.6: a line of text has at most 1000 octets with it. CR and LF only together (RFC 5322 2.3)."""
    data = mail(text=text).data
    lines = data.split(b"\r\n")
    assert max(map(len, lines)) <= 78
    assert not re.search(rb"\r(?!\n)|(?<!\r)\n", data)
    assert b"\0" not in data


@pytest.fixture(scope="module")
def signed(tmp_path_factory: pytest.TempPathFactory) -> Papers:
    return papers(tmp_path_factory.mktemp("papers"))


@pytest.fixture
def trusted(signed: Papers, monkeypatch: pytest.MonkeyPatch) -> Papers:
    monkeypatch.setenv("SSL_CERT_FILE", str(signed.authority))
    return signed


@pytest.mark.parametrize("kind", ["confirm", "sent", "no room"])
def test_what_the_server_gets_is_what_was_written(trusted: Papers, kind: str) -> None:
    """Over STARTTLS (RFC 3207) and AUTH (RFC 4954) of aiosmtpd, an independent server; RFC 5321 4.5.2: a line that
    begins with a dot comes through as it was."""
    sent = mail(kind=kind, text=f".\n..hidden\n{kind} \u00e9\n" + "x" * 2000)
    with post_office(certificate=trusted.server) as office:
        server = Server("127.0.0.1", office.at, "starttls", USER)
        assert post(sent, server, PASSWORD, leaving=lambda: None).state is Fate.ACCEPTED
        assert office.mails == [sent.data]
        assert office.logins == 1


@pytest.mark.parametrize(
    ("delay", "fate", "kept"), [(0.1, Fate.ACCEPTED, 1), (5.0, Fate.UNREACHED, 0)], ids=["a little", "too long"]
)
def test_a_slow_server_is_waited_for_as_long_as_was_agreed(
    trusted: Papers, delay: float, fate: Fate, kept: int
) -> None:
    """RFC 5321 4.5.3.2: a client waits for each answer, and gives up after a time of its own."""
    with post_office(certificate=trusted.server, delay=delay) as office:
        server = Server("127.0.0.1", office.at, "starttls", USER, seconds=0.7)
        outcome = post(mail(), server, PASSWORD, leaving=lambda: None)
        assert (outcome.state, len(office.mails)) == (fate, kept)
    if fate is Fate.UNREACHED:
        assert "does not answer" in outcome.what
