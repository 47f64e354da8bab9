from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.house import WEEKDAYS
from intake.kitchen.carrier_days import arrival_day, is_business_day, last_send_day, post_holiday

EARLY_WEEK = ("monday", "tuesday", "wednesday")

# 5 USC 6103(a) and (b); where a holiday is a Saturday the post closes that day and not the Friday.
HOLIDAYS = {
    2026: "01-01 01-19 02-16 05-25 06-19 07-04 09-07 10-12 11-11 11-26 12-25",
    2027: "01-01 01-18 02-15 05-31 06-19 07-04 07-05 09-06 10-11 11-11 11-25 12-25",
}


@pytest.mark.parametrize("year", HOLIDAYS)
def test_the_posts_holidays_are_the_federal_ones(year):
    days = [date(year, 1, 1) + timedelta(days=n) for n in range(365)]
    assert [f"{day:%m-%d}" for day in days if post_holiday(day)] == HOLIDAYS[year].split()


@pytest.mark.parametrize(
    ("day", "open_"),
    [
        pytest.param(date(2026, 7, 3), True, id="Friday before a holiday on Saturday"),
        pytest.param(date(2027, 7, 5), False, id="Monday after a holiday on Sunday"),
        pytest.param(date(2026, 7, 7), True, id="a Tuesday"),
        pytest.param(date(2026, 7, 11), False, id="a Saturday"),
        pytest.param(date(2026, 11, 26), False, id="Thanksgiving"),
    ],
)
def test_business_days(day, open_):
    assert is_business_day(day) is open_


@pytest.mark.parametrize(
    ("sent", "transit", "arrives"),
    [
        # Worked by hand from 5 USC 6103: Thanksgiving, Thursday 26 November 2026, is skipped.
        pytest.param(date(2026, 11, 23), 3, date(2026, 11, 27), id="Monday before Thanksgiving"),
        pytest.param(date(2026, 11, 24), 3, date(2026, 11, 30), id="Tuesday before Thanksgiving"),
        pytest.param(date(2026, 3, 9), 3, date(2026, 3, 12), id="plain week"),
        pytest.param(date(2026, 3, 11), 3, date(2026, 3, 16), id="over a weekend"),
        pytest.param(date(2026, 3, 14), 1, date(2026, 3, 16), id="sent on a Saturday"),
        pytest.param(date(2026, 12, 24), 1, date(2026, 12, 28), id="Christmas on a Friday"),
        pytest.param(date(2027, 12, 30), 2, date(2028, 1, 3), id="New Year on a Saturday"),
        pytest.param(date(2026, 3, 9), 0, date(2026, 3, 9), id="no days on the road"),
    ],
)
def test_arrival(sent, transit, arrives):
    assert arrival_day(sent, transit) == arrives


@pytest.mark.parametrize(
    ("arrive_by", "transit", "send_on", "sent"),
    [
        pytest.param(date(2026, 11, 30), 3, EARLY_WEEK, date(2026, 11, 24), id="Monday after Thanksgiving"),
        pytest.param(date(2026, 11, 27), 3, EARLY_WEEK, date(2026, 11, 23), id="Friday after Thanksgiving"),
        pytest.param(date(2026, 11, 25), 3, EARLY_WEEK, date(2026, 11, 18), id="day before Thanksgiving"),
        pytest.param(date(2026, 12, 1), 3, EARLY_WEEK, date(2026, 11, 24), id="never on the eve of a holiday"),
        pytest.param(date(2026, 12, 1), 2, EARLY_WEEK, date(2026, 11, 24), id="nor with less time on the road"),
        pytest.param(date(2027, 7, 6), 1, ("friday", "thursday"), date(2027, 7, 1), id="nor before a long weekend"),
        pytest.param(date(2026, 3, 17), 1, ("thursday", "friday"), date(2026, 3, 12), id="nor before a weekend"),
        pytest.param(date(2026, 3, 14), 3, EARLY_WEEK, date(2026, 3, 10), id="Saturday"),
        pytest.param(date(2026, 3, 14), 1, EARLY_WEEK, date(2026, 3, 11), id="one day on the road"),
        pytest.param(date(2026, 3, 14), 1, ("friday",), date(2026, 3, 6), id="Fridays alone"),
        pytest.param(date(2026, 5, 29), 3, ("monday",), date(2026, 5, 18), id="the Monday is a holiday"),
    ],
)
def test_last_sending_day(arrive_by, transit, send_on, sent):
    assert last_send_day(arrive_by, transit, send_on) == sent


@given(
    st.dates(date(2026, 1, 1), date(2028, 12, 31)), st.integers(0, 7), st.sets(st.sampled_from(WEEKDAYS), min_size=1)
)
def test_what_is_sent_arrives_in_time_from_a_day_of_hers(arrive_by, transit, send_on):
    sent = last_send_day(arrive_by, transit, send_on)
    assert arrival_day(sent, transit) <= arrive_by
    assert WEEKDAYS[sent.weekday()] in send_on and not post_holiday(sent)
    eve = not is_business_day(sent + timedelta(days=1))
    early = send_on & set(WEEKDAYS[:4])
    assert not (eve and early)
