"""Calendar entries as an iCalendar file (RFC 5545). The one file that imports `icalendar`."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from icalendar import Alarm, Calendar, Event

from intake.papers.entries import Dated

PRODUCT = "-//ordertin//order calendar//EN"


def ics(entries: Iterable[Dated]) -> bytes:
    """The file: lines end in CRLF and are folded at 75 octets; moments are in UTC, days are days."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for dated in entries:
        calendar.add_component(_event(dated))
    return bytes(calendar.to_ical())


def _event(dated: Dated) -> Event:
    entry, event = dated.entry, Event()
    event.add("uid", dated.uid)
    event.add("dtstamp", dated.stamp.astimezone(UTC))
    event.add("sequence", dated.sequence)
    for name, when in (("dtstart", entry.start), ("dtend", entry.end)):
        event.add(name, when.astimezone(UTC) if isinstance(when, datetime) else when)
    event.add("summary", entry.summary)
    for name, text in (("description", entry.description), ("location", entry.location)):
        if text:
            event.add(name, text)
    event.add("status", "CANCELLED" if dated.gone else "CONFIRMED")
    # A whole day is there to be seen, not to keep other things from being put on it.
    event.add("transp", "OPAQUE" if isinstance(entry.start, datetime) else "TRANSPARENT")
    if entry.alarm and not dated.gone:
        alarm = Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", entry.summary)
        alarm.add("trigger", timedelta(minutes=-entry.alarm))
        event.add_component(alarm)
    return event
