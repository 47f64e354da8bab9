"""Things told by their place in the sentence, whatever the word: "2 dozen gonks", "shaped like X", "X, Y and Z".

No list of words holds everything that can be drawn on a cookie, so a noun phrase in a slot that only a drawing can
fill is taken for one. Each becomes a term like those of the word lists, for the lists of things to weigh.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from intake.reading import numbers
from intake.reading.counts import Quantity
from intake.reading.language import Term, listed
from intake.reading.thing_words import COOKIE_WORDS, SIZES, UNITS, stop_words

_WORD = r"[a-zà-öø-ÿ][a-zà-öø-ÿ'’-]*"
_NP = re.compile(
    rf"(?:(?:the|a|an|some|your|those|these|of|little|tiny|cute|small|plain|simple|assorted|different|various|custom|decorated|iced|just|like|maybe|really|actually|los|las|unos|unas|el|la|un|una)\s+)*"
    rf"(?P<np>{_WORD}(?:[ -](?!(?:and|n|y|or|o)\b){_WORD}){{0,3}})"
)
#: Words that end a noun phrase from the right.
_END = frozenset(
    (
        "for in on with at by to from please pls plz thx thanks that which who because bc cuz so but if i we my our his "
        "her their is are was were would could can need want pick pickup due party lol haha it its it's they them he she "
        "you u as this next before after around about would'd i'd i'll we'd we'll im i'm and n or y o & para con en del "
        "por mi su el la los las porfa porfis each apiece total altogether maybe like just also too then than when where "
        "while please, half some any all one ones instead only shaped themed theme style cookies cookie biscuits biscuit "
        "galletas picturing imagining wanting envisioning parezcan ill im well shell hell theyll lets iced be will should have has had do does did not no yes ok okay hi hello hey using made coming going "
        "pcs pieces pc ct asap tho though since until till off up out down over here there cada si que es son va"
    ).split()
)
_NOT_THINGS = frozenset(
    (
        "order orders idea ideas design designs shape shapes color colors colour colours flavor flavors name names word "
        "words text writing letter letters number numbers box boxes bag bags day days week weeks month time times date "
        "hour hours minute minutes year years price quote budget deposit detail details thing things stuff way lot bit "
        "kind kinds sort sorts type types people person guest guests kid kids friend friends family everyone everybody "
        "help info information question questions spot spots room slot favor favour favors favours treat treats gift "
        "gifts set sets batch dozen dozens icing sprinkles pickup delivery shipping morning afternoon evening night noon "
        "today tomorrow tonight weekend monday tuesday wednesday thursday friday saturday sunday sure fine good great "
        "perfect lovely yummy delicious beautiful pretty same more less extra rest others other new old big large small "
        "birthday shower wedding party anniversary graduation reunion baptism christening retirement bday event fiesta "
        "cumple boda bautizo mom mum dad son daughter sister brother wife husband grandma grandpa baby boy girl couple "
        "team class school church office work home house place address phone email cake dessert table food love hugs "
        "please thanks gluten nut nuts dairy egg eggs vegan vanilla chocolate almond lemon allergy allergies something "
        "anything everything nothing whatever either both none neutral pastel pastels rainbow bright sugar royal vegetarian "
        "jobs pages samples nights mornings evenings afternoons weekends times minutes seconds months years miles blocks steps hands feet "
        "altogether total overall tops max turns loves plays gets wants starts ships moves graduates retires hits comes goes says likes needs keeps makes takes gives works lives passes lets wears eats sits thinks hopes means runs knows tells ellas ellos howdy hello hiya morning evening afternoon greetings aloha salam hola buenas holaa hey sup yo howya half mix mixture variety assortment selection peace cheers regards best xo xx hi hello docena docenas color sabor "
        "corrections correction fixes fix changes change tweaks additions amendments requests wordings lots bookings news phrases sayings messages occasions customers visitors entries premises minds and any total each cookie biscuit piece pieces pcs each apiece"
    ).split()
)
_PEOPLE_ENDING = re.compile(r"(?:ers|ors|ists|ents|ees|men|women|mates|ians|people|folks|kids|boys|girls|staff|members)$")
_SHAPE = re.compile(
    r"\b(?:shaped? (?:like|as|of)|in the (?:shape|form|style) of|(?:decorated|iced|done(?: up)?|made(?: up)?|dressed(?: up)?|painted|cut) (?:as|like|to look like|to resemble|into)"
    r"|look(?:s|ing)? like|resembl\w+|cut-?outs? of|pictures? of|images? of|drawings? of|que parezcan|que sean|con forma de|en forma de|con (?:figuras|dibujos) de|tipo|something (?:with|like)|(?:cookies|ones|biscuits|them) like"
    r"|(?:cookies|they|them|biscuits) (?:could |should |to |can |will |would )?(?:to )?(?:all )?be(?: all)?|(?:it'?d|they'?d|it|they) (?:have|has|had) to be)\s+"
)
_WISH = re.compile(
    r"\b(?:(?:i|we|she|he|they)(?:'?d)?(?: would)?(?: just| really| only| actually)? (?:like|love|want|wants|fancy|prefer|picture|picked|chose|asked for|need)|wants|love|(?:i'?m|im|we'?re|were) (?:after|thinking(?: of)?|doing|picturing|imagining|wanting|looking for|going (?:for|with))|thinking(?: of)?|looking for|wanting|(?:'s into|obsessed with|nuts about|all about|mad on|mad for|mad about|crazy (?:about|for)|(?:really|big|super|so|is) into|lives? for|huge fan of|fan de|le encantan?(?: los| las)?|loves|adores)|can (?:you|u|y'?all) (?:do|make)|could (?:you|u) (?:do|make)|do (?:you|u|y'?all) (?:do|make)|can (?:we|i) (?:do|get|have|order)|could (?:we|i) (?:get|have|order|do)|let'?s do|how about|what about|maybe|ideally|quiero|quisiera|queremos|ocupo|necesito|me gustar[ií]an)\s+"
)
_ON_THEM = re.compile(
    rf"\bwith (?:an? |some |the |little )?(?P<np>{_WORD}(?: {_WORD}){{0,2}}) on (?:each|them|it|every|top|all|the cookies|the biscuits)\b|\b(?:wants?|like|love|put) (?P<np2>{_WORD}(?: {_WORD}){{0,2}}) on (?:the|those|her|his|my) (?:cookies|biscuits)\b"
    rf"|(?:^|[.!?\n]\s*)(?P<np3>{_WORD}(?: {_WORD})?) on (?:all|each|every|them|most)\b"
)
_PIECE = re.compile(r"\s*(?:,\s*(?:and\s|or\s|&\s|n\s|y\s)?|\s(?:and|&|n|y|e|\+|plus)\s|\s?/\s?|\s?&\s?)\s*")
_SENTENCE = re.compile(r"[^.!?;:\n()…—]+")
#: What may follow the last thing of a row: "snails and cups in equal numbers, no words".
_GOES_ON = re.compile(r"\s+(?:in|on|for|with|w/?|please|pls|plz|each|on|at|from|to|by|half|evenly|equally|split|all|because|since|so|as|if|maybe|en|para|con|por|yeah|yep|yes|ok|okay|lol|haha|would|sounds?|same|is|are|it'?s|thanks|thx)\b")
_VERB_BEFORE = re.compile(r"\b(?:she|he|it|who|someone|somebody|that|this|which|everyone|everybody|somebody|yes|ella|[eé]l)\s+(?:just |really |also )?$")
_NUMBERED = re.compile(r"^(?:a dozen|half|\d{1,3}|one|two|three|four|five|six|eight|ten|twelve|una docena(?: de)?|mitad)\s+(?:of (?:the )?)?")


_NUMERALS = UNITS | {"half", "half-dozen", "quarter", "quarters", "third", "thirds", "rest", "remaining", "other", "others", "media", "de", "hundred", "extra", "another", "love", "also", "everything"}


class Slots:
    """Noun phrases of one turn in slots for things; positions are characters of its shadow text `low`."""

    def __init__(
        self, low: str, terms: Sequence[Term], quantities: Sequence[Quantity], taken: Sequence[tuple[int, int]]
    ) -> None:
        self.low, self.terms, self.quantities, self.taken = low, terms, quantities, taken
        self._colors = [t for t in terms if t.kind in ("color", "modifier")]
        self._things = [t for t in terms if t.kind in ("motif", "theme")]
        #: Where a phrase begins that is surely asked for: behind a number, or a word for shapes.
        self.asked: frozenset[int] = frozenset()
        #: Phrases behind a word for shapes: "done up as playing cards".
        self.shapes: tuple[Term, ...] = ()
        self._people = [t for t in terms if t.kind in ("name", "relation")]

    def find(self) -> list[Term]:
        """The phrases as terms, the longest first where they overlap."""
        self.shapes = tuple(self._shaped())
        found = [*self._counted(), *self.shapes]
        self.asked = frozenset(t.start for t in found if t.entry)
        found += [*self._wished(), *self._enumerated()]
        known = {(t.start, t.end) for t in self._things}
        kept: dict[tuple[int, int], Term] = {}
        for term in found:
            if (term.start, term.end) not in known:
                kept.setdefault((term.start, term.end), term)
        return list(kept.values())

    def _phrase(self, at: int, *, loose: bool) -> Term | None:
        """The noun phrase that begins at `at`, where it can be a thing; `loose` slots take any word, others plurals and known things."""
        m = _NP.match(self.low, at)
        if not m:
            return None
        start = m.start("np")
        end = start
        for w in re.finditer(_WORD, self.low[start : m.end("np")]):
            word = w[0]
            if word in _END or word in COOKIE_WORDS or (end > start and word in _NOT_THINGS and word not in ("house", "cake", "bag", "box", "boxes", "egg", "eggs", "table")):
                break
            end = start + w.end()
        of = re.match(rf" of (?:the )?(?!them|those|these|each|us|my|our|july){_WORD}", self.low[end:])
        if of and end > start and loose:
            end += of.end()
        return self._term(start, end, loose=loose)

    def _term(self, start: int, end: int, *, loose: bool) -> Term | None:
        start, end = self._bare(start, end)
        said = self.low[start:end]
        words = re.findall(_WORD, said)
        if not words or len(said) < 3 or "n't" in said:
            return None
        head = words[-1] if " of " not in said else said.split(" of ")[0].split()[-1]
        if head in _NOT_THINGS or head in _END or head in UNITS or head in COOKIE_WORDS or words[0] in _END:
            return None
        if any(start < e and end > s for s, e in self.taken):
            return None
        if re.match(r"\s+(?:flavou?r|flavou?red|sabor|dough)\b", self.low[end:]):
            return None
        if _VERB_BEFORE.search(self.low[max(0, start - 14) : start]) and words[0].endswith("s"):
            return None  # "she loves it", "and it explains everything"
        known = any(t.start >= start and t.end == end for t in self._things)
        if any(t.plural and start <= t.start and t.end < end for t in self._things):
            return None  # "rockets planets": a row without its comma
        if not known and head in stop_words():
            return None
        if any(t.start <= start and t.end >= end for t in self._colors) and not known:
            return None
        person = any(t.start <= start < t.end for t in self._people) and not (words[0] == "baby" and len(words) > 1)
        if person and not known:
            return None
        many = head.endswith("s") and not head.endswith(("ss", "us", "'s"))
        if not (known or many or loose):
            return None
        return Term("motif", start, end, said, many)

    def _bare(self, start: int, end: int) -> tuple[int, int]:
        """Without colours and sizes in front."""
        moved = True
        while moved:
            moved = False
            for t in self._colors:
                whole = any(x.start == start and x.end > t.end for x in self._things)
                if t.start == start and t.end < end and not whole:
                    start = t.end + len(self.low[t.end : end]) - len(self.low[t.end : end].lstrip(" -"))
                    moved = True
            if ((m := re.match(r"[\w-]+(?=\s)", self.low[start:end])) and (m[0] in _NUMERALS or re.fullmatch(numbers.WORDS, m[0]))) or ((m := re.match(r"[a-z]+(?=\s)", self.low[start:end])) and m[0] in SIZES):
                start += len(m[0]) + 1
                moved = True
        return start, end

    def _counted(self) -> Iterator[Term]:
        """ "2 dozen gonks", "10 jeepneys": what stands right behind a number of cookies."""
        for q in self.quantities:
            if q.role not in ("dozens", "cookies", "lone", "total", "each") or q.high < 2:
                continue
            if self.low[q.end : q.end + 1] not in (" ", "\n") or (re.search(r"\b(?:the|this|that|room|unit)\s+$", self.low[: q.start]) and not q.dozens):
                continue
            term = self._phrase(q.end + 1, loose=q.dozens)
            if term is None or re.match(r"\s+(?:cookies|biscuits|galletas)", self.low[term.end :]):
                continue
            if not q.dozens and _PEOPLE_ENDING.search(term.entry) and not any(t.end == term.end for t in self._things):
                continue
            yield term

    def _shaped(self) -> Iterator[Term]:
        for m in _SHAPE.finditer(self.low):
            if term := self._phrase(m.end(), loose=True):
                yield term
        for m in _ON_THEM.finditer(self.low):
            group = next(name for name in ("np", "np2", "np3") if m[name])
            if term := self._term(m.start(group), m.end(group), loose=True):
                yield term

    def _wished(self) -> Iterator[Term]:
        for m in _WISH.finditer(self.low):
            if term := self._phrase(m.end(), loose=False):
                yield term

    def _enumerated(self) -> Iterator[Term]:
        """Rows of short phrases with a known thing among them, or all in the plural."""
        for sentence in _SENTENCE.finditer(self.low):
            start, pieces = sentence.start(), []
            at = sentence.start()
            for sep in (*_PIECE.finditer(self.low, sentence.start(), sentence.end()), None):
                end = sep.start() if sep else sentence.end()
                pieces.append((at, end))
                at = sep.end() if sep else end
            run: list[Term] = []
            for index, (begin, end) in enumerate(pieces):
                first, last = index == 0 or not run, index == len(pieces) - 1
                term = self._piece(begin, end, first=first)
                if term is None:
                    yield from self._row(run)
                    run = []
                    continue
                run.append(term)
                clean = not self.low[term.end : end].strip()
                if not clean and not last and term.plural and not _GOES_ON.match(self.low, term.end):
                    run.pop()
                if not clean and not last:
                    yield from self._row(run)
                    run = []
            yield from self._row(run)
            del start

    def _piece(self, begin: int, end: int, *, first: bool) -> Term | None:
        text = self.low[begin:end]
        lead = len(text) - len(text.lstrip())
        if number := _NUMBERED.match(text[lead:]):
            lead += number.end()
        words = list(re.finditer(rf"{_WORD}|\d+", text[lead:]))
        if not words:
            return None
        if first and re.search(r"\bfor (?:the|our|my|her|his|your|a)\s+(?:\w+\s+)?$", self.low[: begin + lead]):
            return None
        if first:
            # Only the words behind the last small word can be the first thing of a row.
            stops = [w.end() for w in words if w[0] in _END or w[0] in stop_words() or w[0].isdigit()]
            lead += max((s for s in stops if s < len(text[lead:].rstrip())), default=0)
        if first and re.search(r"\bfor (?:the|our|my|her|his|your|a|an)\s+(?:[\w'-]+\s+)?$", self.low[: begin + lead]):
            return None
        match = _NP.match(self.low, begin + lead + len(text[lead:]) - len(text[lead:].lstrip()))
        if match is None or match.start("np") >= end:
            return None
        term = self._phrase(begin + lead + len(text[lead:]) - len(text[lead:].lstrip()), loose=True)
        return term if term and term.end <= end and len(term.entry.split()) <= 4 else None

    def _opens(self, at: int) -> bool:
        """Whether a sentence begins at `at`."""
        return re.search(r"(?:^|[.!?\n])\s*$", self.low[:at]) is not None

    def _row(self, run: Sequence[Term]) -> Iterator[Term]:
        if len(run) < 2:
            return
        names = listed("names.txt")
        known = [any(t.start >= x.start and t.end == x.end for t in self._things) for x in run]
        if len(run) == 2 and not known[1] and not run[1].plural and (known[0] or run[0].plural) and self._opens(run[0].start) and re.fullmatch(r"\s+(?:and|&|n|y|\+)\s+", self.low[run[0].end : run[1].start]):
            # "Singlets and headgear, maroon + white": a sentence of two, the second without a plural.
            known[1] = re.match(r"\s*(?:[,.;]|in\b|$)", self.low[run[1].end :]) is not None
        named = any(x.entry in names for x in run)
        if not named and all(k or x.plural for k, x in zip(known, run, strict=True)):
            yield from run
