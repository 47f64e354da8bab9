"""The use cases: the few things a baker does, each one call and, where it writes, one change of the book.

The parts that read, price, plan and answer are loaded when first needed, so that looking at the book is quick.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from intake import photos
from intake.desk_answers import AnswersDesk
from intake.desk_keep import Keeping
from intake.desk_papers import Papers
from intake.desk_people import PeopleDesk
from intake.desk_reread import OPEN
from intake.desk_search import Hit, hits
from intake.desk_slip import SlipDesk
from intake.desk_taking import Progress, Taking
from intake.desk_till import TillDesk
from intake.desk_waiting import Caller, Waiting, waiting
from intake.home import Home
from intake.house import House
from intake.model import Message, Order, Reading, TakeReport, Thread


@dataclass(frozen=True, slots=True)
class Case:
    """A conversation, how it was last read, and its orders in their places. What is handed over is not read again.

    Not `is_read` is an old one that came with a large export and was only kept.
    """

    thread: Thread
    reading: Reading
    orders: tuple[Order, ...]
    is_read: bool = True


class Desk(AnswersDesk, SlipDesk, PeopleDesk):
    """The baker's desk on one order book. Any method raises OrdertinError where the book can't be read or written.

    A thread is named `t12`, an order by its number. Several desks may be open on one book, and each thread of the
    program may call the same desk.
    """

    def __init__(self, home: Home, *, now: Callable[[], datetime] | None = None) -> None:
        super().__init__(home, now=now)
        self._taking = Taking(self._book, self._shelf, self.house)
        #: The money side: terms of a price, payments, what is owed, the till.
        self.till = TillDesk(self._book, self._shelf, self.house, self.now, self.kitchen.follow)
        self.keep = Keeping(self._book, self._people, self.house.zone, self.now)
        self.papers = Papers(self._book, self.house, self.now, self.rack, self.kitchen.bench)

    def again(self) -> Desk:
        """Another desk on the same book, with the house rules as they are now. Raises OrdertinError where they don't
        hold."""
        return Desk(self.home, now=self._now)

    def take(
        self,
        paths: Sequence[Path],
        *,
        progress: Progress | None = None,
        strict: bool = False,
        who: Callable[[Sequence[str]], str] | None = None,
    ) -> TakeReport:
        """Takes exports into the book, one change each; what the book has already is passed over.

        `progress` is told the file's name and how many of its conversations are done, of how many; first, with 0 of
        how many, how many mails have been found. A file that can't be read is a problem of the report; where `strict`,
        a file with any problem adds nothing, and what comes after it is not looked at. `who` is asked which of the
        senders is the baker where that is not known; her answer is kept in the house rules, an empty one is not.
        """

        def told(senders: Sequence[str]) -> House | None:
            name = who(senders) if who else ""
            return self.i_am(name) if name else None

        report = self._taking.take(paths, self.now(), progress, strict, told)
        photos.remember(self.photo_folders, paths)
        return report

    @property
    def photo_folders(self) -> Path:
        """The list of folders that exports were taken from."""
        return self.home.book.with_name("folders.json")

    def i_am(self, name: str) -> House:
        """Keeps `name` in the house rules as one that the baker goes by; gives the rules as they are then."""
        from intake.house_edit import known_as

        self.house = known_as(self.home.rules, name)
        self._taking = Taking(self._book, self._shelf, self.house)
        return self.house

    def search(self, words: str, *, most: int = 50) -> tuple[Hit, ...]:
        """The conversations with a message that holds all of `words`, the one with the newest such message first."""
        return hits(self._shelf.search(words, most), words)

    def read(self, thread_id: str) -> Case:
        """Reads a conversation that was only kept. One that has been read stays as it is."""
        number = self._shelf.number(thread_id)
        self._shelf.thread(number)
        self._taking.read(number, self.now())
        return self._case(number)

    def paste(self, text: str, *, sender: str = "", at: datetime | None = None, to: str = "") -> Case:
        """A pasted message as a conversation of its own, or as the next message of the conversation `to`.

        The same words pasted again (into a conversation: on the same day) change nothing. `at` is when it was sent, now
        where it is not given. Raises OrdertinError where nothing in `text` can be read.
        """
        at = at or self.now()
        at = at if at.tzinfo else at.replace(tzinfo=self.house.zone)
        return self._case(self._taking.paste(text, sender, at, self._shelf.number(to) if to else None))

    # Looking

    def waiting(self) -> tuple[Waiting, ...]:
        """The conversations that want the baker: unanswered ones first, then the soonest hand-over."""
        held: dict[str, list[Order]] = {}
        for order in (*self._shelf.in_state(*OPEN), *self._shelf.asked_otherwise()):
            held.setdefault(order.thread_id, []).append(order)
        callers = (self._caller(held.get(row[0], ()), *row) for row in self._shelf.last_messages(OPEN))
        return waiting(callers, self.now())

    def _caller(
        self, held: Sequence[Order], name: str, customer: str, intent: str, aside: bool, last: Message
    ) -> Caller:
        number = self._shelf.number(name)
        orders = tuple(sorted(held, key=lambda o: o.place)) or self._shelf.orders(number)
        # Whether a price has been told can lie further back than the last message.
        messages = self._shelf.thread(number).messages if any(o.quote for o in held) else (last,)
        return Caller(name, customer, intent, messages, aside, orders)

    def case(self, thread_id: str) -> Case:
        return self._case(self._shelf.number(thread_id))

    def _case(self, number: int) -> Case:
        shelf = self._shelf
        return Case(shelf.thread(number), shelf.reading(number), shelf.orders(number), shelf.is_read(number))

    def order(self, order_id: int) -> Order:
        return self._shelf.order(order_id)
