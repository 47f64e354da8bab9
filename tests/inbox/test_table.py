"""Tables of messages: each case is what a file says and the messages that should come of it."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from intake.inbox.baker import Baker
from intake.inbox.shapes import Entry
from intake.inbox.table import is_table, talks_of_table
from intake.inbox.talks import Talk, threads_of_talks
from intake.model import Problem
from tests.inbox.conftest import ZONE

SAMPLE = Path(__file__).parents[2] / "sample_messages" / "messages_table.csv"


def entries(text: str, **more: Any) -> tuple[list[Entry], list[Problem]]:
    talks, problems = talks_of_table(text, ZONE, where="t.csv", **more)
    return [entry for talk in talks for entry in talk.entries], problems


def said(text: str, **more: Any) -> list[tuple[str, str, str]]:
    found, problems = entries(text, **more)
    assert problems == []
    return [(e.sender, f"{e.at:%m-%d %H:%M}" if e.at else "", e.text) for e in found]


DANA = ("Dana", "03-14 09:05", "2 dozen")
NELL = ("Nell", "03-15 21:06", "Yes, sure")
TALK = [DANA, NELL]
PLAIN = 'Sender,Time,Text\nDana,2026-03-14 09:05,2 dozen\nNell,2026-03-15 21:06,"Yes, sure"\n'


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(PLAIN, id="commas"),
        pytest.param(PLAIN.replace("\n", "\r\n"), id="CRLF"),
        pytest.param(PLAIN.replace("\n", "\r"), id="CR"),
        pytest.param("\ufeff" + PLAIN, id="a byte order mark"),
        pytest.param(PLAIN + "\n\n,,\n", id="empty rows at the end"),
        pytest.param(PLAIN.replace("\n", ",,,\n"), id="empty columns at the end"),
        pytest.param(PLAIN.replace("Dana", "D\0ana"), id="NULs"),
        pytest.param("sep=,\n" + PLAIN, id="the sign named first"),
        pytest.param("sep=;\n" + PLAIN.replace(",", ";").replace("Yes;", "Yes,"), id="another sign named first"),
        pytest.param("Sender;Time;Text\nDana;14.03.2026 09:05;2 dozen\nNell;15.03.2026 21:06;Yes, sure", id=";"),
        pytest.param(
            "Sender\tTime\tText\nDana\t3/14/2026 9:05 AM\t2 dozen\nNell\t3/15/2026 9:06 PM\tYes, sure", id="tab"
        ),
        pytest.param("Sender|Time|Text\nDana|2026-03-14 9:05|2 dozen\nNell|2026-03-15 21:06|Yes, sure", id="|"),
        pytest.param(
            'Sender, Time, Text\nDana, 2026-03-14 9:05, "2 dozen"\nNell, 2026-03-15 21:06, "Yes, sure"', id=', "'
        ),
        pytest.param("Messages\nkept for Nell, the baker\n\n" + PLAIN, id="a title above"),
        pytest.param(
            'text,sender,time\n2 dozen,Dana,2026-03-14 9:05\n"Yes, sure",Nell,2026-03-15 21:06', id="in another order"
        ),
        pytest.param(
            "Fecha;Hora;Remitente;Mensaje\n14/03/2026;9:05;Dana;2 dozen\n15/03/2026;21:06;Nell;Yes, sure", id="Spanish"
        ),
        pytest.param(
            "De;Para;Fecha y hora;Texto\nDana;x;14/03/2026 9:05;2 dozen\nNell;x;15/03/2026 21:06;Yes, sure",
            id="De, Para",
        ),
        pytest.param(
            'Date,Time,From,Message\n3/14/2026,9:05 AM,Dana,2 dozen\n3/15/2026,9:06 PM,Nell,"Yes, sure"',
            id="day and clock apart",
        ),
        pytest.param(
            'Dana,3/14/2026 9:05 AM,2 dozen\nNell,3/15/2026 9:06 PM,"Yes, sure"', id="nothing over the columns"
        ),
        pytest.param(
            '3/14/2026,9:05,1,Dana,2 dozen\n3/15/2026,21:06,2,Nell,"Yes, sure"', id="nothing over day and clock apart"
        ),
        pytest.param(
            'colA,colB,colC\nDana,2026-03-14 9:05,2 dozen\nNell,2026-03-15 21:06,"Yes, sure"',
            id="unknown words over them",
        ),
        pytest.param(
            'Id,Sender,Time,Status,Text\n1,Dana,1773497100,read,2 dozen\n2,Nell,1773626760,read,"Yes, sure"',
            id="seconds since 1970",
        ),
        pytest.param(
            "Sender,Time,Text\nDana,2026-03-14 09:05,2 dozen\nNell,2026-03-15 21:06,Yes\\, sure",
            id="guarded by a backslash",
        ),
    ],
)
def test_any_way_of_writing(text: str) -> None:
    assert said(text) == TALK
    assert is_table(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # RFC 4180 section 2, items 1 to 7, one case each.
        pytest.param(
            "D,2026-03-14 9:05,a b\r\nN,2026-03-14 9:06,c d\r\n", ["a b", "c d"], id="1 a line each, ended by CRLF"
        ),
        pytest.param(
            "D,2026-03-14 9:05,a b\r\nN,2026-03-14 9:06,c d", ["a b", "c d"], id="2 the last line may lack its end"
        ),
        pytest.param("from,at,text\r\nD,2026-03-14 9:05,a b\r\n", ["a b"], id="3 a first line of names"),
        pytest.param("from,at,text\r\nD,2026-03-14 9:05, a b \r\n", [" a b "], id="4 blanks belong to the field"),
        pytest.param('"from",at,"text"\r\n"D",2026-03-14 9:05,"a b"\r\n', ["a b"], id="5 fields may stand in quotes"),
        pytest.param(
            'from,at,text\r\nD,2026-03-14 9:05,"a\r\nb, c"\r\n', ["a\r\nb, c"], id="6 line ends and commas in quotes"
        ),
        pytest.param('from,at,text\r\nD,2026-03-14 9:05,"a ""b"" c"\r\n', ['a "b" c'], id="7 a quote is written twice"),
    ],
)
def test_rfc_4180(text: str, expected: list[str]) -> None:
    assert [entry.text for entry in entries(text)[0]] == expected


@pytest.mark.parametrize(
    ("text", "mine", "senders", "to"),
    [
        pytest.param(
            "type,date,name,number,body\nreceived,1773255910000,Dana,+13125550111,a\nsent,1773255920000,Dana,+13125550111,b",
            [False, True],
            ["Dana", ""],
            ["", "Dana"],
            id="the other party is named in both directions",
        ),
        pytest.param(
            "Direction,From,To,Date,Text\nin,Dana,Nell,2026-03-14 9:05,a\nout,Nell,Dana,2026-03-14 9:06,b",
            [False, True],
            ["Dana", "Nell"],
            ["Nell", "Dana"],
            id="from and to",
        ),
        pytest.param(
            "3/14/2026 9:05 PM,Dana,in,2 dozen please\n3/14/2026 9:06 PM,Dana,out,yes of course",
            [False, True],
            ["Dana", ""],
            ["", "Dana"],
            id="nothing over the columns",
        ),
        pytest.param(
            "Sender,Date,Text\nDana,2026-03-14 9:05,a\nMe,2026-03-14 9:06,b",
            [None, True],
            ["Dana", "Me"],
            ["", ""],
            id="me",
        ),
        pytest.param(
            "Sender,Date,Text,Is from me\nDana,2026-03-14 9:05,a,0\nNell,2026-03-14 9:06,b,1",
            [False, True],
            ["Dana", "Nell"],
            ["", ""],
            id="one or nought",
        ),
        pytest.param(
            "Sender,Date,Text\nDana,2026-03-14 9:05,a\nNell,2026-03-14 9:06,b",
            [None, None],
            ["Dana", "Nell"],
            ["", ""],
            id="doesn't say",
        ),
    ],
)
def test_whose_message(text: str, mine: list[bool | None], senders: list[str], to: list[str]) -> None:
    found, _ = entries(text)
    assert [e.mine for e in found] == mine
    assert [e.sender for e in found] == senders
    assert [e.to for e in found] == to


def test_a_form_that_was_filled_in() -> None:
    found, problems = entries(
        "Submitted at,Your name,Email address,Phone,Your message\n"
        "3/14/2026 9:05:11,Dana Reyes,dana@example.com,312-555-0111,2 dozen\n"
    )
    assert problems == []
    assert [(e.sender, e.address, e.text) for e in found] == [("Dana Reyes", "dana@example.com", "2 dozen")]


def test_other_columns() -> None:
    found, problems = entries(
        "Conversation ID,First Name,Last Name,Email,Subject,Sent,Message,Attachments\n"
        "7,Dana,Reyes,dana@example.com,Party,2026-03-14 9:05,2 dozen,\n"
        "8,Bea,Ortiz,bea@example.com,,2026-03-14 9:06,,cat.jpg\n"
    )
    assert problems == []
    first, second = found
    assert (first.sender, first.address, first.subject, first.talk) == ("Dana Reyes", "dana@example.com", "Party", "7")
    assert (second.sender, second.talk, second.text, second.attachments) == ("Bea Ortiz", "8", "[photo]", ("cat.jpg",))


TWISTED = "a,b,c,d\nx y,Dana,2026-03-14,9:05\nz y,Nell,2026-03-14,9:06\n"


@pytest.mark.parametrize(
    ("text", "columns", "expected"),
    [
        pytest.param(PLAIN.replace("Sender", "Note"), {"sender": "note"}, ["Dana", "Nell"], id="by its word"),
        pytest.param(PLAIN, {"sender": "1", "text": "3"}, ["Dana", "Nell"], id="by its number"),
        pytest.param(TWISTED, {"text": "b", "sender": "a"}, ["x y", "z y"], id="against what it looks like"),
        pytest.param("x y,Dana,2026-03-14 9:05\n", {"sender": "2"}, ["Dana"], id="by its number with nothing over it"),
        pytest.param(TWISTED, {"date": "c", "clock": "d", "sender": "b", "text": "a"}, ["Dana", "Nell"], id="four"),
        pytest.param("2026,at,words\nDana,2026-03-14 9:05,x y", {"sender": "2026"}, ["Dana"], id="a number as a word"),
    ],
)
def test_columns_of_the_house(text: str, columns: Mapping[str, str], expected: list[str]) -> None:
    found, problems = entries(text, columns=columns)
    assert problems == []
    assert [entry.sender for entry in found] == expected


@pytest.mark.parametrize(("name", "shown"), [("Writer", "sender = Writer"), ("9", "sender = 9"), ("0", "sender = 0")])
def test_a_column_that_is_not_there(name: str, shown: str) -> None:
    found, [problem] = entries(PLAIN, columns={"sender": name})
    assert [entry.sender for entry in found] == ["Dana", "Nell"]
    assert shown in problem.what
    assert "1 Sender, 2 Time, 3 Text" in problem.todo


HEAD = "Sender,Time,Text\n"
ROWS = "Dana,2026-03-14 9:05,a\nNell,2026-03-14 9:06,b\n"


@pytest.mark.parametrize(
    ("text", "texts", "told"),
    [
        pytest.param(
            HEAD + ROWS + "Dana,2026-03-14 9:07,c, d\n",
            ["a", "b", "c, d"],
            [("line 4", "1 row has more cells")],
            id="too many",
        ),
        pytest.param(
            "Sender,Time,Text,Mood\n" + ROWS,
            ["a", "b"],
            [("line 2 and below", "2 rows have fewer cells")],
            id="too few",
        ),
        pytest.param(
            HEAD + ROWS + "2 in all\n", ["a", "b"], [("line 4", "too few cells for a message")], id="no message"
        ),
        pytest.param(
            HEAD + ROWS + 'Dana,2026-03-14 9:07,"c\nNell,2026-03-14 9:08,d\n',
            ["a", "b", '"c', "d"],
            [("line 4", "nothing closes it")],
            id="an open quote",
        ),
        pytest.param(HEAD + ROWS, ["a", "b"], [], id="none of these"),
        pytest.param(
            HEAD + 'Dana,2026-03-14 9:07,"x\ny"\nNell,2026-03-14 9:08,c,d\n',
            ["x\ny", "c,d"],
            [("line 4", "1 row has more cells")],
            id="lines are the file's",
        ),
        pytest.param(
            "sep=,\n" + HEAD + ROWS + "Nell,2026-03-14 9:08,c,d\n",
            ["a", "b", "c,d"],
            [("line 5", "1 row has more cells")],
            id="the first line counts",
        ),
    ],
)
def test_what_is_out_of_order(text: str, texts: list[str], told: list[tuple[str, str]]) -> None:
    found, problems = entries(text)
    assert [entry.text for entry in found] == texts
    assert len(problems) == len(told)
    for problem, (place, what) in zip(problems, told, strict=True):
        assert problem.where == f"t.csv, {place}"
        assert what in problem.what


@pytest.mark.parametrize(
    ("text", "lacking"),
    [
        ("Time,Text\n2026-03-14 9:05,a b\n", "who wrote it"),
        ("Sender,Text\nDana,a b\n", "its time"),
        ("Sender,Time\nDana,2026-03-14 9:05\n", "the words"),
        ("Item,Price\nflour,3\nsugar,4\n", "its time"),
    ],
)
def test_a_table_of_something_else(text: str, lacking: str) -> None:
    found, [problem] = entries(text)
    assert found == []
    assert lacking in problem.what
    assert "columns" in problem.todo


@pytest.mark.parametrize("text", ["", "\n\n", "\ufeff", "sep=;\n", "Sender", "\0\0"])
def test_nothing_there(text: str) -> None:
    found, problems = entries(text)
    assert found == []
    assert len(problems) == 1
    assert not is_table(text)


DATED = "Sender,Time,Text\nDana,{},a\nNell,{},b\n"


@pytest.mark.parametrize(
    ("first", "second", "order", "expected", "told"),
    [
        ("3/14/2026 9:05 PM", "3/4/2026 9:05 PM", "DMY", ["2026-03-14", "2026-03-04"], 0),
        ("14/3/2026 21:05", "4/3/2026 21:05", "MDY", ["2026-03-14", "2026-03-04"], 0),
        ("3/4/2026 21:05", "3/4/2026 21:06", "MDY", ["2026-03-04", "2026-03-04"], 1),
        ("3/4/2026 21:05", "3/4/2026 21:06", "DMY", ["2026-04-03", "2026-04-03"], 1),
        ("2026-03-04 21:05", "2026-04-03 21:06", "DMY", ["2026-03-04", "2026-04-03"], 0),
    ],
)
def test_which_number_is_the_day(first: str, second: str, order: str, expected: list[str], told: int) -> None:
    found, problems = entries(DATED.format(first, second), date_order=order)
    assert [f"{entry.at:%Y-%m-%d}" for entry in found] == expected
    assert ["two ways" in problem.what for problem in problems] == [True] * told


@pytest.mark.parametrize(
    ("times", "counts"),
    [
        (["9:05", "9:05", "9:05"], [0, 1, 2]),
        (["9:05:10", "9:05:10", "9:05:11"], [0, 0, 0]),
        (["9:05", "9:06", "9:05"], [0, 0, 1]),
    ],
)
def test_the_same_words_again(times: list[str], counts: list[int]) -> None:
    rows = "".join(f"Dana,2026-03-14 {clock},hi\n" for clock in times)
    assert [entry.nth for entry in entries(HEAD + rows)[0]] == counts


def test_other_words_in_the_same_minute_are_not_counted() -> None:
    assert [entry.nth for entry in entries(HEAD + ROWS.replace("9:06", "9:05"))[0]] == [0, 0]


def test_the_example() -> None:
    text = SAMPLE.read_text(encoding="utf-8")
    assert is_table(text)
    found, problems = entries(text)
    assert problems == []
    threads, problems = threads_of_talks(
        [Talk("", found)], baker=Baker(), latest=datetime(2027, 6, 1, tzinfo=ZONE)
    )
    assert problems == []
    names = {m.sender: len(t.messages) for t in threads for m in t.messages if not m.mine}
    assert names == {"Linnea Fairbank": 4, "Jonah Achterberg": 3, "Rosalind Teague": 3}
    assert {m.sender for t in threads for m in t.messages if m.mine} == {"Ottilie"}
