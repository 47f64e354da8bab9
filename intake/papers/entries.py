"""What belongs into the baker's calendar: hand-overs, days to post a parcel, and sessions at the bench.

An entry is known by its `key`, which stays the same while its content changes: one for each order's hand-over and
parcel, one for each part of a day at the bench. How often it has changed is its sequence.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date, datetime, time, timedelta

from intake.house import House
from intake.kitchen.jobs import hand_over, job_of
from intake.model import Job, Order, Work

_PAUSE = timedelta(hours=2)
_HAND_OVER = timedelta(minutes=30)
# Six in the evening of the day before: an entry of a whole day begins at midnight.
_EVE = 6 * 60
_CALLED = {"pickup": "Pick-up", "deliver": "Deliver", "ship": "Arrives"}


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry. `start` and `end` are both moments, or both days of which `end` is the first after it.

    `alarm` is minutes before the start, 0 for none.
    """

    key: str
    start: datetime | date
    end: datetime | date
    summary: str
    description: str = ""
    location: str = ""
    alarm: int = 0

    @property
    def content(self) -> str:
        """All of it as text, the same for the same entry."""
        plain = {field.name: getattr(self, field.name) for field in fields(self)}
        return json.dumps(plain | {"start": self.start.isoformat(), "end": self.end.isoformat()}, ensure_ascii=False)

    @classmethod
    def of(cls, content: str) -> Entry:
        """The entry that `content` was made of. Raises ValueError where it is none."""
        plain = json.loads(content)
        try:
            for name in ("start", "end"):
                plain[name] = _moment(plain[name])
            return cls(**plain)
        except (KeyError, TypeError) as error:
            raise ValueError(f"not an entry of the calendar: {error}") from None


@dataclass(frozen=True, slots=True)
class Dated:
    """An entry as it is written: its uid, how often it has changed, when it last did, whether it is called off."""

    uid: str
    entry: Entry
    sequence: int
    stamp: datetime
    gone: bool = False


def _moment(text: str) -> datetime | date:
    return datetime.fromisoformat(text) if "T" in text else date.fromisoformat(text)


def entries(orders: Sequence[Order], works: Sequence[Work], house: House) -> tuple[Entry, ...]:
    """The entries of booked orders and of the sessions at the bench in which their `works` are done, by their start."""
    found: list[Entry] = []
    for order in orders:
        job = job_of(order, house, newest=False)
        if isinstance(job, Job):
            found += _of_order(order, job, house)
    names = {order.id: order.who for order in orders}
    found += _at_the_bench(works, names, house)
    return tuple(sorted(found, key=lambda entry: (_sort(entry.start, house), entry.key)))


def _sort(start: datetime | date, house: House) -> datetime:
    return start if isinstance(start, datetime) else datetime.combine(start, time(0), house.zone)


def _of_order(order: Order, job: Job, house: House) -> Iterator[Entry]:
    who, what = order.who, order.what
    due = order.draft.due.value
    said = due.time if due and job.handover != "ship" else None
    at = hand_over(job, house)
    summary = f"{_CALLED.get(job.handover, 'Hand over')}: {who}, {what}"
    location = order.draft.address.value or "" if job.handover == "deliver" else ""
    if said and due:
        start = datetime.combine(due.last, said, house.zone)
        end: datetime | date = start + _HAND_OVER
        yield Entry(
            f"order-{order.id}-hand-over", start, end, summary, _about(order), location, house.papers.alarm_minutes
        )
    else:
        day = due.last if due and job.handover != "ship" else at.date()
        end = day + timedelta(days=1)
        yield Entry(f"order-{order.id}-hand-over", day, end, summary, _about(order), location, _EVE)
    if job.handover == "ship":
        day = job.due.astimezone(house.zone).date()
        note = f"{_about(order)}\nAn arrival day is the carrier's estimate, never a promise."
        summary = f"Post the parcel: {who}, {what}"
        yield Entry(f"order-{order.id}-post", day, day + timedelta(days=1), summary, note, "", _EVE)


def _at_the_bench(works: Sequence[Work], names: Mapping[int, str], house: House) -> Iterator[Entry]:
    taken: set[str] = set()
    for group in _together(works):
        start, end = group[0].start, max(work.end for work in group)
        part = "morning" if start.hour < 12 else "afternoon" if start.hour < 17 else "evening"
        key, number = f"bench-{start.date().isoformat()}-{part}", 1
        while key in taken:
            number += 1
            key = f"bench-{start.date().isoformat()}-{part}-{number}"
        taken.add(key)
        steps = list(dict.fromkeys(work.step for work in group))
        lines = (
            f"{work.start:%H:%M}-{work.end:%H:%M} {work.label}: {names.get(work.order_id, f'order {work.order_id}')}"
            for work in group
        )
        yield Entry(
            key, start, end, f"At the bench: {', '.join(steps)}", "\n".join(lines), alarm=house.papers.alarm_minutes
        )


def _together(works: Iterable[Work]) -> Iterator[list[Work]]:
    """Stretches of work that follow on each other on one day without a long pause."""
    group: list[Work] = []
    until = None
    for work in sorted(works, key=lambda w: (w.start, w.end, w.order_id, w.label)):
        if group and until and (work.start - until > _PAUSE or work.start.date() != group[0].start.date()):
            yield group
            group, until = [], None
        group.append(work)
        until = work.end if until is None else max(until, work.end)
    if group:
        yield group


def _about(order: Order) -> str:
    draft = order.draft
    told = [f"Order {order.id}: {order.what}"]
    told += [f"Lettering: {', '.join(draft.lettering.value)}"] if draft.lettering.value else []
    told += [f"Packaging: {', '.join(draft.packaging.value)}"] if draft.packaging.value else []
    told += [f"Telephone: {draft.phone.value}"] if draft.phone.value else []
    return "\n".join(told)


def dated(
    wanted: Sequence[Entry], held: Sequence[Dated], *, name: str, now: datetime, house: House
) -> tuple[Dated, ...]:
    """`wanted` as they are to be written, beside what the calendar `held` of the book called `name`.

    The same content keeps its sequence and its stamp; another has the next. What is wanted no more is called off, but
    for what is over: that has happened.
    """
    known = {each.uid: each for each in held}
    found = []
    for entry in wanted:
        uid = f"{entry.key}-{name}@ordertin"
        before = known.pop(uid, None)
        if before is None:
            found.append(Dated(uid, entry, 0, now))
        # Moments of an hour that a clock passes twice equal none of another time zone's object; their text does.
        elif before.entry.content == entry.content and not before.gone:
            found.append(before)
        else:
            found.append(Dated(uid, entry, before.sequence + 1, now))
    for before in known.values():
        if _sort(before.entry.end, house) <= now:
            continue
        found.append(before if before.gone else Dated(before.uid, before.entry, before.sequence + 1, now, True))
    return tuple(found)
