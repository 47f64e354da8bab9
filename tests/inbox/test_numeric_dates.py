"""Dates in figures: what one says, and which number is the day once all of them are looked at."""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.inbox.numeric_dates import at_of, clock_of, day_of, has_seconds, kind_of, order_of
from tests.inbox.conftest import ZONE


@pytest.mark.parametrize(
    ("said", "fallback", "order", "sure"),
    [
        pytest.param(["3/14/2026", "3/4/2026"], "DMY", "MDY", True, id="a number over 12 in second place"),
        pytest.param(["14/3/2026", "3/4/2026"], "MDY", "DMY", True, id="a number over 12 in first place"),
        pytest.param(["14.03.26 21:05", "15.03.26 9:05"], "MDY", "DMY", True, id="with a clock and a short year"),
        pytest.param(["99/03/14", "99/03/15"], "MDY", "YMD", True, id="the year first, nothing else fits"),
        pytest.param(["26-03-04"], "YMD", "YMD", False, id="the year first where the house says so"),
        pytest.param(["26-03-04"], "MDY", "DMY", True, id="the year last where it does not"),
        pytest.param(["26-03-04", "26-03-05"], "MDY", "YMD", True, id="the year first: a day apart, or else a year"),
        pytest.param(["1/3/2026", "2/3/2026", "3/3/2026", "1/4/2026"], "MDY", "DMY", True, id="runs forwards one way"),
        pytest.param(["1/4/2026", "3/3/2026", "2/3/2026"], "MDY", "DMY", True, id="runs backwards one way"),
        pytest.param(["3/4/2026"], "MDY", "MDY", False, id="one date, the month first"),
        pytest.param(["3/4/2026"], "DMY", "DMY", False, id="one date, the day first"),
        pytest.param(["3/3/2026", "4/4/2026"], "MDY", "MDY", True, id="both ways give the same"),
        pytest.param(["2/3/2026", "1/5/2026", "3/4/2026", "1/1/2026"], "MDY", "MDY", False, id="jumps about both ways"),
        pytest.param(["2026-03-04", "2026-05-04"], "DMY", "DMY", True, id="four figures of a year need no order"),
        pytest.param(["Mar 4, 2026"], "MDY", "MDY", True, id="the month in letters needs none"),
        pytest.param(["3/14/2026", "nonsense", "14/3/2026", "3/15/2026"], "DMY", "MDY", True, id="most decide"),
        pytest.param([], "DMY", "DMY", True, id="nothing"),
    ],
)
def test_the_order_of_all(said: list[str], fallback: str, order: str, sure: bool) -> None:
    assert order_of(said, fallback) == (order, sure)


@pytest.mark.parametrize(
    ("said", "order", "expected"),
    [
        ("3/14/2026 9:05 PM", "MDY", "2026-03-14T21:05:00-05:00"),
        ("3/14/2026, 9:05 p.m.", "MDY", "2026-03-14T21:05:00-05:00"),
        ("3/14/26 12:05 AM", "MDY", "2026-03-14T00:05:00-05:00"),
        ("3/14/26 12:05\u202fPM", "MDY", "2026-03-14T12:05:00-05:00"),
        ("3/14/2026 at 9 PM", "MDY", "2026-03-14T21:00:00-05:00"),
        ("14.03.2026 21:05", "DMY", "2026-03-14T21:05:00-05:00"),
        ("14.03.2026 21.05.10", "DMY", "2026-03-14T21:05:10-05:00"),
        ("4/3/2026 21h05", "DMY", "2026-03-04T21:05:00-06:00"),
        ("2026-03-14 9:05", "DMY", "2026-03-14T09:05:00-05:00"),
        ("2026/3/4T09:05:10.123", "MDY", "2026-03-04T09:05:10-06:00"),
        ("3/14/2026 9:05 PM UTC", "MDY", "2026-03-14T16:05:00-05:00"),
        ("3/14/2026 9:05 PM EST", "MDY", "2026-03-14T21:05:00-05:00"),
        ("14/03/2026 21:05 +0100", "DMY", "2026-03-14T15:05:00-05:00"),
        ("Sat 3/14/2026 9:05 PM", "MDY", "2026-03-14T21:05:00-05:00"),
        ("14 March 2026 21:05", "MDY", "2026-03-14T21:05:00-05:00"),
        ("14 de marzo de 2026, 21:05", "MDY", "2026-03-14T21:05:00-05:00"),
        ("Saturday, March 14th, 2026 at 9:05 PM", "DMY", "2026-03-14T21:05:00-05:00"),
        ("9:05 PM · Mar 14, 2026", "MDY", "2026-03-14T21:05:00-05:00"),
        ("21:05, 14/03/2026", "DMY", "2026-03-14T21:05:00-05:00"),
        ("3/14/2026", "MDY", "2026-03-14T00:00:00-05:00"),
        ("14/3/2026", "MDY", None),
        ("3/14/2026 25:05", "MDY", None),
        ("3/14/2026 13:05 PM", "MDY", "2026-03-14T13:05:00-05:00"),
        ("2/30/2026 9:05", "MDY", None),
        ("3/14", "MDY", None),
        ("9:05 PM", "MDY", None),
        ("3/14/2026 9:05 PM for the party", "MDY", None),
        ("12/31/9999 23:05 -2359", "MDY", None),
        ("0/0/0000 0:00", "MDY", None),
        ("", "MDY", None),
    ],
)
def test_one_moment(said: str, order: str, expected: str | None) -> None:
    at = at_of(said, order, ZONE)
    assert (at.isoformat() if at else None) == expected


@pytest.mark.parametrize(
    ("said", "kind", "seconds"),
    [
        ("3/14/2026 9:05 PM", "full", False),
        ("3/14/2026 9:05:10 PM", "full", True),
        ("14.03.26 21:05", "full", False),
        ("14.03.26", "day", False),
        ("9:05", "clock", False),
        ("9:05:10", "clock", True),
        ("9 pm", "clock", False),
        ("9", "", False),
        ("1773255910", "", True),
        ("2 dozen", "", False),
        ("2 dozen at 9:05", "", False),
    ],
)
def test_what_a_text_gives(said: str, kind: str, seconds: bool) -> None:
    assert (kind_of(said), has_seconds(said)) == (kind, seconds)
    assert (day_of(said, "MDY") is not None or day_of(said, "DMY") is not None) == (kind == "day")
    assert clock_of(said) is not None or kind != "clock"
    assert clock_of(said) is None or kind in ("clock", "day")  # "14.03.26" may be either; the day goes first


days = st.dates(date(1970, 1, 1), date(2068, 12, 31))
_WRITTEN = {
    "MDY": ("%m/%d/%Y", "%m-%d-%y", "%m.%d.%Y"),
    "DMY": ("%d/%m/%Y", "%d.%m.%y", "%d-%m-%Y"),
    "YMD": ("%y/%m/%d", "%Y-%m-%d", "%Y.%m.%d"),
}
_CLOCKS = ("%H:%M", "%I:%M %p", "%H:%M:%S", "%I:%M:%S%p", "%H.%M")


@given(days, st.times(), st.sampled_from(list(_WRITTEN)), st.integers(0, 2), st.sampled_from(_CLOCKS))
def test_what_strftime_writes_is_read_as_strptime_does(day: date, clock: time, order: str, way: int, how: str) -> None:
    # datetime.strptime of the standard library reads the same text with the form spelt out.
    form = f"{_WRITTEN[order][way]} {how}"
    said = datetime.combine(day, clock).strftime(form)
    assert at_of(said, order, ZoneInfo("UTC")) == datetime.strptime(said, form).replace(tzinfo=UTC)
    assert has_seconds(said) == ("%S" in how)


@given(st.lists(days, min_size=1), st.sampled_from(["MDY", "DMY"]), st.sampled_from(["MDY", "DMY", "YMD"]))
def test_sure_is_right_for_dates_that_run_forwards(found: list[date], order: str, fallback: str) -> None:
    said = [day.strftime(_WRITTEN[order][0]) for day in sorted(found)]
    told, sure = order_of(said, fallback)
    assert not sure or [day_of(text, told) for text in said] == sorted(found)


@given(st.datetimes(datetime(2000, 1, 1), datetime(2040, 1, 1)), st.integers(-14 * 60, 14 * 60))
def test_an_offset_is_kept(at: datetime, minutes: int) -> None:
    sign, size = "-" if minutes < 0 else "+", abs(minutes)
    said = f"{at:%m/%d/%Y %H:%M:%S} {sign}{size // 60:02}:{size % 60:02}"
    expected = (at.replace(microsecond=0) - timedelta(minutes=minutes)).replace(tzinfo=UTC)
    assert at_of(said, "MDY", ZONE) == expected


def test_nothing_raises() -> None:
    pick = random.Random(20260314)
    for _ in range(20_000):
        said = "".join(pick.choice("0123456789/.-: APMapm,deJun\u202f") for _ in range(pick.randrange(90)))
        kind_of(said), clock_of(said), has_seconds(said)
        for order in _WRITTEN:
            at_of(said, order, ZONE), day_of(said, order)
    order_of(["1" * 100_000, " " * 1_000_000, "/" * 100_000])
