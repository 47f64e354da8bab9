"""Number words against num2words (general-purpose library): every number from 0 to 9999, both ways of joining."""

from __future__ import annotations

import re

from num2words import num2words

from intake.reading import numbers


def test_number_words_from_nought_to_9999() -> None:
    pattern = re.compile(numbers.NUMBER)
    wrong = []
    for n in range(10_000):
        british = num2words(n).replace(",", "")
        for said in (british, british.replace(" and ", " ")):
            if numbers.value(said) != n or not pattern.fullmatch(said):
                wrong.append((n, said, numbers.value(said)))
    assert wrong == []


def test_digits_from_nought_to_9999() -> None:
    assert [n for n in range(10_000) if numbers.value(str(n)) != n or numbers.value(f"{n:,}") != n] == []
