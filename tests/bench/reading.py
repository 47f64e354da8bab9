"""Readings a second, against a search for dates alone and against nothing but cutting the same words into tokens."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from time import perf_counter
from zoneinfo import ZoneInfo

import spacy
from dateparser.search import search_dates

from intake.demo import samples_folder
from intake.house import default_house
from intake.inbox.thread_lines import threads_of_lines
from intake.model import Thread
from intake.reading.pipeline import read
from tests.bench.row import Row, in_turns

CASES = Path(__file__).parents[1] / "reading" / "cases"
ZONE = ZoneInfo("America/Chicago")
#: One conversation in so many goes to the date search, which is slow; fewer to it without the language, slower still.
SHARE, SMALL_SHARE = 12, 60


def speed() -> Iterator[Row]:
    paths = [*sorted(CASES.glob("threads_*.jsonl")), samples_folder() / "threads.jsonl"]
    threads = [thread for path in paths for thread in threads_of_lines(path.read_text(encoding="utf-8"), ZONE)[0]]
    rules = default_house().reading
    cut = spacy.blank("en")

    def readings(thread: Thread) -> None:
        read(thread, rules)

    def tokens(thread: Thread) -> None:
        for message in thread.messages:
            cut(message.text)

    def dates(thread: Thread, **how: list[str]) -> None:
        for message in thread.messages:
            base = datetime.fromisoformat(message.at.isoformat()[:19])
            search_dates(message.text, settings={"RELATIVE_BASE": base}, **how)

    def english_dates(thread: Thread) -> None:
        dates(thread, languages=["en"])

    def timed(work: Callable[[Thread], None], some: list[Thread]) -> Callable[[], float]:
        def run() -> float:
            begun = perf_counter()
            for thread in some:
                work(thread)
            return (perf_counter() - begun) / len(some)

        return run

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        ours, plain = in_turns([timed(readings, threads), timed(tokens, threads)], 3)
        rows = []
        for search, share, name in (
            (dates, SMALL_SHARE, "search_dates"),
            (english_dates, SHARE, "search_dates, English told"),
        ):
            some = threads[::share]
            ours_of_some, searched = in_turns([timed(readings, some), timed(search, some)], 3)
            what = f"readings a second, {len(some)} of them"
            beside = f"{name} {1 / searched:.1f}/s"
            rows.append(Row(what, f"{1 / ours_of_some:.0f}/s", beside, f"{searched / ours_of_some:.1f}"))
    what = f"readings a second, {len(threads)} conversations"
    yield Row(what, f"{1 / ours:.0f}/s", f"blank spaCy tokens {1 / plain:.0f}/s", f"{plain / ours:.3f}")
    yield from rows
