"""Themes named by their place: the words before "cookies" or "theme", a sport before "team", a list's heading."""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading import cues
from intake.reading.mention import Mention
from intake.reading.thing_words import (
    COOKIE_WORDS,
    OCCASION_THEMES,
    SIZES,
    SPORT,
    STOP_LEFT,
    UNITS,
    things_too,
)
from intake.reading.things import Chunker


def left_of(chunker: Chunker, at: int, *, theme: bool = False) -> tuple[int, int, str] | None:
    """The thing phrase that ends right before character `at`: (start, end, words), or None."""
    index = next((i for i in range(len(chunker.words) - 1, -1, -1) if chunker.words[i].end <= at), None)
    if index is None or chunker.low[chunker.words[index].end : at].strip(" -'\"”") not in ("", "'s"):
        return None
    end = chunker.words[index].end
    while index >= 0 and chunker.words[index].low in ('"', "'", "”", "-"):
        index -= 1
    quote = re.search(r"[\"'“](?P<q>[^\"'”\n]{2,50})[\"'”]\s*$", chunker.low[:at])
    if quote and theme:
        return quote.start("q"), quote.end("q"), quote["q"]
    start, first = None, index
    taken_words = 0
    while index >= 0 and taken_words < 5:
        word = chunker.words[index]
        if word.low in ("-", "•", "*", "–"):
            break
        # a gap of more than one blank is masked text
        if first != index and chunker.low[word.end : chunker.words[index + 1].start] not in ("", " ", "\n"):
            break
        inside = next((t for t in chunker.all_things if t.start <= word.start and t.end >= word.end), None)
        if inside and inside.start == word.start and inside.end == word.end and word.low in STOP_LEFT:
            break  # "would love cookies"
        if inside:
            index = chunker.by_start.get(inside.start, index)
            start = inside.start
            taken_words += 1
            index -= 1
            continue
        if any(word.start < e and word.end > s for s, e in chunker.taken):
            break
        if word.low in ("and", "&", "n", "+", "y", "'n", "/", ",", *(("or",) if theme else ())) and start is not None and index > 0:
            left = chunker.words[index - 1]
            thing = next((t for t in chunker.all_things if t.start <= left.start and t.end >= left.end), None)
            named = theme and word.low != "," and left.low.isalpha() and left.low not in chunker.stop
            if named or (thing and (word.low != "," or (thing.plural and not theme))):
                index -= 1
                continue
            break
        if (
            word.low in ("'s", "of", "in", "the")
            and theme
            and start is not None
            and index > 0
            and _is_phrase(chunker, index)
        ):
            index -= 1
            continue
        if (
            not re.fullmatch(r"[a-zñáéíóúü'’-]+" if not theme else r"[a-zñáéíóúü'’-]+|\d{2,4}'?s", word.low)
            or (word.low in (STOP_LEFT if theme else chunker.stop) and not (theme and word.low in OCCASION_THEMES))
            or word.low in COOKIE_WORDS
            or word.low in UNITS
        ):
            break
        if any(q.start <= word.start < q.end for q in chunker.quantities):
            break
        start = word.start
        taken_words += 1
        index -= 1
    if start is None:
        return None
    said = chunker.low[start:end]
    # Colours and shades in front belong to the colours: "pink flamingo" is a flamingo.
    while True:
        color = next((c for c in chunker.colors if c.start == start and c.end < end), None)
        known = any(t.start == start and (color is None or t.end > color.end) for t in chunker.all_things) or (
            color is not None
            and re.match(r"\s+(?:and|n|&|y)\s", chunker.low[color.end : end]) is not None
            and any(t.start == start for t in chunker.all_things)
        )
        shade = re.match(r"[a-z-]+(?=\s)", said)
        if known:
            break
        if color and len(said.split()) == 2 and chunker.low[color.start : color.end] in things_too() and not any(
            t.start >= color.end and t.end == end for t in chunker.all_things
        ):
            break  # "grape cluster", "lemon branch"
        if color:
            start = color.end + len(chunker.low[color.end : end]) - len(chunker.low[color.end : end].lstrip(" ,&/-"))
        elif shade and shade[0] in chunker.shades - things_too() | SIZES:
            start += len(shade[0]) + 1
        else:
            break
        said = chunker.low[start:end]
        said2 = re.sub(r"^(?:and|n|&|y)\s+", "", said)
        start += len(said) - len(said2)
        said = said2
    said = said.strip(" -'\"")
    if not said or (
        any(c.start <= start and c.end >= end for c in chunker.colors)
        and not any(t.start <= start < t.end for t in chunker.all_things)
    ):
        return None
    return start, end, said


def _is_phrase(chunker: Chunker, index: int) -> bool:
    """Whether a small word at `index` joins two words of a theme name ("under the sea")."""
    return any(t.start <= chunker.words[index].start < t.end for t in chunker.terms if t.kind == "theme")


def before_cookies(chunker: Chunker) -> Iterator[Mention]:
    """A theme for each thing phrase right before "cookies", unless told of the past."""
    for word in chunker.words:
        if word.low not in COOKIE_WORDS:
            continue
        sentence = chunker.turn.shadow.sentence(word.start)
        if cues.is_past(chunker.low, sentence[0], word.start, sentence[1]):
            continue
        left = left_of(chunker, word.start)
        if left and left[2].endswith("s") and re.search(r"\b(?:who|she|he|that|someone|always|also)\s+$", chunker.low[: left[0]]):
            continue  # "someone who mails cookies"
        if left:
            start, end, said = left
            if chunker.low[max(0, start - 2) : start].strip() in ("'", "’"):
                continue
            yield Mention(
                "theme", chunker.spelled(said), chunker.turn.index, start, end, "words before “cookies”", "cookies"
            )


#: A phrase and what it is made of: "an English garden: roses, robins", "all sorts of pets: 10 parrots, 10 ponies".
_HEADING = re.compile(
    r"\b(?:is|an?|the|like|of|want|love|do|thinking|with|say|in mind|[.!?]|dozen) (?:all )?(?:(?:sorts|kinds|lots|types|a bunch) of )?(?P<t>[a-zà-ÿ'-]{3,}(?: [a-zà-ÿ'-]{3,}){0,2}):\s"
)
_PEOPLE = re.compile(r"(?:ers|ors|ists|ents|men|women|mates|people|folks|kids|boys|girls|staff|members|family|team|class)$")
_NO_HEADING = frozenset(
    (
        "cookies cookie biscuits biscuit colors colours shapes shape designs design theme themes following order orders details detail "
        "thank-you thanks thank gift gifts present presents party shower wedding birthday occasion favors favours event meeting lunch dinner picnic "
        "list set sets order count quantity mix breakdown split items things stuff flavors address phone name names wording lettering "
        "message text date day time pickup delivery idea ideas plan plans kinds sorts options number numbers total summary following galletas diseños"
    ).split()
)


def teams(chunker: Chunker) -> Iterator[Mention]:
    """Themes where no other is stated: a sport before "team" or "club", and the heading of a list."""
    for term in chunker.all_things:
        if re.match(
            r"\s+(?:team|club|league|squad)(?:'?s)?\b", chunker.low[term.end : term.end + 10]
        ) and term.entry not in ("book", "fan", "house"):
            yield Mention(
                "theme",
                chunker.low[term.start : term.end],
                chunker.turn.index,
                term.start,
                term.end,
                "the sport of a team",
                "club",
            )
    for m in SPORT.finditer(chunker.low):
        yield Mention("theme", m["s"], chunker.turn.index, m.start("s"), m.end("s"), "the sport of a team", "team")
    for m in _HEADING.finditer(chunker.low):
        words = m["t"].split()
        listed_next = [t for t in chunker.things if m.end() <= t.start < m.end() + 60]
        if len(listed_next) > 1 and not _PEOPLE.search(m["t"]) and not any(w in _NO_HEADING or w in chunker.stop for w in words) and not any(
            s < m.end("t") and e > m.start("t") for s, e in chunker.taken
        ) and not any(q.start <= m.start("t") < q.end for q in chunker.quantities) and not any(t.kind in ("name", "color") and m.start("t") <= t.start < m.end("t") for t in chunker.terms):
            yield Mention("theme", m["t"], chunker.turn.index, m.start("t"), m.end("t"), "the heading of a list", "cookies")
    for m in re.finditer(
        r"(?:^|[.,!?\n]\s*|cookies,?\s+)(?:all |everything )?(?P<t>[a-zñáéíóú' ]{3,28}?):\s", chunker.low
    ):
        words = m["t"].split()
        if not words or any(w in chunker.stop for w in words) or words[-1] in COOKIE_WORDS | {"colors", "theme"}:
            continue
        listed_next = [t for t in chunker.things if m.end() <= t.start < m.end() + 40]
        if len(listed_next) > 1 and any(t.start <= m.end("t") - 1 < t.end for t in chunker.all_things):
            yield Mention(
                "theme",
                m["t"].strip(),
                chunker.turn.index,
                m.start("t"),
                m.end("t"),
                "the heading of a list",
                "cookies",
            )
