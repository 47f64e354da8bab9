from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.kitchen.hours import Timeline, first_from, last_until, runs, span, stretches
from tests.kitchen.kit import at, every_day, house


def _open(spans, now, until, zone="America/Chicago", **more):
    rules = house(zone, hours={**every_day(*spans), **more})
    line = Timeline.of(rules, now=at(now, rules), until=at(until, rules))
    return [(f"{line.at(a):%d %H:%M}", f"{line.at(b):%d %H:%M}") for a, b in stretches(line.open)], line


@pytest.mark.parametrize(
    ("spans", "now", "until", "shown"),
    [
        pytest.param(
            [("18:00", "21:30")], "2026-03-11T19:00", "2026-03-12T19:00",
            [("11 19:00", "11 21:30"), ("12 18:00", "12 19:00")], id="cut at now and at the end",
        ),
        pytest.param(
            [("18:00", "21:30")], "2026-03-11T18:01:30", "2026-03-11T23:00", [("11 18:05", "11 21:30")], id="rounds up"
        ),
        pytest.param(
            [("18:02", "21:33")], "2026-03-11T08:00", "2026-03-12T00:00",
            [("11 18:05", "11 21:30")], id="rounds inwards",
        ),
        pytest.param(
            [("00:00", "01:00"), ("22:00", "23:59")], "2026-03-11T12:00", "2026-03-12T12:00",
            [("11 22:00", "12 01:00")], id="twenty-four o'clock joins the next day",
        ),
        pytest.param([], "2026-03-11T12:00", "2026-03-14T12:00", [], id="no hours"),
        pytest.param([("08:00", "09:00")], "2026-03-11T12:00", "2026-03-11T11:00", [], id="ends before it begins"),
    ],
)
def test_open_hours(spans, now, until, shown):
    assert _open(spans, now, until)[0] == shown


NOON = time(12)


@pytest.mark.parametrize(
    ("rules", "shown"),
    [
        pytest.param({"hours": {"blocked": (date(2026, 3, 12),)}}, ["11 18-20", "13 18-20"], id="a blocked day"),
        pytest.param(
            {"kitchen": {"holidays": ((date(2026, 3, 12), date(2026, 3, 13)),)}}, ["11 18-20"], id="a longer break"
        ),
        pytest.param(
            {"kitchen": {"holidays": ((date(2026, 3, 12), date(2026, 3, 13)),),
                         "extra_hours": {date(2026, 3, 13): ((time(9), NOON),)}}},
            ["11 18-20", "13 09-12"], id="hours added on a break",
        ),
        pytest.param(
            {"kitchen": {"extra_hours": {date(2026, 3, 12): ((time(9), NOON), (time(19), time(21)))}}},
            ["11 18-20", "12 09-12", "12 18-21", "13 18-20"], id="hours added to others",
        ),
        pytest.param({"kitchen": {"sleep": (time(19), time(7))}}, ["11 18-19", "12 18-19", "13 18-19"], id="asleep"),
        pytest.param({"kitchen": {"sleep": (time(13), time(19))}}, ["11 19-20", "12 19-20", "13 19-20"], id="a nap"),
        pytest.param({"kitchen": {"late_after": time(19)}}, ["11 18-20", "12 18-20", "13 18-20"], id="late is open"),
    ],
)
def test_one_off_hours_breaks_and_sleep(rules, shown):
    of = house(**{**rules, "hours": {**every_day(("18:00", "20:00")), **rules.get("hours", {})}})
    line = Timeline.of(of, now=at("2026-03-11T08:00", of), until=at("2026-03-14T00:00", of))
    assert [f"{line.at(a):%d %H}-{line.at(b):%H}" for a, b in stretches(line.free.hands)] == shown


def test_the_oven_is_the_households_at_supper():
    of = house(hours=every_day(("16:00", "20:00")), kitchen={"supper": ((time(17, 2), time(18)),)})
    line = Timeline.of(of, now=at("2026-03-11T08:00", of), until=at("2026-03-12T00:00", of))
    shown = [[f"{line.at(a):%H:%M}-{line.at(b):%H:%M}" for a, b in stretches(bits)]
             for bits in (line.free.hands, line.free.oven)]
    assert shown == [["16:00-20:00"], ["16:00-17:00", "18:00-20:00"]]


@pytest.mark.parametrize(
    ("day", "night_hours"),
    [
        pytest.param("2026-03-07", 11, id="the clock goes forward"),
        pytest.param("2026-10-31", 13, id="the clock goes back"),
        pytest.param("2026-06-06", 12, id="a plain night"),
    ],
)
def test_a_night_is_as_long_as_it_is(day, night_hours):
    """Daylight saving in the United States: second Sunday of March, first of November (15 USC 260a)."""
    rules = house(hours=every_day(("08:00", "20:00")))
    now = at(f"{day}T08:00", rules)
    line = Timeline.of(rules, now=now, until=now + timedelta(days=2))
    (_, evening), (morning, _) = list(stretches(line.open))[:2]
    assert (morning - evening) * 5 == night_hours * 60


@given(st.integers(0, 2**60 - 1), st.integers(1, 9), st.integers(-1, 63))
def test_looking_for_a_free_stretch(free, length, tick):
    bits = [bool(free >> i & 1) for i in range(80)]
    whole = [i for i in range(70) if all(bits[i : i + length])]
    found = runs(free, length)
    assert [i for i in range(70) if found >> i & 1] == whole
    assert first_from(found, max(0, tick)) == min((i for i in whole if i >= tick), default=None)
    assert last_until(found, tick) == max((i for i in whole if i <= tick), default=None)
    assert sum(span(a, b) for a, b in stretches(free)) == free
