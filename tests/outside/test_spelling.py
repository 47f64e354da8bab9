"""The answers' own words, against the English list of pyspellchecker.

Its Spanish list lacks most forms of verbs (it knows neither "puedo" nor "gracias"), so the Spanish answers are not held
against it.
"""

from __future__ import annotations

import re

import pytest
from spellchecker import SpellChecker

from intake.model import Reply
from tests.replies.sheets import answers

WORD = re.compile(r"[^\W\d_]+(?:['’][^\W\d_]+)?")
LIST = SpellChecker(language="en")


@pytest.mark.parametrize(("kind", "reply"), answers("en"), ids=[kind for kind, _ in answers("en")])
def test_every_word_is_an_english_one(kind: str, reply: Reply) -> None:
    words = WORD.findall(f"{reply.subject} {reply.text}".lower())
    assert len(words) > 10
    assert LIST.unknown(words) == set()


def test_a_slip_is_found() -> None:
    assert LIST.unknown(["your", "coookies", "recieved"]) == {"coookies", "recieved"}
