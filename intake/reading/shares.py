"""Which share of the count each thing gets: told as a fraction, as the rest, evenly, in a summary; and things swapped."""

from __future__ import annotations

import re
from collections.abc import Sequence

from intake.reading import cues
from intake.reading.found import Found
from intake.reading.tally import Tally
from intake.reading.things import Item


def head_key(what: str) -> str:
    word = what.lower().split()[-1]
    return re.sub(r"(?:ies|ves|es|s|y|f|fe)$", "", word)


def agreed(found: Sequence[Found], index: int) -> bool:
    answer = next((f for f in found[index + 1 :] if not f.turn.mine and f.turn.bare), None)
    return answer is not None and cues.agrees(answer.turn.bare)


_SWAP = re.compile(
    r"\b(?:swap|switch|change|trade|replace|turn|exchange|cambiar)(?: out)? (?:the |those |all the |los |las )?(?P<old>[a-zà-ÿ]+(?: [a-zà-ÿ]+)?) (?:for|to|with|into|por) (?:some |the )?(?P<new>[a-zà-ÿ]{3,}(?: [a-zà-ÿ]{3,}s)?)(?=\s*(?:$|[.,!?;\n]|instead|please|pls|if\b|and\b))"
)


def swapped(f: Found, items: dict[str, Item], shares: dict[str, int | None]) -> tuple[dict[str, Item], dict[str, int | None]]:
    """ "Could you swap the peas for beetroots?": one thing in the place of another, with its share."""
    for m in _SWAP.finditer(f.turn.low):
        old = next((w for w in items if head_key(w) == head_key(m["old"])), None)
        if old is None or m["new"] in items:
            continue
        items = {(m["new"] if w == old else w): i for w, i in items.items()}
        shares = {(m["new"] if w == old else w): n for w, n in shares.items()}
    return items, shares


def summed_up(found: Sequence[Found], items: dict[str, Item], shares: dict[str, int | None]) -> dict[str, int | None]:
    """The shares of the baker's summary, where she named none and has agreed: "so 25 wreaths, 25 candles. OK?"."""
    if any(n is not None for n in shares.values()):
        return shares
    keys = {head_key(w): w for w in items}
    for index, f in enumerate(found):
        for g in f.lists if f.turn.mine and agreed(found, index) else ():
            told = {head_key(i.what): i.share for i in g.items}
            if set(told) == set(keys) and all(told.values()):
                return {keys[k]: n for k, n in told.items()}
    return shares


def parted(total: int | None, items: dict[str, Item], shares: dict[str, int | None]) -> dict[str, int | None]:
    """Shares told as fractions of the total, and what is left for "the rest"."""
    if total is None:
        return shares
    out = dict(shares)
    for what, item in items.items():
        if item.part is not None and out.get(what) is None and (total * item.part).denominator == 1:
            out[what] = int(total * item.part)
        elif item.half and out.get(what) is None and total % 2 == 0 and any(i.part for i in items.values()):
            out[what] = total // 2
    rest = [what for what, item in items.items() if item.rest and out.get(what) is None]
    known = [n for what, n in out.items() if what not in rest]
    if len(rest) == 1 and all(n is not None for n in known) and sum(n or 0 for n in known) < total:
        out[rest[0]] = total - sum(n or 0 for n in known)
    return out


_EVENLY = re.compile(r"\b(?:half (?:n|and|&) half|(?:an? )?even(?:ly)?(?: split)?|equal(?:ly)?(?: split)?|same (?:number |amount )?of (?:each|both)|half of each|equal numbers?|split (?:them )?evenly|mitad y mitad)\b")


def answered_even(found: Sequence[Found]) -> bool:
    """ "How many of each?" - "half n half": a split told where no thing is named."""
    return any(not f.turn.mine and not f.lists and _EVENLY.search(f.turn.low) for f in found)


def even_split(found: Sequence[Found], tally: Tally, shares: dict[str, int | None]) -> bool:
    """ "12/12 is great": two equal numbers that fill the total of two designs."""
    if tally.total is None or len(shares) != 2 or any(shares.values()):
        return False
    half = tally.total / 2
    return any(re.search(rf"\b{half:g}\s*(?:/|and|&|y|n)\s*{half:g}\b", f.turn.low) for f in found)
