"""Small words that decide what a passage is for: yes and no, past and present, asking and telling."""

from __future__ import annotations

import re

YES = re.compile(
    r"^\W*(?:oh |wonderful,? |great,? |lovely,? |ok(?:ay)? |and |perfect,? |hey |hi )?(?:y(?:es+|ep|eah?|a+|up|ea)|sure(?: thing)?|ok(?:ay)?|k\b|perfect(?:o)?|great|good|sounds (?:good|great|perfect|lovely)"
    r"|(?:that|it|this)(?:'?s| is| works| will| would| sounds)|works|confirmed?|correct|right|exactly|absolutely|definitely|please|pls|plz|lovely|wonderful"
    r"|i (?:am|will|can|do|would)\b|we (?:are|will|can|do)\b|(?:i'?ll|we'?ll|will) do\b|ya\b|yuh|yuppers|uh[ -]?huh|mm?hm+|aye|grand\b|brilliant|spot on|suits\b|that suits|of course|for sure|you bet|yessir|all (?:of that is )?(?:good|right|correct)|fine|bet\b|cool|awesome|deal|done|go ahead|book it|s[ií]\b|claro|dale|perfecto|de acuerdo|est[aá] bien|as[ií] es|correcto|👍|love it|would love|i'?d love|i accept|we accept)"
)
#: Words that take a price or a plan as it stands.
ACCEPTS = re.compile(
    r"\b(?:we|i) accept\b|\b(?:it'?s )?confirmed\b|\baccepted\b|\bplease (?:do|go ahead)\b|\bgo (?:right |on )?(?:ahead|for it)\b|\blet'?s (?:do it|do this|go|book)\b|\b(?:please )?book (?:it|us|me)\b|\byou nailed it\b|\bdeal\b|\b(?:happy|fine|good|ok|okay) with (?:that|the price|it)\b|\bsuits (?:us|me)\b|\bthat'?s (?:right|correct|fair|perfect|fine)\b|\ball of that is right\b|\bworks for (?:me|us)\b|\bap[aá]rt[aá]?(?:me)?l[ao]s\b|\bsounds (?:good|great|perfect|fair|right|lovely)\b|\bcount (?:me|us) in\b|\bi'?m in\b|\bput (?:me|us) down\b|\bsign me up\b|\bconsider it (?:booked|done)\b|\bpen, not pencil\b|\bdale\b|\bva\b,|\bperfecto\b"
)
#: Words by which what was summed up stands but for what else she says.
STANDS = re.compile(
    r"\b(?:all|everything|the rest|(?:all |everything |the )?else|others?) (?:else )?(?:is |are |stays? |remains? |can stay |just |exactly )*(?:as (?:you (?:have|had|wrote|said|put|read|noted)|(?:it )?(?:was|is|before|above|stated))|the same|unchanged|correct|right|fine|stands|good)\b"
)
NO = re.compile(
    r"^\W*(?:n(?:o+|ah|ope|aw)\b|not (?:needed|necessary|really|on|this)|none|don'?t|without|ningun|nada|i'?d rather|actually)"
)
PAST = re.compile(
    r"\b(?:you (?:did|made|baked|sent)|u (?:did|made)|were (?:perfect|amazing|so|such|the|a hit|gone|gorgeous|beautiful|delicious)|was (?:perfect|amazing)"
    r"|last (?:year|month|week|time|spring|summer|fall|winter|christmas|easter|jan\w*|feb\w*|mar\w*|apr\w*|may|june?|july?|aug\w*|sep\w*|oct\w*|nov\w*|dec\w*)|i'?ve still got|still got|left over|leftover|all gone|gone by"
    r"|we met|i saw|saw (?:your|ur|you|2|a|the|some)|got your card|back in|years ago|a few years|el año pasado)\b"
)
_PRAISE = re.compile(
    r"\b(?:were (?:perfect|amazing|so|such|the|a hit|gone|gorgeous|beautiful|delicious)|was (?:perfect|amazing)|all gone|gone by|left over|leftover|you made|you did|in a window|everyone (?:lost|loved|raved)|took \d+ home|lost it)\b"
)
_WANTING = re.compile(
    r"\b(?:would like|i'?d like|need|want|having|planning|throwing|hosting|can (?:i|we|you|u)|could (?:i|we|you|u)|order|this time|but|now|quiero|quisiera|necesito)\b"
)


def is_past(low: str, start: int, at: int, end: int) -> bool:
    """Whether what stands at `at` in the sentence `start` to `end` is told of the past, and not wanted."""
    before = next(reversed(list(PAST.finditer(low, start, at))), None)
    if before is not None and at - before.end() < 60 and not _WANTING.search(low, before.end(), at):
        return True
    after = _PRAISE.search(low, at, min(end, at + 60))
    return after is not None and not _WANTING.search(low, start, after.start())


ASIDE = re.compile(
    r"\b(?:rsvp|r\.s\.v\.p|passed (?:on|away)|were married on|was born|born on|actual (?:day|birthday) was|was (?:in|on)\b|we lost|moved (?:here|to)|signed up"
    r"|paid on|ordered (?:on|from)|booked on|since|established|est\.|invoice|posted|saw (?:your|you|u)|met (?:you|at)|send (?:you )?the list|final (?:number|count|headcount)|let (?:you|u) know by|order by|closes|deadline"
    r"|off work|get off|school starts|work until|working)\b"
)
REPAIR = re.compile(
    r"\b(?:actually|instead|scratch that|no wait|wait|hang on|hold on|but no|or no|make (?:it|that|them)|change|changed|switch|rather|correction|i mean(?:t)?|sorry|bump|up it to|down to|mejor|cambiar|en vez|en lugar|not)\b"
)
UNSETTLED = re.compile(
    r"\b(?:not sure|unsure|don'?t know|dunno yet|either|depends|depending|tbd|to be decided|undecided|can'?t decide|haven'?t decided|deciding|will let (?:you|u) know|let (?:you|u) know"
    r"|have to ask|need to ask|(?:gotta|got to|i'?ll|need to) ask|will tell (?:you|u)|tell (?:you|u|ya) (?:by|on|thurs\w*|fri\w*|mon\w*|tues\w*|wed\w*|sat\w*|sun\w*|this)|haven'?t (?:decided|given|heard)|has not given|hasn'?t told|as soon as (?:we|i) (?:hear|know)|te aviso|still figuring|won'?t (?:tell|know)|waiting (?:to hear|on|for)|confirm (?:later|the date)|no s[eé]|todav[ií]a no|a[uú]n no|back and forth|make up my mind|with my pick|mak(?:e|es|ing) (?:(?:up )?(?:my|her|his|their|our) minds?|(?:my|her|his|their|our) minds? up)|report back|won'?t know|let you know (?:which|when)|can'?t (?:pick|choose|say which|tell (?:you )?which)|hasn'?t (?:picked|chosen|decided|made)|still (?:deciding|choosing|torn|thinking|debating|arguing|up in the air)|between (?:the two|those two)|changes? her mind|changes? his mind|make (?:her|him) pick|or maybe|maybe)\b"
)
ANY = re.compile(
    r"\b(?:any (?:day|time|one of)|anytime|whenever|whatever(?:'?s| is| works)?|whichever|either (?:is|day|one|works)|flexible|you (?:choose|pick)|all (?:fine|good|work)|no (?:rush|preference)|cualquier)\b"
)
SKIP = re.compile(r"\b(?:no skip that|skip that|nvm|never ?mind|forget (?:it|that)|scratch that|scrap that)\b")


def agrees(bare: str) -> bool:
    """Whether an answer takes up what was offered: a yes at its head, or words that accept anywhere in it."""
    return any(p.search(bare) is not None for p in (YES, ACCEPTS, STANDS))
