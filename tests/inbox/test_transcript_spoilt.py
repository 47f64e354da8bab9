"""What is a chat in plain text and what is none; bent, long and hostile files are read as far as they go."""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest

from intake.inbox.transcript import is_transcript, talks_of_transcript
from tests.inbox.conftest import ZONE
from tests.inbox.test_transcript import CLOCKS, HEADERS, LINES, NAMES, line


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param("Hi! Could I get 2 dozen bears for 3/14 at 2:05 PM?\nThanks: Dana\n", id="a message"),
        pytest.param("Hi Nell\n\nParty is March 14, 2026 2:00 PM\nDana\nPickup: 3/13/26 3:30 PM\nthanks\n", id="days"),
        pytest.param("Name: Dana Reyes\nDate: 3/14/2026\nTime: 2:05 PM\nCount: 24\n", id="a form"),
        pytest.param("date,name,words\n3/14/26 2:05 PM,Dana,hi\n3/14/26 2:07 PM,Nell,hello\n", id="CSV"),
        pytest.param('"3/14/26","2:05 PM","Dana","hi"\n"3/14/26","2:07 PM","Nell","hello"\n', id="quoted CSV"),
        pytest.param(
            "From: Dana <d@example.org>\nTo: Nell\nDate: Sat, 14 Mar 2026 14:05:00 -0500\n\nHi\n", id="a mail"
        ),
        pytest.param(
            "Thanks!\n\nOn Sat, Mar 14, 2026 at 2:05 PM Nell wrote:\n> hi\n\n"
            "On Fri, Mar 13, 2026 at 2:05 PM Dana wrote:\n> x\n",
            id="answers quoted below",
        ),
        pytest.param(
            "2026-03-14 14:05:10 started\n2026-03-14 14:05:11 reading the oven\n2026-03-14 14:05:12 done\n",
            id="a log without names",
        ),
        pytest.param(
            "2026-03-14 14:05:10 INFO: started\n2026-03-14 14:05:11 WARNING: hot\n2026-03-14 14:05:12 INFO: done\n",
            id="a log with levels",
        ),
        pytest.param(
            "<html><body>[3/14/26, 2:05 PM] Dana: hi<br>\n[3/14/26, 2:06 PM] Nell: hi</body></html>", id="HTML"
        ),
        pytest.param("3/14: bears\n3/15: stars\n3/16: moons\n", id="a list of days"),
        pytest.param(
            "Saturday March 14, 2026\n9:00 Dough: chill\n10:30 Bake: 24\n14:00 Ice: white\n", id="a day's plan"
        ),
        pytest.param("9:00 Dana: pick up\n10:00 Bea: pick up\n", id="clocks without a day"),
    ],
)
def test_what_is_no_transcript(text: str) -> None:
    assert not is_transcript(text)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("[3/14/26, 2:05 PM] Dana: 2 dozen bears", id="one line is enough"),
        pytest.param(line("a") + line("b", "Nell"), id="two lines"),
        pytest.param("\ufeff\n\n" + line("a") + line("b", "Nell"), id="blanks before"),
        pytest.param("".join(line("x " * 3000) for _ in range(40))[: 64 * 1024], id="cut within a line"),
    ],
)
def test_what_is_one(text: str) -> None:
    assert is_transcript(text)


def test_no_transcript_gives_one_problem() -> None:
    talks, (problem,) = talks_of_transcript("2 dozen please", ZONE, name="note")
    assert (talks, problem.where) == ([], "note")
    assert "no messages" in problem.what
    assert problem.todo


def _bent(seed: int) -> str:
    """A chat with a few characters cut, doubled, swapped or put in."""
    rng = random.Random(seed)
    header = rng.choice(HEADERS)
    lines = []
    for number in range(rng.randrange(1, 8)):
        at = datetime(2026, 3, 14, 9) + timedelta(minutes=number * rng.randrange(600))
        when = header.replace("%D", at.strftime("%m/%d/%y")).replace("%C", at.strftime(rng.choice(CLOCKS)))
        lines.append(when.format(name=rng.choice(NAMES), words="\n".join(rng.choices(LINES, k=2))))
    text = "\n".join(lines)
    for _ in range(rng.randrange(1, 30)):
        place = rng.randrange(len(text) + 1)
        put = rng.choice(
            ["", "[", "<", ":", "9999999", "99:99", "\n", "\u202f", "\u200e", "\0", "٣", "²", "-", text[:9]]
        )
        text = text[:place] + put + text[place + rng.randrange(3) :]
    return text


def test_bent_files_are_read_as_far_as_they_go() -> None:
    for seed in range(1500):
        text = _bent(seed)
        is_transcript(text)
        talks, problems = talks_of_transcript(text, ZONE)
        assert talks or problems
        assert all(e.at is None or e.at.tzinfo for talk in talks for e in talk.entries)


def _many(count: int) -> str:
    return "".join(
        f"[{1 + n // 4000}/{1 + n // 200 % 20}/26, {n % 200 // 20}:{n % 20 * 3:02}:07 PM] Dana: cookies {n}\n"
        for n in range(count)
    )


@pytest.mark.parametrize(
    ("hostile", "most"),
    [
        pytest.param(lambda: _many(40_000), 40_000, id="many messages"),
        pytest.param(lambda: "a " * 500_000, 0, id="words without an end"),
        pytest.param(lambda: "1" * 1_000_000, 0, id="digits"),
        pytest.param(lambda: "1/1/26, 1:11 " * 75_000, 0, id="times on one line"),
        pytest.param(lambda: "1/1/26, 1:11 \n" * 75_000, 75_000, id="times on lines"),
        pytest.param(lambda: "[1/1/26, 1:11] " + "a" * 70 + "\n", 1, id="a long name"),
        pytest.param(lambda: ("[1/1/26, 1:11] " + "a - " * 30 + "\n") * 8_000, 8_000, id="names without an end"),
        pytest.param(lambda: "Dana\n" * 200_000, 0, id="names alone"),
        pytest.param(lambda: " \t" * 500_000, 0, id="blanks"),
        pytest.param(lambda: "\n" * 1_000_000, 0, id="empty lines"),
        pytest.param(lambda: "-" * 1_000_000, 0, id="dashes"),
        pytest.param(lambda: "March 1, 2026\n" * 70_000, 0, id="days alone"),
        pytest.param(lambda: line("<attached: " * 60_000) * 2, 2, id="attachments that never end"),
        pytest.param(lambda: line("omitted • " * 60_000) * 2, 2, id="notes that never end"),
        pytest.param(lambda: line("a. (b attached" * 50_000) * 2, 2, id="file names that never end"),
    ],
)
def test_a_megabyte_of_anything_is_read(hostile: Callable[[], str], most: int) -> None:
    text = hostile()
    is_transcript(text)
    talks, _ = talks_of_transcript(text, ZONE)
    assert sum(len(talk.entries) for talk in talks) <= most
