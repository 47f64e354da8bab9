"""The house rules changed by the program: the file keeps its comments and its order."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from intake import house
from intake.house import House
from intake.model import OrdertinError


def with_value(text: str, path: Sequence[str], value: Any) -> str:
    """`text` with the house rule at `path` (its tables, then its name) set to `value`.

    Raises OrdertinError where `text` is no TOML, or what comes out would be no house rules.
    """
    try:
        rules = tomlkit.parse(text)
        table: Any = rules
        for name in path[:-1]:
            table = table.setdefault(name, tomlkit.table())
        table[path[-1]] = value
        changed = tomlkit.dumps(rules)
    except (TOMLKitError, TypeError, AttributeError, ValueError):
        raise OrdertinError(
            "the house rules can't be changed: the file is not in order",
            where=".".join(path),
            todo="Mend it by hand, or move it away to start from the defaults",
        ) from None
    house.parse(changed)
    return changed


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
