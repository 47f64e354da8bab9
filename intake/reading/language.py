"""The only file that imports spaCy: words of a text, and the known terms among them.

A blank English pipeline (nothing is downloaded) whose tokenizer also cuts "2dz", "24pcs" and "Sam&Mary", with one
`PhraseMatcher` over the word lists beside this file. Built once, on first use.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

#: Word lists by the kind of term they hold.
LISTS: dict[str, tuple[str, ...]] = {
    "motif": ("motifs_en.txt", "motifs_es.txt"),
    "theme": ("themes_en.txt",),
    "color": ("colors_en.txt", "colors_es.txt"),
    "flavor": ("flavors_en.txt", "flavors_es.txt"),
    "relation": ("relations_en.txt", "relations_es.txt"),
    "name": ("names.txt", "names_also_words.txt"),
    "modifier": ("color_modifiers.txt",),
}
_BASES = ("red", "blue", "green", "pink", "purple", "yellow", "brown", "grey", "gray", "pastel", "neutral")
_PLURALS = ("motif", "theme", "relation")


@dataclass(frozen=True, slots=True)
class Word:
    """One token, characters `start` to `end`."""

    low: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Term:
    """A known term: `kind` is a key of LISTS, `entry` its dictionary form, `plural` whether it was said as one."""

    kind: str
    start: int
    end: int
    entry: str
    plural: bool = False


@cache
def listed(*names: str) -> frozenset[str]:
    """The entries of word lists, in lower case."""
    folder = files("intake.reading").joinpath("words")
    found = set()
    for name in names:
        for line in folder.joinpath(name).read_text(encoding="utf-8").splitlines():
            entry = line.strip()
            if entry and not entry.startswith("#"):
                found.add(entry.lower())
    return frozenset(found)


def plural_es(phrase: str) -> str:
    """The plural of a Spanish noun phrase, by rule, said of its first word ("gato negro": "gatos negros")."""
    out: list[str] = []
    for word in phrase.split(" "):
        if word in ("de", "del", "la", "el", "con", "en", "y", "los", "las"):
            return " ".join([*out, *phrase.split(" ")[len(out) :]])
        if word.endswith("z"):
            word = word[:-1] + "ces"
        elif re.search(r"[áéíóú][ns]$", word):
            word = word.translate(str.maketrans("áéíóú", "aeiou")) + "es"
        elif word[-1:] in "aeiouáéó":
            word += "s"
        elif word[-1:] in "íú" or not word.endswith("s"):
            word += "es"
        out.append(word)
    return " ".join(out)


def plural(phrase: str) -> str:
    """The plural of an English or Spanish noun phrase, by rule."""
    head, _, last = phrase.rpartition(" ")
    if last in _IRREGULAR:
        last = _IRREGULAR[last]
    elif last in _SAME or (last.endswith("s") and not last.endswith(("ss", "us"))):
        pass
    elif re.search(r"(?:ch|sh|x|z|ss|us)$", last):
        last += "es"
    elif re.search(r"[^aeiou]y$", last):
        last = last[:-1] + "ies"
    elif re.search(r"(?:[^aeiouf]f|[^aeiou]fe|eaf|olf|elf)$", last) and last not in ("cliff", "giraffe", "reef"):
        last = re.sub(r"fe?$", "ves", last)
    elif re.search(r"(?:[aeiouáéíó][nlrd])$", last) and re.search(r"[ñáéíóú]|ón$|ador$", last):
        last = last.replace("ón", "on") + "es"
    else:
        last += "s"
    return f"{head} {last}".strip()


_IRREGULAR = {
    "man": "men", "woman": "women", "snowman": "snowmen", "fireman": "firemen", "policeman": "policemen",
    "mailman": "mailmen", "child": "children", "foot": "feet", "tooth": "teeth", "goose": "geese", "mouse": "mice",
    "person": "people", "cactus": "cacti", "wolf": "wolves", "octopus": "octopuses", "bus": "buses",
    "potato": "potatoes", "hero": "heroes", "superhero": "superheroes", "torpedo": "torpedoes", "mosquito": "mosquitoes", "tomato": "tomatoes", "gingerbread man": "gingerbread men", "lion": "lions", "onesie": "onesies",
}  # fmt: skip
_SAME = {
    "sheep",
    "deer",
    "fish",
    "moose",
    "trout",
    "salmon",
    "bison",
    "shrimp",
    "squid",
    "aircraft",
    "elk",
    "swine",
    "series",
}


@lru_cache(maxsize=1)
def _nlp() -> Any:
    import spacy
    from spacy.util import compile_infix_regex

    nlp: Any = spacy.blank("en")
    infixes = [
        *(nlp.Defaults.infixes or ()),
        r"(?<=\d)(?=(?:doz|dz|dzn|dozen|pcs|pc|ct|kids|ppl|x)\b)",
        r"[&+/]",
        r"(?<=[a-z])\.\.+(?=[a-z])",
    ]
    nlp.tokenizer.infix_finditer = compile_infix_regex(infixes).finditer
    return nlp


_Meanings = dict[int, tuple[str, str, bool]]


@lru_cache(maxsize=1)
def _matcher() -> tuple[Any, _Meanings]:
    """The terms of the word lists."""
    from spacy.matcher import PhraseMatcher

    nlp = _nlp()
    matcher = PhraseMatcher(nlp.vocab, attr="LOWER")
    meaning: _Meanings = {}
    for kind, names in LISTS.items():
        entries = listed(*names)
        forms = {(entry, entry, False) for entry in entries}
        if kind in _PLURALS:
            forms |= {(plural(entry), entry, True) for entry in entries if plural(entry) != entry}
            spanish = listed(*(n for n in names if n.endswith("_es.txt")))
            forms |= {(plural_es(entry), entry, True) for entry in spanish if plural_es(entry) != entry}
        if kind == "color":
            forms |= {(f"{base}s", f"{base}s", False) for base in _BASES} - {("biscuits", "biscuits", False)}
        for form, entry, many in sorted(forms):
            key = f"{kind}|{entry}|{int(many)}"
            matcher.add(key, [nlp.make_doc(form)])
            meaning[nlp.vocab.strings[key]] = (kind, entry, many or entry in _SAME)
    return matcher, meaning


@lru_cache(maxsize=8)
def _own_matcher(extra: tuple[tuple[str, str], ...]) -> tuple[Any, _Meanings]:
    """The house's own terms, apart from the lists, so that a new one costs nothing."""
    from spacy.matcher import PhraseMatcher

    nlp = _nlp()
    matcher = PhraseMatcher(nlp.vocab, attr="LOWER")
    meaning: _Meanings = {}
    for kind, entry in extra:
        for form, many in ((entry, False), (plural(entry), True)) if kind in _PLURALS else ((entry, False),):
            key = f"own {kind}|{entry}|{int(many)}"
            matcher.add(key, [nlp.make_doc(form)])
            meaning[nlp.vocab.strings[key]] = (kind, entry, many or entry.endswith("s"))
    return matcher, meaning


def _words(doc: Any) -> Iterator[Word]:
    for token in doc:
        if not token.is_space:
            yield Word(token.text, token.idx, token.idx + len(token.text))


def words(low: str) -> tuple[Word, ...]:
    """The tokens of a shadow text, blanks left out."""
    return tuple(_words(_nlp().make_doc(low)))


def parse(low: str, extra: tuple[tuple[str, str], ...] = ()) -> tuple[tuple[Word, ...], tuple[Term, ...]]:
    """Tokens and known terms of a shadow text; of each kind the longest, without overlap, in text order.

    `extra` are the house's own terms as (kind, phrase).
    """
    doc = _nlp().make_doc(low)
    found: list[Term] = []
    for matcher, meaning in (_matcher(), _own_matcher(extra)) if extra else (_matcher(),):
        for key, first, last in matcher(doc):
            kind, entry, many = meaning[key]
            start, end = doc[first].idx, doc[last - 1].idx + len(doc[last - 1].text)
            found.append(Term(kind, start, end, entry, many))
    kept: list[Term] = []
    ends: dict[str, int] = {}
    for term in sorted(found, key=lambda t: (t.start, t.start - t.end, not t.plural)):
        if term.start >= ends.get(term.kind, 0):
            kept.append(term)
            ends[term.kind] = term.end
    return tuple(_words(doc)), tuple(kept)
