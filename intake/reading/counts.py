"""Quantities of a text, each with what it counts: cookies, a design's share, a part of them, heads, boxes.

A quantity keeps its shape: exact, about, a range. A lone number is latent until a word beside it or the baker's
question promotes it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from intake.reading import numbers

_ = r"\x20*\n?\x20*"
_DOZEN = r"(?:dozens?|dozins?|dozon|du[sz]+[ei]ns?|doz+[ea]ns?|dosens?|dzens?|doz(?:ens|n)?\.?|dzns?|dzs?\.?|docenas?)(?![a-z])"
_NUM = rf"(?:{numbers.DIGITS}|(?<![a-z]){numbers.WORDS}(?![a-z]))"
_TO = rf"(?:{_}(?:-|–){_}|(?<=between \d\d){_}(?:and|&){_}|(?<=between \d\d\d){_}(?:and|&){_}|(?<=between \d){_}and{_}|{_}(?:to|or|a|o|/|maybe|possibly){_}(?:maybe{_}|possibly{_}|even{_})?)"

_QUANTITY = re.compile(
    rf"(?<![\w$£€#/.:@])(?P<about>(?:about|around|approx(?:imately)?\.?|roughly|maybe|like|some|say|probably|at least|minimum(?: of)?|up to|unas?|unos|como)\s+)?(?:"
    rf"(?P<baker>(?:a\s+)?baker'?s\s+{_DOZEN})|(?P<nhalf>{_NUM}){_}half[ -]{_DOZEN}"
    rf"|(?P<halfdoz>(?:a\s+)?half(?:\s+a)?[ -]{_DOZEN}|1/2\s*(?:a\s+)?{_DOZEN}|½\s*(?:a\s+)?{_DOZEN}|media\s+docena)"
    rf"|(?P<lo>{_NUM})(?:{_TO}(?P<hi>{_NUM}))?{_}(?P<and>(?:and|&|n|'n'?|y){_}(?:a{_})?(?:half|1/2|media){_})?-?{_}(?P<doz>{_DOZEN})(?P<more>{_}(?:and|&|n|'n'?|y){_}(?:a{_})?(?:half|media)(?!(?<!a half)(?<!una media){_}(?:of|are|with|will)))?"
    rf"|(?P<couple>(?:a{_})?(?:couple|pair)(?:{_}of)?|(?:a{_})?few){_}(?P<doz2>{_DOZEN})"
    rf"|(?P<one>(?:a|an|one|another|the|just{_}a|una)?{_}(?<![a-z])(?P<doz3>{_DOZEN}))(?P<more2>{_}(?:and|&|n|'n'?|y){_}(?:a{_})?(?:half|media)(?!(?<!a half)(?<!una media){_}(?:of|are|with|will)))?"
    rf"|x?(?P<n>{_NUM})(?:{_TO}(?P<n2>{_NUM}))?(?:{_}(?:nos|pcs|pc|pieces|ct)\b\.?)?"
    r")(?:(?<=\d)ish\b)?(?![\w%]|\.\d|:\d)"
)


@dataclass(frozen=True, slots=True)
class Quantity:
    """Characters `start` to `end` say `low` to `high` cookies (or other things: see `role`).

    `dozens` where the word was said. Role: total, cookies, design, each, part, people, boxes, per box, other, lone.
    """

    start: int
    end: int
    low: int
    high: int
    dozens: bool
    about: bool
    role: str = "lone"

    @property
    def exact(self) -> bool:
        return self.low == self.high


_PEOPLE = (
    r"(?:people|persons?|ppl|peeps|guests?|kids?|kiddos?|children|students?|pupils?|aides|swimmers|adults|grown-?ups|friends|girls|boys|ladies|women|men|guys|staff|employees|coaches|teachers|attendees|invites?|invited|classmates|families|lads|players"
    r"|nurses|members|cousins|coworkers|co-workers|colleagues|mouths|of us|folks|moms|dads|parents|couples|campers|scouts|singers|teammates|little ones|toddlers|grandkids|personas|niños|invitados|gente|volunteers|drivers|of my|partners|customers|followers|residents|patients|dancers|kindergart\w+|preschool\w+|[1-9](?:st|nd|rd|th) graders|graders|seniors|bridesmaids|runners|cyclists|bakers|reps|clients|swim\w+)\b"
)
_AFTER: tuple[tuple[str, re.Pattern[str]], ...] = (
    ("each", re.compile(rf"^{_}(?:(?:[a-z]+{_}){{0,2}}\b(?:of{_}each|for{_}each|each\b|apiece|a{_}piece|per{_}(?:person|kid|child|head|guest|student|swimmer|box|bag|player|family|girl|boy|table|pupil|member|seat)|an?{_}(?:pupil|kid|guest|person|student|child|player|member|seat|family|head)\b|to{_}a{_}(?:bag|box|pack)|in{_}(?:each|every)\b|cada{_}un[oa]|de{_}cada|por{_}(?:persona|niño)|a{_}head|for{_}(?:every|everyone)))")),
    ("boxes", re.compile(rf"^{_}(?:(?:gift|favou?r|little|small|white|treat|cookie|goodie|goody|party|clear|cello|half[ -]dozen|dozen)\s+)*(?:boxes|box|bags|sets|packs|packages|baggies|cajas?|cajitas|bolsas|bolsitas|tins|trays|platters|bundles)\s*,?\s+(?:of|with|w/|w|de|con|each with|holding|containing|that hold|with each)\b")),
    ("people", re.compile(rf"^{_}(?:(?:little|small|hungry|other|of the|of our|of my|more|total|in{_}all)\s+)?{_PEOPLE}|^{_}(?:coming|invited|at the|rsvp)|^{_}(?:in|on){_}(?:the|my|our|her|his|this){_}(?:\w+{_})?(?:class|group|team|choir|troop|family|office|department|club|band|squad|unit|ward|cast|crew)\b|^{_}(?!cookies|biscuits|stars|hearts)[a-z]{{4,}}s,{_}(?:one|two|three|1|2|3){_}(?:cookies?{_})?(?:each|apiece|a{_}piece)\b")),
    ("part", re.compile(rf"^{_}(?:of{_})(?:them|em|'em|those|these|the{_}(?:cookies|biscuits)|each set|which|ellas)\b")),
    ("other", re.compile(
        rf"^{_}-?(?:days?|wks?|weeks?|months?|mos?\b|years?|yrs?|yo\b|y/o|hours?|hrs?|min(?:ute)?s?|miles?|mi\b|blocks?|inch(?:es)?|in\.|\"|cm|mm|feet|ft|lbs?|oz|pounds?(?! of cookies)|dollars?|bucks|percent|%|°|degrees|times?|shifts?|rooms?|tables?|bedroom|grade|graders?|allerg\w+|orders?|different|(?:small |little |quick |tiny |more )?(?:corrections?|fixes|changes|tweaks|amendments|additions|bookings|requests|lots|wordings|phrases|sayings)|designs?|colou?rs?|flavou?rs?|shapes?|styles?|kinds?|types?"
        rf"|layers?|tiers?|things?|questions?|spots?|options?|ideas?|am\b|pm\b|a\.m|p\.m|o'?clock|st\b|nd\b|rd\b|th\b|[nsew]\.?\s+[a-z]|bags?\b(?! of)|boxes(?! of)|partners|hot minute|more thing|the other|million|hundred|percent|pesos|d[ií]as|años|semanas|meses|horas|hijos|kg|g\b|pm|generations|cats?\b(?= at home)|dogs?\b(?= at home)|half\b)"
    )),
)  # fmt: skip
_PER_BOX = re.compile(r"\b(?:boxes|box|bags?|packs?|sets?|cajas?|bolsas?|tins?) (?:of|de|with)\s*$")
_SHARE_OF_ALL = re.compile(
    rf"^{_}(?:of which|of the [a-z]+ (?:should|say|says|saying|with|w/|get|have|having|reading|read|to say)\b|lleven?|que (?:lleven?|digan?)|should (?:say|have)|with (?:her|his|the|their|a) (?:name|number|initial))"
)
_BEFORE_PART = re.compile(r"\b(?:on|in|en|sobre)\s+(?:like |about |just |only |maybe )*$")
_BEFORE_OTHER = re.compile(
    r"(?:[$£€#]|\b(?:age|aged|ages|turn(?:s|ing|ed)?|grade|room|suite|apt|unit|no\.?|number|box|route|court|floor|page|year|class of|mile|exit|hwy|highway|level|size|step|option|plan|at|@|till|until|under|over \$|red|zip|invoice|pier|gate|lot|she'?ll be|he'?ll be|they'?ll be|gonna be|cumple|a las|los|las)\s*)$"
)
_TOTAL_BEFORE = re.compile(
    r"\b(?:make (?:it|that|them)|total(?:ing)?(?: of)?(?: is)?|in total|altogether|(?:bump|up|down|change|increase|reduce|switch|cut|drop)(?: it| us| that| them| the order| the count)?(?: up| down| back)?(?: to)?|sean|que sean|now|do|just do|we'?ll do|let'?s do|we'?ll take|i'?ll take|go with|settle on|quantity|qty|count|cantidad|how many|number of (?:cookies|biscuits)|let'?s say|a total of|settled at|(?:number|count) is(?: settled at)?|son|that'?s)\s*(?:is |be |:|=|-|\|)?\s*(?:just |only |an even |about |like )?$"
)
_HEADS_BEFORE = re.compile(
    r"\b(?:we'?ll (?:all )?be|we are|we'?re|there(?:'?ll| will) be|somos|seremos|(?:a )?party of|serving|expecting|headcount(?: is|:)?)\s*(?:about |around |like )?$"
)
_TOTAL_AFTER = re.compile(
    rf"^{_}(?:(?:cookies |biscuits )?(?:in{_})?total\b|all{_}together|altogether|in{_}all\b|it{_}is\b|instead\b|overall|tops\b|en{_}total)"
)
_COOKIE = r"(?:cookies?|coo?c?k(?:ie|ei|ey|y|i|ee)[sz]?|cookes?|cookies?es|cookeis|biscuits?|bikkies|bickies|bikkis|galletas?|galletitas)\b"
_COOKIES_AFTER = re.compile(
    rf"^{_}(?:(?:(?!\b(?:for|at|on|by|before|after|because|people|kids|guests|last)\b)[a-zñáéíóú'&/-]+,?\s+){{0,6}}?){_COOKIE}"
)
_WANTED = re.compile(rf"^{_}(?:pls|plz|please|por favor|plis)(?![a-z])")
#: A noun behind a number: any word but the small ones of a sentence that goes on.
_NOUN = re.compile(
    r"^[ ]*(?:of (?:the |your |those |these |my )?)?(?!(?:would|could|can|will|should|might|if|that|because|bc|since|the|my|our|we|i|you|u|it|is|are|was|due|as|by|at|on|in|to|with|tho|though|lol|haha|ok|okay|thanks|thank|thx|ya|yes|no|not|so|or|instead|rather|please|we'?ll|i'?ll)\b)[a-zñáéíóú]"
)


def quantities(low: str, taken: Sequence[tuple[int, int]] = ()) -> list[Quantity]:
    """The quantities of a shadow text in order, those that touch `taken` spans (dates, money, ages, ...) left out."""
    found: list[Quantity] = []
    for m in _QUANTITY.finditer(low):
        start = m.start() + len(m["about"] or "")
        if any(start < e and m.end() > s for s, e in taken):
            continue
        bounds = _bounds(m)
        if bounds is None:
            continue
        lo, hi = bounds
        dozens = bool(m["baker"] or m["nhalf"] or m["halfdoz"] or m["doz"] or m["doz2"] or m["doz3"])
        about = bool(m["about"] and m["about"].strip() not in ("some", "like", "say")) or m[0].endswith("ish")
        quantity = Quantity(start, m.end(), lo, hi, dozens, about)
        found.append(replace(quantity, role=_role(low, quantity)))
    return found


def _bounds(m: re.Match[str]) -> tuple[int, int] | None:
    if m["baker"]:
        return 13, 13
    if m["nhalf"]:
        some = numbers.value(m["nhalf"])
        return _whole(some * 6, some * 6) if some else None
    if m["halfdoz"]:
        return 6, 6
    if m["doz"]:
        lo = numbers.value(m["lo"])
        hi = numbers.value(m["hi"]) if m["hi"] else lo
        if lo is None or hi is None:
            return None
        extra = Fraction(1, 2) if m["and"] or m["more"] else Fraction(0)
        return _whole((lo + extra) * 12, (hi + extra) * 12)
    if m["doz2"]:
        return (24, 24) if "couple" in m["couple"] or "pair" in m["couple"] else (24, 48)
    if m["doz3"]:
        return (18, 18) if m["more2"] else (12, 12)
    lo = numbers.value(m["n"])
    hi = numbers.value(m["n2"]) if m["n2"] else lo
    if lo is None or hi is None:
        return None
    return _whole(lo, hi)


def _whole(lo: Fraction, hi: Fraction) -> tuple[int, int] | None:
    if lo.denominator != 1 or hi.denominator != 1 or not 0 < lo <= hi or hi > 100_000:
        return None
    return int(lo), int(hi)


def _role(low: str, q: Quantity) -> str:
    after, before = low[q.end : q.end + 60], low[max(0, q.start - 40) : q.start]
    if re.match(r"[ ]*\n[ ]*[\w ]{2,16}:", after):
        after = ""  # the next line of a list of labels
    if _AFTER[0][1].match(after):
        return "each"
    if q.low == q.high == 1 and not q.dozens and not re.search(r"\b(?:make it|need|order|want|just)\s*$", before):
        return "one"
    if re.search(r"(?:pcs?|pieces|nos|ct)\b\.?$", low[q.start : q.end]):
        return "cookies"
    if _PER_BOX.search(before):
        return "per box"
    if _SHARE_OF_ALL.match(after) and not _COOKIES_AFTER.match(after) and not re.search(r"\b(?:make|order|get|need|want|like|do)\s+(?:me |us )?$", before):
        return "part"
    if not q.dozens and re.match(rf"^{_}(?:bucks |dollars )?for (?:all of (?:it|them)|it all|everything|the (?:lot|whole))\b", after):
        return "other"
    if not q.dozens and _BEFORE_OTHER.search(before) and not _COOKIES_AFTER.match(after):
        return "other"
    if _HEADS_BEFORE.search(before) and not q.dozens and not _COOKIES_AFTER.match(after):
        return "people"
    for role, pattern in _AFTER:
        if pattern.match(after) and not (role in ("other", "people") and q.dozens):
            return role
    if _BEFORE_PART.search(before) and not _COOKIES_AFTER.match(after):
        return "part"
    if _TOTAL_AFTER.match(after):
        return "total"
    if _TOTAL_BEFORE.search(before) and (q.dozens or q.low > 3) and (
        q.dozens
        or not _NOUN.match(after)
        or _COOKIES_AFTER.match(after)
        or re.match(r"^\s*(?:now|instead|please|pls|then|if|for|and|but|plz|total)\b", after)
    ):
        return "total"
    if _COOKIES_AFTER.match(after) or (not q.dozens and _WANTED.match(after)):
        return "cookies"
    return "dozens" if q.dozens else "lone"
