"""Mailboxes and books of any size for the benches: the same seed gives the same mails. All people are invented."""

from __future__ import annotations

import base64
import quopri
import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from email.utils import format_datetime
from itertools import accumulate
from pathlib import Path
from zoneinfo import ZoneInfo

from intake.inbox.keys import key_of
from intake.model import Message, Thread

ZONE = ZoneInfo("America/Chicago")
BAKER, ADDRESS = "Nell Ames", "nell@example.org"
START, SPAN = datetime(2017, 1, 2, 9, tzinfo=ZONE), timedelta(days=3500)
FIRST = "Dana Bea Cy Mara Lena Tom Ines Ruth Omar Pia Kofi Sun Ada Noor Gus Ivy".split()
LAST = "Reyes Ortiz Katz Lund Moss Ngata Bell Sato Okafor Vance Hale Prins".split()
ASKS = (
    "Hi! Could you make {n} {what} cookies for {name}'s birthday on the {day}th?",
    "We would love {n} cookies, {what} theme, pickup {weekday} after five.",
    "Thank you so much, that works for us.",
    "Can you ship them to my sister instead? She needs them by {weekday}.",
    "What would {n} of the {what} ones cost?",
    "Please no nuts, one of the kids has an allergy.",
    "Yes please go ahead, I will send the deposit tonight.",
)
WEEKDAYS = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday".split()


def vocabulary() -> tuple[list[str], list[float]]:
    """Words and the weights they come with: the n-th most frequent 1/n as often as the first (Zipf's law)."""
    folder = Path(__file__).parents[2] / "intake" / "reading" / "words"
    words = " ".join((folder / f"{n}.txt").read_text(encoding="utf-8") for n in ("motifs_en", "names", "themes_en"))
    known = sorted({word.lower() for word in words.split() if word.isalpha()})
    random.Random(1).shuffle(known)
    return known, list(accumulate(1 / rank for rank in range(1, len(known) + 1)))


@dataclass
class _Talk:
    name: str
    address: str
    subject: str
    ids: list[str] = field(default_factory=list)


class Letters:
    """An endless run of mails in conversations of a few each, in the order of time."""

    def __init__(self, count: int, seed: int = 7) -> None:
        self._dice, self._count = random.Random(seed), count
        self._words, self._weights = vocabulary()

    def words(self, count: int) -> str:
        return " ".join(self._dice.choices(self._words, cum_weights=self._weights, k=count))

    def said(self) -> str:
        dice = self._dice
        lines = [
            dice.choice(ASKS).format(
                n=dice.choice(("two dozen", "36", "4 dozen", "18")),
                what=dice.choice(self._words),
                name=dice.choice(FIRST),
                day=dice.randrange(4, 28),
                weekday=dice.choice(WEEKDAYS),
            )
            for _ in range(dice.randrange(1, 4))
        ]
        return "\n".join([*lines, *(self.words(dice.randrange(6, 14)) for _ in range(dice.randrange(0, 4)))])

    def mails(self) -> Iterator[tuple[_Talk, bool, datetime, str, str]]:
        """Conversation, whether the baker writes, when, what, and the mail's own id."""
        dice, talks = self._dice, list[_Talk]()
        for number in range(self._count):
            if talks and dice.random() < 0.75:
                talk = dice.choice(talks)
            else:
                name = f"{dice.choice(FIRST)} {dice.choice(LAST)}"
                address = f"{name.lower().replace(' ', '.')}{dice.randrange(10**6)}@example.com"
                talk = _Talk(name, address, f"Cookies for {dice.choice(WEEKDAYS)}, {self.words(2)}")
                talks.append(talk)
                del talks[:-400]
            mine = bool(talk.ids) and dice.random() < 0.45
            mail_id = f"<{number}.{dice.randrange(10**9)}@mail.example.com>"
            yield talk, mine, START + SPAN * (number / self._count), self.said(), mail_id
            talk.ids.append(mail_id)


def write_mailbox(path: Path, count: int) -> None:
    """An mbox (RFC 4155) of `count` mails: plain, quoted-printable, base64 and two-part ones."""
    with path.open("w", encoding="utf-8", newline="\n") as file:
        for number, (talk, mine, at, said, mail_id) in enumerate(Letters(count).mails()):
            sender, to = (BAKER, ADDRESS), (talk.name, talk.address)
            if not mine:
                sender, to = to, sender
            head = [
                f"From {sender[1]} {at:%a %b %d %H:%M:%S %Y}",
                f"Return-Path: <{sender[1]}>",
                f"Received: from mx.example.net (mx.example.net [192.0.2.{number % 255}])\n\tby in.example.org"
                f" with ESMTPS id {number:x}\n\tfor <{to[1]}>; {format_datetime(at)}",
                f"From: {sender[0]} <{sender[1]}>",
                f"To: {to[0]} <{to[1]}>",
                f"Subject: {'Re: ' if talk.ids else ''}{talk.subject}",
                f"Date: {format_datetime(at)}",
                f"Message-ID: {mail_id}",
                "MIME-Version: 1.0",
            ]
            if talk.ids:
                head += [f"In-Reply-To: {talk.ids[-1]}", "References: " + "\n ".join(talk.ids[-8:])]
                said += "\n\nOn Monday she wrote:\n" + "\n".join("> " + line for line in talk.subject.split(", "))
            head, body = _dressed(head, said, number)
            file.write("\n".join(head) + "\n\n" + body.rstrip("\n") + "\n\n")


def _dressed(head: list[str], said: str, number: int) -> tuple[list[str], str]:
    plain = "Content-Type: text/plain; charset=UTF-8"
    match number % 10:
        case 0 | 1:
            body = quopri.encodestring(f"{said} café — ½ dozen".encode()).decode("ascii")
            return [*head, plain, "Content-Transfer-Encoding: quoted-printable"], body
        case 2:
            body = base64.encodebytes(said.encode()).decode("ascii")
            return [*head, plain, "Content-Transfer-Encoding: base64"], body
        case 3 | 4:
            parts = f"{plain}\n\n{said}\n", f"Content-Type: text/html; charset=UTF-8\n\n<div>{said}</div>\n"
            body = "".join(f"--part{number}\n{part}\n" for part in parts) + f"--part{number}--\n"
            return [*head, f'Content-Type: multipart/alternative; boundary="part{number}"'], body
    return [*head, plain], said


def threads(count: int) -> Iterator[Thread]:
    """Conversations of five messages each, `count` messages in all, as if they came from an export."""
    letters = Letters(count, seed=11)
    talk, messages = "", list[Message]()
    for number, (_, mine, at, said, mail_id) in enumerate(letters.mails()):
        if number % 5 == 0:
            talk = f"{FIRST[number % 16]} {LAST[number // 16 % 12]}"
        sender = BAKER if mine else talk
        messages.append(Message(key_of("mail", mail_id), sender, mine, at, said))
        if number % 5 == 4:
            yield Thread(f"x{number}", "mail", tuple(messages), f"bench:{number}", "Cookies")
            messages = []
