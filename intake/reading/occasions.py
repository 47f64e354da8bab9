"""What the cookies are for, and the age that is celebrated."""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading import cues, named_days, numbers
from intake.reading.mention import Mention
from intake.reading.turns import Turn

_TH = r"(?:\d{1,3}\s?(?:st|nd|rd|th)|first|second|third|fourth|fifth|sixth|seventh|eighth|ninth|tenth|eleventh|twelfth|thirteenth|fourteenth|fifteenth|sixteenth|eighteenth|twenty[- ]first|thirtieth|fortieth|fiftieth|sixtieth|seventieth|eightieth|ninetieth|hundredth)"
_BDAY = r"(?:b-?days?|birth ?days?|bdays?|birthdy|bithday|brithday)"
#: The likeliest first: an earlier kind wins over a later one that is also named.
OCCASIONS: tuple[tuple[str, str], ...] = (
    ("gender reveal", r"boy or (?:a )?girl\b|gender[ -]?reveal|gend\w+ reveal|reveal party|reveal (?:on|is|this|next|sat|sun|for (?:my|our))\b|revelaci[oó]n(?: de (?:sexo|g[eé]nero))?"),
    ("baby shower", r"(?:for|at) (?:a|the|her) sprinkle|shower\b(?=[^.!?]{0,60}\b(?:baby|bump|due in|mama to be|mom to be))|(?:baby|bump)\b[^.!?]{0,60}\bshower|diaper party|baby[ -]?(?:shower|sprinkle)s?|sprinkle for"),
    ("bridal shower", r"bridal[ -]?(?:shower|tea|luncheon)|wedding shower"),
    (
        "anniversary",
        r"(?:hit|hits|reach|mark|celebrate) \d+ (?:yrs|years)\b(?! (?:old|at|with|in))|years (?:of marriage|together|of wedded)|(?:golden|silver|ruby|diamond|pearl) wedding|married (?:for )?(?:\w+[ -])?\w+ years|years for \w+ and me|years (?:for )?me and|anniv(?:ersary|ersaries|ersry)?|aniversario|(?:will be|been|are|being) married (?:for )?\w+ (?:yrs|years)|\d+ (?:yrs|years) married|married \d+ (?:yrs|years)|(?:will be|been) \d+ (?:yrs|years) married",
    ),
    ("engagement", r"popped the question|(?:she|he) said yes\b|put a ring on|proposed\b|betrothal|engagement|engaged|compromiso|pedida de mano"),
    (
        "wedding",
        r"t(?:ie|ies|ying) the knot|get(?:s|ting)? hitched|and i marry\b|we marry\b|marrying|marries|the bride\b(?!'?s? shower)|rehearsal (?:suppers?|dinners?|lunch\w*)|say(?:ing)? (?:their )?vows|wed on\b|elopement|nos casamos|se (?:nos |me |le )?casan?\b|wedding(?! bells?| rings?| cake)|getting married|rehearsal dinner|boda|nuptials|bride and groom|elop\w+",
    ),
    ("graduation", r"walk(?:s|ing)? the stage|diploma|finish(?:ed|es|ing)? (?:nursing|law|med|high|grad|beauty|trade|vet) school|prepa\b|valedictorian|caps? and gowns?|commencement|her degree|his degree|senior send|grad(?:uation|uate|uates|uating|s)?(?: party)?|graduaci[oó]n|commencement|class of 20\d\d"),
    (
        "baptism",
        r"christened|dedicated\b|bris\b|naming day|being baptis|being baptiz|bapti[sz](?:ing|es|e)\b|christen(?:ing|s)?\b|baptism|baptised|baptized|christening|bautizo|bautismo|first (?:holy )?communion|communion|dedication|confirmation (?:party|mass)|primera comuni[oó]n",
    ),
    ("retirement", r"hang(?:s|ing)? (?:it|up (?:his|her|their|the))|packs? it in|calling it quits|calls it a career|last day (?:at|on) the job|turns in (?:his|her) badge|seeing (?:him|her) off after|after \d+ years (?:at|with|in|on) the|(?<!i'm )(?<!im )(?<!i am )(?<!we're )(?<!is )retired(?! (?:teacher|nurse|and|so|folks|couple|now))|retir(?:ement|ing|es|e)|jubilaci[oó]n"),
    (
        "memorial",
        r"(?:his|her|their) ashes|since we lost|in (?:her|his) memory|we lost (?:my|our)|funeral|wake for|laid to rest|(?:my|our) (?:aunt|uncle|mother|father|mom|dad|gran\w*|brother|sister) (?:\w+ )?died|memorial(?! day)|celebration of life|passed (?:away|on|last)|to remember (?:him|her|them)|(?:my|our) late (?:mother|father|mom|mum|dad|husband|wife|gran\w*|nana?)|funeral|in (?:his|her|their|loving) memory|passed away|remembrance (?:service|gathering)|wake\b(?! up)",
    ),
    (
        "birthday",
        rf"{_BDAY}|turn(?:s|ing)? (?:\d{{1,3}}|{numbers.WORDS})\b|cumple(?:años)?|quince(?:a[ñn]era|s)?(?= |$|\W)(?! d[ií]as| minutos)|sweet (?:16|sixteen)|(?:gonna|going to) be (?:\d+|{numbers.WORDS})\b|cumplen?\b|(?:she|he|they)(?:'?ll| will|ll) be (?:\d{{1,3}}|{numbers.WORDS})\b|(?:\w+'s|(?!(?:his|its|this|is|was|has|as|us|yes|across|always|lets|class|school|years?|days|months|weeks)\b)[a-z]{{3,}}s(?= \d)) {_TH}(?= |$|[.,!?;])(?! (?:grade|of|floor|street|st|ave|annual|anniv|wedding|century|batch|order|branch|store|shop|house|home|day|time|game|season|class|week|year|job|place|car|baby|child))|(?:los|mis|sus|los primeros) (?:\d{{1,2}}|{numbers.WORDS}) añit?os|cumplir[aá]?n?\b",
    ),
    ("housewarming", r"(?:got|get|have|collect\w*) the keys\b|closed on (?:her|his|their|our|my|a|the) (?:very )?(?:first |new )?(?:house|home|place)|(?:her|his|their|our) (?:very )?first (?:house|home|apartment|flat)\b|moving in(?:to)? (?:to )?(?:his|her|their|our|a) (?:very )?(?:first|own|new)|new house for|first place\b|finally got a place|got a place|house ?warming|new (?:house|home) (?:party|gift)"),
    (
        "team",
        r"(?:team|league|squad|club)'?s? (?:suppers?|season opener|opener|awards?|wrap[- ]?up|breakfast|lunch|finals?|send[- ]?off|game)|awards? (?:night|dinner|banquet)|won (?:district|state|regionals|the (?:cup|league))|made state|team cookies|last game|end of season|team mom|play-?offs|torneo|cross country|robotics (?:team|final)|banquet|presentation (?:night|day|evening)|regattas?|rowing (?:club|crew)|(?:daughter|son|kid|niece|nephew|grandson|granddaughter|girl|boy)'?s? (?:\w+ )?team\b|(?:bowls?|surf|running|cycling|darts|boxing|archery|sailing|ski|skating|climbing|athletics?|swim\w*) club\b(?! shop)|our (?:club|squad|crew|league|side)\b|end of year (?:bash|do|barbie|party) (?:for|of) (?:the|our) \w+ team|(?:team|league|season|squad|club)(?:'s)? (?:party|banquet|dinner|picnic|celebration|do\b|end)|end of (?:the )?season|senior night|tournament|(?:soccer|baseball|softball|football|hockey|swim|basketball|volleyball|cheer|gymnastics|dance|track|wrestling|tennis|cricket|rugby|lacrosse|robotics|debate) (?:team|club|league|banquet|squad)|para el equipo|coach gift|championship",
    ),
    (
        "school",
        r"first day of (?:school|class)|last day of school|homeschool|co-?op|(?:my|our|her|his) (?:\w+ )?(?:class|students|pupils)\b(?! reunion)|(?:first|second|third|fourth|fifth|sixth)[- ]?grade(?:rs)?|i teach|science day|reading (?:challenge|group)|room \d+ (?:has|is)|room mom|spirit week|100th day|school (?:play|fair|carnival)|field trip|school(?! nurse| mascot| bus| friend| colou?rs| theme|'?s? (?:lets|ends|starts))(?<!after school)(?<!at the school)|preschool|class(?:room)? (?:treats?|party|celebrat\w+|snack)|kindergarten|teacher appreciation|pta\b|pto\b|parent group|for (?:my|her|his|the) class\b|staff breakfast|field day|homecoming|prom\b|back to school|science fair|book fair",
    ),
    (
        "corporate",
        r"product launch|launch (?:night|party|day|event|do)\b|(?:launch|opening) of (?:our|my|the)|goes live|(?:opens?|opening|open) (?:its|our|a|the|their|my) (?:\w+ )?(?:branch|store|shop|office|location|salon|studio|clinic|doors)|new (?:starters?|hires?|premises|staff|branch|storefront)|(?:customers?|clients?|staff|well-?being|wellness|open|team[- ]building|health) (?:day|evening|event|lunch|breakfast|night)\b|at work\b(?! (?:until|till|til|so|that|by|on|at|and (?:i|can))|,|\.)|(?:my|our) (?:\w+ )?(?:barber ?shop|bookshop|flower shop|coffee shop|salon|bakery|boutique|restaurant|caf[eé]|gallery|law firm|workplace|hardware store)\b|colleagues?\b|ribbon cutting|(?:our|the|my) (?:firm|branch|department|agency|studio|clinic|practice|credit union|bank|dealership|charter crew)\b|member day|sales (?:kickoff|dinner|meeting)|kick-?off\b|staff (?:luncheon|cookout|picnic|breakfast|training|appreciation|potluck)|coworkers|our clients|(?:hotel|our) guests|open day|year-end (?:present|gift)|quarter lunch|taller\b|inauguraci[oó]n|opening of (?:our|my)|(?:grand )?opening|compan(?:y|ies)(?:'s)?|(?:my|our|the|her|his) office|office (?:party|open house|picnic|holiday|ones)|corporate|(?<!at )(?<!to )(?:my|our|his|her) (?:work|job|business|firm|staff|team at work|shop|store|salon|garage|clients|customers|employees)|open house(?! for)|staff (?:meeting|party|lunch|appreciation)|(?:at|for) my job\b|for work\b|(?:shop|work|crew|client) (?:picnic|party|lunch|gifts?|open house|barbecue)|client gifts?|new office|clientes|client gifts?|grand opening|employee|conference|trade show|boss wants|networking|accounting",
    ),
    (
        "holiday",
        r"posadas?\b|nowruz|syttende mai|oktoberfest|pi day|carnival season|bonfire night|holiday (?:lunch|party|dinner|open house|gathering|brunch|potluck|cookies|gifts?)|christmas in july|trick[ -]or[ -]treat\w*",
    ),
    (
        "thank you",
        r"(?:say|saying|to say|want to) thank(?:s| you)?|thank you (?:gifts?|to)\b|my thank[- ]you\b|(?:deserves?|for|as|is) (?:a |my |our )?(?:big |little |small )?thank[- ]you|thanks to (?:my|our)|a thank[- ]you\b|show (?:my|our) appreciation|wanna thank|want to thank|to thank (?:my|our|the|her|him|them)|(?:a )?thank (?:you|u) (?:for|to) (?:our|my|the|his|her)|thank[ -]?you (?:gift|cookies|present|treat|party)|(?:as|say(?:ing)?|for) (?:a )?(?:big )?thank(?:s| you)|appreciation|agradecimiento",
    ),
    (
        "other",
        r"luncheon|fish fry|(?:gardening|garden|bridge|chess|quilting|knitting|historical|rotary|allotment|hiking) (?:club|society|guild|bee)|bridge drive|society's|church (?:homecoming|social|supper)|(?:spring|winter|summer|fall|christmas)? ?(?:concert|musical|play\b|show\b)|choir|leaving do|send[- ]?off|saying goodbye|say bye|ships? (?:out|off)|cook-?off|supper\b|dinner\b|tea\b|brunch\b|bachlorette|despedida de soltera|passed (?:her|his|the) (?:boards?|bar|exam|test)|got (?:his|her|my) (?:pilot'?s )?licen[sc]e|homecoming|wine tasting|game day|gathering|community dinner|get[- ]together|bunco|card party|quilting|retreat|festival|recital|block party|theatre|theater|cast party|adoption|hen do|reunion|reuni[oó]n familiar|cook ?out|bbq|barbecue|bachelorette|bachelor|hen (?:do|party)|naming|book club|circle|picnic|potluck|farewell|going away|goodbye|moving (?:to|away)|welcome home|homecoming|deployment|fundraiser|bake sale|fair\b|festival|sleepover(?!,)|playdate|bar (?:exam|mitzvah)|bat mitzvah|b'?nai mitzvah|promotion|new job|get well|adoption|gotcha day|tea party|game night|block party|ceremony",
    ),
)
#: "-ing" may be said short: "gettin married", "housewarmin'".
_SHORT_ING = "in[g']?"
_OCCASIONS = tuple(
    (name, re.compile(r"(?<![\w'])(?:" + p.replace("ing", _SHORT_ING) + r")(?![\w])")) for name, p in OCCASIONS
)
RANK = {name: float(i) for i, (name, _) in enumerate(OCCASIONS)} | {"holiday": float(len(OCCASIONS))}

#: A work place that is only named: what the cookies are for may be said in other words.
_WEAK = re.compile(r"(?:my|our|his|her) (?:work|job|business|firm|staff|shop|store|salon|garage|clients|customers|employees)|colleagues?|at work|coworkers")

_REL = (
    r"(?:mom|mum|mam|mama|dad|da|pop|papaw|nana|nan|gran\w*|sister|sis|brother|bro|wife|husband|hubby|son|daughter|nephew|niece|aunt|auntie|uncle|cousin|friend|bff|bestie|mate|boy|girl|lola|abuel[ao]"
    r"|t[ií]a|suegra|mother|father|twins?|kid|little one|roommate|housemate|boyfriend|girlfriend|gf|bf|partner|folks|parents|in-laws)"
)
_N = rf"(?P<n>\d{{1,3}}|{numbers.WORDS})"
#: What may stand behind an age that is told without a noun.
_DONE = r"(?=\s*(?:$|[.,!?;:)(\n]|on\b|in\b|this\b|that\b|next\b|and\b|n\b|soon\b|already\b|can\b|so\b|lol\b|jan|feb|mar|apr|may\b|jun|jul|aug|sep|oct|nov|dec|mon|tue|wed|thu|fri|sat|sun|el\b|añ\w+))(?!\s*(?:of (?:them|'?em|us)|at\b|dozen|people|kids))"
_AGE = (
    re.compile(
        rf"\b(?:turn(?:s|ing|in'?|ed)?|hit(?:s|ting|tin'?)?|reach(?:es|ing)?|(?:about|fix(?:ing|in'?)|gon+a|going|is|ready) to (?:be|turn)|gon+a be|gona be|(?:who|she|he|they|that|it)(?:'?ll| will) be|(?:is|are) to be|(?:va|van) a cumplir|cumplir) (?:the big )?{_N}\b{_DONE}"
    ),
    re.compile(rf"\b(?:{_REL}|[a-z]+)(?:,? \w+,?)? (?:will be|'ll be) {_N}\b{_DONE}(?! ?(?:am|pm))"),
    re.compile(rf"\b(?:who|she|he|they)(?:'?s|'re| is| are) {_N}\b(?=\s*(?:$|[.,!?)\n]| on\b| that\b| now\b| and\b))(?! and \d| of)"),
    re.compile(rf"\b(?:my|our|me|the) (?:\w+ )?{_REL}(?: \w+)? (?:is|are) {_N}\b(?=\s*(?:$|[.,!?)\n]| on\b| this\b| next\b))"),
    re.compile(rf"\b{_N} (?:years?|yrs?)[ -]old\b"),
    re.compile(rf"\b(?:hit(?:s|ting)?|reach(?:es|ing)?|mark(?:s|ing)?|celebrat(?:e|es|ing)) {_N} (?:years|yrs)\b(?! (?:old|at|with|in|of (?:service|work)))"),
    re.compile(r"\bbig (?P<n>[1-9])[ -]?-?[0o]\b(?!\d)"),
    re.compile(rf"\b(?:{_REL})(?:'s|s|s'|'s')? (?P<w>{_TH})\b(?! (?:grade|of|floor|street|st|ave|century|batch|order))"),
    re.compile(r"\b(?:surprise|my|her|his|their|mum a|mom a|dad a|own) (?P<n>\d{1,3})(?:st|nd|rd|th)\b(?! (?:of|grade|floor|street|st|ave|century|batch|order|cookie|shift|day))"),
    re.compile(r"\b[a-z]{3,} \((?P<n>\d{1,2})\)"),
    re.compile(
        rf"\b{_N} (?:years|yrs)(?: of marriage| together| of wedded \w+| wed\b| as husband)|\bmarried (?:for )?(?P<n2>{numbers.WORDS}) (?:years|yrs)|(?:anniversary|wedding)\b[^.!?\n]{{0,34}}?,? (?P<n3>\d{{1,2}}) (?:years|yrs)\b|\b(?P<n4>\d{{1,2}}) (?:years|yrs) for (?:\w+ and (?:me|i)|me and \w+|us)\b"
    ),
    re.compile(r"\b(?P<q>quince(?:a[ñn]er[ao]|s)?|mis xv|los xv)\b(?! (?:d[ií]as|minutos|docenas|galletas|personas|de (?:enero|febrero|marzo|abril|mayo|junio|julio|agosto|sep\w*|octubre|noviembre|diciembre)))(?=[^.!?\n]{0,3}(?: de\b| for\b|$|[.,!?]| party| fiesta))"),
    re.compile(
        rf"\b(?:turn(?:s|ing|ed)?|cumplen|gonna be|going to be|(?:she|he|they|it)(?:'?ll| will|ll|'s going to) be|hitting|will be turning|cumple(?! \w+ de (?:enero|feb|mar|abr|mayo|jun|jul|ago|sep|oct|nov|dic))|cumplir[aá]?|que cumple)\s+(?P<n>\d{{1,3}}|{numbers.WORDS})\b(?! (?:dozen|kids|people|of us|years? married|at|in all|am|pm|there|guests|yrs married))"
    ),
    re.compile(
        rf"\b(?P<n>\d{{1,3}})\s?(?:st|nd|rd|th)[ -]+(?:\w+ )?(?:{_BDAY}|anniv\w*|bash|cumple\w*|wedding anniv\w*)"
    ),
    re.compile(rf"\b(?P<w>{_TH})[ -]+(?:\w+ )?(?:{_BDAY}|anniv\w*)"),
    re.compile(r"\b(?P<n>\d{1,3}) (?:yrs|years) married\b|\bmarried (?:for )?(?P<n2>\d{1,3}) (?:yrs|years)\b"),
    re.compile(
        r"\w+'?s (?P<n>\d{1,3})(?:st|nd|rd|th)\b(?! (?:grade|of|floor|street|st|ave|annual|century|batch|order|at|is|for|on))"
    ),
    re.compile(r"\b(?P<n>\d{1,2})[ -]?(?:yo|y/o|year[- ]old|yr[- ]old)\b(?= (?:birthday|bday|party))"),
    re.compile(
        r"\bsweet (?P<n>16|sixteen)\b|\bher (?P<n2>\d{1,3})(?:st|nd|rd|th)\b|\bhis (?P<n3>\d{1,3})(?:st|nd|rd|th)\b"
    ),
    re.compile(
        rf"\b(?:{_BDAY})[^.!?\n]{{0,24}}?\b(?:is|hes|he's|she's|shes|will be) (?P<n>\d{{1,2}})\b(?!/|\d|st\b|nd\b|rd\b|th\b| (?:kids|people|dozen|am|pm|of))"
    ),
)
_ORDINALS = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
    "seventeenth",
    "eighteenth",
    "nineteenth",
    "twentieth",
]
_TENTHS = {
    "thirtieth": 30,
    "fortieth": 40,
    "fiftieth": 50,
    "sixtieth": 60,
    "seventieth": 70,
    "eightieth": 80,
    "ninetieth": 90,
    "hundredth": 100,
}
_SERVICE = re.compile(
    r"\b(?:years of|yrs of|for \d+ years|worked|drove|teaching|nurse \d+|been the|been a|she was a|he was a|at \d+)\b"
)


def occasions(turn: Turn) -> Iterator[Mention]:
    for name, pattern in _OCCASIONS:
        for m in pattern.finditer(turn.low):
            sentence_start, sentence_end = turn.shadow.sentence(m.start())
            past = cues.is_past(turn.low, sentence_start, m.start(), sentence_end)
            if (
                re.search(r"happy (?:belated )?$", turn.low[max(0, m.start() - 14) : m.start()])
                and name == "birthday"
                and '"' not in turn.low[max(0, m.start() - 16) : m.start()]
            ):
                continue
            role = "past" if past else "weak" if name == "corporate" and _WEAK.fullmatch(m[0]) else ""
            yield Mention("occasion", name, turn.index, m.start(), m.end(), f"words for {name}", role)
    for m in re.finditer(r"\bno (?:special |particular |real )?occasion\b|\bjust because\b", turn.low):
        yield Mention("occasion", "", turn.index, m.start(), m.end(), "no occasion", "none", "drop")
    for m in named_days.NAMED.finditer(turn.low):
        name = named_days.name_of(m)
        if name == "Epiphany" or re.search(
            r"happy (?:almost )?$|merry $", turn.low[max(0, m.start() - 14) : m.start()]
        ):
            continue
        # "4th of July cookout": the feast names the party, whatever kind of party it is.
        role = (
            "of the day"
            if re.match(
                r"\s+(?:\w+\s+)?(?:party|cook-?out|bbq|barbecue|dinner|lunch(?:eon)?|brunch|breakfast|tea|supper|drinks|do|bash|picnic|table|potluck|gathering|open house|cookies)\b",
                turn.low[m.end() : m.end() + 30],
            )
            or re.search(r"\b(?:potluck|fiesta|cena|comida|posada|brunch|party|dinner) (?:de|del|for|on|at) (?:the )?$", turn.low[: m.start()])
            else ""
        )
        yield Mention("occasion", "holiday", turn.index, m.start(), m.end(), f"a named day: {name}", role)


def ages(turn: Turn) -> Iterator[Mention]:
    for pattern in _AGE:
        for m in pattern.finditer(turn.low):
            g = m.groupdict()
            said = g.get("n") or g.get("n2") or g.get("n3") or g.get("n4") or ("15" if g.get("q") else None)
            if pattern.pattern.startswith(r"\bbig "):
                said = f"{said}0"
            value = _ordinal_value(g["w"]) if g.get("w") else (numbers.value(said) if said else None)
            if value is None or not 0 < value <= 110 or value != int(value):
                continue
            sentence_start, _sentence_end = turn.shadow.sentence(m.start())
            if _SERVICE.search(turn.low, sentence_start, m.start()) and "married" not in m[0]:
                continue
            if cues.is_past(turn.low, sentence_start, m.start(), m.end()):
                continue
            # A frame that reaches far claims its number alone: "bday party may 9th, hes 11".
            group = next(k for k in ("n", "n2", "n3", "n4", "w", "q") if g.get(k)) if m.end() - m.start() > 20 else 0
            yield Mention("age", int(value), turn.index, m.start(group), m.end(group), "an age")


def _ordinal_value(word: str) -> int | None:
    digits = re.match(r"\d+", word)
    if digits:
        return int(digits[0])
    if word in _ORDINALS:
        return _ORDINALS.index(word) + 1
    return _TENTHS.get(word)
