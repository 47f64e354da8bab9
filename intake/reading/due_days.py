"""The days of a thread settled: what the baker's offers and the customer's answers make of each phrase."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from intake.reading import cues
from intake.reading.calendar_days import DAY
from intake.reading.date_anchors import hang
from intake.reading.date_said import DateSaid
from intake.reading.day_roles import FULL
from intake.reading.found import Found


@dataclass(frozen=True, slots=True)
class Settled:
    said: DateSaid
    role: str
    found: Found
    offered: bool = False

    @property
    def at(self) -> tuple[int, int]:
        return self.found.turn.index, self.said.start


def meant_by_name(events: list[Settled], found: Sequence[Found]) -> list[Settled]:
    """ "The cookies are for the rehearsal" picks the rehearsal's day out of several."""
    for f in found:
        if not f.turn.mine and (
            m := re.search(r"\b(?:cookies|they|these|this order) (?:are|is|'re) for the (?P<w>[a-z]{4,})", f.turn.low)
        ):
            picked = [s for s in events if m["w"] in s.found.turn.low[max(0, s.said.start - 40) : s.said.start]]
            if picked:
                return picked
    return []


def accepted_day(found: Sequence[Found], index: int, said: DateSaid, settled: Sequence[Settled]) -> str:
    """Whether the customer's next words take up a day that the baker named: "yes", "refused" or ""."""
    turn = found[index].turn
    start, end = turn.shadow.sentence(said.start)
    sentence = turn.low[start:end]
    if FULL.search(sentence) or (FULL.search(turn.low[end : end + 40]) and "?" in sentence):
        return "refused"
    answer = next((f for f in found[index + 1 :] if not f.turn.mine and f.turn.bare), None)
    if answer is None or answer.turn.index > turn.index + 3:
        return ""
    if cues.NO.search(answer.turn.bare) and not re.match(
        r"no (?:problem|worries|name|words|need|that'?s)", answer.turn.bare
    ):
        return (
            "refused"
            if re.search(r"\bnot (?:this|that)|\bnot\b|can'?t|too early|too late|instead", answer.turn.bare)
            else ""
        )
    if re.search(r"\btoo (?:early|late)\b", answer.turn.bare):
        return "yes"
    return "yes"


_FIRST = re.compile(r"\b(?:the )?(?:first|former|earlier|earliest|1st)(?: one| of those| day)?\b(?! thing)")
_SECOND = re.compile(r"\b(?:the )?(?:second|latter|later|last|2nd|other)(?: one| of (?:those|the two)| day)\b|\bthe (?:second|latter|later|last)\b")


def other_choice(found: Sequence[Found], index: int, position: int) -> bool:
    """Whether the answer picks another of the days that the baker has offered: "the second one"."""
    days = [d for d in found[index].dates if d.rule != "named day as a thing"]
    answer = next((f for f in found[index + 1 :] if not f.turn.mine and f.turn.bare), None)
    if len(days) != 2 or answer is None or answer.dates:
        return False
    if _SECOND.search(answer.turn.low):
        return found[index].dates[position] is days[0]
    return bool(_FIRST.search(answer.turn.low)) and found[index].dates[position] is days[1]


def resolved(
    said: DateSaid, settled: Sequence[Settled], f: Found, role: str, rest: Sequence[DateSaid] = ()
) -> DateSaid:
    """Settle a hanging phrase: on the party's day if it is known, else on the last day that was named."""
    if said.anchor is None:
        return said
    base: DateSaid | None = None
    usable = [s for s in settled if s.role != "other"] or list(settled)
    if said.rule == "the one after":
        base = settled[-1].said if settled else None
        if settled and settled[-1].said.rule == "the one after" and settled[-1].offered:
            return replace(said, first=settled[-1].said.first, last=settled[-1].said.last, anchor=None)
    elif said.anchor[0] in ("offset", "week", "weekend"):
        events = [s for s in usable if s.role in ("event", "")]
        events = meant_by_name(events, [*(s.found for s in settled), f]) or events
        base = (events or usable)[-1].said if usable else None
        if said.anchor == ("offset", 0) and events and re.search(r"morning of|day of", f.turn.low[said.start : said.end]):
            base = events[-1].said
        elif said.anchor == ("offset", 0) and usable:
            same = [s for s in usable if s.found is f]
            base = (same or meant_by_name(usable, [*(s.found for s in settled), f]) or usable)[-1].said
        if base is None:
            base = next((d for d in rest if d.first), None)
    elif (
        said.anchor[0] == "weekday"
        and settled
        and settled[-1].found is f
        and re.fullmatch(r"\s*(?:,|or|and|/|or even|maybe)?\s*", f.turn.low[settled[-1].said.end : said.start])
    ):
        # "Friday the 26th, sat or sunday": a row of days goes on from the first.
        return hang(replace(said, anchor=("weekday", said.anchor[1], "after")), settled[-1].said, f.turn.day)
    elif said.anchor[0] == "weekday" and said.anchor[2] == "near" and (offers := _just_offered(settled, f)):
        # "Tuesday the 16th or Thursday the 18th?" - "thursday": the day meant is one of those, or the nearest to them.
        days = [s.said.first for s in offers if s.said.first]
        exact = next((d for d in days if d.weekday() == said.anchor[1]), None)
        meant = exact or next(
            (days[-1] + k * DAY for k in (1, 2, 3, -1, -2, -3) if (days[-1] + k * DAY).weekday() == said.anchor[1]),
            None,
        )
        if meant and meant >= f.turn.day:
            return replace(said, first=meant, last=meant, anchor=None)
        return hang(said, None, f.turn.day)
    elif said.anchor[0] in ("weekday", "ordinal"):
        events = [s for s in usable if s.role in ("event", "handover", "arrival", "")]
        correcting = role == "event" and any(s.role == "event" for s in events)
        base = events[-1].said if events and (role != "event" or correcting) else None
        if base is None and role in ("handover", "arrival", "") and said.anchor[0] == "weekday":
            later = next(
                (d for d in rest if d.first and d.rule.startswith(("month", "day month", "slash", "named day"))), None
            )
            base = later
        if (
            said.anchor[0] == "weekday"
            and base is not None
            and base.first
            and (correcting or (base.first - f.turn.day).days < 0)
        ):
            base = None
        if said.anchor[0] == "ordinal" and correcting and base is not None and base.first:
            near = replace(said, anchor=said.anchor)
            return hang(near, DateSaid(0, 0, base.first + 20 * DAY, base.first + 20 * DAY, ""), f.turn.day)
    return hang(said, base, f.turn.day)


def _just_offered(settled: Sequence[Settled], f: Found) -> list[Settled]:
    """The days of the baker's last message before this turn, taken up or not; with a word of change the day that stands."""
    last = max((s.found.turn.index for s in settled), default=-1)
    offers = [s for s in settled if s.offered and s.found.turn.index == last and s.said.first == s.said.last]
    if offers:
        return offers
    standing = [s for s in settled if s.role in ("handover", "arrival") and s.said.first == s.said.last and s.found.turn.index < f.turn.index]
    moved = re.search(r"\b(?:instead|rather|move|moved|switch|change|could i come|can i come|could we|can we|turns out)\b", f.turn.low)
    return standing[-1:] if moved else []
