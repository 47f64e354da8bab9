"""How reading time grows with a message made to be slow: ten times the length should take ten times as long."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from time import perf_counter
from zoneinfo import ZoneInfo

from intake.house import default_house
from intake.model import Message, Thread
from intake.reading.pipeline import read
from tests.bench.row import Row

PIECES = {
    "brackets": "[({<",
    "brackets that close": "])}>",
    "quotes": "\"'“”‘’",
    "spaces": " ",
    "newlines": "\n",
    "digits": "0123456789",
    "one letter": "a",
    "one capital": "A",
    "dashes": "-",
    "question marks": "?",
    "on on on": "on ",
    "the day before the day before": "the day before ",
    "dozens": "2 dozen ",
    "days": "june 5 ",
    "names": "Ida and ",
    "a thing a line": "moons\n",
    "quoted lines": "> on monday she wrote:\n",
    "sentences": "2 dozen moons for Ida, pickup june 5 at 3, not 4. ",
}
LENGTHS = (1_000, 10_000, 100_000)
#: A length that would take longer than this many seconds, were the growth as before, is left out.
PATIENCE = 30.0


def growth() -> Iterator[Row]:
    seconds("2 dozen moons")
    for name, piece in PIECES.items():
        taken = [seconds(of(piece, LENGTHS[0]))]
        for length in LENGTHS[1:]:
            pace = max(10.0, taken[-1] / taken[-2]) if len(taken) > 1 else 100.0
            if taken[-1] * pace > PATIENCE and taken[-1] > 1:
                break
            taken.append(seconds(of(piece, length)))
        shown = " ".join(f"{took:9.3f}" for took in taken) + "         -" * (len(LENGTHS) - len(taken))
        yield Row(f"1, 10, 100 KB of {name}", "seconds", shown, f"x{taken[-1] / taken[-2]:.0f}")


def of(piece: str, length: int) -> str:
    return (piece * (length // len(piece) + 1))[:length]


def seconds(text: str) -> float:
    at = datetime(2027, 5, 10, 18, 0, tzinfo=ZoneInfo("America/Chicago"))
    thread = Thread("bench", "chat", (Message("m1", "Ann", False, at, text),))
    begun = perf_counter()
    read(thread, default_house().reading)
    return perf_counter() - begun
