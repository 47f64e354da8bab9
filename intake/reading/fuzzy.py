"""The only file of the reader that imports rapidfuzz: forgives spelling against known words, never free text."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

#: Shorter words are matched exactly: "carpet" is no kind of "cars".
SHORTEST = 5
CUTOFF = 88.0


@lru_cache(maxsize=4096)
def nearest(word: str, known: tuple[str, ...]) -> str | None:
    """The known word that `word` most likely misspells; None for short words and for anything further off."""
    if len(word) < SHORTEST:
        return None
    from rapidfuzz import fuzz, process

    found = process.extractOne(word, _like(word, known), scorer=fuzz.ratio, score_cutoff=CUTOFF)
    if not found:
        return None
    # "Skaters" are no "skates", nor are "chariots" "charts": a word with an ending of its own is not misspelt.
    ending = next((e for e in _ENDINGS if word.endswith(e)), "")
    return found[0] if found[0].endswith(ending) else None


_ENDINGS = ("ers", "er", "ors", "or", "ings", "ing", "ists", "ist", "iots", "iot")


def _like(word: str, known: Sequence[str]) -> list[str]:
    """Candidates of about the same length with the same first letter, which slips keep."""
    return [k for k in known if abs(len(k) - len(word)) <= 2 and k[:1] == word[:1]]


def alike(one: str, other: str) -> bool:
    """Whether two spellings are likely meant for one name."""
    from rapidfuzz import fuzz

    return one[:1].lower() == other[:1].lower() and fuzz.ratio(one.lower(), other.lower()) >= 70


def like_names(one: str, other: str) -> float:
    """How like two folded names of several words are, 0 where they aren't: whichever order, a word more or less."""
    if one == other:
        return 100.0
    from rapidfuzz import fuzz

    return fuzz.token_set_ratio(one, other, score_cutoff=CUTOFF)
