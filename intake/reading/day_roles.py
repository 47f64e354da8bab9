"""What a day or an hour is for, by the words nearest to it: hand-over, arrival, the party, or something else."""

from __future__ import annotations

import re
from collections.abc import Sequence

from intake.reading import cues
from intake.reading.found import Found
from intake.reading.times import TimeSaid

HANDOVER = re.compile(
    r"\b(?:pick(?:ing|ed)?[ -]?(?:it|them|both|these|em)?[ -]?up|pick-?up|get (?:them|'?em|it|those|these|each one|mine)|grab|(?:come|comes|(?<!on )(?<!this )(?<!the )coming)\b(?! from| home| true| with| up)|collect\w*|swing|stop by|scoop|fetch|drop(?:ped|ping)? (?:off|them|it|em|at|by)|deliver\w*|bring|brought|ready|in hand|in my hands|have (?:them|it|em)|need(?:ed|s)?(?= (?:them|'?em|it|these|those|by|for|cookies|on|the|before|\d|two|three|a ))|needed|want (?:them|em|it) (?:by|on|for)"
    r"|must have|have got to have|due|by the latest|would (?:get|take|want)|need (?:\w+ ){0,4}by|las? (?:necesito|ocupo|quiero|recojo)|los (?:necesito|ocupo|recojo)|recog\w+|pas(?:o|ar|amos) por|yo paso|necesito|para el|pa' el|entreg\w+|leave (?:them|em)|be there|get over there|cookies (?:by|for|on)|works for pick|(?:run|take|carry|get) (?:them|it|em) (?:over |down |up |out )?to|call (?:out|in|round|over)|pop (?:round|over|by|in)|bike over|walk over|be (?:there|by)|send (?:a|my|someone|one of)|fetch)\b"
)
ARRIVAL = re.compile(
    r"\b(?:est[eé]n? (?:ah[ií]|all[aá])|(?:has|have) them (?:on|by)|(?:have|has) them there|arriv\w+|get (?:there|here|to (?:her|him|them|me|us))|(?:there|here) by|be (?:here|there)(?= (?:no later|by|before))|(?:here|there) no later|no later|reach\w*|delivered by|in (?:her|his|their) hands|land|llegu?e\w*|show up)\b"
)
EVENT = re.compile(
    r"\b(?:(?:a|the|our) thing|tie the knot|tying the knot|walk(?:s|ing)? the stage|takes? place|taking place|coming up|partys|throwing|hosting|hooley|ceilidh|coming home|comes home|part(?:y|ies)|shower|wedding|birthday|b-?day|bday|dinner|supper|(?<!my )(?<!after )(?<!at )(?<!before )lunch(?:eon)?|brunch|breakfast|reunion|recital|banquet|picnic|festival|fair|open house|ceremony|christening|baptism|communion|bautizo|graduation|grad|quince|quincea[ñn]era"
    r"|anniversary|retirement|meeting|reveal|event|thing is|big day|celebration|celebrat\w+|fiesta|cumple\w*|boda|cookout|cook-out|bbq|barbecue|game night|senior night|get[- ]together|gathering|sleepover|tournament|rehearsal|service|funeral|memorial service|shindig|bash|do (?:is|on)|potluck"
    r"|farewell|housewarming|we meet|is on|it'?s on|its on|starts|happening|turn(?:s|ing)|class celebrates|going to be on|will be on|naming|baptis(?:ed|ing)|baptiz(?:ed|ing)|christened|getting married|graduat(?:es|ing)|opens|game|match|finals|kicks off|bachelorette|homecoming|prom|sale|market|concert|show|evento|es el|ser[aá] el|it'?s|its)\b"
)
REFUSED = re.compile(
    r"\b(?:not|can'?t do|cannot|isn'?t|except|no later than|instead of|rather than|out of town|away|busy|closed|(?<![-\w])off on|won'?t work|doesn'?t work|full|booked (?:solid|up|on)|taken|than)\s+(?:on |the |for |this |is |that )*$"
)
#: What the customer will send later, and not the cookies.
SENDING_WORDS = re.compile(
    r"\b(?:get|send|give|tell|text|email|e-mail|have|know)(?: (?:you|u|back|over|to))*(?: (?:the|my|our|a|all the|final))* ?(?:names?|list|details|wording|number|count|headcount|head count|address|total|rsvps?|roster|spelling|photo|picture|deposit|money)\b[^.!?\n]{0,24}$"
)
TO_TELL = re.compile(
    r"\b(?:rsvp\w*|(?:reply|respond|answer|know|hear back|tell (?:you|me)|confirm|decide|list|deposit|pay(?:ment)?|quote|invoice|count|number)(?: \w+){0,3})\s+(?:are |is |back |due )*(?:by|on|before|until|till)?\s*(?:the\s*)?$"
)
PAYING = re.compile(
    r"\b(?:send (?:it|you|u|the|over|payment|money|half|a deposit)|pay(?:ing)?|paid|transfer|text (?:you|u)|call (?:you|u)|e-?mail (?:you|u)|message (?:you|u)|get back to (?:you|u)|answer you|let (?:you|u) know|invoice|deposit|posting|pics?|photos?|(?:will|'?ll|gonna|to|and) (?:ask|check|tell|text|see)(?: (?:my|her|him|them|with) ?\w*)?)\b[^.!?]{0,16}$"
)
FULL = re.compile(r"\b(?:full|booked|sold out|can'?t|cannot|closed|no (?:room|openings?|spots?)|unavailable|lleno)\b")


PARTY_OF = re.compile(
    r"\s*(?:family |office |block |big |little )?(?:part(?:y|ies)|cook-?out|bbq|barbecue|shower|wedding|dinner|lunch(?:eon)?|brunch|picnic|table|gathering|reunion|banquet|event|potluck)\b"
)


def unclaimed(f: Found) -> str:
    """The shadow text with addresses and lettering blanked: "215 Meeting House Rd" names no meeting."""
    low = f.turn.low
    for m in (*f.of("address"), *f.of("lettering"), *f.of("email")):
        if m.end > m.start and not (m.kind == "lettering" and m.op != "add"):
            low = low[: m.start] + " " * (m.end - m.start) + low[m.end :]
    return low


def day_role(f: Found, position: int) -> str:
    """handover, arrival, event, other, or "" where no word near the date tells."""
    said, low = f.dates[position], unclaimed(f)
    start, end = f.turn.shadow.sentence(said.start)
    before_end = f.dates[position - 1].end if position and f.dates[position - 1].end > start else start
    pre, post = low[before_end : said.start], low[said.end : end]
    nxt = f.dates[position + 1].start if position + 1 < len(f.dates) and f.dates[position + 1].start < end else end
    post = low[said.end : nxt]
    wide = low[start : said.start]
    if TO_TELL.search(pre) or SENDING_WORDS.search(pre) or re.search(r"\brsvp", pre):
        return "other"
    if re.search(
        r"\b(?:make (?:her|him|them) (?:pick|choose|decide)|(?:pick|choose) (?:one|the theme)|decide|find out)\b[^.!?]{0,24}$",
        pre,
    ) and not re.search(r"\breveal\b|\bboy or (?:a )?girl\b", low):
        return "other"
    if (
        cues.UNSETTLED.search(pre)
        and re.search(r"\b(?:decide|tell|know|find out|choose|confirm)\w*\b[^.!?]{0,30}$", pre)
        and not EVENT.search(pre)
        and not re.search(r"\b(?:either|between)\b", pre)
    ):
        return "other"
    if re.search(r"\b(?:sales?|tickets?|registration|entries|sign[- ]?ups?|office|shop|store)\b[^.!?\n]{0,12}\b(?:close|closes|closed|end|ends|opens?)\s*(?:on |until |till |from )?(?:the )?$", pre):
        return "other"
    if re.search(r"\b(?:baby|bub|little one|niece|nephew|grandbaby) (?:comes|is coming|arrives|is due|due|will be here)\b[^.!?\n]{0,12}$", pre) or re.search(
        r"\b(?:vote|deciding|decides?|tells? (?:us|me))\s*(?:by |on )?$", pre
    ):
        return "other"
    if re.search(r"\b(?:was|were|flooded|happened|moved|got|saw|eloped|left|quit|broke|fell|snapped|died)\s+(?:on |it )?$", pre):
        return "other"
    if PAYING.search(pre) or re.search(
        r"\b(?:last|keep|good|fresh|hold up|off|free|until i know|know)\s+(?:them )?(?:through|until|till|til)\s*(?:the\s*)?$|\b(?:tuition|rent|payment|baby|she'?s|shes|he'?s) (?:for \w+ \w+ )?(?:is )?due (?:on|by)?\s*$",
        pre,
    ):
        return "other"
    # "Our 4th of July cookout", "the June 6 wedding": the day names the party.
    if said.first is not None and PARTY_OF.match(post):
        return "event"
    if REFUSED.search(pre) and not re.search(r"no later than\s*$", pre):
        return "other"
    aside = cues.ASIDE.search(pre)
    if cues.is_past(low, start, said.start, said.start) or (aside and not HANDOVER.search(pre[aside.end() :])):
        return "other"
    ways = [m for m in f.of("handover") if m.op == "set" and m.role != "asked"]
    hits = [
        (m.end(), role)
        for role, pattern in (("handover", HANDOVER), ("arrival", ARRIVAL), ("event", EVENT))
        for m in pattern.finditer(pre)
    ] + [(m.end - before_end, "handover") for m in ways if before_end <= m.start and m.end <= said.start]
    around = said.rule.startswith(("days around", "weekday around", "day after that"))
    if around and hits and max(hits)[1] == "event" and not re.search(r"\b(?:is|it'?s|on|be|party|have|having|held|dinner|meal|do)\s*$", pre):
        return "handover"  # "the party is on the 9th, the day before is best"
    if hits:
        at, role = max(hits)
        weak = role == "event" and re.search(r"\b(?:it'?s|its|show|sale|es el|is on)\s*$", pre[:at])
        if weak and len({r for _, r in hits}) > 1 and "handover" in {r for _, r in hits}:
            role = (
                "handover"
                if not re.search(r"\b(?:party|shower|wedding|birthday|event|bday|dinner|fiesta|boda|cumple\w*|bautizo|quince\w*|bautismo)\b", pre)
                else "event"
            )
        return role
    hits = [
        (m.start(), role)
        for role, pattern in (("handover", HANDOVER), ("arrival", ARRIVAL), ("event", EVENT))
        for m in pattern.finditer(post[:34])
    ] + [(m.start - said.end, "handover") for m in ways if 0 <= m.start - said.end < 34 and m.start < nxt]
    hits = [h for h in hits if not (h[1] == "event" and re.match(r"it'?s|its", post[h[0] :]) and h[0] > 6)]
    follows = re.match(r"\s*,? so (?:i|we|he|she|they)(?:'?d|'?ll| can| could| will| would)? (?:\w+ )?(?:grab|get|pick|collect|come|fetch|swing|stop)", post)
    if hits and (follows or not re.match(r"\s*(?:but|so)\b", post)):
        return min(hits)[1]
    if hits and min(hits)[1] == "event":
        return "event"
    if said.rule.startswith("named day"):
        return "event"
    if re.search(r"\b(?:by|no later than)\s+(?:the )?$", pre):
        return "handover"
    # "I need them by Friday as I am feeding everyone on Saturday": the reason's day is no hand-over.
    reason = next(reversed(list(re.finditer(r"\b(?:as|because|bc|since|cuz|so that|while|when) (?:i|we|he|she|they|it|there|my|our|the)\b", wide))), None)
    if reason and any(d.start < start + reason.start() for d in f.dates if start <= d.start < said.start):
        return "other"
    carried = [
        (m.end(), role)
        for role, pattern in (("handover", HANDOVER), ("arrival", ARRIVAL), ("event", EVENT))
        for m in pattern.finditer(wide)
    ]
    if carried:
        return max(carried)[1]
    if "event date" in f.turn.asked and "handover" not in f.turn.asked:
        return "event"
    if f.turn.asked & {"date", "handover", "time"}:
        return "handover" if "handover" in f.turn.asked and "date" not in f.turn.asked else ""
    return ""


def offers_time(f: Found, t: TimeSaid) -> bool:
    start, end = f.turn.shadow.sentence(t.start)
    return bool(
        HANDOVER.search(f.turn.low[start:end])
        or re.search(r"\bsee you\b", f.turn.low[start:end])
        or "?" in f.turn.low[start:end]
    )


def time_role(f: Found, t: TimeSaid, chosen: tuple[int, str] | None) -> str:
    start, end = f.turn.shadow.sentence(t.start)
    low = unclaimed(f)
    pre = low[start : t.start]
    if re.search(r"\b(?:out|away|busy|asleep|in the \w+|at \w+)(?: \w+){0,2} (?:till|until|til)\s*$", pre):
        return "other"
    if not re.search(r"\b(?:after|when|once|soon as)\b", pre[-40:]) and re.search(
        r"\b(?:off work|get off|gets off|i work|am there|school (?:lets out|ends|starts)|(?<!your )(?<!ur )(?<!yr )(?<!my )doors?|at work|rehearsal moved|call (?:me )?(?:after|before)|free after|nap|(?:leaves?|closes?|finish(?:es)?|lets out|let out|is over|is done) at)\b(?![^,;]*\bso\b)[^,;]{0,14}$",
        pre,
    ):
        return "other"
    hits = [
        (m.end(), role)
        for role, pattern in (("handover", HANDOVER), ("handover", ARRIVAL), ("event", EVENT))
        for m in pattern.finditer(pre)
    ]
    hits += [(m.end - start, "handover") for m in f.of("handover") if start <= m.start and m.end <= t.start]
    hits = [h for h in hits if not re.search(r"\b(?:it'?s|its)$", pre[: h[0]])]
    hits = [
        h
        for h in hits
        if h[1] != "event"
        or not re.search(r"\b(?:before|after|antes de|after|prior to)\s+(?:the |la |el |our |my )?\w+$", pre[: h[0]])
    ]
    if hits:
        return max(hits)[1]
    post = low[t.end : end]
    later = [
        (m.start(), role)
        for role, pattern in (("handover", HANDOVER), ("event", EVENT))
        for m in pattern.finditer(post[:40])
    ]
    if later:
        return min(later)[1]
    # The sentence's own day lends its role.
    day = next((s for s in reversed(f.dates) if start <= s.start < t.start), None)
    if day is not None and chosen is not None:
        return chosen[1] if day.start == chosen[0] else "other"
    return ""


def is_time(f: Found, found: Sequence[Found], index: int, t: TimeSaid) -> bool:
    """Whether a lone number is a clock time: the baker asked or named one, or it stands beside words of fetching."""
    low = f.turn.low
    if any(q.start == t.start and q.role not in ("lone", "one") for q in f.quantities):
        return False
    if re.match(r"\s*(?:would be|works|is|'?d be) (?:better|easier|kinder|best)\b", low[t.end :]):
        return True
    near = low[max(0, t.start - 45) : t.end + 20]
    if re.search(
        r"\b(?:at|by|around) \d{1,2}(?::\d\d)?\s*(?:am|pm)?[.,;]?\s*(?:no|wait|actually|make that|i mean)[, ]+\s*$",
        low[: t.start],
    ):
        return True
    long = t.end - t.start >= 3
    previous = next((g for g in reversed(found[:index]) if g.turn.mine), None)
    asked = bool(f.turn.asked & {"time", "handover"}) or (
        previous is not None and bool(previous.times) and len(f.turn.bare) < 60
    )
    if asked and re.match(r"\s*(?:is|works|good|great|perfect|fine|sounds|ish|$|[.!?])", low[t.end :]):
        return True
    if asked and re.search(r"\b(?:can (?:you|u|i|we) do|do|at|make it|say|about)\s*$", low[: t.start]):
        return True
    if long and (
        asked
        or re.search(r"\b(?:pick|come|lunch|get|drop|by|there|morning|evening|afternoon|around|about|off|say)\b", near)
    ):
        return True
    return bool(
        re.search(
            r"\b(?:party|it|that|starts?|banquet|dinner|shower)(?:'s| is| starts?)?(?: at| is)?\s*$", low[: t.start]
        )
        and not re.match(r"\s*[a-z]", low[t.end :])
    )
