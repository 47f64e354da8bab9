"""What the baker's words mean, by what is in hand. Pure: nothing is looked up and nothing is changed."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from intake.model import Due
from intake.talk import Correction, corrections
from intake.talk_doubts import BY_DAY, doubt, how_many, spoken, typed
from intake.talk_fields import FIELD_OF, VAGUE, fields_in, meant_fields, of_words
from intake.talk_known import ACT, ASK, KNOWN, Known
from intake.talk_near import nearest, respelt
from intake.talk_phrases import BIDS, FIND, HOW, LEVEL, OFF, SETTLES, WAY
from intake.talk_shapes import Act, Ask, Hand, Meant, NotUnderstood, Unclear
from intake.talk_slots import Slots, slots
from intake.talk_words import FILLER, QUESTIONS, canonical, is_question, phrased, plainly, shadow, unfolded

# What is longer is told, not said: only corrections are looked for in it.
LONGEST = 240
_PARTS = {"deposit": "deposit", "half": "half", "full": "full"} | dict.fromkeys(
    ("balance", "rest", "all", "everything"), "balance"
)
_KINDS = (
    ("confirm", "confirm confirmation booked"), ("no room", "room no"),
    ("remind", "remind reminder owes money balance"),
    ("thanks", "thanks_ thank thanks"), ("deposit", "deposit receipt paid"), ("ready", "ready"), ("sent", "sent"),
    ("change", "change"), ("cancelled", "cancelled cancellation"), ("quote", "quote price"),
)  # fmt: skip
# The last part of what is said, where it may be an act of its own.
_CLAUSE = re.compile(r"(?:[,;.]\s*(?:so |then |and |please )*|\s(?:so|then)\s+)(?=[^,;.]{2,40}$)", re.I)
_LEADS = re.compile(r"^(?:what|when|who|why|how|where|which|whose|is|are|does|did|has|am|was|were)\b")


def meant(words: str, hand: Hand) -> Meant:
    """What `words` mean. Raises nothing."""
    if not words.strip():
        return NotUnderstood(nearest("", ()))
    if len(words) > LONGEST:
        return _correction(words, hand) or NotUnderstood(nearest("", ()))
    said = slots(words, hand)
    text = phrased(said.text)
    asks = is_question(said.low, text)
    found: Meant | None = _known(words, hand, text, asks, guessed=False) or _special(words)
    plain = unfolded(said.low).strip()
    if found is None and (last := _CLAUSE.search(words)):
        found = _of_two(words[: last.start()], words[last.end() :], hand)
    if found is None and not _LEADS.match(plain) and not BIDS.match(plain):
        found = _correction(words, hand)
    if found is None and hand.order and (several := how_many(said)):
        return several
    if found is None:
        found = _known(words, hand, text, None, guessed=False)
    if found is None:
        text = respelt(text)
        found = _known(words, hand, text, is_question(said.low, text), guessed=True)
    if found is None and not _NEVER & set(_tokens(text)):
        found = _known(words, hand, text, is_question(said.low, text), guessed=True, loose=True)
    if found is None:
        return NotUnderstood(nearest(text, tuple(_tokens(text))))
    return doubt(words, found, hand, said) or found


def _of_two(before: str, after: str, hand: Hand) -> Meant | None:
    """ "She said yes, book it": the act, where nothing else is meant before it; two things at once are asked about."""
    said = slots(after, hand)
    act = _known(after, hand, phrased(said.text), False, guessed=True)
    if not isinstance(act, Act):
        return None
    if _NEVER & set(_tokens(phrased(slots(before, hand).text))):
        return None
    if _correction(before, hand) or _known(before, hand, phrased(slots(before, hand).text), False, guessed=False):
        return Unclear("That is two things. Which first?", (before.strip(), after.strip()))
    return act


def _tokens(text: str) -> list[str]:
    return [canonical(token) for token in text.split() if token != "?"]


def _known(
    words: str, hand: Hand, text: str, asks: bool | None, *, guessed: bool, loose: bool = False
) -> Ask | Act | None:
    """The ask or act that goes by all of the words; `asks` None takes a plain sentence for a question. `loose` lets an
    ask leave out two words, an act one."""
    tokens = _tokens(text)
    best: tuple[int, int, Known] | None = None
    for place, known in enumerate(KNOWN):
        if loose and (known.what in _AT_ONCE or (known.what in BY_DAY and "<day>" not in tokens)):
            continue
        if known.asked is not None and asks is not known.asked and not (asks is None and known.kind == ASK):
            continue
        spare = _SPARE[known.kind] if loose else 0
        size = _size(known, tokens, hand, plainly=asks is None or loose, spare=spare)
        if size and (best is None or (size, -place) > best[:2]):
            best = size, -place, known
    if best is None:
        return None
    known = best[2]
    said = slots(words, hand, payment=known.what in ("paid", "refund") and known.kind == ACT)
    if known.kind == ASK:
        return replace(_ask(known, said, tokens, hand), says=known.says, guessed=guessed)
    return _act(known, said, tokens, hand, guessed)


def _size(known: Known, tokens: Sequence[str], hand: Hand, *, plainly: bool, spare: int) -> int:
    """How many words of it a head explains, where every word but `spare` belongs to it; 0 where not. `plainly` looks at
    heads alone that hold a word of their own."""
    pool = known.words
    takes_fields = "field" in known.takes.split()
    fields = fields_in(tokens, hand.order, values=known.what == "why") if takes_fields else {}
    have = {*tokens, *(["<field>"] if fields else [])}
    if "<count>" in have and "<money>" in pool:
        # Beside other words a bare figure may be money that has come.
        pool = pool | {"<count>"}
    if {"level", "way"} & set(known.takes.split()):
        pool = pool | _LEVELS_AND_WAYS
    left = [t for place, t in enumerate(tokens) if t not in pool and t not in FILLER and place not in fields]
    if len(left) > spare or any(t[0] in "<" for t in left):
        return 0
    heads = (head.split() for head in known.heads if not plainly or set(head.split()) - _COMMON)
    return max((len(head) for head in heads if set(head) <= have), default=0)


#: Of a question two words may be left out, which harms nothing; of an act one, and it is shown first.
_SPARE = {ASK: 2, ACT: 1}
_AT_ONCE = ("labels", "sheet", "go", "nextone", "open")
_NEVER = frozenset("not no never without unless until if except instead stop".split())
#: What is said around the day of an order.
_OF_A_DAY = frozenset(
    (
        "moved due need needs want wants pick picks pickup pickedup collect collects coming come comes move push pull "
        "bring change make set switch put day date time noon midnight morning afternoon evening night am pm party "
        "event wedding birthday shower not instead before after around until earlier later week weeks days same "
        "handed handover ready deliver delivers delivery ship ships shipping arrive arrives actually really meant "
        "better earliest latest soon sharp o'clock half past quarter between no or max early late el la las para "
        "hoy recoger fiesta mejor tarde "
    ).split()
)
_COMMON = frozenset((*FILLER, *QUESTIONS, "make", "take", "fit", "order", "<day>", "<count>", "<who>", "<past>"))
_LEVELS_AND_WAYS = frozenset((*WAY, "plain", "simple", "detailed", "elaborate"))


def _ask(known: Known, said: Slots, tokens: list[str], hand: Hand) -> Ask:
    takes = set(known.takes.split())
    count = said.counts[0][1] if said.counts and "count" in takes else None
    level = LEVEL.search(said.low)
    way = next((WAY[token] for token in tokens if token in WAY), "")
    ask = Ask(
        known.what,
        days=said.span if takes & {"day", "past"} else None,
        count=count if known.what != "why" else None,
        level=level[1].replace("simple", "plain") if level and "level" in takes else "",
        way=way if "way" in takes else "",
        who=said.who[0] if len(said.who) == 1 and "who" in takes else "",
    )
    if known.what == "todo" and ask.days is None:
        return replace(ask, days=(hand.at.date(), hand.at.date()))
    if known.what in ("field", "why"):
        fields = meant_fields(tokens, fields_in(tokens, hand.order, values=known.what == "why"))
        days = said.span if known.what == "why" else None
        return replace(ask, field=_field(known.what, said, tokens, fields), days=days)
    return ask


def _field(what: str, said: Slots, tokens: list[str], fields: tuple[str, ...]) -> str:
    if what == "why" and ({"price", "much"} & set(tokens) or said.money):
        return "price"
    vague = all(FIELD_OF.get(t) is None or t in VAGUE for t in tokens)
    if what == "why" and (not fields or (vague and said.counts)):
        return "due" if said.days else "count" if said.counts else ""
    return fields[0] if fields else ""


def _act(known: Known, said: Slots, tokens: list[str], hand: Hand, guessed: bool) -> Act:
    takes = set(known.takes.split())
    act = Act(
        known.what,
        known.says,
        days=said.span if "day" in takes else None,
        who=said.who[0] if len(said.who) == 1 and "who" in takes else "",
        guessed=guessed,
    )
    match known.what:
        case "paid" | "refund":
            how = HOW.search(said.low)
            part = next((_PARTS[token] for token in tokens if token in _PARTS), "")
            return replace(
                act, amount=said.money[0] if said.money else None, how=how[1] if how else "",
                kind="" if said.money else part,
            )  # fmt: skip
        case "ask":
            fields = meant_fields(tokens, fields_in(tokens, hand.order, values=False))
            return replace(act, fields=fields or of_words(tokens))
        case "write":
            kinds = (kind for kind, by in _KINDS if set(by.split()) & set(tokens))
            return replace(act, kind=next(kinds, ""))
        case "hours":
            return replace(act, hours=said.hours)
        case "go":
            return replace(act, kind=next((p for p in ("rack", "bench", "till", "counter") if p in tokens), "counter"))
        case "sheet" if act.days is None:
            today: date = hand.at.date()
            return replace(act, days=(today, today))
    return act


def _special(words: str) -> Ask | Act | None:
    """What holds free words: something to look for, something to settle about the price."""
    low = " ".join(unfolded(shadow(words)).split()).strip()
    for pattern in FIND:
        if m := pattern.match(low):
            return Ask("find", words=m["w"].strip(" .,!\"'"))
    if m := OFF.match(low):
        return Act("settle", "take 5 off", words=f"{m['why'] or 'courtesy'} -{m['n']}")
    for pattern in SETTLES:
        if m := pattern.match(low):
            return Act("settle", "make it elaborate", words=m[1])
    return None


def _correction(words: str, hand: Hand) -> Correction | Unclear | None:
    """A change of fields, or that they are so already; None where the words are none, a doubt where a day may be meant
    otherwise."""
    if hand.order is None or hand.thread is None:
        return None
    found = corrections(words, hand.thread, hand.order, hand.rules, at=hand.at)
    if not found.changes and not found.already:
        return None
    if found.changes.keys() <= {"due", "due_is"} and (due := found.changes.get("due")) and due.value:
        return _sure_of_day(words, hand, due.value) or found
    return found


def _sure_of_day(words: str, hand: Hand, due: Due) -> Unclear | None:
    """Whether the day is what she sets: beside other things ("call her tomorrow") it is asked about."""
    tokens = plainly(slots(words, hand).text)
    if all(t in FILLER or t in _OF_A_DAY or t[0] in "<?0123456789" for t in tokens):
        return None
    days = (due.first, due.last)
    at = f" at {due.time:%H:%M}" if due.time else ""
    return Unclear(f"Is that the day of this order, {spoken(days)}?", (f"due {typed(days)}{at}",))


def every() -> Iterator[str]:
    """How each thing is best typed."""
    return (known.says for known in KNOWN)


