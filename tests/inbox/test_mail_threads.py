from __future__ import annotations

import random
from collections.abc import Callable

import pytest

from intake.inbox.mail_threads import threads_of_mails
from intake.inbox.open_export import Export
from tests.inbox.conftest import read_mail

DANA, BEA, NELL = "dana@example.com", "bea@example.com", "nell@example.org"
Row = tuple[str, str, str, str, str, str]


def mail(day: str, sender: str, to: str, subject: str, own: str = "", answers: str = "") -> bytes:
    fields = [f"From: {sender}", f"To: {to}", f"Subject: {subject}", f"Date: {day} 2026 12:00:00 -0500"]
    fields += [f"Message-ID: <{own}>"] if own else []
    fields += [f"References: {' '.join(f'<{i}>' for i in answers.split())}"] if answers else []
    return ("\n".join(fields) + f"\n\n{sender} on {day}\n").encode()


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        # RFC 5322 appendix A.2: a mail, the answer to it, and the answer to that.
        pytest.param(
            [
                ("1 Mar", DANA, NELL, "Cookies", "1@a", ""),
                ("2 Mar", NELL, DANA, "Re: Cookies", "2@b", "1@a"),
                ("3 Mar", DANA, NELL, "Re: Cookies", "3@a", "1@a 2@b"),
            ],
            [3],
            id="A.2",
        ),
        pytest.param(
            [("1 Mar", DANA, NELL, "Cookies", "1@a", ""), ("2 Mar", DANA, NELL, "bat cookies", "2@a", "")],
            [1, 1],
            id="two",
        ),
        pytest.param(
            [("1 Mar", DANA, NELL, "Cookies", "1@a", ""), ("2 Mar", BEA, NELL, "Cookies", "2@a", "")],
            [1, 1],
            id="two customers, one subject",
        ),
        pytest.param(
            [("1 Mar", DANA, NELL, "Cookies", "1@a", ""), ("2 Mar", DANA, NELL, "More bats", "2@a", "1@a")],
            [2],
            id="new subject, same ids",
        ),
        pytest.param(
            [
                ("2 Mar", DANA, NELL, "Re: Cookies", "2@a", "0@b"),
                ("3 Mar", NELL, DANA, "Re: Cookies", "3@b", "0@b 2@a"),
            ],
            [2],
            id="the first mail is not in the export",
        ),
        pytest.param(
            [
                ("2 Jan", DANA, NELL, "Cookies", "1@a", ""),
                ("3 Jan", NELL, DANA, "RE: AW: Fwd:  cookies", "2@b", ""),
                ("9 Mar", DANA, NELL, "Re[2]: Cookies", "3@a", ""),
            ],
            [3],
            id="answers that name no ids",
        ),
        pytest.param(
            [("1 Mar", DANA, NELL, "Cookies", "1@a", ""), ("2 Mar", DANA, NELL, "Cookies", "2@a", "")],
            [2],
            id="an afterthought",
        ),
        pytest.param(
            [("2 Jan", DANA, NELL, "Cookies", "1@a", ""), ("9 Mar", DANA, NELL, "Cookies", "2@a", "")],
            [1, 1],
            id="the same subject months later",
        ),
        pytest.param(
            [("2 Jan", DANA, NELL, "Cookies", "", ""), ("9 Mar", DANA, NELL, "Cookies", "", "")],
            [2],
            id="no ids at all",
        ),
        pytest.param(
            [("1 Mar", DANA, NELL, "Cookies", "1@a", ""), ("1 Mar", DANA, NELL, "Cookies", "1@a", "")], [1], id="twice"
        ),
    ],
)
def test_threads(rows: list[Row], expected: list[int]) -> None:
    mails = [read_mail(mail(*row)) for row in rows]
    threads = threads_of_mails(mails)
    assert [len(thread.messages) for thread in threads] == expected
    assert len({thread.key for thread in threads}) == len(threads)
    random.Random(1).shuffle(mails)
    assert {t.key: t.messages for t in threads_of_mails(mails)} == {t.key: t.messages for t in threads}


def test_a_thread_keeps_its_key_when_answers_come() -> None:
    first, answer = mail("1 Mar", DANA, NELL, "Cookies", "1@a"), mail("2 Mar", NELL, DANA, "Re: Cookies", "2@b", "1@a")
    alone = threads_of_mails([read_mail(first)])[0]
    later = threads_of_mails([read_mail(answer)])[0]
    both = threads_of_mails([read_mail(first), read_mail(answer)])[0]
    assert alone.key == later.key == both.key
    assert alone.id == both.id
    assert both.messages == alone.messages + later.messages
    assert (both.channel, both.subject) == ("mail", "Cookies")


def test_two_mails_with_one_id_are_both_kept() -> None:
    mails = [read_mail(mail(day, DANA, NELL, "Cookies", "1@a")) for day in ("1 Mar", "2 Mar")]
    (thread,) = threads_of_mails(mails)
    assert [m.text for m in thread.messages] == [f"{DANA} on 1 Mar", f"{DANA} on 2 Mar"]
    assert len({m.id for m in thread.messages}) == 2


def test_a_mailbox_gives_the_same_threads_when_it_is_exported_again(take: Callable[..., Export]) -> None:
    rows = [
        mail("1 Mar", DANA, NELL, "Cookies", "1@a"),
        mail("2 Mar", BEA, NELL, "Bats"),
        mail("3 Mar", NELL, DANA, "Re: Cookies", "2@b", "1@a"),
    ]
    line = b"From x@example.com Wed Mar 11 14:05:10 2026\n"
    once = take(b"\n".join(line + row for row in rows), name="first.mbox")
    again = take(b"\n".join(line + row for row in [*rows[::-1], mail("4 Mar", BEA, NELL, "Re: Bats")]), name="second")
    assert {t.key for t in once.threads} == {t.key for t in again.threads}
    ids = [{m.id for t in export.threads for m in t.messages} for export in (once, again)]
    assert ids[0] < ids[1]
    assert set(once.parties) == {DANA, BEA, NELL}
