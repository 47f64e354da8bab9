"""The Bench: on the left six weeks with how full each day is, on the right what to do on one of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from intake.kitchen.agenda import DONE, LATE, UNDER_WAY, Line, agenda, bar, day_line, missing, percent
from intake.kitchen.bench import Load, Sheet
from intake.model import Mark, Order
from tui import words
from tui.actions import BENCH, COUNTER, bindings
from tui.actions import on as actions_on
from tui.caps import Caps
from tui.notice import Notice
from tui.papers import PapersScreen
from tui.plain import joined, plain
from tui.top import Top

EMPTY = "Nothing to do on this day."
# The pointer goes on to the next line after a tick: a key pressed twice in this time, in seconds, was meant once.
TWICE = 0.4


@dataclass(frozen=True, slots=True)
class Seen:
    """One look at the book."""

    version: object
    today: date
    sheet: Sheet
    ticked: Mapping[date, tuple[Mark, ...]]
    orders: Mapping[int, Order]


class Days(OptionList):
    """The days; the one pointed at is shown."""

    BINDINGS: ClassVar = [("enter,right", "screen.to_lines", "To its work")]


class Lines(OptionList):
    """The lines of a day; Enter ticks the one pointed at."""

    BINDINGS: ClassVar = [("enter", "screen.done", "Done"), ("left", "screen.to_days", "To the days")]


class Bench(PapersScreen):
    place: ClassVar[str] = BENCH
    BINDINGS: ClassVar = [*bindings(BENCH), ("escape", "back", "Back")]

    def __init__(self, back: str = COUNTER) -> None:
        """`back` is the screen that Escape leads to."""
        super().__init__()
        self._back = back
        self.found: Seen | None = None
        self.day = date.min
        self._lines: tuple[Line, ...] = ()
        self._ticked = False

    def compose(self) -> ComposeResult:
        yield Top("Bench", BENCH, demo=self.ordertin.demo)
        with Horizontal(id="body"):
            yield Days(id="days")
            with Vertical(id="work"):
                yield Static(plain(""), id="day-head")
                yield Lines(id="lines")
                yield Static(plain(""), id="day-foot")
        yield Notice(id="notice")
        yield Caps((action for action in actions_on(BENCH) if action.bar == "foot"), id="foot")

    def on_mount(self) -> None:
        self.query_one("#days").focus()
        self.tell("Drawing up the days ahead.", "busy")

    def on_screen_resume(self) -> None:
        self.reload()

    @property
    def seen(self) -> object:
        return (self.found.version, self.found.today) if self.found else None

    @property
    def line(self) -> Line | None:
        """The line pointed at."""
        place = self.query_one("#lines", OptionList).highlighted
        return self._lines[place] if place is not None and place < len(self._lines) else None

    @property
    def chosen(self) -> date:
        return self.day

    @property
    def order(self) -> Order | None:
        """The order of the line pointed at."""
        return self.found.orders.get(self.line.order_id) if self.found and self.line else None

    def reload(self) -> None:
        self.ask_desk("bench", _look, self._first_seen, fresh=True)

    def _first_seen(self, found: Seen) -> None:
        first = self.found is None
        self._seen(found)
        if first:
            late = len({(late.order_id, late.task) for late in found.sheet.late})
            how = "Up and down: the days. Right arrow: the work."
            self.tell(f"{late} late, planned again from today on. {how}" if late else how)

    def _seen(self, found: Seen) -> None:
        self.found = found
        if self.day < found.today:
            self.day = found.today
        days = self.query_one("#days", OptionList)
        with self.prevent(OptionList.OptionHighlighted):
            days.set_options([Option(day_row(load, found.today)) for load in found.sheet.loads])
            days.highlighted = min((self.day - found.today).days, len(found.sheet.loads) - 1)
        self.query_one(Top).say(self.ordertin.top_words(found.today))
        self._show()

    def _show(self) -> None:
        found = self.found
        if found is None:
            return
        self._lines = agenda(found.sheet, self.day, found.ticked.get(self.day, ()))
        lines = self.query_one("#lines", OptionList)
        here = lines.highlighted or 0
        with self.prevent(OptionList.OptionHighlighted):
            lines.set_options([Option(line_row(line, found.orders)) for line in self._lines])
            to_do = [n for n, line in enumerate(self._lines) if line.state != DONE]
            near = [n for n in to_do if n >= here] or to_do or list(range(len(self._lines)))
            lines.highlighted = near[0] if near else None
        load = found.sheet.loads[(self.day - found.today).days]
        self.query_one("#day-head", Static).update(
            joined(plain(words.day(self.day, found.today), "bold"), plain(day_line(load)), by="  ")
        )
        foot = [plain(EMPTY)] if not self._lines else []
        names = {number: words.order_name(order) for number, order in found.orders.items()}
        foot += [plain(f"! {said}", "bold") for said in missing(found.sheet, names)]
        self.query_one("#day-foot", Static).update(joined(*foot, by="\n"))
        self._show_caps()

    def _show_caps(self) -> None:
        line = self.line
        off = set() if line else {"to_counter"}
        off |= set() if line and line.task else {"done", "begin"}
        due = self.query_one("#lines").has_focus and line and line.task and line.state != DONE
        self.query_one(Caps).show("done" if due else "", frozenset(off))

    @on(OptionList.OptionHighlighted, "#days")
    def _day_pointed_at(self, event: OptionList.OptionHighlighted) -> None:
        if self.found:
            self.day = self.found.sheet.loads[event.option_index].day
            self._show()

    @on(OptionList.OptionHighlighted, "#lines")
    def _line_pointed_at(self) -> None:
        self._show_caps()

    def on_descendant_focus(self) -> None:
        self._show_caps()

    def action_to_lines(self) -> None:
        self.query_one("#lines").focus()

    def action_to_days(self) -> None:
        self.query_one("#days").focus()

    def act(self, name: str, call: Any, said: str) -> None:
        """Have the desk change the book, look at it again, then say what was done."""

        def work(desk: Any) -> Any:
            return call(desk), _look(desk)

        def then(both: Any) -> None:
            self._seen(both[1])
            self.tell(said)
            self.set_timer(TWICE, self._tick_again)

        def failed() -> None:
            self._tick_again()
            self.reload()

        self.ask_desk(name, work, then, failed=failed)

    def _tick_again(self) -> None:
        self._ticked = False

    def _tickable(self) -> Line | None:
        line = self.line
        if line is None or not line.task:
            self.tell("Point at a line of work first: right arrow, then up and down.")
            return None
        return line

    def action_done(self) -> None:
        line = self._tickable()
        if line is None or self._ticked:
            return
        self._ticked = True
        if line.state == DONE:
            call = lambda desk: desk.kitchen.untick(desk.order(line.order_id), line.task)  # noqa: E731
            self.act("tick", call, f"{line.what}: to do again. F10 takes it back.")
        else:
            call = lambda desk: desk.kitchen.tick(desk.order(line.order_id), line.task, line.parts[1])  # noqa: E731
            self.act("tick", call, f"{line.what}: done. F10 takes it back.")

    def action_begin(self) -> None:
        line = self._tickable()
        if line is None:
            return
        if line.state in (DONE, UNDER_WAY):
            self.tell(f"It is {line.state} already.")
            return
        call = lambda desk: desk.kitchen.begin(desk.order(line.order_id), line.task, line.parts[0])  # noqa: E731
        self.act("begin", call, f"{line.what}: under way. F4 when it is done.")

    def action_month(self) -> None:
        if self.found:
            from tui.page import Page

            self.app.push_screen(Page(months(self.found.sheet, self.found.today)))

    def action_day_off(self) -> None:
        day, said = self.day, words.day(self.day)

        def switch(desk: Any) -> None:
            if any(rule.day == day for rule in desk.kitchen.days()):
                desk.kitchen.usual_hours(day)
            else:
                desk.kitchen.day_off(day)

        self.act("day off", switch, f"{said}: changed. F7 again for the usual hours, F10 takes it back.")

    def action_more_hours(self) -> None:
        from tui.hours_sheet import HoursSheet

        day, said = self.day, words.day(self.day)

        def given(hours: str | None) -> None:
            if hours:
                call = lambda desk: desk.kitchen.more_hours(day, hours)  # noqa: E731
                self.act("hours", call, f"{said}: {hours} more. F7 takes them off again.")

        self.app.push_screen(HoursSheet(f"Hours more on {said}"), given)

    def action_to_counter(self) -> None:
        if self.order:
            self.ordertin.open_at_counter(self.order.thread_id)

    def action_undo(self) -> None:
        def work(desk: Any) -> Any:
            return desk.undo(), _look(desk)

        def then(both: Any) -> None:
            self._seen(both[1])
            self.tell(f"Taken back: {both[0]}." if both[0] else "There is nothing to take back.")
            self.ordertin.counter.taken_back(both[0] or "")

        self.ask_desk("undo", work, then)

    async def action_go_counter(self) -> None:
        await self.app.run_action("app.go('counter')")

    async def action_back(self) -> None:
        await self.app.run_action(f"app.go('{self._back}')")


def _look(desk: Any) -> Seen:
    sheet = desk.kitchen.bench()
    today = desk.now().date()
    ticked = {today: desk.kitchen.ticked_on(today)}
    return Seen(desk.version(), today, sheet, ticked, {order.id: order for order in desk.rack()})


def day_row(load: Load, today: date) -> Content:
    """`Thu 26 Nov ███████░░░  70% →1`: an arrow and how many orders leave."""
    full = " off" if load.off else f"{percent(load):>3}%"
    leaves = f" →{load.hand_overs}" if load.hand_overs else ""
    first = "bold" if load.day == today or load.day.weekday() == 0 else ""
    return joined(plain(f"{words.day(load.day):<11}", first), plain(bar(load, 8)), plain(f" {full}{leaves}"))


def line_row(line: Line, orders: Mapping[int, Order]) -> Content:
    """`○ 18:00-18:20 mix dough`, and below it whose."""
    who = words.order_name(orders[line.order_id]) if line.order_id in orders else f"order {line.order_id}"
    state = "" if line.state in ("to do", "leaves") else f" ({line.state})"
    return joined(
        plain(f"{line.sign} {line.clock:<12}", "bold" if line.state == LATE else ""),
        plain(line.what, "bold"),
        plain(state),
        plain(f"\n{'':14}{who}{', ' if line.note else ''}{line.note}"),
    )


def months(sheet: Sheet, today: date) -> Content:
    """Six weeks as a calendar, a week a row: each day's date, bar and how full it is."""
    rows = [plain("How full the next six weeks are", "bold underline"), plain(" ")]
    rows.append(plain("    " + "".join(f"{name:<9}" for name in words.DAYS), "bold"))
    cells: dict[date, Load] = {load.day: load for load in sheet.loads}
    monday = date.fromordinal(today.toordinal() - today.weekday())
    while monday <= max(cells):
        week = [date.fromordinal(monday.toordinal() + n) for n in range(7)]
        head = "".join(f"{_date(day, cells.get(day)):<9}" for day in week)
        full = "".join(_cell(cells.get(day)) for day in week)
        rows += [plain(f"{words.MONTHS[monday.month - 1]:<4}{head}", "bold"), plain(f"    {full}"), plain(" ")]
        monday = date.fromordinal(monday.toordinal() + 7)
    rows.append(plain("█ hours taken   ░ hours free   · a day off   → orders that leave"))
    return joined(*rows, by="\n")


def _date(day: date, load: Load | None) -> str:
    return f"{day.day:>2}{f' →{load.hand_overs}' if load and load.hand_overs else ''}"


def _cell(load: Load | None) -> str:
    if load is None:
        return " " * 9
    return f"{bar(load, 3)} {'off' if load.off else f'{percent(load)}%':<5}"
