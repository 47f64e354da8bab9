"""`python -m tests.pricing.sheets`: quote and cost sheet of three orders of the demo, as of 25 November 2026."""

from __future__ import annotations

import sys
import tempfile
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from intake import demo
from intake.desk import Desk
from intake.model import Order
from intake.pricing.printed import cost_lines, quote_lines

NOW = datetime(2026, 11, 25, 10, tzinfo=ZoneInfo("America/Chicago"))
#: A plain set that is picked up, one of more designs, one in a box that is sent.
CUSTOMERS = ("Delia Quarles", "Ebony Lathrop", "Zelda Constantine")


def sheets() -> str:
    """What is printed: for each customer the quote as it was made, and what it costs and earns."""
    with tempfile.TemporaryDirectory() as folder:
        home = demo.make(Path(folder) / "book", now=NOW)
        with Desk(home, now=lambda: NOW) as desk:
            found = {order.draft.customer.value: order for order in desk.rack()}
            return "\n\n".join(_sheet(desk, found[name]) for name in CUSTOMERS)


def _sheet(desk: Desk, order: Order) -> str:
    quote, version = desk.till.price(order.id), len(desk.till.versions(order.id))
    return "\n".join([*quote_lines(order, quote, version), *cost_lines(desk.till.sheet(order.id))])


if __name__ == "__main__":
    sys.stdout.write(sheets() + "\n")
