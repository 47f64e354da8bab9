"""`python -m tests.bench [start|paint|reading|plan|pricing ...]`: how fast, against something public beside it.

One table, a row a thing measured. Each figure is the median of its runs, taken in turns with what it is held
against, so that a busy machine slows both.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable
from importlib.metadata import version

from tests.bench import (
    disks,
    fuzz,
    fuzz_words,
    hostile,
    inbox,
    keys,
    kill,
    kitchen,
    leaks,
    oldest,
    post,
    pricing,
    reading,
    start,
)
from tests.bench.row import Row

PARTS: dict[str, Callable[[], Iterable[Row]]] = {
    "start": start.help_text,
    "paint": start.first_paint,
    "reading": reading.speed,
    "hostile": hostile.growth,
    "plan": kitchen.plans,
    "pricing": pricing.speed,
    "taking": inbox.taking,
    "keys": keys.screens,
    "searching": inbox.searching,
    "fuzz": fuzz.exports,
    "words": fuzz_words.words,
    "kill": kill.takes,
    "post": post.sends,
    "leaks": leaks.leaks,
    "heavy": leaks.heavy,
    "faults": disks.faults,
    "oldest": oldest.oldest,
}


def main(wanted: list[str]) -> int:
    if unknown := set(wanted) - PARTS.keys():
        print(f"there is no part {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}", file=sys.stderr)
        return 2
    beside = ", ".join(f"{name} {version(name)}" for name in ("textual", "dateparser", "spacy", "babel"))
    print(f"Python {sys.version.split()[0]}, {beside}")
    print(f"{'what':<44} {'ours':>12} {'beside it':>34} {'ratio':>8}")
    for part in wanted or PARTS:
        for row in PARTS[part]():
            print(f"{row.what:<44} {row.ours:>12} {row.beside:>34} {row.ratio:>8}", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
