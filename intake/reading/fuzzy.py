"""The only file of the reader that imports rapidfuzz: forgives spelling against known words, never free text."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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


def verb(word: str, known: tuple[str, ...]) -> str | None:
    """The known word of a command that `word` most likely is, one slip of the fingers away (two in a long word): a
    letter wrong, lost, doubled or swapped with its neighbor. None where there is none, or two are as near."""
    if len(word) < 3:
        return None
    from rapidfuzz.distance import OSA

    most = 1 if len(word) < 7 else 2
    near = sorted((OSA.distance(word, k), k) for k in _like(word, known) if len(k) >= 3)
    near = [(slips, k) for slips, k in near if slips <= most and slips < len(k) - 1]
    tied = len(near) > 1 and near[0][0] == near[1][0]
    return None if tied or not near else near[0][1]


def likest(tokens: Sequence[str], known: Mapping[str, Sequence[str]], most: int) -> tuple[str, ...]:
    """The names of `known` that share most words with `tokens`, like ones too, the likest first; none without any."""
    from rapidfuzz import fuzz

    scores = {
        name: sum(max((fuzz.ratio(token, word, score_cutoff=75) for word in words), default=0) for token in tokens)
        for name, words in known.items()
    }
    return tuple(sorted((name for name in scores if scores[name]), key=lambda name: -scores[name])[:most])
