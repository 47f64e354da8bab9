from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from intake.inbox.open_export import Export
from intake.inbox.thread_lines import threads_of_lines
from tests.inbox.conftest import NOW, ZONE

MESSAGE = {"id": "m1", "from": "Dana", "mine": False, "at": "2026-03-11T14:05:10", "text": "2 dozen"}
THREAD = {"id": "t-1", "channel": "mail", "messages": [MESSAGE]}


def test_a_thread_as_written() -> None:
    (thread,), problems = threads_of_lines(json.dumps(THREAD | {"notes": 3}) + "\n", ZONE)
    assert problems == []
    assert (thread.id, thread.channel) == ("t-1", "mail")
    (message,) = thread.messages
    assert (message.id, message.sender, message.mine, message.text) == ("m1", "Dana", False, "2 dozen")
    assert message.at.isoformat() == "2026-03-11T14:05:10-05:00"


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("{", "line 2: this line is not whole JSON ({)"),
        ("[]", 'line 2: this line is not a thread: it needs "id"'),
        ("3", "line 2: this line is not a thread"),
        ('{"id": "t", "messages": []}', "line 2: this thread has no message that can be read"),
        ('{"id": "t", "messages": {}}', "line 2: this line is not a thread"),
        ("[" * 100_000, "line 2: this line is not whole JSON"),
    ],
    ids=["broken", "list", "number", "empty", "no list", "deep"],
)
def test_a_wrong_line_is_named_and_the_rest_goes_on(line: str, says: str) -> None:
    good = json.dumps(THREAD)
    threads, problems = threads_of_lines(f"{good}\n{line}\n\n{good}\n", ZONE)
    assert [thread.id for thread in threads] == ["t-1", "t-1"]
    assert says in str(problems[0])


@pytest.mark.parametrize(
    ("message", "says"),
    [
        (None, "line 1, message 2: this is not a message"),
        ({**MESSAGE, "id": "m2", "at": "soon"}, 'line 1, message 2: this message has no time in "at"'),
        ({**MESSAGE, "id": "m2", "text": None}, 'line 1, message 2: this message has no "text"'),
        (MESSAGE, 'line 1, message 2: a second message has the id "m1"'),
    ],
    ids=["null", "time", "text", "id twice"],
)
def test_a_wrong_message_is_named(message: Any, says: str) -> None:
    threads, problems = threads_of_lines(json.dumps({**THREAD, "messages": [MESSAGE, message]}), ZONE)
    assert [len(thread.messages) for thread in threads] == [1]
    assert says in str(problems[0])


@pytest.mark.parametrize(
    ("days", "taken"),
    [
        (("2026-03-11T14:05:00", "1970-01-01T00:00:00"), ["03-11 14:05", "03-11 14:05"]),
        (("1970-01-01T00:00:00", "2026-03-11T14:05:00"), ["03-11 14:05", "03-11 14:05"]),
        (("2126-03-11T14:05:00", "2026-03-11T14:05:00"), ["03-11 14:05", "03-11 14:05"]),
        (("1970-01-01T00:00:00",), ["03-20 12:00"]),
    ],
    ids=["after", "before", "far ahead", "alone"],
)
def test_a_day_that_can_not_be_right_is_said_and_the_message_kept(days: tuple[str, ...], taken: list[str]) -> None:
    messages = [{**MESSAGE, "id": f"m{n}", "at": day} for n, day in enumerate(days)]
    (thread,), problems = threads_of_lines(json.dumps({**THREAD, "messages": messages}), ZONE, latest=NOW)
    assert [f"{message.at:%m-%d %H:%M}" for message in thread.messages] == taken
    (problem,) = problems
    assert "can't be right" in problem.what


def test_without_a_latest_day_only_the_past_is_judged() -> None:
    messages = [{**MESSAGE, "id": f"m{n}", "at": day} for n, day in enumerate(("1970-01-01", "2126-03-11"))]
    (thread,), (problem,) = threads_of_lines(json.dumps({**THREAD, "messages": messages}), ZONE)
    assert {message.at.year for message in thread.messages} == {2126}
    assert "m0 is dated 1970-01-01" in problem.what


def test_line_separators_inside_a_text_stay() -> None:
    line = json.dumps({**THREAD, "messages": [{**MESSAGE, "text": "a\u2028b\u0085c\x1b[2J"}]}, ensure_ascii=False)
    (thread,), _ = threads_of_lines(line, ZONE)
    assert thread.messages[0].text == "a\u2028bc"
    assert thread.messages[0].raw == "a\u2028b\u0085c\x1b[2J"


def test_messages_of_two_threads_differ_once_taken(take: Callable[..., Export]) -> None:
    lines = "\n".join(json.dumps({**THREAD, "id": name}) for name in ("t-1", "t-2"))
    export = take(lines + "\n{broken\n")
    assert [t.id for t in export.threads] == ["t-1", "t-2"]
    assert len({m.id for t in export.threads for m in t.messages}) == 2
    assert "export, line 3" in str(export.problems[0])
    assert take(lines, name="again").threads == export.threads
