"""The assistant at the desk: what the baker types is answered, or shown to her as what it would change.

Only a correction of an open slip is done at once. Anything else that changes the book is a `Plan`, which `do` carries
out with her yes; each is one change of the book, which undo takes back.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from intake.clean import clean
from intake.desk_checks import named
from intake.desk_core import CLOSED
from intake.desk_reread import OPEN
from intake.desk_talk_acts import OF_THE_BOOK, plan
from intake.desk_talk_asks import OF_AN_ORDER, answer, hypothetical
from intake.desk_talk_doing import do, written
from intake.desk_talk_lines import listed, order_line, title, upper
from intake.desk_talk_shapes import Done, Go, Heard, Plan
from intake.model import Order, OrdertinError, Reply, State
from intake.record import in_words
from intake.talk import Correction
from intake.talk_shapes import Act, Ask, Hand, NotUnderstood, Unclear

if TYPE_CHECKING:
    from intake.desk import Desk

__all__ = ["Done", "Go", "Heard", "Plan", "do", "hear", "understood"]

_NONE_OPEN = "No order is open here. Open one, or name the customer: “price Dana's order”."


def hear(desk: Desk, words: str, *, order_id: int = 0, thread_id: str = "") -> Heard:
    """What the baker's `words` mean with one order in hand, or none. Raises OrdertinError where the book can't be read.

    What the desk refuses is an answer, which says why.
    """
    from intake.talk_meant import meant

    words = clean(words)
    order = desk.order(order_id) if order_id else None
    hand = _hand(desk, order)
    found = meant(words, hand)
    match found:
        case NotUnderstood():
            offers = " · ".join(f"“{each}”" for each in found.nearest)
            return Heard(f"I didn't understand that, and changed nothing. I can do: {offers}.", understood=False)
        case Unclear():
            return Heard(found.question, choices=found.choices)
        case Correction():
            return _corrected(desk, words, found, order)
    about, doubt = _about(desk, found.who, order)
    if doubt:
        return Heard(doubt[0], choices=tuple(_renamed(words, found.who, number) for number in doubt[1:]))
    try:
        return _answered(desk, found, about) if isinstance(found, Ask) else _acted(desk, found, about, thread_id)
    except OrdertinError as error:
        return Heard(str(error), refused=True)


def understood(desk: Desk, words: str) -> bool:
    """Whether `words` are an ask or an act, with no order in hand. Nothing is done."""
    from intake.talk_meant import meant

    return isinstance(meant(clean(words), _hand(desk, None)), Ask | Act | Unclear)


def _hand(desk: Desk, order: Order | None) -> Hand:
    from intake.reading.house_words import with_words

    rules = with_words(desk.house.reading, desk.words())
    thread = desk.case(order.thread_id).thread if order else None
    people = tuple(dict.fromkeys(customer.name for customer in desk.customers()))
    return Hand(desk.now(), rules, order, thread, people)


def _corrected(desk: Desk, words: str, found: Correction, order: Order | None) -> Heard:
    if order is None or not found.changes:
        return Heard(found.answer)
    try:
        if order.state in OPEN:
            said = desk.say(order.id, words)
            return Heard(said.answer, said.changed, said.change)
        told = "\n".join(
            f"· {name}: {in_words(order.draft.cell(name).value)} -> {in_words(cell.value)}"
            for name, cell in found.changes.items()
        )
        made = plan(desk, Act("correct", words=words, how=told), order) if order.state not in CLOSED else None
        return _planned(made) if made else _over(order)
    except OrdertinError as error:
        return Heard(str(error), refused=True)


def _over(order: Order) -> Heard:
    return Heard(f"{upper(named(order))} is {order.state}: it stays as it was.", refused=True)


def _no_order(who: str) -> Heard:
    return Heard(f"No order of {who} is in the book." if who else _NONE_OPEN, refused=True)


def _planned(made: Plan | str) -> Heard:
    return Heard(made) if isinstance(made, str) else Heard(made.asks, plan=made)


# Which order


def _about(desk: Desk, who: str, order: Order | None) -> tuple[Order | None, tuple[str, ...]]:
    """The order that is meant; or a question with the numbers of those that may be."""
    if not who or (order and order.draft.customer.value == who):
        return order, ()
    if who.startswith("#"):
        return desk.order(int(who[1:])), ()
    standing, over = [], []
    for customer in desk.customers():
        if customer.name == who:
            history = desk.customer(customer.id).history
            standing += [each for each in history if each.state not in CLOSED]
            over += [each for each in history if each.state in CLOSED]
    if len(standing) > 1:
        told = " or ".join(f"{each.id} ({order_line(each)})" for each in standing)
        return None, (f"Which order of {who}: {told}?", *(str(each.id) for each in standing))
    return next(iter((*standing, *over)), None), ()


def _renamed(words: str, who: str, number: str) -> str:
    """`words` with the order's number in place of its customer's name."""
    for name in (who, who.split()[0], who.split()[-1]):
        at = words.lower().find(name.lower())
        if at >= 0:
            rest = words[at + len(name) :]
            rest = rest[2:] if rest[:2] in ("'s", "\u2019s") else rest
            rest = rest.removeprefix(" order")
            return f"{words[:at]}order {number}{rest}"
    return f"{words} order {number}"


# Asks and acts


def _answered(desk: Desk, ask: Ask, order: Order | None) -> Heard:
    if ask.what == "find":
        return _found(desk, ask.words)
    if ask.what in OF_AN_ORDER and order is None:
        if ask.what == "price" and ask.count:
            return Heard(hypothetical(desk, ask))
        if ask.what == "paid" and not ask.who:
            return Heard(answer(desk, Ask("unpaid"), None))
        return _no_order(ask.who)
    return Heard(answer(desk, ask, order))


def _found(desk: Desk, words: str) -> Heard:
    """Conversations with all of the words, or where none has them, with their stems."""
    hits = desk.search(words) or desk.search(" ".join(word.removesuffix("s") for word in words.split()))
    if not hits:
        return Heard(f"No message holds “{words}”.")
    lines = [f"{hit.customer or 'a customer'}, {hit.at.day} {hit.at:%b} {hit.at.year}: {hit.excerpt}" for hit in hits]
    go = Go("thread", hits[0].thread_id) if len(hits) == 1 else None
    head = f"{len(hits)} conversation{'' if len(hits) == 1 else 's'} with “{words}”:"
    return Heard(listed(head, lines), go=go)


def _acted(desk: Desk, act: Act, order: Order | None, thread_id: str) -> Heard:
    match act.what:
        case "go":
            return Heard(f"To the {upper(act.kind)}.", go=Go(act.kind))
        case "nextone":
            return Heard("The next.", go=Go("next"))
        case "open":
            return _opened(act, order)
        case "sheet":
            assert act.days
            day = act.days[0]
            return Heard(f"Written: {written(desk, f'day-{day}.pdf', desk.papers.day_sheet(day))}")
        case "aside" if order is None and thread_id:
            made = Plan(act, 0, thread_id, "Set this conversation aside, until she writes again?", "set it aside")
            return Heard(made.asks, plan=made)
    if act.what in OF_THE_BOOK:
        return _planned(plan(desk, act, None))
    if order is None:
        return _no_order(act.who)
    match act.what:
        case "ask" | "write":
            return _reply(desk, act, order)
        case "labels":
            return _labels(desk, order)
    return _planned(plan(desk, act, order))


def _opened(act: Act, order: Order | None) -> Heard:
    if order is None:
        return _no_order(act.who)
    return Heard(f"{title(order)}.", go=Go("thread", order.thread_id, order.id))


def _reply(desk: Desk, act: Act, order: Order) -> Heard:
    """An answer to her customer, to be looked at; nothing is changed by writing it."""
    kind = "ask" if act.what == "ask" else act.kind or None
    reply = _question(desk, order, act.fields) if act.what == "ask" and act.fields else desk.reply(order.id, kind)
    why = f" ({reply.why})" if reply.why else ""
    return Heard(f"Written for {order.who}: {reply.kind}{why}.", go=Go("reply", order.thread_id, order.id, reply))


def _question(desk: Desk, order: Order, fields: Sequence[str]) -> Reply:
    """The question about some fields alone, in her own wording for questions."""
    from intake.replies.questions import questions
    from intake.replies.words import QUESTIONS

    whole = desk.reply(order.id, "ask")
    language = desk.case(order.thread_id).reading.language
    language = language if language in QUESTIONS else desk.house.house.language
    asked = {each.field: each.text for each in questions(order.draft, language)}
    texts = [asked.get(name) or QUESTIONS[language][name][0] for name in fields if name in QUESTIONS[language]]
    texts = [text for text in texts if text]
    if not texts:
        raise OrdertinError(f"there is no question about {' or '.join(fields)}", todo="“ask her” asks what is open")
    greeting, *rest = whole.text.split("\n\n")
    text = "\n\n".join((greeting, "\n".join(texts), *rest[-1:]))
    return replace(whole, text=text, why="you asked for it", missing=())


def _labels(desk: Desk, order: Order) -> Heard:
    if order.state is not State.BOOKED and order.state is not State.HANDED_OVER:
        return Heard(f"{upper(named(order))} is not booked: labels are for what is made.", refused=True)
    pdf, found = desk.papers.labels(order)
    lacks = [*(f"missing: {each}" for each in found.missing), *found.notes]
    return Heard(listed(f"Written: {written(desk, f'labels-{order.id}.pdf', pdf)}", lacks))


