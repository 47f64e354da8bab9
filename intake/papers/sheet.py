"""The sheet of one day at the bench: the work by the clock, what to weigh, what leaves, each with a box to tick."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from intake.house import House
from intake.kitchen.jobs import job_of
from intake.kitchen.pooling import Session
from intake.model import Job, Order, Work
from intake.papers.paper import LARGE, SMALL, TITLE, Paper
from intake.papers.session_lines import (
    cutter_lines,
    dough_head,
    icing_head,
    icing_lines,
    left_line,
    mixing,
    packaging_lines,
    tray_lines,
)

NO_WORK = "Nothing at the bench on this day."


@dataclass(frozen=True, slots=True)
class Day:
    """What is known of a day: the work planned, its session, the orders that leave, and what the plan can't keep."""

    day: date
    works: tuple[Work, ...]
    session: Session | None
    leaving: tuple[Order, ...]
    orders: tuple[Order, ...]
    note: str = ""


def day_of(
    day: date, orders: Sequence[Order], planned: Sequence[Work], made: Sequence[Session], house: House, note: str = ""
) -> Day:
    """What `day` holds: of `orders` (all that are booked), of the work `planned` for them, and of the sessions."""
    works = tuple(work for work in planned if work.start.astimezone(house.zone).date() == day)
    session = next((each for each in made if each.day == day), None)
    leaving = tuple(order for order in orders if day in _days_of(order, house))
    busy = {work.order_id for work in works}
    return Day(day, works, session, leaving, tuple(o for o in orders if o.id in busy), note)


def _days_of(order: Order, house: House) -> set[date]:
    """The days on which an order leaves: handed over, or posted."""
    due, job = order.draft.due.value, job_of(order, house, newest=False)
    if not due or not isinstance(job, Job):
        return set()
    return {job.due.astimezone(house.zone).date()} if job.handover == "ship" else {due.last}


def day_sheet(of: Day, house: House, *, made: datetime) -> bytes:
    """The sheet as PDF."""
    title = f"{of.day:%A}, {of.day:%B} {of.day.day}"
    with Paper(house.papers.page, title=f"{title}: at the bench", made=made, foot=f"{title}, {of.day.year}") as paper:
        paper.heading(title, TITLE)
        if of.note:
            paper.words(of.note, SMALL)
        if not (of.works or of.session or of.leaving):
            paper.words(NO_WORK)
        _work(paper, of, house)
        if of.session:
            _session(paper, of.session, house)
        _orders(paper, of.orders)
        _leaving(paper, of.leaving)
        return paper.pdf()


def _leaving(paper: Paper, orders: Sequence[Order]) -> None:
    if orders:
        paper.heading("Leaves today")
    for order in orders:
        due = order.draft.due.value
        clock = f"{due.time:%H:%M}" if due and due.time and order.draft.handover.value != "ship" else ""
        paper.tick(f"{order.who}, {order.what}, {order.draft.handover.value or 'pickup'}", before=clock)


def _work(paper: Paper, of: Day, house: House) -> None:
    if not of.works:
        return
    names = {order.id: order.who for order in of.orders}
    paper.heading("By the clock")
    for work in of.works:
        start, end = (at.astimezone(house.zone) for at in (work.start, work.end))
        who = names.get(work.order_id, f"order {work.order_id}")
        paper.tick(f"{work.label}: {who}", before=f"{start:%H:%M}-{end:%H:%M}")


def _session(paper: Paper, session: Session, house: House) -> None:
    if session.doughs:
        paper.heading("Dough")
        for place, pool in enumerate(session.doughs):
            if place:
                paper.space()
            paper.words(dough_head(pool), bold=True, together=2)
            for what, weight in mixing(pool):
                paper.tick(what, after=weight)
            if left := left_line(pool):
                paper.words(left, SMALL)
    if session.icings:
        paper.heading("Icing")
        paper.words(icing_head(session), bold=True, together=2)
        for what, weight in mixing(session):
            paper.tick(what, after=weight)
        for what, weight in icing_lines(session):
            paper.tick(what, after=weight)
    if session.to_tint:
        paper.heading("Mix today for tomorrow")
        for color in session.to_tint:
            paper.tick(f"{color} icing: the color deepens overnight; keep it covered")
    if session.cutters or session.trays:
        paper.heading("Cut and bake")
        for line in cutter_lines(session):
            paper.tick(line)
        for line in tray_lines(session, house):
            paper.words(line)
    if session.packaging:
        paper.heading("Pack")
        for line in packaging_lines(session):
            paper.tick(line)
    for problem in session.problems:
        paper.words(f"Look at this: {problem}", SMALL)


def _orders(paper: Paper, orders: Sequence[Order]) -> None:
    if not orders:
        return
    paper.heading("The orders", LARGE)
    for place, order in enumerate(orders):
        if place:
            paper.space()
        draft = order.draft
        paper.words(f"{order.who}: {order.what}", bold=True, together=2)
        told = [
            ("designs", [f"{d.count or ''} {d.what}".strip() for d in draft.designs.value or ()]),
            ("colors", draft.colors.value or ()),
            ("lettering", draft.lettering.value or ()),
            ("flavor", draft.flavors.value or ()),
        ]
        for label, values in told:
            if values:
                paper.words(f"{label}: {', '.join(values)}")
        if draft.dietary.value:
            paper.words(f"DIET: {', '.join(draft.dietary.value)}", bold=True)
        if draft.dietary.why and not draft.dietary.value:
            paper.words(f"An allergy or a diet may be meant: {draft.dietary.why}")
        if order.note:
            paper.words(order.note, SMALL)
