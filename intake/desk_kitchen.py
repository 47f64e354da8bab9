"""The kitchen at the desk: room for an order, ways out of a clash, the Bench, what is ticked off, days and hours."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from intake.book.journal import Change
from intake.book.kitchen_rows import DayRule, KitchenRows
from intake.book.shelf import Shelf
from intake.book.store import Book
from intake.desk_checks import named, refused
from intake.house import House
from intake.house_kitchen import span
from intake.measures import INCH
from intake.model import STEPS, Clash, Job, Mark, Order, OrdertinError, Problem, State, Verdict, Way

if TYPE_CHECKING:
    from intake.kitchen.bench import Sheet

# Where nothing is said of the colors of cookies that are only asked about.
_COLORS = 4


class Kitchen:
    """The kitchen of one book. Any method raises OrdertinError where the book can't be read or written."""

    def __init__(self, book: Book, shelf: Shelf, house: House, now: Callable[[], datetime]) -> None:
        self._book, self._shelf, self._rules, self._now = book, shelf, house, now
        self._rows = KitchenRows(book)

    # Days and hours

    @property
    def house(self) -> House:
        """The house rules with the days off and the hours added that the book holds."""
        rules = self._rows.days(self._now().date() - timedelta(days=1))
        off = [rule.day for rule in rules if rule.kind == "off"]
        hours = self._rules.hours.model_copy(update={"blocked": (*self._rules.hours.blocked, *off)})
        extra = {rule.day: tuple(span(part) for part in rule.hours.split()) for rule in rules if rule.kind == "extra"}
        kept = self._rules.kitchen
        kitchen = kept.model_copy(update={
            "extra_hours": {**kept.extra_hours, **{d: (*kept.extra_hours.get(d, ()), *s) for d, s in extra.items()}}
        })  # fmt: skip
        return self._rules.model_copy(update={"hours": hours, "kitchen": kitchen})

    def days(self) -> tuple[DayRule, ...]:
        """The coming days that are otherwise than their week, by the book."""
        return self._rows.days(self._now().date())

    def day_off(self, first: date, last: date | None = None) -> None:
        """Takes days off. Raises OrdertinError for days that are past, or a span of more than a year."""
        last = last or first
        if last < first or (last - first).days > 366:
            raise OrdertinError(f"{first} to {last} is no span of days", todo="Name the first and the last day off")
        self._coming(first)
        days = [first + timedelta(days=n) for n in range((last - first).days + 1)]
        what = f"{first:%a} {first.day} {first:%b} off" if first == last else f"{first} to {last} off"
        self._set_days(what, [DayRule(day, "off") for day in days])

    def more_hours(self, day: date, hours: str) -> None:
        """Adds hours such as "08:00-12:00" on one day. Raises OrdertinError where they can't be."""
        self._coming(day)
        try:
            spans = [span(part) for part in hours.replace(",", " ").split()]
        except ValueError as error:
            raise OrdertinError(f"“{hours:.40}” must be {error}", todo="Type them like 08:00-12:00") from None
        if not spans:
            raise OrdertinError("no hours were given", todo="Type them like 08:00-12:00")
        for start, end in spans:
            minutes = range(start.hour * 60 + start.minute, end.hour * 60 + end.minute, 5)
            if any(self._rules.kitchen.asleep(time(*divmod(minute, 60))) for minute in minutes):
                raise OrdertinError(
                    f"{start:%H:%M}-{end:%H:%M} is when you sleep", todo="Choose others, or change `sleep` in the rules"
                )
        text = " ".join(f"{start:%H:%M}-{end:%H:%M}" for start, end in sorted(spans))
        self._set_days(f"hours on {day:%a} {day.day} {day:%b}", [DayRule(day, "extra", text)])

    def usual_hours(self, day: date, last: date | None = None) -> None:
        """Forgets what was set for a day, or for days up to `last`. Raises OrdertinError where nothing was."""
        last = last or day
        held = [rule.day for rule in self._rows.days(day) if rule.day <= last]
        if not held:
            raise OrdertinError(f"nothing was set for {day}", todo="ordertin hours lists the days that were")
        what = f"{day:%a} {day.day} {day:%b} as usual" if day == last else f"{day} to {last} as usual"
        self._set_days(what, [DayRule(each, "") for each in held])

    def _coming(self, day: date) -> None:
        if day < self._now().date():
            raise OrdertinError(f"{day} is past", todo="Name a day that is still to come")

    def _set_days(self, what: str, rules: Sequence[DayRule]) -> None:
        with self._book.change(what, self._now()) as change:
            self._rows.keep_days(change, rules)
            self.replan(change)

    # Room

    def jobs(self, orders: Sequence[Order], house: House, newest: int = 0) -> tuple[list[Job], list[Problem]]:
        """Orders as jobs, and what is wrong with those that can't be."""
        from intake.kitchen.jobs import job_of

        marks = self._rows.marks()
        made = [job_of(o, house, newest=o.id == newest, marks=marks.get(o.id, ())) for o in orders]
        return [j for j in made if isinstance(j, Job)], [j for j in made if isinstance(j, Problem)]

    def room(self, newest: Order, rack: Sequence[Order]) -> Verdict:
        """Whether the booked orders still ahead and `newest` can all be made."""
        from intake.kitchen.plan import decide

        house = self.house
        return decide(self._beside(newest, rack, house), house, now=self._now(), standing=self._rows.standing())

    def ways(self, newest: Order, rack: Sequence[Order], clash: Clash) -> tuple[Way, ...]:
        """Ways out of a clash that `room` has found for `newest`."""
        from intake.kitchen.ways import ways_out

        house = self.house
        return ways_out(clash, self._beside(newest, rack, house), house, now=self._now())

    def _beside(self, newest: Order, rack: Sequence[Order], house: House) -> list[Job]:
        (mine, wrong), now = self.jobs([newest], house, newest.id), self._now()
        if wrong:
            raise refused(newest, wrong[0].what, wrong[0].todo)
        others, _ = self.jobs([o for o in rack if o.id != newest.id], house)
        # What should have left already is no longer weighed against the new order.
        return [*(job for job in others if job.due > now), *mine]

    def when(
        self, count: int, level: str, *, colors: int = 0, lettered: int = 0, handover: str = "pickup",
        inches: Decimal | None = None,
    ) -> tuple[date | None, int]:  # fmt: skip
        """The first day on which such cookies could be handed over beside all that is booked (None where no day of the
        next sixty does), and the minutes of hands that they take."""
        from intake.kitchen.plan import earliest_day
        from intake.kitchen.steps import steps_of

        now, house = self._now(), self.house
        job = Job(
            0, "such an order", count, datetime.combine(now.date(), house.hours.handover_time, house.zone), level,
            colors or _COLORS, lettered=lettered, handover=handover,
            sizes=((float(inches) * float(INCH), count),) if inches else (),
        )  # fmt: skip
        hands = sum(sum(s.parts) if s.hands is None else s.hands * len(s.parts) for s in steps_of(job, house))
        others, _ = self.jobs(self._shelf.in_state(State.BOOKED), house)
        return earliest_day(job, [o for o in others if o.due > now], house, now=now), hands

    def shipping_caution(self) -> str:
        """What to bear in mind of a parcel."""
        from intake.replies.cautions import parcel_cautions

        return " ".join(parcel_cautions(self._rules))

    # The Bench

    def bench(self) -> Sheet:
        """The plan of all booked orders, which leaves work where it was planned as far as it can."""
        from intake.kitchen.bench import sheet_of

        house = self.house
        jobs, _ = self.jobs(self._shelf.in_state(State.BOOKED), house)
        return sheet_of(jobs, house, now=self._now(), standing=self._rows.standing())

    def follow(self, change: Change, before: Order, after: Order) -> None:
        """Plans all work anew where a change of an order changes what the kitchen has to do."""
        was, now = ([order] if order.state is State.BOOKED else [] for order in (before, after))
        if (was or now) and self.jobs(was, self._rules) != self.jobs(now, self._rules):
            self.replan(change)

    def replan(self, change: Change) -> None:
        """Keeps where the work of all booked orders is planned now."""
        from intake.kitchen.bench import planned_on, sheet_of
        from intake.kitchen.timetable import standing_of
        from intake.model import Plan

        house, standing, now = self.house, self._rows.standing(), self._now()
        booked = self._shelf.in_state(State.BOOKED)
        jobs, _ = self.jobs(booked, house)
        sheet = sheet_of(jobs, house, now=now, standing=standing, seconds=1.0)
        self._rows.forget_plans(change, but={order.id for order in booked})
        self._rows.keep_standing(change, planned_on(standing, standing_of(Plan(sheet.works, {})), now))

    def tick(self, order: Order, task: str, parts: int) -> str:
        """Ticks the first `parts` stretches of a step of a booked order off; gives the stage that it now stands at."""
        return self._mark(order, Mark(order.id, task, parts, self._now()), f"{task} done")

    def begin(self, order: Order, task: str, parts: int) -> str:
        """Sets the next stretch of a step under way, `parts` of it being done; gives the order's stage."""
        held = next((m for m in self._rows.marks().get(order.id, ()) if m.step == task), None)
        mark = Mark(order.id, task, parts, held.at if held else None, self._now())
        return self._mark(order, mark, f"{task} begun")

    def untick(self, order: Order, task: str) -> str:
        """Takes the ticks of a step off again; gives the order's stage."""
        return self._mark(order, Mark(order.id, task, 0), f"{task} to do again")

    def _mark(self, order: Order, mark: Mark, what: str) -> str:
        stages = self._stages(order)
        if mark.step not in stages:
            raise refused(order, f"it has no step “{mark.step:.40}”", f"Its steps are {', '.join(stages)}")
        with self._book.change(f"{what}, {named(order)}", self._now()) as change:
            order = self._shelf.order(order.id)
            if order.state is not State.BOOKED:
                raise refused(order, f"it is {order.state}", "Only booked orders are made")
            self._rows.keep_mark(change, mark)
            back = not mark.parts and mark.begun is None
            at = order.step if order.step in STEPS else STEPS[0]
            at = min(at, stages[mark.step], key=STEPS.index) if back else at
            order = replace(order, step=self._stage(replace(order, step=at)))
            self._shelf.keep_order(change, order)
            self.replan(change)
        return order.step

    def _stages(self, order: Order) -> dict[str, str]:
        """The steps of an order and the stage that each belongs to."""
        from intake.kitchen.jobs import job_of
        from intake.kitchen.steps import steps_of

        job = job_of(replace(order, step=""), self._rules, newest=False)
        return {} if isinstance(job, Problem) else {step.label: step.name for step in steps_of(job, self._rules)}

    def _stage(self, order: Order) -> str:
        """The stage of the first step that is still to do."""
        from intake.kitchen.steps import steps_of

        jobs, _ = self.jobs([order], self._rules)
        left = steps_of(jobs[0], self._rules) if jobs else ()
        return left[0].name if left else STEPS[-1]

    def moved_back(self, change: Change, order: Order, step: str) -> None:
        """Takes off what was ticked of the stage `step` and those after it, where `order` goes back to it."""
        if order.step not in STEPS or step not in STEPS or STEPS.index(step) >= STEPS.index(order.step):
            return
        stages = self._stages(order)
        for mark in self._rows.marks().get(order.id, ()):
            if STEPS.index(stages.get(mark.step, STEPS[0])) >= STEPS.index(step):
                self._rows.keep_mark(change, Mark(order.id, mark.step, 0))

    def planned_by(self, until: datetime) -> tuple[tuple[datetime, int, str, int], ...]:
        """What was planned to be over by `until` and is not ticked off: when it was, the order, the step, how many of
        its stretches; in order of time."""
        booked = {order.id for order in self._shelf.in_state(State.BOOKED)}
        done = {(m.order_id, m.step): m.parts for marks in self._rows.marks().values() for m in marks}
        over: dict[tuple[int, str], tuple[int, datetime]] = {}
        for (order, task, part), at in self._rows.standing().items():
            ends = at + timedelta(minutes=30)
            if order in booked and ends <= until and part >= done.get((order, task), 0):
                over[order, task] = max(over.get((order, task), (0, ends)), (part + 1, ends))
        return tuple(sorted((at, order, task, parts) for (order, task), (parts, at) in over.items()))

    def ticked_on(self, day: date) -> tuple[Mark, ...]:
        """What was ticked off on `day`, the first first."""
        found = [m for marks in self._rows.marks().values() for m in marks if m.parts and m.at and m.at.date() == day]
        return tuple(sorted(found, key=lambda m: m.at or datetime.min))
