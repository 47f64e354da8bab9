"""Everything the finders find in one turn, in the order in which they may claim words."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from intake.house import ReadingPart
from intake.reading import (
    contacts,
    counts,
    dates,
    details,
    handover,
    house_words,
    language,
    lettering,
    occasions,
    people,
    themes,
    times,
)
from intake.reading.counts import Quantity
from intake.reading.date_said import DateSaid
from intake.reading.mention import Mention
from intake.reading.things import ItemList
from intake.reading.times import TimeSaid
from intake.reading.turns import Turn


@dataclass
class Found:
    """One turn and what was found in it. `mentions` are grouped by kind and in text order."""

    turn: Turn
    dates: list[DateSaid] = field(default_factory=list)
    times: list[TimeSaid] = field(default_factory=list)
    quantities: list[Quantity] = field(default_factory=list)
    lists: list[ItemList] = field(default_factory=list)
    mentions: dict[str, list[Mention]] = field(default_factory=dict)

    def of(self, kind: str) -> list[Mention]:
        return self.mentions.get(kind, [])


def find(turn: Turn, rules: ReadingPart) -> Found:
    """All finders over one turn. Earlier ones claim their words: a phone number is no count, a date no design."""
    low = turn.low
    words, terms = language.parse(low, house_words.terms(rules))
    found = Found(turn)

    def keep(kind: str, mentions: Sequence[Mention]) -> list[tuple[int, int]]:
        found.mentions[kind] = sorted(mentions, key=lambda m: (m.start, -m.end))
        return [(m.start, m.end) for m in mentions if m.end > m.start]

    # Numbers of other kinds first: what they claim can be neither a date nor a count.
    claimed = keep("email", list(contacts.emails(turn)))
    claimed += keep("phone", list(contacts.phones(turn)))
    claimed += keep("budget", list(contacts.budgets(turn)))
    addresses = list(contacts.addresses(turn))
    spans = keep("address", addresses)
    claimed += [] if all(a.role == "loose" for a in addresses) else spans
    ages = keep("age", list(occasions.ages(turn)))
    found.dates = dates.find(
        low, turn.day, order=rules.date_order, next_weekday=rules.next_weekday, taken=claimed + ages
    )
    # "Easter chicks": the feast only says which chicks.
    drawn_next = {t.start for t in terms if t.kind == "motif"}
    found.dates = [
        replace(d, rule="named day as a thing")
        if d.rule == "named day" and d.end + 1 in drawn_next and low[d.end : d.end + 1] == " "
        else d
        for d in found.dates
    ]
    found.dates = [d for d in found.dates if not _is_halves(low, d.start, d.end)]
    dated = [(d.start, d.end) for d in found.dates if d.rule != "named day as a thing"]
    found.times = [t for t in times.find(low) if not _touches(t.start, t.end, claimed + dated + ages)]
    timed = [(t.start, t.end) for t in found.times if not t.bare]
    fed = keep("dietary", [*details.dietary(turn), *details.dietary_beyond(turn)])
    fed = [(s, e) for s, e in fed if e - s < 24]
    letters = keep("lettering", [m for m in lettering.find(turn) if not _touches(m.start, m.end, claimed)])
    found.quantities = counts.quantities(low, claimed + dated + ages + timed + [s for s in letters if s[1] - s[0] > 0])
    foot = _foot(turn)
    # Then words: lettering and dates before things, things before colours.
    events = keep("occasion", list(occasions.occasions(turn)))
    found_things = themes.find(turn, words, terms, found.quantities, claimed + dated + letters + fed + foot, [_tip(low, *e) for e in events])
    found.lists = found_things.lists
    themed = keep("theme", found_things.themes)
    drawn = [(i.start, i.end) for group in found.lists for i in group.items] + themed
    tasted = keep("flavors", list(details.flavors(turn, terms, house_words.flavors(rules))))
    keep("colors", list(details.colors(turn, terms, claimed + letters + tasted + _not_colors(drawn, terms))))
    keep("packaging", list(details.packaging(turn)))
    keep("honoree", [m for m in people.honorees(turn, terms) if not _touches(m.start, m.end, foot)])
    keep("customer", list(people.customers(turn)))
    keep("handover", [m for m in handover.find(turn) if not _touches(m.start, m.end, letters)])
    return found


def find_all(turns: Sequence[Turn], rules: ReadingPart) -> list[Found]:
    """Every turn searched, and what an answer makes of it: "10/10" after "10 and 10?" is a split, no day."""
    out: list[Found] = []
    for turn in turns:
        found = find(turn, rules)
        asked = next((f.turn.low for f in reversed(out) if f.turn.mine), "")
        found.dates = [d for d in found.dates if not _is_split(turn.low[d.start : d.end], asked)]
        out.append(found)
    return out


def _is_halves(low: str, start: int, end: int) -> bool:
    """ "24, teacups and macarons 12/12": two equal halves of a number that is named, and no day."""
    parts = re.fullmatch(r"(\d{1,2})/(\d{1,2})", low[start:end])
    if not parts or parts[1] != parts[2] or re.search(r"\b(?:on|by|for|is|due|before|until|till|the)\s+$", low[:start]):
        return False
    return re.search(rf"(?<![\d/.:$]){2 * int(parts[1])}(?![\d/:%])", low) is not None


def _is_split(said: str, asked: str) -> bool:
    parts = re.fullmatch(r"(\d{1,2})/(\d{1,2})", said)
    return bool(parts and re.search(rf"\b{parts[1]}\s*(?:and|&|/)\s*{parts[2]}\b", asked) and parts[1] == parts[2])


def _foot(turn: Turn) -> list[tuple[int, int]]:
    """What stands behind the writer's name at the foot of a mail, and the name: an office and its street, nothing to draw."""
    signed = [m for m in people.customers(turn) if m.role == "signed" and m.start > len(turn.low) // 4]
    lines = turn.text.count("\n")
    last = next((m for m in signed if turn.text[: m.start].rstrip(" ").endswith("\n")), None)
    if last is None or lines < 3 or len(turn.low) - last.end > 240:
        return []
    return [(last.start, len(turn.low))]


def _tip(low: str, start: int, end: int) -> tuple[int, int]:
    """The naming word of an occasion told in many: in "baby bottles in cream for the shower" only the last is no thing."""
    return (start, end) if end - start <= 24 else (max(low.rfind(" ", start, end), start), end)


def _touches(start: int, end: int, spans: Sequence[tuple[int, int]]) -> bool:
    return any(start < e and end > s for s, e in spans)


def _not_colors(drawn: list[tuple[int, int]], terms: Sequence[language.Term]) -> list[tuple[int, int]]:
    """Spans of things that hold a colour word as part of a known name ("black cat"), which is then no colour."""
    known = [(t.start, t.end) for t in terms if t.kind in ("motif", "theme")]
    return [(s, e) for s, e in known if any(s < de and e > ds for ds, de in drawn)]
