"""What a parcel is charged at: its weight, or what its box counts as where that is more.

A carrier divides a box's cubic inches by a divisor of its own and takes the result for pounds. Divisor and rounding
have changed with the years, so the day of sending decides:

| rule    | from        | divisor | sides             | boxes          | source                                |
| ------- | ----------- | ------- | ----------------- | -------------- | ------------------------------------- |
| post    |             | 166     | nearest inch      | above 1,728 in3| DMM 123.1.4, 604.7.1                  |
| post    | 12 Jul 2026 | 139     | up to whole inches| above 1,728 in3| 91 FR 27837 (opening) and trade press |
| courier |             | 139     | nearest inch      | all            | carriers' rate guides                 |
| courier | 18 Aug 2025 | 139     | up to whole inches| all            | carriers' notices                     |

Both weights go up to the next whole pound, and the greater is charged.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor

# The avoirdupois pound (NIST Handbook 44, Appendix C).
POUND_GRAMS = Decimal("453.59237")


@dataclass(frozen=True, slots=True)
class Rule:
    starts: date
    divisor: int
    up: bool
    above: int


RULES: dict[str, tuple[Rule, ...]] = {
    "post": (Rule(date.min, 166, False, 1728), Rule(date(2026, 7, 12), 139, True, 1728)),
    "courier": (Rule(date.min, 139, False, 0), Rule(date(2025, 8, 18), 139, True, 0)),
}


def rule_of(name: str, sent: date) -> Rule:
    return next(rule for rule in reversed(RULES[name]) if rule.starts <= sent)


def dimensional_pounds(box: Sequence[Decimal], name: str, sent: date) -> int:
    """What a box counts as, in whole pounds; 0 where it is small enough to go by its weight alone. Sides in inches."""
    rule = rule_of(name, sent)
    volume = 1
    for side in box:
        volume *= max(1, ceil(side) if rule.up else floor(Fraction(side) + Fraction(1, 2)))
    return ceil(Fraction(volume, rule.divisor)) if volume > rule.above else 0


def charged_pounds(grams: Decimal, box: Sequence[Decimal], name: str, sent: date) -> tuple[int, int]:
    """What a parcel is charged at, and what it weighs, both in whole pounds."""
    actual = max(1, ceil(Fraction(grams) / Fraction(POUND_GRAMS)))
    return max(actual, dimensional_pounds(box, name, sent)), actual
