"""A desk on a real book at the moment of the cases, with an open order of Dana's and a booked one of Bea's."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, time
from pathlib import Path

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.house import default_text
from intake.model import Due, Order

from .kit import NOW

DANA = "Hi! 2 dozen unicorn cookies for Mia's birthday please, pickup Saturday December 12 at 2pm. Put MIA on 4."
BEA = "Hello, could I have 3 dozen gnome cookies for pickup on December 18 at 4pm?"


@dataclass(frozen=True)
class Shop:
    """The desk, and the numbers of the two orders."""

    desk: Desk
    dana: int
    bea: int

    @property
    def order(self) -> Order:
        return self.desk.order(self.dana)


@pytest.fixture
def shop(tmp_path: Path) -> Iterator[Shop]:
    home = Home.at(tmp_path / "home")
    home.rules.parent.mkdir()
    home.rules.write_text(default_text().replace('timezone = ""', 'timezone = "America/Chicago"'), encoding="utf-8")
    with Desk(home, now=lambda: NOW) as desk:
        dana = desk.paste(DANA, sender="Dana Reyes").orders[0].id
        bea = desk.paste(BEA, sender="Bea Ortiz").orders[0].id
        due = Due.on(date(2026, 12, 18), time(16))
        desk.correct(bea, {"count": 36, "theme": "gnomes", "handover": "pickup", "due": due, "due_is": "handover"})
        desk.confirm(bea)
        desk.quote(bea)
        desk.book(bea)
        yield Shop(desk, dana, bea)
