"""The paper slip beside the conversation: one row a field, then the price, the room in the kitchen and the answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from intake.desk_change import called_off
from intake.model import Cell, Draft, Evidence, Order, Quote, Reply, Shift
from intake.money import shown as money
from intake.record import on_the_party
from tui import words
from tui.known import known
from tui.plain import joined, plain
from tui.road import OPEN, Room, View, answered

STYLES = {"ok": "$text-success", "check": "$text-warning", "ask": "$text-error", "asks": "$text-warning", "": "dim"}


class Row(Horizontal):
    """One field: pointer, sign and word, name, value. The row pointed at says why, too."""

    class Clicked(Message):
        def __init__(self, name: str) -> None:
            super().__init__()
            self.name = name

    def __init__(self, field: str) -> None:
        super().__init__(id=f"row-{field}")
        self.field = field

    def compose(self) -> ComposeResult:
        yield Static(plain(""), classes="head")
        yield Static(plain(""), classes="value")

    def show(self, order: Order, *, here: bool, today: date) -> None:
        draft = order.draft
        asked, moved = (next((s for s in held if s.field == self.field), None) for held in (order.change, order.moved))
        cell, standing = draft.cell(self.field), "asks" if asked else words.standing(draft, self.field)
        self.set_class(here, "here")
        self.query_one(".head", Static).update(head(self.field, standing, here=here))
        if self.field == "due_is":
            cell = without_the_days_doubt(cell, draft)
        value = body(self.field, cell, here=here, today=today)
        self.query_one(".value", Static).update(joined(value, beside(asked, moved, today), by="\n"))

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Clicked(self.field))


def without_the_days_doubt(cell: Cell[object], draft: Draft) -> Cell[object]:
    """What the day is, with its own doubt only: the day's stands beside the day."""
    why = "say when she has them, or set it to hand-over" if on_the_party(draft) else cell.why
    return replace(cell, why="" if why == draft.due.why else why)


def head(field: str, standing: str, *, here: bool) -> Content:
    """`▸◐ check hand-over`."""
    return joined(
        plain("▸" if here else " ", "bold"),
        plain(f"{words.SIGNS[standing]} {standing:<5}", f"bold {STYLES[standing]}"),
        plain(f" {words.LABELS[field]}"),
    )


def body(field: str, cell: Cell[object], *, here: bool, today: date) -> Content:
    """The value; where the row is pointed at, also what else it may be and why to check it."""
    value = words.cell_words(field, cell, today)
    parts = [plain(value or "-", "bold" if value else "dim")]
    if here:
        others = "" if cell.sure else "; ".join(words.value_words(field, other, today) for other in cell.others)
        parts += [plain(cell.why, "italic"), plain(f"or (→): {others}" if others else "", "italic")]
        if cell.rule == "baker":
            parts.append(plain("you set this", "italic"))
    return joined(*parts, by="\n")


def beside(asked: Shift | None, moved: Shift | None, today: date) -> Content:
    """What is asked for instead of a booked value, or what an open one was when she last looked."""
    if asked:
        wants = joined(plain("asks:", "italic"), plain(words.asks_words(asked, today), "bold"), by=" ")
        doubt = "" if asked.reads.missing else asked.reads.why
        return joined(wants, plain(f"not sure: {doubt}" if doubt else "", "italic"), by="\n")
    if moved is None:
        return plain("")
    was = words.value_words(moved.field, moved.was, today)
    return plain(f"was {was} when you last looked" if was else "new since you last looked", "italic")


class Link(Static):
    """A line that is also a button for an action."""

    def __init__(self, action: str, id: str) -> None:  # noqa: A002 - the name is Textual's
        super().__init__(plain(""), id=id)
        self.action = action

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(Part.Clicked(self.action))


class Part(Vertical):
    """A heading that is also a button, and what stands below it."""

    class Clicked(Message):
        def __init__(self, action: str) -> None:
            super().__init__()
            self.action = action

    def __init__(self, action: str, heading: Content) -> None:
        super().__init__(id=f"part-{action}", classes="part")
        self._action, self._heading = action, heading

    def compose(self) -> ComposeResult:
        yield Static(self._heading, classes="heading")
        yield Static(plain(""), classes="matter")

    def say(self, matter: Content) -> None:
        self.query_one(".matter", Static).update(matter)

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Clicked(self._action))


class Slip(VerticalScroll, can_focus=True):
    """`show` fills it; `point` moves the pointer among the rows in sight."""

    class Pointed(Message):
        """The pointer stands at another field."""

    class Opened(Message):
        """The field pointed at is to be changed."""

    BINDINGS: ClassVar = [
        ("up", "point(-1)", "Field above"),
        ("down", "point(1)", "Field below"),
        ("enter", "open", "Change"),
        ("right", "screen.other_reading", "Take the other reading"),
    ]

    def __init__(self, id: str) -> None:  # noqa: A002 - the name is Textual's
        super().__init__(id=id)
        self.field = ""
        self.all_fields = False
        self._order: Order | None = None
        self._today = date.min

    def compose(self) -> ComposeResult:
        # The rows come with the first order, so that the first paint need not wait for them.
        yield Link("other_slip", id="slip-title")
        yield Link("same_customer", id="slip-known")
        yield Link("take_change", id="slip-take")
        yield Link("refuse_change", id="slip-keep")

    async def _rule(self) -> None:
        await self.mount(
            *(Row(field) for field in words.ON_SLIP),
            Link("all_fields", id="slip-empty"),
            Part("price", plain("Price  F5", "bold")),
            Part("room", plain("Room in the kitchen  F6", "bold")),
            Part("reply", plain("Reply  F7", "bold")),
        )

    @property
    def fields(self) -> tuple[str, ...]:
        """The fields in sight, from top to bottom."""
        if self._order is None:
            return ()
        draft, other = self._order.draft, {shift.field for shift in (*self._order.change, *self._order.moved)}
        wanted = (name for name in words.ON_SLIP if self.all_fields or name in other or words.standing(draft, name))
        return tuple(wanted)

    @property
    def cell(self) -> Cell[object] | None:
        return self._order.draft.cell(self.field) if self._order and self.field else None

    @property
    def evidence(self) -> tuple[Evidence, ...]:
        """Where the field pointed at was read; where it is asked for otherwise, there."""
        asked = self._order.change if self._order else ()
        cell = next((shift.reads for shift in asked if shift.field == self.field), self.cell)
        return cell.evidence if cell else ()

    async def show(self, view: View, title: Content) -> None:
        """Lay out the order at hand, or nothing but the title."""
        order, today = view.order, view.today
        if order and not self.query(Row):
            await self._rule()
        if order is None or self._order is None or order.id != self._order.id:
            self.field = ""
            self.scroll_home(animate=False)
        self._order, self._today = order, today
        if self.field not in self.fields:
            self.field = first_to_look_at(order) if order else ""
        self.query_one("#slip-title", Static).update(title)
        about_her = known(view)
        link = self.query_one("#slip-known", Link)
        link.display, link.action = bool(about_her), "same_customer" if view.like else "customer"
        link.update(plain(about_her, "italic"))
        self._ways(order, view.asked.get(order.id) if order else None)
        self._rows()
        parts = {
            "price": price(order.quote, today, order.paid) if order else plain(""),
            "room": room_matter(view.room, order, today, old=view.room_is_old) if order else plain(""),
            "reply": reply_matter(view.reply, answered=answered(view)) if order else plain(""),
        }
        for name, matter in parts.items():
            for part in self.query(f"#part-{name}").results(Part):
                part.display = order is not None
                part.say(matter)

    def _ways(self, order: Order | None, price: Quote | None) -> None:
        """The two ways to settle a change, each with what the order costs then."""
        asked = order if order and order.change else None
        off = asked is not None and called_off(asked)
        ways = {
            "take": ("F4", "drop it, as asked" if off else "take the change", None if off else price),
            "keep": ("^k", "keep it as booked", asked.quote if asked else None),
        }
        for name, (key, does, quote) in ways.items():
            link = self.query_one(f"#slip-{name}", Link)
            link.display = asked is not None
            cost = f"({money(quote.total, quote.currency)})" if quote else ""
            link.update(joined(plain(f"{key:>3}", "bold"), plain(does), plain(cost), by=" "))

    def _rows(self) -> None:
        shown = self.fields
        for row in self.query(Row):
            row.display = row.field in shown
            if row.display and self._order:
                row.show(self._order, here=row.field == self.field, today=self._today)
        hidden = len(words.ON_SLIP) - len(shown)
        note = f"{hidden} more fields are empty  ^l" if self._order and hidden else ""
        for empty in self.query("#slip-empty").results(Static):
            empty.update(plain(note, "dim"))
            empty.display = bool(note)

    def point(self, field: str) -> None:
        """Point at a field that is in sight."""
        if field not in self.fields or field == self.field:
            return
        self.field = field
        self._rows()
        self.query_one(f"#row-{field}", Row).scroll_visible(animate=False)
        self.post_message(self.Pointed())

    def action_point(self, by: int) -> None:
        shown = self.fields
        if shown:
            place = shown.index(self.field) if self.field in shown else -1
            self.point(shown[max(0, min(len(shown) - 1, place + by))])

    def action_open(self) -> None:
        if self._order:
            self.post_message(self.Opened())

    def toggle_all(self) -> None:
        self.all_fields = not self.all_fields
        if self.field not in self.fields and self._order:
            self.field = first_to_look_at(self._order)
        self._rows()

    def reveal(self, part: str) -> None:
        """Bring the price, the room or the reply into sight."""
        found = self.query_one(f"#part-{part}", Part)
        self.call_after_refresh(found.scroll_visible, animate=False, top=True)

    def on_row_clicked(self, event: Row.Clicked) -> None:
        event.stop()
        self.focus()
        if event.name == self.field:
            self.action_open()
        else:
            self.point(event.name)


def first_to_look_at(order: Order) -> str:
    """The first field that is asked for otherwise, else the first to check, to ask for, or that has a value."""
    draft, asked = order.draft, {shift.field for shift in order.change}
    changed = (field for field in words.ON_SLIP if field in asked)
    to_check, to_ask = words.left_to_do(draft)
    filled = tuple(field for field in words.ON_SLIP if not draft.cell(field).missing)
    return next(iter((*changed, *to_check, *to_ask, *filled)), words.ON_SLIP[0])


def price(quote: Quote | None, today: date, paid: Decimal = Decimal(0)) -> Content:
    """Each line of a quote with its amount, the total, the deposit, what is paid, and how long it holds."""
    if quote is None:
        return plain("not worked out yet", "dim")

    def amount(value: Decimal) -> str:
        return money(value, quote.currency, quote.locale)

    wide = max(len(amount(value)) for value in (*(line.amount for line in quote.lines), quote.total))
    lines = [
        joined(plain(f"{amount(line.amount):>{wide}}"), plain(line.label), by="  ") for line in quote.lines
    ]
    lines.append(joined(plain(f"{amount(quote.total):>{wide}}", "bold"), plain("in all", "bold"), by="  "))
    by = f" by {words.day(quote.deposit_by, today)}" if quote.deposit_by else ""
    rest = f" by {words.day(quote.balance_by, today)}" if quote.balance_by else ""
    if by == rest and by:
        by, rest = "", f", both{by}"
    lines.append(plain(f"deposit {amount(quote.deposit)}{by}, rest {amount(quote.balance)}{rest}"))
    if paid:
        left = quote.total - paid
        rest = f"left {amount(left)}" if left >= 0 else f"to give back {amount(-left)}"
        lines.append(plain(f"paid {amount(paid)}, {rest}", "bold"))
    lines.append(plain(f"{quote.level} work; this price holds until {words.day(quote.valid_until, today)}", "dim"))
    lines += [plain(note, "italic") for note in quote.notes]
    return joined(*lines, by="\n")


def room_matter(room: Room | None, order: Order, today: date, *, old: bool) -> Content:
    if room is None:
        return plain("something has changed since you looked" if old else "not looked at yet", "dim")
    word, sentence = words.room_words(room.verdict, order.id, room.names, today)
    style = {"Fits": "$text-success", "Tight": "$text-warning"}.get(word, "$text-error")
    verdict = joined(plain(word, f"bold {style}"), plain(sentence), by=": ")
    ways = [plain(f"  - {way.says}") for way in room.ways if way.kind != "day"]
    heading = plain("What would also make room:" if room.ways[:1] and room.ways[0].kind == "day" else "What would:")
    return joined(verdict, *([heading, *ways] if ways else []), by="\n")


def reply_matter(reply: Reply | None, *, answered: bool) -> Content:
    if reply is None:
        return plain("the last message is yours" if answered else "not written yet", "dim")
    missing = f"lacks: {_labels(reply.missing)}" if reply.missing else ""
    kind = words.ANSWERS.get(reply.kind, reply.kind)
    return joined(plain(kind, "italic"), plain(missing, "bold"), plain(reply.text), by="\n")


def _labels(names: Sequence[str]) -> str:
    return ", ".join(words.LABELS.get(name, name) for name in names)


def title(order: Order | None, place: int, of: int, *, stands: str, holds: str) -> Content:
    """`Slip 12  $ quoted`: how it stands, which of several, and its note; `holds` where there is no order."""
    if order is None:
        return plain(holds, "italic")
    which = f"{place + 1} of {of} here, ^n for the other" if of > 1 else ""
    sign = words.STATE_SIGNS["change" if order.change else order.state]
    state = stands if order.state in OPEN or not order.step else f"{stands}, {order.step}"
    return joined(
        joined(plain(f"Slip {order.id}", "bold"), plain(f"{sign} {state}", "bold"), plain(which), by="  "),
        plain(order.note, "italic"),
        by="\n",
    )
