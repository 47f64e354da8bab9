"""What every screen over the desk shares: asking it for work, and saying what came of it in one line."""

from __future__ import annotations

import traceback
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, ClassVar

from textual.screen import Screen

from intake.model import Order, OrdertinError
from tui import words
from tui.caps import Cap
from tui.lane import Job
from tui.notice import Notice
from tui.plain import plain

if TYPE_CHECKING:
    from tui.app import OrdertinApp


class DeskScreen(Screen[None]):
    """A screen with a `Notice`, over the app's lanes. `place` is its name in the table of actions."""

    place: ClassVar[str] = ""

    @property
    def ordertin(self) -> OrdertinApp:
        return self.app  # type: ignore[return-value]

    @property
    def seen(self) -> object:
        """What the screen shows the book of: its version and the day."""
        raise NotImplementedError

    def reload(self) -> None:
        """Look at the book again."""
        raise NotImplementedError

    def tell(self, said: str, kind: str = "word") -> None:
        self.query_one(Notice).tell(said, kind)

    def ask_desk(
        self,
        name: str,
        call: Callable[[Any], Any],
        then: Callable[[Any], None],
        *,
        busy: str = "",
        lane: str = "desk",
        fresh: bool = False,
        failed: Callable[[], None] = lambda: None,
    ) -> None:
        """Have `call(desk)` done in a thread, then `then(result)`; a problem is told, after `failed()`."""

        app = self.ordertin

        def take(result: Any) -> None:
            # She may have left the screen meanwhile: what was done stays done, and nothing is left to show it.
            if self.is_attached:
                then(result)

        def problem(error: BaseException) -> None:
            if self.is_attached:
                failed()
                self.problem(error)
            elif (here := app.desk_screen()) is not None:
                here.problem(error)

        if busy:
            self.tell(busy, "busy")
        app.lanes[lane].put(Job(name, call, take, problem, fresh))

    def problem(self, error: BaseException) -> None:
        """One line for what went wrong; the trace of an unexpected fault is shown where debugging is on."""
        if isinstance(error, OrdertinError):
            self.tell(str(error), "problem")
            return
        fault = type(error).__name__
        self.tell(f"That failed, and it is the program's fault ({fault}). The book is unharmed.", "problem")
        if self.ordertin.debugging:
            from tui.page import Page

            self.app.push_screen(Page(plain("".join(traceback.format_exception(error)))))

    def ask_to_drop(self, order: Order, drop: Callable[[], None]) -> None:
        """Drop an order once the baker has said so."""
        from tui.ask import Answer, Ask

        choices = (Answer("l", "leave it"), Answer("d", "drop it: it won't be made"))
        question = plain(f"Drop slip {order.id}, {words.order_name(order)}?")
        self.app.push_screen(
            Ask(question, choices), lambda key: drop() if key == "d" else self.tell("Not dropped.")
        )

    def ask_for_payment(self, order: Order, given: str, done: Callable[[str], None], *, more: str = "") -> None:
        """Ask how much has come for an order, and how; `given` stands in the box to begin with, `more` above it."""
        from intake.money import shown
        from tui.typed import Typed

        quote = order.quote
        if quote is None:
            self.tell("This order has no price yet.", "problem")
            return
        left = shown(quote.total - order.paid, quote.currency, quote.locale)
        paid = shown(order.paid, quote.currency, quote.locale)
        about = f"{words.order_name(order)}: paid {paid}, left to pay {left}"
        about = f"{about}\n{more}" if more else about
        hint = "How much and how, such as 36 cash; back 10 card is money given back. It is put down for today."
        self.app.push_screen(Typed("Payment", about, given, hint), lambda said: done(said) if said else None)

    def on_cap_pressed(self, event: Cap.Pressed) -> None:
        event.stop()
        self.call_later(self.do, event.action)

    async def action_go_till(self) -> None:
        await self.app.run_action("app.go('till')")

    async def action_go_bench(self) -> None:
        await self.app.run_action("app.go('bench')")

    async def action_go_rules(self) -> None:
        await self.app.run_action("app.go('rules')")

    def action_more(self) -> None:
        self.app.action_command_palette()

    async def do(self, action: str) -> None:
        """Do a named action of this screen, or else of the app."""
        target = "screen" if hasattr(self, f"action_{action}") else "app"
        await self.run_action(f"{target}.{action}")
