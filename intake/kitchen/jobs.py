"""What the kitchen needs to know of an order, and the moment by which it must be packed, or sent.

| the customer said | packed by |
| --- | --- |
| a day and a clock time for the hand-over | that moment |
| a day alone | the house's hand-over time on that day |
| a window of days | as above, on its last day |
| only when the event begins | that moment |
| only the day of the event | nine in the evening of the day before |
| shipped, to arrive by a day | the house's hand-over time on the last sending day: at the post office, that is |
| shipped, for an event | as above, to arrive the day before it: parcels come at any hour |
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from datetime import date, datetime, time, timedelta

from intake.house import House
from intake.kitchen.amounts import cuts
from intake.kitchen.carrier_days import arrival_day, last_send_day
from intake.kitchen.level import lettered, level_of
from intake.model import STEPS, Due, Job, Mark, Order, Problem

# An event without a clock time may begin in the morning.
EVENING_BEFORE = time(21)


@dataclass(frozen=True, slots=True)
class Begun(Job):
    """A job that has been begun: all before the stage `step` is done, and beyond that what is marked."""

    step: str = STEPS[0]
    marks: tuple[Mark, ...] = ()


def job_of(order: Order, house: House, *, newest: bool, marks: Sequence[Mark] = ()) -> Job | Problem:
    """The job of `order`, by its draft and what the baker has settled, with what is ticked off; or a Problem that names
    what is missing of `count` and `due`."""
    draft = order.draft
    name = order.who
    count, due = draft.count.value, draft.due.value
    lacking = [field for field, value in (("count", count), ("due", due)) if not value]
    if not count or not due:
        missing = " and ".join(f"`{field}`" for field in lacking)
        return Problem(name, f"it can't be planned without {missing}", "Ask the customer, or fill it in")
    shipped = draft.handover.value == "ship" or draft.due_is.value == "arrival"
    job = Job(
        order_id=order.id,
        name=name,
        count=count,
        due=_packed_by(due, draft.due_is.value or "handover", shipped, house),
        level=level_of(draft, order.terms)[0],
        designs=max(1, len(draft.designs.value or ())),
        lettered=lettered(draft, order.terms),
        handover="ship" if shipped else draft.handover.value or "pickup",
        age=0 if newest else 1,
        sizes=_sizes(order, house),
    )
    if draft.colors.value:
        job = replace(job, colors=len(draft.colors.value))
    if order.step in STEPS[1:] or marks:
        step = order.step if order.step in STEPS else STEPS[0]
        return Begun(**{f.name: getattr(job, f.name) for f in fields(job)}, step=step, marks=tuple(marks))
    return job


def _sizes(order: Order, house: House) -> tuple[tuple[float, int], ...]:
    counted: dict[float, int] = {}
    for cut in cuts(order.draft, house, order.terms.size):
        counted[cut.across] = counted.get(cut.across, 0) + cut.count
    return () if counted.keys() == {float(house.cookies.across)} else tuple(counted.items())


def _packed_by(due: Due, due_is: str, shipped: bool, house: House) -> datetime:
    eve = due.last - timedelta(days=1)
    if shipped:
        return _sent(eve if due_is == "event" else due.last, house)
    if due.time:
        return datetime.combine(due.last, due.time, house.zone)
    if due_is == "event":
        return datetime.combine(eve, EVENING_BEFORE, house.zone)
    return datetime.combine(due.last, house.hours.handover_time, house.zone)


def _sent(arrive_by: date, house: House) -> datetime:
    day = last_send_day(arrive_by, house.shipping.transit_days, house.shipping.send_on)
    return datetime.combine(day, house.hours.handover_time, house.zone)


def hand_over(job: Job, house: House) -> datetime:
    """When the customer has the cookies: at `due`, or as many business days later as a parcel is on the road."""
    due = job.due.astimezone(house.zone)
    if job.handover != "ship":
        return due
    return datetime.combine(arrival_day(due.date(), house.shipping.transit_days), due.timetz())


def moved(job: Job, day: date, house: House) -> Job:
    """`job` with its hand-over on `day`, at the same time of day; a parcel is sent to arrive by then."""
    if job.handover == "ship":
        return replace(job, due=_sent(day, house))
    return replace(job, due=datetime.combine(day, job.due.astimezone(house.zone).time(), house.zone))
