"""The customer of the open conversation: where else she wrote, what she ordered before, and who she may be."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from intake.model import State
from tui import words
from tui.plain import plain
from tui.road import View

if TYPE_CHECKING:
    from intake.desk_customers import Alike
    from tui.counter_road import RoadScreen

_SHOWN = 3


def known(view: View) -> str:
    """`Also wrote: t4 (mail). 2 orders before, the last for Sat 4 Apr.` and who may be the same; empty where she is
    new."""
    return " ".join(filter(None, (_elsewhere(view), _before(view), _maybe(view.like))))


def _elsewhere(view: View) -> str:
    if view.known is None:
        return ""
    talks = zip(view.known.threads, view.known.channels, strict=True)
    others = [f"{thread} ({channel})" for thread, channel in reversed(list(talks)) if thread != view.thread_id]
    more = f" and {len(others) - _SHOWN} more" if len(others) > _SHOWN else ""
    return f"Also wrote: {', '.join(others[:_SHOWN])}{more}." if others else ""


def _before(view: View) -> str:
    here = view.order.id if view.order else 0
    before = [
        order
        for order in (view.known.history if view.known else ())
        if order.id != here
        and order.state is not State.DROPPED
        and (order.thread_id != view.thread_id or order.state is State.HANDED_OVER)
    ]
    if not before:
        return ""
    days = [order.draft.due.value.last for order in before if order.draft.due.value]
    last = f", the last for {words.day(max(days), view.today)}" if days else ""
    return f"{len(before)} other order{'' if len(before) == 1 else 's'}{last}: ^x."


def _maybe(like: Sequence[Alike]) -> str:
    return f"The same as {like[0].other.name} ({like[0].other.threads[0]})? Click, or ^p same customer." if like else ""


def ask(screen: RoadScreen) -> None:
    """Ask whether the two of the first proposal are one person, and have the book keep the answer."""
    from tui.ask import Answer, Ask

    if not screen.view.like:
        screen.tell("Nobody else in the book has a name like that.")
        return
    one, other = screen.view.like[0].one, screen.view.like[0].other
    choices = (Answer("l", "leave it open"), Answer("y", "one person"), Answer("n", "two people: don't ask again"))
    talks = ", ".join(f"{thread} ({channel})" for thread, channel in zip(other.threads, other.channels, strict=True))
    question = plain(f"Is {one.name} the same person as {other.name}, who wrote {talks}?\n{screen.view.like[0].why}")

    def answered(key: str | None) -> None:
        if key == "y":
            said = f"One customer now: {one.name} and {other.name}. F10 takes it back."
            screen.act("join", lambda desk: desk.join(one.id, other.id), lambda _: screen.tell(said))
        elif key == "n":
            said = "Two people; they are not asked about again."
            screen.act("keep apart", lambda desk: desk.keep_apart(one.id, other.id), lambda _: screen.tell(said))

    screen.app.push_screen(Ask(question, choices), answered)
