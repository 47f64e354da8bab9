"""Words spelt otherwise, and what is nearest to words that are not understood."""

from __future__ import annotations

from intake.talk_known import KNOWN, VOCABULARY
from intake.talk_words import FILLER, QUESTIONS, canonical

#: What is offered where words are near nothing.
USUAL = ("make it 3 dozen", "what's due this week?", "price it")
_CORRECTIONS = ("make it 3 dozen", "due the 14th", "no names", "pickup at 4", "theme gnomes", "add blue", "ship it")
_SAME = ("<", "?")
_MOST = 12


def respelt(text: str) -> str:
    """`text` with each word that nothing goes by put as the known word that it most likely is."""
    from intake.reading.fuzzy import verb

    known = frozenset((*VOCABULARY, *FILLER, *QUESTIONS))
    out = []
    for token in text.split():
        same = token.startswith(_SAME) or canonical(token) in known or token[0].isdigit()
        out.append(token if same else verb(token, VOCABULARY) or token)
    return " ".join(out)


def nearest(text: str, tokens: tuple[str, ...]) -> tuple[str, ...]:
    """Three things that can be said, the likest first, each as it is typed."""
    from intake.reading.fuzzy import likest

    content = [token for token in tokens if token not in FILLER and token not in QUESTIONS][:_MOST]
    if not content:
        return USUAL
    by = {known.says: " ".join((known.says, *known.heads)).split() for known in KNOWN}
    by |= {each: each.split() for each in _CORRECTIONS}
    found = likest(content, by, 3)
    return tuple(dict.fromkeys((*found, *USUAL)))[:3]
