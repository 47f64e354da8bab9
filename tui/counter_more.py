"""What the Counter does beside the road of one order: the welcome of a first run, the customer's sheet."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from intake import photos
from intake.model import Order, Problem
from tui import road
from tui.counter_post import PostScreen
from tui.plain import plain
from tui.road import OPEN
from tui.slip import Slip


class MoreScreen(PostScreen):
    """The Counter's sheets that are about no order."""

    def welcome(self, due: bool) -> None:
        """Ask the three questions of a first run, where they are due."""
        if due:
            self.action_welcome()

    def action_welcome(self) -> None:
        from tui.welcome import FIRST_MESSAGE, Welcome

        def answered(kept: bool | None) -> None:
            if kept and self.ordertin.rules:
                self.ordertin.rules.renew(lambda: None, f"Kept in your house rules. {FIRST_MESSAGE}")
            else:
                self.tell(FIRST_MESSAGE if not self.view.waiting else "Nothing was changed.")

        self.app.push_screen(Welcome(self.ordertin.home.rules), answered)

    def action_customer(self) -> None:
        from tui.customer_sheet import show

        if self.view.case is None:
            self.tell("No conversation is open.")
            return
        order = self.view.order
        show(self, self.view.thread_id, order if order and order.state in OPEN else None)

    def action_what(self) -> None:
        """Words of a message, chosen with the mouse before or in a sheet, become the value of a field."""
        from tui import fields, words
        from tui.what_sheet import AS_WRITTEN, WhatSheet

        order, case = self._order("edit"), self.view.case
        if order is None or case is None:
            return
        texts = [message.text for message in case.thread.messages if not message.mine]
        marked = self.get_selected_text() or ""
        self.clear_selection()

        def work(desk: Any, field: str, said: str) -> Any:
            value = None if field in AS_WRITTEN else desk.read_as(order.id, field, said)
            value = fields.value_of(field, said, desk.now().date()) if value is None else value
            desk.correct(order.id, {field: value})
            return value

        def chosen(both: tuple[str, str] | None) -> None:
            field, said = both or ("", "")
            if not field:
                return

            def done(value: Any) -> None:
                told = words.value_words(field, value, self.view.today)
                self.tell(f"“{said:.60}”: the {words.LABELS[field]} is now {told}. F10 takes it back.")
                self.call_later(self.query_one(Slip).point, field)

            self.act("what", lambda desk: work(desk, field, said), done)

        # The newest message comes first: it is most often the one in hand.
        self.app.push_screen(WhatSheet("\n\n".join(reversed(texts)), marked), chosen)

    def action_other_reading(self) -> None:
        """The other reading of the field pointed at becomes its value; of several, the likeliest."""
        from tui import words

        slip = self.query_one(Slip)
        cell, field, order = slip.cell, slip.field, self._order("edit")
        if order is None or cell is None:
            return
        if cell.sure or not cell.others:
            self.tell("There is one reading of this. Enter changes it.")
            return
        other = cell.others[0]
        told = words.value_words(field, other, self.view.today)
        said = f"The {words.LABELS[field]} is now {told}. F10 takes it back."
        self.act("other reading", lambda desk: desk.correct(order.id, {field: other}), lambda _: self.tell(said))

    def action_photos(self) -> None:
        from tui.ask import Answer, Ask

        messages = self.view.case.thread.messages if self.view.case else ()
        names = list(dict.fromkeys(name for message in reversed(messages) for name in message.attachments))[:9]
        if not names:
            self.tell("No photo or file is named in this conversation.")
        elif len(names) == 1:
            self.open_photo(names[0])
        else:
            choices = [Answer(str(number), name) for number, name in enumerate(names, 1)]
            self.app.push_screen(
                Ask(plain("Which one? The newest come first."), choices),
                lambda key: self.open_photo(names[int(key) - 1]) if key else None,
            )

    def open_photo(self, name: str) -> None:
        """Open what a message names in the system's viewer, or say why not."""

        def work(desk: Any) -> Problem | None:
            found = photos.find(name, photos.folders(desk.photo_folders))
            return found if isinstance(found, Problem) else photos.show(found)

        def done(problem: Problem | None) -> None:
            self.tell(str(problem or f"Opened in your viewer: {name}"), "problem" if problem else "word")

        self.ask_desk("photo", work, done)

    def same_again(self, past: int, thread_id: str, into: Order | None) -> None:
        """A draft the same as a past order, and the slip at it."""

        def made(order: Order) -> None:
            case = self.view.case
            places = [n for n, each in enumerate(case.orders) if each.id == order.id] if case else []
            self.view = replace(self.view, place=next(iter(places), 0))
            self.call_later(self.show)
            self.tell(f"As in slip {past}, to be checked. {road.about(self.view)} F10 takes it back.")

        into_id = into.id if into else None
        self.act("same again", lambda desk: desk.same_again(past, thread_id, into_id), made)
