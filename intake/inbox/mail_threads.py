"""Mails put into conversations: by the ids they answer to, else by who and what about.

The ids are those of RFC 5322 section 3.6.4. A mail that names none joins the thread of the same other party and
the same subject where it is an answer ("Re:"), has no id of its own, or comes within JOINED_DAYS of it: a customer who
writes "Cookies" again next spring wants something new.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import timedelta
from typing import NamedTuple

from intake.inbox.keys import key_of, plain_subject
from intake.inbox.mail import Mail
from intake.model import Message, Thread

JOINED_DAYS = 30


class _Fact(NamedTuple):
    """What is kept of each mail: `talk` stands for its other party and subject."""

    moment: float
    talk: int
    answers: bool
    has_id: bool
    has_references: bool


class MailGroups:
    """Which mails belong together. Mails are added in any order and known by when they were added, from 0; a few
    numbers are kept of each, so that a mailbox of any size fits in memory."""

    def __init__(self) -> None:
        self._facts: list[_Fact] = []
        self._leader: list[int] = []
        self._holders: dict[int, int] = {}

    def __len__(self) -> int:
        return len(self._facts)

    def add(self, mail: Mail) -> None:
        index = len(self._facts)
        subject, answers = plain_subject(mail.subject)
        fact = _Fact(
            mail.message.at.timestamp(),
            hash((mail.party, subject)),
            answers,
            bool(mail.message_id),
            bool(mail.references),
        )
        self._facts.append(fact)
        self._leader.append(index)
        for name in (mail.message_id, *mail.references):
            if name:
                self._join(index, self._holders.setdefault(hash(name), index))

    def groups(self) -> list[list[int]]:
        """The conversations by their first mail, each in the order of time."""
        ordered = sorted(range(len(self._facts)), key=lambda index: self._facts[index].moment)
        talks: dict[int, int] = {}
        for index in ordered:
            fact = self._facts[index]
            known = talks.get(fact.talk)
            if known is not None and not fact.has_references:
                near = fact.moment - self._facts[known].moment <= timedelta(days=JOINED_DAYS).total_seconds()
                if fact.answers or near or not fact.has_id or not self._facts[known].has_id:
                    self._join(index, known)
            talks[fact.talk] = index
        groups: dict[int, list[int]] = {}
        for index in ordered:
            groups.setdefault(self._lead(index), []).append(index)
        return list(groups.values())

    def moment(self, index: int) -> float:
        """When a mail was written, in seconds since 1970 UTC."""
        return self._facts[index].moment

    def _lead(self, index: int) -> int:
        while self._leader[index] != index:
            self._leader[index] = self._leader[self._leader[index]]
            index = self._leader[index]
        return index

    def _join(self, one: int, other: int) -> None:
        first, second = sorted((self._lead(one), self._lead(other)))
        self._leader[second] = first


def threads_of_mails(mails: Iterable[Mail]) -> list[Thread]:
    """Threads by the time of their first message. A mail that is there twice counts once."""
    held = list(mails)
    groups = MailGroups()
    for mail in held:
        groups.add(mail)
    return [thread_of_mails([held[index] for index in group]) for group in groups.groups()]


def thread_of_mails(group: Sequence[Mail]) -> Thread:
    """One conversation of its mails, which come in the order of time."""
    first = group[0]
    root = next(iter(first.references), first.message_id)
    key = f"mail:{root}" if root else f"mail:{first.party}|{plain_subject(first.subject)[0]}"
    messages: dict[str, Message] = {}
    for mail in group:
        message = mail.message
        known = messages.get(message.id)
        if known and known.text != message.text:
            # Two mails with one id: a writer's fault; neither is dropped.
            message = replace(message, id=key_of("mail", message.id, message.text))
        messages.setdefault(message.id, message)
    return Thread(key_of("thread", key), "mail", tuple(messages.values()), key, first.subject)
