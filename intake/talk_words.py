"""The baker's words made plain: one spelling for what is said in many ways, and little words left out."""

from __future__ import annotations

import re

from intake.talk_phrases import CANON, PHRASES, SHORT

_TOKEN = re.compile(r"<[a-z]+>|[a-z]+(?:'[a-z]+)?|\d[\d.,:/]*|[?]")
FILLER = frozenset(
    (
        "please pls just now the a an and of for to on in at it this that these those them they she he her his "
        "him hers their i me my mine we our us you your is are am be been was were will would could can should "
        "shall do does did doing has able have had there here one ones so then well ok okay hey oh thanks thank with "
        "from by up still yet already again all any anything every get got go s t u myself later right far maybe "
        "order's about out "
    ).split()
)
QUESTIONS = frozenset(
    "what when who why how where which is are does did has have can could should am will any anything anyone anybody "
    "howmuch howmany soon load whatnext daysoff whose was were lastdone".split()
)
def shadow(words: str) -> str:
    """`words` in small letters with plain quotes, letter for letter, so that places in it are places in `words`."""
    low = "".join(c.lower() if len(c.lower()) == 1 else c for c in words)
    return low.replace("\u2019", "'").replace("\u2018", "'").replace("\n", " ").replace("\t", " ")


def unfolded(low: str) -> str:
    """`low` with contractions written out."""
    for pattern, full in SHORT:
        low = re.sub(pattern, full, low)
    return low


def phrased(low: str) -> str:
    """`low` as tokens, a blank between them, with what is said in many ways said in one."""
    text = " ".join(_TOKEN.findall(unfolded(low)))
    for pattern, one in PHRASES:
        text = " ".join(re.sub(pattern, f" {one} ", text).split())
    return text


def plainly(low: str) -> list[str]:
    """`low` as tokens, each as it stands."""
    return _TOKEN.findall(unfolded(low))


def canonical(token: str) -> str:
    return CANON.get(token, token)


_BIDDEN = ("ask ", "price ", "book ", "write ", "print ", "drop ", "confirm ")


def is_question(low: str, text: str) -> bool:
    """Whether she asks. `text` is `low` phrased: "can you book it?" has become an order, and is none."""
    if low.rstrip().endswith("?") and not text.startswith("please") and not low.lstrip().startswith(_BIDDEN):
        return True
    first = canonical(text.split(" ")[0]) if text else ""
    second = text.split(" ")[1] if " " in text else ""
    if first in ("do", "have", "can", "could", "will", "should"):
        return second in ("i", "we", "you", "they", "she", "he", "it", "<who>")
    return first in QUESTIONS or first == "show"
