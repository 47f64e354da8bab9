"""A reply as a mail, read back by the standard library: its head, its threading, its lines, and what can't get in."""

from __future__ import annotations

from datetime import UTC, datetime
from email import message_from_bytes, policy
from email.header import decode_header, make_header
from email.message import EmailMessage
from email.utils import parseaddr

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.clean import clean
from intake.model import Message, OrdertinError, Reply, Thread
from intake.replies.sending import answered_ids, answering, bare, mail_of

AT = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
DANA = "dana@example.org"


def wrote(
    mail_id: str = "", *, mine: bool = False, sender: str = "Dana Reyes", answers: tuple[str, ...] = ()
) -> Message:
    address = "nell@example.com" if mine else DANA
    return Message(f"m{mail_id}", sender, mine, AT, "hi", address=address, mail_id=mail_id, answers=answers)


def talk(*messages: Message, subject: str = "Cookies") -> Thread:
    return Thread("t1", "mail", messages, subject=subject)


def made(
    text: str = "Hi Dana,\n\nYes.\n",
    *,
    to: str = DANA,
    subject: str = "Re: Cookies",
    name: str = "Nell",
    thread: Thread | None = None,
    address: str = "nell@example.com",
) -> bytes:
    reply = Reply("quote", to, subject, text)
    held = thread or talk(wrote("1@example.org"))
    return mail_of(reply, held, name=name, address=address, mail_id="abc@example.com", at=AT).data


def parsed(data: bytes) -> EmailMessage:
    mail = message_from_bytes(data, policy=policy.default)
    assert isinstance(mail, EmailMessage)
    assert mail.defects == []
    return mail


def text_in(mail: EmailMessage) -> str:
    return str(mail.get_content()).replace("\r\n", "\n")


def test_a_mail_says_all_that_it_must() -> None:
    mail = parsed(made())
    assert [str(address) for address in mail["from"].addresses] == ["Nell <nell@example.com>"]
    assert [str(address) for address in mail["to"].addresses] == ["Dana Reyes <dana@example.org>"]
    assert mail["subject"] == "Re: Cookies"
    assert mail["date"].datetime == AT
    assert mail["message-id"] == "<abc@example.com>"
    assert (mail["in-reply-to"], mail["references"]) == ("<1@example.org>", "<1@example.org>")
    assert mail.get_content_type() == "text/plain"
    assert text_in(mail) == "Hi Dana,\n\nYes.\n"
    assert len(list(mail)) == len(set(mail))


THREADS = [
    ("the customer's last", [wrote("1@a"), wrote("2@a", answers=("1@a",))], ("1@a", "2@a")),
    ("not the baker's own", [wrote("1@a"), wrote("2@b", mine=True, answers=("1@a",))], ("1@a",)),
    ("her own where there is no other", [wrote("2@b", mine=True)], ("2@b",)),
    ("what was missed of it", [wrote("3@a", answers=("0@a", "1@a"))], ("0@a", "1@a", "3@a")),
    ("an id named twice", [wrote("3@a", answers=("1@a", "1@a", "3@a"))], ("1@a", "3@a")),
    ("no id", [wrote("")], ()),
    ("an id that is none", [wrote("1@a"), wrote("no id at all")], ("1@a",)),
    ("an id that breaks out", [wrote("1@a>\r\nBcc: <x@y")], ()),
    ("an id among the older that is none", [wrote("3@a", answers=("1@a", "x y", "é@a"))], ("1@a", "3@a")),
    ("none", [], ()),
]


@pytest.mark.parametrize(("messages", "ids"), [t[1:] for t in THREADS], ids=[t[0] for t in THREADS])
def test_it_lands_in_its_conversation(messages: list[Message], ids: tuple[str, ...]) -> None:
    assert answered_ids(talk(*messages)) == ids
    mail = parsed(made(thread=talk(*messages)))
    told = tuple(each.strip("<>") for each in (mail["references"] or "").split())
    assert told == ids
    assert (mail["in-reply-to"] or "<>").strip("<>") == (ids[-1] if ids else "")


def test_a_long_conversation_names_its_first_and_its_latest() -> None:
    older = tuple(f"{n}@a" for n in range(500))
    ids = answered_ids(talk(wrote("last@a", answers=older)))
    assert (ids[0], ids[-2:]) == ("0@a", ("499@a", "last@a"))
    assert len(ids) < 100


SUBJECTS = [
    ("Cookies for Leo", "Re: Cookies for Leo"),
    ("Re: Cookies", "Re: Cookies"),
    ("RE : Cookies", "RE : Cookies"),
    ("Reindeer", "Re: Reindeer"),
    ("", "The price of your cookies"),
    ("Hi\r\nBcc: all@example.net", "Re: Hi Bcc: all@example.net"),
]


@pytest.mark.parametrize(("subject", "expected"), SUBJECTS)
def test_the_subject_is_that_of_the_conversation(subject: str, expected: str) -> None:
    assert answering(subject, "The price of your cookies") == expected


ADDRESSES = [
    (DANA, DANA),
    (" Dana.Reyes+cookies@Example.ORG ", "Dana.Reyes+cookies@example.org"),
    ("dana@bäckerei.example", "dana@xn--bckerei-5wa.example"),
    ("dana", ""),
    ("555-0163", ""),
    ("Dana <dana@example.org>", ""),
    ("dana@example.org, leo@example.org", ""),
    ("dana@example.org\r\nBcc: leo@example.org", ""),
    ("dana @example.org", ""),
    ('"dana reyes"@example.org', ""),
    ("daná@example.org", ""),
    ("dana@@example.org", ""),
    ("dana@", ""),
    ("@example.org", ""),
    (".dana@example.org", ""),
    (f"{'d' * 65}@example.org", ""),
    (f"dana@{'.'.join(['e' * 60] * 5)}", ""),
    ("<dana@example.org>", ""),
    ("", ""),
]


@pytest.mark.parametrize(("text", "address"), ADDRESSES)
def test_what_is_a_mail_address(text: str, address: str) -> None:
    assert bare(text) == address


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"to": "555-0163"}, "“555-0163” is not a mail address"),
        ({"to": ""}, "no mail address is known"),
        ({"to": "a@b\r\nBcc: c@d"}, "“a@b Bcc: c@d” is not a mail address"),
        ({"address": "nell"}, "house rules.*“nell” is not a mail address"),
    ],
    ids=str,
)
def test_without_an_address_there_is_no_mail(values: dict[str, str], words: str) -> None:
    with pytest.raises(OrdertinError, match=words):
        made(**values)  # type: ignore[arg-type]


def test_a_name_that_is_the_address_is_not_said_twice() -> None:
    mail = parsed(made(thread=talk(wrote("1@a", sender=DANA))))
    assert [address.display_name for address in mail["to"].addresses] == [""]


def test_a_name_beside_another_address_is_not_taken() -> None:
    mail = parsed(made(to="leo@example.org"))
    assert [str(address) for address in mail["to"].addresses] == ["leo@example.org"]


#: What a customer may put into a name or a subject: letters of all kinds, line ends, and the marks of a mail's head.
_HOSTILE = st.text(
    alphabet=st.one_of(st.characters(), st.sampled_from("\r\n\t\0\x1b\x85\u2028 \",;:<>@()[]\\=?_.")), max_size=200
) | st.sampled_from(("=?utf-8?b?QmNjOiB4QHk=?=", "Bcc: x@y", "a\r\nBcc: x@y\r\n\r\nbody", '"', "\\", "x" * 3000))
HEAD = [
    *("from", "to", "subject", "date", "message-id", "in-reply-to", "references"),
    *("mime-version", "content-type", "content-transfer-encoding"),
]


@settings(max_examples=300)
@given(name=_HOSTILE, sender=_HOSTILE, subject=_HOSTILE, text=st.text(max_size=400))
def test_nothing_gets_into_the_head_and_all_is_read_back(name: str, sender: str, subject: str, text: str) -> None:
    thread = talk(wrote("1@example.org", sender=sender))
    data = made(text, name=name, subject=subject, thread=thread)
    mail = parsed(data)
    assert [key.lower() for key in mail] == HEAD
    assert [address.addr_spec for address in mail["from"].addresses] == ["nell@example.com"]
    assert [address.addr_spec for address in mail["to"].addresses] == [DANA]
    assert _name_in(data, "from") == _one_line(name, 120)
    assert mail["subject"] == _one_line(subject, 300)
    if "@" not in sender:
        assert _name_in(data, "to") == _one_line(sender, 120)
    assert text_in(mail) == clean(text).strip("\n") + "\n"


@settings(max_examples=300)
@given(name=_HOSTILE, subject=_HOSTILE, text=st.text(max_size=3000) | st.just("x" * 5000))
def test_lines_are_as_long_as_they_may_be(name: str, subject: str, text: str) -> None:
    """RFC 5322 section 2.1.1: at most 78 characters, CRLF at each end, and ASCII all through."""
    data = made(text, name=name, subject=subject)
    lines = data.split(b"\r\n")
    assert all(len(line) <= 78 for line in lines)
    assert lines[-1] == b""
    assert b"\r" not in data.replace(b"\r\n", b"") and b"\n" not in data.replace(b"\r\n", b"")
    assert data.isascii()


def _name_in(data: bytes, field: str) -> str:
    """By the library's older decoder: the newer one puts a space between two encoded words of a name (Python 3.11)."""
    name, _ = parseaddr(message_from_bytes(data)[field])
    return str(make_header(decode_header(name)))


def _one_line(text: str, most: int) -> str:
    return " ".join(clean(text).split())[:most].strip()
