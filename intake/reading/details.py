"""Colours, flavours, packaging and diets: what they are and whether they are wanted."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from intake.reading.language import Term, listed
from intake.reading.mention import Mention
from intake.reading.shadow import lowered
from intake.reading.turns import Turn

PACKAGING: dict[str, str] = {
    "individually bagged": (
        r"(?:each|every)(?: \w+)?(?: one)? in (?:its|their|a|his|her) (?:own )?(?:\w+ )?(?:bag|baggie|bolsita|pouch|wrapper|cello)|in (?:its|their) own (?:\w+ )?(?:bags?|baggies?)|(?:bagged|wrapped|packed|bag|wrap|pack)(?: up)? (?:them )?(?:one by one|by (?:itself|themselves)|each(?: (?:one|cookie))?(?: individually| separately)?)|one by one\b|cada un[ao] en su (?:propia )?bolsita|individual(?:ly)?[ -]?(?:bag(?:s|ged)?|wrap(?:ped|s)?|packag(?:ed|ing)|cello(?:phane)?(?: bag(?:s|ged)?)?)|(?:bag|wrap|package|pack) (?:them|each|em|each one|them all)(?: up)?(?: individually| separately)?"
        r"|(?:each|all)(?: one| cookie)? (?:individually )?(?:bagged|wrapped|in (?:a|its own) (?:bag|baggie|cello))|(?:cello(?:phane)?|treat|favou?r|clear) bags?|separate bags|(?:wrapped|bagged|packed|packaged) (?:up )?(?:singly|separately|one at a time|on (?:its|their) own)|bagged (?:individually|separately)|en bolsitas?(?: individuales?)?|bolsitas|individualmente"
    ),
    "gift box": r"(?:little|small|white|pretty|kraft|window|half[ -]dozen|dozen) boxes|box (?:them|em|'em) up|gift ?box(?:es|ed)?|(?:boxes|box) of \d+|box(?:es)? (?:with a|set)|presentation box(?:es)?|caj(?:a|as|ita|itas)(?: de regalo)?|(?:gift|favou?r) boxes|boxed(?: up)?|in boxes|\d+ boxes|in a (?:nice |pretty |cute |white )?box",
    "ribbon": r"(?<!blue )ribbons?(?! cutting)|tied with (?:a )?(?:bow|ribbon)|bows? on (?:the|each|them)|listón|listones|moños?",
    "tags": r"(?<!dog )(?<!price )(?<!luggage )(?:gift |little |name |thank you |favou?r )?tags?(?! along| team)|etiquetas?",
    "heat sealed": r"heat[ -]?seal(?:ed|ing)?|sealed bags|vacuum sealed|selladas",
}
_PACKAGING = {name: re.compile(rf"\b(?:{p})\b") for name, p in PACKAGING.items()}
_UNWANTED = re.compile(
    r"\b(?:no|not|without|don'?t (?:need|want|bother)|skip(?: the)?|no need for|instead of|sin|nothing|hates?|nor)\b(?:\s[\w']+){0,4}\s*$"
)

#: A need by the words for it; "{}" stands for a food in the patterns of allergies below.
_FOODS: dict[str, str] = {
    "peanut-free": r"pea[- ]?nuts?|cacahuates?|man[ií](?:es)?|groundnuts?",
    "nut-free": r"(?:tree[- ]?)?nuts?|almonds?|walnuts?|pecans?|cashews?|hazelnuts?|pistachios?|nueces|nuez|frutos secos|almendras?",
    "gluten-free": r"gluten|wheat|flour|trigo|celiac|coeliac|cel[ií]ac[oa]",
    "dairy-free": r"dairy|milk|lactose|butter|l[aá]cteos?|leche|lactosa|mantequilla",
    "egg-free": r"eggs?|huevos?",
    "soy-free": r"soya?|soybeans?|soja",
    "sesame-free": r"sesame|ajonjol[ií]|s[eé]samo",
    "dye-free": r"(?:food )?(?:dyes?|colou?ring)|red ?(?:dye )?(?:no\.? ?)?40|red forty|artificial colou?rs?|colorantes?",
}
_DIRECT: dict[str, str] = {
    "gluten-free": r"gluten[ -]?free|(?<!my )(?<!his )(?<!her )(?<!a )(?<!our )\bgf\b(?!'?s\b| (?:bday|birthday|ren|is|and|loves|turns|said|wants|[a-z]+ (?:is|turns|gonna)))|celiac|coeliac|cel[ií]ac[oa]s?|sin gluten",
    "dairy-free": r"dairy[ -]?free|lactose[ -]?(?:free|intolerant)|milk[ -]?free|sin l[aá]cteos|sin lactosa",
    "peanut-free": r"peanut[ -]?free",
    "nut-free": r"(?<!pea)nut[ -]?free|tree nut free",
    "egg-free": r"egg[ -]?(?:free|less)|without eggs?|no eggs?|sin huevos?",
    "soy-free": r"soy[ -]?free|sin soya",
    "sesame-free": r"sesame[ -]?free",
    "dye-free": r"(?:dye|food colou?ring)[ -]?free|(?:natural(?:ly)? (?:food )?(?:dyes?|colou?r(?:s|ing|ed)?) only)|no artificial (?:dyes?|colou?rs?)",
    "vegan": r"vegan[oa]?s?",
    "halal": r"halal",
    "kosher": r"kosher(?! salt)",
}
_DIRECT_RE = {need: re.compile(rf"\b(?:{p})\b") for need, p in _DIRECT.items()}
_ALLERGIC = re.compile(
    r"\b(?:allerg(?:y|ies|ic|en|ens)|alergi\w*|al[eé]rgic\w*|intoleran\w+|reacts?|reaction|hives|swells?|anaphyl\w+|epi ?pens?|can'?t (?:have|eat|do|tolerate)|cannot (?:have|eat)|sensitiv\w+|sensitivity|no puede comer"
    r"|(?:is|are) (?:a )?(?:problem|no good|off limits|a no[- ]?go)|comes? out in|breaks? out|none of that|upsets?|doesn'?t agree|makes? (?:her|him|them|me) (?:sick|ill)|deathly|leave (?:that|it|them|those) out|skip(?:ping)?|avoid|made without|without|steer clear|free of|free from|sin|nada de|no|none of|nothing (?:w|with|w/|containing))\b"
)
_HARMLESS_NO = re.compile(
    r"\bno (?:problem|worries|rush|names?|words?|need|idea|clue|allerg\w+|dietary|restrictions?|food allerg\w+|known allerg\w+|nut allerg\w+|alergias)\b"
)
_NO_ALLERGY = re.compile(
    r"\b(?:no|not any|don'?t have any|zero|without any|ninguna?|sin) (?:known |food |nut |dietary |special )*(?:allerg\w+|alergias?|restrictions?|dietary (?:needs|restrictions?)|intoleranc\w+)|\ballerg\w+\s*[:=-]\s*(?:no|none|n/a|nope)\b|\bnobody(?:'s| is) allergic|\bno ?(?:one|body) (?:is|has)(?: any)? allerg\w+"
)
_OWN_FOOD = re.compile(
    r"\b(?:brings? (?:his|her|their) own|no need to (?:plan|worry)|(?:don'?t|no need to) (?:plan|worry) (?:for|about)|won'?t (?:be eating|eat)|not coming|isn'?t coming|eats? (?:anything|everything))\b"
)
_STYLE = re.compile(
    r"\b(?:nuts about|go(?:ing|es)? nuts|is nuts|are nuts|nuts and bolts|egg hunt|easter eggs?|eggs? (?:shapes?|cookies|theme)|nut(?:s)? (?:theme|cookies|shape)|coconuts?|donuts?|doughnuts?|butterfl\w+|buttercream|butter cookies|wheat (?:field|stalk|theme|color|colour)|milk (?:bottle|carton|jug|truck|and cookies))\b"
)


def packaging(turn: Turn) -> Iterator[Mention]:
    for name, pattern in _PACKAGING.items():
        for m in pattern.finditer(turn.low):
            before = turn.low[turn.shadow.clause(m.start())[0] : m.start()]
            after = turn.low[m.end() : m.end() + 12]
            if name == "tags" and re.match(r" (?:me|us|you|your|the page)", after):
                continue
            op = "drop" if _UNWANTED.search(before) else "add"
            yield Mention("packaging", name, turn.index, m.start(), m.end(), f"words for {name}", op=op)


def dietary(turn: Turn) -> Iterator[Mention]:
    """Needs and allergies. Never silent: what might be one is a mention with a doubt."""
    low = turn.low

    def said(need: str, start: int, m: re.Match[str], trail: str, role: str = "") -> Mention:
        return Mention("dietary", need, turn.index, start + m.start(), start + m.end(), trail, role, "add")

    blank = bytearray(len(low))
    for m in _STYLE.finditer(low):
        blank[m.start() : m.end()] = b"\1" * (m.end() - m.start())
    for start, end in turn.shadow.sentences:
        sentence = "".join(" " if blank[i] else low[i] for i in range(start, end))
        if _NO_ALLERGY.search(sentence) and not re.search(r"\bbut\b|\bexcept\b|\bpero\b", sentence):
            continue
        own = bool(_OWN_FOOD.search(sentence))
        direct: set[str] = set()
        for need, pattern in _DIRECT_RE.items():
            for m in pattern.finditer(sentence):
                direct.add(need)
                asks = (
                    re.search(
                        r"\b(?:do|can|could) (?:you|u)(?: guys)? (?:do|make|offer|have|ever)\b[^.]*$",
                        sentence[: m.start()],
                    )
                    and "?" in sentence
                )
                negated = re.search(
                    r"\b(?:not|isn'?t|aren'?t|don'?t need|no need (?:for|to be)|doesn'?t (?:have|need) to be)\b(?:\s\w+){0,3}\s*$",
                    sentence[: m.start()],
                )
                if negated or own:
                    continue
                yield said(need, start, m, need, "asked" if asks else "")
        # "Any allergies?" - "peanuts yes": a food is the answer.
        told = "diet" in turn.asked and not _NO_FOOD.search(sentence)
        if not told and not _ALLERGIC.search(sentence):
            continue
        grave = _GRAVE.search(sentence)
        before = len(direct)
        covered: list[tuple[int, int]] = []
        for need, foods in _FOODS.items():
            for m in re.finditer(rf"\b(?:{foods})\b", sentence):
                if any(m.start() < e and m.end() > s for s, e in covered) or need in direct:
                    continue
                covered.append(m.span())
                if own or not (grave or told or _about(sentence, m.start(), m.end())):
                    continue
                before += 1
                yield said(need, start, m, f"an allergy or a plain no: {m[0]}")
        if grave and not before and not own:
            # An allergy to something that no list here knows: never dropped, always asked.
            yield said("", start, grave, "an allergy, to what is not clear", "unknown")


def dietary_beyond(turn: Turn) -> Iterator[Mention]:
    """Whether the part of a very long message that is not read speaks of an allergy or a diet: asked, never dropped."""
    low = lowered(turn.rest)
    for pattern in (_GRAVE, *_DIRECT_RE.values()):
        if pattern.search(low):
            yield Mention("dietary", "", turn.index, 0, len(turn.low), "an allergy, far down", "unknown", "add")
            return


#: Words of an answer that clear a food rather than name it.
_NO_FOOD = re.compile(r"\b(?:no (?:allerg\w+|one|issues?|problems?|diet\w*|restrictions?)|none|nope|nobody|all good|is (?:fine|ok|okay)|are (?:fine|ok|okay)|love|flavou?r|extract|frosting|icing|cookies|cream|butter ?cream)\b|^\W*(?:no|nah)\W*$")
_GRAVE = re.compile(r"\b(?:allergic|al[eé]rgic[oa]s?|allerg(?:y|ies)|alergias?|epi ?pens?|anaphyl\w+)\b")


def _about(sentence: str, start: int, end: int) -> bool:
    """Whether the food at `start` is what the sentence's allergy, or its "no", is about."""
    before, after = sentence[:start], sentence[end:]
    if re.search(
        r"\b(?:no|skip|leave out|sin|without|avoid|nada de|free of|free from|none of|nothing (?:w|with|w/|containing)|zero)\s+(?:[\w']+,? (?:or |and |ni |y )?){0,3}$",
        before,
    ) and not _HARMLESS_NO.search(before[-30:]):
        return True
    if re.search(
        r"(?:allerg\w+|al[eé]rgi\w+|intoleran\w+|reacts?|reaction|swells?|hives|anaphyl\w+|epi ?pens?|can'?t (?:have|eat|do|tolerate)|cannot (?:have|eat)|sensitiv\w+|no puede comer)[^.;!?]{0,60}$",
        before,
    ):
        return True
    return bool(
        re.match(r"(?:[^.;!?]{0,12}\b(?:is|are) (?:a )?(?:problem|no good|off limits|no[- ]?go)|[^.;]{0,10}[?.] ?(?:it )?gives (?:my|her|him|me))|[^.;!?]{0,24}(?:allerg\w+|al[eé]rgi\w+|intoleran\w+|sensitiv\w+)", after)
        or re.search(r"\bda alergia\b", before[-30:])
    )


_AS_FLAVOR = re.compile(r"^\s*(?:flavou?r(?:ed|s)?|cookies? flavou?r|to eat|extract|base|dough|sabor)\b")
_FLAVOR_BEFORE = re.compile(
    r"\b(?:flavou?r(?:ed|s)?(?: is| of|:)?|sabor(?:es)?(?: a| de)?|half|taste|plain)\s*(?:please\s*)?$"
)
_COLOR_FLAVORS = frozenset(
    {
        "lemon",
        "chocolate",
        "caramel",
        "coffee",
        "strawberry",
        "raspberry",
        "lime",
        "orange",
        "mint",
        "peach",
        "cherry",
        "pumpkin",
        "cinnamon",
        "maple",
        "honey",
        "lavender",
        "rose",
        "coconut",
        "champagne",
        "cranberry",
        "plum",
        "almond",
        "vanilla",
        "mango",
        "blueberry",
        "limón",
        "fresa",
        "canela",
        "naranja",
    }
)


def flavors(turn: Turn, terms: tuple[Term, ...], house: tuple[str, ...] = ()) -> Iterator[Mention]:
    """Flavours that are said as such; a word that is also a colour or a thing needs "flavour" beside it."""
    low = turn.low
    found = [
        (t.start, t.end, t.entry) for t in terms if t.kind == "flavor" and t.entry not in ("plain", "sugar", "original")
    ]
    for name in house:
        found.extend((m.start(), m.end(), name.lower()) for m in re.finditer(rf"\b{re.escape(name.lower())}\b", low))
    previous_end, previous = -9, False
    for start, end, entry in sorted(set(found)):
        clause_start, _clause_end = turn.shadow.clause(start)
        before, after = low[clause_start:start], low[end : end + 24]
        plain = entry in (
            "vanilla",
            "plain vanilla",
            "vainilla",
            "gingerbread",
            "vanilla almond",
            "snickerdoodle",
            "shortbread",
            "almond vanilla",
        )
        shaped = re.match(r"\s*(?:men|man|people|houses?|cabins?|boys?|girls?|ladies|village|cottages?)\b", after)
        ones = re.match(r"\s*(?:ones|dough|biscuits? please|for (?:the )?flavou?r|if you (?:have|make))\b", after) or re.search(
            r"\b(?:flavou?rs?|sabor(?:es)?)\s*:\s*$", before
        )
        marked = bool(
            ones
            or _AS_FLAVOR.match(after)
            or _FLAVOR_BEFORE.search(before)
            or (re.match(r"\s*(?:is fine|cookies?,? please)", after) and plain)
        )
        listed_on = (
            start - previous_end <= 6
            and previous
            and re.fullmatch(r"\s*(?:,|and|&|n|or|y|half|/|\s)*\s*", low[previous_end:start]) is not None
        )
        alone = plain and not re.match(r"\s*(?:colou?r|icing|wafer|latte|bean)", after)
        ahead = re.match(r"\s*(?:and|&|/|,|n|or)\s*(?:half )?\w+(?: \w+)? flavou?r", after) is not None
        half = (
            re.search(r"\bhalf\s*$", before) is not None
            and re.search(r"\bhalf\b", after) is not None
            and entry in _COLOR_FLAVORS
        )
        answered = "flavors" in turn.asked and len(turn.bare) < 60
        # "Chocolate, if they'll hold together": a word of taste that is a clause by itself.
        own_clause = not before.strip() and entry in ("chocolate", "lemon", "almond", "ginger") and re.match(r"\s*(?:please\b|,? if\b|[.!\n]|$)", after) is not None
        own_clause = own_clause and re.search(r"(?:^|[.!?\n])\s*$", low[:start]) is not None
        wanted = (marked or listed_on or alone or ahead or half or answered or own_clause) and not shaped
        wanted = wanted and not re.search(r"\b(?:won'?t|wont|doesn'?t|never|can'?t|hates?)\b[^,.;]{0,16}$", before)
        if wanted and not _UNWANTED.search(before):
            yield Mention("flavors", re.sub(r"^plain ", "", entry), turn.index, start, end, "a flavour", op="add")
        previous_end, previous = end, wanted


_PLAIN_COLORS = frozenset("red white blue green pink purple yellow orange black silver gold brown navy teal".split())
_COLOR_NO = re.compile(
    r"\b(?:skip|drop|lose|minus|no|not|instead of(?: the)?|rather than|without|hates?|except|nothing|anything but|sin|never|where|swap(?: out)?|replace|(?:can'?t|couldn'?t) (?:abide|stand|bear)|en (?:lugar|vez) de(?:l)?|in place of|rather not)\s+(?:any |the |too |much )*$"
)


def _beside_color(low: str, color: tuple[int, int, str], others: Sequence[tuple[int, int, str]]) -> bool:
    """Whether a word that is also a thing ("coffee", "rust") is said as a colour: in a row of them, or by a word for it."""
    start, end, _ = color
    if re.search(
        r"\b(?:in|colou?rs?(?: are| of|:)?|all|with|iced in|icing|shades of|some|mostly|and|en|do|use|want|prefer|be)\s+(?:soft |pretty )?$",
        low[max(0, start - 16) : start],
    ):
        return True
    if re.match(r"\s*(?:colou?r|icing|accents|instead|and |&|n |\+|/|,)", low[end : end + 9]):
        return True
    return any(0 <= gap <= 7 for s, e, _ in others for gap in (s - end, start - e))


#: Colours that a capital makes a place or a person.
_PLACES_AND_NAMES = frozenset("peru sienna ruby jade amber violet ivy olive rose hazel ginger scarlett scarlet coral pearl iris lavender poppy magenta indigo".split())
_COLOR_PERSON = re.compile(
    r"^\s*(?:ribbon squash|street|st\b|ave|rd\b|ln\b|lane|team|house|dress|truck|car\b|door|eyed?|hair|oak|hill|creek|river|lake|water)"
)


def colors(turn: Turn, terms: tuple[Term, ...], taken: list[tuple[int, int]]) -> Iterator[Mention]:
    """Colours with the words that shade them ("sage green", "icy blue"); `taken` are spans of things and lettering."""
    low = turn.low
    names = [t for t in terms if t.kind == "color" and t.entry not in ("biscuit", "biscuits", "cookie", "sugar")]
    pure = listed("color_modifiers.txt") - listed("colors_en.txt")
    shades = {t.end: t.start for t in terms if t.kind == "modifier" and t.entry in pure}
    taken_colors: list[tuple[int, int, str]] = []
    for term in names:
        start = term.start
        while (
            prior := next((s for e, s in shades.items() if e < start and low[e:start] in (" ", "-")), None)
        ) is not None:
            start = prior
        if any(start < e and term.end > s for s, e in taken):
            continue
        at = start
        single = {c for c in listed("colors_en.txt", "colors_es.txt") if " " not in c}
        pieces = low[start : term.end].split()
        row = (
            len(pieces) > 1
            and all(p in single or p in ("and", "&", "y", "n") for p in pieces)
            and pieces[0] in _PLAIN_COLORS
            and pieces[1] not in ("gold",)
            and pieces[:2] != ["navy", "blue"]
        )
        for part in re.split(r"(\s+)" if row else r"(\s+(?:and|&|y|n)\s+)", low[start : term.end]):
            if part.strip() and part.strip() not in ("and", "&", "y", "n"):
                taken_colors.append((at, at + len(part), " ".join(part.replace("-", " ").split())))
            at += len(part)
    weak = listed("motifs_en.txt", "flavors_en.txt", "themes_en.txt")
    taken_colors = [c for c in taken_colors if c[2] not in weak or _beside_color(low, c, taken_colors)]
    # "Green and gold are the school colors": which they are is said.
    taken_colors = [c for c in taken_colors if not c[2].endswith((" colors", " colours")) or len(taken_colors) == 1]
    # "muted greens", "dusty shades of blue": a colour already merged with its neighbour counts once.
    for start, end, said in taken_colors:
        if any(
            s < end and e > start and (s, e) != (start, end) and e - s >= end - start
            for s, e, _ in taken_colors
            if (s, e) != (start, end)
        ):
            continue
        before = low[turn.shadow.sentence(start)[0] : start]
        if _COLOR_PERSON.match(low[end : end + 16]):
            continue
        if turn.text[start].isupper() and re.search(r"\b(?:to|in|from|named|called|my|our|i'm|is|and my)\s$", low[:start]) and re.match(r"[A-Z][a-z]+", turn.text[start:]) and said in _PLACES_AND_NAMES:
            continue  # "she is moving to Peru"
        op = "drop" if _COLOR_NO.search(before) else "add"
        yield Mention("colors", said, turn.index, start, end, "a colour", op=op)
