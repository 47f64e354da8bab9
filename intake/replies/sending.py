"""A reply as a mail: a message by RFC 5322 in plain text, which lands in the conversation that it answers.

The head is written here and not by a library, so that what can stand in it is plain to see: a name or a subject is
ASCII on one short line or else encoded words (RFC 2047), an address is a dot-atom and a host name, an id has no space
and no bracket. Nothing that a customer wrote can begin a line of it.
"""

from __future__ import annotations

import base64
import quopri
import re
from dataclasses import dataclass
from datetime import datetime
from email.utils import format_datetime

from intake.clean import clean
from intake.model import OrdertinError, Reply, Thread

_ATOM = r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]{1,64}"
_ADDRESS = re.compile(
    rf"({_ATOM}(?:\.{_ATOM}){{0,8}})@([A-Za-z0-9-]{{1,63}}(?:\.[A-Za-z0-9-]{{1,63}}){{0,8}})", re.ASCII
)
_ID = re.compile(r"[!-;=?-~]{3,250}", re.ASCII)
_LONGEST_ADDRESS = 254
_LONGEST_PLAIN = 60  # with its field's name within the 78 characters of RFC 5322 section 2.1.1
_MOST_IDS = 38
_WORD_BYTES = 39  # in a line of at most 76 characters with its field's name (RFC 2047 section 2)


@dataclass(frozen=True, slots=True)
class Mail:
    """A mail as it goes over the line: `data` in lines that end with CRLF, `sender` and `to` bare addresses."""

    sender: str
    to: str
    subject: str
    id: str
    data: bytes


def mail_of(reply: Reply, thread: Thread, *, name: str, address: str, mail_id: str, at: datetime) -> Mail:
    """`reply` from `name` at `address`, in answer to the last mail of `thread` that its customer wrote.

    `mail_id` is the new mail's own id without brackets, `at` when it is written. Raises OrdertinError where one of the
    two addresses is none that mail can be sent to.
    """
    sender, to = bare(address), bare(reply.to)
    if not sender:
        raise OrdertinError(
            f"“{_line(address, 60)}” is not a mail address",
            where="house rules, [mail]",
            todo="Set `address` to the one that you write from",
        )
    if not to:
        known = f"“{_line(reply.to, 60)}” is not a mail address" if reply.to else "no mail address is known"
        raise OrdertinError(known, where="reply", todo="Set the order's email, or copy the answer")
    subject = _line(reply.subject, 300)
    head = [
        f"From: {_mailbox(name, sender)}",
        f"To: {_mailbox(_name_of(thread, to), to)}",
        f"Subject: {_words(subject)}",
        f"Date: {format_datetime(at)}",
        f"Message-ID: <{mail_id}>",
        *_answering(thread),
        "MIME-Version: 1.0",
        'Content-Type: text/plain; charset="utf-8"',
    ]
    encoding, body = _body(reply.text)
    data = "\r\n".join([*head, f"Content-Transfer-Encoding: {encoding}", "", ""]).encode("ascii") + body
    return Mail(sender, to, subject, mail_id, data)


def bare(text: str) -> str:
    """The one mail address that `text` is, its host name in ASCII; an empty text where it is none.

    A quoted local part or one beyond ASCII is taken for none: few servers carry them.
    """
    local, at, host = text.strip().rpartition("@")
    if not host.isascii():
        try:
            host = host.encode("idna").decode("ascii")
        except UnicodeError:
            return ""
    address = f"{local}{at}{host.lower()}"
    return address if len(address) <= _LONGEST_ADDRESS and _ADDRESS.fullmatch(address) else ""


def answering(subject: str, otherwise: str) -> str:
    """The subject of an answer: that of the conversation with one "Re:", or `otherwise` where it has none."""
    line = _line(subject, 280)
    if not line:
        return otherwise
    return line if re.match(r"re\s?:", line, re.IGNORECASE) else f"Re: {line}"


def answered_ids(thread: Thread) -> tuple[str, ...]:
    """The ids for References, the oldest first; the last of them is that of the mail that is answered.

    By RFC 5322 section 3.6.4: those of the mail that is answered, and its own. Nothing where no mail has an id.
    """
    mails = [message for message in thread.messages if _ID.fullmatch(message.mail_id)]
    theirs = [message for message in mails if not message.mine]
    if not mails:
        return ()
    parent = (theirs or mails)[-1]
    older = [each for each in dict.fromkeys(parent.answers) if each != parent.mail_id and _ID.fullmatch(each)]
    # The first and the latest say where it belongs.
    return (*older[:1], *older[1:][-_MOST_IDS:], parent.mail_id)


def _answering(thread: Thread) -> list[str]:
    ids = answered_ids(thread)
    if not ids:
        return []
    # One id to a line keeps lines short without cutting one.
    return [f"In-Reply-To: <{ids[-1]}>", "References: " + "\r\n ".join(f"<{each}>" for each in ids)]


def _name_of(thread: Thread, to: str) -> str:
    """The customer's name as she wrote it beside this address, an empty text where it is not hers."""
    named = (m.sender for m in reversed(thread.messages) if not m.mine and bare(m.address) == to)
    return next((name for name in named if "@" not in name), "")


def _line(text: str, most: int) -> str:
    """`text` cleaned and on one line."""
    return " ".join(clean(text).split())[:most].strip()


def _mailbox(name: str, address: str) -> str:
    shown = _line(name, 120)
    if not shown:
        return f"<{address}>"
    if _is_plain(shown):
        escaped = re.sub(r'(["\\])', r"\\\1", shown)
        return f'"{escaped}"\r\n <{address}>'
    return f"{_encoded(shown)}\r\n <{address}>"


def _words(text: str) -> str:
    return text if _is_plain(text) else _encoded(text)


def _is_plain(text: str) -> bool:
    # A text that looks like an encoded word would be read as one.
    return text.isascii() and text.isprintable() and len(text) <= _LONGEST_PLAIN and "=?" not in text


def _encoded(text: str) -> str:
    """`text` as encoded words, one to a line; no character is cut in two."""
    pieces = [b""]
    for letter in text:
        data = letter.encode()
        if len(pieces[-1]) + len(data) > _WORD_BYTES:
            pieces.append(b"")
        pieces[-1] += data
    return "\r\n ".join(f"=?utf-8?b?{base64.b64encode(piece).decode('ascii')}?=" for piece in pieces)


def _body(text: str) -> tuple[str, bytes]:
    """The encoding of the body and the body, every line of which is at most 78 characters."""
    lines = clean(text).strip("\n").split("\n")
    if all(line.isascii() and len(line) <= 78 and line == line.rstrip() for line in lines):
        return "7bit", ("\r\n".join(lines) + "\r\n").encode("ascii")
    data = quopri.encodestring(("\n".join(lines) + "\n").encode(), quotetabs=False)
    return "quoted-printable", data.replace(b"\n", b"\r\n")

