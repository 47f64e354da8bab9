"""The days of the baker's words, read by the grammar that reads customers' days, and a few that only she says."""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from intake.house import ReadingPart
from intake.talk_shapes import Days

_ONE = timedelta(days=1)
_MONTH_ON = re.compile(r"\b(?P<which>this|next|last|the) (?P<unit>month|year)\b")
_PAST = re.compile(r"\b(?:last|past|previous) (?P<unit>week|weekend)\b|\byesterday\b")
_IN_HAND = re.compile(r"\b(?:that|the same) (?P<unit>week|weekend|day|month)\b")
_PLAIN = re.compile(r"\b(?:the )?(?P<unit>weekend|wknd)\b|\bthe (?P<week>week)\b")
_LAST_OF = re.compile(
    r"\blast (?P<m>jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\b|\b(?:in |during )?(?P<y>20\d\d)\b"
    r"|\blast (?P<s>christmas|xmas|easter|summer|spring|fall|autumn|winter|halloween|thanksgiving)\b"
)
_MONTH = re.compile(r"\b(?P<m>jan|feb|apr|jun|jul|aug|sept?|oct|nov|dec)[a-z]*\b(?! ?\d)")
_BEHIND = re.compile(r"\b(?:was|were|did|made|earned|took|sold)\b")
_TOLD = re.compile(r"(?:\bthis|next|last|that|coming|past|same|of|\bthe) $")
_HANGS = re.compile(r" (?:of|before|after)\b")
_JOIN = re.compile(r"\s*(?:and|to|through|thru|till|until|-|\u2013|&)\s*(?:the\s+)?")
_FIRST_OF = {"jan": 1, "feb": 2, "mar": 3, "apr": 4, "may": 5, "jun": 6, "jul": 7, "aug": 8, "sep": 9, "oct": 10,
             "nov": 11, "dec": 12}  # fmt: skip
_SEASONS = {"christmas": (12, 12), "xmas": (12, 12), "easter": (3, 4), "summer": (6, 8), "spring": (3, 5),
            "fall": (9, 11), "autumn": (9, 11), "halloween": (10, 10), "thanksgiving": (11, 11)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Said:
    """Characters `start` to `end` name days. `others` are further readings; `past` what lies behind; `lone` one day
    that stands for itself."""

    start: int
    end: int
    days: Days
    others: tuple[Days, ...] = ()
    past: bool = False


def days_said(low: str, today: date, rules: ReadingPart, held: date | None) -> list[Said]:
    """The days that shadow text `low` names, in order. `held` is the day of the order in hand, for "that week"."""
    from intake.reading.dates import find

    own = list(_own(low, today, held))
    taken = [(said.start, said.end) for said in own]
    found = [
        Said(d.start, d.end, days, d.others)
        for d in find(low, today, order=rules.date_order, next_weekday=rules.next_weekday, taken=taken)
        if (days := _settled(d.first, d.last, d.anchor, today, held))
    ]
    return _joined(low, sorted((*own, *found), key=lambda said: said.start))


def _settled(
    first: date | None, last: date | None, anchor: tuple[object, ...] | None, today: date, held: date | None
) -> Days | None:
    """Settled days, and those that hang on another: a bare weekday is the coming one, "the 12th" the coming 12th."""
    if first and last:
        return first, last
    match anchor:
        case ("weekday", int(weekday), *_):
            day = today + timedelta(days=(weekday - today.weekday()) % 7)
            return day, day
        case ("ordinal", int(number), *_):
            return _coming(number, today)
        case ("offset", int(by), *_) if held:
            return held + timedelta(days=by), held + timedelta(days=by)
    return None


def _coming(number: int, today: date) -> Days | None:
    first = today.replace(day=1)
    for _ in range(4):
        length = calendar.monthrange(first.year, first.month)[1]
        if number <= length and (day := first.replace(day=number)) >= today:
            return day, day
        first += timedelta(days=length)
    return None


def week_of(day: date) -> Days:
    """The week of a day, Sunday to Saturday, as customers' weeks are read."""
    first = day - timedelta(days=(day.weekday() + 1) % 7)
    return first, first + 6 * _ONE


def weekend_of(day: date) -> Days:
    saturday = day + timedelta(days=(5 - day.weekday()) % 7) if day.weekday() != 6 else day - _ONE
    return saturday, saturday + _ONE


def month_of(day: date) -> Days:
    first = day.replace(day=1)
    return first, first.replace(day=calendar.monthrange(day.year, day.month)[1])


def _day_of(day: date) -> Days:
    return day, day


_UNITS = {"week": week_of, "weekend": weekend_of, "wknd": weekend_of, "month": month_of, "day": _day_of}


def _own(low: str, today: date, held: date | None) -> Iterator[Said]:
    for m in _MONTH_ON.finditer(low):
        if m["unit"] == "month":
            first, last = month_of(today)
            by = {"next": last + _ONE, "last": first - _ONE}.get(m["which"], today)
            yield Said(m.start(), m.end(), month_of(by), past=m["which"] == "last")
        elif m["which"] in ("this", "last"):
            year = today.year - (m["which"] == "last")
            yield Said(m.start(), m.end(), (date(year, 1, 1), date(year, 12, 31)), past=m["which"] == "last")
    for m in _PAST.finditer(low):
        day = today - (7 if m["unit"] else 1) * _ONE
        yield Said(m.start(), m.end(), _UNITS[m["unit"] or "day"](day), past=True)
    for m in _IN_HAND.finditer(low):
        if held or m["unit"] == "week":
            yield Said(m.start(), m.end(), _UNITS[m["unit"]](held or today))
    for m in _LAST_OF.finditer(low):
        yield Said(m.start(), m.end(), _long_ago(m, today), past=True)
    for m in _MONTH.finditer(low) if _BEHIND.search(low) else ():
        number = _FIRST_OF[m["m"][:3]]
        first = date(today.year - (number > today.month), number, 1)
        yield Said(m.start(), m.end(), month_of(first), past=True)
    for m in _PLAIN.finditer(low):
        told = _TOLD.search(low[max(0, m.start() - 8) : m.start()]) or _HANGS.match(low, m.end())
        if not told:
            yield Said(m.start(), m.end(), (today, week_of(today)[1]) if m["week"] else weekend_of(today))


def _long_ago(m: re.Match[str], today: date) -> Days:
    if m["y"]:
        return date(int(m["y"]), 1, 1), date(int(m["y"]), 12, 31)
    if m["s"] == "winter":
        year = today.year - 1
        return date(year, 12, 1), month_of(date(year + 1, 2, 1))[1]
    first, last = (_FIRST_OF[m["m"]],) * 2 if m["m"] else _SEASONS[m["s"]]
    year = today.year if last < today.month else today.year - 1
    return date(year, first, 1), month_of(date(year, last, 1))[1]


def _joined(low: str, said: list[Said]) -> list[Said]:
    """"Friday and Saturday", "the 5th to the 8th": from the one to the other where they are named as one span."""
    out: list[Said] = []
    for each in said:
        before = out[-1] if out else None
        if before and each.start < before.end:
            continue
        if before and _JOIN.fullmatch(low[before.end : each.start]) and before.days[0] < each.days[1]:
            out[-1] = Said(before.start, each.end, (before.days[0], each.days[1]), past=before.past)
        else:
            out.append(each)
    return out
