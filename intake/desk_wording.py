"""The wording of answers on the desk: looked at, tried on an order, kept, put back."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from intake.house import House
from intake.model import Order, Verdict

if TYPE_CHECKING:
    from intake.replies.own_words import Seen, Wording


@dataclass(frozen=True, slots=True)
class Tried:
    """A template tried on an order: the answer, and each field with what it is, how it is written and its value."""

    seen: Seen
    fields: tuple[tuple[str, str, str, str], ...]


class WordingDesk:
    """The baker's wording in `folder`. Any method raises OrdertinError for a name that is no template's."""

    def __init__(self, folder: Path, house: Callable[[], House]) -> None:
        self._folder, self._house = folder, house

    def all(self) -> tuple[Wording, ...]:
        from intake.replies.own_words import wordings

        return wordings(self._folder)

    def tried(self, wording: Wording, words: str, order: Order | None = None, verdict: Verdict | None = None) -> Tried:
        """The answer that `words` would make in the place of `wording`: to `order`, or to a sample."""
        from intake.replies.field_list import FIELDS, value_shown
        from intake.replies.fields import fields_of
        from intake.replies.own_words import seen
        from intake.replies.sample import full

        if order is None:
            order, verdict = full(wording.kind)
        values = fields_of(order, self._house(), verdict, wording.language)
        fields = tuple((each.name, each.says, each.as_written, value_shown(each, values)) for each in FIELDS)
        return Tried(seen(words, wording.good, values, wording.language), fields)

    def keep(self, wording: Wording, words: str) -> Wording:
        """Puts `words` in the place of a template, seen as `wording`; with a mistake in them they wait to be mended.
        Raises OrdertinError where they can't be written."""
        from intake.replies.own_words import keep

        return keep(self._folder, wording.file, words, was=wording.words)

    def put_back(self, wording: Wording, words: str) -> Wording:
        """Puts our words in the place of hers, which go aside as she has typed them."""
        from intake.replies.own_words import put_back

        self._typed(wording, words)
        return put_back(self._folder, wording.file)

    def bring_back(self, wording: Wording, words: str) -> Wording:
        """Exchanges the words of a template, as she has typed them, with those that went aside."""
        from intake.replies.own_words import bring_back

        self._typed(wording, words)
        return bring_back(self._folder, wording.file)

    def _typed(self, wording: Wording, words: str) -> None:
        if words != wording.words:
            self.keep(wording, words)
