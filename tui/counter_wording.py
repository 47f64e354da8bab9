"""The words of answers, from the Counter: the screen in which they are changed, and the answer in them afterwards."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from intake.model import Order
from tui import words
from tui.counter_post import PostScreen

if TYPE_CHECKING:
    from intake.replies.own_words import Wording
    from tui.reply_sheet import Answered


class WordingRoad(PostScreen):
    """What the Counter does about the words of answers."""

    def replied(self, order: Order, left: Answered | None) -> None:
        if left is not None and left.how == "wording":
            self.change_wording(order, left.reply.kind, lambda: self.write_reply(order, left.reply.kind))
        else:
            super().replied(order, left)

    def action_wording(self) -> None:
        self.change_wording(self.view.order, "", lambda: None)

    def change_wording(self, order: Order | None, kind: str, then: Callable[[], None]) -> None:
        """Have the baker change the words of answers, those of `kind` first; then go on."""

        def work(desk: Any) -> tuple[tuple[Wording, ...], str]:
            language = desk.language(order.id) if order else desk.house.house.language
            begin = kind or (desk.reply(order.id).kind if order else "")
            found = desk.wording.all()
            here = (each.file for each in found if (each.kind, each.language) == (begin, language))
            return found, next(here, "")

        def opened(both: tuple[tuple[Wording, ...], str]) -> None:
            from tui.wording_screen import WordingScreen

            room = self.view.rooms.get(order.id) if order else None
            whose = f"Order {order.id}, {words.order_name(order)}" if order else ""
            screen = WordingScreen(*both, order=order, verdict=room.verdict if room else None, whose=whose)
            self.app.push_screen(screen, lambda _: then())

        self.ask_desk("wording", work, opened, fresh=True)
