"""How well the reader reads the repository's own threads: `python -m tests.reading.scores [--wrong]`.

A case file holds one thread a line with the orders that a careful baker would write down. For each field: how often
the right value was read, a wrong one, none, or more than was said; and how many wrong ones were called sure.
"""

from __future__ import annotations

import json
import sys
from collections import Counter, defaultdict
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from rapidfuzz import fuzz

from intake.house import default_house
from intake.inbox.thread_lines import threads_of_lines
from intake.model import CORE_FIELDS, DRAFT_FIELDS
from intake.reading.pipeline import read
from intake.record import reading_plain
from tests.reading.kit import ZONE

ROOT = Path(__file__).parents[2]
FILES = (*sorted((ROOT / "tests" / "reading" / "cases").glob("*.jsonl")), ROOT / "sample_messages" / "threads.jsonl")
_LOOSE = ("customer", "honoree", "theme", "address", "designs", "colors", "flavors", "packaging")


@cache
def cases(path: Path) -> tuple[tuple[dict[str, Any], dict[str, Any]], ...]:
    """(the annotated thread, its reading in plain form) of each line of a case file."""
    rules = default_house().reading
    text = path.read_text(encoding="utf-8")
    lines = [json.loads(line) for line in text.splitlines() if line.strip()]
    threads, problems = threads_of_lines(text, ZONE)
    assert not problems, problems
    return tuple(
        (line, reading_plain(thread.id, read(thread, rules))) for line, thread in zip(lines, threads, strict=True)
    )


def plain(value: Any) -> Any:
    """A value in a form that compares by what it says: case, plurals and small words aside."""
    if isinstance(value, str):
        words = [w.strip(".,!'\"’s") or w for w in value.lower().replace("-", " ").split()]
        return " ".join(w.rstrip("s") for w in words if w not in ("a", "an", "the", "and", "of", "with"))
    if isinstance(value, dict):
        return tuple(sorted((k, plain(v)) for k, v in value.items() if v is not None))
    if isinstance(value, list):
        return sorted(map(repr, map(plain, value)))
    return value


def agrees(field: str, meant: Any, had: Any) -> bool:
    """Whether a read value says what was meant; free words may differ a little."""
    if not meant or not had:
        return not meant and not had
    if field == "phone":
        return "".join(filter(str.isdigit, meant))[-10:] == "".join(filter(str.isdigit, had))[-10:]
    if field in _LOOSE and isinstance(meant, str):
        return plain(meant) == plain(had) or fuzz.token_sort_ratio(plain(meant), plain(had)) >= 80
    if field in _LOOSE:
        same = len(meant) == len(had)
        return same and (plain(meant) == plain(had) or fuzz.ratio(" ".join(plain(meant)), " ".join(plain(had))) >= 88)
    return bool(plain(meant) == plain(had))


def value_of(order: Mapping[str, Any], field: str) -> tuple[Any, bool]:
    cell = order.get(field) or {}
    return cell.get("value"), bool(cell.get("sure"))


def paired(meant: list[dict[str, Any]], had: list[dict[str, Any]]) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Each meant order with the read one that agrees with it best; an empty one where none is left."""
    left = list(had)
    pairs = []
    for order in meant:
        best = max(left, key=lambda o: sum(agrees(f, order.get(f), value_of(o, f)[0]) for f in CORE_FIELDS), default={})
        if best:
            left.remove(best)
        pairs.append((order, best))
    return pairs


def score(path: Path) -> tuple[dict[str, Counter[str]], Counter[str], list[str]]:
    """(per field right, wrong, missed, invented, silent; totals; one line for each wrong field) of a case file."""
    fields: dict[str, Counter[str]] = defaultdict(Counter)
    totals: Counter[str] = Counter()
    wrong: list[str] = []
    for line, reading in cases(path):
        gold = line["gold"]
        unclear = set(gold.get("unclear") or ())
        totals["threads"] += 1
        totals["intent right"] += reading["intent"]["value"] == gold["intent"]
        totals["orders invented"] += max(len(reading["orders"]) - len(gold["orders"]), 0)
        for order, had in paired(gold["orders"], reading["orders"]):
            totals["orders"] += 1
            whole = True
            for field in DRAFT_FIELDS:
                meant, (value, sure) = order.get(field), value_of(had, field)
                ok = not (value and sure) if field in unclear else agrees(field, meant, value)
                name = "right" if ok else "missed" if not value else "wrong" if meant else "invented"
                if meant or value:
                    fields[field][name] += 1
                fields[field]["silent"] += not ok and bool(value) and sure
                whole &= ok or field not in CORE_FIELDS
                if not ok:
                    wrong.append(f"{line['id']}  {field}: meant {meant!r}, read {value!r}{' (sure)' if sure else ''}")
            totals["core right"] += whole
    return fields, totals, wrong


def main() -> int:
    for path in FILES:
        fields, totals, wrong = score(path)
        print(f"\n{path.relative_to(ROOT)}")
        print(f"{'field':<12}{'right':>7}{'wrong':>7}{'missed':>8}{'invented':>10}{'silent':>8}")
        for field in DRAFT_FIELDS:
            row = fields[field]
            mark = "*" if field in CORE_FIELDS else ""
            counts = (row["right"], row["wrong"], row["missed"], row["invented"], row["silent"])
            print(f"{field + mark:<12}{counts[0]:>7}{counts[1]:>7}{counts[2]:>8}{counts[3]:>10}{counts[4]:>8}")
        print(
            f"orders with the whole core (*) right: {totals['core right']} of {totals['orders']}; "
            f"invented {totals['orders invented']}; intent right: {totals['intent right']} of {totals['threads']}"
        )
        if "--wrong" in sys.argv:
            print("\n".join(f"  {line}" for line in wrong))
    return 0


if __name__ == "__main__":
    sys.exit(main())
