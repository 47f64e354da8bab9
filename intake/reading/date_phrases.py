"""The phrases by which customers name days: words, and one pattern for each family.

A blank in a pattern stands for any blanks or one line end, since mails wrap their lines.
"""

from __future__ import annotations

import re

WEEKDAYS = {
    0: r"mon(?:day)?s?|lunes",
    1: r"tue(?:s|sday)?s?|martes",
    2: r"wed(?:s|nes(?:day)?|nsday|nesdays)?|mi[eé]rcoles",
    3: r"thu(?:r|rs|rsday|rsdays)?|jueves",
    4: r"fri(?:day)?s?|viernes",
    5: r"sat(?:urday|erday)?s?|s[aá]bado",
    6: r"sun(?:day)?s?|domingo",
}
_W = "(?:" + "|".join(f"(?:{p})" for p in WEEKDAYS.values()) + r")\b\.?"
_LONG_W = (
    r"(?:mondays?|tuesdays?|wednesdays?|thursdays?|fridays?|saturdays?|saterday|saturady|sundays?|wendsday|wensday|tues|weds|thurs?|fri"
    r"|lunes|martes|mi[eé]rcoles|jueves|viernes|s[aá]bado|domingo)\b"
)
MONTHS = {
    1: r"jan(?:uary|uray)?|enero|ene",
    2: r"feb(?:ruary|uary|r)?|febrero",
    3: r"mar(?:ch)?|marzo",
    4: r"apr(?:il)?|abril|abr",
    5: r"may|mayo",
    6: r"june?|junio",
    7: r"july?|julio",
    8: r"aug(?:ust)?|agosto|ago",
    9: r"sep(?:t|tember|tembre)?|sept?iembre",
    10: r"oct(?:ober)?|octubre",
    11: r"nov(?:ember)?|noviembre",
    12: r"dec(?:ember)?|diciembre|dic",
}
_M = r"\b(?:" + "|".join(f"(?:{p})" for p in MONTHS.values()) + r")\b\.?"
ORDINAL_WORDS = [
    word.replace("~", r"[-\x20]")
    for word in (
        "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth "
        "fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth twentieth twenty~first "
        "twenty~second twenty~third twenty~fourth twenty~fifth twenty~sixth twenty~seventh twenty~eighth "
        "twenty~ninth thirtieth thirty~first "
    ).split()
]
_OW = "(?:" + "|".join(ORDINAL_WORDS) + ")"
_D = r"(?:3[01]|[12]\d|0?[1-9])"
_ORD = rf"(?:{_D}\s?(?:st|nd|rd|th|º|°)|{_OW})"
_YEAR = r"(?:20\d\d)"
_NOT_A_DAY = (
    r"(?!\s?(?:dozen|doz|dz|docena|am\b|pm\b|a\.m|p\.m|cookie|biscuit|galleta|people|ppl|kids|guests|%)|/?\d|:\d)"
)
_N = r"(?:\d{1,2}|one|two|three|four|five|six|seven|eight|nine|ten|twelve|a couple(?: of)?|a few|an?|un|una|dos|tres|cuatro|cinco|diez)"
_BIRTH = (
    r"(?!\s*-?\s*(?:b-?day|birthday|bday|anniv|annual|grade|graders?|floor|street|ave|st\b|wedding anniv|cumple|year))"
)
# Space of any kind but a paragraph break, for phrases that a mail has wrapped.
_ = r"\x20*\n?\x20*"
__ = r"(?:\x20+\n?\x20*|\n\x20*)"


def _word(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern.replace(" ", __), re.IGNORECASE)


RULES: dict[str, re.Pattern[str]] = {
    "day or day of month": _word(
        rf"\b(?:the )?(?P<a>{_D})(?:st|nd|rd|th)?(?P<j> or (?:the )?| and (?:the )?| to (?:the )?|{_}-{_}| through (?:the )?| o (?:el )?)"
        rf"(?P<b>{_D})(?:st|nd|rd|th)?(?: of| de)? (?P<m>{_M})(?: (?P<y>{_YEAR}))?"
    ),
    "month day to day": _word(
        rf"\b(?P<m>{_M}){_}(?P<a>{_D})(?:st|nd|rd|th)?(?P<j>{_}(?:-|to|through|thru|or|and|&){_}(?:the )?)(?P<b>{_D})(?:st|nd|rd|th)?\b"
        rf"{_NOT_A_DAY}(?!{_}{_M})"
    ),
    "month day": _word(
        rf"(?:\b(?P<w>{_W}),?{_}(?:the )?)?(?P<md>(?<![a-z])(?P<m>{_M}),?{_}(?:the )?(?P<d>{_ORD}|{_D}))\b{_NOT_A_DAY}"
        rf"(?:,?{_}(?P<y>{_YEAR})\b)?(?:,?{_}\(?(?P<w2>{_LONG_W})\)?)?"
    ),
    "day month": _word(
        rf"(?:\b(?P<w>{_W}),?{_}(?:the |el )?)?\b(?P<md>(?P<d>{_ORD}|{_D})(?: of| de|,)? ?(?P<m>{_M}))"
        rf"(?:,?(?: de| del)?{_}(?P<y>{_YEAR})\b)?(?:,?{_}\((?P<w2>{_LONG_W})\))?"
    ),
    "slash date": _word(
        rf"(?:\b(?P<w>{_W}),?{_}(?:the )?)?(?<![\d/.$-])(?!24/7)(?P<a>\d{{1,2}})/(?P<b>\d{{1,2}})(?:/(?P<y>\d{{4}}|\d{{2}}))?(?![\d/]|-\d|{_}(?:cup|tsp|doz|dz|inch|in\b))"
    ),
    "dotted or dashed date": _word(
        rf"(?:\b(?P<w>{_W}),?{_})?(?<![\d/.$-])(?P<a>\d{{1,2}})(?P<s>[.-])(?P<b>\d{{1,2}})(?P=s)(?P<y>\d{{4}}|\d{{2}})(?![\d./-])"
    ),
    "iso date": _word(r"(?<![\d-])(?P<y>20\d\d)-(?P<a>\d\d)-(?P<b>\d\d)(?![\d-])"),
    "nth weekday of month": _word(
        rf"\b(?:the |el )?(?P<n>first|1st|second|2nd|third|3rd|fourth|4th|last|primer|segundo|tercer|[uú]ltimo) (?P<w>{_W})"
        rf"(?: (?:of|in|de|en) | )(?P<m>{_M}|the month|this month|next month|del? mes)"
    ),
    "weeks from weekday": _word(
        rf"\b(?P<n>{_N}|fortnight|a fortnight) ?(?P<u>weeks?|wks?|fortnights?)?(?: from| on| after)(?: this| next| coming| the)? (?P<w>{_W}|today|now|tomorrow|tmrw)"
        r"(?! the \d)"
    ),
    "weeks today": _word(
        rf"(?<!in\x20)(?<!about\x20)\b(?P<n>{_N}|fortnight|a fortnight)(?: (?P<u>weeks?|wks?))?(?: this| next| coming)? (?P<w>{_LONG_W}|today|tomorrow|tmrw)(?! the \d)"
    ),
    "from this day in eight": _word(
        rf"\bde (?P<w>hoy|mañana|{_LONG_W}) en (?P<n>ocho|8|quince|15)(?: d[ií]as)?\b"
    ),
    "last day of month": _word(rf"\b(?:the |el )?(?:very )?(?:last|[uú]ltimo) (?:day|d[ií]a) (?:of|in|del?) (?P<m>{_M}|(?:the|this|next) month|este mes|mes)"),
    "day after that": _word(
        r"\b(?P<off>(?:the )?(?:previous|preceding) (?:day|morning|afternoon|evening|night)|the (?:following|next) (?:day|morning|afternoon|evening|night)|(?:on )?the eve of(?: it| that| the day)?|la v[ií]spera|al d[ií]a siguiente|el d[ií]a siguiente)\b"
    ),
    "weekdays from now": _word(rf"\b(?P<n>{_N}) (?P<w>{_LONG_W}) from (?:now|today)"),
    "weekday week": _word(rf"\b(?P<w>{_LONG_W}|tomorrow|today) week\b"),
    "weekday after next": _word(
        rf"\b(?:the )?(?P<w>{_W}) after (?:next(?: (?:one|week|{_LONG_W}))?|this(?: (?:one|coming|{_LONG_W}))?)"
    ),
    "weekday the day": _word(
        rf"\b(?P<w>{_W}),?{_}(?:the |el |d[ií]a )?(?P<d>{_ORD}|(?<=the\x20){_D}|(?<=el\x20){_D}|(?<=[a-z]\x20)(?:3[01]|2\d|1[3-9])|(?<=bado\x20){_D}|(?<=rnes\x20){_D}|(?<=ingo\x20){_D}|(?<=oles\x20){_D}|(?<=eves\x20){_D}|(?<=unes\x20){_D}|(?<=rtes\x20){_D})\b{_NOT_A_DAY}{_BIRTH}"
    ),
    "between two days": _word(
        r"\b(?:between|from) (?:the )?(?P<a>\d{1,2}/\d{1,2}) (?:and|to|-) (?:the )?(?P<b>\d{1,2}/\d{1,2})"
    ),
    "between ordinals": _word(
        rf"\b(?:between|from|any day) (?:the )?(?P<a>{_D})(?:st|nd|rd|th) (?:and|to|through|till|until) (?:the )?(?P<b>{_D})(?:st|nd|rd|th)\b(?! of)"
    ),
    "between days of month": _word(
        rf"\b(?:between|from) (?P<m>{_M}) (?P<a>{_D})(?:st|nd|rd|th)? (?:and|to|through) (?P<b>{_D})(?:st|nd|rd|th)?\b{_NOT_A_DAY}"
    ),
    "the day weekday": _word(rf"\b(?:the )?(?P<d>{_D}(?:st|nd|rd|th)),?{_}\(?(?P<w>{_LONG_W}|sat\b|sun\b|mon\b|wed\b)\)?"),
    "nth weekend of month": _word(
        rf"\b(?:the |el )?(?P<n>first|1st|second|2nd|third|3rd|last|primer|[uú]ltimo) (?:weekend|wknd|fin de semana) (?:of|in|de) (?P<m>{_M}|the month|this month|next month)"
    ),
    "weekend of": _word(
        rf"\b(?:the |el )?(?P<wk>weekend|wknd|week|fin de semana|semana)(?: of| del?)(?: the)? (?:(?P<m>{_M}) (?P<d>{_ORD}|{_D})|(?:the )?(?P<d2>{_ORD}))"
    ),
    "this weekend": _word(r"\b(?P<which>this|the|next|coming|that|este|el) (?P<wk>weekend|wknd|fin de semana)\b(?! before| of| after)"),
    "this week": _word(r"\b(?P<which>this|next|esta|la pr[oó]xima|la) (?P<wk>week|semana)\b(?! of| before| after| que viene)"),
    "next weekday": _word(
        rf"\b(?P<which>next|the following|following|el pr[oó]ximo|pr[oó]ximo) (?P<w>{_W})(?! the {_D})"
    ),
    "weekday next week": _word(
        rf"\b(?P<w>{_LONG_W}|{_W}(?= of)),?(?: of| de)? (?P<which>next w(?:ee)?k|la pr[oó]xima semana|this w(?:ee)?k|esta semana|que viene)"
    ),
    "this weekday": _word(rf"\b(?P<which>this|this coming|coming|the coming|este) (?P<w>{_W})(?! the {_D})"),
    "part of month": _word(
        rf"\b(?:the )?(?P<p>early|mid|middle of|late|beginning of|start of|first part of|end of|(?:first|second|third|fourth|1st|2nd|3rd|4th|primera|segunda|tercera) (?:week|semana) (?:of|in|de)|last week (?:of|in)|[uú]ltima semana de|a principios de|principios de|mediados de|a mediados de|finales de|fines de|a finales de)"
        rf"(?:{_}-{_}| )(?P<m>{_M}|the month|this month|next month|mes)"
    ),
    "in month": _word(rf"\b(?:in|for|sometime in|during|this|next|en|around) (?P<m>{_M})(?! {_D}|{_}\d|s\b| be\b)"),
    "relative weeks": _word(
        rf"\b(?:in |dentro de |en )(?P<n>{_N}) (?P<u>days?|d[ií]as?|weeks?|wks?|semanas?|months?|mes(?:es)?|fortnights?)(?:'? time)?\b"
    ),
    "from now": _word(rf"\b(?P<n>{_N}) (?P<u>days?|weeks?|wks?|months?) from (?:now|today)"),
    "today": _word(r"\b(?:today|tonight|this (?:morning|afternoon|evening)|hoy|esta noche)\b"),
    "tomorrow": _word(r"\b(?P<after>(?:the )?day after |pasado )?(?:tomorrow|tommorrow|tomorow|tmrw|tmr|tmw|2morrow|(?<!la\x20)(?<!esta\x20)mañana)\b"),
    "the day": _word(
        rf"\b(?:(?:the|el|on|by|for|d[ií]a|until|before|is|to|or) )?(?P<d>{_D}(?:st|nd|rd|th)|(?<=el\x20){_D}|(?<=d[ií]a\x20){_D}|(?<=by\x20the\x20){_D})\b{_NOT_A_DAY}{_BIRTH}"
        rf"(?!{_}(?:of them|one\b|time\b|cookie|order|party|set\b|shift|dozen|batch|biggest|avenue|place\b|or\b {_M}))"
    ),
    "the day in words": _word(
        rf"\b(?:on |by |for |until |is )?(?:the|el) (?P<d>{_OW})(?= (?:at|by|in the|around|after|before|between|if)\b|\s*(?:$|[.,!?;)\n]))"
    ),
    "that day": _word(
        r"\b(?P<off>the (?:same|very same) day|same day|that (?:same )?(?:day|mornin[g']?|afternoon|night|nite|evening)|(?:the )?morning of|(?:the )?day of"
        r"|ese (?:mismo )?d[ií]a|el mismo d[ií]a|esa (?:mañana|tarde|noche))\b"
    ),
    "days around": _word(
        rf"\b(?:the |la |el )?(?:(?P<n>{_N}) )?(?P<u>days?|d[ií]as?|nights?|nites?|evenings?|afternoons?|arvo|mornings?|noche|tarde|weeks?|semana)"
        r" (?P<side>before|b4|bfore|befor|prior|after|earlier|sooner|later|ahead|antes|anterior|despu[eé]s)\b(?! (?:tomorrow|next|school|work|lunch|noon|dinner|\d|you|(?:i|we)\b(?! (?:are|am|live|will be) (?:at|on|in)\b|'re (?:at|on)\b)|that i\b))"
    ),
    "weekday around": _word(
        rf"\b(?:the |el |that |on the |ese )?(?P<w>{_W}) (?:right |just )?(?P<side>before|b4|after|prior|following|antes|anterior|despu[eé]s)\b(?! (?:work|school|church|lunch|noon|dinner|next|\d))"
    ),
    "that weekday": _word(rf"\b(?:that|on the|ese) (?P<w>{_LONG_W})(?! the {_D}| {_D})"),
    "the one after": _word(r"\bthe (?:one|week|weekend) after(?: (?:that|this)(?: one)?)?\b"),
    "weekday": _word(rf"(?<![\w'])(?:el |this |the )?(?!sun(?:[ -]+(?:and|&|n|or|,|moon|cloud|rain|shape|ray|flower|hat|glass|cat|shine|set|burst|face|theme|cookie|bonnet|screen|dress)|s\b))(?P<w>{_LONG_W}|(?<![a-z]\x20)sat|(?:(?<=on\x20)|(?<=by\x20)|(?<=is\x20)|(?<=till\x20)|(?<=,\x20)|(?<=or\x20)|(?<=for\x20)|(?<=its\x20)|(?<=the\x20)|(?<=thru\x20)|(?<=come\x20)|(?<=ming\x20)|(?<=them\x20)|(?<=\x20em\x20)|(?<=\x20up\x20)|(?<=eady\x20)|(?<=that\x20)|^)(?:sat|sun|mon|wed)|sat(?= or\b))(?!\w|'s)"),
}  # fmt: skip


def weekday_of(text: str) -> int:
    """Monday 0 to Sunday 6."""
    low = text.lower().strip(" .,")
    return next(i for i, p in WEEKDAYS.items() if re.fullmatch(p, low))


def month_of(text: str) -> int:
    low = text.lower().strip(" .,")
    return next((i for i, p in MONTHS.items() if re.fullmatch(p, low)), 0)
