"""The Till: who says that she has paid, what is owed, and the money of a month and its year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from intake.model import Order, State
from intake.money import shown as money
from tui import words
from tui.actions import TILL, bindings
from tui.actions import on as actions_on
from tui.caps import Caps
from tui.desk_screen import DeskScreen
from tui.money import take_payment
from tui.notice import Notice
from tui.plain import joined, plain
from tui.top import Top

if TYPE_CHECKING:
    from intake.desk_till import Told
    from intake.pricing.owed import Owed
    from intake.pricing.till import Till

EMPTY = "Nothing is owed, and nobody says that she has paid."


@dataclass(frozen=True, slots=True)
class Look:
    """One look at the book: what the Till lays out."""

    version: object
    today: date
    told: tuple[Told, ...]
    till: Till
    lapsing: tuple[Owed, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """A line that can be pointed at: a message that tells of a payment, or money owed."""

    order: Order
    amount: Decimal
    how: str = ""
    told: Told | None = None


class TillScreen(DeskScreen):
    place: ClassVar[str] = TILL
    BINDINGS: ClassVar = [
        *bindings(TILL),
        ("escape", "go_counter", "Counter"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.version: object = None
        self.today = date.min
        self.month: date | None = None
        self._rows: list[Row | None] = []
        self._till: Till | None = None

    def compose(self) -> ComposeResult:
        yield Top("Till", TILL, demo=self.ordertin.demo)
        with Horizontal(id="body"):
            yield OptionList(id="rails")
            with VerticalScroll(id="tag"):
                yield Static(plain(""), id="tag-text")
        yield Notice(id="notice")
        yield Caps((action for action in actions_on(TILL) if action.bar == "foot"), id="foot")

    def on_mount(self) -> None:
        self.query_one("#rails").focus()
        self.tell("Looking at the money.", "busy")

    def on_screen_resume(self) -> None:
        self.reload()

    @property
    def seen(self) -> object:
        return self.version, self.today

    @property
    def row(self) -> Row | None:
        """The line pointed at."""
        place = self.query_one("#rails", OptionList).highlighted
        return self._rows[place] if place is not None and place < len(self._rows) else None

    def reload(self) -> None:
        self.ask_desk("till", lambda desk: look(desk, self.month), self._take_in, fresh=True)

    def _take_in(self, found: Look) -> None:
        greeted = self.version is not None
        self.version, self.today, self._till = found.version, found.today, found.till
        self.month = found.till.month
        here = self.query_one("#rails", OptionList).highlighted
        rows = rows_of(found.told, (*found.till.owed, *found.lapsing), found.today)
        self._rows = [row for row, _ in rows]
        rails = self.query_one("#rails", OptionList)
        with self.prevent(OptionList.OptionHighlighted):
            rails.set_options([line(content, row) for row, content in rows])
            places = [place for place, row in enumerate(self._rows) if row]
            near = min(places, key=lambda place: abs(place - (here or 0)), default=None)
            rails.highlighted = near
        self.query_one(Top).say(self.ordertin.top_words(self.today))
        self._show()
        if not greeted:
            self.tell(greeting(found))

    def _show(self) -> None:
        if self._till:
            panel = self.query_one("#tag")
            width = max(24, panel.size.width - 3)
            self.query_one("#tag-text", Static).update(figures(self._till, width))
        row = self.row
        off = {"not_paid"} if row is None or row.told is None else set()
        off |= {"paid", "give_back", "remind", "conversation"} if row is None else set()
        due = "" if row is None else "paid" if row.told else "remind"
        self.query_one(Caps).show(due, frozenset(off))

    def on_resize(self) -> None:
        self._show()

    @on(OptionList.OptionHighlighted, "#rails")
    def _highlighted(self) -> None:
        self._show()

    @on(OptionList.OptionSelected, "#rails")
    def _selected(self) -> None:
        self.action_paid()

    # What may be done

    def act(self, name: str, call: Any, done: Any) -> None:
        """Have the desk change the book, look at it again, then say what was done."""

        def then(both: Any) -> None:
            self._take_in(both[1])
            done(both[0])

        self.ask_desk(name, lambda desk: (call(desk), look(desk, self.month)), then, failed=self.reload)

    def action_paid(self) -> None:
        if (row := self._pointed()) is None:
            return

        def said(text: str) -> None:
            def work(desk: Any) -> Order:
                if row.told and text == given:
                    order: Order = desk.till.take(row.told)
                    return order
                return take_payment(desk, row.order.id, text)

            self.act("paid", work, self._paid)

        given = f"{row.amount} {row.how}".rstrip()
        more = "; ".join(part for part in (f"“{row.told.words}”", row.told.doubt) if part) if row.told else ""
        self.ask_for_payment(row.order, given, said, more=more)

    def _paid(self, order: Order) -> None:
        self.tell(f"{words.order_name(order)}: {words.left_to_pay(order)}. F10 takes it back.")

    def action_give_back(self) -> None:
        if row := self._pointed():
            order = row.order
            self.ask_for_payment(
                order,
                "back ",
                lambda text: self.act("back", lambda desk: take_payment(desk, order.id, text), self._paid),
            )

    def action_not_paid(self) -> None:
        row = self._pointed()
        if row is None or row.told is None:
            self.tell("Point at a message that tells of a payment.")
            return
        told = row.told
        self.act(
            "not paid",
            lambda desk: desk.till.not_paid(told),
            lambda _: self.tell("Put aside: it is not asked about again. F10 brings it back."),
        )

    def action_remind(self) -> None:
        row = self._pointed()
        if row is None:
            return
        if row.order.state is State.DROPPED:
            self.tell("This order was dropped: there is nothing to remind of. F5 gives the money back.")
            return
        counter = self.ordertin.counter
        self.ordertin.open_at_counter(row.order.thread_id)
        counter.write_reply(row.order, "remind")

    def action_conversation(self) -> None:
        if row := self._pointed():
            self.ordertin.open_at_counter(row.order.thread_id)

    def _pointed(self) -> Row | None:
        if self.row is None:
            self.tell(EMPTY)
        return self.row

    def action_month_before(self) -> None:
        self._other_month(-1)

    def action_month_after(self) -> None:
        self._other_month(1)

    def _other_month(self, by: int) -> None:
        from intake.pricing.till import after

        if self.month and 2000 < self.month.year < 2100:
            self.month = after(self.month, by)
            self.reload()

    def action_ledger(self) -> None:
        path = self.ordertin.home.book.parent / "ledger.csv"

        def work(desk: Any) -> str:
            from intake.papers.ledger import save

            save(desk.till.ledger(), str(path))
            return f"Every payment is in {path}."

        self.ask_desk("ledger", work, self.tell)

    def action_undo(self) -> None:
        def undone(what: str | None) -> None:
            self.tell(f"Taken back: {what}." if what else "There is nothing to take back.")
            self.ordertin.counter.taken_back(what or "")

        self.act("undo", lambda desk: desk.undo(), undone)

    async def action_go_counter(self) -> None:
        await self.app.run_action("app.go('counter')")


def line(content: Content, row: Row | None) -> Option:
    """One line of the list; a heading can't be pointed at."""
    return Option(content, disabled=row is None)


def look(desk: Any, month: date | None) -> Look:
    from intake.pricing.owed import LAPSES

    told = desk.till.told()
    lapsing = tuple(each for each in desk.till.reminders(told) if each.what == LAPSES)
    return Look(desk.version(), desk.now().date(), told, desk.till.till(month), lapsing)


def greeting(found: Look) -> str:
    said = len(found.told)
    late = sum(bool(each.late) for each in found.till.owed)
    parts = []
    if said:
        who = "One customer says" if said == 1 else f"{said} customers say"
        parts.append(f"{who} it is paid: look at your account first.")
    if late:
        parts.append(f"{late} overdue.")
    return " ".join(parts) or ("Nothing is overdue." if found.till.owed else EMPTY)


def rows_of(told: Sequence[Told], owed: Sequence[Owed], today: date) -> list[tuple[Row | None, Content]]:
    """A heading (no row) and below it what belongs to it."""
    rows: list[tuple[Row | None, Content]] = []
    if told:
        rows.append((None, plain("They say it is paid", "bold")))
        rows += [(Row(each.order, each.amount, each.how, each), told_row(each)) for each in told]
    if owed:
        heading = plain("Owed", "bold")
        rows.append((None, joined(plain(" "), heading, by="\n") if rows else heading))
        rows += [(Row(each.order, each.amount), owed_row(each, today)) for each in owed]
    return rows or [(None, plain(EMPTY))]


def told_row(told: Told) -> Content:
    quote = told.order.quote
    amount = money(told.amount, quote.currency, quote.locale) if quote else str(told.amount)
    return joined(
        joined(plain("?", "bold"), plain(words.order_name(told.order), "bold"), plain(amount), plain(told.how), by=" "),
        plain(f"  “{told.words}”"),
        plain(f"  {told.doubt}" if told.doubt else "", "italic"),
        by="\n",
    )


def owed_row(owed: Owed, today: date) -> Content:
    """`! Dana, 24 cookies  deposit $36.00, 2 days late`."""
    late = f"{owed.late} day{'' if owed.late == 1 else 's'} late" if owed.late else ""
    by = f"by {words.day(owed.by, today)}" if owed.by and not owed.late else ""
    amount = money(owed.amount, owed.currency, owed.locale)
    return joined(
        joined(plain("!" if owed.late else "○", "bold"), plain(words.order_name(owed.order), "bold"), by=" "),
        joined(plain(f"  {owed.what} {amount}"), plain(by), plain(late, "bold"), by=" "),
        by="\n",
    )


def figures(till: Till, width: int) -> Content:
    """The month, its year in bars, and the cap."""
    from intake.papers.till_text import bars, cap_lines
    from intake.papers.till_text import figures as lines_of

    month = f"{words.MONTHS[till.month.month - 1]} {till.month.year}"
    parts = [plain(month, "bold underline"), *(plain(line.removeprefix("  ")) for line in lines_of(till, brief=True))]
    owed = sum((each.left for each in till.owed if each.left > 0), Decimal(0))
    parts.append(plain(f"owed in all {money(owed, till.currency, till.locale)}", "bold"))
    if till.cap:
        parts += [plain(" "), *(plain(line.strip()) for line in cap_lines(till, max(6, width - 4)))]
    parts += [plain(" "), plain(str(till.month.year), "bold underline")]
    parts += [plain(line) for line in bars(till, max(6, width - 16), brief=True)]
    parts += [plain(note, "italic") for note in till.notes]
    return joined(*parts, by="\n")

