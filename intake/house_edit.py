"""The house rules changed by the program: the file keeps its comments and its order."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import InlineTable, Table

from intake import house
from intake.house import House
from intake.model import OrdertinError


@dataclass(frozen=True, slots=True)
class Leaf:
    """One value of the file: where it is, what it is, as it is written there, and the note behind it on its line. A
    table stands before its own values, itself without one."""

    path: tuple[str, ...]
    value: Any
    written: str
    note: str


def with_value(text: str, path: Sequence[str], value: Any) -> str:
    """`text` with the house rule at `path` (its tables, then its name) set to `value`.

    Raises OrdertinError where `text` is no TOML, or what comes out would be no house rules.
    """
    return with_values(text, {tuple(path): value})


def with_values(text: str, values: Mapping[tuple[str, ...], Any]) -> str:
    """`text` with several house rules set at once; a `Written` value is put down as it stands. Raises as `with_value`
    does."""
    where = ""
    try:
        rules = tomlkit.parse(text)
        for path, value in values.items():
            where = ".".join(path)
            table: Any = rules
            for name in path[:-1]:
                table = table.setdefault(name, tomlkit.table())
            table[path[-1]] = tomlkit.parse(f"it = {value}")["it"] if isinstance(value, Written) else value
        changed = tomlkit.dumps(rules)
    except (TOMLKitError, TypeError, AttributeError, ValueError):
        raise OrdertinError(
            "the house rules can't be changed: the file is not in order",
            where=where,
            todo="Mend it by hand, or move it away to start from the defaults",
        ) from None
    house.parse(changed)
    return changed


class Written(str):
    """A value as it is to stand in the file: `36.00`."""


def leaves(text: str) -> tuple[Leaf, ...]:
    """Every value of the file, from top to bottom. Raises OrdertinError where `text` is no TOML."""
    try:
        rules = tomlkit.parse(text)
    except TOMLKitError:
        raise OrdertinError("the house rules are not in order", todo="Mend the file by hand") from None
    return tuple(_leaves(rules, (), ""))


def _leaves(table: Any, path: tuple[str, ...], note: str) -> Iterator[Leaf]:
    for name in table:
        item = table.item(name) if hasattr(table, "item") else table[name]
        here = (*path, str(name))
        own = item.trivia.comment.lstrip("# ").rstrip() or note
        if isinstance(item, Table | InlineTable) and len(item):
            yield Leaf(here, None, "", own)
            yield from _leaves(item, here, "")
        else:
            yield Leaf(here, item.unwrap(), item.as_string(), own)


def known_as(path: Path, name: str) -> House:
    """Adds `name` to what the baker goes by in exports; gives the house rules as they are then.

    Raises OrdertinError where the file can't be read or written.
    """
    before = house.load(path)
    name = " ".join(name.split())
    if not name or name in before.house.senders:
        return before
    senders = [*before.house.senders, name]
    write(path, with_value(path.read_text(encoding="utf-8"), ("house", "senders"), senders))
    return house.load(path)


def write(path: Path, text: str) -> None:
    """Puts `text` in the place of the house rules, whole or not at all; only the owner can read it.

    Raises OrdertinError where it can't be written.
    """
    passing = ""
    try:
        handle, passing = tempfile.mkstemp(prefix=".house-", suffix=".toml", dir=path.parent)
        with open(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        # A link is followed: the rules may live in a folder that is kept elsewhere.
        os.replace(passing, path.resolve())
    except OSError as error:
        with suppress(OSError):
            os.unlink(passing)
        raise OrdertinError(
            f"the house rules can't be written: {error.strerror}", where=str(path), todo="Make the folder writable"
        ) from None
