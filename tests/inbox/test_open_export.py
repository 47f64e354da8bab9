from __future__ import annotations

import json
import os
import random
from collections.abc import Callable
from pathlib import Path

import pytest

from intake.inbox.open_export import Export, open_export
from intake.model import OrdertinError
from tests.inbox.conftest import NOW, ZONE

Take = Callable[..., Export]

# The shape of RFC 4155 appendix A and RFC 5322 appendix A.1.1; the words are our own.
MAIL = (
    b"From: Dana Reyes <dana@example.com>\nTo: Nell <nell@example.org>\nSubject: Bat cookies\n"
    b"Date: Wed, 11 Mar 2026 14:05:10 -0500\nMessage-ID: <1234@machine.example>\n\n2 dozen please\n"
)
LINE = b"From dana@example.com Wed Mar 11 19:05:10 2026\n"
CHAT = [{"from": "Dana Reyes", "at": "2026-03-11T14:05:10", "text": "2 dozen please"}]
THREAD = {"id": "t", "channel": "chat", "messages": [CHAT[0] | {"id": "m1", "mine": False}]}


@pytest.mark.parametrize(
    ("content", "channel"),
    [
        pytest.param(LINE + MAIL, "mail", id="mailbox"),
        pytest.param(b"\xef\xbb\xbf\n" + LINE + MAIL, "mail", id="mailbox after a byte order mark"),
        pytest.param(MAIL, "mail", id="mail"),
        pytest.param(b"\r\n" + MAIL.replace(b"\n", b"\r\n"), "mail", id="mail with CRLF"),
        pytest.param(b"From dana@example.com\n" + MAIL, "mail", id="mail after half a From line"),
        pytest.param(b">From dana@example.com\n" + MAIL, "mail", id="mail after a guarded From line"),
        pytest.param(MAIL.replace(b"please", b"please\0"), "mail", id="mail with a NUL"),
        pytest.param(json.dumps(CHAT).encode(), "chat", id="JSON"),
        pytest.param(json.dumps(CHAT, indent=2).encode("utf-16"), "chat", id="JSON in UTF-16"),
        pytest.param(b"\xef\xbb\xbf \n" + json.dumps(CHAT).encode(), "chat", id="JSON after a byte order mark"),
        pytest.param(json.dumps(THREAD).encode(), "chat", id="thread line"),
        pytest.param(json.dumps(THREAD, indent=1).encode(), "chat", id="thread over several lines"),
        pytest.param(json.dumps([THREAD]).encode(), "chat", id="threads in a list"),
        pytest.param(b"{broken\n" + json.dumps(THREAD).encode(), "chat", id="thread line after a broken one"),
        pytest.param("\n".join([json.dumps(CHAT[0])] * 2).encode(), "chat", id="messages in lines"),
    ],
)
@pytest.mark.parametrize("name", ["export", "export.txt", "export.zip"])
def test_kinds_are_told_by_content(content: bytes, channel: str, name: str, take: Take) -> None:
    (thread,) = take(content, name=name).threads
    assert thread.channel == channel
    assert [(m.sender, m.mine, m.text) for m in thread.messages] == [("Dana Reyes", False, "2 dozen please")]
    assert thread.messages[0].at.isoformat() == "2026-03-11T14:05:10-05:00"
    assert thread.key


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "export: this file is empty. Export it again"),
        (b" \n\n", "nothing but blanks"),
        (b"PK\x03\x04abc", "this archive is damaged. Export it again, or unpack it and take the folder"),
        (b"%PDF-1.7", "this is a PDF"),
        (b"\xff\xd8\xff\xe0", "this is a picture"),
        (b"SQLite format 3\0", "this is a database"),
        (b"\0\1\2\3", "this file does not hold text"),
        (b"2 dozen please", "this is no export that can be read here"),
        (b"Note: call Dana\n\nSubject: x", "this is no export that can be read here"),
        (b'[{"from": "Dana"', "this is not whole JSON: it breaks off or goes wrong at line 1"),
        (b'{"a":' + b"[" * 100_000, "this JSON is nested too deeply"),
        (b"[" + b"9" * 5000 + b"]", "a number too long to read"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_what_is_no_export(content: bytes, says: str, take: Take) -> None:
    with pytest.raises(OrdertinError, match=says.replace("(", r"\(")):
        take(content)


def test_places_that_hold_no_export(tmp_path: Path) -> None:
    def message(path: Path) -> str:
        with pytest.raises(OrdertinError) as stopped:
            open_export(path, senders=[], zone=ZONE)
        return str(stopped.value)

    assert "this folder is empty. Choose another one" in message(tmp_path)
    assert "there is no such file" in message(tmp_path / "none")
    assert "can't be read" in message(tmp_path / "nul\0nul")
    assert "can't be read" in message(tmp_path / ("x" * 5000))
    os.mkfifo(tmp_path / "pipe")
    assert "not a file that can be read" in message(tmp_path / "pipe")
    huge = tmp_path / "huge"
    with huge.open("wb") as file:
        file.truncate(3 * 1024**3)
    assert "this file is 3.0 GB, and 2 GB is the most that is read" in message(huge)
    with huge.open("r+b") as file:
        file.write(b"[{")
        file.truncate(600 * 1024**2)
    assert "this JSON is 600 MB" in message(huge)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_locked_file(tmp_path: Path) -> None:
    path = tmp_path / "locked"
    path.write_bytes(MAIL)
    path.chmod(0)
    with pytest.raises(OrdertinError, match="may not be read"):
        open_export(path, senders=[], zone=ZONE)


def test_letters_outside_utf8_are_named_and_the_rest_is_read(take: Take) -> None:
    export = take(json.dumps(CHAT, ensure_ascii=False).replace("Reyes", "Ébé").encode("latin-1"))
    assert export.threads[0].messages[0].text == "2 dozen please"
    assert "not in UTF-8" in str(export.problems[0])


def test_many_problems_are_counted(take: Take) -> None:
    export = take(b"\n".join([LINE + b"From: dana@example.com\nSubject: x\n\n24 please\n"] * 500))
    assert len(export.problems) == 201
    assert "300 more problems" in str(export.problems[-1])
    assert "export, mail 1: the mail from dana@example.com has no date" in str(export.problems[0])


def test_without_senders_nobody_is_the_baker(take: Take) -> None:
    export = take(LINE + MAIL + b"\n" + LINE + MAIL.replace(b"dana@", b"nell@").replace(b"1234", b"5"), senders=[])
    assert [m.mine for t in export.threads for m in t.messages] == [False, False]
    assert export.parties == ("Dana Reyes",)


def test_the_files_own_time_judges_dates_where_no_moment_is_given(tmp_path: Path) -> None:
    path = tmp_path / "export"
    path.write_bytes(json.dumps([CHAT[0] | {"at": "2031-01-01"}]).encode())
    os.utime(path, (NOW.timestamp(), NOW.timestamp()))
    assert "2031-01-01" in str(open_export(path, senders=[], zone=ZONE).problems[0])
    assert not open_export(path, senders=[], zone=ZONE, now=NOW.replace(year=2030)).problems


PHOTO = (
    b"MIME-Version: 1.0\nContent-Type: multipart/mixed; boundary=b\n\n--b\nContent-Type: text/html; charset=utf-8\n"
    b"Content-Transfer-Encoding: quoted-printable\n\n<p>caf=C3=A9</p>\n--b\n"
    b"Content-Type: image/png;\n name*0*=utf-8''a%20"
    b"\nContent-Transfer-Encoding: base64\n\nAAAA\n--b--\n"
)
SEEDS = (
    b"\n".join([LINE + MAIL, LINE + MAIL.replace(b"\n\n2 dozen", b"\nContent-Length: 15\n\n2 dozen")]),
    MAIL.replace(b"\n\n2 dozen please\n", b"\n" + PHOTO).replace(b"Bat cookies", b"=?utf-8?B?Y2Fmw6k=?= =?x?Q?=41?="),
    json.dumps(
        {"title": "D", "chats": [{"id": 1, "messages": CHAT}, {"x": [CHAT[0] | {"photos": [{"uri": "a.jpg"}]}]}]}
    ).encode(),
    (json.dumps(THREAD) + "\n" + json.dumps(THREAD)).encode(),
    json.dumps([{"from": {"name": "D", "id": 3}, "ts": 1773255910, "text": ["a", {"text": "b"}], "mine": 0}]).encode(),
)
BITS = (
    b"\0",
    b"\xff",
    b"\n",
    b"\n\n",
    b'"',
    b"{",
    b"[",
    b"null",
    b"-1",
    b"1e999",
    b"From ",
    b": ",
    b"name*",
    b"; x=",
    b"=?",
    b"<",
)


@pytest.mark.parametrize("seed", range(len(SEEDS)))
def test_spoilt_exports_stop_with_words_or_give_threads(seed: int, take: Take) -> None:
    dice = random.Random(seed)
    for _ in range(250):
        data = bytearray(SEEDS[seed])
        for _ in range(dice.randint(1, 8)):
            at = dice.randrange(len(data) + 1)
            match dice.randrange(4):
                case 0:
                    data[at : at + 1] = bytes([dice.randrange(256)])
                case 1:
                    data[at:at] = dice.choice(BITS)
                case 2:
                    del data[at : at + dice.randint(1, 30)]
                case _:
                    start = dice.randrange(len(data) + 1)
                    data[at:at] = data[start : start + dice.randint(1, 60)]
        try:
            export = take(bytes(data))
        except OrdertinError as error:
            assert error.problem.what
            continue
        assert all(isinstance(str(problem), str) for problem in export.problems)
        for thread in export.threads:
            moments = [message.at for message in thread.messages]
            assert moments == sorted(moments)
            assert all(moment.tzinfo is ZONE for moment in moments)
            assert len({message.id for message in thread.messages}) == len(moments) > 0
            assert not any(c in message.text for message in thread.messages for c in "\0\x1b\x9b\r")
