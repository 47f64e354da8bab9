"""One mail (RFC 5322, MIME) as a Message, with what is needed to put it into its thread. Never raises.

The body keeps quoted lines and the signature; the reader folds them. Attachments are named, not unpacked.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime
from email import message_from_bytes
from email.message import Message as RawMail
from zoneinfo import ZoneInfo

from intake.clean import clean
from intake.inbox import headers, times
from intake.inbox.baker import Baker, folded
from intake.inbox.html_text import text_of_html
from intake.inbox.keys import key_of, one_line
from intake.model import Message, Problem

LONGEST_TEXT = 200_000

_DEEPEST = 30
_MOST_PARTED = 60
_HEAD_END = re.compile(rb"\r?\n[ \t]*\r?\n")
_CONTENT = re.compile(rb"^content-(?:type|disposition):[^\r\n]*(?:\r?\n[ \t][^\r\n]*)*", re.IGNORECASE | re.MULTILINE)
_NEEDED = re.compile(rb"\b(?:boundary|charset) *= *(?:\"[^\"\r\n]{0,200}\"|[^\s;\"]{1,200})", re.IGNORECASE)
_SPACED_NAME = re.compile(rb"^([!-9;-~]+)[ \t]+:", re.MULTILINE)  # obsolete: RFC 5322 section 4.5
_HEADER = re.compile(rb"([!-9;-~]+)[ \t]*:[ \t]?(.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Mail:
    """A mail and its threading: `references` leads with the oldest, `party` is who it is exchanged with."""

    message: Message
    message_id: str
    references: tuple[str, ...]
    subject: str
    party: str
    problems: tuple[Problem, ...] = ()


def mail_of(
    data: bytes, *, baker: Baker, zone: ZoneInfo, where: str, before: datetime, latest: datetime, envelope: str = ""
) -> Mail:
    """`data` read as one mail.

    `before` is the time to take where the mail gives none: that of the mail before it. `envelope` is the date of its
    "From " line. A date before 1995 or more than a year after `latest` is not believed.
    """
    problems: list[Problem] = []
    mail = _parsed(data)
    subject = one_line(headers.words(headers.field(mail, "subject")), 500)
    sender, address, mine, party = _who(mail, baker)
    if not (sender or address):
        what = "this mail does not say who sent it"
        problems.append(Problem(where, what, "Look it up in your mail program", subject))
    at, said, doubt = _when(mail, envelope, zone, before, latest)
    if doubt:
        what = f"the mail from {sender or address or 'an unknown sender'} {doubt}"
        problems.append(Problem(where, what, excerpt=one_line(said, 60)))
    text, names = _body(mail)
    text = text.replace("\r\n", "\n").replace("\r", "\n").strip("\n")
    if not text.strip() and names:
        text = "[photo]" if any(kind == "image" for kind, _ in names) else "[attachment]"
    if len(text) > LONGEST_TEXT:
        problems.append(Problem(where, f"only the first {LONGEST_TEXT:,} characters of this mail were read"))
        text = text[:LONGEST_TEXT]
    cleaned = clean(text)
    message_id = next(iter(headers.ids(mail, "message-id")), "")
    facts = (message_id,) if message_id else (address or folded(sender), said, subject, cleaned)
    message = Message(
        id=key_of("mail", *facts),
        sender=sender or address,
        mine=mine,
        at=at,
        text=cleaned,
        raw=text if text != cleaned else None,
        address=address,
        attachments=tuple(name for _, name in names),
    )
    older = (*headers.ids(mail, "references"), *headers.ids(mail, "in-reply-to"))
    references = tuple(dict.fromkeys(i for i in older if i != message_id))
    return Mail(message, message_id, references, subject, party, tuple(problems))


def _parsed(data: bytes) -> RawMail:
    end = _HEAD_END.search(data)
    cut = end.start() if end else len(data)
    data = _SPACED_NAME.sub(rb"\1:", data[:cut]) + data[cut:]
    if data.count(b"boundary=") > _MOST_PARTED:
        # The parser tries every open boundary at every line.
        return _salvaged(data)
    try:
        # The newer policies raise on header fields that real mails have; this one leaves them as they are.
        return message_from_bytes(data)
    except Exception:  # the parser raises all sorts on broken parameters and endless nesting
        pass
    try:
        return message_from_bytes(_CONTENT.sub(_plainer, data))
    except Exception:  # as above
        return _salvaged(data)


def _plainer(found: re.Match[bytes]) -> bytes:
    """A Content-Type or Content-Disposition field with no parameters but those that the words depend on."""
    name, value = found[0].split(b":", 1)
    return b":".join((name, b";".join((value.split(b";", 1)[0].rstrip(), *_NEEDED.findall(value)))))


def _salvaged(data: bytes) -> RawMail:
    """The fields that matter, each as it stands, and everything after the blank line as plain text."""
    end = _HEAD_END.search(data)
    head, body = (data[: end.start()], data[end.end() :]) if end else (data, b"")
    mail: RawMail = RawMail()
    for line in re.split(rb"\r?\n(?![ \t])", head):
        if (said := _HEADER.match(line)) and not said[1].lower().startswith(b"content-"):
            mail[said[1].decode("ascii", "replace")] = headers.decoded(said[2])
    mail.set_payload(body.decode("ascii", "surrogateescape"))
    return mail


def _who(mail: RawMail, baker: Baker) -> tuple[str, str, bool, str]:
    """Sender, address, whether it is the baker's own, and the other party.

    Answers go to Reply-To where there is one (RFC 5322 section 3.6.2): an order form on a web site writes from its own
    address, or even from the baker's, on behalf of the customer named there.
    """
    name, address = next(iter(headers.people(mail, "from") or headers.people(mail, "sender")), ("", ""))
    reply_name, reply_address = next(iter(headers.people(mail, "reply-to")), ("", ""))
    others = [*headers.people(mail, "to"), *headers.people(mail, "cc")]
    strangers = [person for person in others if not baker.mails_as(*person)]
    mine = baker.mails_as(name, address)
    behalf = reply_address and reply_address != address and not baker.mails_as(reply_name, reply_address)
    if behalf and (not mine or (others and not strangers)):
        return reply_name or ("" if mine else name) or reply_address, reply_address, False, reply_address
    other = strangers[0] if mine and strangers else (name, address)
    return name, address, mine, other[1] or folded(other[0])


def _when(
    mail: RawMail, envelope: str, zone: ZoneInfo, before: datetime, latest: datetime
) -> tuple[datetime, str, str]:
    """When it was written, its date field as it stands, and what is wrong with that where something is."""
    said = headers.field(mail, "date")
    at = times.of_mail(said, zone) if said else None
    if at and times.is_sane(at, latest):
        return at, said, ""
    traces = [trace.rpartition(";")[2] for trace in headers.fields(mail, "received")[:20]]
    spare = (times.of_mail(moment, zone) for moment in (*traces, envelope) if moment)
    taken = next((moment for moment in spare if moment and times.is_sane(moment, latest)), before)
    if at:
        doubt = f"is dated {at.astimezone(UTC):%Y-%m-%d}, which can't be right"
    else:
        doubt = "has a date that can't be read" if said else "has no date"
    return taken, said, f"{doubt}; the nearest time known is taken, {taken:%Y-%m-%d %H:%M}"


def _body(mail: RawMail) -> tuple[str, list[tuple[str, str]]]:
    """The words to read and the attachments as (main type, name). Of alternatives the plain one is read."""
    texts: list[str] = []
    names: list[tuple[str, str]] = []
    rest: list[tuple[RawMail, int]] = [(mail, 0)]
    while rest:
        part, depth = rest.pop()
        main, kind = _type(part)
        inside = part.get_payload() if part.is_multipart() else None
        if isinstance(inside, list) and main != "message" and depth < _DEEPEST:
            children = [child for child in inside if isinstance(child, RawMail)]
            if kind == "alternative":
                children = _chosen(children)
            rest.extend((child, depth + 1) for child in reversed(children))
        elif main == "multipart" or (main == "text" and kind in ("plain", "html") and not _attached(part)):
            if words := _words(part, kind):
                texts.append(words)
        else:
            names.append((main, _name(part, main, kind)))
    return "\n\n".join(texts), names


def _chosen(children: list[RawMail]) -> list[RawMail]:
    """The plain alternative where it has words, else the last one: writers put the fullest last."""
    for child in children:
        if _type(child) == ("text", "plain") and _words(child, "plain").strip():
            return [child]
    nested = [child for child in children if _type(child)[0] == "multipart"]
    html = [child for child in children if _type(child) == ("text", "html")]
    return (html or nested or children)[-1:]


def _type(part: RawMail) -> tuple[str, str]:
    try:
        main, _, kind = part.get_content_type().partition("/")
        return main, kind
    except Exception:  # a broken parameter: see cpython #151857 and its like
        return "text", "plain"


def _attached(part: RawMail) -> bool:
    return headers.field(part, "content-disposition").lower().startswith("attachment")


def _words(part: RawMail, kind: str) -> str:
    try:
        charset = part.get_content_charset() or ""
    except Exception:  # as above
        charset = ""
    try:
        data = part.get_payload(decode=True)
        # Nothing at all comes of what is not in the encoding that it claims.
        text = headers.decoded(data, charset) if data and isinstance(data, bytes) else str(part.get_payload())
    except Exception:  # a transfer encoding that is not what it says
        text = str(part.get_payload())
    if kind == "html":
        return text_of_html(text)
    if "format=flowed" in headers.field(part, "content-type").lower().replace('"', "").replace(" ", ""):
        return unflowed(text)
    return text


def unflowed(text: str) -> str:
    """Lines that end in a space joined with the next of the same quote depth (RFC 3676 sections 4.2 to 4.5)."""
    lines: list[tuple[int, str, bool]] = []
    for line in text.replace("\r\n", "\n").split("\n"):
        words = line.lstrip(">")
        depth = len(line) - len(words)
        words = words.removeprefix(" ")
        flows = words.endswith(" ") and words != "-- "
        if lines and lines[-1][2] and lines[-1][0] == depth and words != "-- ":
            lines[-1] = (depth, lines[-1][1] + words, flows)
        else:
            lines.append((depth, words, flows))
    return "\n".join((">" * depth + " " if depth else "") + words for depth, words, _ in lines)


def _name(part: RawMail, main: str, kind: str) -> str:
    if main == "message":
        inside = part.get_payload()
        first = inside[0] if isinstance(inside, list) and inside else None
        subject = headers.words(headers.field(first, "subject")) if isinstance(first, RawMail) else ""
        return one_line(f"forwarded mail: {subject}" if subject else "forwarded mail")
    try:
        name = part.get_filename() or ""
    except Exception:  # as above
        name = ""
    return one_line(re.split(r"[/\\]", headers.words(str(name)))[-1]) or f"{main}/{kind}"
