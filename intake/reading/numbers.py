"""Numbers as customers write them: digits, fractions and words, in English and Spanish."""

from __future__ import annotations

import re
from fractions import Fraction

_ONES = {
    "zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19,
    "cero": 0, "uno": 1, "un": 1, "una": 1, "dos": 2, "tres": 3, "cuatro": 4, "cinco": 5, "seis": 6, "siete": 7,
    "ocho": 8, "nueve": 9, "diez": 10, "once": 11, "doce": 12, "trece": 13, "catorce": 14, "quince": 15,
    "dieciséis": 16, "dieciseis": 16, "diecisiete": 17, "dieciocho": 18, "diecinueve": 19, "veintiuno": 21,
    "veintidós": 22, "veintidos": 22, "veintitrés": 23, "veintitres": 23, "veinticuatro": 24, "veinticinco": 25,
    "veintiséis": 26, "veintiseis": 26, "veintisiete": 27, "veintiocho": 28, "veintinueve": 29,
}  # fmt: skip
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90, "veinte": 20, "treinta": 30, "cuarenta": 40, "cincuenta": 50, "sesenta": 60, "setenta": 70,
    "ochenta": 80, "noventa": 90,
}  # fmt: skip
_SCALES = {"hundred": 100, "cien": 100, "ciento": 100, "thousand": 1000, "mil": 1000}
HALVES = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3)}

_TEEN = "|".join(sorted(_ONES, key=len, reverse=True))
_TEN = "|".join(sorted(_TENS, key=len, reverse=True))
_SMALL = rf"(?:(?:{_TEN})(?:(?:[ -]| y )(?:{_TEEN}))?|(?:{_TEEN}))"
#: Number words up to the thousands: "twenty-four", "a hundred and twenty", "treinta y seis".
WORDS = (
    rf"(?:(?:(?:{_SMALL}|a) (?:hundred|thousand)|cien(?:to)?|mil)"
    rf"(?:(?: and)? (?:{_SMALL} hundred(?: and)? )?{_SMALL}| (?:{_SMALL}) hundred)?|{_SMALL})"
)
#: Digits with thousands, decimals and fractions: "1,200", "2.5", "1 1/2", "1½", "½".
DIGITS = r"(?:\d{1,3}(?:,\d{3})+|\d{1,5}\s?[½¼¾⅓⅔]|[½¼¾⅓⅔]|\d{1,3}[ -]1/2|1/2|\d{1,6}(?:\.\d{1,2})?)"
NUMBER = rf"(?:{DIGITS}|\b{WORDS}\b)"

_WORD = re.compile(r"[a-zé]+")


def value(text: str) -> Fraction | None:
    """The number that a whole span states, or None. Raises nothing."""
    text = text.strip().lower()
    if not text:
        return None
    if text[0].isdigit() or text[0] in HALVES:
        return _digits(text)
    return _words(text)


def _digits(text: str) -> Fraction | None:
    text = text.replace(",", "")
    if text[-1] in HALVES:
        whole = text[:-1].strip()
        return (Fraction(whole) if whole else Fraction(0)) + HALVES[text[-1]]
    if text.endswith("1/2"):
        whole = text[:-3].strip(" -")
        return (Fraction(whole) if whole else Fraction(0)) + Fraction(1, 2)
    try:
        return Fraction(text)
    except (ValueError, ZeroDivisionError):
        return None


def _words(text: str) -> Fraction | None:
    total = part = 0
    seen = False
    for word in _WORD.findall(text):
        if word in _ONES:
            part += _ONES[word]
        elif word in _TENS:
            part += _TENS[word]
        elif word in _SCALES:
            part = max(part, 1) * _SCALES[word]
            if _SCALES[word] == 1000:
                total, part = total + part, 0
        elif word in ("and", "y"):
            continue
        elif word == "a":
            part = max(part, 1)
            continue
        else:
            return None
        seen = True
    return Fraction(total + part) if seen else None
