"""The use cases: the few things a baker does, each one call and, where it writes, one change of the book.

The parts that read, price, plan and answer are loaded when first needed, so that looking at the book is quick.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from difflib import get_close_matches
from pathlib import Path
from types import TracebackType
from typing import Any

from intake import clock, house, record
from intake.book.journal import Change
from intake.book.letters import Letter
from intake.book.people import People
from intake.book.shelf import REPLY, Arrival, Shelf
from intake.book.store import Book
from intake.clean import clean
from intake.desk_change import as_asked, called_off, label
from intake.desk_checks import check_asked, check_bookable, confirmed, fields, named, refused, wrong_state
from intake.desk_customers import Alike, Customer, alike, customers, groups_of, number_of
from intake.desk_kitchen import Kitchen
from intake.desk_letters import PostDesk
from intake.desk_papers import Papers
from intake.desk_quote import altered, not_taken, order_price, taken
from intake.desk_reread import BAKER, OPEN
from intake.desk_search import Hit, hits
from intake.desk_taking import Progress, Taking
from intake.desk_till import TillDesk
from intake.desk_waiting import Caller, Waiting, answers_told, told, waiting
from intake.home import Home
from intake.house import House
from intake.model import (
    DRAFT_FIELDS,
    STEPS,
    Cell,
    Clash,
    HouseWord,
    Message,
    Order,
    OrdertinError,
    Problem,
    Quote,
    Reading,
    Reply,
    Shift,
    State,
    TakeReport,
    Thread,
    Verdict,
    Way,
)
from intake.slip_text import word_line

_CLOSED = (State.HANDED_OVER, State.DROPPED)


@dataclass(frozen=True, slots=True)
class Case:
    """A conversation, how it was last read, and its orders in their places. What is handed over is not read again.

    Not `is_read` is an old one that came with a large export and was only kept.
    """

    thread: Thread
    reading: Reading
    orders: tuple[Order, ...]
    is_read: bool = True


@dataclass(frozen=True, slots=True)
class Said:
    """What the baker's words did: the order as it now stands, the fields that they changed, the assistant's answer.

    `change` names the change as `undo` will.
    """

    order: Order
    changed: tuple[str, ...]
    answer: str
    change: str = ""


class Desk:
    """The baker's desk on one order book. Any method raises OrdertinError where the book can't be read or written.

    A thread is named `t12`, an order by its number. Several desks may be open on one book, and each thread of the
    program may call the same desk.
    """

    def __init__(self, home: Home, *, now: Callable[[], datetime] | None = None) -> None:
        self.home = home
        self.house = house.load(home.rules)
        self._now = now
        self._book = Book(home.book)
        self._shelf = Shelf(self._book, self.house.zone)
        self._people = People(self._book)
        self._taking = Taking(self._book, self._shelf, self.house)
        self.kitchen = Kitchen(self._book, self._shelf, self.house, self.now)
        #: The money side: terms of a price, payments, what is owed, the till.
        self.till = TillDesk(self._book, self._shelf, self.house, self.now, self.kitchen.follow)
        self.papers = Papers(self._book, self.house, self.now, self.rack, self.kitchen.bench)
        #: Answers by mail: the outbox, the account.
        self.letters = PostDesk(self._book, self.house, self.now, self._note)

    def __enter__(self) -> Desk:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        self._book.close()

    def now(self) -> datetime:
        return self._now() if self._now else clock.now(self.house.zone)

    def version(self) -> int:
        """A number that is another after each change of the book, from whichever window."""
        return self._book.version()

    def copy(self, to: Path) -> None:
        """A whole copy of the book in a new file at `to`."""
        self._book.copy(to)

    # Messages

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

        return self._taking.take(paths, self.now(), progress, strict, told)

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

    def rack(self) -> tuple[Order, ...]:
        """The booked orders, by hand-over day and time."""
        return tuple(sorted(self._shelf.in_state(State.BOOKED), key=_leaves))

    # Customers

    def customers(self) -> tuple[Customer, ...]:
        """All customers, who wrote last first. One with the same number or address in several conversations is one."""
        return customers(self._people.talks(), self.house.zone)

    def customer(self, thread_id: str) -> Customer:
        """The customer of a conversation, or by its own name (`c3`), with all her orders."""
        (found,) = customers(self._people.talks(number_of(thread_id, self._people)), self.house.zone)
        orders = [order for thread in found.threads for order in self._shelf.orders(self._shelf.number(thread))]
        return replace(found, history=tuple(sorted(orders, key=_leaves, reverse=True)))

    def alike(self, thread_id: str = "") -> tuple[Alike, ...]:
        """Customers who may be one person by their names, the likest first; only with that of `thread_id` where it is
        given. Those that the baker keeps apart are left out."""
        return alike(self._people, self.house.zone, number_of(thread_id, self._people) if thread_id else None)

    def join(self, one: str, other: str) -> Customer:
        """Makes two customers one, by the names of customers (`c3`) or conversations (`t12`)."""
        first, second, who = self._both(one, other)
        with self._book.change(f"joining of {who}", self.now()) as change:
            self._people.no_longer_apart(change, first, second)
            self._people.put_together(change, first, second)
        return self.customer(one)

    def keep_apart(self, one: str, other: str) -> None:
        """Notes that two customers are two: they are proposed no more, and nothing but `join` makes them one."""
        first, second, who = self._both(one, other)
        with self._book.change(f"keeping apart of {who}", self.now()) as change:
            if not self._people.kept_apart(first, second):
                self._people.keep_apart(change, first, second)

    def part(self, name: str) -> tuple[Customer, ...]:
        """Takes one conversation (`t12`) away from its customer; or a customer (`c3`) apart into conversations that
        share no number and no address. They are kept apart from then on. Gives the customers that there are now."""
        number = number_of(name, self._people)
        who = customers(self._people.talks(number), self.house.zone)[0]
        threads = [self._shelf.number(thread) for thread in who.threads]
        if name.strip().lower().startswith("t"):
            thread = self._shelf.number(name)
            groups = [[thread], [each for each in threads if each != thread]]
        else:
            groups = groups_of(self._people, number)
        where = f"{who.name} ({who.id})"
        if len(threads) == 1:
            raise OrdertinError("there is only one conversation", where=where, todo="Nothing was changed")
        if len(groups) == 1:
            todo = f"Name the one that is another's, of {', '.join(who.threads)}"
            raise OrdertinError("its conversations share a number or an address", where=where, todo=todo)
        with self._book.change(f"parting of {where}", self.now()) as change:
            self._people.take_apart(change, groups)
        return tuple(self.customer(f"c{min(group)}") for group in groups)

    def _both(self, one: str, other: str) -> tuple[int, int, str]:
        first, second = number_of(one, self._people), number_of(other, self._people)
        names = [customers(self._people.talks(number), self.house.zone)[0] for number in (first, second)]
        if first == second:
            todo = f"To take one away: ordertin customers --part {names[0].threads[-1]}"
            raise OrdertinError("they are one customer already", where=f"{names[0].name} ({names[0].id})", todo=todo)
        return first, second, " and ".join(f"{who.name} ({who.id})" for who in names)

    # The slip

    def correct(self, order_id: int, changes: Mapping[str, Any]) -> Order:
        """Sets fields by the baker's word, which later readings keep; an empty value clears one.

        Values may be as in `record.value_of`. Raises OrdertinError for an unknown field or a wrong value.
        """
        values = {name: _given(name, given) for name, given in changes.items()}

        def corrected(order: Order) -> Order:
            cells = {}
            for name, value in values.items():
                cell = order.draft.cell(name)
                cells[name] = Cell(value, True, cell.evidence if cell.value == value else (), rule=BAKER)
            day_is = order.draft.due_is
            if "due" in cells and "due_is" not in cells and day_is.value and day_is.why == order.draft.due.why:
                # What was in doubt was the day.
                cells["due_is"] = replace(day_is, sure=True, why="")
            return altered(order, replace(order.draft, **cells), self.house)

        then = self._learning(self._lessons(order_id, values))
        return self._edit(order_id, fields(values), corrected, but=_CLOSED, then=then)

    def say(self, order_id: int, words: str) -> Said:
        """A correction in the baker's own words; nothing changes where they are not understood."""
        from intake.talk import corrections

        order = self._shelf.order(order_id)
        thread = self._shelf.thread(self._shelf.number(order.thread_id))
        understood = corrections(clean(words), thread, order, self.house.reading, at=self.now())
        if not understood.changes:
            return Said(order, (), understood.answer)
        # The evidence is in what the baker typed, which is no message of the thread.
        cells = {name: replace(cell, evidence=(), rule=BAKER) for name, cell in understood.changes.items()}
        learnt = self._lessons(order_id, {name: cell.value for name, cell in cells.items()})
        after = self._edit(
            order_id,
            fields(cells),
            lambda now: altered(now, replace(now.draft, **cells), self.house),
            but=_CLOSED,
            then=self._learning(learnt),
        )
        changed = tuple(name for name in cells if after.draft.cell(name).value != order.draft.cell(name).value)
        answer = " ".join((understood.answer, *(f"From now on I know: {word_line(w)}." for w in learnt)))
        return Said(after, changed, answer, f"{fields(cells)} of {named(order)}")

    def _learning(self, learnt: Sequence[HouseWord]) -> Callable[[Change, Order], None]:
        return lambda change, order: self._shelf.learn(change, learnt)

    def _lessons(self, order_id: int, values: Mapping[str, Any]) -> list[HouseWord]:
        """What a correction teaches the reader that it did not know."""
        from intake.reading.house_words import lessons, with_words

        before = self._shelf.order(order_id)
        thread = self._shelf.thread(self._shelf.number(before.thread_id))
        texts = {m.id: m.text for m in thread.messages if not m.mine}
        rules = with_words(self.house.reading, self._shelf.words())
        taught = [lessons(name, before.draft.cell(name), value, texts, rules) for name, value in values.items()]
        return [w for w in dict.fromkeys(itertools.chain(*taught)) if w not in rules.words]

    def words(self) -> tuple[HouseWord, ...]:
        """What the baker's corrections have taught the reader, the oldest first."""
        return self._shelf.words()

    def forget_word(self, said: str) -> tuple[HouseWord, ...]:
        """Forgets what was learnt of a word; gives what that was. Raises OrdertinError where nothing was."""
        held = tuple(w for w in self._shelf.words() if w.said == " ".join(said.lower().split()))
        if not held:
            raise OrdertinError(f"“{said:.40}” is not among the words learnt", todo="ordertin words lists them")
        with self._book.change(f"forgetting of “{held[0].said}”", self.now()) as change:
            self._shelf.learn(change, [replace(w, means="") for w in held])
        return held

    def confirm(self, order_id: int) -> Order:
        """Settles every field that has a value. Raises OrdertinError that names what an order can't be without."""

        def settled(order: Order) -> Order:
            return replace(order, draft=confirmed(order))

        return self._edit(order_id, "confirmation", settled, but=_CLOSED)

    # Money, room, answers

    def quote(self, order_id: int) -> Order:
        """Prices an order. A booked one stays booked."""

        def quoted(order: Order) -> Order:
            quote = order_price(order, self.house, self.now().date())
            if isinstance(quote, Problem):
                raise refused(order, quote.what, quote.todo)
            return replace(order, quote=quote, state=order.state if order.state is State.BOOKED else State.QUOTED)

        return self._edit(order_id, "price", quoted, but=_CLOSED)

    def room(self, order_id: int) -> Verdict:
        """Whether the booked orders still ahead and this one, as the newest, can all be made. A change that is asked
        for is reckoned with."""
        return self.kitchen.room(self._as_asked(order_id), self.rack())

    def ways(self, order_id: int, clash: Clash) -> tuple[Way, ...]:
        """Ways out of a clash that `room` has found: another day, fewer or plainer cookies, longer hours."""
        return self.kitchen.ways(self._as_asked(order_id), self.rack(), clash)

    def _as_asked(self, order_id: int) -> Order:
        order = self._shelf.order(order_id)
        return replace(order, draft=as_asked(order))

    def reply(self, order_id: int, kind: str | None = None) -> Reply:
        """An answer to the customer, of a kind of replies.wording.KINDS, else of that which fits best."""
        from intake.replies.which import kinds, proposed
        from intake.replies.wording import write

        order = self._shelf.order(order_id)
        number = self._shelf.number(order.thread_id)
        thread, language = self._shelf.thread(number), self._shelf.reading(number).language
        verdict, said = None, answers_told(order, thread.messages)
        why = ""
        if kind is None:
            kind, why = proposed(order, None, said)
            # Only what would be quoted next can turn out to have no room.
            if kind == "quote":
                verdict = self.room(order_id)
                kind, why = proposed(order, verdict, said)
            if not kind and order.state in _CLOSED:
                kind = kinds(order)[0]
        elif kind == "no room":
            verdict = self.room(order_id)
        reply = write(kind, order, self.house, templates=self.home.templates, verdict=verdict, language=language)
        reply = replace(reply, why=why)
        if thread.channel != "mail":
            return reply
        from intake.replies.sending import answering

        sent_from = next((m.address for m in reversed(thread.messages) if m.address and not m.mine), "")
        return replace(reply, to=sent_from or reply.to, subject=answering(thread.subject, reply.subject))

    def answers(self, order_id: int) -> tuple[str, ...]:
        """The kinds of reply that have something to say to an order."""
        from intake.replies.which import kinds

        return kinds(self._shelf.order(order_id))

    def replied(self, order_id: int, reply: Reply, how: str, *, mail_id: str = "") -> Order:
        """Notes in the conversation that the baker has sent `reply`, and `how` (such as "by hand")."""
        order = self._shelf.order(order_id)
        with self._book.change(f"answer to {named(order)}, {how}", self.now()) as change:
            return self._note(change, order_id, reply, mail_id)

    def _note(self, change: Change, order_id: int, reply: Reply, mail_id: str) -> Order:
        """Puts a sent answer into its conversation."""
        order = self._shelf.order(order_id)
        number = self._shelf.number(order.thread_id)
        thread = self._shelf.thread(number)
        sender = self.house.house.baker or self.house.house.name
        key = f"{REPLY}{change.id}:{told(order, reply.kind)}"
        message = Message(key, sender, True, self.now(), clean(reply.text), mail_id=mail_id)
        self._shelf.add(change, thread, Arrival(number, (message,)))
        asks = reply.kind == "ask" and order.state in OPEN
        order = replace(order, state=State.ASKED if asks else order.state, moved=())
        self._shelf.keep_order(change, order)
        return order

    def send(self, order_id: int, reply: Reply, *, again: bool = False) -> Letter:
        """Sends an answer by mail and notes it in the conversation once the server has it; gives the letter with what
        came of it. Raises OrdertinError, having sent nothing, where it may have gone before, unless `again`."""
        order = self._shelf.order(order_id)
        return self.letters.send(order, reply, self._shelf.thread(self._shelf.number(order.thread_id)), again=again)

    def doubts(self, order_id: int, reply: Reply) -> tuple[str, ...]:
        """What `reply` says otherwise than the order, a sentence each: prices, days, times and counts."""
        from intake.replies.figures import differences

        order = self._shelf.order(order_id)
        language = self._shelf.reading(self._shelf.number(order.thread_id)).language
        verdict = self.room(order_id) if reply.kind == "no room" else None
        earliest = verdict.earliest if isinstance(verdict, Clash) else None
        return differences(reply.text, order, self.house, language, [earliest] if earliest else [])

    def outbox(self) -> tuple[Letter, ...]:
        """Every answer that was to go by mail, the newest first, and how far it got."""
        return self.letters.outbox()

    def mail_file(self, order_id: int, reply: Reply, path: Path) -> Order:
        """Writes an answer as a mail (.eml) for the baker's own program, and notes that she sends it from there."""
        order = self._shelf.order(order_id)
        mail_id = self.letters.draft(reply, self._shelf.thread(self._shelf.number(order.thread_id)), path)
        return self.replied(order_id, reply, "written as a mail", mail_id=mail_id)

    # The order's life

    def book(self, order_id: int) -> Order:
        """Books a confirmed and quoted order. Raises OrdertinError that says what is still open."""

        def booked(order: Order) -> Order:
            now = self.now()
            check_bookable(order, now.date())
            return replace(order, state=State.BOOKED, booked_at=now)

        return self._edit(order_id, "booking", booked, but=(State.BOOKED, *_CLOSED))

    def accept(self, order_id: int, *, seen: Sequence[Shift] | None = None) -> Order:
        """Takes the change asked of a booked order: its values, and its price made anew where they touch it. One that
        is called off is dropped.

        `seen` is the change as the baker saw it. Raises OrdertinError where that is no longer what is asked, and where
        the order would lack something.
        """

        def accepted(order: Order) -> Order:
            check_asked(order, seen)
            if not called_off(order):
                confirmed(replace(order, draft=as_asked(order)))
            after = taken(order, self.house, self.now())
            if isinstance(after, Problem):
                raise refused(order, after.what, after.todo)
            return after

        return self._edit(order_id, "taking the change", accepted, but=_but(State.BOOKED), then=self._if_over)

    def price_asked(self, order_id: int) -> Quote | None:
        """What a booked order would cost with the change asked of it; None where it would have no price."""
        after = taken(self._shelf.order(order_id), self.house, self.now())
        return after.quote if isinstance(after, Order) and after.state is State.BOOKED else None

    def refuse(self, order_id: int, *, seen: Sequence[Shift] | None = None) -> Order:
        """Leaves a booked order as it is. What was asked comes back only when the messages say something new.

        `seen` is as for `accept`.
        """

        def kept(order: Order) -> Order:
            check_asked(order, seen)
            return not_taken(order, self.now())

        return self._edit(order_id, "refusing the change", kept, but=_but(State.BOOKED))

    def drop(self, order_id: int) -> Order:
        """Sets an order aside for good. It stays in the book; `reopen` brings it back."""

        def dropped(order: Order) -> Order:
            return replace(not_taken(order, self.now()), state=State.DROPPED)

        return self._edit(order_id, "dropping", dropped, but=_CLOSED, then=self._if_over)

    def _if_over(self, change: Change, order: Order) -> None:
        """Sets a conversation aside once none of its orders is left to make."""
        number = self._shelf.number(order.thread_id)
        if all(o.state in _CLOSED for o in self._shelf.orders(number)):
            self._shelf.set_aside(change, number)

    def reopen(self, order_id: int) -> Order:
        """A dropped order as a draft again."""

        def reopened(order: Order) -> Order:
            return replace(order, state=State.DRAFT, step="", quote=None, booked_at=None)

        return self._edit(order_id, "bringing back", reopened, but=_but(State.DROPPED))

    def advance(self, order_id: int, step: str) -> Order:
        """Puts a booked order at one of its steps, or hands it over. Once a conversation has nothing left to make,
        what its customer writes next is read on its own."""
        handed = step == State.HANDED_OVER
        if not handed and step not in STEPS:
            raise OrdertinError(f'there is no step "{step:.40}"', todo=f"The steps are {', '.join(STEPS)}, handed over")

        before = self._shelf.order(order_id)

        def advanced(order: Order) -> Order:
            if handed:
                return replace(not_taken(order, self.now()), state=State.HANDED_OVER, step="")
            return replace(order, step=step)

        def then(change: Change, order: Order) -> None:
            self.kitchen.moved_back(change, before, step)
            number = self._shelf.number(order.thread_id)
            if handed and all(o.state in _CLOSED for o in self._shelf.current(number)):
                self._shelf.close(change, number)
                self._shelf.set_aside(change, number)

        what = "handing over" if handed else f"step {step}"
        return self._edit(order_id, what, advanced, but=_but(State.BOOKED), then=then)

    def set_aside(self, thread_id: str) -> None:
        """Takes a conversation without an open order off the waiting list until its customer writes again."""
        number = self._shelf.number(thread_id)
        who = self._shelf.thread(number).customer or "a conversation"
        with self._book.change(f"setting aside of {who}", self.now()) as change:
            standing = next((o for o in self._shelf.orders(number) if o.state in OPEN), None)
            if standing:
                raise refused(standing, "it is still open", "Answer it, or drop it")
            self._shelf.set_aside(change, number)

    def undo(self) -> str | None:
        """Takes back the last change of the book; gives its words, None where there is none to take back."""
        return self._book.undo(self.now())

    def _edit(
        self,
        order_id: int,
        what: str,
        edit: Callable[[Order], Order],
        *,
        but: Sequence[State],
        then: Callable[[Change, Order], None] = lambda change, order: None,
    ) -> Order:
        """One change of one order, refused where it is in a state of `but`. Where the kitchen then has other work to
        do, that of all booked orders is planned anew."""
        with self._book.change(f"{what} of {named(self._shelf.order(order_id))}", self.now()) as change:
            order = self._shelf.order(order_id)
            if order.state in but:
                raise wrong_state(order)
            after = replace(edit(order), moved=())
            self._shelf.keep_order(change, after)
            if any(after.draft.cell(name) != order.draft.cell(name) for name in ("customer", "phone", "email")):
                self._people.tie(change, self._shelf.number(order.thread_id))
            then(change, after)
            self.kitchen.follow(change, order, after)
        return after


def _leaves(order: Order) -> tuple[date, time, int]:
    due = order.draft.due.value
    return (due.last if due else date.max), (due.time if due and due.time else time.max), order.id


def _but(wanted: State) -> list[State]:
    return [state for state in State if state is not wanted]


def _given(name: str, given: Any) -> Any:
    if name not in DRAFT_FIELDS:
        close = get_close_matches(name, DRAFT_FIELDS, n=1)
        raise OrdertinError(f'an order has no "{name:.40}"', todo=f"Did you mean {close[0]}?" if close else "")
    try:
        return record.value_of(name, given)
    except ValueError as error:
        raise OrdertinError(f"{label(name)} must be {error}", todo="Type it again") from None
