"""The repository's own threads: what is read wrong of the core is listed, with the reason, in cases/misses.toml.

A thread that is misread and not listed fails, and so does a listed one that has come right: take it off the list.
"""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path

import pytest

from intake.model import CORE_FIELDS
from tests.reading.scores import FILES, agrees, cases, paired, value_of

MISSES = tomllib.loads((Path(__file__).parent / "cases" / "misses.toml").read_text(encoding="utf-8"))


@cache
def misread(path: Path) -> frozenset[str]:
    """`thread.field` of every core field that is read wrong, and of orders missed or made up."""
    wrong = set()
    for line, reading in cases(path):
        gold, orders = line["gold"], reading["orders"]
        if len(orders) != len(gold["orders"]):
            wrong.add(f"{line['id']}.orders")
        for order, had in paired(gold["orders"], orders):
            for field in CORE_FIELDS:
                value, sure = value_of(had, field)
                unclear = field in (gold.get("unclear") or ())
                if (unclear and value and sure) or (not unclear and not agrees(field, order.get(field), value)):
                    wrong.add(f"{line['id']}.{field}")
    return frozenset(wrong)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_core_fields_but_for_the_listed_misses(path: Path) -> None:
    listed = {name for name in MISSES if name.split(".")[0] in path.read_text(encoding="utf-8")}
    assert misread(path) == listed


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_diet_is_ever_dropped(path: Path) -> None:
    for line, reading in cases(path):
        for order, had in paired(line["gold"]["orders"], reading["orders"]):
            assert set(order.get("dietary") or ()) <= set(value_of(had, "dietary")[0] or ()), line["id"]


def test_every_miss_has_a_reason() -> None:
    assert all(isinstance(reason, str) and len(reason) > 8 for reason in MISSES.values())
