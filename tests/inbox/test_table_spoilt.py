"""What is a table of messages and what is none; any table, mended or spoilt, gives a value."""

from __future__ import annotations

import csv
import io
import random
from collections.abc import Iterable
from datetime import datetime
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.inbox.table import is_table
from tests.inbox.test_table import DATED, HEAD, PLAIN, SAMPLE, entries


@pytest.mark.parametrize(
    "head",
    [
        pytest.param("Hi Nell, could I get 2 dozen, please?\nThanks, Dana\n", id="a message"),
        pytest.param(
            "Dear Nell,\n\nflour, sugar, butter\nthe party is 3/14/2026, at 2, outside\n\nDana", id="a letter"
        ),
        pytest.param("12/3/26, 9:05 - Dana: hi, how are you\n12/3/26, 9:06 - Nell: fine, thanks\n", id="dash chat"),
        pytest.param("[12/3/26, 9:05:10 PM] Dana: hi, you\n[12/3/26, 9:06:10 PM] Nell: fine, x\n", id="bracket chat"),
        pytest.param("[2026-03-14 9:05] Dana: hi, you, there\n[2026-03-14 9:06] Nell: a, b\n", id="ISO bracket chat"),
        pytest.param("9:05 PM - Dana: hi, how, are\n9:06 PM - Nell: fine, thanks, and\n", id="clock chat"),
        pytest.param('[{"from": "Dana", "at": "2026-03-11", "text": "hi"}]', id="JSON list"),
        pytest.param('{"from": "Dana", "at": "2026-03-11",\n"text": "hi"}', id="JSON object"),
        pytest.param("From nell@example.org Sat Mar 14 09:05:00 2026\nSubject: hi, you\n\na, b\n", id="mbox"),
        pytest.param("From: Dana, Reyes <d@example.com>\nDate: Sat, 14 Mar 2026 09:05\nSubject: a, b\n\nhi", id="mail"),
        pytest.param("<!doctype html><p>a, b, c\n<p>d, e, f", id="HTML"),
        pytest.param("Item,Price\nflour,3\nsugar,4\n", id="a table of prices"),
        pytest.param("2026-03-14,12.50\n2026-03-15,13.50\n", id="days and sums"),
        pytest.param(
            "Dana Reyes\n3/14/2026, 9:05 PM\nhi, 2 dozen\nNell\n3/14/2026, 9:06 PM\nyes, ok\n", id="a copied chat"
        ),
        pytest.param("", id="nothing"),
    ],
)
def test_no_table(head: str) -> None:
    assert not is_table(head)


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(HEAD + 'Dana,2026-03-14 9:05,"see:\n9:05 - hi\nbye"\n', id="a chat within a cell"),
        pytest.param(HEAD + "Dana,2026-03-14 9:05,hello there\n" * 5000, id="longer than what is looked at"),
        pytest.param("Date,From,Subject,Body\n2026-03-14 9:05,Dana,hi,a b", id="words that mails begin with"),
    ],
)
def test_a_table(text: str) -> None:
    assert is_table(text[: 64 * 1024])


people = st.sampled_from(["Dana Reyes", "Nell", "Ortiz, Bea", 'Cy "the oven" Park', "+1 312 555 0111"])
letters = st.characters(exclude_categories=["Cs"], exclude_characters="\0\ufeff\\\ue000")
words = st.text(letters, min_size=1, max_size=40).filter(str.strip)
moments = st.datetimes(datetime(2020, 1, 1), datetime(2030, 1, 1)).map(lambda at: at.replace(microsecond=0))


@given(
    st.lists(st.tuples(people, moments, words), min_size=1, max_size=12),
    st.sampled_from(",;\t|"),
    st.sampled_from(["\r\n", "\n", "\r"]),
    st.sampled_from([csv.QUOTE_ALL, csv.QUOTE_MINIMAL, csv.QUOTE_NONNUMERIC]),
    st.booleans(),
    st.permutations(["Sender", "Time", "Text"]),
)
@settings(max_examples=200)
def test_what_csv_writes_reads_back(
    rows: list[tuple[str, datetime, str]], sign: str, end: str, quoting: int, guarded: bool, order: list[str]
) -> None:
    if quoting == csv.QUOTE_MINIMAL:  # such a writer leaves a line end of another kind than its own without quotes
        others = str.maketrans("", "", "".join({"\r", "\n"} - set(end)))
        rows = [(who, at, text.translate(others)) for who, at, text in rows if text.translate(others)]
    file = io.StringIO(newline="")
    write = csv.DictWriter(
        file,
        order,
        delimiter=sign,
        lineterminator=end,
        quoting=quoting,  # type: ignore[arg-type]
        doublequote=not guarded,
        escapechar="\\" if guarded else None,
    )
    write.writeheader()
    for who, at, text in rows:
        write.writerow({"Sender": who, "Time": at.isoformat(" "), "Text": text})
    found, problems = entries(file.getvalue())
    assert problems == []
    # A local time that is skipped or said twice in spring and autumn stays the wall time that was written.
    assert [(e.sender, e.at and e.at.replace(tzinfo=None), e.text) for e in found] == rows


@given(st.lists(st.lists(st.text(letters, max_size=12), min_size=2, max_size=5), min_size=1, max_size=8))
def test_any_table_gives_a_value(rows: list[list[str]]) -> None:
    file = io.StringIO(newline="")
    csv.writer(file).writerows(rows)
    found, problems = entries(file.getvalue())
    assert found or problems


def mutated(source: str, pick: random.Random) -> str:
    text = source
    for _ in range(pick.randrange(1, 12)):
        at = pick.randrange(len(text) + 1)
        cut = at + pick.choice((0, 0, 1, 5, 40))
        text = (
            text[:at]
            + pick.choice(('"', ",", ";", "\n", "\r", "\t", "\\", "\0", "'", "=", "9:05", "", "é", '""'))
            + text[cut:]
        )
    return text


def test_mutations() -> None:
    pick = random.Random(4180)
    sources = [SAMPLE.read_text(encoding="utf-8")[:3000], PLAIN, DATED.format("3/4/2026 9:05", "3/5/2026 9:06")]
    for n in range(300):
        text = mutated(sources[n % 3], pick)
        is_table(text)
        entries(text)


MB = 1_000_000


def hostile() -> Iterable[Any]:
    for name, text in {
        "quotes": '"' * MB,
        "commas": "," * MB,
        "lines": "\n" * MB,
        "quote a line": '"\n' * (MB // 2),
        "all signs": ',;\t|"\n' * (MB // 6),
        "open quotes": (HEAD + 'Dana,2026-03-14 9:05,"a\n' * (MB // 24)),
        "one cell": HEAD + "Dana,2026-03-14 9:05," + "x" * MB,
        "digits": "9" * MB,
        "colons": "9:05 - " * (MB // 7),
        "backslashes": "\\" * MB,
        "a wide row": HEAD + "Dana,2026-03-14 9:05,a" + ",b" * (MB // 2),
        "wide rows": ("a," * 5000 + "\n") * 100,
        "blanks": HEAD + " " * MB,
        "NULs": "\0" * MB,
    }.items():
        yield pytest.param(text, id=name)


@pytest.mark.parametrize("text", hostile())
def test_hostile_tables_end(text: str) -> None:
    is_table(text[: 64 * 1024])
    entries(text)
