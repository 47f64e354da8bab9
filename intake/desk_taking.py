"""Messages on their way into the book: taken from exports or pasted, read, and drafted as orders."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from intake.book.journal import Change
from intake.book.people import People
from intake.book.shelf import Arrival, Arrivals, Shelf
from intake.book.store import Book
from intake.book.ties import Key, firm_keys
from intake.clean import clean
from intake.desk_change import asked, moved
from intake.desk_quote import altered
from intake.desk_reread import OPEN, merged, news, noted, paired
from intake.house import House
from intake.model import Draft, Order, OrdertinError, Reading, State, TakeReport, Thread

if TYPE_CHECKING:
    from intake.inbox.open_export import Export

_CLOSED = (State.HANDED_OVER, State.DROPPED)
_NOT_READ = "The messages, read again, no longer give this order."
# Of a larger export only the newest conversations are read: what is older has been made or has gone elsewhere.
MOST_READ = 120
Readings = dict[tuple[object, ...], Reading]
Progress = Callable[[str, int, int], None]


class Taking:
    """Taking into one book by one set of house rules."""

    def __init__(self, book: Book, shelf: Shelf, house: House) -> None:
        self._book, self._shelf, self._house = book, shelf, house
        self._people = People(book)

    def take(
        self,
        paths: Sequence[Path],
        at: datetime,
        progress: Progress | None,
        strict: bool,
        who: Callable[[Sequence[str]], House | None],
    ) -> TakeReport:
        """See `Desk.take`. `who` gives the house rules with the baker's name among the senders, or None."""
        told = progress or (lambda name, done, of: None)
        report = TakeReport()
        for path in paths:
            name = clean(path.name) or "this folder"
            try:
                export = self._open(path, name, told)
                if export.unknown and (known := who(export.unknown)):
                    self._house = known
                    export = self._open(path, name, told)
            except OrdertinError as error:
                report = replace(report, problems=(*report.problems, error.problem))
            else:
                report = replace(
                    report, problems=report.problems + export.problems, unknown=report.unknown or export.unknown
                )
                if not (strict and export.problems):
                    report = self._take(export, name, at, told, report)
            if strict and report.problems:
                break
        return report

    def _open(self, path: Path, name: str, progress: Progress) -> Export:
        from intake.inbox.chat_files import Habits
        from intake.inbox.open_export import open_export

        house = self._house
        columns = {str(ours): theirs for ours, theirs in house.inbox.columns.items()}
        habits = Habits(house.reading.date_order, columns, house.house.senders)
        return open_export(
            path,
            senders=house.house.senders,
            zone=house.zone,
            habits=habits,
            told=lambda count: progress(name, count, 0),
        )

    def _take(self, export: Export, name: str, at: datetime, progress: Progress, report: TakeReport) -> TakeReport:
        by_time = sorted(range(len(export.latest)), key=lambda index: export.latest[index], reverse=True)
        newest = set(by_time[:MOST_READ])
        # Reading is slow next to writing: what can be read beforehand is, and the book is held only to write.
        readings: Readings = {}
        for done, index in enumerate(sorted(newest), 1):
            thread = export.threads[index]
            arrival = self._shelf.arrival(thread)
            if arrival.new and not arrival.turned:
                self._read(self._with(thread, arrival), readings)
            progress(name, done, len(newest))
        with self._book.change(f"messages of {name}", at) as change:
            kept: dict[int, set[Key]] = {}
            arrivals = Arrivals(self._shelf)
            for index, thread in enumerate(export.threads):
                arrival = arrivals.of(thread)
                report = self._add(change, thread, arrival, report, readings, None if index in newest else kept)
            self._people.tie_kept(change, kept)
        return report

    def read(self, number: int, at: datetime) -> None:
        """See `Desk.read`."""
        if self._shelf.is_read(number):
            return
        thread = self._shelf.unread(number)
        reading = self._read(thread, {})
        with self._book.change(f"reading of {thread.customer or 'a conversation'}", at) as change:
            self._shelf.keep_reading(change, number, reading)
            self._reread(change, number, reading.drafts, written=True)
            self._people.tie(change, number)

    def paste(self, text: str, sender: str, at: datetime, to: int | None) -> int:
        """See `Desk.paste`. Gives the book's number of the conversation."""
        from intake.inbox.paste import thread_of_paste

        held = None if to is None else self._shelf.thread(to)
        pasted = self._conversation(text, at)
        if not pasted:
            one = thread_of_paste(text, at=at, sender=sender or (held.customer if held else ""))
            if held:
                # The same words on another day are another message: "yes" may answer two questions.
                one = replace(one, messages=tuple(replace(m, id=f"{m.id}-{at:%Y%m%d}") for m in one.messages))
            pasted = [one]
        if held:
            pasted = [replace(thread, key=held.key, channel=held.channel) for thread in pasted]
        what = "message" if len(pasted) == len(pasted[0].messages) == 1 else "messages"
        with self._book.change(f"{what} from {pasted[-1].customer or 'a customer'}", at) as change:
            for thread in pasted:
                self._add(change, thread, self._shelf.arrival(thread), TakeReport(), {})
            number = self._shelf.number_of(pasted[-1])
        assert number is not None
        return number

    def _conversation(self, text: str, at: datetime) -> list[Thread]:
        """The conversations in a paste of several messages, by their first message; none where it is one message."""
        from intake.inbox.baker import Baker
        from intake.inbox.chat_files import Habits, talks_of_text
        from intake.inbox.paste import LONGEST_PASTE
        from intake.inbox.talks import threads_of_talks

        if len(text) > LONGEST_PASTE:
            return []
        senders = self._house.house.senders
        habits = Habits(self._house.reading.date_order, mine=senders)
        talks, _ = talks_of_text(clean(text), "", self._house.zone, at, habits)
        return threads_of_talks(talks, baker=Baker.of(senders), latest=at)[0]

    def _with(self, thread: Thread, arrival: Arrival) -> Thread:
        """The part of a conversation that is to be read, as it will be once what is new of it has been added."""
        held = replace(thread, messages=()) if arrival.number is None else self._shelf.unread(arrival.number)
        return replace(held, messages=tuple(sorted(held.messages + arrival.new, key=lambda m: int(m.at.timestamp()))))

    def _read(self, thread: Thread, readings: Readings) -> Reading:
        from intake.reading.house_words import with_words
        from intake.reading.pipeline import read

        key = (thread.channel, thread.subject, *((m.id, m.mine) for m in thread.messages))
        if key not in readings:
            readings[key] = read(thread, with_words(self._house.reading, self._shelf.words()))
        return readings[key]

    def _add(
        self,
        change: Change,
        thread: Thread,
        arrival: Arrival,
        report: TakeReport,
        readings: Readings,
        kept: dict[int, set[Key]] | None = None,
    ) -> TakeReport:
        """Adds what is new of `thread`, its `arrival`, and reads it. Where `kept` is given it is only read if it has
        been before; else, if it is new, its number and what ties it to a person go into `kept`."""
        report = replace(report, messages_known=report.messages_known + arrival.known)
        if not arrival.news:
            return report
        read = kept is None or (arrival.number is not None and self._shelf.is_read(arrival.number))
        number = self._shelf.add(change, thread, arrival, aside=not read)
        report = replace(
            report,
            threads_new=report.threads_new + (arrival.number is None),
            messages_new=report.messages_new + len(arrival.new),
        )
        if kept is not None and not read:
            if arrival.number is None:
                kept[number] = firm_keys(text for m in arrival.new if not m.mine for text in (m.sender, m.address))
                return replace(report, unread=report.unread + 1)
            self._people.tie(change, number)
            return report
        reading = self._read(self._shelf.unread(number), readings)
        self._shelf.keep_reading(change, number, reading)
        written = any(not message.mine for message in arrival.new)
        orders = self._reread(change, number, reading.drafts, written)
        self._people.tie(change, number)
        return replace(report, orders_new=report.orders_new + orders)

    def _reread(self, change: Change, number: int, drafts: Sequence[Draft], written: bool) -> int:
        """Brings a conversation's orders up to its new drafts; gives how many are new.

        `written` tells whether the customer has written since. A booked order gets a change to accept, one that is
        handed over only a line in its note; what a customer wants after her order was dropped is an order of its own.
        """
        orders = self._shelf.current(number)
        as_read = [self._shelf.as_read(order.id) for order in orders]
        pairs = paired(orders, as_read, drafts)
        added = [draft for draft, pair in zip(drafts, pairs, strict=True) if pair is None]
        for i, (order, before) in enumerate(zip(orders, as_read, strict=True)):
            if i not in pairs:
                self._not_read(change, order, before)
                continue
            draft = drafts[pairs.index(i)]
            if order.state in OPEN:
                now = merged(before, order.draft, draft)
                after = replace(altered(order, now, self._house), moved=moved(order, now))
                if after.state is State.ASKED and written:
                    after = replace(after, state=State.QUOTED if after.quote else State.DRAFT)
            elif order.state is State.DROPPED:
                after = order
                if news(before, before, draft) and not draft.cancelled.value:
                    added.append(draft)
            elif order.state is State.BOOKED:
                after = replace(order, change=asked(order, before, draft))
            else:
                after = replace(order, note=noted(order.note, news(before, order.draft, draft)))
            self._shelf.keep_order(change, after, as_read=draft)
        for draft in added:
            self._shelf.add_order(change, number, Order(0, "", 0, State.DRAFT, draft))
        return len(added)

    def _not_read(self, change: Change, order: Order, before: Draft) -> None:
        """An order that the messages no longer give: dropped where nobody has touched it, else left with a note."""
        if order.state in _CLOSED:
            return
        after = replace(order, note=noted(order.note, [_NOT_READ]))
        if order.state is State.DRAFT and order.draft == before:
            # As if it had never been read, so that it is news should the messages give it again.
            self._shelf.keep_order(change, replace(after, state=State.DROPPED), as_read=Draft())
        else:
            self._shelf.keep_order(change, after)
