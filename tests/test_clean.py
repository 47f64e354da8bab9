"""What a terminal could act on never gets past `clean`."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from intake.clean import clean

# Unicode 15.1, PropList.txt, property Bidi_Control.
BIDI_CONTROLS = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"

# Sequences by their names in ECMA-48, 5th edition; sections in brackets. Those of private use are named by what
# terminals do with them.
SEQUENCES = {
    "SGR, red (8.3.117)": "\x1b[31m",
    "SGR with sub-parameters (5.4.2)": "\x1b[38:2::255:0:0m",
    "ED, erase the page (8.3.39)": "\x1b[2J",
    "CUP, move the cursor (8.3.21)": "\x1b[1;1H",
    "CSI with an intermediate byte, DECSCUSR (5.4)": "\x1b[4 q",
    "CSI with a private parameter, alternate screen (5.4.1)": "\x1b[?1049h",
    "CSI as one C1 character (5.3)": "\x9b31m",
    "CSI that never ends (5.4)": "\x1b[31",
    "RIS, reset (8.3.105)": "\x1bc",
    "nF escape, G0 character set (ECMA-35, 13.2)": "\x1b(0",
    "OSC ended by BEL, window title (8.3.89)": "\x1b]0;mine\x07",
    "OSC ended by ST, clipboard (8.3.89)": "\x1b]52;c;bWluZQ==\x1b\\",
    "OSC ended by ST as C1, link (8.3.89)": "\x1b]8;;http://example.com\x9c",
    "OSC as one C1 character (8.3.89)": "\x9d0;mine\x9c",
    "DCS (8.3.27)": "\x1bP$q\x22p\x1b\\",
    "APC (8.3.2)": "\x1b_Gi=1\x1b\\",
    "PM (8.3.94)": "\x1b^mine\x1b\\",
    "SOS (8.3.128)": "\x1bXmine\x1b\\",
    "ESC inside OSC": "\x1b]0;mi\x1b[31m",
    "BEL (8.3.3)": "\x07",
    "BS (8.3.5)": "\x08",
    "SO and SI (8.3.126, 8.3.119)": "\x0e\x0f",
    "CAN and SUB (8.3.6, 8.3.148)": "\x18\x1a",
    "NUL (8.3.88)": "\0",
    "DEL (ECMA-6)": "\x7f",
    "NEL (8.3.86)": "\x85",
    "a lone ESC": "\x1b\x1b",
    "bidirectional controls": BIDI_CONTROLS,
    "a byte order mark": "\ufeff",
}


@pytest.mark.parametrize("sequence", SEQUENCES.values(), ids=SEQUENCES)
def test_sequences_go_and_the_words_around_them_stay(sequence: str) -> None:
    assert clean(f"two dozen {sequence}\nmoons") == "two dozen \nmoons"


@pytest.mark.parametrize(
    ("text", "cleaned"),
    [
        ("one\r\ntwo\rthree\n", "one\ntwo\nthree\n"),
        ("a\tb", "a\tb"),
        ("1½ dozen, ﬁg, № 4, Zoë, Zoe\u0308, שלום, 山", "1½ dozen, ﬁg, № 4, Zoë, Zoe\u0308, שלום, 山"),
        ("👩\u200d🍳 bakes", "👩\u200d🍳 bakes"),
        ("line\u2028separator", "line\u2028separator"),
        ("half a pair \ud83d", "half a pair \ufffd"),
        ("[/] [@click=app.quit]x[/] {{7*7}} %s {0}", "[/] [@click=app.quit]x[/] {{7*7}} %s {0}"),
        ("\x1b]0;a title that never ends\nwords", "\nwords"),
        ("\x1b\x07[31m", "[31m"),
        ("\x1b]\x1b]0;x\x07y", "y"),
    ],
)
def test_what_is_changed_and_what_is_not(text: str, cleaned: str) -> None:
    assert clean(text) == cleaned


texts = st.lists(
    st.one_of(
        st.text(st.characters(), max_size=8),
        st.sampled_from([*SEQUENCES.values(), "\x1b", "\x1b[", "\x1b]", "\x9b", "\x9c", "\\", "\r", "\n", "m", "1;"]),
    ),
    max_size=8,
).map("".join)


@given(texts)
@example("\x1b\x9d\x1b[\x00[0m")
def test_nothing_is_left_that_a_terminal_acts_on(text: str) -> None:
    left = {c for c in clean(text) if unicodedata.category(c) in ("Cc", "Cs") or c in BIDI_CONTROLS}
    assert left <= {"\n", "\t"}


@given(texts)
def test_cleaning_twice_changes_nothing_more(text: str) -> None:
    assert clean(clean(text)) == clean(text)


@given(st.text(st.characters(exclude_categories=["Cc", "Cs", "Cf"])))
def test_plain_words_are_left_alone(text: str) -> None:
    assert clean(text) == text


@pytest.mark.parametrize("piece", ["\x1b]", "\x1b[", "\x1b", "\x9b1;", "\r", "\x1b[0;", "\x1b]0;x"])
def test_a_long_run_of_escapes_goes_whole(piece: str) -> None:
    assert not set(clean(piece * 20_000)) & {"\x1b", "\x9b", "\r"}
