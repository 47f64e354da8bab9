"""The number of a parcel: asked for once before the word that it is on its way, kept with the order, never made up."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from intake.model import Order, Reply
from tui import words
from tui.counter_wording import WordingRoad

if TYPE_CHECKING:
    from tui.reply_sheet import Answered

SENT = "sent"
_HINT = "As it stands on your receipt. Empty where there is none: the answer then says nothing of it."


class TrackingRoad(WordingRoad):
    """What the Counter does about parcels."""

    _asked: frozenset[int] = frozenset()

    def lay_out(self, order: Order, reply: Reply, kinds: tuple[str, ...], can: bool) -> None:
        if reply.kind != SENT or order.tracking or order.id in self._asked:
            super().lay_out(order, reply, kinds, can)
            return
        self._asked |= {order.id}

        def typed(number: str) -> None:
            if number:
                self.track(order, number, reply)
            else:
                self.show_reply(order, reply)

        self.ask_for_number(order, typed)

    def replied(self, order: Order, left: Answered | None) -> None:
        if left is not None and left.how == "tracking":
            reply = left.reply

            def typed(number: str) -> None:
                if number and number != order.tracking:
                    self.track(order, number, reply)
                else:
                    self.show_reply(order, reply)

            self.ask_for_number(order, typed)
        else:
            super().replied(order, left)

    def ask_for_number(self, order: Order, typed: Callable[[str], None]) -> None:
        from tui.typed import Typed

        about = f"Slip {order.id}, {words.order_name(order)}: what the carrier calls the parcel"
        sheet = Typed("Tracking number", about, order.tracking, _HINT)
        self.app.push_screen(sheet, lambda said: typed(said or ""))

    def track(self, order: Order, number: str, reply: Reply) -> None:
        """Keep the number, and show the answer with it: written anew, or as the baker has changed it."""

        def work(desk: Any) -> tuple[Order, Reply]:
            before = desk.reply(order.id, SENT)
            after = desk.track(order.id, number)
            fresh = desk.reply(order.id, SENT)
            return after, with_number(reply, before, fresh, order.tracking, after.tracking)

        def done(both: tuple[Order, Reply]) -> None:
            self.show_reply(*both)

        self.act("track", work, done)


def with_number(reply: Reply, before: Reply, fresh: Reply, old: str, new: str) -> Reply:
    """`fresh`, or `reply` as the baker changed it with the number in it: in the place of the old one, else below."""
    from dataclasses import replace

    if reply.text.split() == before.text.split():
        return fresh
    if old and old in reply.text:
        return replace(reply, text=reply.text.replace(old, new))
    line = next((line for line in fresh.text.split("\n") if new in line), new)
    return replace(reply, text=f"{reply.text.rstrip()}\n\n{line}\n")
