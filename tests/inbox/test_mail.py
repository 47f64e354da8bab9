"""Mails in the shapes of RFC 5322 appendix A and of real mail programs; the words are our own."""

from __future__ import annotations

from datetime import datetime

import pytest

from intake.inbox.headers import decoded, words
from intake.inbox.mail import LONGEST_TEXT
from intake.inbox.mime_parts import unflowed
from tests.inbox.conftest import NOW, ZONE, read_mail

DATE = b"Date: Wed, 11 Mar 2026 14:05:10 -0500\n"


@pytest.mark.parametrize(
    ("field", "name", "address"),
    [
        # RFC 5322 appendix A.1.1 to A.1.3, A.5, A.6.1 and A.6.3: the shapes of mailboxes in use and obsolete ones.
        pytest.param(b"From: Dana Reyes <dana@example.com>", "Dana Reyes", "dana@example.com", id="A.1.1"),
        pytest.param(
            b'From: "Dana Q. Reyes" <dana@example.com>', "Dana Q. Reyes", "dana@example.com", id="A.1.2 quoted"
        ),
        pytest.param(b"From: dana@example.com", "dana@example.com", "dana@example.com", id="A.1.2 bare"),
        pytest.param(
            b'From: "Ed \\"Sprinkles\\" Moss" <ed@example.com>',
            'Ed "Sprinkles" Moss',
            "ed@example.com",
            id="A.1.2 escaped",
        ),
        pytest.param(
            b"From: Pia(a good \\) baker) <pia(her account)@example.com(her host)>",
            "Pia (a good ) baker her account her host)",
            "pia@example.com",
            id="A.5 comments",
        ),
        pytest.param(
            b"From: Dana Reyes <@hub.example.net:dana@example.com>", "Dana Reyes", "dana@example.com", id="A.6.1"
        ),
        pytest.param(
            b"From  : Dana Reyes <dana@machine(c).  example>", "Dana Reyes (c)", "dana@machine.example", id="A.6.3"
        ),
        pytest.param(b"From: =?utf-8?Q?Zo=C3=AB_Li?= <zoe@example.com>", "Zoë Li", "zoe@example.com", id="RFC 2047 Q"),
        pytest.param(
            b'From: "=?utf-8?B?Wm/DqyBMaQ==?=" <zoe@example.com>', "Zoë Li", "zoe@example.com", id="RFC 2047 B"
        ),
        pytest.param(b"From: Zo\xc3\xab <zoe@example.com>", "Zoë", "zoe@example.com", id="UTF-8 as it is"),
        pytest.param(b"From: Zo\xeb <zoe@example.com>", "Zoë", "zoe@example.com", id="Latin-1 as it is"),
        pytest.param(b"From: Reyes, Dana <dana@example.com>", "Dana", "dana@example.com", id="comma without quotes"),
        pytest.param(b"From: Dana\n\tReyes\n <dana@example.com>", "Dana Reyes", "dana@example.com", id="folded"),
        pytest.param(b"From: dana at the school", "dana at the school", "", id="no address"),
        pytest.param(b"From: <<dana@example.com>>", "dana@example.com", "dana@example.com", id="doubled brackets"),
        pytest.param(b"From: Da\x1b[31mna <dana@example.com>", "Dana", "dana@example.com", id="escape sequence"),
        pytest.param(
            b"From: =?utf-8?Q?boss=40example.net=2C?= <dana@example.com>",
            "boss@example.net,",
            "dana@example.com",
            id="an address inside a name is a name",
        ),
        pytest.param(b"From:", "", "", id="empty"),
        pytest.param(b"X: y", "", "", id="none"),
    ],
)
def test_sender(field: bytes, name: str, address: str) -> None:
    message = read_mail(field + b"\n" + DATE + b"\nhi\n").message
    assert (message.sender, message.address) == (name, address)


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        # RFC 5322 section 3.3 and appendix A.5, A.6.2 (two-digit years, zone names, comments).
        pytest.param("Wed, 11 Mar 2026 14:05:10 -0500", "2026-03-11T14:05:10-05:00", id="by the book"),
        pytest.param("Wed, 11 Mar 2026 19:05:10 +0000", "2026-03-11T14:05:10-05:00", id="UTC"),
        pytest.param("Wed, 11 Mar 2026 19:05:10 -0000", "2026-03-11T14:05:10-05:00", id="UTC without a place"),
        pytest.param("11 Mar 2026 14:05 -0500", "2026-03-11T14:05:00-05:00", id="no weekday, no seconds"),
        pytest.param("Wed, 11\n Mar\n 2026\n 14:05\n -0500 (Central Time)", "2026-03-11T14:05:00-05:00", id="A.5"),
        pytest.param("21 Nov 97 09:55:06 GMT", "1997-11-21T03:55:06-06:00", id="A.6.2"),
        pytest.param("Tue, 10 Mar 2026 23:59:59 EST", "2026-03-10T23:59:59-05:00", id="zone name"),
    ],
)
def test_date_in_the_house_zone(said: str, expected: str) -> None:
    mail = read_mail(f"From: dana@example.com\nDate: {said}\n\nhi\n".encode())
    assert (mail.message.at.isoformat(), mail.problems) == (expected, ())
    assert mail.message.at.tzinfo is ZONE


@pytest.mark.parametrize(
    ("fields", "says", "expected"),
    [
        pytest.param(
            "Date: Thu, 1 Jan 1970 00:00:00 +0000", "is dated 1970-01-01, which can't be right", NOW, id="1970"
        ),
        pytest.param("Date: Wed, 11 Mar 2093 14:05:10 -0500", "is dated 2093-03-11", NOW, id="far ahead"),
        pytest.param("Date: soon", "has a date that can't be read", NOW, id="words"),
        pytest.param("Date: Wed, 99 Foo 2026 99:99:99", "has a date that can't be read", NOW, id="no such day"),
        pytest.param("X: y", "has no date", NOW, id="none"),
        pytest.param(
            "Received: from a by b; Wed, 11 Mar 2026 14:05:10 -0500",
            "has no date",
            datetime(2026, 3, 11, 14, 5, 10, tzinfo=ZONE),
            id="none, but when it arrived",
        ),
    ],
)
def test_doubtful_date_is_kept_and_named(fields: str, says: str, expected: datetime) -> None:
    mail = read_mail(f"From: Dana <dana@example.com>\n{fields}\n\n24 please\n".encode())
    assert (mail.message.text, mail.message.at) == ("24 please", expected)
    assert len(mail.problems) == 1
    assert says in str(mail.problems[0])
    assert "Dana" in str(mail.problems[0])


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        # RFC 2047 section 8: what is shown for each form.
        pytest.param("=?ISO-8859-1?Q?a?=", "a", id="one"),
        pytest.param("=?ISO-8859-1?Q?a?= b", "a b", id="word and text"),
        pytest.param("=?ISO-8859-1?Q?a?= =?ISO-8859-1?Q?b?=", "ab", id="space between words is dropped"),
        pytest.param("=?ISO-8859-1?Q?a?=   =?ISO-8859-2?Q?b?=", "ab", id="of two charsets"),
        pytest.param("=?ISO-8859-1?Q?a_b?=", "a b", id="underscore is a space"),
        pytest.param("=?utf-8?Q?caf=C3?= =?utf-8?Q?=A9?=", "café", id="a letter split in two"),
        pytest.param("=?utf-8?B?Y2Fmw6k?=", "café", id="padding left out"),
        pytest.param("=?utf-8*en?Q?caf=C3=A9?=", "café", id="language (RFC 2231)"),
        pytest.param("=?klingon?Q?caf=C3=A9?=", "café", id="no such charset"),
        pytest.param("=?utf-8?B?Y?=", "=?utf-8?B?Y?=", id="broken"),
        pytest.param("=?utf-8?X?a?=", "=?utf-8?X?a?=", id="no such encoding"),
        pytest.param("a =? b ?=", "a =? b ?=", id="none"),
    ],
)
def test_encoded_words(value: str, expected: str) -> None:
    assert words(value) == expected


@pytest.mark.parametrize(
    ("data", "charset", "expected"),
    [
        pytest.param(b"caf\xc3\xa9", "utf-8", "café", id="UTF-8"),
        pytest.param(b"caf\xe9", "utf-8", "café", id="not what it says"),
        pytest.param(b"caf\xc3\xa9", "us-ascii", "café", id="more than ASCII"),
        pytest.param(b"I\x92d", "iso-8859-1", "I’d", id="windows-1252 that calls itself Latin-1"),
        pytest.param(b"\x81\xe9", "ascii", "\x81é", id="no table has it"),
        pytest.param(b"hi", "hex", "hi", id="a codec that is no charset"),
        pytest.param(b"a\\u0041", "unicode_escape", "a\\u0041", id="escapes are not run"),
        pytest.param(b"hi", "no\0such", "hi", id="NUL in the name"),
        pytest.param("½".encode("utf-16"), "utf-16", "½", id="UTF-16"),
    ],
)
def test_charsets(data: bytes, charset: str, expected: str) -> None:
    assert decoded(data, charset) == expected


def parts(kind: str, *inside: str) -> str:
    return (
        f"Content-Type: multipart/{kind}; boundary={kind}\n\n"
        + "".join(f"--{kind}\n{part}\n" for part in inside)
        + f"--{kind}--\n"
    )


PLAIN = "Content-Type: text/plain\n\n2 dozen"
HTML = "Content-Type: text/html\n\n<p>2 dozen</p><p>pink</p>"
PHOTO = 'Content-Type: image/jpeg; name="../cake.jpg"\nContent-Disposition: attachment\n\nxx'


@pytest.mark.parametrize(
    ("mime", "text", "attachments"),
    [
        pytest.param(PLAIN, "2 dozen", (), id="plain"),
        pytest.param(HTML, "2 dozen\n\npink", (), id="HTML alone"),
        pytest.param(parts("alternative", PLAIN, HTML), "2 dozen", (), id="the plain one of two"),
        pytest.param(
            parts("alternative", "Content-Type: text/plain\n\n ", HTML), "2 dozen\n\npink", (), id="the one with words"
        ),
        pytest.param(parts("mixed", PLAIN, PHOTO), "2 dozen", ("cake.jpg",), id="attachment named"),
        pytest.param(parts("mixed", PHOTO), "[photo]", ("cake.jpg",), id="photo alone"),
        pytest.param(
            parts("mixed", parts("alternative", PLAIN, HTML), PHOTO, "Content-Type: text/plain\n\nthanks"),
            "2 dozen\n\nthanks",
            ("cake.jpg",),
            id="words around a photo",
        ),
        pytest.param(
            parts("mixed", PLAIN, "Content-Type: text/plain\nContent-Disposition: attachment; filename=list.txt\n\nx"),
            "2 dozen",
            ("list.txt",),
            id="attached text is not the message",
        ),
        pytest.param(
            parts("mixed", PLAIN, "Content-Type: message/rfc822\n\nSubject: theme\nFrom: x\n\ninner"),
            "2 dozen",
            ("forwarded mail: theme",),
            id="mail in a mail",
        ),
        pytest.param(
            parts("mixed", PLAIN, "Content-Type: image/png; name*=utf-8''caf%C3%A9.png\n\nx"),
            "2 dozen",
            ("café.png",),
            id="name by RFC 2231",
        ),
        pytest.param(parts("mixed", PLAIN, "Content-Type: image/png\n\nx"), "2 dozen", ("image/png",), id="no name"),
        pytest.param("Content-Type: text/plain; name*\n\n2 dozen", "2 dozen", (), id="broken parameter"),
        pytest.param(
            "Content-Type: text/plain; name*\nContent-Transfer-Encoding: quoted-printable\n\ncaf=C3=A9",
            "café",
            (),
            id="broken parameter, quoted-printable",
        ),
        pytest.param("Content-Type: multipart/mixed\n\n2 dozen", "2 dozen", (), id="parts without a boundary"),
        pytest.param("Content-Transfer-Encoding: base64\n\nMiBkb3plbg==", "2 dozen", (), id="base64"),
        pytest.param("Content-Transfer-Encoding: base64\n\n?", "?", (), id="not base64"),
        pytest.param("Content-Type: text/plain; charset=klingon\n\n2 dozen", "2 dozen", (), id="no such charset"),
        pytest.param(
            "Content-Type: text/plain; format=flowed\n\n2 dozen \npink\n\n-- \nDana",
            "2 dozen pink\n\n-- \nDana",
            (),
            id="flowed",
        ),
        pytest.param(
            "X: y\n\nOn Tue Nell wrote:\n> hi\n\n-- \nDana", "On Tue Nell wrote:\n> hi\n\n-- \nDana", (), id="all"
        ),
    ],
)
def test_body(mime: str, text: str, attachments: tuple[str, ...]) -> None:
    message = read_mail(b"From: dana@example.com\n" + DATE + mime.encode()).message
    assert (message.text, message.attachments) == (text, attachments)


def test_nesting_without_end_is_survived() -> None:
    mime = "\n".join(f'Content-Type: multipart/mixed; boundary="b{n}"\n\n--b{n}' for n in range(400))
    assert read_mail(b"From: dana@example.com\n" + DATE + mime.encode()).message.sender == "dana@example.com"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # RFC 3676 sections 4.2 (soft line breaks), 4.3 (signature), 4.4 (space-stuffing) and 4.5 (quoting).
        pytest.param("a \nb", "a b", id="soft break"),
        pytest.param("a\nb", "a\nb", id="hard break"),
        pytest.param("> a \n> b", "> a b", id="quoted"),
        pytest.param("> a \nb", "> a \nb", id="another depth"),
        pytest.param(">> a \n> b", ">> a \n> b", id="shallower"),
        pytest.param(" From me", "From me", id="stuffed"),
        pytest.param("a \n-- \nDana", "a \n-- \nDana", id="signature"),
    ],
)
def test_flowed_lines(text: str, expected: str) -> None:
    assert unflowed(text) == expected


@pytest.mark.parametrize(
    ("fields", "sender", "mine", "party"),
    [
        pytest.param(
            "From: Dana <dana@example.com>\nTo: nell@example.org", "Dana", False, "dana@example.com", id="customer"
        ),
        pytest.param(
            "From: Nell <NELL@example.org>\nTo: Dana <dana@example.com>", "Nell", True, "dana@example.com", id="hers"
        ),
        pytest.param(
            "From: nell@example.org\nTo: nell@example.org\nCc: dana@example.com",
            "nell@example.org",
            True,
            "dana@example.com",
            id="hers, copied",
        ),
        pytest.param(
            "From: Order form <form@example.net>\nReply-To: Dana <dana@example.com>\nTo: nell@example.org",
            "Dana",
            False,
            "dana@example.com",
            id="order form",
        ),
        pytest.param(
            "From: Nell's site <nell@example.org>\nReply-To: dana@example.com\nTo: nell@example.org",
            "dana@example.com",
            False,
            "dana@example.com",
            id="order form in her own name",
        ),
        pytest.param(
            "From: Nell <nell@example.org>\nReply-To: shop@example.org\nTo: dana@example.com",
            "Nell",
            True,
            "dana@example.com",
            id="hers, answers elsewhere",
        ),
        pytest.param(
            "Sender: Dana <dana@example.com>", "Dana", False, "dana@example.com", id="sender for want of from"
        ),
    ],
)
def test_who(fields: str, sender: str, mine: bool, party: str) -> None:
    mail = read_mail(f"{fields}\n".encode() + DATE + b"\nhi\n")
    assert (mail.message.sender, mail.message.mine, mail.party) == (sender, mine, party)


def test_control_characters_are_taken_out_and_kept_beside() -> None:
    message = read_mail(b"From: dana@example.com\n" + DATE + b"\n2 \x1b]0;x\x07dozen\n").message
    assert (message.text, message.raw) == ("2 dozen", "2 \x1b]0;x\x07dozen")
    assert read_mail(b"From: dana@example.com\n" + DATE + b"\n2\r\ndozen\r\n").message.raw is None


def test_endless_text_is_cut_and_said() -> None:
    mail = read_mail(b"From: dana@example.com\n" + DATE + b"\n" + b"sprinkles " * 30_000)
    assert len(mail.message.text) == LONGEST_TEXT
    assert "first 200,000 characters" in str(mail.problems[0])


@pytest.mark.parametrize(
    "data", [b"", b"\n\n", b"\0\xff\xfe", b"From: a\n b", b":\n:\n\n", b"Date: \xff\nFrom: \xff\n\n\xff"]
)
def test_rubbish_gives_a_message_and_problems(data: bytes) -> None:
    assert read_mail(data).problems
