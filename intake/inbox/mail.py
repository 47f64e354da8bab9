"""One mail (RFC 5322, MIME) as a Message, with what is needed to put it into its thread. Never raises.

The body keeps quoted lines and the signature; the reader folds them. Attachments are named, not unpacked.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from typing import NamedTuple
from zoneinfo import ZoneInfo

from intake.clean import clean
from intake.inbox import headers, times
from intake.inbox.baker import Baker, folded
from intake.inbox.keys import key_of, one_line
from intake.inbox.mail_body import taken_apart
from intake.model import Message, Problem

LONGEST_TEXT = 200_000
# A mail names those before it at its head: the first and the latest of a long exchange say where it belongs.
_MOST_ANSWERED = 38


@dataclass(frozen=True, slots=True)
class Mail:
    """A mail and its threading: `references` leads with the oldest, `party` is who it is exchanged with. `people` are
    the names and addresses it goes between; `hers` tells whether the baker is known to be one of them."""

    message: Message
    message_id: str
    references: tuple[str, ...]
    subject: str
    party: str
    problems: tuple[Problem, ...] = ()
    people: tuple[tuple[str, str], ...] = ()
    hers: bool = False


def mail_of(
    data: bytes, *, baker: Baker, zone: ZoneInfo, where: str, before: datetime, latest: datetime, envelope: str = ""
) -> Mail:
    """`data` read as one mail.

    `before` is the time to take where the mail gives none: that of the mail before it. `envelope` is the date of its
    "From " line. A date before 1995 or more than a year after `latest` is not believed.
    """
    problems: list[Problem] = []
    head, text, names = taken_apart(data)
    subject = one_line(headers.words(headers.field(head, "subject")), 500)
    sender, address, mine, party, people, hers = _parties(head, baker)
    if not (sender or address):
        what = "this mail does not say who sent it"
        problems.append(Problem(where, what, "Look it up in your mail program", subject))
    at, said, doubt = _when(head, envelope, zone, before, latest)
    if doubt:
        what = f"the mail from {sender or address or 'an unknown sender'} {doubt}"
        problems.append(Problem(where, what, excerpt=one_line(said, 60)))
    if "\r" in text:
        text = text.replace("\r\n", "\n").replace("\r", "\n")
    text = text.strip("\n")
    if not text.strip() and names:
        text = "[photo]" if any(kind == "image" for kind, _ in names) else "[attachment]"
    if len(text) > LONGEST_TEXT:
        problems.append(Problem(where, f"only the first {LONGEST_TEXT:,} characters of this mail were read"))
        text = text[:LONGEST_TEXT]
    cleaned = clean(text)
    message_id = next(iter(headers.ids(head, "message-id")), "")
    facts = (message_id,) if message_id else (address or folded(sender), said, subject, cleaned)
    older = (*headers.ids(head, "references"), *headers.ids(head, "in-reply-to"))
    references = tuple(dict.fromkeys(i for i in older if i != message_id))
    message = Message(
        id=key_of("mail", *facts),
        sender=sender or address,
        mine=mine,
        at=at,
        text=cleaned,
        raw=text if text != cleaned else None,
        address=address,
        attachments=tuple(name for _, name in names),
        mail_id=message_id,
        answers=references[:1] + references[1:][-_MOST_ANSWERED:],
    )
    return Mail(message, message_id, references, subject, party, tuple(problems), people, hers)


class _Parties(NamedTuple):
    sender: str
    address: str
    mine: bool
    other: str
    people: tuple[tuple[str, str], ...]
    hers: bool


def _parties(head: headers.Head, baker: Baker) -> _Parties:
    """Who wrote to whom.

    Answers go to Reply-To where there is one (RFC 5322 section 3.6.2): an order form on a web site writes from its own
    address, or even from the baker's, on behalf of the customer named there.
    """
    name, address = next(iter(headers.people(head, "from") or headers.people(head, "sender")), ("", ""))
    reply_name, reply_address = next(iter(headers.people(head, "reply-to")), ("", ""))
    others = (*headers.people(head, "to"), *headers.people(head, "cc"))
    strangers = [person for person in others if not baker.mails_as(*person)]
    mine = baker.mails_as(name, address)
    hers = mine or len(strangers) < len(others)
    behalf = reply_address and reply_address != address and not baker.mails_as(reply_name, reply_address)
    if behalf and (not mine or (others and not strangers)):
        sender = reply_name or ("" if mine else name) or reply_address
        return _Parties(sender, reply_address, False, reply_address, ((sender, reply_address), *others), hers)
    other = strangers[0] if mine and strangers else (name, address)
    return _Parties(name, address, mine, other[1] or folded(other[0]), ((name, address), *others), hers)


def _when(
    head: headers.Head, envelope: str, zone: ZoneInfo, before: datetime, latest: datetime
) -> tuple[datetime, str, str]:
    """When it was written, its date field as it stands, and what is wrong with that where something is."""
    said = headers.field(head, "date")
    at = times.of_mail(said, zone) if said else None
    if at and times.is_sane(at, latest):
        return at, said, ""
    traces = [trace.rpartition(";")[2] for trace in headers.fields(head, "received")[:20]]
    spare = (times.of_mail(moment, zone) for moment in (*traces, envelope) if moment)
    taken = next((moment for moment in spare if moment and times.is_sane(moment, latest)), before)
    if at:
        doubt = f"is dated {at.astimezone(UTC):%Y-%m-%d}, which can't be right"
    else:
        doubt = "has a date that can't be read" if said else "has no date"
    return taken, said, f"{doubt}; the nearest time known is taken, {taken:%Y-%m-%d %H:%M}"
