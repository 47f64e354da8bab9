"""What the desk's tests share: a reader that reads a little language of its own, an export that grows, and shortcuts.

A customer's words such as `count=24 theme=unicorns due=2026-03-21 handover=pickup` are those fields; `?` after a value
leaves it to be checked, a later message wins, `|` begins the next order of the message, `intent=ask` is the intent.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from intake import record
from intake.desk import Desk
from intake.model import Cell, Draft, Evidence, Order, OrdertinError, Reading, Reply, Thread

ZONE = ZoneInfo("America/Chicago")
NOW = datetime(2026, 3, 11, 9, tzinfo=ZONE)
# 24 plain cookies at 36.00 a dozen are 72.00, half of it down; the rates are those of the default house rules.
ORDER = "count=24 theme=unicorns due=2026-04-21 handover=pickup"
FULL = "count=24 theme=unicorns due=2026-03-21 handover=pickup"
RULES = {"baker = \"\"": 'baker = "Nell"', 'timezone = ""': 'timezone = "America/Chicago"'}


def fake_read(thread: Thread, rules: object) -> Reading:
    drafts: list[dict[str, Cell[Any]]] = []
    intent = "chat"
    for message in thread.messages:
        if message.mine:
            continue
        intent, start = "chat", 0
        if "gone" in message.text:
            drafts.clear()
        for place, part in enumerate(message.text.split("|")):
            for word in part.split():
                name, _, said = word.partition("=")
                if not said:
                    continue
                start = message.text.index(word)
                if name == "intent":
                    intent = said
                    continue
                intent = "order" if intent == "chat" else intent
                while len(drafts) <= place:
                    drafts.append({"customer": Cell(thread.customer, True)})
                value = record.value_of(name, said.rstrip("?")) if said != "-" else None
                sure = not said.endswith("?")
                evidence = (Evidence(message.id, start, start + len(word)),)
                drafts[place][name] = Cell(value, sure, evidence, "" if sure else "not plain", rule="fake")
    return Reading(Cell(intent, True), tuple(Draft(**cells) for cells in drafts))


class Clock:
    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now


class Export:
    """A file of threads, one JSON line each, that grows; each message is an hour after the one before."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._threads: dict[str, list[dict[str, Any]]] = {}
        self._at = NOW - timedelta(days=2)

    def writes(self, who: str, *texts: str, mine: bool = False) -> Export:
        thread = self._threads.setdefault(who, [])
        for text in texts:
            self._at += timedelta(hours=1)
            said = {"from": "Nell" if mine else who, "mine": mine, "at": self._at.isoformat(), "text": text}
            thread.append({"id": f"m{len(thread)}", **said})
        lines = (json.dumps({"id": name, "channel": "chat", "messages": said}) for name, said in self._threads.items())
        self.path.write_text("\n".join(lines))
        return self


Writes = Callable[..., Order]


def values(order: Order) -> dict[str, Any]:
    return {n: order.draft.cell(n).value for n in ("count", "theme", "due", "handover") if order.draft.cell(n).value}


def everything(desk: Desk) -> Any:
    """The book as the baker can see it, but for the journal."""
    cases = [desk.case(f"t{n}") for n in range(1, 9) if not _missing(desk, n)]
    return cases, desk.waiting(), desk.rack()


def _missing(desk: Desk, number: int) -> bool:
    try:
        desk.case(f"t{number}")
    except OrdertinError:
        return True
    return False


def sent(desk: Desk, order: Order, kind: str = "ask") -> Order:
    return desk.replied(order.id, Reply(kind, order.draft.customer.value or "", "", f"About {kind}?"), "by hand")


def booked(desk: Desk, order: Order) -> Order:
    desk.confirm(order.id)
    desk.quote(order.id)
    return desk.book(order.id)
