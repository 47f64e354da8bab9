"""The slip: an order put right by the baker, and what the reader learns of it."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any

from intake import record
from intake.book.journal import Change
from intake.clean import clean
from intake.desk_change import label
from intake.desk_checks import confirmed, fields, named
from intake.desk_core import CLOSED, Core
from intake.desk_quote import altered
from intake.desk_reread import BAKER
from intake.model import DRAFT_FIELDS, Cell, HouseWord, Order, OrdertinError
from intake.slip_text import word_line

# A sentence in which words alone are read as a field.
_FRAMES = {
    "count": "I would like {} cookies please",
    "due": "I would like 2 dozen cookies, pickup {}",
    "handover": "I would like 2 dozen cookies, {}",
    "colors": "I would like 2 dozen cookies in {}",
    "flavors": "I would like 2 dozen {} cookies",
    "dietary": "I would like 2 dozen cookies, {}",
    "occasion": "I would like 2 dozen cookies for a {}",
    "packaging": "I would like 2 dozen cookies, {}",
    "age": "I would like 2 dozen cookies for a birthday, turning {}",
    "budget": "I would like 2 dozen cookies, my budget is {}",
}


@dataclass(frozen=True, slots=True)
class Said:
    """What the baker's words did: the order as it now stands, the fields that they changed, the assistant's answer.

    `change` names the change as `undo` will.
    """

    order: Order
    changed: tuple[str, ...]
    answer: str
    change: str = ""


class SlipDesk(Core):
    """Correcting and confirming drafts."""

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
        return self._edit(order_id, fields(values), corrected, but=CLOSED, then=then)

    def say(self, order_id: int, words: str) -> Said:
        """A correction in the baker's own words; nothing changes where they are not understood."""
        from intake.reading.house_words import with_words
        from intake.talk import corrections

        order = self._shelf.order(order_id)
        thread = self._shelf.thread(self._shelf.number(order.thread_id))
        rules = with_words(self.house.reading, self._shelf.words())
        understood = corrections(clean(words), thread, order, rules, at=self.now())
        if not understood.changes:
            return Said(order, (), understood.answer)
        # The evidence is in what the baker typed, which is no message of the thread.
        cells = {name: replace(cell, evidence=(), rule=BAKER) for name, cell in understood.changes.items()}
        learnt = self._lessons(order_id, {name: cell.value for name, cell in cells.items()})
        after = self._edit(
            order_id,
            fields(cells),
            lambda now: altered(now, replace(now.draft, **cells), self.house),
            but=CLOSED,
            then=self._learning(learnt),
        )
        changed = tuple(name for name in cells if after.draft.cell(name).value != order.draft.cell(name).value)
        answer = " ".join((understood.answer, *(f"From now on I know: {word_line(w)}." for w in learnt)))
        return Said(after, changed, answer, f"{fields(cells)} of {named(order)}")

    def read_as(self, order_id: int, field: str, words: str) -> Any:
        """What the reader makes of some words of a message as the field `field` of an order; None where nothing. It
        sees them in a sentence of their own, as of the customer's last message."""
        from intake.reading.house_words import with_words
        from intake.reading.pipeline import read

        order = self._shelf.order(order_id)
        thread = self._shelf.thread(self._shelf.number(order.thread_id))
        asked = next((m for m in reversed(thread.messages) if not m.mine), None)
        if asked is None:
            return None
        rules = with_words(self.house.reading, self._shelf.words())
        for frame in ("{}", _FRAMES.get(field, "")):
            message = replace(asked, text=frame.replace("{}", clean(words)), raw=None)
            drafts = read(replace(thread, messages=(message,)), rules).drafts if frame else ()
            if drafts and not drafts[0].cell(field).missing:
                return drafts[0].cell(field).value
        return None

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

        return self._edit(order_id, "confirmation", settled, but=CLOSED)


def _given(name: str, given: Any) -> Any:
    if name not in DRAFT_FIELDS:
        close = get_close_matches(name, DRAFT_FIELDS, n=1)
        raise OrdertinError(f'an order has no "{name:.40}"', todo=f"Did you mean {close[0]}?" if close else "")
    try:
        return record.value_of(name, given)
    except ValueError as error:
        raise OrdertinError(f"{label(name)} must be {error}", todo="Type it again") from None
