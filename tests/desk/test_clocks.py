"""Clocks that go wrong or change: set back, moved to another zone, the hour that comes twice. The book stays whole,
nothing is lost and nothing is there twice."""

from __future__ import annotations

import subprocess
import sys
from datetime import datetime, timedelta
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from intake.desk import Desk
from intake.home import Home
from intake.model import Order, OrdertinError
from tests.book.full import everything
from tests.desk.kit import FULL, NOW, Clock, Export, Writes, booked

CHICAGO = ZoneInfo("America/Chicago")
BACK = {"an hour": timedelta(hours=1), "a day": timedelta(days=1), "ten years": timedelta(days=3653)}


@pytest.mark.parametrize("back", BACK.values(), ids=BACK)
def test_a_clock_set_back_loses_nothing(desk: Desk, writes: Writes, clock: Clock, home: Home, back: timedelta) -> None:
    order = booked(desk, writes("Dana", FULL))
    before = everything(home.book)
    clock.now -= back
    version = desk.version()
    desk.till.pay(order.id, Decimal(5), "cash")
    assert desk.version() > version
    assert desk.order(order.id).paid == 5
    assert desk.undo() and desk.order(order.id).paid == 0
    after = everything(home.book)
    assert {name: after[name] for name in ("messages", "orders", "payments")} == {
        name: before[name] for name in ("messages", "orders", "payments")
    }


def test_the_last_change_is_the_last_made_and_not_the_latest_by_the_clock(
    desk: Desk, writes: Writes, clock: Clock
) -> None:
    order = writes("Dana", FULL)
    desk.correct(order.id, {"count": 36})
    clock.now -= timedelta(days=400)
    desk.correct(order.id, {"count": 48})
    desk.undo()
    assert desk.order(order.id).draft.count.value == 36


@pytest.mark.parametrize("zone", ["America/Los_Angeles", "Pacific/Kiritimati", "Asia/Kathmandu", "UTC"])
def test_another_time_zone_between_two_runs_doubles_nothing(
    desk: Desk, writes: Writes, home: Home, export: Export, zone: str
) -> None:
    order = booked(desk, writes("Dana", FULL))
    desk.till.pay(order.id, Decimal(5), "cash")
    due, day = desk.order(order.id).draft.due.value, desk.till.payments()[0].day
    moments = [message.at for message in desk.case("t1").thread.messages]
    desk.close()
    home.rules.write_text(home.rules.read_text().replace("America/Chicago", zone))
    with Desk(home, now=lambda: NOW.astimezone(ZoneInfo(zone))) as moved:
        report = moved.take([export.path])
        assert (report.threads_new, report.messages_new, report.orders_new) == (0, 0, 0)
        assert moved.order(order.id).draft.due.value == due
        assert moved.till.payments()[0].day == day
        assert [message.at for message in moved.case("t1").thread.messages] == moments
        assert moved.undo()
        assert moved.order(order.id).paid == 0


# In 2026 the clocks of Chicago go forward on 8 March at 02:00 and back on 1 November at 02:00 (IANA tz database).
TWICE = datetime(2026, 11, 1, 1, 30, tzinfo=CHICAGO)


def test_messages_of_the_hour_that_comes_twice_keep_their_order(desk: Desk, tmp_path: Path) -> None:
    at = [TWICE, TWICE.replace(fold=1)]
    lines = "\n".join(
        f'{{"id": "a", "channel": "chat", "messages": [{{"id": "m{n}", "from": "Dana", "mine": false, '
        f'"at": "{moment.isoformat()}", "text": "count={n + 1} theme=owl"}}]}}'
        for n, moment in enumerate(at)
    )
    (tmp_path / "a.jsonl").write_text(lines)
    for _ in range(2):
        desk.take([tmp_path / "a.jsonl"])
    messages = desk.case("t1").thread.messages
    assert [message.text for message in messages] == ["count=1 theme=owl", "count=2 theme=owl"]
    assert messages[1].at.timestamp() - messages[0].at.timestamp() == 3600


@pytest.mark.parametrize(
    ("now", "day"),
    [
        (datetime(2026, 3, 6, 9, tzinfo=CHICAGO), "2026-03-08"),
        (datetime(2026, 10, 30, 9, tzinfo=CHICAGO), "2026-11-01"),
    ],
    ids=["forward", "back"],
)
def test_an_order_of_the_day_on_which_the_clocks_change(
    desk: Desk, writes: Writes, clock: Clock, now: datetime, day: str
) -> None:
    order = writes("Dana", f"count=12 theme=owl due={day} handover=pickup")
    clock.now = now
    order = booked(desk, order)
    bench = desk.kitchen.bench()
    assert bench.works and order.id not in bench.unplanned
    works = sorted(bench.works, key=lambda work: work.start.timestamp())
    by_hand = [work for work in works if "hands" in work.uses]
    assert all(a.end.timestamp() <= b.start.timestamp() for a, b in pairwise(by_hand))
    first = desk.papers.calendar()
    clock.now += timedelta(hours=1)
    assert desk.papers.calendar() == first


PAYS = """
import sys
from datetime import datetime
from decimal import Decimal
from itertools import pairwise
from pathlib import Path
from intake.desk import Desk
from intake.home import Home
with Desk(Home.at(Path(sys.argv[1])), now=lambda: datetime.fromisoformat("2026-03-11T09:00:00-05:00")) as desk:
    for n in range(12):
        desk.till.pay(1, Decimal("0.50"), "cash", note=f"{sys.argv[2]}{n}")
"""


def test_two_programs_that_pay_at_once_lose_and_double_nothing(desk: Desk, writes: Writes, home: Home) -> None:
    order: Order = booked(desk, writes("Dana", FULL))
    started = [subprocess.Popen([sys.executable, "-c", PAYS, str(home.book.parent), name]) for name in "ab"]
    assert [each.wait(60) for each in started] == [0, 0]
    assert desk.order(order.id).paid == 12
    assert len({payment.note for payment in desk.till.payments()}) == 24


def test_a_disk_that_is_full_changes_nothing_and_is_said(desk: Desk, writes: Writes, home: Home) -> None:
    order = booked(desk, writes("Dana", FULL))
    pages = desk._book.rows("PRAGMA page_count")[0]["page_count"]
    desk._book.db.execute(f"PRAGMA max_page_count = {pages}")
    before = everything(home.book)
    with pytest.raises(OrdertinError, match="no room left on the disk"):
        for n in range(400):
            desk.till.pay(order.id, Decimal("0.01"), "cash", note=f"{n} " + "x" * 190)
    paid = desk.order(order.id).paid
    assert everything(home.book)["orders"] == before["orders"]
    desk._book.db.execute("PRAGMA max_page_count = 1000000")
    assert desk.till.pay(order.id, Decimal("0.01"), "cash").paid == paid + Decimal("0.01")
