"""The same words of one sender in one minute, told apart where an export gives no seconds."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from intake.inbox.shapes import Entry


def told_apart(entries: Iterable[Entry], fine: Iterable[bool]) -> list[Entry]:
    """`entries` with `nth` counted up for what is otherwise the same; `fine` says of each whether its time has
    seconds, and then what is the same counts once."""
    seen: Counter[tuple[Any, ...]] = Counter()
    counted = []
    for entry, seconds in zip(entries, fine, strict=True):
        key = (entry.sender, entry.at, entry.text, entry.talk, entry.to, entry.mine)
        counted.append(entry if seconds or not seen[key] else replace(entry, nth=seen[key]))
        seen[key] += 1
    return counted
