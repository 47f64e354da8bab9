"""What is lacking, in a baker's words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from intake.kitchen.bounds import Overload, overloads
from intake.kitchen.hours import TICK, Free, Timeline, runs, span, stretches
from intake.kitchen.tasks import NEVER, Row, open_for

_NOON, _EVENING = time(12), time(17)


def shortage(rows: Sequence[Row], line: Timeline) -> str:
    """Why `rows`, proven not to go together, don't."""
    for row in rows:
        if not row.fits_alone:
            return _too_slow(row, line)
    free = open_for(rows, line)
    found = list(overloads(rows, free))
    if found:
        return _too_much(max(found, key=lambda o: (len(o.shares), o.work)), line, free)
    last = moment(max(row.job.due for row in rows), line.zone)
    if len(rows) == 1:
        return f"drying time: the work and the waits can't be laid one after another before {last}"
    return f"drying time: each fits alone, but their work and waits don't go side by side before {last}"


def moment(at: datetime, zone: ZoneInfo) -> str:
    """Such as "Saturday 14 March 17:00"."""
    at = at.astimezone(zone)
    return f"{at:%A} {at.day} {at:%B} {at:%H:%M}"


def day_words(day: date) -> str:
    """Such as "Saturday 14 March"."""
    return f"{day:%A} {day.day} {day:%B}"


def hours(count: int) -> str:
    """Minutes as "45 min", "9 h" or "6 h 30"."""
    whole, rest = divmod(count, 60)
    if not whole:
        return f"{rest} min"
    return f"{whole} h {rest:02}" if rest else f"{whole} h"


def _too_slow(row: Row, line: Timeline) -> str:
    due = moment(row.job.due, line.zone)
    before = line.open & span(0, row.due)
    for task in row.tasks:
        if before and not runs(before, task.length):
            whole = hours(task.length * TICK)
            return f'your hours: "{task.step.label}" takes {whole} in one go, longer than you have at once before {due}'
    work = sum(task.hands for task in row.tasks)
    room = before.bit_count()
    if work > room:
        return _too_much(Overload(0, row.due, work, room, False, {}), line, line.free)
    ready = row.tasks[-1].earliest
    if ready == NEVER:
        return f"drying time: the work and the waits of this order reach past your last hours before {due}"
    done = moment(line.at(ready + row.tasks[-1].length), line.zone)
    for load in row.tasks:
        cut = max((row.tasks[i].earliest + row.tasks[i].length + wait for i, wait in load.after), default=0)
        if load.oven and cut <= load.latest < load.earliest:
            return f"freshness: baked no sooner than your house rules allow, it is packed {done}, and it is due {due}"
    return f"drying time: with its waits this order is packed {done} at the soonest, and it is due {due}"


def _too_much(over: Overload, line: Timeline, free: Free) -> str:
    what = "the oven" if over.oven else "your hands"
    kind = "baking" if over.oven else "work"
    have = f"{hours(over.free * TICK)} free" if over.free else "none free"
    when = _when(line, (free.oven if over.oven else free.hands) & span(over.start, over.end))
    return f"{what}{when}: {hours(over.work * TICK)} of {kind}, {have} before {moment(line.at(over.end), line.zone)}"


def _when(line: Timeline, free: int) -> str:
    days: dict[str, set[str]] = {}
    for start, end in stretches(free):
        begins, ends = line.at(start), line.at(end)
        part = " morning" if ends.time() <= _NOON else " evening" if begins.time() >= _EVENING else ""
        days.setdefault(f"{begins:%A}", set()).add(part)
    if not days:
        return ""
    begins, ends = (line.at(next(stretches(free))[0]), line.at(free.bit_length() - 1))
    if (ends.date() - begins.date()).days > 3:
        return f" from {begins:%A} {begins.day} {begins:%B} to {ends:%A} {ends.day} {ends:%B}"
    parts = set().union(*days.values())
    names = list(days)
    listed = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    return f" on {listed}{parts.pop() if len(parts) == 1 else ''}"
