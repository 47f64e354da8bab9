"""Chats in plain text: whatever shape the lines with time and sender have, the same messages come out."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.inbox.baker import Baker
from intake.inbox.shapes import Entry
from intake.inbox.talks import threads_of_talks
from intake.inbox.transcript import is_transcript, talks_of_transcript
from intake.model import Problem
from tests.inbox.conftest import NELL, NOW, ZONE

SAMPLE = Path(__file__).parents[2] / "sample_messages" / "chat_transcript.txt"


def entries_of(text: str, order: str = "MDY") -> list[Entry]:
    (talk,), _ = talks_of_transcript(text, ZONE, date_order=order)
    return talk.entries


def told(text: str, order: str = "MDY") -> list[tuple[str, str, str]]:
    """Time, sender and words of each message."""
    return [(f"{e.at:%Y-%m-%d %H:%M}" if e.at else "", e.sender, e.text) for e in entries_of(text, order)]


def problems_of(text: str, order: str = "MDY") -> list[Problem]:
    return talks_of_transcript(text, ZONE, name="chat", date_order=order)[1]


TWO = [
    ("2026-03-14 14:05", "Dana Reyes", "Hi! 2 dozen bears\nfor my mom"),
    ("2026-03-14 14:07", "Nell", "Sure: which day?"),
]


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(
            "[3/14/26, 2:05:10 PM] Dana Reyes: Hi! 2 dozen bears\nfor my mom\n"
            "[3/14/26, 2:07:00 PM] Nell: Sure: which day?",
            id="bracketed, seconds",
        ),
        pytest.param(
            "\ufeff\u200e[14.03.26, 14:05:10] Dana Reyes: Hi! 2 dozen bears\r\nfor my mom\r\n"
            "\u200e[14.03.26, 14:07:00] Nell: \u200eSure: which day?\r\n",
            id="bracketed, marks of direction, CRLF",
        ),
        pytest.param(
            "3/14/26, 2:05\u202fPM - Dana Reyes: Hi! 2 dozen bears\nfor my mom\n"
            "3/14/26, 2:07\u202fPM - Nell: Sure: which day?",
            id="dash, a narrow space before PM",
        ),
        pytest.param(
            "14/3/2026 2:05\xa0p.\xa0m. - Dana Reyes: Hi! 2 dozen bears\nfor my mom\n"
            "14/3/2026 2:07\xa0p.\xa0m. - Nell: Sure: which day?",
            id="dash, p. m. with hard spaces",
        ),
        pytest.param(
            "Dana Reyes (14 Mar 2026, 14:05): Hi! 2 dozen bears\nfor my mom\n"
            "Nell (14 Mar 2026, 14:07): Sure: which day?",
            id="name, time in round brackets",
        ),
        pytest.param(
            "2026-03-14 14:05:10 <Dana Reyes> Hi! 2 dozen bears\nfor my mom\n"
            "2026-03-14 14:07:00 <Nell> Sure: which day?",
            id="name in angles",
        ),
        pytest.param(
            "Dana Reyes, March 14, 2026 at 2:05 PM\nHi! 2 dozen bears\nfor my mom\n\n"
            "Nell, March 14, 2026 at 2:07 PM\nSure: which day?\n\n",
            id="name and time on a line of their own",
        ),
        pytest.param(
            "Dana Reyes\n14 de marzo de 2026 14:05\nHi! 2 dozen bears\nfor my mom\n\n"
            "Nell\n14 de marzo de 2026 14:07\nSure: which day?",
            id="name, then time, then words",
        ),
        pytest.param(
            "2026-03-14T14:05:10 Dana Reyes: Hi! 2 dozen bears\nfor my mom\n2026-03-14T14:07:00 Nell: Sure: which day?",
            id="time and name, no sign between",
        ),
        pytest.param(
            "2026-03-14 20:05:10 +01:00 | Dana Reyes | Hi! 2 dozen bears\nfor my mom\n"
            "2026-03-14 20:07:00 +01:00 | Nell | Sure: which day?",
            id="bars, the time of another place",
        ),
        pytest.param(
            '14/03/2026\t14:05\tDana Reyes\t"Hi! 2 dozen bears\nfor my mom"\n14/03/2026\t14:07\tNell\tSure: which day?',
            id="tabs",
        ),
        pytest.param(
            'Saturday, March 14, 2026\n\n14:05\tDana Reyes\t"Hi! 2 dozen bears\nfor my mom"\n'
            "14:07\tNell\tSure: which day?",
            id="tabs under a line with the day",
        ),
        pytest.param(
            "--- 14 March 2026 ---\n[14:05] Dana Reyes: Hi! 2 dozen bears\nfor my mom\n[14:07] Nell: Sure: which day?",
            id="clocks in brackets under a line with the day",
        ),
        pytest.param(
            "[Sat 2026-03-14 14:05] Dana Reyes\nHi! 2 dozen bears\nfor my mom\n\n[Sat 2026-03-14 14:07] Nell\n"
            "Sure: which day?",
            id="bracketed, the words below",
        ),
        pytest.param(
            "14:05, 14/3/2026 - Dana Reyes: Hi! 2 dozen bears\nfor my mom\n14:07, 14/3/2026 - Nell: Sure: which day?",
            id="the clock before the day",
        ),
        pytest.param(
            "Dana Reyes [3/14/2026 2:05pm]: Hi! 2 dozen bears\nfor my mom\nNell [3/14/2026 2:07pm]: Sure: which day?",
            id="name, time in square brackets",
        ),
        pytest.param(
            "14-Mar-2026 14:05 — Dana Reyes: Hi! 2 dozen bears\nfor my mom\n14-Mar-2026 14:07 — Nell: Sure: which day?",
            id="a long dash",
        ),
        pytest.param(
            "Dana Reyes · Mar 14, 2026 2:05 PM\nHi! 2 dozen bears\nfor my mom\nNell · Mar 14, 2026 2:07 PM\n"
            "Sure: which day?",
            id="a middle dot",
        ),
        pytest.param(
            "2026/03/14 14:05\nDana Reyes: Hi! 2 dozen bears\nfor my mom\n\n2026/03/14 14:07\nNell: Sure: which day?",
            id="time above",
        ),
    ],
)
def test_the_shapes(text: str) -> None:
    assert is_transcript(text)
    assert told(text) == TWO


# Each a way of writing a header of its own; %D is the day, %C the clock.
HEADERS = (
    "[%D, %C] {name}: {words}",
    "[%D %C] {name}: {words}",
    "(%D %C) {name}: {words}",
    "%D, %C - {name}: {words}",
    "%D %C – {name}: {words}",
    "%D %C {name}: {words}",
    "%C, %D - {name}: {words}",
    "%D %C: {name}: {words}",
    "%D %C <{name}> {words}",
    "[%D %C] <{name}> {words}",
    "%D %C | {name} | {words}",
    "{name} | %D %C | {words}",
    "%D\t%C\t{name}\t{words}",
    "{name}\t%D %C\t{words}",
    "{name} (%D, %C): {words}",
    "{name} [%D, %C]: {words}",
    "{name} - %D %C: {words}",
    "{name}, %D %C\n{words}",
    "{name} (%D %C)\n{words}",
    "{name} [%D %C]\n{words}",
    "{name} · %D at %C\n{words}",
    "{name}\n%D %C\n{words}",
    "[%D %C] {name}\n{words}",
    "%D %C - {name}\n{words}",
    "%D, %C\n{name}\n{words}",
    "%D, %C\n{name}: {words}",
)
DAYS = {
    "MDY": ("%m/%d/%Y", "%m/%d/%y", "%m-%d-%Y", "%B %d, %Y"),
    "DMY": ("%d/%m/%Y", "%d.%m.%y", "%d-%m-%Y", "%d %b %Y"),
    "YMD": ("%Y-%m-%d", "%Y/%m/%d", "%Y.%m.%d"),
}
CLOCKS = ("%H:%M", "%H:%M:%S", "%I:%M %p", "%I:%M:%S\u202f%p")
NAMES = ("Dana Reyes", "Nell", "+1 (312) 555-0111", "Bea 🐻 Ortiz", "Aunt Jo (choir)", "O'Shea-Lindqvist, M.", "José")
LINES = (
    "2 dozen bears please",
    "Date: March 28",
    "pickup at 3:30 pm ok?",
    "3/28",
    "no nuts!! 🥜",
    "- 12 pink, 12 blue",
    "Name: ANNA",
    "it's for [my mom]",
    "¡gracias!",
    "x",
)
texts = st.lists(st.sampled_from(LINES), min_size=1, max_size=4).flatmap(
    lambda lines: st.sampled_from(("\n", "\n\n")).map(lambda gap: gap.join(lines))
)
chats = st.lists(
    st.tuples(st.integers(1, 3000), st.sampled_from(NAMES), texts), min_size=2, max_size=12
)  # minutes since the message before, sender, words


@pytest.mark.parametrize("header", HEADERS)
@settings(max_examples=25)
@given(
    chat=chats,
    first=st.datetimes(datetime(2024, 1, 1), datetime(2027, 1, 1)),
    order=st.sampled_from(sorted(DAYS)),
    which=st.integers(0, 3),
    clock=st.sampled_from(CLOCKS),
)
def test_what_is_written_is_read_back(
    header: str, chat: list[tuple[int, str, str]], first: datetime, order: str, which: int, clock: str
) -> None:
    day = DAYS[order][which % len(DAYS[order])]
    at, expected, lines = first.replace(second=0, microsecond=0), [], []
    for minutes, name, words in chat:
        at += timedelta(minutes=minutes)
        when = header.replace("%D", at.strftime(day)).replace("%C", at.strftime(clock))
        lines.append(when.format(name=name, words=words))
        expected.append((f"{at:%Y-%m-%d %H:%M}", name, words))
    gap = "\n\n" if "\n" in header else "\n"
    assert told(gap.join(lines) + "\n", order) == expected


@pytest.mark.parametrize(
    ("days", "house", "taken", "asks"),
    [
        pytest.param(["3/4/26", "3/14/26"], "DMY", ["03-04", "03-14"], False, id="a number over 12, month first"),
        pytest.param(["3/4/26", "14/4/26"], "MDY", ["04-03", "04-14"], False, id="a number over 12, day first"),
        pytest.param(["14/4/26", "5/4/26"], "MDY", ["04-14", "04-05"], False, id="newest first, day first"),
        pytest.param(["2026-03-04", "2026-04-03"], "DMY", ["03-04", "04-03"], False, id="the year first"),
        pytest.param(["26/03/04", "26/03/14"], "YMD", ["03-04", "03-14"], False, id="a year of two digits first"),
        pytest.param(
            ["26/03/04", "26/03/14"], "MDY", ["03-04", "03-14"], False, id="so it is where the house's is not"
        ),
        pytest.param(["1/2/26", "2/1/26", "3/1/26"], "DMY", ["01-02", "02-01", "03-01"], False, id="never backwards"),
        pytest.param(["3/4/26", "3/5/26"], "MDY", ["03-04", "03-05"], True, id="open, the house's way"),
        pytest.param(["3/4/26", "4/4/26"], "DMY", ["04-03", "04-04"], True, id="open, the house's other way"),
        pytest.param(["3/3/26", "4/4/26"], "DMY", ["03-03", "04-04"], False, id="both ways the same"),
    ],
)
def test_days_are_read_one_way_in_the_whole_file(days: list[str], house: str, taken: list[str], asks: bool) -> None:
    text = "\n".join(f"[{day}, 09:0{n}] Dana: words {n}" for n, day in enumerate(days))
    assert [f"{entry.at:%m-%d}" for entry in entries_of(text, house)] == taken
    found = problems_of(text, house)
    assert [("date_order" in p.todo, p.where) for p in found] == ([(True, "chat")] if asks else [])


@pytest.mark.parametrize(
    ("said", "read"),
    [
        ("12:05 AM", "00:05"),
        ("12:05 pm", "12:05"),
        ("1:05 p.m.", "13:05"),
        ("11:59 p. m.", "23:59"),
        ("1:05p", "13:05"),
        ("00:05", "00:05"),
        ("23:59:59", "23:59"),
        ("9.05", "09:05"),
        ("9h05", "09:05"),
        ("9:05:10.123", "09:05"),
    ],
)
def test_clocks(said: str, read: str) -> None:
    text = f"[3/14/2026, {said}] Dana: hi\n[3/15/2026, {said}] Nell: hello"
    assert [f"{entry.at:%d %H:%M}" for entry in entries_of(text)] == [f"14 {read}", f"15 {read}"]


def test_hours_that_the_clocks_skip_or_pass_twice_do_not_stop_the_reading() -> None:
    text = "[3/8/2026, 02:30] Dana: skipped\n[11/1/2026, 01:30] Dana: twice\n[11/31/2026, 01:30] Dana: no such day"
    times = [entry.at for entry in entries_of(text)]
    assert [at and at.replace(tzinfo=None) for at in times] == [
        datetime(2026, 3, 8, 2, 30),
        datetime(2026, 11, 1, 1, 30),
        None,
    ]
    assert times[0] and times[0].tzinfo is ZONE


def line(words: str, name: str = "Dana", when: str = "3/14/26, 2:05 PM") -> str:
    return f"{when} - {name}: {words}\n"


OTHERS = line("hi", "Nell", "3/14/26, 1:00 PM") + "{}" + line("bye", "Nell", "3/15/26, 1:00 PM")


@pytest.mark.parametrize(
    ("written", "text", "attachments"),
    [
        pytest.param("<media omitted>", "[photo]", (), id="a photo left out"),
        pytest.param("image omitted", "[photo]", (), id="a photo left out, bare"),
        pytest.param("<Multimedia omitido>", "[photo]", (), id="a photo left out, in Spanish"),
        pytest.param("audio omitido", "[voice message]", (), id="a voice message, in Spanish"),
        pytest.param("video omitted", "[video]", (), id="a video"),
        pytest.param("document omitted", "[file]", (), id="a file"),
        pytest.param("order form.pdf • 2 pages document omitted", "[file]", ("order form.pdf",), id="a named file"),
        pytest.param("IMG-0001.jpg (file attached)", "[photo]", ("IMG-0001.jpg",), id="a photo attached"),
        pytest.param("IMG-0001.jpg (file attached)\nlike this", "like this", ("IMG-0001.jpg",), id="and words below"),
        pytest.param("<attached: 0001-PHOTO.jpg>", "[photo]", ("0001-PHOTO.jpg",), id="in angles"),
        pytest.param("like this <attached: 0001-PHOTO.jpg>", "like this", ("0001-PHOTO.jpg",), id="words and a photo"),
        pytest.param("NOTE-2.opus (archivo adjunto)", "[voice message]", ("NOTE-2.opus",), id="attached, in Spanish"),
        pytest.param("<adjunto: a/b/pan.heic>", "[photo]", ("pan.heic",), id="only the last part of a path"),
        pytest.param("2 dozen <This message was edited>", "2 dozen", (), id="edited"),
        pytest.param("2 docenas <Se editó este mensaje.>", "2 docenas", (), id="edited, in Spanish"),
        pytest.param("the media was omitted from my post", "the media was omitted from my post", (), id="plain words"),
        pytest.param("i edited the list", "i edited the list", (), id="edited in words"),
        pytest.param("I attached a photo", "I attached a photo", (), id="attached in words"),
        pytest.param("I missed your call", "I missed your call", (), id="a call in words"),
    ],
)
def test_notes_of_the_program_and_words(written: str, text: str, attachments: tuple[str, ...]) -> None:
    entry = entries_of(OTHERS.format(line(written)))[1]
    assert (entry.sender, entry.text, entry.attachments) == ("Dana", text, attachments)


@pytest.mark.parametrize(
    "note",
    [
        "3/14/26, 2:05 PM - Messages and calls are protected. Nobody outside can read them: learn more.\n",
        '3/14/26, 2:05 PM - Dana created group "Bake sale: spring"\n',
        "3/14/26, 2:05 PM - Dana changed their number to a new one. Tap to message.\n",
        "3/14/26, 2:05 PM - Missed voice call\n",
        line("This message was deleted"),
        line("You deleted this message"),
        line("Se eliminó este mensaje."),
        line("Missed video call"),
        line(""),
    ],
)
def test_what_nobody_said_gives_no_message(note: str) -> None:
    assert [entry.text for entry in entries_of(OTHERS.format(note))] == ["hi", "bye"]


def test_a_line_of_another_shape_stays_its_message() -> None:
    text = (
        "[3/14/26, 2:05 PM] Dana: she wrote me this:\n3/1/26, 9:00 AM - Aunt Jo: 24 please\nNell (3/2/26 8:00): ok\n"
        "[3/14/26, 2:06 PM] Nell: thanks!\n[3/14/26, 2:07 PM] Dana: ok\n"
    )
    assert [(e.sender, e.text.count("\n")) for e in entries_of(text)] == [("Dana", 2), ("Nell", 0), ("Dana", 0)]


def test_blank_lines_inside_are_kept_and_those_at_the_end_dropped() -> None:
    text = OTHERS.format(line("two sets:\n\n- bears\n- stars\n\n\n"))
    assert entries_of(text)[1].text == "two sets:\n\n- bears\n- stars"


def test_lines_before_the_first_message_are_counted() -> None:
    (problem,) = problems_of("Bake sale chat\n\nsaved for Nell\n" + OTHERS.format(""))
    assert (problem.where, problem.what) == ("chat", "2 lines before the first message left out")
    assert problem.excerpt == "Bake sale chat"
    assert problems_of("\n\n" + OTHERS.format("")) == []


@pytest.mark.parametrize(
    ("lines", "counts"),
    [
        pytest.param([("2:05 PM", "ok"), ("2:05 PM", "ok"), ("2:06 PM", "ok")], [0, 1, 0], id="no seconds"),
        pytest.param([("2:05:10 PM", "ok"), ("2:05:10 PM", "ok")], [0, 0], id="seconds"),
        pytest.param([("2:05 PM", "ok"), ("2:05 PM", "no"), ("2:05 PM", "ok")], [0, 0, 1], id="others between"),
    ],
)
def test_the_same_words_in_the_same_minute(lines: list[tuple[str, str]], counts: list[int]) -> None:
    text = "".join(line(words, when=f"3/14/26, {clock}") for clock, words in lines)
    assert [entry.nth for entry in entries_of(text)] == counts
    threads, _ = threads_of_talks(talks_of_transcript(text, ZONE)[0], baker=Baker.of(NELL), latest=NOW)
    assert len(threads[0].messages) == len(
        {(clock, words, nth) for (clock, words), nth in zip(lines, counts, strict=True)}
    )


@pytest.mark.parametrize(
    ("written", "sender", "address", "mine"),
    [
        ("+1 (312) 555-0111", "+1 (312) 555-0111", "+1 (312) 555-0111", None),
        ("~ Dana Reyes", "Dana Reyes", "", None),
        ("~\u202fDana", "Dana", "", None),
        ("Bea 🐻", "Bea 🐻", "", None),
        ("B" * 80, "B" * 80, "", None),
        ("You", "", "", True),
        ("Tú", "", "", True),
        ("Young", "Young", "", None),
    ],
)
def test_names(written: str, sender: str, address: str, mine: bool | None) -> None:
    entry = entries_of(OTHERS.format(line("2 dozen", written)))[1]
    assert (entry.sender, entry.address, entry.mine) == (sender, address, mine)


@pytest.mark.parametrize(
    ("stem", "called"),
    [
        ("Chat with Dana Reyes", "Dana Reyes"),
        ("Chat_with_Dana_Reyes", "Dana Reyes"),
        ("Conversación con Bea 🐻", "Bea 🐻"),
        ("Chat - Aunt Jo (2)", "Aunt Jo"),
        ("Chat with +1 312 555 0111", "+1 312 555 0111"),
        ("chat", ""),
        ("export-2026-03-14", ""),
        ("cookies with sprinkles", ""),
        ("Chat - 2026-03-14", ""),
        ("", ""),
    ],
)
def test_the_name_of_the_file_may_say_who_it_is_with(stem: str, called: str) -> None:
    (talk,), _ = talks_of_transcript(OTHERS.format(""), ZONE, name=stem)
    assert talk.name == called


def test_the_example() -> None:
    text = SAMPLE.read_text(encoding="utf-8")
    assert is_transcript(text)
    talks, problems = talks_of_transcript(text, ZONE, name=SAMPLE.stem)
    assert not problems
    (thread,), missed = threads_of_talks(talks, baker=Baker.of(["Ottilie"]), latest=NOW + timedelta(days=500))
    assert not missed
    assert [message.mine for message in thread.messages].count(False) >= 4
    assert any(message.mine for message in thread.messages)
    assert any("\n" in message.text for message in thread.messages)
    assert any(message.attachments or message.text == "[photo]" for message in thread.messages)
    assert len({message.sender for message in thread.messages}) == 2
