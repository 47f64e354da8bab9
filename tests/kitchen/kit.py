"""Houses and jobs for the kitchen's tests."""

from datetime import datetime, time
from typing import Any

from intake.house import House, default_house
from intake.model import Job

DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


def house(zone: str = "America/Chicago", **parts: dict[str, Any]) -> House:
    """The default house in `zone`, with the given rules changed. No supper, no sleep: tests of those set their own."""
    plain = default_house()
    parts["kitchen"] = {"supper": (), "sleep": None, **parts.get("kitchen", {})}
    parts["house"] = {"timezone": zone, **parts.get("house", {})}
    return plain.model_copy(
        update={name: getattr(plain, name).model_copy(update=changes) for name, changes in parts.items()}
    )


def every_day(*spans: tuple[str, str]) -> dict[str, Any]:
    hours = tuple((time.fromisoformat(start), time.fromisoformat(end)) for start, end in spans)
    return dict.fromkeys(DAYS, hours)


def at(text: str, of: House) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=of.zone)


def job(number: int, due: datetime, count: int = 24, **more: Any) -> Job:
    return Job(**{"order_id": number, "name": f"order {number}", "count": count, "due": due, "age": 1, **more})
