"""Words and patterns by which things to be drawn are told from the words around them."""

from __future__ import annotations

import re
from functools import lru_cache

from intake.reading import fuzzy
from intake.reading.language import LISTS, listed, plural, plural_es

#: How fingers in a hurry spell it: "cookeis", "cokies", "cookys".
_MISSPELT = [stem + end for stem in ("cook", "cok", "coock") for end in ("ie", "ei", "ey", "y", "eis", "eys", "ys", "is", "iez", "ees")]
COOKIE_WORDS = frozenset(
    [*_MISSPELT, "cooke", "cookes", "cookieses", "cookie", "cookies", "biscuit", "biscuits", "galleta", "galletas", "galletitas", "cookis", "cookys", "cooky", "cookeys", "cookiez", "cokies", "coockies", "bikkies", "bickies"]
)
SEPARATORS = frozenset(", & + and n y / plus or e 'n ; - with".split())
ENDS = frozenset((*". ! ? : ( ) … .. ... ; — -".split(), '"'))
UNITS = frozenset("dozen dozens doz dz dzn dozn docena docenas total each apiece of the".split())
SIZES = frozenset(
    "small little tiny large giant assorted mixed cute pretty simple plain fun different various some".split()
)
STOP_LEFT = frozenset(
    (
        "for to at on in by of from with and or but so the a an my our your his her their this that these those some "
        "any more about like need want wanting order get make do u you i we she he it is are was be please pls plz hi "
        "hey hello thanks theme themed party just maybe also have had has can could would will him them us me not no "
        "yes if as than then when where what who how which custom decorated iced frosted sugar royal icing gluten "
        "free dairy nut vegan egg kosher halal fancy homemade delicious amazing extra same kind type kinds set batch "
        "box boxes gift each every all many few couple half dozen doz dz necesito quiero quisiera ocupo pedir hacer "
        "hacen hace tengo busco gustaría gustaria hay sale cuesta de del con para el la los las un una unos unas mi "
        "su tema does did ur ya using doing thinking looking hoping wondering love loved something little cute favor "
        "going full totally altogether total overall tops howdy mornin mornin' evenin greetings aloha haces vendes preparas hornea horneas horno bake bakes sell sells offer offers quarter quarters third thirds rest remaining favors birthday bday baby shower wedding cookies biscuits "
    ).split()
)


#: Occasions that can be the theme itself: "graduation theme".
OCCASION_THEMES = frozenset(
    "graduation picnic school baptism retirement camping travel music movie garden tea bridal".split()
)
PRIORS = SEPARATORS | SIZES | {"theme", "themed", "like", "just", "cookies"}
#: A second word of an unknown thing: "chain links", "flores de cempasúchil".
TAIL = re.compile(
    r" (?P<w>(?:de [a-zñáéíóú]{3,}|(?!and\b|with\b|for\b|half\b|please\b|pls\b)[a-zñáéíóú]{3,}s))(?=\s*(?:$|[,.!?;:\n]|and |y |& |n |half|in |en ))"
)
CLOSED = re.compile(r"\s*(?:$|[,.!?;:\n&+/)]|and\b|n\b|y\b|plus\b|with\b|half\b|mitad\b|in\b|en\b|\d)")
#: Two unknown plurals at the start of a sentence, with a share: "colibríes y bugambilias, 20 of each".
PAIR = re.compile(r"[a-zñáéíóú]{4,}s (?:and|y|&|n) [a-zñáéíóú]{4,}s\s*,\s*(?:\d|half|a dozen|mitad)")
JOINS = re.compile(r"\s*,\s*(?:and\s+)?|\s+(?:and|&|n|y|\+)\s+|\s*/\s*")
SPORT = re.compile(
    r"\b(?P<s>soccer|baseball|softball|football|field hockey|hockey|swimming|swim|basketball|volleyball|cheer|gymnastics|dance|track|wrestling|tennis|cricket|rugby|lacrosse|robotics|debate|netball|bowling|rowing|golf|karate)"
    r"(?= (?:team|club|league|squad|senior night|banquet|season|tournament|finals|academy|party))"
)
PLACE = re.compile(
    r"\b(?:at|to|from|near|by|in|behind|across from|next to|into|around|outside|of)"
    r"(?! (?:do|make|have|get|order|use|be|see|include|feature|request|bake) $) (?:the|a|an|my|our|your|their|his|her|this)?\s*(?:\w+\s)?$|\bpara (?:el|la|los|las|mi|mis|un|una|nuestr[oa])\s*$"
)
#: A plural right behind a thing, before the list goes on: "lollipop signs".
HEAD_NOUN = re.compile(
    r" (?P<head>(?!cookies|biscuits|shapes|designs|cutouts|colou?rs|themes|ones|please|is|was|has|does|this|its|us|yes|looks|always)[a-z]{3,}s)(?=\s*(?:$|[,.!?;\n]|and |& |n |\+|half|with |in |plus ))"
)
MADE_OF = re.compile(
    r"\b(?:dozen|doz|dz|cookies|mix|set|variety|assortment|shape|shapes|pictures?|box|half|some|each|couple|few|\d+) of (?:the |a |an )?$"
)


@lru_cache(maxsize=1)
def stop_words() -> frozenset[str]:
    """Words that stand beside things and are none themselves."""
    return listed("stop_heads.txt") | STOP_LEFT | {"mitad", "half", "cada", "then", "or"}


@lru_cache(maxsize=1)
def things_too() -> frozenset[str]:
    """Words for colours and shades that name something as well: "grape", "lemon", "baby"."""
    return listed("motifs_en.txt", "flavors_en.txt", "relations_en.txt")


def many(phrase: str) -> str:
    """A single thing as a slip names it, where one and many are spelt apart: "leaf" is "leaves"."""
    head = phrase.split()[-1] if phrase else ""
    if re.search(r"(?:[aeo]af|[ao]lf|elf|arf|nife|oof|ooth|oose|ouse|[^s]is|ctus|[^o]pie|\btie|foot)$", head) and head not in ("chris", "paris", "glass", "tennis", "house", "lighthouse", "blouse", "swiss", "golf", "chef", "reef", "goof", "proof", "roof"):
        return plural(phrase)
    return phrase


@lru_cache(maxsize=1)
def motif_words() -> tuple[str, ...]:
    """Single words of known things, and their plurals: what a misspelt word may mean."""
    entries = listed("motifs_en.txt", "themes_en.txt")
    single = {w for entry in entries for w in entry.split() if len(w) >= fuzzy.SHORTEST and w.isalpha()}
    return tuple(sorted(single | {plural(w) for w in single}))


@lru_cache(maxsize=1)
def known_words() -> frozenset[str]:
    """Every word of every list, in the singular and the plural: what is no misspelling."""
    entries = listed(*(name for names in LISTS.values() for name in names), "stop_heads.txt")
    parts = {part for entry in entries for part in entry.split()}
    return frozenset(parts | {plural(p) for p in parts} | {plural_es(p) for p in parts})
