"""Mails put into conversations: by the ids they answer to, else by who and what about.

The ids are those of RFC 5322 section 3.6.4. A mail that names none joins the thread of the same other party and
the same subject where it is an answer ("Re:"), has no id of its own, or comes within JOINED_DAYS of it: a customer who
writes "Cookies" again next spring wants something new.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta

from intake.inbox.keys import key_of, plain_subject
from intake.inbox.mail import Mail
from intake.model import Message, Thread

JOINED_DAYS = 30


def threads_of_mails(mails: Iterable[Mail]) -> list[Thread]:
    """Threads by the time of their first message. A mail that is there twice counts once."""
    ordered = sorted(mails, key=lambda mail: mail.message.at)
    leader = list(range(len(ordered)))

    def lead(index: int) -> int:
        while leader[index] != index:
            leader[index] = leader[leader[index]]
            index = leader[index]
        return index

    def join(one: int, other: int) -> None:
        first, second = sorted((lead(one), lead(other)))
        leader[second] = first

    holders: dict[str, int] = {}
    for index, mail in enumerate(ordered):
        for name in (mail.message_id, *mail.references):
            if name:
                join(index, holders.setdefault(name, index))
    talks: dict[tuple[str, str], int] = {}
    for index, mail in enumerate(ordered):
        subject, answers = plain_subject(mail.subject)
        known = talks.get((mail.party, subject))
        if known is not None and not mail.references:
            near = mail.message.at - ordered[known].message.at <= timedelta(days=JOINED_DAYS)
            if answers or near or not mail.message_id or not ordered[known].message_id:
                join(index, known)
        talks[mail.party, subject] = index
    groups: dict[int, list[Mail]] = {}
    for index, mail in enumerate(ordered):
        groups.setdefault(lead(index), []).append(mail)
    return [_thread(group) for group in groups.values()]


def _thread(group: list[Mail]) -> Thread:
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
