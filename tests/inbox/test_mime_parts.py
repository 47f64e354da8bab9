"""The quick way through a mail gives what the standard library gives, or declines.

The reference is `email` of the standard library by way of `mail_body.forgiven`: mails made by `email.message`, then
spoilt byte by byte.
"""

from __future__ import annotations

import random
from email.message import EmailMessage
from email.policy import SMTP
from email.policy import default as plain_policy

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.inbox import headers, mime_parts
from intake.inbox.mail_body import forgiven

WORDS = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"], include_characters="\n\t "), max_size=80
).map(lambda text: text.replace("\r", ""))
NAMES = st.from_regex(r"[a-z]{1,8}\.(jpg|pdf)", fullmatch=True)


def told(found: tuple[headers.Head, str, list[tuple[str, str]]]) -> tuple[object, ...]:
    head, text, names = found
    return {name: headers.fields(head, name) for name in head}, text.replace("\r\n", "\n"), names


@st.composite
def mails(draw: st.DrawFn) -> EmailMessage:
    mail = EmailMessage(policy=SMTP if draw(st.booleans()) else plain_policy)
    mail["From"], mail["Subject"] = "Dana Reyes <dana@example.com>", "Bat cookies"
    encoding = draw(st.sampled_from([None, "base64", "quoted-printable"]))
    mail.set_content(draw(WORDS) + "\n", cte=encoding)
    if draw(st.booleans()):
        mail.add_alternative(f"<p>{draw(st.sampled_from(['2 dozen', '', 'x<br>y']))}</p>", subtype="html")
    for name in draw(st.lists(NAMES, max_size=2)):
        mail.add_attachment(b"\0\1", maintype="image", subtype="jpeg", filename=name)
    if draw(st.booleans()):
        mail.add_attachment(draw(WORDS), filename="list.txt")
    return mail


@given(mails())
def test_mails_by_the_book_are_read_as_the_standard_library_reads_them(mail: EmailMessage) -> None:
    data = mail.as_bytes()
    quick = mime_parts.taken_apart(data)
    assert quick is not None
    assert told(quick) == told(forgiven(data))


@given(mails(), st.randoms(use_true_random=False))
def test_spoilt_mails_are_read_the_same_or_declined(mail: EmailMessage, chance: random.Random) -> None:
    spoilt = bytearray(mail.as_bytes())
    for _ in range(chance.randrange(1, 6)):
        at = chance.randrange(len(spoilt))
        match chance.randrange(3):
            case 0:
                spoilt[at] = chance.choice(b"\r\n-=\";:\0\xe9")
            case 1:
                del spoilt[at : at + chance.randrange(1, 40)]
            case _:
                spoilt[at:at] = spoilt[at - 20 : at]
        if not spoilt:
            return
    quick = mime_parts.taken_apart(bytes(spoilt))
    assert quick is None or told(quick) == told(forgiven(bytes(spoilt)))


HEAD = b"Content-Type: multipart/mixed; boundary=b\n\n"


@pytest.mark.parametrize(
    ("data", "text"),
    [
        (HEAD + b"--b\n\none\n--b\n\ntwo\n--b--\n", "one\n\ntwo"),
        (b"before\n\n--b\n\none\n--bb\n--b--\nafter", None),
        (HEAD + b"a word before\n--b  \n\none\n--bb\n--b--\nafter", "one\n--bb"),
        (HEAD + b"--b\n\nnever closed\n", None),
        (HEAD + b"--b\nContent-Type: message/rfc822\n\nFrom: x\n\ny\n--b--", None),
        (HEAD + b'--b\nContent-Type: image/png; name="=?utf-8?Q?a?="\n\ny\n--b--', None),
        (b"Content-Type: text/plain; charset*=utf-8''x\n\nhi", None),
        (b"Content-Transfer-Encoding: base64\n\nhi!!", None),
        (b"Content-Transfer-Encoding: uuencode\n\nhi", None),
        (b"not a head\n\nhi", None),
        (b"Subject: x\rnot a line end\n\nhi", None),
    ],
)
def test_what_is_declined(data: bytes, text: str | None) -> None:
    quick = mime_parts.taken_apart(data)
    assert (quick and quick[1]) == text
    assert quick is None or told(quick) == told(forgiven(data))


@pytest.mark.parametrize(
    "fields",
    [
        b'Content-Type: image/jpeg\nContent-Disposition: attachment; filename="caf\xe9.jpg"',
        b'Content-Type: image/jpeg; name="caf\xe9.jpg"',
        'Content-Type: image/jpeg; name="x.jpg"\nContent-Disposition: inline; filename="café.jpg"'.encode(),
    ],
    ids=["disposition", "type", "both, in UTF-8"],
)
def test_names_in_bare_letters(fields: bytes) -> None:
    """Against RFC 2045 section 5.1, which allows ASCII alone; mail programs write them all the same."""
    mail = b'MIME-Version: 1.0\nContent-Type: multipart/mixed; boundary="zz"\n\n--zz\n' + fields + b"\n\nabc\n--zz--\n"
    quick = mime_parts.taken_apart(mail)
    assert quick is not None
    assert quick[2] == forgiven(mail)[2] == [("image", "café.jpg")]
