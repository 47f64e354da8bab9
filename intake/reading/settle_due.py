"""When an order is due, and whether that is its hand-over, its arrival or only the party.

Each date is first given a role by the words nearest to it, then settled by the day it hangs on, in the order in which
the thread says them. A later hand-over day wins over an earlier one; where none is said, the party's day is kept.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, time, timedelta

from intake.model import Cell, Due, Evidence
from intake.reading import cues
from intake.reading.date_anchors import hang
from intake.reading.date_said import DateSaid
from intake.reading.day_roles import FULL, day_role, is_time, offers_time, time_role
from intake.reading.due_days import Settled, accepted_day, meant_by_name, other_choice, resolved
from intake.reading.found import Found
from intake.reading.times import TimeSaid

DAY = timedelta(days=1)


def settle(
    found: Sequence[Found], about: Callable[[int, int], bool], way: str | None
) -> tuple[Cell[Due], Cell[str], list[tuple[str, str, str, Evidence]]]:
    """(due, what it is, trail rows (rule, value, outcome, evidence)) of the order for which `about(turn, character)` holds.

    `way` is its hand-over where that is known: only what is shipped arrives.
    """
    settled: list[Settled] = []
    trail: list[tuple[str, str, str, Evidence]] = []
    for index, f in enumerate(found):
        said_here: list[Settled] = []
        for position, said in enumerate(f.dates):
            if said.rule == "named day as a thing" or not about(f.turn.index, said.start):
                continue
            role = day_role(f, position)
            if f.turn.mine:
                accepted = accepted_day(found, index, said, settled)
                if accepted == "yes" and other_choice(found, index, position):
                    accepted = "refused"
                if accepted == "refused":
                    # "The one after" hangs on a day the baker could not do.
                    settled.append(Settled(resolved(said, settled, f, "other"), "other", f, True))
                    continue
                if not accepted or role == "other":
                    continue
                role = role if role != "" else "handover"
                if role == "event" and not any(x.role == "event" for x in settled):
                    role = "event"
            value = resolved(said, settled + said_here, f, role, f.dates[position + 1 :])
            if value.first is None:
                trail.append((said.rule, "", "hangs on a day that is not known", f.turn.evidence(said.start, said.end)))
                continue
            said_here.append(Settled(value, role, f, f.turn.mine))
        settled.extend(said_here)
    for s in settled:
        trail.append(
            (s.said.rule, _shown(s.said), s.role or "no role", s.found.turn.evidence(s.said.start, s.said.end))
        )
    return (*_choose(settled, found, about, way), trail)


def typed(f: Found, current: Due | None) -> Cell[Due] | None:
    """The due day that the baker types: a day, a time, or both; what she leaves out stays as it is.

    A bare weekday is the one nearest to the day that stands, "the 27th" the one near it, "the day before" hangs on it.
    """
    low, today = f.turn.low, f.turn.day
    chosen = [
        (place, d)
        for place, d in enumerate(f.dates)
        if d.rule != "named day as a thing" and not re.search(r"\b(?:not|from)\s+(?:on |the )?$", low[: d.start])
    ]
    clock = next((t for t in reversed(f.times) if not t.bare), None)
    day: DateSaid | None = None
    if chosen:
        said = chosen[-1][1]
        base = DateSaid(0, 0, current.first, current.last, "the day that stands") if current else None
        if said.anchor is not None and said.anchor[0] == "weekday" and said.anchor[2] == "near" and current:
            around = [current.first + k * DAY for k in (0, 1, -1, 2, -2, 3, -3)]
            near = next((d for d in around if d.weekday() == said.anchor[1] and d >= today), None)
            day = replace(said, first=near, last=near, anchor=None) if near else hang(said, None, today)
        else:
            day = hang(said, base, today)
        if day.first is None or day.last is None:
            day = None
    if day is not None and day.first and day.last:
        when = clock.value if clock else current.time if current else None
        return Cell(Due(day.first, day.last, when), True, (f.turn.evidence(day.start, day.end),), rule=day.rule)
    if clock and current:
        return Cell(
            replace(current, time=clock.value), True, (f.turn.evidence(clock.start, clock.end),), rule=clock.rule
        )
    return None


def _shown(said: DateSaid) -> str:
    return f"{said.first}" if said.first == said.last else f"{said.first} to {said.last}"


def _choose(
    settled: list[Settled], found: Sequence[Found], about: Callable[[int, int], bool], way: str | None
) -> tuple[Cell[Due], Cell[str]]:
    # A day that had passed by the last message is an old order's, quoted.
    today = max((f.turn.day for f in found if f.turn.kind == "said"), default=date.min)
    ahead = [s for s in settled if s.said.last and s.said.last >= s.found.turn.day]
    settled = [s for s in ahead if s.said.last and s.said.last >= today] or ahead
    wanted = [s for s in settled if s.role in ("handover", "arrival")]
    events = [s for s in settled if s.role in ("event", "")]
    offered = [s for s in settled if s.offered]
    for s in settled:
        # A bare day that answers the baker is the hand-over, or takes the place of the one she could not do.
        sentence = s.found.turn.low[slice(*s.found.turn.shadow.sentence(s.said.start))]
        answers = s.role == "" and not s.offered and any(o.found.turn.index < s.found.turn.index for o in offered)
        answers |= s.role == "" and not s.offered and bool(wanted) and _MOVED.search(sentence) is not None
        answers |= s.role == "" and bool(wanted) and "handover" in s.found.turn.asked and not s.offered
        if answers and not any(w.found.turn.index > s.found.turn.index for w in wanted):
            wanted.append(s)
            events.remove(s)
    for s in [s for s in events if s.role == "" and not s.offered and s.said.first == s.said.last]:
        # A bare day just before the party, told after it, is the hand-over's.
        if any(_just_before(s, e) for e in events if e.role == "event"):
            wanted.append(s)
            events.remove(s)
    wanted.sort(key=lambda s: s.at)
    if any(s.role == "event" for s in events) and any(s.role == "" for s in events):
        loose = [s for s in events if s.role == ""]
        # A bare day in answer to "when do you need them?" is the hand-over.
        if (
            loose
            and loose[-1].at > max(s.at for s in events if s.role == "event")
            and loose[-1].found.turn.asked & {"date", "handover"}
        ):
            wanted.append(loose[-1])
        named = [s for s in events if s.role == "event"]
        if loose and named and all(s.said.rule.startswith("named day") for s in named):
            # "Saturday 9/5, that's Labor Day weekend": the day said in figures is the one that is meant.
            named = [s for s in loose if s.said.first and abs((s.said.first - (named[-1].said.first or s.said.first)).days) < 4] or named
        events = named or events
    elif events and not any(s.role == "event" for s in events) and not wanted and (any(s.found.turn.asked & {"date", "handover"} for s in events) or _any_day(events) or not _party_named(found, about)):
        wanted, events = events, []
    if wanted:
        last_turn = max(s.found.turn.index for s in wanted)
        latest = [s for s in wanted if s.found.turn.index == last_turn]
        kind = "arrival" if way == "ship" or (way is None and latest[-1].role == "arrival") else "handover"
        due, clock_role = _day(latest, found, about), "handover"
    elif events:
        last_turn = max(s.found.turn.index for s in events)
        latest = [s for s in events if s.found.turn.index == last_turn]
        strong = [s for s in latest if not s.said.rule.startswith("named day")] or latest
        strong = meant_by_name(strong, found) or strong
        kind = "event"
        due, clock_role = _day(strong, found, about), "event"
    else:
        return Cell(), Cell()
    if due.value is None:
        return due, Cell()
    when = _time(due, latest, found, about, clock_role, settled)
    if kind == "event" and (fetch := _time(due, latest, found, about, "handover", settled)):
        # The party's day with an hour of fetching or bringing: handed over that day.
        kind, when = "handover", fetch
    value = replace(due.value, time=when[0]) if when else due.value
    evidence = due.evidence + ((when[1],) if when else ())
    return replace(due, value=value, evidence=evidence), Cell(
        kind, due.sure, due.evidence[:1], due.why, rule="role of the day"
    )


def _just_before(s: Settled, party: Settled) -> bool:
    first, day = s.said.first, party.said.first
    return bool(first and day and party.said.first == party.said.last and party.at < s.at and 0 < (day - first).days <= 3)


_MOVED = re.compile(
    r"\b(?:instead|actually|can (?:we|you|i) (?:do|make it|move)|could (?:we|you) (?:do|make it|move)|move (?:it|that)|change (?:it|that)|switch|rather)\b"
)


def _any_day(days: Sequence[Settled]) -> bool:
    """ "Early July, you choose the day": a span that is left to the baker is when the cookies may be fetched."""
    return any(s.said.first != s.said.last and cues.ANY.search(s.found.turn.low) for s in days)


def _party_named(found: Sequence[Found], about: Callable[[int, int], bool]) -> bool:
    """Whether the thread names a party or the like: a day said without a role is then its day."""
    return any(
        m.value not in ("thank you", "holiday") and m.role != "past"
        for f in found
        if not f.turn.mine and not f.turn.asked
        for m in f.of("occasion")
        if about(f.turn.index, m.start)
    )


def _day(latest: list[Settled], found: Sequence[Found], about: Callable[[int, int], bool]) -> Cell[Due]:
    """One day, or the narrowest window, out of the days that the last word on it names."""
    turn = latest[-1].found.turn
    low = turn.low
    evidence = tuple(s.found.turn.evidence(s.said.start, s.said.end) for s in latest)
    start, end = turn.shadow.sentence(latest[-1].said.start)
    context = low[turn.shadow.sentence(latest[0].said.start)[0] : end] + " " + low[end : end + 80]
    pick = latest[-1]
    if len(latest) > 1:
        joined = _alternatives(latest, low)
        if joined:
            first, last = min(s.said.first for s in joined), max(s.said.last for s in joined)  # type: ignore[type-var]
            assert first and last
            loose = cues.ANY.search(context) is not None and not cues.UNSETTLED.search(context)
            return Cell(
                Due(first, last),
                loose,
                evidence,
                "" if loose else "the day is not settled yet",
                rule="days to choose from",
            )
        plain = [s for s in latest if not cues.REPAIR.search(low[max(0, s.said.start - 24) : s.said.start])]
        if len(plain) == len(latest):
            # Several hand-over days without a word of change: the one said with a verb of fetching, else the first.
            pick = next(
                (
                    s
                    for s in reversed(latest)
                    if s.said.rule.startswith(("days around", "weekday around"))
                    or re.search(
                        r"\b(?:pick|get|collect|come|grab|drop|deliver|ready|need|arriv|bring|fetch|swing|stop|ship|mail|hand|tra[ei]|recoj|paso)\w*[^.!?]{0,40}$",
                        low[max(0, s.said.start - 60) : s.said.start],
                    )
                ),
                latest[-1],
            )
    said = pick.said
    assert said.first and said.last
    evidence = (pick.found.turn.evidence(said.start, said.end),)
    if said.grain == "either":
        return Cell(Due(said.first, said.last), False, evidence, "one of two days, not settled", rule=said.rule)
    if said.grain in ("part", "month", "week", "weekend", "range") and said.first != said.last:
        unsettled = cues.UNSETTLED.search(context) is not None
        sure = not unsettled and (cues.ANY.search(context) is not None)
        why = "the day is not settled yet" if unsettled else "" if sure else "a span of days: ask which day"
        return Cell(Due(said.first, said.last), sure, evidence, why, rule=said.rule)
    why = said.doubt
    if cues.UNSETTLED.search(low[start:end]) and re.search(
        r"\b(?:not sure|depends|tbd|don'?t know|let you know)\b[^.!?]{0,40}\b(?:day|date|when)\b|\b(?:day|date|when)\b[^.!?]{0,30}\b(?:not sure|tbd|depends|to be)",
        low[start:end],
    ):
        why = why or "the day is not settled yet"
    others = tuple(Due(a, b) for a, b in said.others)
    return Cell(Due(said.first, said.last), not why, evidence, why, others, rule=said.rule)


def _alternatives(latest: list[Settled], low: str) -> list[Settled]:
    """The days that "or" (or a bare row of weekdays) joins."""
    group = [latest[-1]]
    for prev in reversed(latest[:-1]):
        gap = low[prev.said.end : group[0].said.start]
        if re.fullmatch(
            r"\s*(?:am|pm|morning|evening|afternoon|night)?\s*(?:,|or(?: else)?|,\s*or|/|\s|either)\s*(?:on |the |even |maybe |possibly )*",
            gap,
        ):
            group.insert(0, prev)
        else:
            break
    joined = low[group[0].said.end : group[-1].said.start]
    return group if len(group) > 1 and re.search(r"\bor\b|/|\bo\b", joined) else []


_SAME_TIME = re.compile(r"\b(?:same (?:time|hour)|time stays|misma hora)\b")


def _time(
    due: Cell[Due],
    latest: list[Settled],
    found: Sequence[Found],
    about: Callable[[int, int], bool],
    role: str,
    settled: Sequence[Settled],
) -> tuple[time, Evidence] | None:
    """The clock time of the chosen day: beside it, else of the same role elsewhere; a later word wins."""
    chosen = next((s for s in latest if due.evidence and due.evidence[0].start == s.said.start), latest[-1])
    best: tuple[time, Evidence] | None = None
    for index, f in enumerate(found):
        # A span of hours is the party's: it says when to be there, not when to fetch.
        options = [t for t in f.times if about(f.turn.index, t.start) and not (t.until and role == "handover")]
        if f.turn.mine:
            options = [
                t
                for t in options
                if not t.bare
                and accepted_day(found, index, DateSaid(t.start, t.end, None, None, ""), ()) == "yes"
                and offers_time(f, t)
                and role == "handover"
            ]
            answer = next((g for g in found[index + 1 :] if not g.turn.mine and g.turn.bare), None)
            if answer and re.search(r"\btoo (?:early|late)\b|\binstead\b", answer.turn.bare):
                options = []
            if any(FULL.search(f.turn.low[slice(*f.turn.shadow.sentence(t.start))]) for t in options):
                options = []
            if re.search(r"\bbetween\b|\banytime\b|\bany time\b", f.turn.low):
                options = []
        kept = []
        for t in options:
            _start, _end = f.turn.shadow.sentence(t.start)
            if re.search(r"\btoo (?:early|late)\b", f.turn.low[t.end : t.end + 14]) or re.search(r"\b(?:better|rather|earlier|later|not) than\s+$", f.turn.low[: t.start]):
                continue
            if t.bare and not is_time(f, found, index, t):
                continue
            kind = time_role(f, t, (chosen.said.start, chosen_role(chosen)) if chosen.found is f else None)
            if kind == "" and due.value and _said_with(f, t, settled, due.value):
                kind = role
            if (
                kind == role
                or (kind == "" and (chosen.found is f or f.turn.index > chosen.found.turn.index) and role == "handover")
                or (kind == "" and (chosen.found is f or _SAME_TIME.search(chosen.found.turn.low)))
            ) and (f.turn.index >= chosen.found.turn.index or not t.bare or _SAME_TIME.search(chosen.found.turn.low)):
                kept.append(t)
        if kept:
            beside = [
                t
                for t in kept
                if chosen.found is f and f.turn.shadow.sentence(t.start) == f.turn.shadow.sentence(chosen.said.start)
            ]
            taken_back = [
                x
                for x in kept
                if x.bare and re.search(r"\b(?:no|wait|actually|i mean)[, ]+\s*$", f.turn.low[: x.start])
            ]
            t = beside[0] if beside else kept[-1]
            if beside and len(beside) > 1:
                t = min(beside, key=lambda x: abs(x.start - chosen.said.end))
            t = taken_back[-1] if taken_back else t
            best = (t.value, f.turn.evidence(t.start, t.end))
    return best


def _said_with(f: Found, t: TimeSaid, settled: Sequence[Settled], due: Due) -> bool:
    """Whether the time stands in one sentence with a phrase that means the due day."""
    sentence = f.turn.shadow.sentence(t.start)
    return any(
        s.found is f and s.said.first == due.first and sentence[0] <= s.said.start < sentence[1] for s in settled
    )


def chosen_role(s: Settled) -> str:
    return "handover" if s.role in ("handover", "arrival", "") else "event"
