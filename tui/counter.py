"""The Counter: where messages become slips, and slips are checked, priced, fitted in, answered and booked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.events import DescendantFocus, Paste
from textual.widgets import Input, Static

from tui import road, words
from tui.actions import COUNTER, bindings
from tui.actions import on as actions_on
from tui.caps import Caps
from tui.conversation import Conversation
from tui.counter_more import MoreScreen
from tui.counter_talk import TalkScreen
from tui.counter_tracking import TrackingRoad
from tui.look import Look, look
from tui.notice import Notice
from tui.plain import plain
from tui.road import View
from tui.say import Say, Words
from tui.slip import Part, Slip, title
from tui.top import Top
from tui.tray import Tray, WhoLine, one_line

if TYPE_CHECKING:
    from tui.cell_edit import Change

KEPT_AFTER = 0.5
EMPTY = """\
Nothing here yet.

Copy what a customer wrote and paste it below: ctrl+shift+v or your terminal's own paste. Then press Enter.
To take in a whole export of messages, press ^a. To look around in a made-up bakery first, close (^q) and type:
ordertin demo"""
NO_ORDER = "No slip: no order was read from this conversation. Read it, answer it, then set it aside (^g)."
UNREAD = "No slip: this is an old conversation that was kept without being read. F4 reads it."


class Counter(TrackingRoad, MoreScreen, TalkScreen):
    place: ClassVar[str] = COUNTER
    BINDINGS: ClassVar = [*bindings(COUNTER), Binding("escape", "step_out", show=False)]

    def __init__(self, view: View) -> None:
        super().__init__(view)
        self.wants_new = False

    def compose(self) -> ComposeResult:
        yield Top("Counter", COUNTER, demo=self.ordertin.demo)
        yield WhoLine(plain(""), id="who-line")
        with Horizontal(id="body"):
            yield Tray(id="tray")
            yield Conversation(id="conversation")
            yield Slip(id="slip")
        yield Notice(id="notice")
        yield Say()
        yield Caps((action for action in actions_on(COUNTER) if action.bar == "foot"), id="foot")

    async def on_mount(self) -> None:
        self._keeping = self.set_interval(KEPT_AFTER, self._keep_typed, pause=True)
        self.query_one(Words).focus()
        self.tell("Opening the book.", "busy")
        await self.show()

    def begin(self, found: Look) -> None:
        """Take in the first look at the book."""
        self.take_in(found)
        self._bring_back()

    def on_screen_resume(self) -> None:
        if self.ordertin.opened:
            self.reload()

    # What is on the screen

    async def show(self) -> None:
        """Lay out the view as it stands."""
        view, order = self.view, self.view.order
        self.query_one(Top).say(self.ordertin.top_words(view.today))
        self.query_one(Tray).show(view.waiting, view.thread_id, view.today)
        opened = self.ordertin.opened
        self.query_one("#who-line", Static).update(one_line(view.waiting, view.today) if opened else plain(""))
        empty = plain(EMPTY if opened else "")
        talk = [line for line in self._talk.get(view.thread_id, ()) if line.what]
        await self.query_one(Conversation).show(view.case, talk, view.today, empty)
        of = len(view.case.orders) if view.case else 0
        holds = "" if view.case is None else NO_ORDER if view.case.is_read else UNREAD
        slip = self.query_one(Slip)
        heading = title(order, min(view.place, of - 1), of, stands=view.stands, holds=holds)
        await slip.show(view, heading)
        await self.mark()
        self.set_mode()
        foot = frozenset(action.name for action in actions_on(COUNTER) if road.why_not(action.name, view))
        asks = frozenset({"take_change"} if order and order.change else ())
        if view.case and not view.case.is_read:
            asks = frozenset({"read_it"})
        self.query_one(Caps).show(road.suggested(view), foot, asks)

    def set_mode(self) -> None:
        order = self.view.order
        mode = "new" if self.wants_new or order is None else "fix"
        self.query_one(Say).set_mode(mode, words.order_name(order) if order else "", self.arrows)

    @property
    def arrows(self) -> str:
        """What the arrow keys move now."""
        if isinstance(self.focused, Tray | Conversation):
            return "list" if isinstance(self.focused, Tray) else "conversation"
        return "text" if isinstance(self.focused, Words) and self.focused.text else "slip"

    @on(DescendantFocus)
    def _focus_moved(self) -> None:
        self.set_mode()

    @on(Words.Changed)
    def _typed(self) -> None:
        self.set_mode()
        if self.ordertin.opened:
            self._keeping.reset()
            self._keeping.resume()

    def _keep_typed(self) -> None:
        """Write down what stands in the box, once the typing has paused."""
        self._keeping.pause()
        about = "" if self.query_one(Say).mode == "new" else self.view.thread_id
        self.ordertin.unsent.keep("box", self.query_one(Words).text, about)

    def _bring_back(self) -> None:
        """Put back into the box what was typed before the screens were closed."""
        text, about = self.ordertin.unsent.text("box")
        if not text or self.query_one(Words).text:
            return
        if about and about != self.view.thread_id:
            self.open(about)
        self.wants_new = not about
        self.query_one(Words).text = text
        self.query_one(Words).move_cursor(self.query_one(Words).document.end)
        self.set_mode()
        self.tell("What you had typed is in the box again.")

    def typing(self) -> None:
        """Have what is about to be typed go to the box."""
        for box in self.query(Words):
            if not isinstance(self.focused, Words | Input):
                self.set_focus(box)

    async def mark(self) -> None:
        """Mark the words that the cell pointed at was read from."""
        await self.query_one(Conversation).mark(self.query_one(Slip).evidence)

    @on(Slip.Pointed)
    async def _pointed(self) -> None:
        await self.mark()

    # The tray

    @on(Tray.Chosen)
    def _chosen(self, event: Tray.Chosen) -> None:
        self.open(event.thread_id)

    def open(self, thread_id: str, walk: tuple[str, ...] = ()) -> None:
        """Open a conversation, on the way through the list `walk` or from the list as it stands now."""
        self.wants_new = False
        self.remove_class("who")
        self._walk = walk
        self.view = replace(self.view, place=0)
        box = self.query_one(Words)
        if thread_id != self.view.thread_id and self.query_one(Say).mode == "fix":
            # What was left in the box was meant for this conversation, and waits in it.
            self._left[self.view.thread_id] = box.text
            box.text = self._left.pop(thread_id, "")
        box.focus()
        box.select_all()
        self.look_at(thread_id)

    def action_next_waiting(self) -> None:
        self._step("next_waiting", road.next_of(self._walk, self.view), "Nobody else waits for you.")

    def action_previous(self) -> None:
        self._step("previous", road.previous_of(self._walk, self.view), "There is none before it.")

    def _step(self, action: str, key: str, none: str) -> None:
        reason = road.why_not(action, self.view)
        if reason or not key or key == self.view.thread_id:
            self.tell(reason or none)
        else:
            self.open(key, self._walk)

    @on(WhoLine.Clicked)
    def action_who(self) -> None:
        self.toggle_class("who")
        shown = self.query_one(Tray)
        (shown if shown.display else self.query_one(Words)).focus()

    # The box at the foot

    def on_paste(self, event: Paste) -> None:
        """A paste that no text box took goes to the box at the foot."""
        event.stop()
        box = self.query_one(Words)
        box.focus()
        box.post_message(Paste(event.text))

    def action_step_out(self) -> None:
        box = self.query_one(Words)
        if self.wants_new and self.view.order:
            self.action_new_message()
        elif box.has_focus:
            self.query_one(Slip).focus()
        else:
            box.focus()

    def action_new_message(self) -> None:
        self.wants_new = not self.wants_new
        self.set_mode()
        self.query_one(Words).focus()
        if self.wants_new or self.view.order is None:
            self.tell("Paste what the customer wrote, all of it, then press Enter.")
        else:
            self.tell(road.about(self.view))

    @on(Words.Steered)
    def _steered(self, event: Words.Steered) -> None:
        slip, conversation = self.query_one(Slip), self.query_one(Conversation)
        match event.key:
            case "up" | "down":
                slip.action_point(-1 if event.key == "up" else 1)
            case "enter":
                self.read_words()
                self.action_edit()
            case "right":
                self.action_other_reading()
            case "pageup":
                conversation.scroll_page_up(animate=False)
            case _:
                conversation.scroll_page_down(animate=False)

    @on(Words.HandedIn)
    def _handed_in(self, event: Words.HandedIn) -> None:
        say = self.query_one(Say)
        if say.mode == "fix":
            self.hear(event.text)
        elif self.wants_new:
            self.take_message(event.text, say.sender)
        else:
            self.said_or_pasted(event.text, say.sender)

    @on(Words.Pasted)
    def _pasted(self, event: Words.Pasted) -> None:
        from tui.ask import Ask
        from tui.pasted import ANSWERS, question

        about = words.order_name(self.view.order) if self.view.order else ""

        def answered(key: str | None) -> None:
            box = self.query_one(Words)
            if key == "n":
                self.take_message(event.text, "")
            elif key == "c":
                self.hear(event.text)
            elif key == "k":
                box.replace(event.text, *box.selection)

        self.app.push_screen(Ask(question(event.text, about), ANSWERS), answered)

    def take_message(self, text: str, sender: str) -> None:
        """Have a new customer's message read into a conversation of its own."""
        say = self.query_one(Say)

        def work(desk: Any) -> Look:
            return look(desk, desk.paste(text, sender=sender).thread.id)

        def read(found: Look) -> None:
            say.handed_in(text)
            self.read_words()
            self.wants_new = False
            self.view = replace(self.view, place=0)
            self.take_in(found)
            self.tell(road.about(self.view))

        self.ask_desk("paste", work, read, busy="Reading the message.", failed=self.read_words)

    # The slip

    @on(Slip.Opened)
    def action_edit(self) -> None:
        from intake.desk_checks import fields, named
        from tui.cell_edit import CellEdit

        order, slip = self._order("edit"), self.query_one(Slip)
        cell = slip.cell
        if order is None or cell is None:
            return

        def changed(change: Change | None) -> None:
            if change is None:
                return
            name = "day" if change.field == "due_is" else words.LABELS[change.field]
            done = words.value_words(change.field, change.value, self.view.today)

            def corrected(_: Any) -> None:
                self.talked(order.thread_id, "it", "", f"{fields([change.field])} of {named(order)}")
                self.tell(f"The {name} is now {done}." if done else f"The {name} is empty now.")

            self.act("correct", lambda desk: desk.correct(order.id, {change.field: change.value}), corrected)

        self.app.push_screen(CellEdit(slip.field, cell, self.said_by(cell.evidence), self.view.today), changed)

    def said_by(self, evidence: Sequence[Any]) -> tuple[str, ...]:
        """The words of the evidence."""
        texts = {message.id: message.text for message in self.view.case.thread.messages} if self.view.case else {}
        said = (texts.get(each.message, "")[each.start : each.end] for each in evidence)
        return tuple(dict.fromkeys(" ".join(text.split()) for text in said if text.strip()))

    @on(Part.Clicked)
    async def _part(self, event: Part.Clicked) -> None:
        await self.do(event.action)

    def action_all_fields(self) -> None:
        self.query_one(Slip).toggle_all()

    def action_other_slip(self) -> None:
        if self._order("other_slip") and self.view.case:
            self.view = replace(self.view, place=(self.view.place + 1) % len(self.view.case.orders))
            self.call_later(self.show)
