"""The talk at the Counter: what the baker types is answered in the conversation, or shown to her before it is done."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING, Any

from textual import events

from tui.counter_post import PostScreen
from tui.plain import plain
from tui.road import View
from tui.say import Words
from tui.slip import Slip

if TYPE_CHECKING:
    from intake.desk_talk import Done, Go, Heard, Plan

# Keys wait no longer than this for words that are being read, in seconds.
PATIENCE = 5.0
_PLACES = ("rack", "bench", "till")
TO_WHOM = "Is this said to me, or is it what a customer wrote?"


class TalkScreen(PostScreen):
    """What the Counter does with words. Function keys pressed while words are being read wait until they have been."""

    def __init__(self, view: View) -> None:
        super().__init__(view)
        self._reading = 0
        self._waiting_keys: deque[events.Key] = deque()

    # Keys that come while words are being read

    def puts_off(self, event: events.Key) -> bool:
        """Whether a key waits for words that are being read: one that is not typed into the box. With Enter in the box
        the reading begins, before the box itself has seen it."""
        box = self.query_one(Words)
        if self._waiting_keys or (self._reading and not event.is_printable and event.key not in _EDITING):
            self._waiting_keys.append(event)
            return True
        if event.key == "enter" and box.has_focus:
            self._begin()
        return False

    def _begin(self) -> None:
        self._reading += 1
        mark = self._reading
        self.set_timer(PATIENCE, lambda: self.read_words() if self._reading >= mark else None)

    def read_words(self) -> None:
        """Words have been read: the keys that waited go on their way."""
        self._reading = 0
        if self._waiting_keys:
            self.app.call_later(self._go_on)

    async def _go_on(self) -> None:
        while self._waiting_keys and not self._reading:
            event = self._waiting_keys.popleft()
            if event.key == "enter" and self.query_one(Words).has_focus:
                self._begin()
            await self.ordertin.on_key_in_turn(event)

    def forget_keys(self) -> None:
        """A question is asked: no key that was pressed before it was seen may answer it."""
        self._waiting_keys.clear()

    # Words

    def hear(self, text: str, *, instead: Any = None) -> None:
        """Have words read, and answered. What is not understood goes back into the box, or is left to `instead`."""
        order = self.view.order
        thread_id, number = self.view.thread_id, order.id if order else 0
        self.query_one(Words).remember(text)

        def work(desk: Any) -> Heard:
            from intake.desk_talk import hear

            return hear(desk, text, order_id=number, thread_id=thread_id)

        def then(found: Heard) -> None:
            if instead is not None and not found.understood:
                self.read_words()
                instead()
                return
            self.answer(thread_id, text, found)
            self.read_words()

        self.act("say", work, then, busy="Reading your words.", lost=self.read_words)

    def answer(self, thread_id: str, text: str, found: Heard) -> None:
        """Show what came of words, and go where they lead."""
        asked = found.plan is not None or bool(found.choices)
        self.talked(thread_id, "you", text, found.change)
        if not asked:
            self.talked(thread_id, "it", found.answer, found.change)
        self.say_briefly(found.answer, "word" if found.understood and not found.refused else "problem")
        if found.changed:
            self.call_later(self.query_one(Slip).point, found.changed[0])
        elif not found.understood:
            self.put_back(text)
        if found.plan:
            self._ask_first(thread_id, found.plan)
        elif found.choices:
            self._ask_which(thread_id, found)
        elif found.go:
            self._go(thread_id, text, found.go, found.answer)

    def say_briefly(self, answer: str, kind: str = "word") -> None:
        """The first line of an answer; all of it stands in the conversation."""
        first, _, more = answer.partition("\n")
        self.tell(f"{first} …" if more else first, kind)

    def put_back(self, text: str) -> None:
        box = self.query_one(Words)
        if not box.text:
            box.text = text
            box.select_all()

    def _ask_first(self, thread_id: str, made: Plan) -> None:
        """Show what would be changed, and do it with a yes."""
        from tui.ask import Answer, Ask

        self.forget_keys()
        yes, no = Answer("y", f"yes, {made.yes}"), Answer("n", "no, leave it")
        question = plain(made.asks)

        def answered(key: str | None) -> None:
            if key == "y":
                self._do(thread_id, made)
            else:
                self.talked(thread_id, "it", "Left as it was.")
                self.tell("Left as it was.")

        self.app.push_screen(Ask(question, (no, yes) if made.careful else (yes, no)), answered)

    def _do(self, thread_id: str, made: Plan) -> None:
        def work(desk: Any) -> Done:
            from intake.desk_talk import do

            return do(desk, made)

        def then(done: Done) -> None:
            if done.change:
                self.undoable(thread_id, done.change)
            self.talked(thread_id, "it", done.answer, done.change)
            self.say_briefly(done.answer)
            if done.undone:
                self.taken_back(done.undone)

        self.act("do", work, then)

    def _ask_which(self, thread_id: str, found: Heard) -> None:
        """Ask which of several meanings is meant, and hear that one."""
        from tui.ask import Answer, Ask

        self.forget_keys()
        choices = [Answer(str(n), words) for n, words in enumerate(found.choices[:9], 1)]

        def answered(key: str | None) -> None:
            if key and key.isdigit():
                self.hear(found.choices[int(key) - 1])
            else:
                self.talked(thread_id, "it", f"{found.answer} Left open.")
                self.tell("Left open.")

        self.app.push_screen(Ask(plain(found.answer), choices), answered)

    def _go(self, thread_id: str, text: str, to: Go, answer: str) -> None:
        if to.where == "thread" and to.thread != thread_id:
            self.talked(to.thread, "you", text)
            self.talked(to.thread, "it", answer)
            self.open(to.thread)
        elif to.where == "next":
            self.call_later(self.run_action, "next_waiting")
        elif to.where in _PLACES:
            self.call_later(self.app.run_action, f"app.go('{to.where}')")
        elif to.where == "reply" and to.reply and self.view.order:
            order = next((o for o in self.view.case.orders if o.id == to.order), None) if self.view.case else None
            if order:
                self.show_reply(order, to.reply)
            else:
                self.tell(f"{answer} Open that conversation first: F7 there writes it.")

    def said_or_pasted(self, text: str, sender: str) -> None:
        """With no slip open, one short line may be said to the program, or be a customer's whole message."""
        from tui.ask import Answer, Ask

        def message() -> None:
            self.take_message(text, sender)

        if sender or "\n" in text.strip() or len(text) > 80:
            message()
            return

        def understood(yes: bool) -> None:
            if not yes:
                message()
                return
            self.forget_keys()
            choices = (
                Answer("m", "said to you"),
                Answer("c", "a customer wrote it"),
                Answer("l", "leave it in the box"),
            )
            self.app.push_screen(Ask(plain(f"{TO_WHOM}\n{text.strip()}"), choices), answered)

        def answered(key: str | None) -> None:
            if key == "c":
                message()
            elif key == "m":
                self.query_one(Words).text = ""
                self.hear(text)
            else:
                self.read_words()

        def work(desk: Any) -> bool:
            from intake.desk_talk import understood

            return understood(desk, text)

        self.ask_desk("say", work, understood, busy="Reading your words.", failed=self.read_words)

    def take_message(self, text: str, sender: str) -> None:
        """Have a new customer's message read into a conversation of its own."""
        raise NotImplementedError


_EDITING = frozenset(
    "left right up down home end backspace delete space shift+left shift+right shift+up shift+down "
    "ctrl+left ctrl+right".split()
)
