"""Any text in letters that the type has."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.papers.letters import replaced, writable


def latin(letter: str) -> bool:
    return letter.isascii() and letter.isprintable()


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Dana Reyes", "Dana Reyes"),
        ("two\nlines\tand a tab", "two lines and a tab"),
        ("李伟", "‹LiWei›"),
        ("to 李 with love", "to ‹Li› with love"),
        ("Zoë", "Zo‹e›"),
        ("Zoe\u0308", "Zo‹e›"),
        ("a\u0301", "‹a›"),
        ("cake \U0001f382!", "cake ‹birthday›!"),
        ("\u202eevil\x1b[2J", "evil[2J"),
        ("\ue000", "‹?›"),
        ("", ""),
    ],
)
def test_what_is_lacking_is_written_by_its_sound_between_marks(text: str, shown: str) -> None:
    assert writable(text, latin) == shown
    assert replaced(shown) == ("‹" in shown)


@given(st.text())
def test_nothing_is_left_that_the_type_lacks(text: str) -> None:
    assert all(latin(letter) or letter in "‹›" for letter in writable(text, latin))
