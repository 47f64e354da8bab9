"""The conversation of one thread, with the words that a cell of the slip was read from marked in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from intake.model import Evidence
from tui import words
from tui.plain import joined, marked, plain

if TYPE_CHECKING:
    from intake.desk import Case
    from intake.model import Fold
    from intake.model import Message as Sent

# Of a very long conversation the newest messages are laid out at once; the rest is one click or key away.
AT_ONCE = 60
# Of the talk about a conversation the last lines stay, so that it doesn't push the customer's own words out of sight.
LAST = 4
MARK = "bold underline reverse"


@dataclass(frozen=True, slots=True)
class Spoken:
    """One line of the talk between the baker (`you`) and the program (`it`). `change` names the change of the book
    that it made, as undo does; `undone` that it has been taken back."""

    who: str
    what: str
    change: str = ""
    undone: bool = False


class Bubble(Static):
    """One message: who, when, and the text as it was written."""

    def __init__(self, message: Sent, folds: Sequence[Fold], today: date) -> None:
        super().__init__(classes="mine" if message.mine else "theirs")
        self.message = message
        self._folded = tuple((f.evidence.start, f.evidence.end) for f in folds if f.evidence.message == message.id)
        who = "you" if message.mine else message.sender or "customer"
        self._head = joined(plain(who, "bold"), plain(words.moment(message.at, today), "dim"), by="  ")
        self._marked: tuple[tuple[int, int], ...] | None = None
        self.mark(())

    def mark(self, evidence: Sequence[Evidence]) -> None:
        """Mark the characters of the evidence that lies in this message."""
        spans = tuple((each.start, each.end) for each in evidence if each.message == self.message.id)
        if spans == self._marked:
            return
        self._marked = spans
        body = marked(self.message.text, self._folded, "dim italic")
        for start, end in spans:
            body = body.stylize(MARK, max(0, start), end)
        names = ", ".join(self.message.attachments)
        kept = plain(f"attached: {names}" if names else "", "italic")
        self.update(joined(self._head, body, kept, by="\n"))


class Earlier(Static):
    """Stands for the messages before those laid out; a click lays them out."""

    class Asked(Message):
        pass

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Asked())


class Conversation(VerticalScroll, can_focus=True):
    """Messages in time order, then what was said between the baker and the program about them."""

    BINDINGS: ClassVar = [Binding("home", "top", show=False)]

    def __init__(self, id: str) -> None:  # noqa: A002 - the name is Textual's
        super().__init__(id=id)
        self._case: Case | None = None
        self._talk: tuple[Spoken, ...] = ()
        self._today = date.min
        self._empty = plain("")
        self._all = False
        self._evidence: tuple[Evidence, ...] = ()

    async def show(
        self, case: Case | None, talk: Sequence[Spoken], today: date, empty: Content
    ) -> None:
        """Lay out a case, or the words of `empty`; nothing is done where it is laid out already."""
        then = (self._case and self._case.thread, self._talk, self._today, self._empty)
        was = self._case.thread.id if self._case else None
        self._case, self._talk, self._today, self._empty = case, tuple(talk), today, empty
        if case is None or case.thread.id != was:
            self._all, self._evidence = False, ()
        if self.children and then == (case and case.thread, self._talk, today, empty):
            return
        await self._lay_out()
        self.call_after_refresh(self._to_the_last)

    async def _lay_out(self) -> None:
        case = self._case
        await self.remove_children()
        if case is None:
            await self.mount(Static(self._empty, classes="empty"))
            return
        first = self._first(case)
        parts: list[Static] = []
        if first:
            parts.append(Earlier(plain(f"{first} earlier messages. Click here, or press Home, to see them.")))
        if case.thread.subject:
            parts.append(Static(plain(case.thread.subject, "bold italic"), classes="subject"))
        parts += [Bubble(message, case.reading.folds, self._today) for message in case.thread.messages[first:]]
        parts += [spoken(each, place) for place, each in enumerate(reversed(self._talk[-LAST:]))][::-1]
        await self.mount(*parts)
        for bubble in self.query(Bubble):
            bubble.mark(self._evidence)

    def _to_the_last(self) -> None:
        """Bring the last line into sight; of a long answer, its beginning."""
        last = self.children[-1] if self._talk and self.children else None
        if last is not None and last.size.height > self.size.height:
            self.scroll_to_widget(last, animate=False, top=True)
        else:
            self.scroll_end(animate=False)

    def _first(self, case: Case) -> int:
        """The place of the oldest message to lay out."""
        messages = case.thread.messages
        if self._all or len(messages) <= AT_ONCE:
            return 0
        held = {each.message for each in self._evidence}
        oldest = next((place for place, message in enumerate(messages) if message.id in held), len(messages))
        return min(len(messages) - AT_ONCE, oldest)

    async def mark(self, evidence: Sequence[Evidence]) -> None:
        """Mark the evidence and bring its first words into sight."""
        self._evidence = tuple(evidence)
        held = {each.message for each in evidence}
        laid_out = {bubble.message.id for bubble in self.query(Bubble)}
        if self._case and {message.id for message in self._case.thread.messages} & held - laid_out:
            await self._lay_out()
        first: Bubble | None = None
        for bubble in self.query(Bubble):
            bubble.mark(evidence)
            if first is None and bubble.message.id in held:
                first = bubble
        if first is not None:
            self.call_after_refresh(first.scroll_visible, animate=False)

    async def on_earlier_asked(self) -> None:
        self._all = True
        await self._lay_out()

    async def action_top(self) -> None:
        if not self._all:
            await self.on_earlier_asked()
        self.call_after_refresh(self.scroll_home, animate=False)


def spoken(line: Spoken, place: int) -> Static:
    """One line of the talk, `place` lines before the last; on a small terminal only the last stands in full, and an old
    one has no place."""
    age = " now" if not place else " old" if place >= 2 else ""
    sign = plain("you »" if line.who == "you" else "»", "bold")
    undone = plain("taken back:" if line.undone else "", "italic")
    what = plain(line.what, "strike dim" if line.undone else "")
    return Static(joined(sign, undone, what, by=" "), classes=f"talk {line.who}{age}")
