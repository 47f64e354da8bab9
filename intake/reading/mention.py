"""What finders find: a value with its span, the rule that saw it, and what it is for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Mention:
    """Characters `start` to `end` of turn `turn` say `value` of `kind`.

    `role` is what it is for (a date: event, handover, arrival, other; a count: total, design, part, people, ...).
    `op`: set, add, drop (no longer wanted) or swap (`others[0]` is what it replaces). `doubt` is what a baker should check.
    """

    kind: str
    value: Any
    turn: int
    start: int
    end: int
    rule: str
    role: str = ""
    op: str = "set"
    doubt: str = ""
    others: tuple[Any, ...] = ()
    order: int = 0
