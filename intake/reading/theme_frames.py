"""Frames in which a theme is stated: "inspired by X", "X vibes", "it's an X party", "X is the theme", "X is out and Y is in"."""

from __future__ import annotations

import re
from collections.abc import Iterator

_WORD = r"[a-z0-9à-öø-ÿ][a-z0-9à-öø-ÿ'’-]*"
#: A theme's own words, up to six; a small word only between two others.
_NP = rf"{_WORD}(?: (?:of the|of|in the|on the|under the|the|and|&|n|y|de la|de los|de|del) {_WORD}| {_WORD}){{0,4}}?"
_STOPS = r"(?=\s*(?:$|[.,!?;:\n()]|-\s|\b(?:for|with|in|on|at|so|and (?:i|we|my|her|his|the|a)|but|please|pls|plz|because|bc|cuz|since|she|he|we|i|they|if|that|which|lol|haha|can|could|would|is|are|was|will|for|party|theme|para|con|en|por)\b))"
_ABOUT = re.compile(
    rf"\b(?:inspired by|along the lines of|on the subject of|subject(?: for the (?:cookies|biscuits))?(?: is|:)|based on|in the spirit of|a nod to|(?:cookies|biscuits|set|order)[^.!?\n]{{0,14}} resembling|tem[aá]tica(?: de| es| va a ser| ser[aá])?:?|inspirad[ao]s? en|con motivos? de)"
    rf"\s+(?:a |an |the |some |old |la |el |los |las )?(?P<t>{_NP}){_STOPS}"
)
#: "A dinner on the grounds theme": everything between the article and the word.
_WHOLE = re.compile(
    rf"\b(?:a|an|the|our|her|his|my)\s+(?P<t>{_WORD} (?:of|in|on|under|at|by|over|with)(?: the| my| a)? {_WORD}(?: {_WORD})?)[- ](?:theme|themed)\b"
)
_FEEL = re.compile(
    r"[-\s]+(?:sorta |kinda |kind of |type of |style )?(?:vibes?|feel|look|aesthetic|motif|stuff|things|inspired|-?esque|everything)\b(?! (?:free|forward|like|good|great|up|out|okay|ok))"
)
_SPANISH_OF = re.compile(
    rf"(?:\b(?:ser[ií]an|que sean|las quiero|las quisiera|ir[ií]an)|(?:^|[.!?]\s*)) ?de (?P<t>{_NP})(?=\s*(?:,|\.|$|\ben\b|\bcon\b|\bpara\b))"
)
_HER_LOVE = re.compile(
    rf"(?:^|[.!?,;\n]\s*|\band )(?P<t>{_WORD}(?: {_WORD})?) is (?:her|his|their) (?:\w+ )?(?:love|passion|thing|hobby|life|favou?rite)\b(?=[^.!?\n]{{0,30}}\btheme\b)"
)
_INTO = re.compile(
    rf"\b(?:(?:'s|is|are|really|so|big|all) into|obsessed with|loves?|(?:he|she|they) (?:wants?|picked|chose|asked for)|mad (?:for|about|on)|crazy about|nuts about) (?:the )?(?P<t>(?!(?:it|them|him|her|you|this|that|these|those)\b){_NP}),? so (?=that\b|yeah|we\b|those|let'?s|a\b|\d|i\b|that'?s)"
)
_IS_THE_THEME = re.compile(
    rf"(?:^|[.!?,;\n]\s*|\b(?:so|ok|and|yes|hi|hey)\s)(?P<t>{_NP})[.,!\s]{{1,3}}(?:that'?s|is|will be|would be|being|es)\s+(?:the|el|our|my|her|his)\s+(?:theme|tema)\b"
)
_PARTY = (
    r"(?:birthday(?: party| bash)?|b-?day(?: party)?|party|bash|(?:baby |bridal )?shower|engagement party|wedding|sleepover|brunch|cook-?out|bbq|banquet|shindig|soir[eé]e|celebration)"
)
_KIND_OF_PARTY = re.compile(
    rf"\b(?:it'?s(?: going to be| gonna be)?|it is|it'?ll be|its|(?:go |going )?along with|to (?:go with|match|suit)|we'?re (?:doing|having|throwing|hosting|planning)|were (?:doing|having|throwing)|(?:i'?m|im) (?:doing|having|throwing|hosting|planning)|doing|having|throwing|hosting|planning|go(?:ing)? (?:with|for)) (?:a |an |my |our |the |her |his )(?P<t>{_WORD}(?: {_WORD}){{0,3}}?) {_PARTY}\b"
)
#: Parties that are themes themselves.
_PARTY_THEMES = re.compile(
    r"\b(?:a|an|the|our|my|her|his|retirement|birthday|summer|family|big) (?P<t>luau|masquerade(?: ball)?|hoedown|rodeo|sock hop|murder mystery|movie night|game night|slumber party|mardi gras|tea party|crawfish boil|clam ?bake|fish fry|fiesta|roller disco|carnival|safari|rave|disco|prom|toga party)\b(?=\s+(?:party|birthday|bash|for|on|is|this|next|at|in|[a-z]*day)|\s*[.,!?;\n]|$)"
)
_PLAIN = frozenset(
    (
        "surprise birthday big small little baby bridal retirement graduation grad going away farewell welcome home joint "
        "family office work staff class school church team engagement anniversary wedding holiday christmas xmas halloween "
        "easter thanksgiving summer winter spring fall autumn pool garden backyard house housewarming dinner lunch block "
        "birth cast launch kids girls boys first second third quiet wee lovely nice simple low key fun huge casual virtual "
        "golden sweet sixteen 16 quince adult company club annual end of season year bachelorette hen stag adoption new "
        "reveal gender sprinkle couples ladies neighborhood street street's leaving works whole massive tiny sort kind bit "
        "late early belated combined double shared week weekend day night evening afternoon morning saturday sunday friday"
    ).split()
)
_OUT_AND_IN = re.compile(
    rf"\b(?P<old>{_WORD}(?: {_WORD})?) (?:are|is) out\b[^.!?\n]{{0,10}}?\b(?P<t>{_WORD}(?: {_WORD})?) (?:are|is) in\b"
)
#: "Dinosaurs instead of unicorns", "catarinas en lugar de mariposas", "moved on from ponies to foxes".
_INSTEAD_OF = re.compile(
    rf"\b(?:do|be|have|get|want|wants|make|for|into|with|prefer|like|quiere|quiero|que sean|now)\s+(?:a |an |the |some |them |it |ahora )?(?P<t>(?!\d){_WORD}(?: {_WORD})?),? (?:instead of|rather than|in place of|en lugar de|en vez de)(?: the| los| las| el| la)? (?!\d){_WORD}"
    rf"|\b(?:moved on|switched|gone|changed (?:her|his|their|my) mind)(?: over)? from (?:the )?{_WORD}(?: {_WORD})? (?:on)?to (?P<t2>{_WORD}(?: {_WORD})?)(?=\s*(?:$|[.!?;,\n]|overnight|now|as\b|so\b|please))"
)
_NOW_BE = re.compile(
    rf"\b(?:que sean|mejor(?: que sean)?|cambi(?:ar|arlas|emos) (?:a|por)|(?:switch|change|swap|move)(?: (?:it|them|the theme|over))? (?:to|with)|go with|(?:let'?s|can (?:we|you)|could (?:we|you)|we'?ll|i'?ll|want to|rather) go to|make (?:them|it|em|'em)|do(?=[^.!?,\n]{3,30}\b(?:instead|now|rather)\b))\s+(?:a |an |the |some |all |de )?(?P<t>(?!\d){_WORD}(?: {_WORD}){{0,2}}?)(?=\s*(?:$|[.!?;,\n]|instead\b|please\b|pls\b|theme\b|now\b|rather\b))"
)
_ELSEWHERE = re.compile(
    r"\b(?:decor\w*|venue|(?<!cup)cake|cupcakes?|banner|balloons?|invit\w+|dress(?:es)?|napkins?|plates?|backdrop|bounce house|centerpieces?|tablecloths?|outfits?|costumes?|flowers? are|room|hall|barn)\b(?: \w+){0,3}? (?:is|are|has|have|will|'s|being|already|features?|coming|looks?)\b[^.!?;\n]*?(?=\bbut\b|\bso\b|\bfor the (?:cookies|biscuits|favou?rs)\b|[.!?;\n]|$)"
)
_REFUSED = re.compile(
    rf"\b(?:not|no|no more|don'?t want|dont want|do not want|anything but|instead of|rather than|sick of|tired of|ya no|en vez de)(?: the| any| more)? (?P<t>{_WORD}(?: {_WORD})?)(?=\s*(?:$|[.,!?;\n]|this\b|please\b|and\b|or\b|that\b|instead\b|again\b))"
)

Hit = tuple[str, int, int, str]


def stated(low: str) -> Iterator[Hit]:
    """(words, start, end, rule) of every theme that a frame states in shadow text `low`."""
    for pattern, rule in ((_ABOUT, "what the cookies are about"), (_IS_THE_THEME, "a theme, stated"), (_WHOLE, "a theme, stated"), (_SPANISH_OF, "galletas de ..."), (_INTO, "what she is fond of"), (_HER_LOVE, "a theme, stated")):
        for m in pattern.finditer(low):
            said = re.sub(r"^(?:(?:she|he|it|they)(?:'?s|'?re| is| are)|we'?re|(?:i'?m)) (?:(?:so |really |all |totally )?(?:obse\w+|crazy|mad|nuts|into)(?: (?:w|with|about|for|on|over|into))? )?(?:an? |the )?|\s+so$", "", m["t"])
            at = m.start("t") + m["t"].index(said)
            yield said, at, at + len(said), rule
    for m in _PARTY_THEMES.finditer(low):
        yield m["t"], m.start("t"), m.end("t"), "a kind of party that is a theme"


_POOL = re.compile(r"\b(?:it'?s|its|is) (?:going to be |gonna be )?a (?P<t>(?:pool|beach|garden|slumber|tea|pizza|dance|skating|bowling|foam) party)\b")


def kinds_of_party(low: str) -> Iterator[Hit]:
    """ "It's a garage sale birthday": the words that tell what kind of party, where they are no plain ones."""
    for m in _POOL.finditer(low):
        yield m["t"], m.start("t"), m.end("t"), "the kind of party"
    for m in _KIND_OF_PARTY.finditer(low):
        words = m["t"].split()
        if not any(w in _PLAIN or w.endswith(("'s", "th", "st", "nd", "rd")) or w.isdigit() for w in words) and len(m["t"]) > 2:
            yield m["t"].replace("-", " "), m.start("t"), m.end("t"), "the kind of party"


def feels(low: str) -> Iterator[int]:
    """Where "vibes", "stuff", "look" or "feel" stands behind the words for a theme: the place they end."""
    for m in _FEEL.finditer(low):
        yield m.start()


def changed(low: str) -> Iterator[Hit]:
    """Themes that take the place of the one before; the words must be a thing, which the caller knows."""
    for m in _OUT_AND_IN.finditer(low):
        yield m["t"], m.start("t"), m.end("t"), "a theme swapped in"
    for m in _INSTEAD_OF.finditer(low):
        group = "t" if m["t"] else "t2"
        yield m[group], m.start(group), m.end(group), "a theme, changed"
    for m in _NOW_BE.finditer(low):
        yield m["t"], m.start("t"), m.end("t"), "a theme, changed"


def elsewhere(low: str) -> list[tuple[int, int]]:
    """Spans that tell of the cake, the hall or the dress, and of what is not wanted: what they name is not drawn."""
    return [m.span() for m in _ELSEWHERE.finditer(low)] + [m.span() for m in _REFUSED.finditer(low)]
