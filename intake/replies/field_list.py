"""The fields that a template may use, each with what it is: the list that the baker chooses from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Field:
    """`says` is what it is. `each` names the parts of its entries where it is a list whose entries have parts; `many`
    is whether it is a list."""

    name: str
    says: str
    many: bool = False
    each: tuple[str, ...] = ()

    @property
    def as_written(self) -> str:
        """How a template prints it."""
        if self.each:
            parts = ": ".join(f"{{{{ each.{part} }}}}" for part in self.each[:2])
            return f"{{% for each in {self.name} %}}\n- {parts}\n{{% endfor %}}\n"
        return f'{{{{ {self.name} | join(", ") }}}}' if self.many else f"{{{{ {self.name} }}}}"


FIELDS = (
    Field("greeting", "your greeting with the customer's name, from the house rules"),
    Field("sign_off", "your closing words, from the house rules"),
    Field("baker", "your name"),
    Field("house_name", "the name of your bakery"),
    Field("place", "where orders are picked up"),
    Field("tone", "warm or brief, from the house rules"),
    Field("name", "the customer's first name"),
    Field("full_name", "the customer's whole name"),
    Field("count", "how many cookies, a number"),
    Field("theme", "the theme"),
    Field("designs", "the shapes, with their numbers", many=True),
    Field("colors", "the colors", many=True),
    Field("flavors", "the flavors", many=True),
    Field("lettering", "the words on the cookies", many=True),
    Field("packaging", "how they are packed", many=True),
    Field("dietary", "diets and allergies that were asked about", many=True),
    Field("dietary_note", "what a home kitchen can't promise of these, as a sentence"),
    Field("allergens", "what your kitchen handles, from the house rules"),
    Field("occasion", "the occasion"),
    Field("honoree", "for whom it is"),
    Field("age", "how old they turn"),
    Field("due", "the day, with its time"),
    Field("due_is", "what that day is: handover, arrival or event"),
    Field("handover", "how they get there: pickup, deliver or ship"),
    Field("address", "where they go"),
    Field("tracking", "the parcel's number, which you give when it is posted"),
    Field("total", "the price in all"),
    Field("price_lines", "the lines of the price", many=True, each=("label", "amount")),
    Field("deposit", "what is still to come of the deposit"),
    Field("deposit_by", "the day for that"),
    Field("balance", "what is to come besides the deposit"),
    Field("balance_by", "the day for that"),
    Field("paid", "what has been paid"),
    Field("left", "what is still to pay in all"),
    Field("valid_until", "the day until which the price holds"),
    Field("lapses", "the day on which a price that was not taken up ends"),
    Field("earliest", "the first day with room, where there is none on hers"),
    Field("known", "what is certain so far, a line each", many=True),
    Field("questions", "what is to ask, and why", many=True, each=("text", "why")),
)


def value_shown(field: Field, values: Mapping[str, Any]) -> str:
    """The value of a field in one order, on one line; `empty` where it has none."""
    value = values[field.name]
    if field.each:
        value = [": ".join(entry[part] for part in field.each[:2]) for entry in value]
    text = "; ".join(value) if isinstance(value, list | tuple) else str(value or "")
    return " ".join(text.split()) or "empty"
