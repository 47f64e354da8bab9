from __future__ import annotations

import codecs

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.inbox.encoding import decoded

WORDS = "Zoë said: 2 dozen, café 🍪"


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_what_says_or_shows_its_encoding(coding: str) -> None:
    assert decoded(WORDS.encode(coding)) == (WORDS, "")


def test_utf_16_with_the_other_mark() -> None:
    assert decoded(codecs.BOM_UTF16_BE + WORDS.encode("utf-16-be")) == (WORDS, "")


@pytest.mark.parametrize(
    ("data", "text", "doubt"),
    [
        ("Zoë – café".encode("windows-1252"), "Zoë – café", "read as windows-1252"),
        ("Zoë, café, piñata".encode() + b" na\xefve", "Zoë, café, piñata na\ufffdve", "not in UTF-8 throughout"),
        (b"plain", "plain", ""),
        (b"", "", ""),
        (b"\xff\xfea", "\ufffd", "not in UTF-8 throughout"),
    ],
    ids=["one byte a letter", "one wrong letter", "ASCII", "nothing", "half a letter"],
)
def test_what_is_in_doubt(data: bytes, text: str, doubt: str) -> None:
    found, said = decoded(data)
    assert found == text
    assert doubt in said
    assert bool(doubt) == bool(said)


@given(st.binary(max_size=200))
def test_any_bytes_are_some_text(data: bytes) -> None:
    text, _ = decoded(data)
    assert isinstance(text, str)


@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0\ufeff"), max_size=100))
def test_utf_8_is_read_as_python_reads_it(text: str) -> None:
    found, doubt = decoded(text.encode())
    assert found == text
    assert not doubt
