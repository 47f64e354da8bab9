"""The splitter against tables of cases, and against the standard library's mailbox module as reference."""

from __future__ import annotations

import mailbox
from email.message import EmailMessage
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake.inbox.mbox import is_from_line, pieces, unguarded

LINE = b"From dana@example.com Wed Mar 11 14:05:10 2026\n"


def bodies(content: bytes) -> list[bytes]:
    return [piece.data.partition(b"\n\n")[2] for piece in pieces(BytesIO(content))]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        # RFC 4155 appendix A: "From ", an addr-spec, a space, a time in the form of C's asctime.
        pytest.param("From dana@example.com Wed Mar 11 14:05:10 2026", True, id="RFC 4155"),
        pytest.param("From dana@example.com Sun Mar  1 04:05:10 2026", True, id="day of one digit"),
        pytest.param("From MAILER-DAEMON Wed Mar 11 14:05:10 2026", True, id="no domain"),
        pytest.param("From - Wed Mar 11 14:05:10 2026", True, id="dash for the address"),
        pytest.param('From "dana r"@example.com Wed Mar 11 14:05:10 2026', True, id="quoted local part"),
        pytest.param("From a@example.com Wed Mar 11 14:05 2026", True, id="no seconds"),
        pytest.param("From a@example.com Wed Mar 11 14:05:10 +0000 2026", True, id="offset before year"),
        pytest.param("From a@example.com Wed Mar 11 14:05:10 2026 -0600", True, id="offset after year"),
        pytest.param("From a@example.com Wed Mar 11 14:05:10 CST 2026", True, id="zone name"),
        pytest.param("From a@example.com Wed, 11 Mar 2026 14:05:10 +0000", True, id="RFC 5322 date"),
        pytest.param("From a@example.com  Wed Mar 11 14:05:10 2026  ", True, id="spaces"),
        pytest.param("From a@example.com", False, id="no date"),
        pytest.param("From the oven to you", False, id="words"),
        pytest.param("From Sat Mar 14 10:00 on we are there", False, id="words with a date"),
        pytest.param("From Saturday March 14 10:00 2026", False, id="date without an address"),
        pytest.param("From: a@example.com Wed Mar 11 14:05:10 2026", False, id="header field"),
        pytest.param(">From a@example.com Wed Mar 11 14:05:10 2026", False, id="guarded"),
        pytest.param(" From a@example.com Wed Mar 11 14:05:10 2026", False, id="indented"),
        pytest.param("FROM a@example.com Wed Mar 11 14:05:10 2026", False, id="capitals"),
        pytest.param("From " + "a " * 5000 + "Wed Mar 11 14:05:10 2026", False, id="endless"),
    ],
)
def test_from_line(line: str, expected: bool) -> None:
    assert is_from_line(line.encode()) is expected


# The four habits as the mbox page of the Library of Congress format descriptions (fdd000383 to fdd000387) tells them.
@pytest.mark.parametrize(
    ("habit", "stored", "written"),
    [
        ("mboxo", b">From here\n>>From there\n", b"From here\n>>From there\n"),
        ("mboxrd", b">From here\n>>From there\n> From\n", b"From here\n>From there\n> From\n"),
        ("mboxcl", b"a\n>From here\n", b"a\nFrom here\n"),
        ("mboxcl2", b"From here\n>From there\n", b"From here\n>From there\n"),
    ],
)
def test_guards_come_off(habit: str, stored: bytes, written: bytes) -> None:
    assert unguarded(stored, habit) == written


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        pytest.param(LINE + b"Subject: a\n\none\n\n" + LINE + b"Subject: b\n\ntwo\n", [b"one\n", b"two\n"], id="two"),
        pytest.param(
            b"\xef\xbb\xbf\n\n" + LINE + b"Subject: a\n\none\n", [b"one\n"], id="byte order mark and blank lines first"
        ),
        pytest.param(b"stray\n\n" + LINE + b"Subject: a\n\none\n", [b"one\n"], id="stray words first"),
        pytest.param(
            LINE + b"Subject: a\n\n2 dozen\n\nFrom my garden I send thanks\n",
            [b"2 dozen\n\nFrom my garden I send thanks\n"],
            id="body line that begins with From",
        ),
        pytest.param(
            LINE + b"Subject: a\n\nyou wrote:\n\n" + LINE + b"and I say yes\n",
            [b"you wrote:\n\n" + LINE + b"and I say yes\n"],
            id="From line without a header after it",
        ),
        pytest.param(
            LINE + b"Subject: a\n\nyou wrote:\n" + LINE + b"Subject: b\n\nyes\n",
            [b"you wrote:\n" + LINE + b"Subject: b\n\nyes\n"],
            id="From line without a blank line before it",
        ),
        pytest.param(LINE + b"Subject: a\n\n>From now on\n>>From then\n", [b"From now on\n>From then\n"], id="mboxrd"),
        pytest.param(
            LINE
            + b"Subject: a\nContent-Length: %d\n\n" % len(b"x\n\n" + LINE + b"To: b\n\ny\n")
            + b"x\n\n"
            + LINE
            + b"To: b\n\ny\n"
            + b"\n"
            + LINE
            + b"Subject: b\n\ntwo\n",
            [b"x\n\n" + LINE + b"To: b\n\ny\n", b"two\n"],
            id="mboxcl2: a whole mailbox in the body",
        ),
        pytest.param(
            LINE + b"Subject: a\nContent-Length: 13\n\n>From now on\n\n" + LINE + b"Subject: b\n\ntwo\n",
            [b"From now on\n", b"two\n"],
            id="mboxcl",
        ),
        pytest.param(
            LINE + b"Subject: a\nContent-Length: 3\n\n2 dozen please\n\n" + LINE + b"Subject: b\n\ntwo\n",
            [b"2 dozen please\n", b"two\n"],
            id="Content-Length too short",
        ),
        pytest.param(
            LINE + b"Subject: a\nContent-Length: 999\n\none\n\n" + LINE + b"Subject: b\n\ntwo\n",
            [b"one\n", b"two\n"],
            id="Content-Length too long",
        ),
        pytest.param(LINE + b"Subject: a\n\n\n" + LINE + b"Subject: b\n\n", [b"", b""], id="no body"),
        pytest.param(
            LINE.replace(b"\n", b"\r\n") + b"Subject: a\r\n\r\none\r\n\r\n" + LINE + b"Subject: b\n\ntwo",
            [b"one\r\n", b"two"],
            id="line ends of both kinds",
        ),
        pytest.param(b"", [], id="nothing"),
        pytest.param(b"From nowhere\n", [], id="no mail"),
    ],
)
def test_mails_of_a_mailbox(content: bytes, expected: list[bytes]) -> None:
    assert bodies(content) == expected


def test_a_very_large_mail_is_cut_and_the_next_one_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("intake.inbox.mbox.LONGEST_MAIL", 100)
    found = list(
        pieces(BytesIO(LINE + b"Subject: a\n\n" + b"x" * 40 + b"\n" + b"y" * 400 + b"\n\n" + LINE + b"To: b\n\nz"))
    )
    assert [(piece.cut, len(piece.data) < 200) for piece in found] == [(True, True), (False, True)]


WORDS = st.lists(
    st.one_of(
        st.text(st.characters(codec="ascii", exclude_categories=("Cc",)), max_size=40),
        st.sampled_from(["", "From ", "From here", ">From here", "From me to you", LINE.decode().strip(), "To: x"]),
    ),
    max_size=8,
)


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(texts=st.lists(WORDS, min_size=1, max_size=5), senders=st.lists(st.emails(), min_size=5, max_size=5))
def test_same_mails_as_the_standard_library_wrote(texts: list[list[str]], senders: list[str], tmp_path: Path) -> None:
    path = tmp_path / "box"
    path.unlink(missing_ok=True)
    box = mailbox.mbox(path)
    for lines, sender in zip(texts, senders, strict=False):
        mail = EmailMessage()
        mail["Subject"] = "cookies"
        mail["To"] = "nell@example.org"
        mail.set_content("\n".join(lines), cte="8bit")
        stored = mailbox.mboxMessage(mail)
        stored.set_from(sender.replace("..", "."), True)
        box.add(stored)
    box.flush()
    reference = [bytes(message.get_payload(decode=True)) for message in box]
    box.close()
    with path.open("rb") as file:
        ours = [piece.data.partition(b"\n\n")[2] for piece in pieces(file)]
    # The standard library leaves the guards on when it reads; it writes them by mboxo.
    assert ours == [unguarded(body, "mboxrd") for body in reference]
