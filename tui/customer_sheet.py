"""One customer on a sheet: what she must not eat, what she likes, her next birthdays, her orders, her conversations."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, OptionList, Static
from textual.widgets.option_list import Option

from intake.desk_likes import birthdays, diets, likes
from intake.model import Order, State
from intake.money import shown as money
from tui import words
from tui.plain import joined, plain

if TYPE_CHECKING:
    from intake.desk_customers import Customer

_BIRTHDAYS = 3
NO_DIET = "No diet or allergy is known. That is not the same as none: ask."


@dataclass(frozen=True, slots=True)
class Left:
    """How the sheet was left: `thread` to open, or `same` as which order (its number), else nothing."""

    thread: str = ""
    same: int = 0


class CustomerSheet(ModalScreen[Left]):
    """Enter opens the conversation of the line pointed at; F4 makes a draft the same as that order."""

    BINDINGS: ClassVar = [("escape", "leave", "Back"), ("f4", "same", "Same again")]

    def __init__(self, customer: Customer, today: date) -> None:
        super().__init__()
        self._customer, self._today = customer, today
        self._rows = rows_of(customer, today)

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet customer"):
            yield Static(about(self._customer, self._today), id="customer-about")
            options = OptionList(*(_row(left, content) for left, content in self._rows), id="customer-rows")
            options.highlighted = next((place for place, (left, _) in enumerate(self._rows) if left), None)
            yield options
            with Horizontal(classes="answers"):
                yield Button(joined(plain("Enter", "bold"), plain("Conversation"), by=" "), id="talk", compact=True)
                yield Button(joined(plain("F4", "bold"), plain("Same again"), by=" "), id="same", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Back"), by=" "), id="back", compact=True)

    def on_mount(self) -> None:
        self.query_one(OptionList).focus()

    @property
    def left(self) -> Left:
        """The line pointed at."""
        place = self.query_one(OptionList).highlighted
        return (self._rows[place][0] if place is not None else None) or Left()

    @on(OptionList.OptionSelected)
    @on(Button.Pressed, "#talk")
    def _talk(self) -> None:
        if self.left.thread:
            self.dismiss(Left(thread=self.left.thread))

    @on(Button.Pressed, "#same")
    def action_same(self) -> None:
        if self.left.same:
            self.dismiss(Left(same=self.left.same))
        else:
            self.query_one("#customer-about", Static).update(
                joined(about(self._customer, self._today), plain("! Point at an order first.", "bold"), by="\n")
            )

    @on(Button.Pressed, "#back")
    def action_leave(self) -> None:
        self.dismiss(Left())


def about(customer: Customer, today: date) -> Content:
    """Who she is: her name and where she writes, her diet in bold, her likes, the next birthdays."""
    count = f"{customer.orders} order{'' if customer.orders == 1 else 's'}"
    since = f"last wrote {words.day(customer.last.date(), today)}" if customer.last else ""
    lines = [joined(plain(customer.name, "bold underline"), plain(f"{count}; {since}".strip("; ")), by="  ")]
    for diet in diets(customer.history):
        sign, doubt = ("●", "") if diet.settled else ("◐", ", to check")
        lines.append(
            joined(
                plain(f"{sign} DIET: {diet.what.upper() if diet.settled else diet.what}", "bold reverse"),
                plain(f"(slip {diet.order.id}{_on(diet.order, today)}{doubt})"),
                by=" ",
            )
        )
    if len(lines) == 1:
        lines.append(plain(NO_DIET, "italic"))
    for field, named in likes(customer.history).items():
        told = ", ".join(f"{what} ({times}x)" if times > 1 else what for what, times in named)
        lines.append(joined(plain(f"likes {words.LABELS[field]}:", "dim"), plain(told), by=" "))
    for birthday in birthdays(customer.history, today)[:_BIRTHDAYS]:
        turns = f" turns {birthday.turns}" if birthday.turns is not None else ": birthday"
        told = f"{birthday.who}{turns} around {words.day(birthday.about, today)}"
        lines.append(joined(plain("next birthday:", "dim"), plain(told), by=" "))
    return joined(*lines, by="\n")


def _on(order: Order, today: date) -> str:
    return f", {words.day(order.draft.due.value.last, today)}" if order.draft.due.value else ""


def _row(left: Left | None, content: Content) -> Option:
    return Option(content, disabled=left is None)


def rows_of(customer: Customer, today: date) -> Sequence[tuple[Left | None, Content]]:
    """Her orders, the newest first, and her conversations, each below a heading."""
    rows: list[tuple[Left | None, Content]] = []
    if customer.history:
        rows.append((None, plain("Orders", "bold")))
        rows += [(Left(order.thread_id, order.id), order_row(order, today)) for order in customer.history]
    rows.append((None, plain("Conversations", "bold")))
    for thread, channel in reversed(list(zip(customer.threads, customer.channels, strict=True))):
        rows.append((Left(thread), plain(f"  {thread}  {channel}")))
    return rows


def order_row(order: Order, today: date) -> Content:
    """`✓ Sat 13 Jun  24 unicorns, pickup  $84.00`, and what was on it below."""
    quote, due = order.quote, order.draft.due.value
    price = money(quote.total, quote.currency, quote.locale) if quote else "no price"
    when = words.due(due, today) if due else "no day"
    state = "" if order.state is State.HANDED_OVER else f"({order.state})"
    first = joined(
        plain(f"  {words.STATE_SIGNS[order.state]} {when}", "bold"),
        plain(order.what),
        plain(price, "bold"),
        plain(state),
        by="  ",
    )
    named = (order.draft.cell(field).value for field in ("occasion", "honoree", "lettering", "colors", "flavors"))
    more = ", ".join(", ".join(value) if isinstance(value, tuple) else str(value) for value in named if value)
    return joined(first, plain(f"    {more}" if more else "", "dim"), by="\n")


def show(screen: Any, thread_id: str, into: Order | None) -> None:
    """Look the customer of a conversation up and lay her out; what was chosen is done at the Counter, in the
    conversation `thread_id` and its open order `into`."""

    def found(both: tuple[Customer, date]) -> None:
        screen.app.push_screen(CustomerSheet(*both), left)

    def left(how: Left | None) -> None:
        # Another screen may have to close for it, which can't be waited for from within that screen.
        screen.app.call_later(go, how or Left())

    def go(how: Left) -> None:
        counter = screen.ordertin.counter
        if how.thread:
            screen.ordertin.open_at_counter(how.thread)
        elif how.same:
            screen.ordertin.open_at_counter(thread_id)
            counter.same_again(how.same, thread_id, into)

    screen.ask_desk("customer", lambda desk: (desk.customer(thread_id), desk.now().date()), found, fresh=True)
