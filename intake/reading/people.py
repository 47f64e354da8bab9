"""Who orders and who is celebrated: names by the words around them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from intake.reading.language import Term, listed
from intake.reading.mention import Mention
from intake.reading.turns import Turn

_SELF = (
    re.compile(
        r"\b(?:[Mm]y name(?:'s| is)|[Mm]y names|this is|[Tt]his is|THIS IS|mi nombre es|[Mm]e llamo|[Ss]oy)\s+(?P<name>[\w'’-]+(?:\s+[\w'’-]+){0,3})"
    ),
    re.compile(
        r"(?:^|[.!?,\n]\s*|\b(?:[Hh]ey|[Hh]i|[Hh]ello|[Hh]iya|[Hh]e+y+|[Ss]up|[Aa]yo|[Yy]o|[Oo]h|[Hh]ola(?: hola)?|[Mm]orning|[Ee]vening|[Aa]fternoon)(?: there| again| hon| hun| dear| darling?| love| sweetie| sugar| girl| friend| neighbou?r)?,?\s+)(?:[Ii]t'?s|[Ii]ts)\s+(?P<name>[\w'’-]+(?:\s+[\w'’-]+){0,2})"
    ),
    re.compile(r"(?:^|[.!?,\n]\s*)(?P<name>[A-Z][\w'’-]+(?: [A-Z][\w'’-]+)?) here\b"),
    re.compile(r"(?:^|[.!?,\n]\s*)(?P<name>[A-Z][\w'’-]+ [A-Z][\w'’-]+) (?:btw|by the way)\b"),
    re.compile(r"(?:^|[.!?,\n]\s*)(?:(?:hey+|hi+|hello|yo|sup|hiya|heya|ayo|morning|evening)(?: there)?,?\s+)?(?P<name>[a-z][\w'’-]+(?: [a-z][\w'’-]+)?) here\b", re.IGNORECASE),
)
_STOP = frozenset(
    (
        "somebody someone everybody anybody everyone nobody new still over right down up out back round around live from at for the a an and with who your you my i im i'm we lol here talking calling writing again so not just "
        "in on to of is was it its she he her his by or me us our maid mom dad mum about kind like how what when "
        "where if sorry thanks thank please been going getting looking hoping having party birthday wedding either "
        "super really very still also actually late too ok okay fine great perfect sad cold hot that this there sat "
        "sun mon tue wed thu fri saturday sunday monday tuesday wednesday thursday friday jan feb mar apr may jun jul "
        "aug sep oct nov dec january february march april june july august september october november december next "
        "last all one two three four five six bit kinda sort más la el de una un para "
    ).split()
)
_CLOSING = re.compile(
    r"(?:^|[.!?,\n]\s*)(?:many |kind |best |warm |with )?(?:thanks?(?: you)?(?: so much| again| much| kindly)?|thx|ty|ta|tia|cheers|regards|sincerely|best|love|xo+|yours|warmly|gracias|saludos|appreciate it|respectfully)\s*[,!.\-~]*\s*\n?\s*"
    r"(?P<name>[A-Za-z][\w'’.-]*(?:[ ][A-Za-z][\w'’-]+){0,3})\s*(?:x+|xo+|❤️|:\))?\s*(?=$|\n|[\d(])",
    re.IGNORECASE,
)
_LAST_LINE = re.compile(
    r"(?:^|\n|[.!?]\s+)\s*(?P<name>[A-Z][a-z'’]+(?: [A-Z]\.?)?(?: (?:[A-Z][\w'’-]+))?)\s*(?:,[^\n]{0,40})?\s*(?:[\d(+][\d() .+-]{6,18})?\s*$"
)
_ROLE_WORDS = frozenset(
    "office manager owner director mobile cell email tel phone best regards thanks cheers sent thank".split()
)


def customers(turn: Turn) -> Iterator[Mention]:
    """How the customer names herself, in the text or at its foot."""
    for pattern in _SELF:
        for m in pattern.finditer(turn.text):
            name = _named(m["name"])
            if name:
                yield Mention(
                    "customer",
                    name,
                    turn.index,
                    m.start("name"),
                    m.start("name") + len(name),
                    "says who she is",
                    "self",
                )
    foot = turn.text.rstrip()
    for m in _CLOSING.finditer(foot):
        name = _titled(m["name"])
        if name and m.end() > len(foot) * 0.4:
            yield Mention("customer", name, turn.index, m.start("name"), m.end("name"), "signed", "signed")
    last = _LAST_LINE.search(foot)
    if last and last.start("name") > 20 and (name := _titled(last["name"])):
        yield Mention("customer", name, turn.index, last.start("name"), last.end("name"), "signed", "signed")


def _named(said: str) -> str:
    """The leading words of `said` that can be a person's name: known given names, or capitalised words."""
    names = listed("names.txt", "names_also_words.txt")
    out: list[str] = []
    for word in said.split():
        bare = word.strip(".,!?'’")
        low = bare.lower()
        if low.endswith(("'s", "’s")):
            return ""
        if low in _STOP or not bare or not bare[0].isalpha():
            break
        if not (bare[0].isupper() or low in names or out):
            break
        out.append(bare)
        if bare != word.rstrip("'’"):
            break
    if not out or (out[0].lower() not in names and not out[0][0].isupper()):
        return ""
    return _case(" ".join(out))


def _titled(said: str) -> str:
    words = list(said.replace(".", " ").split())
    if not words or any(w.lower() in _STOP or w.lower() in _ROLE_WORDS for w in words) or len(words) > 4:
        return ""
    names = listed("names.txt", "names_also_words.txt")
    if len(words) > 1 and words[-1].lower() in ("x", "xx", "xo", "xoxo"):
        words.pop()
    if not (words[0].lower() in names or all(w[0].isupper() for w in words)):
        return ""
    if len(words) == 1 and words[0].lower() not in names:
        return ""
    return _case(" ".join(words))


def _case(name: str) -> str:
    return " ".join(
        w
        if any(c.isupper() for c in w[1:]) and not w.isupper()
        else w[:1].upper() + w[1:].lower()
        if w.isupper() or w.islower()
        else w
        for w in name.split()
    )


_POSSESSIVE = r"(?:my|our|his|her|their|mi|mis|nuestro|nuestra|su|me and my|the)"
_NAME_IS = re.compile(
    r"\b(?:her|his|their|the baby'?s|baby'?s|birthday (?:girl|boy)'?s?|the (?:bride|groom|couple)'?s?|su|se)\s+(?:names?(?:'s| is| are)?|nombres?(?: es)?|llama)\s+(?P<name>[\w'’-]+(?:\s+(?:and|&|y|\+)\s+[\w'’-]+)?)",
    re.IGNORECASE,
)
_PARTY_FOR = re.compile(
    r"\b(?:shower|party|wedding|housewarming|quince|baptism|christening|hen do|dinner|celebration)\s+(?:for|de|para)\s+(?:(?:my|our|mi|his|her) (?:\w+ ){1,3}?|baby |our )?(?P<a>[A-Z][\w’-]+)(?:\s+(?:and|&|y)\s+(?P<b>[A-Z][\w’-]+))?"
    r"|\b(?:having|have) (?:the )?baby (?P<c>[A-Z][\w’-]+)|\b[Nn]ame is (?P<d>[A-Z][\w’-]+)\b|\b(?:hen do|party|shower) for our (?P<e>[A-Z][\w’-]+)"
)
_FETCHES = re.compile(
    r"^\S+\s+(?:calling|coming|collecting|picking|stopping|swinging|dropping|fetching|grabbing|popping|says?|said|recommend\w*|swears?|told|gave|gives|will write|asked|passed|sent me|mentioned|raves?|loved|had some|works with)\b|\b(?:will|can|could|is going to|'?ll|would|going to)\s+(?:come|collect|pick|get|grab|swing|stop|fetch|drop|bring)\b|\bfrom you\b"
)
_TITLE = r"(?:Mr|Mrs|Ms|Miss|Dr|Coach|Brother|Father|Chief|Capt|Captain|Pastor|Rev|Reverend|Sgt|Principal|Officer|Nurse|Deacon|Professor|Prof|coach|chief|pastor|mr|mrs|ms|dr)"
_TITLED = re.compile(
    rf"(?:\b(?:[Tt]hank(?:s|ing)?(?: you)?|[Aa]ppreciation|[Ff]arewell|[Ss]end[- ]?off|[Rr]etirement(?: party)?|[Pp]arty|[Gg]ift|[Cc]elebrat\w+|[Hh]onor\w*)\b[^.!?\n]{{0,30}}?\b(?:to|for|of|our|the|,)\s+)(?P<name>{_TITLE}\.?\s[A-Z][\w’-]+)"
    rf"|\b(?P<name2>(?:{_TITLE}|Sister)\.?\s[A-Za-z][\w’-]+)(?:['’]s)?(?:\s(?:is|are|will be|was)?\s?(?:retir|leaving|moving|turning|turns|put in|graduat|getting|being)|['’]?s (?:retirement|farewell|send|birthday|\d))"
)
_VERB_AGE = r"(?:(?:is |are |'s |’s |s )?(?:fixin'?|fixing|about|gonna|gona|going|set|due) (?:to )?(?:turn|be)|(?:is |'s |’s |s )?turn(?:ing|in'?|s)|hits?|hittin'?g?|(?:is|are) being|gets? (?:hitched|married|baptiz|baptis)|(?:is |are )?t(?:ie|ies|ying) the knot|packs? it in|is retiring|retires|(?:will be|'ll be|’ll be) (?:\d{1,3}|[a-z]+)(?=[\s.,!?]|$)|(?:is|was) (?:\d{1,3})\b)"
_WHO = re.compile(rf"(?:^|[.!?,\n(]\s*|\b(?:our|my|baby|Our|My|Baby|sister|brother|son|daughter|friend|and|one,|little one,)\s+)(?P<name>[A-Za-z][\w’-]+?)(?:['’]s)?,?\s+{_VERB_AGE}")
_FOR_WHO = re.compile(
    r"\b(?:for|made for|honou?ring|celebrating|throwing|hosting)\s+(?:our |my |little |baby )?(?P<name>[A-Z][\w’-]+)(?:['’]s)?(?:\s*\(\d+\)|,\s+(?:who|our|my|turning)\b|\s+who(?:'?s|’s| is)?\s+\d| turning| an? \w+ (?:party|shower)|['’]s (?:baby |bridal )?(?:shower|party|birthday))"
    r"|\b(?:[Ss]he|[Hh]e)(?:'s|’s| is)\s+(?P<called>called |named )?(?P<name2>[A-Z][\w’-]+)(?=[.,!?\n]|$)"
    r"|\b(?:is|was|are) (?:called|named)\s+(?P<name3>[A-Z][\w’-]+)|\bcalls (?:him|her) (?P<name4>[A-Z][\w’-]+)|\b(?P<name5>[A-Z][\w’-]+) is (?:her|his) name\b|\b(?P<name6>[A-Z][\w’-]+)[^.!?\n]{0,30}?,? that(?:'s|’s|s) (?:her|his) name\b|\b(?:my|My) (?P<name7>[A-Z][a-z’-]+)(?=[\s,.!?])(?! (?:will|can|could|is going to pick))"
)
#: "Ernestine and yes on 9 of them": the answer to "what's her name?".
_ANSWER = re.compile(r"\W*(?:(?:oh|aw+|ooh|yes|yeah|sure|it'?s|it is|she'?s|he'?s|her name is|his name is|hers is|his is)\W+){0,2}(?P<name>[A-Za-z][\w’-]+)(?=\s*(?:[.,!;]|and\b|yes\b|on\b|please\b|$))")
_PAIRS = re.compile(
    r"[(,]\s*(?P<a>[A-Z][\w’-]+) (?:and|&|n) (?P<b>[A-Z][\w’-]+)\s*[),.!]"
    r"|(?:^|[.!?\n]\s*)(?P<a2>[A-Z][\w’-]+) (?:and|&|n) (?P<b2>[A-Z][\w’-]+)(?:['’]s)?(?=\s*(?:$|[.,!?\n]|anniversary|wedding|engagement|are\b|will be\b|have been))"
    r"|\b(?:are|theyre|they're|they’re|couple(?: is|:)?) (?P<a3>[A-Za-z][\w’-]+) (?:and|&|n) (?P<b3>[A-Za-z][\w’-]+)(?=[\s.,!?]|$)"
    r"|\b(?:daughter|son|sister|brother|cousin|friend|nephew|niece),? (?P<a4>[A-Z][\w’-]+),? (?:and (?:her|his) (?:fianc[eé]e?|husband|wife|partner|boyfriend|girlfriend|groom|bride),?|is marrying|and her man|marries|to) (?:his |her )?(?P<b4>[A-Z][\w’-]+)"
    r"|\b(?:mate|friend|bestie|daughter|son|sister|brother|cousin|niece|nephew|girl|boy),? (?P<a6>[A-Z][\w’-]+),? (?:and|&|n) (?:her|his) (?:\w+ )?(?P<b6>[A-Z][\w’-]+)"
    r"|\b(?P<a5>[A-Z][\w’-]+)[^.!?\n]{0,60}?\b(?:he|she)(?:'s|’s| is) marrying (?:his |her )?(?P<b5>[A-Z][\w’-]+)"
)
_AND_NAME = r"(?P<a>[A-Za-z][\w’-]*)(?:['’]s)?\s*(?:and|&|y|\+)\s*(?P<b>[A-Za-z][\w’-]*)"


def honorees(turn: Turn, terms: tuple[Term, ...]) -> Iterator[Mention]:
    """Names of the celebrated: beside a relation ("my son Leo"), an age ("Leo is turning 4") or a day ("Leo's bday")."""
    names = listed("names.txt")
    loose = listed("names.txt", "names_also_words.txt")
    low, text = turn.low, turn.text
    for m in _NAME_IS.finditer(text):
        if name := _person(m["name"].split()[0], loose, True):
            parts = re.split(r"\s+(?:and|&|y|\+)\s+", m["name"])
            other = _person(parts[1], loose, False) if len(parts) > 1 else ""
            yield Mention(
                "honoree",
                f"{name} and {other}" if other else name,
                turn.index,
                m.start("name"),
                m.end("name"),
                "a name given as such",
                "named",
            )
    for m in _PARTY_FOR.finditer(text):
        first = m["a"] or m["c"] or m["d"] or m["e"]
        name = _person(first, loose, True)
        other = _person(m["b"], loose, True) if m["b"] else ""
        if name and not re.search(r"\b(?:my|this is)\s*$", low[max(0, m.start() - 8) : m.start()]):
            at = text.index(first, m.start())
            yield Mention(
                "honoree",
                f"{name} and {other}" if other else name,
                turn.index,
                at,
                at + len(first),
                "whose day it is",
                "day",
            )
    related = listed("relations_en.txt", "relations_es.txt")
    for m in _TITLED.finditer(text):
        said = m["name"] or m["name2"]
        at = m.start("name") if m["name"] else m.start("name2")
        if len(said.split()[-1]) > 2 and said.split()[-1].lower() not in _STOP | related:
            yield Mention("honoree", " ".join(_case(w) if w.islower() else w for w in said.split()), turn.index, at, at + len(said), "a title and a name", "day")
    for m in _PAIRS.finditer(text):
        first, second = (next(v for k, v in m.groupdict().items() if k[0] == side and v) for side in "ab")
        a, b = _person(first, loose, False), _person(second, loose, False)
        if a and b and a.lower() not in related and b.lower() not in related:
            at = text.index(first, m.start())
            yield Mention("honoree", f"{a} and {b}", turn.index, at, m.end(), "a pair of names", "day")
    given = _ANSWER.match(text) if "lettering" in turn.asked else None
    if given and (name := _person(given["name"], loose, False)):
        yield Mention("honoree", name, turn.index, given.start("name"), given.end("name"), "a name given when asked", "named")
    for pattern in (_WHO, _FOR_WHO):
        for m in pattern.finditer(text):
            said = next(v for k, v in m.groupdict().items() if k.startswith("name") and v)
            # "For Caio, our son, who turns 5": a capital tells a name that no list knows.
            told = pattern is _FOR_WHO and re.search(r",\s+(?:who|our|my|turning)$|turning$", m[0]) is not None
            name = _person(said, loose, told)
            if name and name.lower() not in related:
                at = text.index(said, m.start())
                yield Mention("honoree", name, turn.index, at, at + len(said), "who turns what age", "day")
    for relation in (t for t in terms if t.kind == "relation"):
        before = low[max(0, relation.start - 28) : relation.start]
        if not re.search(rf"\b{_POSSESSIVE}(?:\s[\w'-]+){{0,2}}\s*$|(?:^|\W)$", before):
            continue
        rest = text[relation.end : relation.end + 60]
        pair = re.match(rf"\s*,?\s*{_AND_NAME}(?=[\s'’,.!?)]|$)", rest)
        if (
            pair
            and _person(pair["a"], loose, True)
            and _person(pair["b"], loose, True)
            and pair["b"].lower() not in ("i", "me")
            and (relation.plural or not re.match(r"['’]s", rest[pair.end("a") :]))
        ):
            value = f"{_person(pair['a'], loose, True)} and {_person(pair['b'], loose, True)}"
            yield Mention(
                "honoree",
                value,
                turn.index,
                relation.end + pair.start("a"),
                relation.end + pair.end("b"),
                f"names beside “{relation.entry}”",
                "relation",
            )
            continue
        titled = re.match(rf"\s*,?\s*(?P<name>{_TITLE}\.?\s[A-Z][\w’-]+)", rest)
        if titled:
            at = relation.end + titled.start("name")
            yield Mention("honoree", titled["name"], turn.index, at, at + len(titled["name"]), f"a name beside “{relation.entry}”", "relation")
            continue
        one = re.match(r"(?P<gap>\s*,?\s*(?:is |named |called |- |\()?)(?P<name>[A-Za-z][\w’-]*)(?P<own>['’]s)?", rest)
        if one and (
            name := _person(
                one["name"],
                names,
                one["name"][0].isupper()
                and not text.isupper()
                and "." not in one["gap"]
                # "Parent Council", "Office Manager, Larkmoor Surveying": a title, and no relation of anyone's.
                and not (text[relation.start].isupper() and not re.search(rf"\b{_POSSESSIVE}\s", before)),
            )
        ):
            at = relation.end + one.start("name")
            if not _FETCHES.search(low, at, min(at + 48, turn.shadow.sentence(at)[1])):
                yield Mention(
                    "honoree",
                    name,
                    turn.index,
                    at,
                    relation.end + one.end("name"),
                    f"a name beside “{relation.entry}”",
                    "relation",
                )
    for pattern, rule in (
        (
            re.compile(r"\b(?P<a>[A-Z][\w’-]*) (?:y|and|&) (?P<b>[A-Z][\w’-]*) (?:cumplen|turn|are turning|will be)\b"),
            "who turns what age",
        ),
        (
            re.compile(
                rf"\b{_AND_NAME}(?:['’]s)?\s+(?:joint |shared |combined |double )?(?:b-?day|birthday|party|wedding|shower)"
            ),
            "whose day it is",
        ),
        (
            re.compile(
                r"\b(?P<a>[A-Za-z][\w’-]*) (?:is |es )?(?:turning|gonna be|going to be|cumple|turns) \w+,? (?:and|y) (?P<b>[A-Za-z][\w’-]*) (?:is|cumple|turns|turning|\d)"
            ),
            "who turns what age",
        ),
        (
            re.compile(
                rf"\b(?:[Tt]wins?|two|kids|boys|girls|parents|grandparents|couple|folks|both)[,:]?\s+(?:named |are |for )?{_AND_NAME}"
            ),
            "a pair of names",
        ),
    ):
        for m in pattern.finditer(text):
            a, b = _person(m["a"], loose, False), _person(m["b"], loose, False)
            if a and b:
                yield Mention("honoree", f"{a} and {b}", turn.index, m.start("a"), m.end("b"), rule, "day")
    for m in re.finditer(
        r"\b(?P<name>[A-Za-z][\w’-]*?)(?P<s>['’]s|s)?\s+(?:(?:big|surprise|joint|golden|wedding|first|1st|baby|bridal|little|upcoming|last|virtual)\s+)?(?P<what>(?:\d{1,3}(?:st|nd|rd|th)|first|second|third|sweet 16|sweet sixteen)?\s*(?:b-?day|birthday|bday|baptism|christening|grad(?:uation)?|retirement|quince|communion|baby shower|bridal shower|shower|christening|pool party|bachelorette|hen do|quincea[ñn]era|bat mitzvah|bar mitzvah|housewarming)|\d{1,3}th)\b",
        text,
    ):
        said = m["name"]
        name = _person(said, loose, False)
        if not name and said.lower().endswith("s"):
            name = _person(said[:-1], loose, False)
        if (
            not name
            and m["s"]
            and said.lower() not in listed("stop_heads.txt", "relations_en.txt", "relations_es.txt") | _STOP
        ):
            name = _case(said) if len(said) > 2 and said.isalpha() and said[0].isupper() and m.start() > 0 and text[:m.start()].rstrip()[-1:] not in ".!?\n" else ""
        if name and (m["s"] or said.lower().endswith("s") or m["what"].strip().lower() in ("grad", "graduation")):
            yield Mention("honoree", name, turn.index, m.start("name"), m.end("name"), "whose day it is", "day")
    for m in re.finditer(
        r"\b(?P<name>[A-Za-z][\w’-]*) (?:(?:is|IS) |will be |s )?(?:turning|turns|cumple|retires|TURNING|gonna be|is going to be|finds out|passed the|is graduating|is retiring|is moving)\b|\b[Ff]or (?P<name2>[A-Z][\w’-]+)(?:['’]s)? (?:who|turning)",
        text,
    ):
        said = m["name"] or m["name2"]
        if name := _person(said, loose, False):
            yield Mention("honoree", name, turn.index, m.start(), m.start() + len(said), "who turns what age", "day")


def _person(said: str, names: frozenset[str], trust_capital: bool) -> str:
    word = said.strip("'’.,-")
    low = word.lower()
    low = low[:-2] if low.endswith(("'s", "’s")) else low
    if low in _STOP or not low:
        return ""
    if low in names or (trust_capital and word[0].isupper() and len(low) > 1 and low not in listed("stop_heads.txt")):
        return _case(word[: len(low)])
    return ""
