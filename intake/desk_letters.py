"""Answers that go by mail: written into the outbox, sent once, and what came of it kept.

Nothing is sent twice without the baker's word. A letter is `written` before the server is called and `leaving` before
the first of its text leaves; what the server said is kept in the same change as the note in the conversation. So a
program that is killed leaves a letter that never left, or one of which nobody knows: that one is asked about.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from intake.book.journal import Change
from intake.book.letters import Letter, Letters
from intake.book.store import Book
from intake.desk_checks import named
from intake.house import House
from intake.model import Fate, Order, OrdertinError, Reply, Thread

if TYPE_CHECKING:
    from intake.replies.post import Server
    from intake.replies.sending import Mail

Note = Callable[[Change, int, Reply, str], Order]
_TO_SEND = (Fate.WRITTEN, Fate.REFUSED, Fate.UNREACHED, Fate.UNKNOWN)


class PostDesk:
    """The outbox of one book. `note` puts a sent answer (its order, its words, the id of its mail) into the
    conversation, within a change."""

    def __init__(self, book: Book, house: House, now: Callable[[], datetime], note: Note) -> None:
        self._book, self._house, self._now, self._note = book, house, now, note
        self._letters = Letters(book, house.zone)

    def outbox(self) -> tuple[Letter, ...]:
        """Every letter, the newest first. One that a stopped program has left behind is unreached or unknown."""
        held = self._letters.all()
        if any(letter.state in (Fate.WRITTEN, Fate.LEAVING) for letter in held):
            with self._letters.alone() as alone:
                if alone:
                    self._wake()
            held = self._letters.all()
        return held

    def before(self, order_id: int, reply: Reply) -> Letter | None:
        """The letter that speaks against sending `reply`: one of this order that may have gone, or one that has gone
        with the same words to the same address."""
        self.outbox()
        return self._before(order_id, reply)

    def _before(self, order_id: int, reply: Reply) -> Letter | None:
        held = self._letters.of_order(order_id)
        doubt = next((letter for letter in held if letter.may_have_gone), None)
        gone = (letter for letter in held if letter.state == Fate.ACCEPTED and _same(letter, reply))
        return doubt or next(gone, None)

    def can_send(self, reply: Reply) -> bool:
        """Whether there is an account to send from, and an address to send `reply` to."""
        from intake.replies.sending import bare

        return bool(self._house.mail.server and bare(reply.to))

    def can_write(self, reply: Reply) -> bool:
        """Whether `reply` can be written as a mail: it is known from whom and to whom."""
        from intake.replies.sending import bare

        return bool(bare(self._house.mail.address) and bare(reply.to))

    @property
    def sender(self) -> str:
        """Who a mail is from, as it is shown: `Nell <nell@example.org>`."""
        return f"{self._name} <{self._house.mail.address}>"

    def send(self, order: Order, reply: Reply, thread: Thread, *, again: bool = False) -> Letter:
        """Sends an answer, and gives the letter with what came of it.

        Raises OrdertinError, having sent nothing, where there is no account, no address or no password, and where it
        may have gone before, unless `again`. One that may have gone is sent again as the same mail, by which many
        mailboxes know that they have it.
        """
        mail, password = self._mail(reply, thread), self._password()
        with self._alone():
            held = self._before(order.id, reply)
            if held and not again:
                raise OrdertinError(why_not(held), where=named(order), todo=_todo(held))
            if held and held.may_have_gone and _same(held, reply):
                return self._post(held, password)
            parts = (mail.sender, mail.to, mail.subject, reply.text, mail.id, mail.data)
            fresh = Letter(0, order.id, reply.kind, *parts, Fate.WRITTEN, "", self._now())
            with self._book.change("", self._now()) as change:
                number = self._letters.add(change, fresh)
            return self._post(replace(fresh, id=number), password)

    def send_again(self, letter_id: int) -> Letter:
        """Sends a letter of the outbox as it stands, by the baker's word. Raises OrdertinError where it has gone."""
        password = self._password()
        with self._alone():
            letter = self._letters.one(letter_id)
            if letter.state == Fate.ACCEPTED:
                raise OrdertinError("this has been sent", where=f"letter {letter_id}", todo="Write another answer")
            return self._post(letter, password)

    def settle(self, letter_id: int, *, went: bool) -> Letter:
        """Keeps what the baker has found out about a letter that may have gone."""
        with self._alone():
            letter = self._letters.one(letter_id)
            if letter.state != Fate.UNKNOWN:
                what = f"what became of it is known: {STATES[letter.state]}"
                raise OrdertinError(what, where=f"letter {letter_id}", todo="Nothing was changed")
            if went:
                return self._keep(letter, Fate.ACCEPTED, "you found it among your sent mails")
            return self._keep(letter, Fate.UNREACHED, "you found that it has not gone")

    def try_account(self) -> str:
        """Reaches the server and logs in without sending anything; gives what came of it. Raises OrdertinError."""
        from intake.replies import post

        outcome = post.try_login(self._server(), self._password())
        if outcome.state != Fate.ACCEPTED:
            raise OrdertinError(outcome.what, where="mail", todo=outcome.todo)
        return outcome.what

    def keep_password(self, password: str) -> str:
        """Puts the password of the account into the system's keyring; gives whose it is."""
        from intake.replies.password import keep_password

        server = self._server()
        if not server.user:
            raise OrdertinError("no user is set", where="house rules, [mail]", todo="Set `user` first")
        keep_password(server.user, server.host, password)
        return f"{server.user} at {server.host}"

    def draft(self, reply: Reply, thread: Thread, path: Path) -> str:
        """Writes an answer to `path` as a mail (.eml) that the baker's own program can send; gives the id of the mail.

        Raises OrdertinError where there is no address, or where the file is there or can't be written.
        """
        from intake.replies.clipboard import save_bytes

        mail = self._mail(reply, thread)
        save_bytes(mail.data, path)
        return mail.id

    # Sending

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Nobody else sends from this book meanwhile, and of what was left behind it is known what it is."""
        with self._letters.alone() as alone:
            if not alone:
                raise OrdertinError("another window is sending just now", todo="Wait a moment, then look at the outbox")
            self._wake()
            yield

    def _wake(self) -> None:
        with self._book.change("", self._now()) as change:
            self._letters.wake(change, self._now())

    def _post(self, letter: Letter, password: str) -> Letter:
        from intake.replies import post
        from intake.replies.sending import Mail

        def leaving() -> None:
            with self._book.change("", self._now()) as change:
                self._letters.put(change, letter.id, Fate.LEAVING, "", self._now(), was=_TO_SEND)

        mail = Mail(letter.sender, letter.to, letter.subject, letter.mail_id, letter.mail)
        outcome = post.post(mail, self._server(), password, leaving=leaving)
        why = f"{outcome.what}. {outcome.todo}".removesuffix(". ")
        if letter.state == Fate.UNKNOWN and outcome.state != Fate.ACCEPTED:
            # That it did not go this time says nothing of the time before.
            return self._keep(letter, Fate.UNKNOWN, why)
        return self._keep(letter, outcome.state, why)

    def _keep(self, letter: Letter, state: Fate, why: str) -> Letter:
        """Keeps what became of a letter; one that has gone is noted in its conversation by the same change."""
        reply = Reply(letter.kind, letter.to, letter.subject, letter.text)
        try:
            with self._book.change(f"note of the mail to {letter.to}, order {letter.order_id}", self._now()) as change:
                self._letters.put(change, letter.id, state, why, self._now(), was=(*_TO_SEND, Fate.LEAVING))
                if state == Fate.ACCEPTED:
                    self._note(change, letter.order_id, reply, letter.mail_id)
        except OrdertinError as error:
            if state != Fate.ACCEPTED:
                raise
            raise OrdertinError(
                f"the mail has gone, but that can't be noted: {error.problem.what}",
                where=f"letter {letter.id}",
                todo="When the outbox asks about it, say that it went",
            ) from error
        return self._letters.one(letter.id)

    # The account

    @property
    def _name(self) -> str:
        return self._house.mail.from_name or self._house.house.baker or self._house.house.name

    def _server(self) -> Server:
        from intake.replies.post import Server

        rules = self._house.mail
        if not rules.server:
            raise OrdertinError(
                "no mail account is set up", where="house rules, [mail]", todo="Set `server`, or copy the answer"
            )
        return Server(rules.server, rules.port, rules.security, rules.user, rules.seconds)

    def _password(self) -> str:
        from intake.replies.password import password_of

        server = self._server()
        return password_of(server.user, server.host) if server.user else ""

    def _mail(self, reply: Reply, thread: Thread) -> Mail:
        from intake.replies.sending import bare, mail_of

        address = self._house.mail.address
        host = bare(address).rpartition("@")[2]
        mail_id = f"{secrets.token_hex(16)}@{host}"
        return mail_of(reply, thread, name=self._name, address=address, mail_id=mail_id, at=self._now())


STATES = {
    Fate.WRITTEN: "being sent",
    Fate.LEAVING: "being sent",
    Fate.ACCEPTED: "sent",
    Fate.REFUSED: "refused, not sent",
    Fate.UNREACHED: "not sent",
    Fate.UNKNOWN: "not known whether it went",
}


def letter_line(letter: Letter) -> str:
    """One line on a letter: `3  2026-11-25 10:12  dana@example.org, quote of order 7: sent`."""
    why = "" if letter.state == Fate.ACCEPTED else f": {letter.why}"
    about = f"{letter.to}, {letter.kind}, order {letter.order_id}"
    return f"{letter.id:<4} {letter.at:%Y-%m-%d %H:%M}  {STATES[letter.state]:<26} {about}{why}"


def why_not(held: Letter) -> str:
    """Why an answer should not be sent without another word of the baker."""
    if held.may_have_gone:
        return f"it is not known whether your answer to {held.to} of {held.at:%d %b, %H:%M} went"
    return f"these words went to {held.to} on {held.at:%d %b, %H:%M}"


def _todo(held: Letter) -> str:
    if held.may_have_gone:
        return f"Look among your sent mails, then: ordertin outbox --went {held.id}, or --lost {held.id}"
    return "Change the words, or say that they should go again"


def _same(letter: Letter, reply: Reply) -> bool:
    from intake.replies.sending import bare

    return letter.text.split() == reply.text.split() and letter.to == bare(reply.to)
