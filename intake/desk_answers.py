"""Answers on the desk: written, looked over, sent, and noted in their conversations."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from intake.book.journal import Change
from intake.book.letters import Letter
from intake.book.shelf import REPLY, Arrival
from intake.clean import clean
from intake.desk_checks import named
from intake.desk_core import CLOSED
from intake.desk_letters import PostDesk
from intake.desk_orders import OrdersDesk
from intake.desk_reread import OPEN
from intake.desk_waiting import answers_told, told
from intake.desk_wording import WordingDesk
from intake.home import Home
from intake.model import Clash, Message, Order, OrdertinError, Reply, State

LONGEST_TRACKING = 60


class AnswersDesk(OrdersDesk):
    """Answering customers."""

    def __init__(self, home: Home, *, now: Callable[[], datetime] | None = None) -> None:
        super().__init__(home, now=now)
        #: Answers by mail: the outbox, the account.
        self.letters = PostDesk(self._book, self.house, self.now, self._note)
        #: The words of answers, as the baker has set them.
        self.wording = WordingDesk(self.home.templates, lambda: self.house)

    def reply(self, order_id: int, kind: str | None = None) -> Reply:
        """An answer to the customer, of a kind of replies.wording.KINDS, else of that which fits best."""
        from intake.replies.cautions import to_mind
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
            if not kind and order.state in CLOSED:
                kind = kinds(order)[0]
        elif kind == "no room":
            verdict = self.room(order_id)
        reply = write(kind, order, self.house, templates=self.home.templates, verdict=verdict, language=language)
        reply = replace(reply, why=why, minds=to_mind(reply.kind, order, self.house))
        if thread.channel != "mail":
            return reply
        from intake.replies.sending import answering

        sent_from = next((m.address for m in reversed(thread.messages) if m.address and not m.mine), "")
        return replace(reply, to=sent_from or reply.to, subject=answering(thread.subject, reply.subject))

    def language(self, order_id: int) -> str:
        """The language of answers to an order: that of its conversation where there is wording in it."""
        from intake.replies.words import LANGUAGES

        read = self._shelf.reading(self._shelf.number(self._shelf.order(order_id).thread_id)).language
        return read if read in LANGUAGES else self.house.house.language

    def track(self, order_id: int, number: str) -> Order:
        """Keeps what the carrier calls the order's parcel; an empty text takes it away.

        Raises OrdertinError where it is longer than such a number can be.
        """
        number = " ".join(clean(number).split())
        if len(number) > LONGEST_TRACKING:
            raise OrdertinError(
                f"a tracking number has at most {LONGEST_TRACKING} letters and figures",
                where=named(self._shelf.order(order_id)),
                todo="Type the number alone",
            )
        return self._edit(order_id, "tracking number", lambda order: replace(order, tracking=number), but=())

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
