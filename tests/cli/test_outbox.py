"""The outbox on the command line, against a real server."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from intake.desk import Desk
from intake.home import Home
from tests.replies.office import PASSWORD, USER, PostOffice, papers, post_office

from .conftest import Run, rules

MAIL = (
    "From: Isolde Marsh <isolde@example.org>\r\nTo: nell@example.com\r\nSubject: Clocks\r\n"
    "Message-ID: <1@example.org>\r\nDate: Mon, 10 May 2027 09:00:00 -0500\r\n\r\n"
    "Two dozen cuckoo clock cookies please, pickup Friday May 21 at 4.\r\n"
)


@pytest.fixture
def office(home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[PostOffice]:
    """A server, and an account there in the house rules."""
    signed = papers(tmp_path)
    monkeypatch.setenv("SSL_CERT_FILE", str(signed.authority))
    monkeypatch.setenv("ORDERTIN_MAIL_PASSWORD", PASSWORD)
    with post_office(certificate=signed.server) as office:
        rules(
            home,
            server='server = "127.0.0.1"',
            security='security = "starttls"',
            port=f"port = {office.at}",
            user=f'user = "{USER}"',
        )
        text = (home / "house.toml").read_text(encoding="utf-8")
        head, mail, rest = text.partition("[mail]")
        (home / "house.toml").write_text(
            head + mail + rest.replace('address = ""', 'address = "nell@example.com"', 1), encoding="utf-8"
        )
        yield office


def sent(home: Path, tmp_path: Path) -> None:
    """An answer that is sent, however it ends."""
    (tmp_path / "isolde.eml").write_text(MAIL, newline="")
    with Desk(Home.at(home)) as desk:
        desk.take([tmp_path / "isolde.eml"])
        desk.send(1, desk.reply(1, "quote"))


def test_an_empty_outbox(run: Run) -> None:
    status, out, err = run("outbox")
    assert (status, err) == (0, "")
    assert out.startswith("Nothing has gone by mail.")


def test_what_has_gone_is_listed(office: PostOffice, home: Path, tmp_path: Path, run: Run) -> None:
    sent(home, tmp_path)
    status, out, _ = run("outbox")
    assert status == 0
    assert out.split() == "1 2027-05-10 12:00 sent isolde@example.org, quote, order 1".split()
    status, _, err = run("outbox", "--send", "1")
    assert (status, err) == (2, "letter 1: this has been sent. Write another answer\n")


@pytest.mark.parametrize(("found", "words"), [("--went", "sent"), ("--lost", "not sent")])
def test_what_may_have_gone_is_settled(
    office: PostOffice, home: Path, tmp_path: Path, run: Run, found: str, words: str
) -> None:
    office.fault = "cut"
    sent(home, tmp_path)
    assert "not known whether it went" in run("outbox")[1]
    status, out, _ = run("outbox", found, "1")
    assert status == 0
    assert f"  {words}  " in out
    assert run("outbox", found, "1")[0] == 2


def test_one_that_was_refused_is_sent_again(office: PostOffice, home: Path, tmp_path: Path, run: Run) -> None:
    office.fault = "recipient"
    sent(home, tmp_path)
    status, out, _ = run("outbox", "--send", "1")
    assert (status, "refused, not sent" in out, "550 5.1.1" in out) == (2, True, True)
    office.fault = ""
    status, out, _ = run("outbox", "--send", "1")
    assert (status, len(office.mails)) == (0, 1)


def test_the_account_is_tried(office: PostOffice, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    assert run("outbox", "--try") == (0, "127.0.0.1 can be reached, and takes your login. Nothing was sent.\n", "")
    monkeypatch.setenv("ORDERTIN_MAIL_PASSWORD", "wrong")
    status, _, err = run("outbox", "--try")
    assert (status, "refuses the login of nell (535" in err) == (2, True)
    assert office.mails == []


def test_a_password_goes_into_the_keyring_and_nowhere_else(
    office: PostOffice, home: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept: dict[tuple[str, str], str] = {}
    monkeypatch.setattr("keyring.set_password", lambda where, who, word: kept.update({(where, who): word}))
    monkeypatch.setattr("keyring.get_password", lambda where, who: kept.get((where, who)))
    monkeypatch.delenv("ORDERTIN_MAIL_PASSWORD")
    assert run("outbox", "--try")[0] == 2
    status, out, _ = run("outbox", "--password", stdin=f"{PASSWORD}\n".encode())
    assert (status, PASSWORD in out, list(kept.values())) == (0, False, [PASSWORD])
    assert run("outbox", "--try")[0] == 0
    assert not any(PASSWORD.encode() in path.read_bytes() for path in home.rglob("*") if path.is_file())


@pytest.mark.parametrize("locked", [False, True], ids=["none", "locked"])
def test_a_machine_without_a_keyring(
    office: PostOffice, run: Run, monkeypatch: pytest.MonkeyPatch, locked: bool
) -> None:
    from keyring.errors import KeyringLocked, NoKeyringError

    def none(*_: str) -> None:
        raise KeyringLocked if locked else NoKeyringError

    monkeypatch.setattr("keyring.set_password", none)
    monkeypatch.setattr("keyring.get_password", none)
    monkeypatch.delenv("ORDERTIN_MAIL_PASSWORD")
    for arguments in (("--password",), ("--try",)):
        status, _, err = run("outbox", *arguments, stdin=b"word\n")
        assert (status, "ORDERTIN_MAIL_PASSWORD" in err) == (2, True)


@pytest.mark.parametrize("option", ["--send", "--went", "--lost"])
@pytest.mark.parametrize("number", ["x", "7", "-1", "9" * 30])
def test_a_letter_that_is_none(run: Run, option: str, number: str) -> None:
    status, _, err = run("outbox", f"{option}={number}")
    assert status == 2
    assert "letter" in err or "account" in err
