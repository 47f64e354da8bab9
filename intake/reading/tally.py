"""The state of one order's count while its thread is read."""

from __future__ import annotations

from dataclasses import dataclass, field

from intake.model import Evidence
from intake.reading.counts import Quantity
from intake.reading.found import Found


@dataclass
class Tally:
    """The state of one order's count while the thread is read. `each` is cookies for one head."""

    total: int | None = None
    first: int | None = None
    heads: int | None = None
    each: int | None = None
    evidence: tuple[Evidence, ...] = ()
    why: str = ""
    rule: str = ""
    others: tuple[int, ...] = ()
    kinds: int = 0
    trail: list[tuple[str, str, str, Evidence]] = field(default_factory=list)

    def set(self, total: int, evidence: tuple[Evidence, ...], rule: str, why: str = "") -> None:
        self.total, self.evidence, self.rule, self.why, self.others = total, evidence, rule, why, ()
        self.first = self.first or total
        self.trail.append((rule, str(total), why if why else "stands", evidence[0]))

    def unsettled(self, low: int, high: int, evidence: tuple[Evidence, ...], rule: str, why: str) -> None:
        self.total, self.evidence, self.rule, self.why, self.others = None, evidence, rule, why, (low, high)
        self.trail.append((rule, f"{low} or {high}", why, evidence[0]))


def spans(f: Found, *spans: Quantity) -> tuple[Evidence, ...]:
    return tuple(f.turn.evidence(q.start, q.end) for q in spans)
