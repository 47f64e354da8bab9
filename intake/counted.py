"""Things with their number."""

from __future__ import annotations


def many(number: int, thing: str) -> str:
    """`1 box`, `2 boxes`, `1,200 cookies`."""
    if number == 1:
        return f"1 {thing}"
    return f"{number:,} {thing}{'es' if thing.endswith(('ch', 'x')) else 's'}"
