"""Answers that leave by mail from the Counter: a last look, the sending, and what to do where nobody knows."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING, Any

from intake.model import Fate, Order, Reply
from tui.counter_money import MoneyScreen
from tui.plain import joined, plain
from tui.words import LABELS

if TYPE_CHECKING:
    from intake.book.letters import Letter
    from tui.reply_sheet import Answered


class PostScreen(MoneyScreen):
    """What the Counter does about mail."""

    def replied(self, order: Order, left: Answered | None) -> None:
        if left is not None and left.how == "mail":
            self.last_look(order, left.reply)
        elif left is not None and left.how in ("copy", "file"):
            self.check_first(order, left)
        else:
            super().replied(order, left)

    def check_first(self, order: Order, left: Answered) -> None:
        """Let an answer out once the baker has seen what it says otherwise than its order."""
        take = super().replied

        def checked(doubts: Sequence[str]) -> None:
            from tui.ask import Answer, Ask

            if not doubts:
                take(order, left)
                return
            how = "copy it all the same" if left.how == "copy" else "write it all the same"
            question = joined(plain("This differs from the order:", "bold"), *map(plain, doubts), by="\n")
            self.app.push_screen(Ask(question, (Answer("c", "change it"), Answer("a", how))), chosen)

        def chosen(key: str | None) -> None:
            if key == "a":
                take(order, left)
            else:
                self.show_reply(order, left.reply)

        self.ask_desk("check", lambda desk: desk.doubts(order.id, left.reply), checked, fresh=True)

    def last_look(self, order: Order, reply: Reply) -> None:
        """Show an answer as it will go, and send it once the baker says so."""

        def work(desk: Any) -> tuple[str, Letter | None, Sequence[str]]:
            return desk.letters.sender, desk.letters.before(order.id, reply), desk.doubts(order.id, reply)

        def look(found: tuple[str, Letter | None, Sequence[str]]) -> None:
            from intake.desk_letters import why_not
            from tui.last_look import LastLook

            sender, held, doubts = found
            if held and held.may_have_gone:
                self.ask_about(held)
                return
            told = [*([f"{why_not(held).capitalize()}."] if held else []), *lacks(reply), *doubts]
            self.app.push_screen(LastLook(reply, sender, doubts=told, again=held is not None), chosen(held is not None))

        def chosen(again: bool) -> Any:
            def done(key: str | None) -> None:
                if key == "s":
                    self.send(order, reply, again=again)
                elif key == "c":
                    self.show_reply(order, reply)
                else:
                    self.keep_reply(order, reply)
                    self.tell("Not sent. The answer is kept on the slip.")

            return done

        self.ask_desk("last look", work, look, fresh=True)

    def send(self, order: Order, reply: Reply, *, again: bool) -> None:
        """Send an answer, beside all else that is going on."""
        self.keep_reply(order, reply)
        self.ask_desk(
            "send",
            lambda desk: desk.send(order.id, reply, again=again),
            lambda letter: self.sent(order, letter),
            busy=f"Sending it to {reply.to}. You can go on meanwhile.",
            lane="post",
        )

    def sent(self, order: Order, letter: Letter) -> None:
        """Say what came of a letter."""
        self.reload()
        match letter.state:
            case Fate.ACCEPTED:
                self.ordertin.unsent.keep("reply", "", "")
                self.forget_reply(order.id)
                self.tell(f"Sent: the mail server has your answer to {letter.to}. It is in the conversation.")
            case Fate.UNKNOWN:
                self.ask_about(letter)
            case _:
                self.tell(f"Not sent: {letter.why}.", "problem")

    def ask_about(self, letter: Letter) -> None:
        """Ask what became of a letter of which nobody knows whether it went."""
        from tui.ask import Answer, Ask

        choices = (
            Answer("l", "look later"),
            Answer("w", "it went"),
            Answer("n", "it has not gone"),
        )
        question = joined(
            plain("Did this go?", "bold"),
            plain(f"To {letter.to}, {letter.at:%d %b, %H:%M}: {letter.subject}"),
            plain(f"{letter.why[:1].upper()}{letter.why[1:]}." if letter.why else ""),
            plain("If you say that it went, it is put into the conversation."),
            by="\n",
        )

        def said(key: str | None) -> None:
            if key not in ("w", "n"):
                self.tell("Not known yet whether it went. “Outbox” (^p) asks again.")
                return
            went = key == "w"
            told = "It went: it is in the conversation now." if went else "It has not gone. F7, then F5 sends it."

            def settled(_: Letter) -> None:
                if went:
                    self.forget_reply(letter.order_id)
                self.tell(told)

            self.act("settle", lambda desk: desk.letters.settle(letter.id, went=went), settled)

        self.app.push_screen(Ask(question, choices), said)

    def left_open(self, letters: Sequence[Letter]) -> None:
        """Ask about the first of the letters of which nobody knows."""
        if letters:
            self.ask_about(letters[0])

    def action_outbox(self) -> None:
        def listed(letters: Sequence[Letter]) -> None:
            from intake.desk_letters import letter_line
            from tui.page import Page

            if doubtful := [letter for letter in letters if letter.state == Fate.UNKNOWN]:
                self.left_open(doubtful)
            elif letters:
                lines = (plain(letter_line(letter)) for letter in letters)
                self.app.push_screen(Page(joined(plain("What went by mail", "bold underline"), *lines, by="\n")))
            else:
                self.tell("Nothing has gone by mail yet. F7 writes an answer, and F5 there sends it.")

        self.ask_desk("outbox", lambda desk: desk.outbox(), listed, fresh=True)


def lacks(reply: Reply) -> list[str]:
    """What an answer would need and its order lacks, in a sentence."""
    missing = ", ".join(LABELS.get(name, name) for name in reply.missing)
    return [f"It lacks: {missing}. Look for the gaps."] if missing else []


def unknown(desk: Any) -> Sequence[Letter]:
    """The letters of which nobody knows whether they went."""
    return [letter for letter in desk.outbox() if letter.state == Fate.UNKNOWN]


def write_mail(desk: Any, order_id: int, reply: Reply, folder: Path) -> str:
    """Write an answer as a mail for the baker's own program; says where it is, empty where it can't be a mail.

    Raises OrdertinError where the file can't be written.
    """
    if not desk.letters.can_write(reply):
        return ""
    from tui.reply_sheet import make

    make(folder)
    stem = f"order-{order_id}-{reply.kind.replace(' ', '-')}"
    path = next(path for n in count(1) if not (path := folder / f"{stem}-{n}.eml").exists())
    desk.mail_file(order_id, reply, path)
    return f"Written to {path}. Open it with your mail program, and send it from there."
