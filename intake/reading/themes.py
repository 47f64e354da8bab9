"""Stated themes: "theme is X", "X theme", "galletas de X", a theme changed or still open."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from intake.reading import cues, theme_frames, thing_lists
from intake.reading.counts import Quantity
from intake.reading.language import Term, Word, listed
from intake.reading.mention import Mention
from intake.reading.thing_phrases import before_cookies, left_of, teams
from intake.reading.thing_slots import Slots
from intake.reading.thing_words import JOINS, things_too
from intake.reading.things import Chunker, ItemList
from intake.reading.turns import Turn


@dataclass
class Things:
    themes: list[Mention] = field(default_factory=list)
    lists: list[ItemList] = field(default_factory=list)


_STATED = re.compile(
    r"\b(?:the |our |my |her |his )?(?:tema\s+(?=(?:la|el|los|las)\b)|theme|tema)\s*(?:(?=(?:la|el|los|las)\b)|(?:is|will be|would be|we(?:'re| are) (?:doing|going with)|es|ser[aá]|of|de|idea)(?: de)?\b|'s\b|:|=|-)\s*(?:going to be |gonna be |either )?(?P<t>[\"'“]?[^\n.!?;:()]{2,60})",
    re.IGNORECASE,
)
_IN_THEME = re.compile(r"\bin (?:a|an|the) (?P<t>[a-z][a-z' &-]{2,40}?) theme\b")
_NOW = re.compile(
    r"\b(?:it'?s|its|she wants|he wants|they want|now it'?s|switch(?:ed|ing)? to|change(?:d)? (?:it )?to|make (?:them|those|it|em)|do)\s+(?P<t>[a-z][a-z' ]{2,24}?)\s+(?:now|instead|not)\b"
)
_UNDECIDED = re.compile(
    r"\b(?:haven'?t decided|can'?t decide|not decided|undecided|torn|deciding|debating) between (?P<t>[^\n.!?]{3,60})"
)
_NO_THEME = re.compile(
    r"\b(?:no|not (?:a|any)|there is no|isn'?t (?:a|any)|without a) (?:particular |real |specific |set )?theme\b|\bno theme\b|\btheme:? (?:none|n/a)\b"
)
_OF = re.compile(
    r"\b(?:galletas|galletitas|docenas?|media docena)\s+(?:decoradas\s+)?(?:de|con(?: tema(?: de)?)?)\s+(?!galletas)(?P<t>[a-zñáéíóú][\wñáéíóú' ]{2,40}?)(?=$|[.,!?;:\n]| para | con (?!globos)| por | for | el | la fiesta| en |\s+y\s+\d)"
)
_CUTS = re.compile(
    r"\s*(?:,|\s-+\s|\band (?:i|we|it|the|she|he|they|can|pickup|my|would|could|with)\b|\b(?:for (?:my|our|her|his|the|a|saturday|sunday|friday|\d)|please|pls|plz|plis|thank|with (?:her|his|a|the|their|lots)|so |but |because|since|on (?:the|\d|sat|sun|fri|a)|she |he |they |i |we |if |in (?:\w+ and|pink|blue|red|green|white|gold|the colors|pastel)|can |could |do you|lol|haha|if possible|bc|cuz|that|which|para (?:el|la|mi)|por favor|like |i think|to match)\b).*$"
)


def find(
    turn: Turn,
    words: Sequence[Word],
    terms: Sequence[Term],
    quantities: Sequence[Quantity],
    taken: Sequence[tuple[int, int]],
    events: Sequence[tuple[int, int]],
) -> Things:
    """Themes (as mentions) and lists of things of one turn.

    `taken` are spans that name no thing (dates, addresses, lettering), `events` those that name an occasion: a
    "picnic" may be a theme, but is not drawn.
    """
    away = theme_frames.elsewhere(turn.low) + _outweighed(turn, terms, quantities)
    terms = [t for t in terms if t.kind not in ("motif", "theme") or not any(s <= t.start and t.end <= e for s, e in away)]
    terms = [t for t in terms if not (t.kind == "motif" and t.entry == "book" and not t.plural and _TO_BOOK.search(turn.low[: t.start]))]
    terms = [t for t in terms if not _no_thing_here(turn, t, taken)]
    slots = Slots(turn.low, terms, quantities, [*taken, *events, *away])
    chunker = Chunker(turn, words, [*terms, *slots.find()], quantities, taken)
    chunker.asked = slots.asked
    heads = [t for t in slots.shapes if re.match(r"\s*[,:]\s+(?!please|pls|in\b)[a-z]+s? (?:and|&|n)\b|\s*[,:][^.!?\n]{3,40}\b(?:and|&)\s", turn.low[t.end :])]
    chunker.things = [t for t in chunker.things if not any(s <= t.start and t.end <= e for s, e in events)]
    things = Things()
    things.themes.extend(stated(turn, chunker))
    for head in heads:
        things.themes.append(Mention("theme", turn.low[head.start : head.end], turn.index, head.start, head.end, "what they are to look like", "stated"))
    things.themes.extend(before_cookies(chunker))
    things.themes.extend(teams(chunker))
    chunker.themed = [(m.start, m.end) for m in things.themes if m.op != "drop"]
    things.lists.extend(thing_lists.spelled_out(chunker, m) for m in things.themes if m.role == "cookies" and JOINS.search(m.value))
    things.lists.extend(thing_lists.lists(chunker))
    things.lists.sort(key=lambda group: group.start)
    return things


_TO_BOOK = re.compile(r"\b(?:to|i|we|you|u|please|can|could|won'?t|let'?s|and|or|just|go ahead and)\s+$")
_NAME_AFTER = re.compile(r"(?:'s\b|\s(?:is|was|has|had|broke|turns?|will|wants?|loves?|said|says|got|and (?:i|me)|would|can|could)\b)")


def _no_thing_here(turn: Turn, term: Term, taken: Sequence[tuple[int, int]]) -> bool:
    """ "Pipe 100 on six": a verb before what is to be piped; "Ivy broke her wrist": somebody of that name."""
    if term.kind not in ("motif", "theme") or term.plural or " " in term.entry:
        return False
    if term.entry in _DEEDS and any(s == term.end + 1 for s, _ in taken):
        return True
    named = term.entry in listed("names_also_words.txt") and turn.text[term.start].isupper()
    return named and _NAME_AFTER.match(turn.low, term.end) is not None


#: Things whose names are also what is done with a text.
_DEEDS = frozenset("pipe put write ice stamp print letter box bag wrap tag add".split())
_BUT = re.compile(r"\bbut (?=[^.!?\n]{0,40}\b(?:want|wants|asked for|like|love|need|please|picked|chose|for the (?:cookies|biscuits))\b)")


def _outweighed(turn: Turn, terms: Sequence[Term], quantities: Sequence[Quantity]) -> list[tuple[int, int]]:
    """ "We have two corgis, but for the cookies I want strawberries": what stands before "but", where a thing is wanted after it."""
    out = []
    for m in _BUT.finditer(turn.low):
        start, end = turn.shadow.sentence(m.start())
        wanted = any(t.kind in ("motif", "theme") and m.end() <= t.start < end for t in terms)
        counted = any(start <= q.start < m.start() and q.role in ("cookies", "dozens", "total") for q in quantities)
        if wanted and not counted:
            out.append((start, m.start()))
    return out


def _past_or_dropped(turn: Turn, start: int, end: int, dropped: Sequence[tuple[int, int]]) -> bool:
    sentence = turn.shadow.sentence(start)
    return any(s <= start < e for s, e in dropped) or cues.is_past(turn.low, sentence[0], start, end)


def _before_color(chunker: Chunker, said: str, start: int) -> str:
    """What stands before a colour that follows a known thing: "vinyl records purple n black" are vinyl records."""
    ends = {t.end for t in chunker.all_things if t.plural}
    plain = [c for c in chunker.colors if chunker.low[c.start : c.end] not in things_too()]
    cut = next((c.start for c in plain if start < c.start < start + len(said) and c.start - 1 in ends), None)
    return said if cut is None else said[: cut - start - 1]


def stated(turn: Turn, chunker: Chunker) -> Iterator[Mention]:
    low = turn.low
    for m in _NO_THEME.finditer(low):
        yield Mention("theme", "", turn.index, m.start(), m.end(), "no theme wanted", "stated", "drop")
    dropped = [m.span() for m in _NO_THEME.finditer(low)]
    for pattern in (_STATED, _IN_THEME):
        for m in pattern.finditer(low):
            if any(s < m.end() and e > m.start() for s, e in dropped) or cues.is_past(
                low, turn.shadow.sentence(m.start())[0], m.start(), m.end()
            ):
                continue
            if (
                pattern is _STATED
                and re.search(r"(?:theme|tema)\s*[:=-]", m[0])
                and left_of(chunker, m.start(), theme=True)
            ):
                continue  # "lemons and tiles theme: 30 of the lemons": what follows is the list, not the theme
            said = m["t"]
            quoted = re.match(r"\s*[\"'“](?P<q>[^\"”]{2,50}?)[\"'”](?![a-z])", said)
            if quoted:
                said, at = quoted["q"], m.start("t") + quoted.start("q")
            else:
                said = _CUTS.sub("", _before_color(chunker, said, m.start("t")))
                said = re.sub(r"^\s*(?:(?:a|an|the|like|just|probably|maybe|actually|basically|really|all|gonna be|going to be|un|una)\s+)+", "", said)
                at = low.index(said, m.start("t")) if said and said in low[m.start("t") :] else m.start("t")
            said = re.sub(r"\s+(?:only|theme|please|pls)$", "", said.strip(" -'\","))
            if not said or re.match(
                r"(?:same|up to you|whatever|not sure|tbd|undecided|open|your|anything|something|either|none|idk)\b",
                said,
            ):
                continue
            doubt = "more than one theme is named" if re.search(r"\bor\b|\beither\b", m[0]) else ""
            yield Mention(
                "theme", chunker.spelled(said), turn.index, at, at + len(said), "a theme, stated", "stated", doubt=doubt
            )
    for said, start, end, rule in theme_frames.stated(low):
        if not _past_or_dropped(turn, start, end, dropped):
            yield Mention("theme", chunker.spelled(said), turn.index, start, end, rule, "stated")
    for said, start, end, rule in theme_frames.kinds_of_party(low):
        known = any(start <= t.start and t.end <= end for t in chunker.all_things)
        named = any(t.kind in ("name", "relation") and start <= t.start < end for t in chunker.terms)
        if not named and not _past_or_dropped(turn, start, end, dropped):
            yield Mention("theme", said, turn.index, start, end, rule, "stated" if known else "cookies")
    for said, start, end, rule in theme_frames.changed(low):
        color = any(c.start <= start and end <= c.end for c in chunker.colors)
        known = any(start <= t.start and t.end <= end for t in chunker.all_things)
        if rule == "a theme swapped in" or (known and not color):
            yield Mention("theme", said, turn.index, start, end, rule, "stated")
    for at in theme_frames.feels(low):
        left = left_of(chunker, at, theme=True)
        if left and "n't" not in left[2] and not any(w in chunker.stop for w in left[2].split()[-1:]):
            yield Mention("theme", chunker.spelled(left[2]), turn.index, left[0], left[1], "words before “vibes”", "stated")
    for m in re.finditer(r"(?<![a-z])[-\s]*(?:(?:sorta|kinda|type|style)\s+)?(?:theme|themed)\b(?!\s*(?:is|will|would|'s|of|es)\b)", low):
        left = left_of(chunker, m.start(), theme=True)
        if left and not any(s <= m.start() < e for s, e in dropped):
            start, end, said = left
            sentence = turn.shadow.sentence(start)
            if cues.is_past(low, sentence[0], start, end):
                continue
            yield Mention("theme", chunker.spelled(said), turn.index, start, end, "words before “theme”", "stated")
    for m in _NOW.finditer(low):
        if any(m.start("t") <= t.start and t.end <= m.end("t") for t in chunker.all_things):
            said = re.sub(r"^(?:(?:all|just|only|more|about|the) )+", "", m["t"].strip())
            yield Mention("theme", said, turn.index, m.start("t"), m.end("t"), "a theme, changed", "stated")
    for m in _UNDECIDED.finditer(low):
        yield Mention(
            "theme",
            m["t"],
            turn.index,
            m.start("t"),
            m.end("t"),
            "a theme, stated",
            "stated",
            doubt="more than one theme is named",
        )
    for m in _OF.finditer(low):
        said = re.sub(r"\s+(?:por favor|plis|please)$|\s+(?:a|pa|para) (?:mi|su|la|el|mis)\b.*$", "", m["t"]).strip()
        if said.split()[0] in (
            "cada",
            "mi",
            "su",
            "la",
            "el",
            "los",
            "las",
            "un",
            "una",
            "para",
            "vainilla",
            "chocolate",
            "azúcar",
        ):
            continue
        said = re.sub(r"\s+en\b.*$", "", said)
        if re.match(r"\s*(?:,|y)\s+(?:[a-zñáéíóú]+ )?[a-zñáéíóú]+", low[m.start("t") + len(said) :]) and any(
            t.plural and 0 < t.start - m.start("t") - len(said) < 14 for t in chunker.things
        ) and any(t.start == m.start("t") for t in chunker.things):
            continue  # "galletas de jeringas, curitas y corazones": the row is read as one
        tail = next((c for c in chunker.colors if c.end == m.start("t") + len(said) and c.start > m.start("t")), None)
        said = chunker.low[m.start("t") : tail.start].strip() if tail else said  # "corazones rojos"
        yield Mention("theme", said, turn.index, m.start("t"), m.start("t") + len(said), "galletas de ...", "cookies")
