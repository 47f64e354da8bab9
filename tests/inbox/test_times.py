from __future__ import annotations

from typing import Any

import pytest

from intake.inbox.times import of_any
from tests.inbox.conftest import ZONE

MOMENT = "2026-03-11T14:05:10-05:00"


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        # ISO 8601 in the profiles that exports use; RFC 3339 section 5.8 for the ones with Z and offsets.
        pytest.param("2026-03-11T14:05:10", MOMENT, id="ISO, the house's own zone"),
        pytest.param("2026-03-11T19:05:10Z", MOMENT, id="ISO, Z"),
        pytest.param("2026-03-11T20:05:10.123456789+01:00", MOMENT, id="ISO, offset and nanoseconds"),
        pytest.param("2026-03-11 19:05:10 UTC", MOMENT, id="space and UTC"),
        pytest.param("2026-03-11 19:05:10 +0000", MOMENT, id="space and offset"),
        pytest.param("2026/03/11 14:05:10", MOMENT, id="slashes, year first"),
        pytest.param("2026/3/9 14:05:10", "2026-03-09T14:05:10-05:00", id="slashes, short"),
        pytest.param("20260311T190510Z", MOMENT, id="ISO, basic"),
        pytest.param("2026-03-11", "2026-03-11T00:00:00-05:00", id="day"),
        pytest.param("2026-03-08T03:30:00", "2026-03-08T03:30:00-05:00", id="after the clocks went forward"),
        pytest.param("2026-03-08T01:30:00", "2026-03-08T01:30:00-06:00", id="before the clocks went forward"),
        pytest.param(1773255910, MOMENT, id="seconds"),
        pytest.param(1773255910.25, MOMENT, id="seconds with a fraction"),
        pytest.param(1773255910000, MOMENT, id="milliseconds"),
        pytest.param(1773255910000000, MOMENT, id="microseconds"),
        pytest.param(1773255910000000000, MOMENT, id="nanoseconds"),
        pytest.param("1773255910", MOMENT, id="seconds as text"),
        pytest.param("1773255910.000100", MOMENT, id="seconds as text with a fraction"),
        pytest.param("1773255910000", MOMENT, id="milliseconds as text"),
        pytest.param({"$date": "2026-03-11T19:05:10Z"}, MOMENT, id="wrapped text"),
        pytest.param({"$date": {"$numberLong": "1773255910000"}}, MOMENT, id="wrapped twice"),
        pytest.param({"seconds": 1773255910, "nanos": 5}, MOMENT, id="wrapped seconds"),
        pytest.param("Wed, 11 Mar 2026 19:05:10 +0000", MOMENT, id="RFC 5322"),
        pytest.param("Wed Mar 11 19:05:10 +0000 2026", MOMENT, id="asctime with an offset"),
        pytest.param("Mar 11, 2026, 2:05:10\u202fPM", MOMENT, id="words with an odd space"),
        pytest.param("Wednesday, March 11, 2026 at 7:05:10 p.m. UTC", MOMENT, id="words, UTC"),
        pytest.param("Mar 11, 2026 12:05 am", "2026-03-11T00:05:00-05:00", id="just after midnight"),
        pytest.param(0, "1969-12-31T18:00:00-06:00", id="nought"),
        pytest.param("3/4/26 2:05 PM", None, id="day or month first: not guessed"),
        pytest.param("2026-13-45", None, id="no such day"),
        pytest.param("soon", None, id="words"),
        pytest.param("", None, id="empty"),
        pytest.param("24", None, id="a small number as text"),
        pytest.param(True, None, id="yes"),
        pytest.param(None, None, id="null"),
        pytest.param(float("nan"), None, id="not a number"),
        pytest.param(float("inf"), None, id="infinite"),
        pytest.param(10**400, None, id="endless"),
        pytest.param([1773255910], None, id="list"),
        pytest.param({"when": 1}, None, id="object without a time"),
    ],
)
def test_times_of_exports(value: Any, expected: str | None) -> None:
    at = of_any(value, ZONE)
    assert (at.isoformat() if at else None) == expected
