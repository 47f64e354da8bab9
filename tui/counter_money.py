"""What the Counter does about money: settling the price, what it costs, a payment, and the way to the Till."""

from __future__ import annotations

from intake.model import Order
from intake.money import shown as money
from tui import words
from tui.counter_road import RoadScreen
from tui.money import earned, printed, take_payment
from tui.plain import plain
from tui.slip import Slip

SETTLE_HINT = (
    "plain, detailed or elaborate; mini, large or size usual; 4 lettered; 6 miles; box 12x10x6; 5 lb; or a line of "
    "your own such as courtesy -5, and no courtesy to take it out"
)


class MoneyScreen(RoadScreen):
    """The money actions of the order at hand."""

    def action_price(self) -> None:
        def priced(done: tuple[Order, str]) -> None:
            order, hour = done
            if order.quote:
                total = money(order.quote.total, order.quote.currency, order.quote.locale)
                self.tell(f"{total} in all{f'; {hour}' if hour else ''}. F6 looks at the room in your kitchen.")
            self.query_one(Slip).reveal("price")

        if order := self._order("price"):
            self.act("price", lambda desk: (desk.quote(order.id), earned(desk, order.id)), priced)

    def action_settle(self) -> None:
        from tui.typed import Typed

        order = self._order("settle")
        if order is None:
            return
        held = "; ".join(settled_words(order)) or "as worked out from the slip"
        about = f"{words.order_name(order)}: {held}"

        def said(text: str | None) -> None:
            if not text:
                return

            def done(both: tuple[Order, str]) -> None:
                after, hour = both
                price = after.quote
                total = f"{money(price.total, price.currency, price.locale)} in all" if price else "F5 prices it"
                self.tell(f"Settled: {total}{f'; {hour}' if hour and price else ''}.")
                self.query_one(Slip).reveal("price")

            self.act("settle", lambda desk: (desk.till.settle(order.id, text), earned(desk, order.id)), done)

        self.app.push_screen(Typed("Settle something about the price", about, "", SETTLE_HINT), said)

    def action_cost(self) -> None:
        from tui.page import Page

        if order := self._order("cost"):

            def worked_out(text: str) -> None:
                self.tell("What it costs and earns is worked out from your house rules.")
                self.app.push_screen(Page(plain(text)))

            self.ask_desk(
                "cost",
                lambda desk: printed(desk, order.id),
                worked_out,
                busy="Working out what it costs.",
                fresh=True,
            )

    def action_payment(self) -> None:
        order = self._order("payment")
        if order is None:
            return

        def told(after: Order) -> None:
            self.tell(f"{words.order_name(after)}: {words.left_to_pay(after)}. F10 takes it back.")
            self.query_one(Slip).reveal("price")

        self.ask_for_payment(
            order, "", lambda text: self.act("payment", lambda desk: take_payment(desk, order.id, text), told)
        )


def settled_words(order: Order) -> list[str]:
    """What the baker has settled about a price, in her own words."""
    terms = order.terms
    found = [word for word in (terms.level, terms.size and f"size {terms.size}") if word]
    found += [f"{terms.lettered} lettered"] if terms.lettered is not None else []
    found += [f"{terms.distance.normalize():f} miles"] if terms.distance is not None else []
    found += [f"{terms.pounds.normalize():f} lb"] if terms.pounds is not None else []
    found += [f"box {'x'.join(f'{side.normalize():f}' for side in terms.box)}"] if terms.box else []
    return found + [f"{line.label} {line.amount}" for line in terms.edits]
