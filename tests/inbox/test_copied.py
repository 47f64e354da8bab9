"""Conversations copied from a page or a window; and single messages, which must never be taken for one."""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.inbox.copied import is_copied, talks_of_copied
from intake.inbox.paste import LONGEST_PASTE
from intake.inbox.shapes import Entry
from tests.inbox.conftest import ZONE

SAMPLE = Path(__file__).parents[2] / "sample_messages" / "copied_conversation.txt"
AT = datetime(2026, 3, 20, 12, 0, tzinfo=ZONE)  # a Friday


def entries_of(text: str, mine: tuple[str, ...] = ()) -> list[Entry]:
    talks, _ = talks_of_copied(text, ZONE, at=AT, mine=mine)
    return [entry for talk in talks for entry in talk.entries]


def told(text: str) -> list[tuple[str, str]]:
    """Sender ("You" for the baker) and words of each message."""
    return [("You" if e.mine and not e.sender else e.sender, e.text) for e in entries_of(text)]


def times(text: str) -> list[str]:
    return [f"{entry.at:%a %m-%d %H:%M}" for entry in entries_of(text)]


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("2 dozen bears please", id="one line"),
        pytest.param(
            "Hi Nell!\n\nCould I get 2 dozen bears for March 28?\nPickup at 3:30pm\n\nThanks,\nDana", id="signed"
        ),
        pytest.param("Hi!\n2 dozen bears\n3:30 PM\nthanks", id="a time on its own line"),
        pytest.param("pickup times that work\n3:30pm\n4:00pm\n5:15pm\nlet me know", id="times on their own lines"),
        pytest.param("Saturday\n3:30 PM\nSunday\n11:00 AM\nwhichever you like", id="days and times"),
        pytest.param("Name: Dana Reyes\nDate: March 28\nTime: 3:30 PM\nCount: 24\nTheme: bears", id="a form"),
        pytest.param("Name\nDana Reyes\nDate\nMarch 28\nTime\n3:30 PM\nTheme\nBears", id="a form on lines"),
        pytest.param("put these names on them:\nEmma\nLiam\nNoah\nEmma\nAva", id="names on lines, one twice"),
        pytest.param("names:\nEmma\n3:30 PM group\nLiam\n4:30 PM group\nEmma\nmaybe", id="names and hours"),
        pytest.param("Emma\nbears\nLiam\nstars\nEmma\nmoons\nthanks!", id="names that come back"),
        pytest.param("12 pink\n12 blue\n\n1\n\n2 with EMMA", id="counts"),
        pytest.param("❤️\n🐻\n24 of these", id="signs"),
        pytest.param("Thanks so much!\n❤️\nDana", id="a heart"),
        pytest.param("Best,\nDana Reyes\nOffice Manager\n555-0118\nDana Reyes", id="a signature with the name twice"),
        pytest.param("You sent me a quote last week.\nI'd like to go ahead.\nDana", id="you sent"),
        pytest.param("Sent\nthe deposit\nToday\n3:30 PM\nDana", id="words like furniture"),
        pytest.param("Delivered to\n71 Pump House Row\n9:30 AM\nMarch 28\nMs. Ngata", id="an address"),
        pytest.param("Saturday, March 28\n10:00 AM Setup\n11:30 AM Ceremony\n1:00 PM Lunch", id="a day's plan"),
        pytest.param("Ceremony 3:30 PM\nthe barn\nDinner 5:30 PM\nthe house\n", id="a plan with names and hours"),
        pytest.param("Rosewood Barn 3:30 PM\ncookies out\nLarch Hall 5:30 PM\ncookies away", id="places and hours"),
        pytest.param("Pickup\nMarch 28\n3:30 PM\nPickup\nMarch 29\n4:30 PM", id="two pickups"),
        pytest.param("Pickup\n3:30 PM\nbears\nDelivery\n4:30 PM\nstars\nPickup\n5:30 PM\nmoons", id="three hand-overs"),
        pytest.param("Order 1:\n24 bears\nMarch 28\n\nOrder 2:\n12 stars\nApril 4", id="two orders"),
        pytest.param("Hola Nell!\nQuiero 2 docenas\nSábado\n3:30 p. m.\nGracias\nBea Ortiz", id="Spanish"),
        pytest.param("From: Dana\nTo: Nell\nSubject: bears\n\n2 dozen please\n\nDana", id="a mail"),
        pytest.param(
            "> Sure!\n> What day?\nMarch 28\n\nOn Mon, Mar 9, 2026 at 3:41 PM Nell wrote:\n> hi", id="a reply"
        ),
        pytest.param(
            "Q: how many?\nA: 24\nQ: when?\nA: March 28\nQ: what time?\nA: 3:30 PM", id="questions and answers"
        ),
        pytest.param("Happy Birthday\nEMMA\nHappy Birthday\nEMMA\non two of them, party 3:30 PM", id="lettering"),
        pytest.param("Option A\n24 bears\nOption B\n36 stars\nOption A\nis better i think\n2h", id="choices"),
        pytest.param("Reply\nby Friday\nplease", id="reply"),
        pytest.param("Photo\n\nlike this but in blue\n\nDana", id="a photo"),
        pytest.param(
            "Dana Reyes\nMar 11, 2026, 2:05 PM\nHi! 2 dozen bears please", id="one message with its name and time"
        ),
        pytest.param("Dana Reyes 3:41 PM\nHi! 2 dozen bears please\nSeen", id="one message with name, time and seen"),
        pytest.param("You\nare\nthe best\nDana", id="you"),
        pytest.param("555-0118\ncall me\n555-0118\nor text", id="a number twice"),
        pytest.param("Today\n2h\n3d\n5m", id="nothing but times"),
        pytest.param("", id="nothing"),
        pytest.param("\n\n \n", id="blanks"),
    ],
)
def test_one_message_is_no_conversation(text: str) -> None:
    assert not is_copied(text)


def test_no_message_of_the_samples_is_a_conversation() -> None:
    """Every text that a sample file or a case holds, and each with a time and a name above it."""
    root = Path(__file__).parents[1] / "reading" / "cases"
    count = 0
    for path in [*sorted(root.glob("*.jsonl")), SAMPLE.parent / "threads.jsonl"]:
        for row in path.read_text(encoding="utf-8").splitlines():
            for message in json.loads(row).get("messages", []):
                assert not is_copied(message["text"]), message["text"]
                assert not is_copied(f"Dana Reyes\n3:41 PM\n{message['text']}"), message["text"]
                count += 1
    assert count > 100


CHATS = {
    "you sent": (
        "Dana Reyes\nHi! 2 dozen bears?\nfor my mom\nYou sent\nSure! What day?\nDana Reyes\nsaturday\nSeen by Dana\n",
        [("Dana Reyes", "Hi! 2 dozen bears?\nfor my mom"), ("You", "Sure! What day?"), ("Dana Reyes", "saturday")],
    ),
    "sent, both ways": (
        "Dana sent\nHi! 2 dozen bears?\nEnter\nYou sent\nSure!\nEnter\nDana sent\nthx\nEnter",
        [("Dana", "Hi! 2 dozen bears?"), ("You", "Sure!"), ("Dana", "thx")],
    ),
    "name, time, words": (
        "Dana Reyes\n3:41 PM\nHi! 2 dozen bears?\n\nthanks\nNell\n3:45 PM\nSure!\nDana Reyes\n3:46 PM\nthx",
        [("Dana Reyes", "Hi! 2 dozen bears?\n\nthanks"), ("Nell", "Sure!"), ("Dana Reyes", "thx")],
    ),
    "name, words, time": (
        "Dana Reyes\nHi! 2 dozen bears?\n3:41 PM\nNell\nSure!\n3:45 PM\nDana Reyes\nthx\n3:46 PM\nbye\n3:47 PM",
        [("Dana Reyes", "Hi! 2 dozen bears?"), ("Nell", "Sure!"), ("Dana Reyes", "thx"), ("Dana Reyes", "bye")],
    ),
    "name and time on one line": (
        "Dana Reyes  3:41 PM\nHi! 2 dozen bears?\n\nNell  3:45 PM\nSure!\n\nDana Reyes  3:46 PM\nthx",
        [("Dana Reyes", "Hi! 2 dozen bears?"), ("Nell", "Sure!"), ("Dana Reyes", "thx")],
    ),
    "name and weekday on one line": (
        "Dana Reyes, Tue 9:12 PM\nHi!\nNell, Tue 9:20 PM\nHello!\nDana Reyes, Yesterday at 8:00 AM\n24 please",
        [("Dana Reyes", "Hi!"), ("Nell", "Hello!"), ("Dana Reyes", "24 please")],
    ),
    "a clock in brackets, name and words": (
        "[3:41 PM] Dana: Hi!\n2 dozen bears?\n[3:45 PM] Nell: Sure!\n[3:46 PM] Dana: thx",
        [("Dana", "Hi!\n2 dozen bears?"), ("Nell", "Sure!"), ("Dana", "thx")],
    ),
    "names twice, pictures, who has seen it": (
        "Profile photo of Dana Reyes\nDana Reyes\nDana Reyes\nHi!\nOpen photo\nTue 9:12 PM\nYou\n"
        "Nice!\nSeen\nDelivered\n"
        "Profile photo of Dana Reyes\nDana Reyes\n24 please\nTyping...\n",
        [("Dana Reyes", "Hi!"), ("You", "Nice!"), ("Dana Reyes", "24 please")],
    ),
    "hours ago, names of pages": (
        "bea.ortiz\n2h\ncan u do 24?\nReply\nnells_oven\n1h\nyes! for when?\nLike\nReply\nbea.ortiz\n5m\n4/11\n",
        [("bea.ortiz", "can u do 24?"), ("nells_oven", "yes! for when?"), ("bea.ortiz", "4/11")],
    ),
    "days above": (
        "Tuesday, March 10\nDana\n9:12\nHi!\nNell\n9:20\nHello!\nWednesday, March 11\nDana\n8:00\n24 please\n",
        [("Dana", "Hi!"), ("Nell", "Hello!"), ("Dana", "24 please")],
    ),
    "answers quoted again": (
        "Dana\nHi! 24 bears?\nYou replied to Dana\nOriginal message:\nHi! 24 bears?\nSure!\nWhat day?\n"
        "Dana replied to you\nSure!\nthe 28th\nEdited\n",
        [("Dana", "Hi! 24 bears?"), ("You", "Sure!\nWhat day?"), ("Dana", "the 28th")],
    ),
    "reactions": (
        "Dana\nHi! 24 bears?\n❤️\n1\nYou sent\nSure!\n👍 2\nDana reacted 👍 to your message\nDana\n🐻\nYou sent\n:)\n",
        [("Dana", "Hi! 24 bears?"), ("You", "Sure!"), ("Dana", "🐻"), ("You", ":)")],
    ),
    "only photos": (
        "Dana\nOpen photo\nYou sent\nPretty!\nDana sent a photo.\nYou sent\nimage omitted\n",
        [("Dana", "[photo]"), ("You", "Pretty!"), ("Dana", "[photo]"), ("You", "[photo]")],
    ),
    "the first name cut off": (
        "Hi! 24 bears?\nYou sent\nSure!\nDana sent\nthx\n",
        [("Dana", "Hi! 24 bears?"), ("You", "Sure!"), ("Dana", "thx")],
    ),
    "a name right below another's words": (
        "Dana\nhi\nYou sent\nok\nwhat day?\nDana\nthe 28th\nfor Emma\nYou sent\nnoted",
        [("Dana", "hi"), ("You", "ok\nwhat day?"), ("Dana", "the 28th\nfor Emma"), ("You", "noted")],
    ),
    "several": (
        "Bake sale\nMon 9:12 PM\nDana\nwho bakes?\nBea\nNell could!\nYou sent\nI can\nDana\n48 then\nSeen by Bea, Dana",
        [("Dana", "who bakes?"), ("Bea", "Nell could!"), ("You", "I can"), ("Dana", "48 then")],
    ),
    "numbers for names": (
        "+1 (312) 555-0111\n3:41 PM\nHi!\nNell\n3:42 PM\nHello!\n+1 (312) 555-0111\n3:43 PM\n24 please",
        [("+1 (312) 555-0111", "Hi!"), ("Nell", "Hello!"), ("+1 (312) 555-0111", "24 please")],
    ),
    "Spanish": (
        "Bea Ortiz\nhola!\nEnviaste\n¡Hola!\nBea Ortiz\n24 ositos\nVisto por Bea\nEnviaste\nclaro\n",
        [("Bea Ortiz", "hola!"), ("You", "¡Hola!"), ("Bea Ortiz", "24 ositos"), ("You", "claro")],
    ),
}


@pytest.mark.parametrize(("text", "messages"), CHATS.values(), ids=CHATS)
def test_conversations(text: str, messages: list[tuple[str, str]]) -> None:
    assert is_copied(text)
    assert told(text) == messages
    assert told(text.replace("\n", "\r\n").replace(" PM", "\u202fPM")) == messages


@pytest.mark.parametrize(
    ("text", "answer"),
    [
        pytest.param(
            "Tue 9:12 PM\nDana\nhi\nYou sent\nwhat time?\nDana\n3:30 PM\nYou sent\nok", "3:30 PM", id="a time"
        ),
        pytest.param(
            "Dana\n3:41 PM\nhi\nNell\n3:42 PM\nwhat time?\nDana\n3:43 PM\n3:30pm\nNell\n3:44 PM\nok",
            "3:30pm",
            id="a time below its time",
        ),
        pytest.param(
            "Dana\n3:41 PM\nhi\nNell\n3:42 PM\nwhat time?\nDana\n3:43 PM\n3:30 PM\nNell\n3:44 PM\nok",
            "3:30 PM",
            id="a time written like the others",
        ),
        pytest.param(
            "Dana\nhi\n3:41 PM\nNell\nwhat time?\n3:42 PM\nDana\n3:30 PM\n3:43 PM\nNell\nok\n3:44 PM",
            "3:30 PM",
            id="a time above its time",
        ),
        pytest.param(
            "Dana sent\nhi\nYou sent\nwhat day?\nDana sent\nMarch 28\nYou sent\nok", "March 28", id="a day to come"
        ),
        pytest.param(
            "Dana sent\nhi\nYou sent\nwhat day?\nDana sent\nSaturday\nYou sent\nok", "Saturday", id="a weekday"
        ),
        pytest.param(
            "Dana\nhi\n3:41 PM\nNell\nwhat day?\n3:42 PM\nDana\nyes\n3:43 PM\nSaturday\n3:44 PM\nNell\nok\n3:45 PM",
            "Saturday",
            id="a weekday between times",
        ),
        pytest.param("Dana sent\nhi\nYou sent\nhow many?\nDana sent\n1\nYou sent\nok", "1", id="a count"),
        pytest.param("Dana sent\nhi\nYou sent\nok?\nDana sent\n👍\nYou sent\nok", "👍", id="a sign"),
        pytest.param("Dana sent\nhi\nYou sent\nand the deposit?\nDana sent\nSent\nYou sent\nok", "Sent", id="sent"),
        pytest.param("Dana sent\nhi\nYou sent\nyour budget?\nDana sent\n12.50\nYou sent\nok", "12.50", id="a price"),
        pytest.param("Dana sent\nhi\nYou sent\nthe name?\nDana sent\nEmma\nYou sent\nok", "Emma", id="a name"),
        pytest.param(
            "Dana\n3:41 PM\nhi\nNell\n3:42 PM\nwho is it for?\nDana\n3:43 PM\nEmma\nNell\n3:44 PM\nok",
            "Emma",
            id="a name below a time",
        ),
    ],
)
def test_an_answer_that_looks_like_furniture_is_kept(text: str, answer: str) -> None:
    assert is_copied(text)
    assert ("Dana", answer) in told(text)


def test_a_name_that_signs_is_words() -> None:
    text = "Dana Reyes\nhi, 24 bears\nthanks\nDana\nYou sent\nSure!\nDana sent\nthx\n"
    assert told(text)[0] == ("Dana Reyes", "hi, 24 bears\nthanks\nDana")


STAMPS = [
    pytest.param("11:59 AM", "Fri 03-20 11:59", id="a clock today"),
    pytest.param("12:01 PM", "Thu 03-19 12:01", id="a clock that is to come was yesterday"),
    pytest.param("15:41", "Thu 03-19 15:41", id="24 hours"),
    pytest.param("Tue 9:12 PM", "Tue 03-17 21:12", id="a weekday"),
    pytest.param("Tuesday at 9:12 PM", "Tue 03-17 21:12", id="a whole weekday"),
    pytest.param("Fri 9:12 AM", "Fri 03-20 09:12", id="this weekday"),
    pytest.param("Fri 9:12 PM", "Fri 03-13 21:12", id="this weekday, a clock to come"),
    pytest.param("Today 9:03", "Fri 03-20 09:03", id="today"),
    pytest.param("Yesterday at 8:15 PM", "Thu 03-19 20:15", id="yesterday"),
    pytest.param("Ayer 20:15", "Thu 03-19 20:15", id="yesterday, in Spanish"),
    pytest.param("Mar 11, 2026, 2:05 PM", "Wed 03-11 14:05", id="a date"),
    pytest.param("March 11 at 2:05 PM", "Wed 03-11 14:05", id="a date without its year"),
    pytest.param("Mar 28, 2:05 PM", "Fri 03-28 14:05", id="a date to come was last year's"),
    pytest.param("Wed, Mar 11, 2:05 PM", "Wed 03-11 14:05", id="weekday and date"),
    pytest.param("3/11/26, 2:05 PM", "Wed 03-11 14:05", id="numbers"),
    pytest.param("18/3/26, 14:05", "Wed 03-18 14:05", id="the day first"),
    pytest.param("12/3/26, 14:05", "Thu 03-12 14:05", id="the day first, else it were to come"),
    pytest.param("2026-03-11 14:05", "Wed 03-11 14:05", id="the year first"),
    pytest.param("2h", "Fri 03-20 10:00", id="hours ago"),
    pytest.param("3d", "Tue 03-17 12:00", id="days ago"),
    pytest.param("45 minutes ago", "Fri 03-20 11:15", id="minutes ago"),
    pytest.param("Just now", "Fri 03-20 12:00", id="now"),
    pytest.param("1w", "Fri 03-13 12:00", id="a week ago"),
]


@pytest.mark.parametrize(("stamp", "when"), STAMPS)
def test_times(stamp: str, when: str) -> None:
    assert times(f"Dana\n{stamp}\nhi\nYou sent\nhello\nDana sent\n24") == [when] * 3


@pytest.mark.parametrize(
    ("text", "when"),
    [
        pytest.param(
            "Dana\n9:00 AM\na\nNell\n3:41 PM\nb\nDana\n9:00 AM\nc",
            ["Thu 03-19 09:00", "Thu 03-19 15:41", "Fri 03-20 09:00"],
            id="clocks alone, backwards from the paste",
        ),
        pytest.param(
            "Tue 9:12 PM\nDana\na\n11:58 PM\nNell\nb\n11:59 PM\nDana\nc\n12:03 AM",
            ["Tue 03-17 23:58", "Tue 03-17 23:59", "Wed 03-18 00:03"],
            id="clocks below a day, past midnight",
        ),
        pytest.param(
            "Tuesday, March 10\nDana\n9:12 AM\na\nNell\n9:20 AM\nb\nToday\nDana\n8:00 AM\nc",
            ["Tue 03-10 09:12", "Tue 03-10 09:20", "Fri 03-20 08:00"],
            id="days on lines of their own",
        ),
        pytest.param(
            "Dana sent\na\nYou sent\nb\nTue 9:12 PM\nDana sent\nc\nYou sent\nd",
            ["Tue 03-17 21:12"] * 4,
            id="before the first time, that of the next",
        ),
        pytest.param(
            "Tue 9:12 PM\nDana sent\na\nMon 9:12 PM\nYou sent\nb\nDana sent\nc",
            ["Tue 03-10 21:12", "Mon 03-16 21:12", "Mon 03-16 21:12"],
            id="weekdays, backwards",
        ),
        pytest.param(
            "Today 11:00 AM\nDana sent\na\nYesterday at 9:00 AM\nYou sent\nb",
            ["Fri 03-20 11:00", "Fri 03-20 11:00"],
            id="never earlier than the one before",
        ),
        pytest.param("Dana sent\na\nYou sent\nb", ["Fri 03-20 12:00"] * 2, id="no time at all"),
        pytest.param(
            "Wednesday, March 11\nDana sent\na\nYou sent\nb\nDana\nc\n",
            ["Wed 03-11 12:00"] * 3,
            id="a day and no clock",
        ),
    ],
)
def test_times_beside_each_other(text: str, when: list[str]) -> None:
    assert times(text) == when


def test_whose_messages_they_are() -> None:
    text = "Dana\n3:41 PM\nhi\nNell\n3:42 PM\nhello\nYou\n3:43 PM\nhm\nDana\n3:44 PM\n24"
    assert [entry.mine for entry in entries_of(text, ("NELL ",))] == [None, True, True, None]
    assert [entry.mine for entry in entries_of(text)] == [None, None, True, None]


def test_words_above_her_own_name_are_the_other_ones() -> None:
    text = "2 dozen?\n3:41 PM\nNell\nSure!\n3:45 PM\nDana\nthx\n3:46 PM\nNell\nok\n3:47 PM"
    assert [(e.sender, e.text) for e in entries_of(text, ("Nell",))][:2] == [("Dana", "2 dozen?"), ("Nell", "Sure!")]
    assert [(e.sender, e.text) for e in entries_of(text)][:1] == [("Nell", "Sure!")]


def test_the_same_words_in_the_same_minute() -> None:
    text = "Dana\n3:41 PM\nok\nDana\n3:41 PM\nok\nYou\n3:41 PM\nok\nDana\n3:42 PM\nok"
    assert [entry.nth for entry in entries_of(text)] == [0, 1, 0, 0]


def test_words_that_nobody_is_named_for_are_told_of() -> None:
    text = "so sorry!\n\nand bears\nDana\n3:41 PM\nhi\nNell\n3:42 PM\nhello\nDana\n3:43 PM\nok\n"
    (talk,), (problem,) = talks_of_copied(text, ZONE, at=AT)
    assert (talk.name, len(talk.entries)) == ("", 3)
    assert problem.what.startswith("2 lines before the first name left out")
    assert (problem.excerpt, bool(problem.todo)) == ("so sorry!", True)


def test_no_conversation_gives_one_problem() -> None:
    talks, problems = talks_of_copied("2 dozen please", ZONE, at=AT)
    assert talks == []
    assert "no conversation was found" in problems[-1].what


def test_the_example() -> None:
    text = SAMPLE.read_text(encoding="utf-8")
    assert is_copied(text)
    (talk,), problems = talks_of_copied(text, ZONE, at=AT + timedelta(days=430))
    assert not problems
    assert {entry.sender for entry in talk.entries} == {"Juniper Aldana", ""}
    assert [entry.mine for entry in talk.entries].count(None) >= 4
    assert [f"{entry.at:%m-%d}" for entry in talk.entries] == sorted(f"{entry.at:%m-%d}" for entry in talk.entries)


# How pages lay out a message; %W is the name, %C the clock, %T the words.
LAYOUTS = {
    "name, time, words": "%W\n%C\n%T\n",
    "name, words, time": "%W\n%T\n%C\n",
    "name and time, words": "%W  %C\n%T\n",
    "name and time with a comma, words": "%W, %C\n%T\n\n",
    "time in brackets, name, words": "[%C] %W: %T\n",
    "sent, words, enter": "%W sent\n%T\nEnter\n",
    "name twice, words, time, seen": "%W\n%W\n%T\n%C\nSeen\n",
}
WORDS = (
    "24 bears please",
    "for my mom's 70th",
    "- pink\n- blue",
    "is 3:30 ok?",
    "yes",
    "thanks!!",
    "at the lake, 12 sets",
)


@pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS)
@settings(max_examples=40)
@given(
    turns=st.lists(st.tuples(st.integers(1, 30), st.sampled_from(WORDS)), min_size=4, max_size=12),
    names=st.sampled_from([("Dana Reyes", "Nell"), ("Bea 🐻 Ortiz", "Nell's Oven"), ("tay_hollins", "You")]),
    clock=st.sampled_from(("%I:%M %p", "%H:%M", "%I:%M\u202f%p")),
)
def test_what_a_page_shows_is_read_back(
    layout: str, turns: list[tuple[int, str]], names: tuple[str, str], clock: str
) -> None:
    at = AT - timedelta(hours=8)
    text, expected = "", []
    for number, (minutes, words) in enumerate(turns):
        at += timedelta(minutes=minutes)
        name = names[number % 2]
        piece = layout.replace("%W", name).replace("%C", at.strftime(clock)).replace("%T", words)
        text += piece
        expected.append((name, words, at if "%C" in layout else AT))
    assert is_copied(text)
    found = entries_of(text)
    assert [("You" if e.mine else e.sender, e.text, e.at) for e in found] == expected


def test_bent_pastes_are_read_as_far_as_they_go() -> None:
    pieces = [line for text, _ in CHATS.values() for line in text.split("\n")]
    pieces += [param.values[0] for param in STAMPS if isinstance(param.values[0], str)]
    pieces += ["Feb 30, 2:05 PM", "99:99 PM", "0/0/0, 1:00", "99w", "\0", "٣:٤١", "Original message:", "Photo"]
    rng = random.Random(7)
    for _ in range(3000):
        lines = rng.choices(pieces, k=rng.randrange(1, 25))
        text = "\n".join(line[rng.randrange(3) :] if rng.random() < 0.1 else line for line in lines)
        is_copied(text)
        talks, problems = talks_of_copied(text, ZONE, at=AT, mine=("Nell",))
        assert talks or problems
        found = [entry.at for talk in talks for entry in talk.entries if entry.at]
        assert found == sorted(found)
        assert all(entry.text.strip() for talk in talks for entry in talk.entries)


@pytest.mark.parametrize(
    "hostile",
    [
        pytest.param(lambda: "a " * 500_000, id="one line"),
        pytest.param(lambda: "Dana\n3:41 PM\nhi\n" * 60_000, id="many messages"),
        pytest.param(
            lambda: "".join(f"Dana{chr(97 + n % 26)}{chr(97 + n // 26 % 26)} Ann\nhi\n" for n in range(70_000)),
            id="many names",
        ),
        pytest.param(lambda: "3:41 PM\n" * 120_000, id="times"),
        pytest.param(lambda: "Tue 9:12 PM\nDana\n" * 50_000, id="times and names"),
        pytest.param(lambda: "Today\n" * 160_000, id="days"),
        pytest.param(lambda: "Dana\n" + "\n" * 1_000_000, id="blanks"),
        pytest.param(lambda: "Dana\n\n" * 160_000, id="names"),
        pytest.param(lambda: "You sent\n" * 110_000, id="sent"),
        pytest.param(lambda: ("x - " * 29 + "\n") * 8_500, id="dashes"),
        pytest.param(lambda: "You sent\nhi\nDana sent\n" + "❤️\n1\n" * 150_000, id="reactions"),
        pytest.param(lambda: "Original message:\n" * 55_000, id="quotations"),
    ],
)
def test_the_longest_paste_of_anything_is_read(hostile: Callable[[], str]) -> None:
    text = hostile()[:LONGEST_PASTE]
    is_copied(text)
    talks, problems = talks_of_copied(text, ZONE, at=AT)
    assert talks or problems
