"""Each way out of a clash is tried again here, with the change made by hand."""

import re
from dataclasses import replace
from datetime import date, time, timedelta

import pytest

from intake.kitchen.jobs import moved
from intake.kitchen.plan import decide
from intake.kitchen.ways import ways_out, with_hours
from intake.model import Clash, Fits
from tests.kitchen.kit import at, house, job

RULES = house(kitchen={"sleep": (time(22, 30), time(6, 30))})
NOW = at("2026-03-11T18:00", RULES)
SATURDAY = at("2026-03-14T17:00", RULES)
BIG = job(1, SATURDAY, 24, level="elaborate")
ASKED = job(2, SATURDAY, 30, level="elaborate", colors=5, age=0)


def _ways(jobs, rules=RULES):
    clash = decide(jobs, rules, now=NOW)
    assert isinstance(clash, Clash)
    return clash, {way.kind: way.says for way in ways_out(clash, jobs, rules, now=NOW)}


def _fits(*jobs, rules=RULES):
    return isinstance(decide(jobs, rules, now=NOW), Fits)


def test_the_day_that_would_work():
    clash, ways = _ways([BIG, ASKED])
    assert ways["day"] == f"hand it over on {clash.earliest:%A} {clash.earliest.day} {clash.earliest:%B}"
    assert _fits(BIG, moved(ASKED, clash.earliest, RULES))


SMALL = replace(ASKED, count=14, level="plain")


def test_the_largest_count_that_fits():
    said = _ways([BIG, SMALL])[1]["count"]
    most = int(re.fullmatch(r"make (\d+) of the 14 by then \(fewer than the 12 you take on\)", said)[1])
    assert _fits(BIG, replace(SMALL, count=most))
    assert not _fits(BIG, replace(SMALL, count=most + 1))


def test_a_handful_is_no_way_out():
    assert "count" not in _ways([BIG, ASKED])[1]


@pytest.mark.parametrize(("count", "level"), [(4, "detailed"), (6, "detailed"), (2, "elaborate"), (12, "elaborate")])
def test_plainer_cookies(count, level):
    asked = replace(ASKED, count=count, level=level)
    _, ways = _ways([BIG, asked])
    tried = {step: _fits(BIG, replace(asked, level=step)) for step in ("plain", "detailed") if step != level}
    assert ways.get("level") == next(
        (f"decorate them {plainer} instead of {level}" for plainer in ("detailed", "plain") if tried.get(plainer)), None
    )
    fewer = [n for n in range(1, 5) if _fits(BIG, replace(asked, colors=n))]
    said = f"{max(fewer)} {'color' if max(fewer) == 1 else 'colors'} instead of 5" if fewer else None
    assert ways.get("colors") == said


@pytest.mark.parametrize(
    ("count", "level", "hours"), [(14, "plain", 1), (4, "detailed", 1), (24, "detailed", 2), (26, "detailed", 3)]
)
def test_hours_more_on_a_named_day(count, level, hours):
    asked = replace(ASKED, count=count, level=level)
    said = _ways([BIG, asked])[1]["hours"]
    many, day, start, end = re.search(r"work (.+) hours? more on \w+ (\d+) March, ([\d:]+) to ([\d:]+)", said).groups()
    opens, closes = time.fromisoformat(start), time.fromisoformat(end)
    assert many == {1: "one", 2: "2", 3: "3"}[hours] and closes.hour - opens.hour == hours
    assert not any(RULES.kitchen.asleep(time(h)) for h in range(opens.hour, closes.hour))
    assert _fits(BIG, asked, rules=with_hours(RULES, date(2026, 3, int(day)), opens, closes))
    assert not _fits(BIG, asked)


def test_no_way_is_offered_for_an_hour_that_has_passed():
    late = replace(ASKED, due=NOW - timedelta(hours=1))
    assert set(_ways([late])[1]) <= {"day"}


def test_a_clash_of_others_does_not_hide_the_ways():
    past = at("2026-03-28T17:00", RULES)
    others = [job(n, past, 70, level="elaborate") for n in (3, 4, 5)]
    jobs = [BIG, ASKED, *others]
    clash = decide(jobs, RULES, now=NOW)
    assert isinstance(clash, Clash)
    assert ways_out(clash, jobs, RULES, now=NOW)
