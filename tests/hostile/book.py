"""A book full of hostile messages, each order of which has been dealt with."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from intake.desk import Desk
from intake.home import Home
from intake.house import default_text
from tests.hostile.cases import CASES, NOW
from tests.hostile.ways_in import WAYS_IN, take_in
from tests.hostile.ways_out import deal_with


def home_of(folder: Path) -> Home:
    home = Home.at(folder / "home")
    home.rules.parent.mkdir(parents=True)
    text = default_text().replace('timezone = ""', 'timezone = "America/Chicago"')
    home.rules.write_text(text.replace("senders = []", 'senders = ["Nell", "nell@example.com"]'), encoding="utf-8")
    return home


def made(folder: Path, ways: Sequence[str] = WAYS_IN, each: int = 0, booked: int = 4) -> Desk:
    """A desk on a book that was filled by `ways`: every case by each, or by `each` of them, in turns."""
    desk = Desk(home_of(folder), now=lambda: NOW)
    cases = list(CASES)
    for n, way in enumerate(ways):
        theirs = [case for i, case in enumerate(cases) if not each or (i - n) % len(ways) < each]
        take_in(desk, way, folder / "in" / str(n), theirs)
    deal_with(desk, booked)
    return desk
