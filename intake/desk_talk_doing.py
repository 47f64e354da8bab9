"""What the baker has said yes to, done: each one change of the book, which undo takes back."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from intake.desk_talk_lines import due_words, left_words, order_line, title, total
from intake.desk_talk_shapes import Done, Plan
from intake.model import STEPS, State
from intake.talk_doubts import spoken
from intake.talk_shapes import Act

if TYPE_CHECKING:
    from intake.desk import Desk


def do(desk: Desk, made: Plan) -> Done:
    """Does what was planned; gives what was done. Raises OrdertinError where it can't be done any more."""
    if made.act.what == "undo":
        undone = desk.undo()
        return Done(f"Taken back: {undone}." if undone else "There is nothing to take back.", undone=undone or "")
    before = desk.version()
    said = _DO[made.act.what](desk, made.act, made)
    return Done(said, desk.last_change() if desk.version() != before else "")


def _do_book(desk: Desk, act: Act, made: Plan) -> str:
    order = desk.book(made.order)
    return f"Booked: {order_line(order)}. “write the confirmation” answers her."


def _do_price(desk: Desk, act: Act, made: Plan) -> str:
    order = desk.quote(made.order)
    assert order.quote
    return f"Priced: {total(order.quote)}. “is there room?” looks at your hours, “write the quote” answers her."


def _do_accept(desk: Desk, act: Act, made: Plan) -> str:
    order = desk.accept(made.order)
    return "Dropped, as she asks." if order.state is State.DROPPED else f"Changed: {order_line(order)}."


def _do_settle(desk: Desk, act: Act, made: Plan) -> str:
    order = desk.till.settle(made.order, act.words)
    return f"Settled: {total(order.quote) if order.quote else 'it counts once it is priced'}."


def _do_paid(desk: Desk, act: Act, made: Plan) -> str:
    assert act.amount is not None
    return f"Put down. {title(o := desk.till.pay(made.order, act.amount, act.how))}: {left_words(o)}."


def _do_refund(desk: Desk, act: Act, made: Plan) -> str:
    assert act.amount is not None
    return f"Put down. {title(o := desk.till.refund(made.order, act.amount, act.how))}: {left_words(o)}."


def _do_off(desk: Desk, act: Act, made: Plan) -> str:
    assert act.days
    desk.kitchen.day_off(*act.days)
    return f"{spoken(act.days)}: off."


def _do_on(desk: Desk, act: Act, made: Plan) -> str:
    assert act.days
    desk.kitchen.usual_hours(*act.days)
    return f"{spoken(act.days)}: as usual."


def _do_hours(desk: Desk, act: Act, made: Plan) -> str:
    assert act.days
    desk.kitchen.more_hours(act.days[0], act.hours)
    return f"{spoken(act.days)}: {act.hours} more."


def _do_calendar(desk: Desk, act: Act, made: Plan) -> str:
    return f"Written: {written(desk, 'orders.ics', desk.papers.calendar())}"


def _do_aside(desk: Desk, act: Act, made: Plan) -> str:
    desk.set_aside(made.thread)
    return "Set aside, until she writes again."


def _do_correct(desk: Desk, act: Act, made: Plan) -> str:
    return desk.say(made.order, act.words).answer


def written(desk: Desk, name: str, content: bytes) -> str:
    """Writes a paper into her folder; gives where it is. Raises OrdertinError."""
    from intake.papers.files import write

    return str(write(desk.home.papers / name, content, todo="Look at the folder's permissions"))


def _step(desk: Desk, made: Plan, step: str) -> str:
    order = desk.advance(made.order, step)
    if order.state is State.HANDED_OVER:
        return f"Handed over: {title(order)}; {left_words(order)}."
    return f"{title(order)}: at {order.step}, due {due_words(order.draft.due.value)}."


_DO: dict[str, Callable[[Desk, Act, Plan], str]] = {
    "price": _do_price,
    "confirm": lambda desk, act, made: f"Confirmed: {title(desk.confirm(made.order))}. “price it” is next.",
    "book": _do_book,
    "drop": lambda desk, act, made: f"Dropped: {title(desk.drop(made.order))}. “bring it back” makes it a draft again.",
    "reopen": lambda desk, act, made: f"{title(desk.reopen(made.order))} is a draft again.",
    "ready": lambda desk, act, made: f"{_step(desk, made, STEPS[-1])} “write the answer” tells her.",
    "stepon": lambda desk, act, made: _step(desk, made, act.words),
    "handed": lambda desk, act, made: _step(desk, made, State.HANDED_OVER),
    "accept": _do_accept,
    "refuse": lambda desk, act, made: f"Kept as booked: {order_line(desk.refuse(made.order))}. She does not know yet.",
    "aside": _do_aside, "settle": _do_settle, "paid": _do_paid, "refund": _do_refund, "off": _do_off, "on": _do_on,
    "hours": _do_hours, "calendar": _do_calendar, "correct": _do_correct,
}  # fmt: skip
