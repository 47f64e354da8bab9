"""A day that hangs on another one ("the day before", "that friday", "the 14th"), settled by it."""

from __future__ import annotations

import calendar
from dataclasses import replace
from datetime import date, timedelta

from intake.reading.calendar_days import DAY, coming, ordinal_near
from intake.reading.date_said import DateSaid, wrong_weekday


def hang(said: DateSaid, on: DateSaid | None, sent: date) -> DateSaid:
    """`said` settled by the day it hangs on (None: nothing but the message); unchanged where it can't be."""
    if said.anchor is None:
        return said
    base = on.first if on and on.first else None
    match said.anchor:
        case ("offset", int(days)):
            if not base or not on or not on.last:
                return said
            shift = days * DAY
            others = tuple((a + shift, b + shift) for a, b in on.others)
            last = (on.last if days == 0 else base) + shift
            grain = on.grain if days == 0 else said.grain
            return replace(
                said,
                first=base + shift,
                last=last,
                anchor=None,
                grain=grain,
                doubt=said.doubt or on.doubt,
                others=others,
            )
        case ("week", int(side)):
            if not base:
                return said
            sunday = base - timedelta(days=(base.weekday() + 1) % 7) + 7 * side * DAY
            return replace(said, first=max(sunday, sent), last=sunday + 6 * DAY, grain="week", anchor=None)
        case ("weekend",):
            if not base:
                return said
            saturday = base - DAY if base.weekday() == 6 else coming(5, base - DAY)
            return replace(said, first=saturday, last=saturday + DAY, grain="weekend", anchor=None)
        case ("weekday", int(weekday), str(side)):
            near = coming(weekday, sent)
            if base and side == "before":
                day = base - timedelta(days=(base.weekday() - weekday - 1) % 7 + 1)
            elif base and side == "after":
                day = base + timedelta(days=(weekday - base.weekday() - 1) % 7 + 1)
            elif base and on and on.last:
                day = base - timedelta(days=(base.weekday() - weekday) % 7)
                if on.grain in ("weekend", "week", "part", "range") and (inside := coming(weekday, base)) <= on.last:
                    day = inside
            elif side != "near":
                return said
            elif near == sent:
                return replace(
                    said, first=near + 7 * DAY, last=near + 7 * DAY, anchor=None, others=((near, near),),
                    doubt=f"written on a {calendar.day_name[weekday]}: today or in a week",
                )  # fmt: skip
            else:
                day = near
            if day < sent:
                day = near
            return replace(said, first=day, last=day, anchor=None)
        case ("ordinal", int(day_number), int(weekday)):
            found = ordinal_near(day_number, weekday, sent, base)
            if not found:
                return said
            day, agrees = found
            doubt = "" if agrees else wrong_weekday(day, calendar.day_name[weekday])
            return replace(said, first=day, last=day, anchor=None, doubt=doubt or said.doubt)
    return said
