"""The house rules as forms: sections of fields that a baker can read and type into, and the way back to the file.

What one line of typing can't hold (a list of tables, a list over several lines, what lies too deep) is left to the
file, and said so. Values are checked by the same models that load the file.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

from intake import house, house_edit
from intake.house_edit import Leaf, Written
from intake.model import OrdertinError

TITLES: Mapping[str, str] = {
    "house": "You and your shop",
    "rates": "Prices",
    "hours": "Your hours",
    "kitchen": "The kitchen",
    "oven": "Oven",
    "steps": "Minutes of work",
    "waits": "Waits",
    "keeping": "How long it keeps",
    "shipping": "Posting days",
    "parcels": "Parcels",
    "reply": "Answers",
    "mail": "Mail account",
    "reading": "How messages are read",
    "inbox": "Tables of messages",
    "costs": "Your costs",
    "till": "Sales cap",
    "cookies": "Cookies and cutters",
    "icing": "Icing",
    "labels": "Labels",
    "papers": "Papers",
    "ingredients": "Ingredients",
    "recipes": "Recipes",
}
#: A value deeper in the file than this is left to the file.
_DEEPEST = 3
_NUMBER = re.compile(r"-?\d{1,9}(\.\d{1,6})?")


@dataclass(frozen=True, slots=True)
class Field:
    """One house rule: where it is, what it is called, what it means, and what would be typed for it. `choices` are
    the only values there are. `kind` is `words`, `number`, `yes or no`, `list`, `numbers`, or `file`: that one is
    only shown, as it is written."""

    path: tuple[str, ...]
    label: str
    note: str
    typed: str
    kind: str
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    name: str
    title: str
    note: str
    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why the house rules would not hold: the field, where one is at fault, and what is wrong, in words."""

    path: tuple[str, ...]
    what: str


def sections(text: str) -> tuple[Section, ...]:
    """The sections of a file of house rules, the more often changed first. A rule that the file leaves out stands in
    its place with the value that holds then. Raises OrdertinError where the file is no TOML."""
    own = {leaf.path: leaf for leaf in house_edit.leaves(text)}
    ours = _ours()
    free = {"ingredients", "recipes"}
    every = {**{path: leaf for path, leaf in ours.items() if path[0] not in free or not _has(own, path[0])}, **own}
    # A rule that is written in hers otherwise than in ours (a table for a number) stands once, as hers.
    every = {path: leaf for path, leaf in every.items() if path in own or not _within(path, own)}
    names = [*TITLES, *(path[0] for path in every if path[0] not in TITLES)]
    found = []
    for name in dict.fromkeys(names):
        # A section keeps the order of the shipped file, with what is hers alone behind.
        paths = [path for path in every if path[0] == name]
        fields = tuple(_field(every[path], ours.get(path)) for path in paths if not _is_table(every[path], every))
        if fields:
            head = every.get((name,))
            found.append(Section(name, TITLES.get(name, name), head.note if head else "", fields))
    return tuple(found)


@cache
def _ours() -> dict[tuple[str, ...], Leaf]:
    return {leaf.path: leaf for leaf in house_edit.leaves(house.default_text())}


def _has(leaves: Mapping[tuple[str, ...], Leaf], name: str) -> bool:
    return any(path[0] == name for path in leaves)


def _within(path: tuple[str, ...], own: Mapping[tuple[str, ...], Leaf]) -> bool:
    """Whether `path` lies in something that her file holds whole: a value, or an inline table of its own keys."""
    heads = [path[:n] for n in range(1, len(path))]
    return any(head in own and (own[head].value is not None or len(head) > 1) for head in heads)


def _is_table(leaf: Leaf, every: Mapping[tuple[str, ...], Leaf]) -> bool:
    return leaf.value is None and any(path[: len(leaf.path)] == leaf.path != path for path in every)


def _field(leaf: Leaf, ours: Leaf | None) -> Field:
    note = leaf.note or (ours.note if ours else "")
    if not note and len(leaf.path) > 2 and leaf.path[0] != "recipes":
        note = _ours().get(leaf.path[:-1], leaf).note
    label = ": ".join(part.replace("_", " ") for part in leaf.path[1:]) or leaf.path[0]
    kind, choices = _kind(leaf), _choices(leaf.path)
    return Field(leaf.path, label, note, leaf.written if kind == "file" else _typed(leaf), kind, choices)


def _kind(leaf: Leaf) -> str:
    value = leaf.value
    if len(leaf.path) > _DEEPEST or "\n" in leaf.written or len(leaf.path) < 2:
        return "file"
    match value:
        case bool():
            return "yes or no"
        case int() | float():
            return "number"
        case str():
            return "words"
        case [] if _model_of(leaf.path, of_tables=True):
            return "file"
        case list() if value and all(isinstance(item, int | float) for item in value):
            return "numbers"
        case list() if all(isinstance(item, str) and ";" not in item for item in value):
            return "list"
    return "file"


def _typed(leaf: Leaf) -> str:
    match leaf.value:
        case bool():
            return "yes" if leaf.value else "no"
        case list():
            return "; ".join(str(item) for item in leaf.value)
        case str():
            return leaf.value
    return leaf.written.strip()


def _annotation(path: tuple[str, ...]) -> Any:
    """What the model says of the rule at `path`, None where no model names it."""
    model: Any = house.House
    for part in path:
        if get_origin(model) is dict:
            model = get_args(model)[1]
            continue
        known = getattr(model, "model_fields", {}).get(part)
        if known is None:
            return None
        model = known.annotation
    return model


def _choices(path: tuple[str, ...]) -> tuple[str, ...]:
    kind = _annotation(path)
    return get_args(kind) if get_origin(kind) is Literal else ()


def _model_of(path: tuple[str, ...], *, of_tables: bool) -> bool:
    """Whether an empty list at `path` would hold tables, which a line of typing can't."""
    kind = _annotation(path)
    inner = get_args(kind)[0] if get_origin(kind) is tuple else None
    return of_tables and (hasattr(inner, "model_fields") or hasattr(inner, "__dataclass_fields__"))


def value_of(field: Field, typed: str) -> Any:
    """The value that `typed` gives a field. Raises OrdertinError that says what to type instead."""
    text = " ".join(typed.split())
    match field.kind:
        case "number" if not _NUMBER.fullmatch(text):
            raise OrdertinError("this must be a number, such as 12 or 4.50")
        case "number":
            return Written(text)
        case "yes or no" if text.lower() not in ("yes", "no"):
            raise OrdertinError("this must be yes or no")
        case "yes or no":
            return text.lower() == "yes"
        case "numbers":
            parts = re.split(r"[;,x\s]+", text.strip(" ;,"))
            if not all(_NUMBER.fullmatch(part) for part in parts):
                raise OrdertinError("this must be numbers with a semicolon between two")
            return Written(f"[{', '.join(parts)}]")
        case "list":
            between = r"[;,]" if field.path[0] in ("hours", "kitchen") else ";"
            return [part for piece in re.split(between, text) if (part := piece.strip())]
    if field.choices and text not in field.choices:
        raise OrdertinError(f"this must be one of: {', '.join(field.choices)}")
    return text


def changed(text: str, typed: Mapping[tuple[str, ...], str]) -> str | Refusal:
    """`text` with what was typed, by the places of the fields; a Refusal where it would not hold.

    What is typed as it stands already changes nothing. Raises OrdertinError where `text` is no TOML.
    """
    fields = {field.path: field for section in sections(text) for field in section.fields}
    values: dict[tuple[str, ...], Any] = {}
    for path, words in typed.items():
        field = fields.get(path)
        if field is None or field.kind == "file":
            return Refusal(path, "This is no longer in the file as it was: edit it in the file.")
        if words.strip() == field.typed.strip():
            continue
        try:
            values[path] = value_of(field, words)
        except OrdertinError as error:
            return Refusal(path, _sentence(error.problem.what))
    if not values:
        return text
    try:
        return house_edit.with_values(text, values)
    except OrdertinError as error:
        return refusal(error.problem.what, tuple(fields))


def refusal(what: str, paths: tuple[tuple[str, ...], ...]) -> Refusal:
    """Which field a refusal speaks of, and the refusal without its name, in a baker's words."""
    named = re.match(r"`([\w. \-]+)` ", what)
    where = tuple(named[1].split(".")) if named else ()
    hits = [path for path in paths if where and (path[: len(where)] == where or where[: len(path)] == path)]
    plain = re.sub(r"; it is .*$", "", what[named.end() :] if named and hits else what, flags=re.S)
    for said, better in _BETTER:
        plain = re.sub(said, better, plain)
    return Refusal(hits[0] if hits else (), _sentence(plain if not (named and hits) else f"this {plain}"))


_BETTER = (
    (r"a valid integer, got a number with a fractional part", "a whole number"),
    (r"in a valid time format.*", "a time such as 17:00"),
    (r"a valid date\b.*", "days such as 2027-07-04"),
    (r"must be String should match pattern.*", "has a letter or sign that can't stand here"),
    (r"a valid (integer|decimal|number)\b.*", "a number"),
    (r"greater than or equal to", "at least"),
    (r"less than or equal to", "at most"),
    (r"greater than", "more than"),
    (r"must be String should have at least 1 character", "must not be empty"),
    (r"must be String should have at most (\d+) characters?", r"must have at most \1 letters"),
    (r"must be (String|Tuple|Value) should", "must"),
)


def _sentence(text: str) -> str:
    text = text.strip().rstrip(".")
    return f"{text[:1].upper()}{text[1:]}."


def read(path: Path) -> str:
    """The file as it stands. Raises OrdertinError where it can't be read."""
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        raise OrdertinError("the house rules can't be read", where=str(path), todo="Mend the file by hand") from None


def put(path: Path, seen: str, text: str) -> None:
    """Puts `text` in the place of the house rules that were last `seen`.

    Raises OrdertinError, having written nothing, where the file has been changed since by another hand.
    """
    if read(path) != seen:
        raise OrdertinError(
            "the file of the house rules was changed elsewhere meanwhile, so nothing was written",
            todo="It has been read again: look at it, then save again",
        )
    house_edit.write(path, text)
