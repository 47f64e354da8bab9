"""`python -m tests.replies.sheets [en|es]`: every answer to one order from the first question to the thanks."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from decimal import Decimal

from intake.house import default_house
from intake.model import Clash, Reply, State
from intake.replies.wording import KINDS, write
from tests.replies.orders import order


def answers(language: str) -> Iterator[tuple[str, Reply]]:
    """Every kind of answer, in the order in which they may come."""
    house = default_house()
    clash = Clash((7,), 7, "", date(2026, 6, 27))
    for kind in ("ask", *(each for each in KINDS if each != "ask")):
        asked = {"state": State.DRAFT, "count": None, "handover": None} if kind == "ask" else {}
        paid = Decimal("77.00") if kind in ("deposit", "ready", "sent", "thanks") else Decimal(0)
        parcel = {"handover": "ship", "address": "12 Alder Ct"} if kind == "sent" else {}
        made = replace(order(paid=paid, **asked, **parcel), tracking="0000 1111 2222" if kind == "sent" else "")
        yield kind, write(kind, made, house, templates=None, verdict=clash, language=language)


def main(language: str) -> int:
    for kind, reply in answers(language):
        sys.stdout.write(f"== {kind}: {reply.subject}\n\n{reply.text}\n\n")
    return 0


if __name__ == "__main__":
    sys.exit(main(*(sys.argv[1:] or ["en"])))
