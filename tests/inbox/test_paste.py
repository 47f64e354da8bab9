from __future__ import annotations

from datetime import timedelta

import pytest

from intake.inbox.paste import thread_of_paste
from intake.model import OrdertinError
from tests.inbox.conftest import NOW


@pytest.mark.parametrize(
    ("pasted", "text", "raw"),
    [
        pytest.param("2 dozen please", "2 dozen please", None, id="plain"),
        pytest.param("\n 2 dozen\r\nplease \n", "2 dozen\nplease", "\n 2 dozen\r\nplease \n", id="blanks around"),
        pytest.param("2 \x1b[31mdozen\u202e", "2 dozen", "2 \x1b[31mdozen\u202e", id="controls"),
        pytest.param("½ dozen \U0001f43b", "½ dozen \U0001f43b", None, id="not ASCII"),
        pytest.param("see photo, 24 like it", "see photo, 24 like it", None, id="a photo and words"),
        pytest.param("2", "2", None, id="one character"),
        pytest.param("[red]Static[/]", "[red]Static[/]", None, id="what looks like markup"),
    ],
)
def test_a_paste_is_one_message(pasted: str, text: str, raw: str | None) -> None:
    thread = thread_of_paste(pasted, at=NOW, sender="Dana")
    (message,) = thread.messages
    assert (message.text, message.raw, message.sender, message.mine, message.at) == (text, raw, "Dana", False, NOW)
    assert (thread.channel, thread.customer) == ("chat", "Dana")


@pytest.mark.parametrize(
    ("pasted", "says"),
    [
        ("", "nothing was pasted"),
        (" \n\t ", "nothing was pasted"),
        ("\x1b[2J\u200e", "nothing was pasted"),
        ("[photo]", "only a photo here, no words"),
        ("<Media omitted>", "only a photo here, no words"),
        ("image omitted\nimage omitted", "only a photo here, no words"),
        ("IMG_0042.HEIC", "only a photo here, no words"),
        ("\ufffc", "only a photo here, no words"),
        ("2 dozen\0", "this is not text"),
        ("\x01\x02\x03\x04abc", "this is not text"),
        ("\ufffd\ufffd\ufffdPNG", "this is not text"),
        ("\udcff\udcfeab", "this is not text"),
        ("x" * 200_001, "this is 200,001 characters long"),
    ],
    ids=lambda value: value[:40].encode("unicode_escape").decode(),
)
def test_what_is_no_message(pasted: str, says: str) -> None:
    with pytest.raises(OrdertinError, match=says) as stopped:
        thread_of_paste(pasted, at=NOW)
    assert stopped.value.problem.todo


def test_the_same_paste_is_the_same_thread() -> None:
    first = thread_of_paste("2 dozen", at=NOW, sender="Dana")
    again = thread_of_paste(" 2 dozen\n", at=NOW + timedelta(days=1), sender="dana")
    assert (first.id, first.key, first.messages[0].id) == (again.id, again.key, again.messages[0].id)
    assert thread_of_paste("2 dozen", at=NOW, sender="Bea").key != first.key
    assert thread_of_paste("3 dozen", at=NOW, sender="Dana").key != first.key


@pytest.mark.parametrize(
    ("pasted", "channel", "expected"),
    [
        ("From: Dana\nDate: today\nSubject: cookies\n\n2 dozen", "", "mail"),
        ("Subject line: none\n2 dozen", "", "chat"),
        ("2 dozen", "mail", "mail"),
    ],
)
def test_channel(pasted: str, channel: str, expected: str) -> None:
    assert thread_of_paste(pasted, at=NOW, channel=channel).channel == expected


@pytest.mark.parametrize("piece", ["photo ", "[ ", "a.", "-", "From: x\n", "image omitted "])
def test_hostile_pastes_end_soon(piece: str) -> None:
    assert thread_of_paste((piece * 30_000)[:150_000] + "x", at=NOW).messages
