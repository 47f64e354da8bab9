"""When a message was written: what mails and chat exports say of it, as moments in the house's time zone.

A time without a zone is the house's own. Nothing here raises: what can't be read is None.
"""

from __future__ import annotations

import math
import re
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from typing import Any
from zoneinfo import ZoneInfo

EARLIEST_YEAR = 1995
FAR_AHEAD = timedelta(days=366)

_ZONE_WORD = re.compile(r"\s*(?:Z|UTC|GMT)$", re.IGNORECASE)
_SPACED_OFFSET = re.compile(r"\s+([+-]\d\d:?\d\d)$")
_WORDY = re.compile(
    r"(?:[a-z]+,?\s+)?(?P<month>jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s+(?P<day>\d\d?),?\s+"
    r"(?P<year>\d{4}),?\s+(?:at\s+)?(?P<hour>\d\d?):(?P<minute>\d\d)(?::(?P<second>\d\d))?\s*(?P<half>[ap]\.?m\.?)?",
    re.IGNORECASE,
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
_NUMERIC = re.compile(r"[+-]?\d{9,20}(?:\.\d{1,9})?")


def is_sane(at: datetime, latest: datetime) -> bool:
    """Within what a customer's message can be dated: not before e-mail was common, not far ahead of `latest`."""
    return at.year >= EARLIEST_YEAR and at <= latest + FAR_AHEAD


def of_mail(value: str, zone: ZoneInfo) -> datetime | None:
    """The date-time of RFC 5322 section 3.3, obsolete forms too, in `zone`. "-0000" is UTC without a place."""
    try:
        at = parsedate_to_datetime(value.strip())
        return (at if at.tzinfo else at.replace(tzinfo=UTC)).astimezone(zone).replace(microsecond=0)
    except (TypeError, ValueError, IndexError, OverflowError, AttributeError):
        return None


def of_any(value: Any, zone: ZoneInfo) -> datetime | None:
    """A time as JSON exports write it: ISO 8601, an RFC 5322 date, "Mar 11, 2026, 2:05 PM", or a count of seconds,
    milliseconds, microseconds or nanoseconds since 1970, told apart by size; also as a numeric text or wrapped
    in an object."""
    if isinstance(value, dict):
        wrapped = ("$date", "$numberLong", "seconds", "_seconds", "value", "iso", "timestamp")
        return next((at for key in wrapped if key in value and (at := of_any(value[key], zone))), None)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return None
    if isinstance(value, int | float):
        return _of_count(value, zone)
    text = value.replace("\u202f", " ").replace("\xa0", " ").replace("\u200e", "").strip()[:80]
    if _NUMERIC.fullmatch(text):
        return _of_count(float(text) if "." in text else int(text), zone)
    return _of_iso(text, zone) or _of_words(text, zone) or (of_mail(text, zone) if ":" in text else None)


def _of_count(count: float, zone: ZoneInfo) -> datetime | None:
    try:
        if not math.isfinite(count):
            return None
        for unit, size in ((1, 1e11), (1e3, 1e14), (1e6, 1e17), (1e9, 1e20)):
            if abs(count) < size:
                return datetime.fromtimestamp(count / unit, UTC).astimezone(zone).replace(microsecond=0)
    except (OverflowError, ValueError, OSError):
        pass
    return None


def _of_iso(text: str, zone: ZoneInfo) -> datetime | None:
    text = _SPACED_OFFSET.sub(r"\1", _ZONE_WORD.sub("+00:00", text))
    if re.match(r"\d{4}/\d\d?/\d\d?\b", text):
        year, month, rest = text.split("/", 2)
        text = f"{year}-{month:0>2}-{rest if rest[1:2].isdigit() else '0' + rest}"
    try:
        at = datetime.fromisoformat(text)
        return (at.astimezone(zone) if at.tzinfo else at.replace(tzinfo=zone)).replace(microsecond=0)
    except (ValueError, OverflowError):
        return None


def _of_words(text: str, zone: ZoneInfo) -> datetime | None:
    said = _WORDY.match(text)
    if not said:
        return None
    rest = text[said.end() :].strip().upper()
    hour, half = int(said["hour"]), (said["half"] or "").lower()
    if half and hour <= 12:
        hour = hour % 12 + (12 if half.startswith("p") else 0)
    try:
        month = _MONTHS.index(said["month"].lower()) + 1
        at = datetime(int(said["year"]), month, int(said["day"]), hour, int(said["minute"]), int(said["second"] or 0))
        return at.replace(tzinfo=UTC).astimezone(zone) if rest in ("UTC", "GMT", "Z") else at.replace(tzinfo=zone)
    except (ValueError, OverflowError):
        return None
