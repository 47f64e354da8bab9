"""The road of an order at the Counter: confirm, price, room, reply, book, each one call of the desk."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from intake.desk_change import called_off
from intake.desk_waiting import UNANSWERED
from intake.model import Clash, Order, Reply, State, Way
from intake.money import shown as money
from tui import road, words
from tui.conversation import Spoken
from tui.desk_screen import DeskScreen
from tui.look import Look, look, take_in
from tui.plain import plain
from tui.road import View
from tui.say import Words
from tui.slip import Slip

if TYPE_CHECKING:
    from tui.reply_sheet import Answered


class RoadScreen(DeskScreen):
    """The Counter's view and what may be done to the order at hand. The Counter lays it out with `show`."""

    def __init__(self, view: View) -> None:
        super().__init__()
        self.view = view
        self._greeted = False
        self._talk: dict[str, list[Spoken]] = {}
        self._left: dict[str, str] = {}
        # The list as it stood when the open conversation was opened: F3 goes on from there.
        self._walk: tuple[str, ...] = ()

    @property
    def seen(self) -> object:
        return self.view.version, self.view.today

    async def show(self) -> None:
        """Lay out the view as it stands."""
        raise NotImplementedError

    def open(self, thread_id: str) -> None:
        """Lay out the conversation `thread_id`."""
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
        if self.view.thread_id not in self._walk:
            self._walk = tuple(each.thread_id for each in found.waiting)
        self.call_later(self.show)

    def act(
        self,
        name: str,
        call: Callable[[Any], Any],
        done: Callable[[Any], None],
        *,
        busy: str = "",
        lost: Callable[[], None] = lambda: None,
    ) -> None:
        """Have the desk change the book, look at it again, then say what was done; `lost()` where that failed."""

        def work(desk: Any) -> tuple[Any, Look]:
            result = call(desk)
            return result, look(desk, self.view.thread_id)

        def then(both: tuple[Any, Look]) -> None:
            self.take_in(both[1])
            done(both[0])

        def failed() -> None:
            lost()
            self.reload()

        self.ask_desk(name, work, then, busy=busy, failed=failed)

    def _order(self, action: str) -> Order | None:
        """The order at hand where `action` can be done; else the reason is told."""
        reason = road.why_not(action, self.view)
        if reason:
            self.tell(reason, "problem")
            return None
        return self.view.order

    def talked(self, thread_id: str, who: str, what: str, change: str = "") -> None:
        """Add a line to the talk; one without words only keeps the place of a change among the others."""
        self._talk.setdefault(thread_id, []).append(Spoken(who, what, change))
        self.call_later(self.show)

    def undoable(self, thread_id: str, change: str) -> None:
        """Have undo mark the last line that was typed, too: it has led to `change`."""
        talk = self._talk.get(thread_id, [])
        if talk and talk[-1].who == "you" and not talk[-1].change:
            talk[-1] = replace(talk[-1], change=change)

    def taken_back(self, change: str) -> None:
        """Mark the lines of the talk that made `change`, which has been undone: what was typed, and its answer."""
        for talk in self._talk.values():
            places = [place for place, line in enumerate(talk) if line.change == change and not line.undone]
            if change and places:
                for place in places[-2 if talk[places[-1]].what else -1 :]:
                    talk[place] = replace(talk[place], undone=True)
        self.call_later(self.show)

    # The road

    def action_search(self) -> None:
        from tui.search_sheet import SearchSheet

        self.app.push_screen(SearchSheet(), lambda thread_id: self.open(thread_id) if thread_id else None)

    def action_take(self) -> None:
        from pathlib import Path

        from tui.take_sheet import TakeSheet

        def taken(said: str | None) -> None:
            if said:
                self.reload()
                self.tell(said)

        self.app.push_screen(TakeSheet(Path.home()), taken)

    def action_read_it(self) -> None:
        case = self.view.case
        if case is None or case.is_read:
            return
        self.act("read", lambda desk: desk.read(case.thread.id), lambda _: self.tell(road.about(self.view)))

    def action_confirm(self) -> None:
        if self.view.case and not self.view.case.is_read:
            self.action_read_it()
        elif self.view.order and self.view.order.change:
            self.action_take_change()
        elif order := self._order("confirm"):
            diet = order.draft.dietary
            settled = "" if diet.sure or diet.missing else f" Diet settled: {words.cell_words('dietary', diet)}."
            said = f"Confirmed.{settled} F5 prices it."
            self.act("confirm", lambda desk: desk.confirm(order.id), lambda _: self.tell(said))

    def action_take_change(self) -> None:
        order = self._order("take_change")
        if order is None:
            return
        if called_off(order):
            said = "Dropped, as the customer asks. F10 takes it back."
            self.ask_to_drop(order, lambda: self.take_change(order, lambda _: self.tell(said)))
        elif self.view.room is None:
            self.look_at_room(order, lambda: self.take_if_it_fits(order))
        else:
            self.take_if_it_fits(order)

    def take_if_it_fits(self, order: Order) -> None:
        """Take the change, after a question where the order isn't known to fit with it."""

        def done(after: Order) -> None:
            from intake.desk_quote import price_line

            price = price_line(order.quote, after.quote) if after.quote else ""
            self.tell(f"Changed, and still booked. {price} F7 writes the answer.")
            self.query_one(Slip).reveal("price")

        doubt = road.book_anyway(self.view.room) if self.view.room else ""
        if not doubt:
            self.take_change(order, done)
            return
        from tui.ask import Answer, Ask

        choices = (Answer("l", "leave it"), Answer("t", "take the change all the same"))
        question = plain(f"{doubt.removesuffix('Book it all the same?')}Take the change all the same?")
        self.app.push_screen(
            Ask(question, choices),
            lambda key: self.take_change(order, done) if key == "t" else self.tell("Not taken; it still waits."),
        )

    def take_change(self, order: Order, done: Callable[[Order], None]) -> None:
        self.act("take change", lambda desk: desk.accept(order.id, seen=order.change), done)

    def action_refuse_change(self) -> None:
        order = self._order("refuse_change")
        if order is None:
            return
        from tui.ask import Answer, Ask

        said = "Kept as booked. The customer does not know yet: F7 writes the answer."
        told = words.shifts_words(order.change, self.view.today)
        question = plain(f"Keep slip {order.id} as booked, and let this go?\n{told}")
        choices = (Answer("l", "leave it open"), Answer("k", "keep it as booked"))

        def refuse(desk: Any) -> Order:
            return desk.refuse(order.id, seen=order.change)  # type: ignore[no-any-return]

        def answered(key: str | None) -> None:
            if key == "k":
                self.act("refuse change", refuse, lambda _: self.tell(said))
            else:
                self.tell("It still waits.")

        self.app.push_screen(Ask(question, choices), answered)

    def action_same_customer(self) -> None:
        from tui.known import ask

        ask(self)

    def action_price(self) -> None:
        def priced(done: Order) -> None:
            if done.quote:
                total = money(done.quote.total, done.quote.currency, done.quote.locale)
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
            if isinstance(room.verdict, Clash):
                self.look_for_ways(order, room, room.verdict)

        self.ask_desk("room", work, decided, busy="Looking at your hours and oven.", lane="room", fresh=True)

    def look_for_ways(self, order: Order, room: road.Room, clash: Clash) -> None:
        """Have ways out of a clash tried, then show them below it."""

        def found(ways: tuple[Way, ...]) -> None:
            if self.view.rooms.get(order.id) is room:
                self.view = replace(self.view, rooms={**self.view.rooms, order.id: replace(room, ways=ways)})
                self.call_later(self.show)

        self.ask_desk("ways", lambda desk: desk.ways(order.id, clash), found, lane="room", fresh=True)

    def action_reply(self) -> None:
        if order := self._order("reply"):
            self.write_reply(order, None)

    def write_reply(self, order: Order, kind: str | None) -> None:
        self._fetch_reply(order, lambda desk: desk.reply(order.id, kind))

    def show_reply(self, order: Order, reply: Reply) -> None:
        """Show an answer again as the baker has left it."""
        self._fetch_reply(order, lambda desk: reply)

    def _fetch_reply(self, order: Order, get: Callable[[Any], Reply]) -> None:
        def work(desk: Any) -> tuple[Reply, tuple[str, ...], bool]:
            reply = get(desk)
            return reply, desk.answers(order.id), desk.letters.can_send(reply)

        def written(found: tuple[Reply, tuple[str, ...], bool]) -> None:
            self.tell("The answer is written; nothing has gone yet.")
            self.lay_out(order, *found)

        self.ask_desk("reply", work, written, busy="Writing the answer.", fresh=True)

    def lay_out(self, order: Order, reply: Reply, kinds: tuple[str, ...], can: bool) -> None:
        """Show an answer; `kinds` are the others that there are, `can` is whether it can go by mail from here."""
        from tui.reply_sheet import ReplySheet

        about = f"{order.id}: {reply.text}"
        sheet = ReplySheet(
            reply, kinds, unsent=self.ordertin.unsent, about=about, by_mail=can, tracking=order.tracking
        )
        self.app.push_screen(sheet, lambda left: self.replied(order, left))

    def keep_reply(self, order: Order, reply: Reply) -> None:
        """Keep an answer on the slip."""
        self.view = replace(self.view, replies={**self.view.replies, order.id: reply})
        self.call_later(self.show)

    def forget_reply(self, order_id: int) -> None:
        """Take an answer that has gone off the slip."""
        self.view = replace(self.view, replies={k: v for k, v in self.view.replies.items() if k != order_id})
        self.call_later(self.show)

    def replied(self, order: Order, left: Answered | None) -> None:
        """Take up how the reply sheet was left."""
        if left is None:
            return
        if left.how not in {"", "copy", "file"}:
            self.write_reply(order, left.how)
            return
        self.keep_reply(order, left.reply)
        if not left.how:
            self.tell("The answer is kept on the slip; it went nowhere.")
            return
        folder = self.ordertin.home.book.parent / "answers"

        def work(desk: Any) -> str:
            from intake.replies.clipboard import copy, save
            from tui.counter_post import write_mail
            from tui.reply_sheet import send

            if left.how == "file" and (where := write_mail(desk, order.id, left.reply, folder)):
                return where
            where = send(left, order.id, folder, copy, save)
            desk.replied(order.id, left.reply, "copied" if left.how == "copy" else "written to a file")
            return where

        def done(where: str) -> None:
            self.tell(where)
            self.ordertin.unsent.keep("reply", "", "")
            self.forget_reply(order.id)
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
            more = "F7 writes the answer." if self.view.stands == UNANSWERED else road.greeting(self.view.waiting)
            self.tell(f"Booked{when}: it hangs on the Rack (F9). {more}")

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
            said = "Dropped. F10 takes it back."
            self.ask_to_drop(
                order, lambda: self.act("drop", lambda desk: desk.drop(order.id), lambda _: self.tell(said))
            )

    def action_undo(self) -> None:
        def undone(what: str | None) -> None:
            self.tell(f"Taken back: {what}." if what else "There is nothing to take back.")
            self.taken_back(what or "")
            # What is left in the box was said about what is no more: the next typing replaces it.
            self.query_one(Words).select_all()

        self.act("undo", lambda desk: desk.undo(), undone)

    async def action_go_rack(self) -> None:
        await self.app.run_action("app.go('rack')")
