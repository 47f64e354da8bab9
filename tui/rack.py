"""The Rack: booked orders by the day they leave the kitchen, each with the step it stands at."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import groupby
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from intake.model import STEPS, Order, State
from tui import words
from tui.actions import RACK, bindings
from tui.actions import on as actions_on
from tui.caps import Caps
from tui.money import take_payment
from tui.notice import Notice
from tui.papers import PapersScreen
from tui.plain import joined, plain
from tui.slip import price
from tui.top import Top

EMPTY = "The Rack is empty. Orders that you book at the Counter (F9) hang here, by the day they leave."


class Rails(OptionList):
    """The list of orders. A click only points at one; Enter goes to its conversation."""

    BINDINGS: ClassVar = [("enter", "screen.to_counter", "Conversation")]


class Rack(PapersScreen):
    place: ClassVar[str] = RACK
    BINDINGS: ClassVar = [*bindings(RACK), ("escape", "go_counter", "Counter")]

    def __init__(self) -> None:
        super().__init__()
        self.orders: tuple[Order, ...] = ()
        self.today = date.min
        self.version: object = None
        self._rows: list[Order | None] = []

    def compose(self) -> ComposeResult:
        yield Top("Rack", RACK, demo=self.ordertin.demo)
        with Horizontal(id="body"):
            yield Rails(id="rails")
            with VerticalScroll(id="tag"):
                yield Static(plain(""), id="tag-text")
        yield Notice(id="notice")
        yield Caps((action for action in actions_on(RACK) if action.bar == "foot"), id="foot")

    def on_mount(self) -> None:
        self.query_one("#rails").focus()
        self.tell("Orders by the day they leave.")

    def on_screen_resume(self) -> None:
        self.reload()

    @property
    def seen(self) -> object:
        return self.version, self.today

    @property
    def chosen(self) -> date:
        return self.today

    @property
    def order(self) -> Order | None:
        """The order pointed at."""
        place = self.query_one("#rails", OptionList).highlighted
        return self._rows[place] if place is not None and place < len(self._rows) else None

    def reload(self) -> None:
        self.ask_desk("rack", _look, self._seen, fresh=True)

    def _seen(self, found: tuple[object, date, tuple[Order, ...]]) -> None:
        here = self.order.id if self.order else 0
        self.version, self.today, self.orders = found
        rails = self.query_one("#rails", OptionList)
        rows = rows_of(self.orders, self.today)
        self._rows = [order for order, _ in rows]
        with self.prevent(OptionList.OptionHighlighted):
            rails.set_options([rail(content, order) for order, content in rows])
            places = [place for place, order in enumerate(self._rows) if order]
            kept = next((place for place in places if self._rows[place].id == here), None)  # type: ignore[union-attr]
            rails.highlighted = kept if kept is not None else next(iter(places), None)
        self.query_one(Top).say(self.ordertin.top_words(self.today))
        self._show()

    def _show(self) -> None:
        order = self.order
        self.query_one("#tag-text", Static).update(tag(order, self.today) if order else plain(EMPTY))
        step = "" if order is None else "hand_over" if order.step == STEPS[-1] else "step_on"
        due = "to_counter" if order and order.change else step
        off = frozenset({"step_on", "hand_over", "to_counter"}) if order is None else frozenset[str]()
        self.query_one(Caps).show(due, off)

    @on(OptionList.OptionHighlighted, "#rails")
    def _highlighted(self) -> None:
        self._show()

    def action_to_counter(self) -> None:
        if self.order:
            self.ordertin.open_at_counter(self.order.thread_id)
        else:
            self.tell("The Rack is empty.")

    def act(self, name: str, call: Any, done: Any) -> None:
        """Have the desk change the book, look at the Rack again, then say what was done."""

        def work(desk: Any) -> Any:
            return call(desk), _look(desk)

        def then(both: Any) -> None:
            self._seen(both[1])
            done(both[0])

        self.ask_desk(name, work, then, failed=self.reload)

    def action_step_on(self) -> None:
        order = self.order
        if order is None:
            self.tell("The Rack is empty.")
            return
        step = next_step(order)
        if not step:
            self.tell("It is packed. F8 when the customer has it.")
            return
        who = words.order_name(order)
        self.act("step", lambda desk: desk.advance(order.id, step), lambda _: self.tell(f"{who}: {step}."))

    def action_hand_over(self) -> None:
        order = self.order
        if order is None:
            self.tell("The Rack is empty.")
            return
        who = words.order_name(order)
        self.act(
            "hand over",
            lambda desk: desk.advance(order.id, State.HANDED_OVER.value),
            lambda _: self.tell(f"{who}: handed over. F10 takes it back."),
        )

    def action_drop(self) -> None:
        if order := self.order:
            said = f"{words.order_name(order)}: dropped. F10 takes it back."
            self.ask_to_drop(
                order, lambda: self.act("drop", lambda desk: desk.drop(order.id), lambda _: self.tell(said))
            )

    def action_undo(self) -> None:
        def undone(what: str | None) -> None:
            self.tell(f"Taken back: {what}." if what else "There is nothing to take back.")
            self.ordertin.counter.taken_back(what or "")

        self.act("undo", lambda desk: desk.undo(), undone)

    def action_payment(self) -> None:
        order = self.order
        if order is None:
            self.tell("The Rack is empty.")
            return

        def said(text: str) -> None:
            def told(after: Order) -> None:
                self.tell(f"{words.order_name(after)}: {words.left_to_pay(after)}. F10 takes it back.")

            self.act("payment", lambda desk: take_payment(desk, order.id, text), told)

        self.ask_for_payment(order, "", said)

    def action_customer(self) -> None:
        from tui.customer_sheet import show

        if self.order:
            show(self, self.order.thread_id, None)
        else:
            self.tell("The Rack is empty.")

    async def action_go_counter(self) -> None:
        await self.app.run_action("app.go('counter')")


def rail(content: Content, order: Order | None) -> Option:
    """One line of the list; a heading can't be pointed at."""
    return Option(content, disabled=order is None)


def _look(desk: Any) -> tuple[object, date, tuple[Order, ...]]:
    return desk.version(), desk.now().date(), desk.rack()


def next_step(order: Order) -> str:
    """The step after the one the order stands at; empty after the last."""
    if order.step not in STEPS:
        return STEPS[0]
    place = STEPS.index(order.step) + 1
    return STEPS[place] if place < len(STEPS) else ""


def leaves(order: Order) -> date | None:
    return order.draft.due.value.first if order.draft.due.value else None


def rows_of(orders: Sequence[Order], today: date) -> list[tuple[Order | None, Content]]:
    """A heading for each day (no order), and below it a row for each order."""
    rows: list[tuple[Order | None, Content]] = []
    ordered = sorted(orders, key=lambda order: (leaves(order) or date.max, _clock(order), order.id))
    for day, group in groupby(ordered, leaves):
        held = list(group)
        cookies = sum(order.draft.count.value or 0 for order in held)
        first = heading(day, today, cookies)
        rows.append((None, joined(plain(" "), first, by="\n") if rows else first))
        rows += [(order, row(order)) for order in held]
    return rows


def _clock(order: Order) -> str:
    due = order.draft.due.value
    return due.time.isoformat() if due and due.time else "99"


def heading(day: date | None, today: date, cookies: int) -> Content:
    if day is None:
        return plain("no day", "bold")
    ahead = (day - today).days
    near = {0: "today", 1: "tomorrow"}.get(ahead, "past" if ahead < 0 else f"in {ahead} days")
    return joined(plain(words.day(day, today), "bold"), plain(f"{near}, {words.counted(cookies)}"), by="  ")


def row(order: Order) -> Content:
    """`◐ bake   Dana Whitlock`, and below it `24 unicorns, pickup 2pm`."""
    draft, due = order.draft, order.draft.due.value
    what = f"{draft.count.value or ''} {draft.theme.value or 'cookies'}".strip()
    how = f"{draft.handover.value or ''} {words.clock(due.time) if due and due.time else ''}".strip()
    begun = order.step in STEPS
    return joined(
        plain(f"{'◐' if begun else '○'} {order.step if begun else 'to do':<7}", "bold"),
        plain(order.who, "bold"),
        plain("\n          "),
        joined(plain(what), plain(how), by=", "),
        plain("\n          ▲ asks for a change" if order.change else "", "bold"),
    )


def tag(order: Order, today: date) -> Content:
    """All that is known of a booked order: its steps, its values, its price, its note."""
    begun = STEPS.index(order.step) if order.step in STEPS else -1
    signs = ("●" if place < begun else "◐" if place == begun else "○" for place in range(len(STEPS)))
    steps = " ".join(f"{sign} {step}" for sign, step in zip(signs, STEPS, strict=True))
    lines = [plain(f"Slip {order.id}, {order.state}", "bold"), plain(steps), plain(" ")]
    for field in words.ON_SLIP:
        if value := words.cell_words(field, order.draft.cell(field), today):
            lines.append(joined(plain(f"{words.LABELS[field]:<10}"), plain(value, "bold"), by=" "))
    if order.change:
        lines += [plain(" "), plain("▲ The customer asks for a change (F3 to settle it)", "bold")]
        lines += [plain(f"  {words.shift_words(shift, today)}") for shift in words.in_slip_order(order.change)]
    if order.note:
        lines += [plain(" "), plain(order.note, "italic")]
    return joined(*lines, plain(" "), plain("Price", "bold"), price(order.quote, today, order.paid), by="\n")
