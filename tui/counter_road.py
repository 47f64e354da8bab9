"""The road of an order at the Counter: confirm, price, room, reply, book, each one call of the desk."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from intake.model import Order, Reply, State
from intake.money import shown as money
from tui import road, words
from tui.desk_screen import DeskScreen
from tui.look import Look, look, take_in
from tui.plain import plain
from tui.road import View
from tui.slip import Slip

if TYPE_CHECKING:
    from tui.reply_sheet import Answered


class RoadScreen(DeskScreen):
    """The Counter's view and what may be done to the order at hand. The Counter lays it out with `show`."""

    def __init__(self, view: View) -> None:
        super().__init__()
        self.view = view
        self._greeted = False
        self._talk: dict[str, list[tuple[str, str]]] = {}

    @property
    def seen(self) -> object:
        return self.view.version, self.view.today

    async def show(self) -> None:
        """Lay out the view as it stands."""
        raise NotImplementedError

    # Looking at the book

    def reload(self) -> None:
        # What is open is asked when the job begins: jobs before it may open another conversation.
        self.ask_desk("look", lambda desk: look(desk, self.view.thread_id), self.take_in, fresh=True)

    def look_at(self, thread_id: str) -> None:
        """Open a conversation and say what it needs."""

        def seen(found: Look) -> None:
            self.take_in(found)
            self.tell(road.about(self.view))

        self.ask_desk("open", lambda desk: look(desk, thread_id), seen, fresh=True)

    def take_in(self, found: Look) -> None:
        if not self._greeted:
            self._greeted = True
            self.tell(road.greeting(found.waiting))
        self.view = take_in(self.view, found)
        self.call_later(self.show)

    def act(self, name: str, call: Callable[[Any], Any], done: Callable[[Any], None], *, busy: str = "") -> None:
        """Have the desk change the book, look at it again, then say what was done."""

        def work(desk: Any) -> tuple[Any, Look]:
            result = call(desk)
            return result, look(desk, self.view.thread_id)

        def then(both: tuple[Any, Look]) -> None:
            self.take_in(both[1])
            done(both[0])

        self.ask_desk(name, work, then, busy=busy, failed=self.reload)

    def _order(self, action: str) -> Order | None:
        """The order at hand where `action` can be done; else the reason is told."""
        reason = road.why_not(action, self.view)
        if reason:
            self.tell(reason, "problem")
            return None
        return self.view.order

    def talked(self, thread_id: str, who: str, what: str) -> None:
        self._talk.setdefault(thread_id, []).append((who, what))
        self.call_later(self.show)

    # The road

    def action_confirm(self) -> None:
        if order := self._order("confirm"):
            self.act("confirm", lambda desk: desk.confirm(order.id), lambda _: self.tell("Confirmed. F5 prices it."))

    def action_price(self) -> None:
        def priced(done: Order) -> None:
            if done.quote:
                total = money(done.quote.total, done.quote.currency)
                self.tell(f"{total} in all. F6 looks at the room in your kitchen.")
            self.query_one(Slip).reveal("price")

        if order := self._order("price"):
            self.act("price", lambda desk: desk.quote(order.id), priced)

    def action_room(self) -> None:
        if order := self._order("room"):
            self.look_at_room(order, lambda: None)

    def look_at_room(self, order: Order, then: Callable[[], None]) -> None:
        """Have the kitchen decide, then show it and go on."""
        basis = self.view.basis

        def work(desk: Any) -> road.Room:
            verdict = desk.room(order.id)
            return road.Room(verdict, {each.id: words.order_name(each) for each in (*desk.rack(), order)}, basis)

        def decided(room: road.Room) -> None:
            self.view = replace(self.view, rooms={**self.view.rooms, order.id: room})
            self.call_later(self.show)
            word, _ = words.room_words(room.verdict, order.id, room.names, self.view.today)
            self.tell(f"{word}. F7 writes the answer.")
            self.query_one(Slip).reveal("room")
            then()

        self.ask_desk("room", work, decided, busy="Looking at your hours and oven.", lane="room", fresh=True)

    def action_reply(self) -> None:
        if order := self._order("reply"):
            self.write_reply(order, None)

    def write_reply(self, order: Order, kind: str | None) -> None:
        def written(reply: Reply) -> None:
            from tui.reply_sheet import ReplySheet

            self.app.push_screen(ReplySheet(reply), lambda left: self.replied(order, left))

        self.ask_desk("reply", lambda desk: desk.reply(order.id, kind), written, busy="Writing the answer.", fresh=True)

    def replied(self, order: Order, left: Answered | None) -> None:
        """Take up how the reply sheet was left."""
        if left is None:
            return
        if left.how not in {"", "copy", "file"}:
            self.write_reply(order, left.how)
            return
        self.view = replace(self.view, replies={**self.view.replies, order.id: left.reply})
        self.call_later(self.show)
        if not left.how:
            self.tell("The answer is kept on the slip; it went nowhere.")
            return
        folder = self.ordertin.home.book.parent / "answers"

        def work(desk: Any) -> str:
            from intake.replies.clipboard import copy, save
            from tui.reply_sheet import send

            where = send(left, order.id, folder, copy, save)
            desk.replied(order.id, left.reply, "copied" if left.how == "copy" else "written to a file")
            return where

        def done(where: str) -> None:
            self.tell(where)
            self.view = replace(self.view, replies={k: v for k, v in self.view.replies.items() if k != order.id})
            self.query_one(Slip).scroll_home(animate=False)
            # The terminal was written to from beside: draw over whatever that may have torn.
            self.refresh()

        self.act("replied", work, done)

    def action_book(self) -> None:
        order = self._order("book")
        if order is None:
            return
        room = self.view.room
        if room is None:
            self.look_at_room(order, lambda: self.book(order))
        else:
            self.book(order)

    def book(self, order: Order) -> None:
        """Book the order, after a question where it isn't known to fit."""
        room = self.view.room
        doubt = road.book_anyway(room) if room else ""

        def booked(done: Order) -> None:
            due = done.draft.due.value
            when = f" for {words.due(due, self.view.today)}" if due else ""
            self.tell(f"Booked{when}: it hangs on the Rack (F9). {road.greeting(self.view.waiting)}")

        def answered(key: str | None) -> None:
            if key == "b":
                self.act("book", lambda desk: desk.book(order.id), booked)
            else:
                self.tell("Not booked.")

        if doubt:
            from tui.ask import Answer, Ask

            choices = (Answer("l", "leave it"), Answer("b", "book it all the same"))
            self.app.push_screen(Ask(plain(doubt), choices), answered)
        else:
            answered("b")

    def action_set_aside(self) -> None:
        if reason := road.why_not("set_aside", self.view):
            self.tell(reason, "problem")
            return
        thread_id = self.view.thread_id
        said = "Set aside. F10 takes it back."
        self.act("set aside", lambda desk: desk.set_aside(thread_id), lambda _: self.tell(said))

    def action_drop(self) -> None:
        order = self._order("drop")
        if order is None:
            return
        if order.state is State.DROPPED:
            self.act("reopen", lambda desk: desk.reopen(order.id), lambda _: self.tell("It is a draft again."))
        else:
            self.act("drop", lambda desk: desk.drop(order.id), lambda _: self.tell("Dropped. F10 takes it back."))

    def action_undo(self) -> None:
        def undone(what: str | None) -> None:
            self.tell(f"Taken back: {what}." if what else "There is nothing to take back.")

        self.act("undo", lambda desk: desk.undo(), undone)

    async def action_go_rack(self) -> None:
        await self.app.run_action("app.go('rack')")
