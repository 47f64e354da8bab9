"""What the lines of a copied conversation are beside each other.

The same "3:30 PM" is when a message came, or what a customer answered; the same "March 28" the day above a run of
messages, or her party. In doubt a line is words: a time too many is seen, an answer lost is not.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from intake.inbox.chat_times import even_text
from intake.inbox.copied_lines import HEADS, Kind, Line, is_name, is_own, known_as, line_of, told_of
from intake.inbox.copied_times import Stamp, is_likely_day

_MOST_BLANKS = 2


def settled(text: str, mine: frozenset[str], at: datetime | None) -> list[Line]:
    """The lines of `text` as what they are beside each other."""
    lines: list[Line] = []
    for line in map(line_of, even_text(text)[1].split("\n")):
        # Pages leave many lines blank; one or two say as much.
        if line.kind is not Kind.BLANK or any(other.kind is not Kind.BLANK for other in lines[-_MOST_BLANKS:]):
            lines.append(line)
    return _without_answers(_named(_of_one_clock(lines), mine), at)


def _as_words(line: Line) -> Line:
    return Line(Kind.WORDS, line.text)


def _of_one_clock(lines: list[Line]) -> list[Line]:
    """Times written unlike most of the others are somebody's words, and so is furniture that only looks like a name
    with a time."""
    styles = Counter(line.stamp.style for line in lines if line.stamp and line.stamp.clock)
    if not styles:
        return lines
    style = styles.most_common(1)[0][0]
    return [_as_words(ln) if ln.stamp and ln.stamp.clock and ln.stamp.style != style else ln for ln in lines]


def _named(lines: list[Line], mine: frozenset[str]) -> list[Line]:
    """`lines` with those that are names: named by furniture, the baker's, or coming back in places like each other."""
    told = {known_as(name) for line in lines for name in told_of(line)} | mine
    full = {
        known_as(line.text) for line in lines if line.kind is Kind.WORDS and " " in line.text and is_name(line.text)
    }
    told |= {name for name in full if name.split()[0] in told}
    heads = Counter(known_as(line.name) for line in lines if line.kind is Kind.NAME)
    headed = {name for name, count in heads.items() if count > 1 or name in told or is_own(name)}
    kept = [i for i, line in enumerate(lines) if line.kind is not Kind.BLANK]
    places = {
        i: _place(lines, kept, n)
        for n, i in enumerate(kept)
        if lines[i].kind is Kind.WORDS and _may_name(lines[i], told)
    }
    sure = {i for i in places if is_own(lines[i].text) or known_as(lines[i].text) in told}
    sent = any(line.kind is Kind.SENT for line in lines)
    apart = {known_as(lines[i].text) for i, place in places.items() if place.starts}
    counts = Counter(known_as(lines[i].text) for i, place in places.items() if place.starts or sent)
    often = {name for name, count in counts.items() if count > 1 and name in apart}
    known = sure or {i for i in places if known_as(lines[i].text) in often}
    # Names stand right above a time everywhere, or nowhere.
    above = Counter(places[i].after is Kind.STAMP for i in known).most_common(1)
    fitting = {i for i in places if above and _fits(places[i], above[0][0], known_as(lines[i].text) in often)}
    names = {known_as(lines[i].text) for i in fitting} & often
    found, speaker = [], ""
    for i, line in enumerate(lines):
        if line.kind is Kind.NAME and not headed:
            line = _as_words(line)
        elif i in places:
            # A name that comes back is one right below another's words, too; below its own it signs.
            turn = known_as(line.text) in names and known_as(line.text) != speaker
            turn = turn and (sent or places[i].after is Kind.STAMP)
            if i in sure or i in fitting or turn:
                line = Line(Kind.NAME, line.text, line.text)
        speaker = known_as(line.name) if line.kind in HEADS else speaker
        found.append(line)
    return found


def _may_name(line: Line, told: set[str]) -> bool:
    return is_name(line.text) or is_own(line.text) or known_as(line.text) in told


@dataclass(frozen=True, slots=True)
class _Place:
    """Where a line stands that may be a name: `before` and `after` are the next things that aren't blank; `starts`:
    something other than words sets it off above, and something follows; `twice`: two times follow."""

    before: Kind | None
    after: Kind | None
    starts: bool
    twice: bool


def _place(lines: Sequence[Line], kept: Sequence[int], place: int) -> _Place:
    i = kept[place]
    before = lines[kept[place - 1]] if place else None
    after = [lines[k].kind for k in kept[place + 1 : place + 3]]
    again = before and before.kind is Kind.WORDS and known_as(before.text) == known_as(lines[i].text)
    apart = not before or before.kind is not Kind.WORDS or lines[i - 1].kind is Kind.BLANK
    starts = bool(after) and (apart or bool(again) or after[0] is Kind.STAMP)
    return _Place(before.kind if before else None, after[0] if after else None, starts, after == [Kind.STAMP] * 2)


def _fits(place: _Place, above: bool, often: bool) -> bool:
    if not place.starts or ((place.after is Kind.STAMP) != above and not (place.twice and often)):
        return False
    return often or above or (place.before is Kind.STAMP and place.after is Kind.WORDS)


def _without_answers(lines: list[Line], at: datetime | None) -> list[Line]:
    """`lines` with the times and days that are words: the second one where a time stands already, a day that is
    somebody's whole message, and a name below a message of its own, which signs it."""
    kept = [i for i, line in enumerate(lines) if line.kind is not Kind.BLANK]
    below = is_below(lines)
    found = list(lines)
    # Where other times carry their day, clocks alone that all stand as somebody's whole message are answers.
    alone = [_is_alone(lines, kept, place) for place in range(len(kept)) if _is_clock(lines[kept[place]])]
    clocks_answer = all(alone) and any(line.stamp and line.stamp.is_dated and line.stamp.clock for line in lines)
    speaker = ""
    for place, i in enumerate(kept):
        line = found[i]
        before = found[kept[place - 1]] if place else None
        after = lines[kept[place + 1]] if place + 1 < len(kept) else None
        if line.kind is Kind.STAMP and line.stamp:
            group = line.stamp.is_dated
            second = (
                before
                and before.stamp
                and (before.kind in HEADS or (before.stamp.is_dated == group and _starts(before, found, kept, place)))
            )
            first = before and before.kind in HEADS and after and after.kind is Kind.STAMP
            only = clocks_answer and not group and line.stamp.clock
            quoted = before and before.kind is Kind.QUOTED
            if only or quoted or (first if below[group] else second):
                found[i] = _as_words(line)
        elif line.kind is Kind.DAY and line.stamp:
            if _is_answer(line.stamp, before, after, below[False]) or (at and not is_likely_day(line.stamp, at)):
                found[i] = _as_words(line)
        elif line.kind is Kind.NAME and not line.stamp and before and before.kind is Kind.WORDS:
            signs = speaker and known_as(line.name).startswith(speaker) and (after is None or after.kind in HEADS)
            found[i] = _as_words(line) if signs else line
        if found[i].kind in HEADS:
            speaker = known_as(found[i].name).split()[0]
    return found


def _is_answer(day: Stamp, before: Line | None, after: Line | None, below: bool) -> bool:
    """True for a day that stands where words do: right below a name, above a time that words have below them, above
    other words or at the end. "Saturday" alone below other words is no day of messages, either."""
    if after is None or after.kind in (Kind.WORDS, Kind.PHOTO, Kind.QUOTED):
        return True
    if below and after.stamp and after.kind is Kind.STAMP and not after.stamp.is_dated:
        return True
    if before is None:
        return False
    weekday_alone = day.weekday is not None and not day.day and not day.month_day
    if before.kind is Kind.WORDS:
        return weekday_alone
    return before.kind in (Kind.QUOTED, *HEADS) or (before.kind is Kind.STAMP and not below)


def _is_clock(line: Line) -> bool:
    return bool(line.kind is Kind.STAMP and line.stamp and line.stamp.clock and not line.stamp.is_dated)


def _is_alone(lines: Sequence[Line], kept: Sequence[int], place: int) -> bool:
    """True for a line right below who wrote it, with nothing of hers after it, and for one that is quoted."""
    before = lines[kept[place - 1]].kind if place else None
    after = lines[kept[place + 1]].kind if place + 1 < len(kept) else None
    return before is Kind.QUOTED or (before in HEADS and after in (None, Kind.FURNITURE, *HEADS))


def _starts(stamp: Line, lines: Sequence[Line], kept: Sequence[int], place: int) -> bool:
    """True where the time before `place` follows a name, so that what comes after it are words."""
    return place > 1 and lines[kept[place - 2]].kind in HEADS and stamp.kind is Kind.STAMP


def is_below(lines: Sequence[Line]) -> dict[bool, bool]:
    """For clocks alone and for times with a day (True): do they stand below their messages? Told by what begins and
    ends the paste and by names right above times."""
    kept = [line for line in lines if line.kind not in (Kind.BLANK, Kind.FURNITURE)]
    votes = {False: 0, True: 0}
    for i, line in enumerate(kept):
        if line.kind is Kind.STAMP and line.stamp:
            above = i == 0 or kept[i - 1].kind in HEADS or kept[i - 1].kind is Kind.DAY
            votes[line.stamp.is_dated] += (i + 1 == len(kept)) - above
    ago = any(line.stamp and line.stamp.ago is not None for line in kept)
    plain = not any(line.kind is Kind.STAMP and line.stamp and line.stamp.is_dated for line in kept)
    return {False: votes[False] > 0 or (votes[False] == 0 and (ago or plain)), True: votes[True] > 0}
