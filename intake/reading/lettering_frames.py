"""Frames that tie a text to cookies: "TEXT on ten", "ten with TEXT", "on each: TEXT", "names: A, B and C".

A text is told from the words around it by its capitals and digits; where it ends is decided here, once for all frames.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading.language import listed
from intake.reading.thing_words import known_words

_N = (
    r"(?:\d{1,3}(?!\s?(?:st|nd|rd|th|am|pm|[/.:-]\d|of (?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)|jan|feb|mar|apr|may\b|jun|jul|aug|sep|oct|nov|dec|people|kids|guests))"
    r"|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|eighteen|twenty|thirty|forty|fifty"
    r"|un[oa]s?(?: \d+)?|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez|doce|quince|veinte)"
)
#: Some of the cookies: "six", "half of them", "the big one", "two dozen", "every one", "unas 4".
SOME = (
    rf"(?:(?:like|about|just|only|maybe|around|at least|roughly|exactly)\s)*(?:{_N}|a (?:few|couple|pair|dozen|half dozen|handful|third|quarter|bunch)|half(?: a dozen)?|some|each|every|all|most|both|another|any"
    r"|the (?:rest|others?|other (?:half|\w+)|remaining(?: \w+)?|last (?:\w+)|big|large|largest|front|first|second|middle|center|centre)|el resto|algunas|cada|todas|la (?:otra )?mitad|otr[oa]s?(?: \w+)?)"
    r"(?:\s(?:dozen|doz|dz|docenas?|big|single|of|them|'?em|those|these|his|hers|theirs|mine|the|my|one|ones|cookies?|biscuits?|bikkies|galletas?|una|de ellas|de las|ellas|half)\b)*(?:(?<=of the)\s[a-z]+|(?<=every)\s[a-z]+|(?<=each)\s[a-z]+)?"
)
_PLURAL = r"the (?!mon|tue|wed|thu|fri|sat|sun|first|books|streets|days|kids|guests|boys|girls|weekends)(?:[a-z]+ )?[a-z]+s"
WHERE = rf"(?:{SOME}|them|'em|em|it|these|those|everything|{_PLURAL}|ellas|las galletas|las [a-z]+s)"
_TITLE = r"(?:MR|MRS|MS|DR|ST|SGT|Mr|Mrs|Ms|Dr|St|Sr|Sra|Est|EST|Prof)\."
_CAP = rf"(?:{_TITLE}|(?:[A-Z]\.){{1,4}}|[A-ZÀ-ÖØ-Þ0-9][\w'’&+-]*|&|\+)"
_JOIN = r"(?:of|the|to|is|a|an|and|n|y|de|del|la|el|los|las|with|in|my|for|you|me|ya|are|at|by|from|up|we|be|it|it's|or|our|your|so|not|en|que|tu|mi)"
_LOUD = r"(?:[A-ZÀ-ÖØ-Þ0-9][A-ZÀ-ÖØ-Þ0-9'’&+!-]*|&|\+|[A-Z]{2,4}\.)"
_RUN = rf"{_CAP}(?:[ ]+(?:(?:{_JOIN}[ ]+){{0,3}}{_CAP}))*"
_RUN_LEFT = re.compile(rf"(?:^|(?<=[\s(\"“:,/]))(?P<run>{_RUN})$")
_RUN_RIGHT = re.compile(_RUN)
#: After "say", small words may stand between two capitals: "Buen viaje Evaristo".
_RUN_WIDE = re.compile(rf"{_CAP}(?:[ ]+(?:(?!(?:on|en|for|in|with|please|pls)\b)[a-zà-ÿ'’]+[ ]+){{0,2}}{_CAP}|[ ]+for[ ]+(?!(?:My|Our|His|Her|The|Sat|Sun|Mon|Tue|Wed|Thu|Fri|Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec))[A-Z][a-z]+\b)*")
_LOUD_RIGHT = re.compile(rf"{_LOUD}(?:[ ]+{_LOUD})*(?![a-z'’])")
_BREAK = re.compile(r"(?<!\bMR)(?<!\bMRS)(?<!\bMS)(?<!\bDR)(?<!\bST)(?<!\bSGT)(?<!\bMr)(?<!\bMrs)(?<!\bMs)(?<!\bDr)(?<!\bSt)(?<!\bEST)(?<!\bEst)(?<!\b[A-Z])\.(?=\s|$)|[!?;,:()\n\"“”]|\s-+\s|…|\.\.+")
#: Words that begin a sentence or a request and are no part of the text behind them.
_LEAD = re.compile(
    r"^(?:(?:put|write|add|pipe|just|only|please|pls|maybe|and|with|also|then|so|have|hi|hey|hello|yes|yeah|names?|words?|initials?|letters?|numbers?|text|want|can|could|would|i|i'd|i'll|we'd|perfect|great|ok|okay|no|nope|nah|half|some|like|un|una|con|y|el|la|que|the|a|to|of|de|ponles?|s[ií])\s+)+",
    re.IGNORECASE,
)
_NEVER = re.compile(
    r"(?:I|I'?d|I'll|I'm|Im|We|He|She|They|You|It|My|Our|Thanks|Thank You|Pick|Pickup|Nothing|No|Not|Names?|Colors?|Sprinkles|Icing|Cookies?|Biscuits?|Entrega\w*|Deliver\w*|Recojo|Paso|(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day"
    r"|(?:Sat|Sun|Mon|Tue|Tues|Wed|Thu|Thurs|Fri)|(?:January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sept?|Oct|Nov|Dec)(?: \d+)?)(?: \d+)?"
)
_BEFORE_NUMBER = re.compile(
    r"(?:[$£€#/:.]|\b(?:jan|feb|mar|apr|may|jun|june|jul|july|aug|sep|sept|oct|nov|dec|january|february|march|april|august|september|october|november|december|at|by|the|until|till|after|before|around|about|on|need|want|order|get|of|have|total|apt|suite|make it|box|room|page|el|las)\s*)$"
)
_ON = re.compile(
    rf"(?:\s+in (?:\w+ )?(?:script|cursive|gold|silver|white|black|caps|capitals|print|icing|letters|lettering))?\s*,?\s+(?:please |pls )?(?:(?:(?:should|could|can|will|must|to) )?(?:goes|go|appears?)\s|(?:should|could|can|will|must) be\s|(?:written|piped|printed|iced|lettered)\s)?(?:up )?(?:on(?:to)?|across|over|en)\s+(?:top of )?(?P<where>{WHERE})\b(?!\s+(?:side|way|menu|list|page|table|wall|cake|banner|invitation|schedule|calendar))"
)
_SAID_OF = re.compile(
    rf"\b(?:(?P<who>{WHERE}|one|that|which|cookies?|biscuits?|they|[a-z]+s)\s+,?\s*(?:(?:of (?:them|'?em|which)|in (?:the )?(?:middle|center|centre|front)|just|simply|only|also|then)\s)*)"
    r"(?P<verb>(?:(?:should|could|can|would|ought to|to|will|must|need to|might)\s)?(?:just )?(?:say|says|saying|read|reads|reading|spell|spells|spelling|bear|bears|bearing|carry|carries|carrying|have|has|having|get|gets|getting|with|w/|w|con|marked|labell?ed|lettered|numbered|stamped|wearing|que digan?|digan?|lleven|llevan|being))\s+"
    r"(?P<lead>(?:out |just |simply |the (?:words?|name|names|phrase|letters?|number|numbers|initials?|message|text|year|date)(?: of)? |a (?:big |little |large |gold |single |letter |number )*|an |el n[uú]mero |el nombre |las iniciales |la frase )*)(?P<quote>[\"“'‘])?"
)
_INSCRIBED = re.compile(
    r"\b(?:personali[sz]ed (?:with|w/|for|to say)|monogram(?:med)?(?: with)?|inscribed(?: with)?|numbered|(?:with|w/?|w the|using|bearing|and|has|have|carry(?:ing)?|con) (?:the|a|his|her|their|our|las?|el|los) (?:big |little |single |couple'?s? )*(?:words?|wording|name|names|phrase|letters?|number|numbers|initials?|monogram|message|text|iniciales|palabras?|frase|n[uú]mero|nombre)(?: of)?|the (?:words?|wording|phrase|message|text)|ponle|ponles|p[oó]nga(?:n|s)?les?|p[oó]ngame|lleven? (?:la palabra|el nombre|la frase|el n[uú]mero)|la palabra|(?<!le )(?<!les )(?<!te )escr[ií]b\w+|que diga[n]?|el n[uú]mero|la letra|(?:couple'?s |their |our |the )?initials(?: are)?|monogram|chang(?:e|ing) (?:the )?(?:words?|wording|name|text|lettering|message)(?: on \w+)? to|switch (?:the )?(?:words?|wording|name|text|lettering|message) to)"
    r",?\s*(?::|-)?\s*(?:of |just |a |the words? |el |la )*(?P<quote>[\"“'‘])?"
)
_ON_WRITE = re.compile(
    rf"\b(?:on|en|across)\s+{WHERE}\s*(?:,|:|-)?\s*(?:please |just )?(?:(?:write|put|pipe|have|letter|print|i'?d (?:like|want|love)|we'?d (?:like|want|love)|i want|we want|can you (?:put|write)|could you (?:put|write)|pon(?:ga)?(?:le)?s?|escrib[ae])\s+(?:the (?:words?|name|phrase) )?|:\s*)"
)
_ON_ANOTHER = re.compile(rf"\b(?:and |, )?on {SOME}\s+(?=[A-Z0-9])")
_SPELL = re.compile(
    r"\b(?:letters?|each|together|apiece|they|cookies|and|to|that|so|which)\b[^.!?\n]{0,40}?\bspell(?:s|ing)?(?: out)?:?\s+(?:the (?:word|name) )?(?P<quote>[\"“'‘])?"
)
_NAMES = re.compile(
    r"\b(?:names|nombres|(?:each|every|one|child'?s|kid'?s|a|un|their|the) (?:with )?(?:one )?(?:a |un )?(?:name|nombre)|name (?:on|for|per) (?:each|every|it|them)(?: one)?)\b(?P<gap>[^:\n]{0,70}?)(?::|(?<![a-z])-|–|—|\bthey are\b|\bthey're\b|\bthese are\b|\bare\b|\bis\b|\bson\b|\?|\.|\()\s*(?:they are |they're |son |that's |that is |\d+:?\s*|as follows:?\s*)*"
)
_NAME = r"(?:(?:Mr|Mrs|Ms|Dr|Miss|Coach|Grandma|Grandpa|Aunt|Auntie|Uncle|T[ií][oa]|Abuel[oa]|Pap[aá]|Mam[aá]|Nana|Baby|Lil|Big|Little|Miss)\.? )?[A-ZÀ-ÖØ-Þ][\w'’-]*(?: [A-ZÀ-ÖØ-Þ][\w'’-]+| [A-Z]\.?)?"
_SEP = r"(?:\s*,\s*(?:and\s+|&\s*|y\s+|n\s+)?|\s+(?:and|&|y|n|e)\s+|\s*/\s*|\s*;\s*|\s*\n\s*)"
NAME_LIST = re.compile(rf"{_NAME}(?:{_SEP}{_NAME})+")
_SPLIT = re.compile(_SEP)
_NAME_AFTER = re.compile(
    r"\b(?:(?:his|her|their|first|only her first|su|the (?:baby|boy|girl|kid|child)'?s?|birthday (?:boy|girl)'?s?)\s+(?:first )?(?:name|nombre)|^name|(?<=[.!?,;]\s)name)\b(?P<mid>[^.!?\n]{0,34}?)(?:[,:(-]|\bit's|\.\s+it'?s|\bis\b|–|—)\s*(?:it'?s |its |\()?(?P<name>[A-Za-zÀ-ÿ][\w'’-]+)(?=\s*(?:$|[,.!?;:)(\n-]| -| on| with| \())",
    re.IGNORECASE | re.MULTILINE,
)
_NOT_WANTED = re.compile(
    r"(?:\b(?:instead of|rather than|not|no longer|in place of|en vez de|en lugar de|don'?t (?:put|write|say|pipe))\s+(?:the |\w+ing )?|\b(?:was (?:gonna|going to)|were (?:gonna|going to)|thought (?:about|of)|originally|we had|used to)\b[^.!?\n,]{0,30})$"
)
_TAKEN_BACK = re.compile(
    r"^\s*(?:on (?:them|it|some|\w+)\s)?(?:for\W+)?\W*(?:but )?(?:nah\b|no,|no skip|skip that|nope|nvm|never ?mind|scratch that)"
)
_ELSEWHERE = re.compile(
    r"\b(?:tags?|card|cards|note|label|stickers?|box(?:es)?|lid|banner|invitation|invite|invites|cake|sign|website|page|shirt|balloon|memo|e-?mail|subject|account|door|mailbox|bag|van|porch)\b[^.!?\n]{0,16}$"
)

Hit = tuple[str, int, int, str]


def frames(text: str, low: str, asked: bool) -> Iterator[Hit]:
    """(text, start, end, rule) of every lettering that a frame ties to cookies, the surest frames first.

    `low` is the shadow of `text`, of the same length; `asked` tells whether the baker has just asked for the wording.
    """
    yield from _names(text, low, asked)
    for m in _SPELL.finditer(low):
        yield from _right(text, low, m.end(), "letters that spell", m.start(), quoted=bool(m["quote"]))
    for m in _ON_WRITE.finditer(low):
        yield from _right(text, low, m.end(), "a text written on cookies", m.start())
    for m in _ON_ANOTHER.finditer(text):
        if re.search(r"\bon\b[^.!?\n]*$", low[max(0, m.start() - 60) : m.start()]):
            yield from _right(text, low, m.end(), "a text written on cookies", m.start())
    for m in _ON.finditer(low):
        yield from _left(text, low, m.start(), m.end(), asked)
    for m in _SAID_OF.finditer(low):
        if m["verb"].split()[-1] in ("with", "w/", "w", "have", "has", "having", "get", "gets", "getting", "con", "being", "carry") and not re.fullmatch(
            rf"{SOME}|them|'?em", m["who"]
        ):
            continue
        asks = re.search(r"\b(?:can|could|should|would|have|make|let)\s*$", low[max(0, m.start() - 8) : m.start()])
        if m["who"] == "they" and not asks and " " not in m["verb"]:
            continue
        yield from _right(text, low, m.end(), "so many with a text", m.start(), quoted=bool(m["quote"]))
    for m in _INSCRIBED.finditer(low):
        yield from _right(text, low, m.end(), "words to put on cookies", m.start(), quoted=bool(m["quote"]))


def _unwanted(low: str, start: int, end: int, before: int) -> bool:
    return bool(
        _NOT_WANTED.search(low[max(0, before - 50) : before])
        or _TAKEN_BACK.match(low[end : end + 30])
        or _ELSEWHERE.search(low[max(0, before - 40) : before])
    )


def _worth(said: str, low_before: str) -> bool:
    """Whether a run of capitals is a text and no pronoun, day, colour or start of a sentence."""
    if not said or _NEVER.fullmatch(said) or not re.search(r"[\w]", said):
        return False
    if re.fullmatch(r"\d+", said):
        return len(said) <= 4 and not _BEFORE_NUMBER.search(low_before)
    if re.match(r"\d+ (?=[a-z])", said) or re.fullmatch(r"(?:\d+ ?(?:am|pm|AM|PM|st|nd|rd|th))", said):
        return False
    return not (len(said.split()) == 1 and said.lower() in listed("colors_en.txt", "colors_es.txt") and not said.isupper())


def _left(text: str, low: str, end: int, past: int, asked: bool) -> Iterator[Hit]:
    """The run of capitals that ends right before "on six of them"."""
    cut = max((m.end() for m in _BREAK.finditer(text, max(0, end - 70), end)), default=max(0, end - 70))
    piece = text[cut:end].rstrip()
    m = _RUN_LEFT.search(piece)
    if not m or text.isupper():
        return
    said = m["run"]
    opening = text[: cut + m.start("run")].rstrip()[-1:] in ("", ".", "!", "?", "\n", ":", ",")
    shouted = said.isupper() and " " in said and not text.isupper()
    lead = _LEAD.match(said) if opening and not shouted else None
    start = cut + m.start("run") + (lead.end() if lead else 0)
    said = said[lead.end() :] if lead else said
    alone = " " not in said and not said.isupper() and not re.search(r"\d", said)
    opens = start == 0 or text[:start].rstrip()[-1:] in ".!?\n"
    named = said.lower() in listed("names.txt", "names_also_words.txt")
    if alone and opens and not named and not asked and said.lower() in known_words():
        return
    if _worth(said, low[:start]) and not _unwanted(low, start, past, start):
        yield said, start, start + len(said), "a text on cookies"


def _right(text: str, low: str, at: int, rule: str, before: int, *, quoted: bool = False) -> Iterator[Hit]:
    """The text that begins at `at`: quoted, in capitals, or a run of capitalised words."""
    if quoted:
        return  # a quoted text is found by its quotes
    said_so = re.search(r"\b(?:say|says|saying|read|reads|reading|digan?)\s+$", low[before:at]) is not None
    m = (_RUN_WIDE if said_so else _RUN_RIGHT).match(text, at)
    loud = _LOUD_RIGHT.match(text, at)
    if loud and m and len(re.sub(r"[^A-Z]", "", loud[0])) > 1 and (text.isupper() or not re.match(r"[ ]+[A-Z][a-z]|[ ]+\d", text[loud.end() :])):
        m = loud
    if not m:
        return
    said = re.split(r"[ ]+(?:Pick|Pickup|Pick-up|Collect\w*|Thanks|Thank you|Need|I (?=could|can|will|would|am|need|want|have)|I'll|I'd|We'll|And I|Can you|Could you)\b", m[0])[0]
    if cut := re.search(rf"\s+(?:on|en|to)\s+(?:{WHERE}|\d+)$", said, re.IGNORECASE):
        said = said[: cut.start()]
    said = re.sub(r"^([A-Z])\.\s.*$", r"\1", said) if re.search(r"\b(?:letter|letra|initial|inicial)\s+$", low[before:at]) else said
    if re.match(r"\s+(?:[a-z]|I\b)", text[at + len(said) :]):
        said = re.sub(r"\s+(?:I|We|He|She|They|My|It)$", "", said)  # "Bravo Leopold I could be there"
    said = re.sub(r"(?:\s+(?:and|n|y|&|\+|a|an|the|of|to|in|on))+$", "", said)
    said = re.sub(r"(?<![A-Z]{2})(?<!\b[A-Z])\.$", "", said)
    if re.fullmatch(r"\d{1,3}", said) and rule != "letters that spell":
        number_list = re.match(r"\d{1,3}(?:\s*,\s*\d{1,3})+(?:,? (?:and|&) \d{1,3})?(?!\d| (?:cookies|dozen|of each))", text[at:])
        if number_list and re.search(r"number", low[before:at]):
            for n in re.finditer(r"\d+", number_list[0]):
                yield n[0], at + n.start(), at + n.end(), rule
            return
        if re.match(r"\s*[\"“]|\s*(?:%|cookies|dozen|doz|dz|colou?rs|designs|of|or|to|[a-z]+s\b|[a-z]+ cookies)", low[at + len(said) :]):
            return
    if re.search(r"\binitials?\b|\biniciales\b|\bletters?\b", low[before:at]) and (
        apart := re.match(r"[A-Z](?:(?:\s*,\s*|,? and )[A-Z])+(?![\w&+])", text[at:])
    ):
        for n in re.finditer(r"\b[A-Z]\b", apart[0]):
            yield n[0], at + n.start(), at + n.end(), rule
        return
    pair = re.fullmatch(r"(?P<a>[A-Z][\w'’-]+) (?:and|&|y|n) (?P<b>[A-Z][\w'’-]+)", said)
    if pair and re.match(r"[^.!?\n]{0,30}\b(?:each|respectively|cada)\b", low[at + len(said) :]):
        yield pair["a"], at, at + pair.end("a"), rule
        yield pair["b"], at + pair.start("b"), at + pair.end("b"), rule
        return
    if _worth(said, "") and not _unwanted(low, at, at + len(said), before):
        yield said, at, at + len(said), rule


def _names(text: str, low: str, asked: bool) -> Iterator[Hit]:
    """A list of names behind the word for them, or alone where the baker has asked."""
    for m in _NAMES.finditer(low):
        if _ELSEWHERE.search(low[max(0, m.start() - 30) : m.start()]):
            continue
        found = NAME_LIST.match(text, m.end())
        if found:
            yield from _each_name(text, found.start(), found.end(), low)
    if asked:
        whole = re.fullmatch(rf"\W*(?:(?:yes|sure|ok|they are|names?:?|names are)\W+)*(?P<l>{NAME_LIST.pattern})\W*", text.strip(), re.IGNORECASE)
        found = NAME_LIST.search(text)
        if answer := re.fullmatch(rf"\W*(?:(?i:oh|ooh|yes|yeah|yep|sure|ok|okay|please|maybe|just|how about|say|s[ií])\W+)*(?P<t>{_RUN}|{_LOUD}(?: {_LOUD})*)(?:\W+(?i:please|pls|thanks|lol|haha))*\W*", text.strip()):
            at = text.index(answer["t"])
            if _worth(answer["t"], low[:at]) and answer["t"].lower() not in ("yes", "no", "nope", "yep", "sure", "none", "nah", "pickup"):
                yield answer["t"], at, at + len(answer["t"]), "an answer about the wording"
        elif whole and found and len(found[0]) > 0.6 * len(text.strip()) - 12:
            yield from _each_name(text, found.start(), found.end(), low)


def _each_name(text: str, start: int, end: int, low: str) -> Iterator[Hit]:
    at = start
    for name in _SPLIT.split(text[start:end]):
        begin = text.index(name, at)
        at = begin + len(name)
        if not re.fullmatch(r"(?:Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day", name) and name.lower() not in ("thanks", "please", "i", "i'm", "i’m", "pickup", "pick", "need", "and"):
            yield name, begin, at, "a list of names"


#: A text that takes the place of one asked for before: "make it Star Girl then".
_MADE_IT = re.compile(r"\b(?:[Mm]ake (?:it|that|them)|just|so|mejor|then|go with|do)\s+(?:just |simply )?(?=[A-Z])")


def changed(text: str, low: str) -> Iterator[Hit]:
    """Texts that stand for lettering only where some was asked for earlier in the thread."""
    for m in _MADE_IT.finditer(text):
        yield from _right(text, low, m.end(), "a text, changed", m.start())


#: A name with its spelling told: "Elliott, two Ls", "Kaylee with a K", "Anne with an e".
_SPELLING = re.compile(
    r"\b(?P<name>[A-Z][a-z]+|[a-z]{3,})\s*[,(]?\s*(?:that'?s |it'?s |spelled )?(?:with|w/?|two|one|double|no)\s(?:an? |the |one |two |no |double )?(?P<letter>[A-Za-z])'?s?\b(?=\s*(?:$|[,.!?;)\n]|and|not|at|in|instead|please|pls|on|the))"
)


def spelled(text: str) -> Iterator[Hit]:
    """Names whose spelling the customer tells."""
    known = listed("names.txt")
    for m in _SPELLING.finditer(text):
        if m["letter"].lower() in m["name"].lower() and (m["name"][0].isupper() or m["name"] in known):
            yield m["name"].capitalize(), m.start("name"), m.end("name"), "spelled out"


def named_beside(text: str) -> Iterator[tuple[str, int, int]]:
    """(name, start, end) told right behind "his name", "her name on each": "her name, Jazmyn", "name on every cookie: Annika"."""
    known = listed("names.txt", "names_also_words.txt")
    for m in _NAME_AFTER.finditer(text):
        name = m["name"]
        if (name[0].isupper() or name.lower() in known) and name.lower() not in ("it", "its", "the", "on", "is", "and", "please", "thanks", "just", "only"):
            yield name, m.start("name"), m.end("name")
