"""The one place that asks what time it is."""

from __future__ import annotations

import os
from datetime import datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


def now(zone: ZoneInfo) -> datetime:
    """The present moment in `zone`, to the second. `ORDERTIN_NOW` (ISO 8601) stands in for it where set."""
    fixed = os.environ.get("ORDERTIN_NOW")
    if fixed:
        try:
            moment = datetime.fromisoformat(fixed)
        except ValueError:
            from intake.model import OrdertinError

            raise OrdertinError(
                f"“{fixed:.40}” is not a moment",
                where="ORDERTIN_NOW",
                todo="Write it like 2027-03-14T18:30, or unset it",
            ) from None
        return moment.astimezone(zone) if moment.tzinfo else moment.replace(tzinfo=zone)
    return datetime.now(zone).replace(microsecond=0)


def zone_of(name: str) -> ZoneInfo:
    """The time zone called `name`, or the machine's own where `name` is empty; UTC where that is unknown."""
    if not name:
        link = os.path.realpath("/etc/localtime")
        name = os.environ.get("TZ", "").lstrip(":") or link.partition("zoneinfo/")[2] or "UTC"
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return ZoneInfo("UTC")
