"""The calendar's file, read back by the package and by a small reader of our own that knows only RFC 5545."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from icalendar import Calendar

from intake.model import Due, Order, Work
from intake.papers.entries import Dated, Entry, dated, entries
from intake.papers.ics import ics
from tests.kitchen.kit import house
from tests.papers.kit import DAY, at, order

RULES = house()
NOW = at("2026-03-09T09:00")


def work(number: int, label: str, start: str, minutes: int = 30, step: str = "flood") -> Work:
    return Work(number, step, label, at(start), at(start) + timedelta(minutes=minutes))


def plan(*works: Work) -> tuple[Work, ...]:
    return works


def unfolded(file: bytes) -> list[str]:
    """RFC 5545, 3.1: a CRLF and one blank is no break."""
    return file.replace(b"\r\n ", b"").decode().removesuffix("\r\n").split("\r\n")


def events(file: bytes) -> list[dict[str, str]]:
    """Each event's own properties, by their names with parameters."""
    found: list[dict[str, str]] = []
    depth: list[str] = []
    for line in unfolded(file):
        name, _, value = line.partition(":")
        if name == "BEGIN":
            depth.append(value)
            if value == "VEVENT":
                found.append({})
        elif name == "END":
            assert depth.pop() == value
        elif depth[-1] == "VEVENT":
            assert name not in found[-1]
            found[-1][name] = value
    assert depth == []
    return found


def written(
    *orders: Order, of: tuple[Work, ...] = (), held: tuple[Dated, ...] = (), now: datetime = NOW
) -> tuple[Dated, ...]:
    return dated(entries(orders, of, RULES), held, name="b00k", now=now, house=RULES)


class TestEntries:
    def test_a_hand_over_with_its_time(self) -> None:
        (entry,) = entries([order(7, customer="Dana Reyes", theme="moons", lettering=("Leo",))], (), RULES)
        assert (entry.key, entry.start, entry.end) == (
            "order-7-hand-over", at("2026-03-14T14:00"), at("2026-03-14T14:30"),
        )  # fmt: skip
        assert entry.summary == "Pick-up: Dana Reyes, 24 moons"
        assert "Lettering: Leo" in entry.description
        assert entry.alarm == 30

    def test_a_day_alone_is_a_whole_day_whose_end_is_the_next(self) -> None:
        """RFC 5545, 3.6.1: DTEND is exclusive."""
        (entry,) = entries([order(7, due=Due.on(DAY))], (), RULES)
        assert (entry.start, entry.end) == (DAY, DAY + timedelta(days=1))

    def test_a_parcel_has_a_day_to_post_and_a_day_to_arrive(self) -> None:
        """Three business days before Friday 20 March 2026, on Monday to Wednesday: Tuesday 17."""
        posted, arrives = entries([order(7, handover="ship", due=Due.on(date(2026, 3, 20)))], (), RULES)
        assert (posted.key, posted.start) == ("order-7-post", date(2026, 3, 17))
        assert "never a promise" in posted.description
        assert (arrives.start, arrives.summary[:8]) == (date(2026, 3, 20), "Arrives:")

    def test_a_delivery_has_its_address_and_a_pick_up_none(self) -> None:
        for handover, place in (("deliver", "4 Elm St"), ("pickup", "")):
            (entry,) = entries([order(7, handover=handover, address="4 Elm St")], (), RULES)
            assert entry.location == place

    def test_work_that_follows_on_each_other_is_one_session(self) -> None:
        found = entries(
            [order(1, customer="Dana Reyes"), order(2, customer="Bea Ortiz")],
            plan(
                work(1, "mix dough", "2026-03-10T18:00", step="dough"),
                work(2, "flood", "2026-03-10T18:30"),
                work(1, "bake", "2026-03-11T09:00", step="bake"),
                work(1, "cut", "2026-03-11T14:00", step="bake"),
                work(1, "late", "2026-03-11T22:00", step="bake"),
                work(1, "later", "2026-03-12T00:10", step="bake"),
            ),
            RULES,
        )
        bench = [entry for entry in found if entry.key.startswith("bench")]
        assert [entry.key for entry in bench] == [
            "bench-2026-03-10-evening", "bench-2026-03-11-morning", "bench-2026-03-11-afternoon",
            "bench-2026-03-11-evening", "bench-2026-03-12-morning",
        ]  # fmt: skip
        assert bench[0].end == at("2026-03-10T19:00")
        assert bench[0].summary == "At the bench: dough, flood"
        assert bench[0].description.splitlines() == [
            "18:00-18:30 mix dough: Dana Reyes", "18:30-19:00 flood: Bea Ortiz",
        ]  # fmt: skip

    def test_two_sessions_of_one_part_of_a_day_are_told_apart(self) -> None:
        found = entries([], plan(work(1, "a", "2026-03-11T06:00"), work(1, "b", "2026-03-11T10:00")), RULES)
        assert [entry.key for entry in found] == ["bench-2026-03-11-morning", "bench-2026-03-11-morning-2"]

    @given(st.text(), st.datetimes(datetime(2020, 1, 1), datetime(2040, 1, 1)), st.integers(0, 999), st.booleans())
    def test_an_entry_comes_back_from_its_content(self, text: str, start: datetime, alarm: int, whole: bool) -> None:
        begins = start.date() if whole else start.replace(tzinfo=RULES.zone)
        entry = Entry(text, begins, begins + timedelta(days=1), text, text, text, alarm)
        assert Entry.of(entry.content).content == entry.content


class TestSequence:
    def test_a_new_entry_begins_at_nothing_and_stays_while_it_is_the_same(self) -> None:
        first = written(order(1))
        again = written(order(1), held=first, now=NOW + timedelta(days=1))
        assert [each.sequence for each in first] == [0]
        assert again == first

    def test_it_stays_the_same_in_the_hour_that_a_clock_passes_twice(self) -> None:
        night = datetime(2026, 11, 1, 1, tzinfo=RULES.zone)
        entry = Entry("order-1", night, night + timedelta(minutes=15), "Dana", "", "")
        first = dated([entry], (), name="a", now=NOW, house=RULES)
        held = [replace(first[0], entry=Entry.of(entry.content))]
        assert dated([entry], held, name="a", now=NOW, house=RULES)[0].sequence == 0

    def test_each_change_is_the_next_and_keeps_the_name(self) -> None:
        first = written(order(1))
        moved = written(order(1, due=Due.on(DAY, time(16))), held=first, now=NOW + timedelta(days=1))
        assert [(each.uid, each.sequence) for each in moved] == [(first[0].uid, 1)]
        assert moved[0].stamp == NOW + timedelta(days=1)
        back = written(order(1), held=moved, now=NOW + timedelta(days=2))
        assert back[0].sequence == 2

    def test_what_is_wanted_no_more_is_called_off_once(self) -> None:
        first = written(order(1), order(2))
        gone = written(order(1), held=first)
        assert [(each.sequence, each.gone) for each in gone] == [(0, False), (1, True)]
        assert written(order(1), held=gone, now=NOW + timedelta(hours=1)) == gone
        back = written(order(1), order(2), held=gone)
        assert [(each.sequence, each.gone) for each in back] == [(0, False), (2, False)]

    def test_what_is_over_is_left_as_it_was(self) -> None:
        first = written(order(1))
        assert written(held=first, now=at("2026-03-14T14:30")) == ()
        assert [each.gone for each in written(held=first, now=at("2026-03-14T14:29"))] == [True]

    def test_two_books_have_names_of_their_own(self) -> None:
        wanted = entries([order(1)], (), RULES)
        one, other = (dated(wanted, (), name=name, now=NOW, house=RULES)[0].uid for name in ("a", "b"))
        assert one != other


class TestFile:
    def test_what_the_standard_requires(self) -> None:
        """RFC 5545, 3.6 and 3.6.1: PRODID, VERSION once; UID and DTSTAMP once, DTSTART, never DTEND and DURATION."""
        file = ics(written(order(1), order(2, due=Due.on(DAY)), of=plan(work(1, "flood", "2026-03-10T18:00"))))
        lines = unfolded(file)
        assert [sum(line.startswith(f"{name}:") for line in lines) for name in ("PRODID", "VERSION")] == [1, 1]
        assert "VERSION:2.0" in lines
        found = events(file)
        assert len(found) == 3
        for event in found:
            assert event.keys() >= {"UID", "DTSTAMP", "SEQUENCE", "SUMMARY"}
            assert re.fullmatch(r"\d{8}T\d{6}Z", event["DTSTAMP"])
            assert sum(name.startswith("DTSTART") for name in event) == 1
            assert "DURATION" not in event
        whole = next(event for event in found if event["UID"].startswith("order-2-"))
        assert (whole["DTSTART;VALUE=DATE"], whole["DTEND;VALUE=DATE"]) == ("20260314", "20260315")
        # Two in the afternoon in Chicago in summer time, which began on 8 March 2026, is 19:00 UTC.
        assert next(e for e in found if e["UID"].startswith("order-1-"))["DTSTART"] == "20260314T190000Z"

    def test_alarms(self) -> None:
        """RFC 5545, 3.6.6: a DISPLAY alarm has a TRIGGER and a DESCRIPTION. A whole day's counts from midnight."""
        lines = unfolded(ics(written(order(1), order(2, due=Due.on(DAY)))))
        assert [line for line in lines if line.startswith("TRIGGER")] == ["TRIGGER:-PT6H", "TRIGGER:-PT30M"]
        alarms = "\n".join(lines).split("BEGIN:VALARM")[1:]
        assert all("ACTION:DISPLAY" in alarm and "DESCRIPTION:" in alarm.partition("END")[0] for alarm in alarms)

    def test_what_is_called_off_says_so_and_rings_no_more(self) -> None:
        file = ics(written(held=written(order(1))))
        (event,) = events(file)
        assert (event["STATUS"], event["SEQUENCE"]) == ("CANCELLED", "1")
        assert b"VALARM" not in file

    # The library takes a backslash and an N for a newline, even in the text that it is given.
    @given(st.lists(st.text(max_size=200).filter(lambda text: "\\N" not in text), min_size=1, max_size=3))
    @settings(max_examples=60)
    def test_lines_are_folded_by_octets_and_text_comes_back(self, texts: list[str]) -> None:
        """RFC 5545, 3.1: no line above 75 octets, no character cut; 3.3.11: text comes back from its escapes."""
        cleaned = ["".join(c for c in text if c >= " " and c != "\x7f") for text in texts]
        made = tuple(
            Dated(f"{n}@ordertin", Entry("k", DAY, DAY + timedelta(days=1), text, f"{text}\n{text}"), 0, NOW)
            for n, text in enumerate(cleaned)
        )
        file = ics(made)
        assert file.endswith(b"\r\n")
        assert b"\n" not in file.replace(b"\r\n", b"")
        for line in file.split(b"\r\n"):
            assert len(line) <= 75
            line.decode("utf-8")
        back = list(Calendar.from_ical(file).walk("VEVENT"))
        assert [str(event["SUMMARY"]) for event in back] == cleaned
        assert [event["DTSTAMP"].dt for event in back] == [NOW.astimezone(UTC)] * len(texts)

    @pytest.mark.parametrize(
        ("text", "escaped"),
        [("a, b; c\\d: e", r"a\, b\; c\\d: e"), ("two\nlines", r"two\nlines"), ("BEGIN:VALARM", "BEGIN:VALARM")],
    )
    def test_escapes(self, text: str, escaped: str) -> None:
        """RFC 5545, 3.3.11: backslash, semicolon, comma and newline; a colon is not escaped."""
        file = ics((Dated("1@ordertin", Entry("k", DAY, DAY + timedelta(days=1), text), 0, NOW),))
        assert events(file)[0]["SUMMARY"] == escaped


def test_the_reader_of_ours_sees_a_fold() -> None:
    def lines() -> Iterator[bytes]:
        yield from (b"SUMMARY:one", b" two", b"END:VEVENT", b"")

    assert unfolded(b"\r\n".join(lines())) == ["SUMMARY:onetwo", "END:VEVENT"]
