"""Every date phrase of a text, with all its readings: the grammar of days is ours.

A phrase is either settled here (`first`/`last`, both ends included) or hangs on another day of the conversation
(`anchor`), such as "the day before" or a bare "friday" once the party's date is known. What was said (month, day,
weekday) and what follows from the message (year, month, week) are kept apart, so that a weekday that disagrees
with its date is seen. Weeks start on Sunday.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from intake.reading import named_days, numbers, resolve
from intake.reading.date_phrases import ORDINAL_WORDS, RULES, month_of, weekday_of

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class DateSaid:
    """One date phrase, characters `start` to `end`.

    `grain`: day, weekend, week, month or part (of a month). `anchor`: None, or ("offset", days), ("weekday", weekday,
    "before" | "after" | "near"), ("ordinal", day, weekday | -1). `others`: further readings as (first, last).
    `doubt` says in a baker's words what does not agree.
    """

    start: int
    end: int
    first: date | None
    last: date | None
    rule: str
    grain: str = "day"
    anchor: tuple[object, ...] | None = None
    others: tuple[tuple[date, date], ...] = ()
    doubt: str = ""
    named: str = ""


def find(
    low: str, sent: date, *, order: str = "MDY", next_weekday: str = "week after", taken: Sequence[tuple[int, int]] = ()
) -> list[DateSaid]:
    """The date phrases of shadow text `low`, sent on day `sent`, in text order and without overlaps.

    `order` is the house's order of slash dates; `next_weekday` ("coming" or "week after") says which reading of "next
    Friday" is offered first; phrases that touch `taken` spans (phones, ages, money) are left out.
    """
    said = [
        d
        for rule, pattern in RULES.items()
        for m in pattern.finditer(low)
        if (d := _make(rule, m, sent, order, next_weekday))
    ]
    said.extend(_named(low, sent))
    said = _longest([d for d in said if not any(d.start < e and d.end > s for s, e in taken)])
    return _joined(low, said, sent)


def on_or_after(month: int, day: int, base: date) -> date | None:
    """The first day of that month and day on or after `base`, within the next five years (29 February)."""
    for year in range(base.year, base.year + 5):
        try:
            found = date(year, month, day)
        except ValueError:
            continue
        if found >= base:
            return found
    return None


def coming(weekday: int, base: date) -> date:
    """The next such weekday on or after `base`."""
    return base + timedelta(days=(weekday - base.weekday()) % 7)


def next_week(weekday: int, base: date) -> date:
    """Such a weekday in the week after the one of `base`; weeks start on Sunday."""
    sunday = base - timedelta(days=(base.weekday() + 1) % 7) + timedelta(days=7)
    return sunday + timedelta(days=(weekday + 1) % 7)


def ordinal_near(day: int, weekday: int, base: date, anchor: date | None = None) -> tuple[date, bool] | None:
    """The day-of-month meant by "the 14th": on or after `base`, near `anchor` where there is one.

    A said `weekday` (-1 for none) picks the month in which it falls; the second value tells whether it agrees.
    """
    found = []
    for step in range(-1, 13):
        year, month = divmod(base.year * 12 + base.month - 1 + step, 12)
        if day <= calendar.monthrange(year, month + 1)[1] and (d := date(year, month + 1, day)) >= base:
            found.append(d)
    if not found:
        return None
    agreeing = [d for d in found[:4] if weekday in (-1, d.weekday())]
    pool = agreeing or found
    if anchor:
        before = [d for d in pool if d <= anchor + 3 * DAY]
        return (before[-1] if before else pool[0]), bool(agreeing)
    return pool[0], bool(agreeing)


def month_span(year: int, month: int) -> tuple[date, date]:
    return date(year, month, 1), date(year, month, calendar.monthrange(year, month)[1])


def _amount(text: str | None) -> int:
    if not text:
        return 1
    low = " ".join(text.lower().split())
    if low.startswith("a couple"):
        return 2
    if low.startswith("a few"):
        return 3
    if low in ("a", "an", "un", "una", "fortnight", "a fortnight"):
        return 1
    found = numbers.value(low)
    return int(found) if found else 1


def _ordinal(text: str) -> int:
    low = re.sub(r"\s+|-", " ", text.lower().strip())
    digits = re.match(r"\d+", low)
    if digits:
        return int(digits[0])
    return next((i for i, w in enumerate(ORDINAL_WORDS, 1) if low == w.replace(r"[-\x20]", " ")), 0)


def _wrong_weekday(day: date, weekday_text: str | None) -> str:
    if not weekday_text or day.weekday() == weekday_of(weekday_text):
        return ""
    said = calendar.day_name[weekday_of(weekday_text)]
    return f"says {said}, but {day:%B} {day.day} is a {calendar.day_name[day.weekday()]}"


def _make(rule: str, m: re.Match[str], sent: date, order: str, next_weekday: str) -> DateSaid | None:
    g = m.groupdict()

    def on(day: date | None, **more: object) -> DateSaid | None:
        return DateSaid(m.start(), m.end(), day, day, rule, **more) if day else None  # type: ignore[arg-type]

    def span(first: date, last: date, grain: str, **more: object) -> DateSaid:
        return DateSaid(m.start(), m.end(), first, last, rule, grain, **more)  # type: ignore[arg-type]

    def hanging(*anchor: object) -> DateSaid:
        return DateSaid(m.start(), m.end(), None, None, rule, anchor=anchor)

    def calendar_day(month: int, day: int, year: str | None, *weekdays: str | None) -> DateSaid | None:
        if year:
            full = int(year) + 2000 if len(year) == 2 else int(year)
            try:
                found: date | None = date(full, month, day)
            except ValueError:
                return None
        else:
            # A day just past is still that day ("it was for March 3"), not next year's.
            found = on_or_after(month, day, sent)
        if not found:
            return None
        said = next((w for w in weekdays if w), None)
        doubt = _wrong_weekday(found, said)
        others: tuple[tuple[date, date], ...] = ()
        if doubt and said:
            near = min(
                (found + k * DAY for k in (-3, -2, -1, 1, 2, 3)),
                key=lambda d: (d.weekday() != weekday_of(said), abs(d - found)),
            )
            others = ((near, near),)
        return on(found, doubt=doubt, others=others)

    match rule:
        case "month day" | "day month":
            if (
                rule == "day month"
                and month_of(g["m"]) == 5
                and not re.search(r"(?:st|nd|rd|th|of|de|º)", g["md"])
                and not g["y"]
                and not g["w"]
            ):
                return None
            phrase = re.sub(r"\s+", " ", g["md"]).replace(g["d"], str(_ordinal(g["d"])))
            found = resolve.month_day(phrase.replace(",", "").replace(".", "")) or (month_of(g["m"]), _ordinal(g["d"]))
            return calendar_day(*found, g.get("y"), g.get("w"), g.get("w2"))
        case "between two days":
            ends = [
                _make("slash date", s, sent, order, next_weekday)
                for s in (RULES["slash date"].search(g["a"]), RULES["slash date"].search(g["b"]))
                if s
            ]
            if (
                len(ends) < 2
                or not ends[0]
                or not ends[1]
                or not ends[0].first
                or not ends[1].last
                or ends[0].first > ends[1].last
            ):
                return None
            return span(ends[0].first, ends[1].last, "range")
        case "between ordinals":
            near_a = ordinal_near(int(g["a"]), -1, sent)
            near_b = ordinal_near(int(g["b"]), -1, near_a[0]) if near_a else None
            return span(near_a[0], near_b[0], "range") if near_a and near_b else None
        case "day or day of month" | "month day to day" | "between days of month":
            month, joint = month_of(g["m"]), g.get("j") or "-"
            a, b = on_or_after(month, int(g["a"]), sent), on_or_after(month, int(g["b"]), sent)
            if (
                not a
                or not b
                or a >= b
                or (month == 5 and rule == "day or day of month" and " " in joint and "or" not in joint)
            ):
                return None
            either = bool(re.search(r"\bor\b|\bo\b", joint))
            return span(a, b, "either" if either else "range")
        case "slash date" | "dotted or dashed date" | "iso date":
            one, two = int(g["a"]), int(g["b"])
            if rule != "iso date" and order == "DMY":
                month, day = (two, one) if two <= 12 else (one, two)
            else:
                month, day = (one, two) if one <= 12 else (two, one)
            if not (1 <= month <= 12 and 1 <= day <= 31):
                return None
            return calendar_day(month, day, g.get("y"), g.get("w"))
        case "nth weekday of month":
            nth = {
                "first": 1,
                "1st": 1,
                "primer": 1,
                "second": 2,
                "2nd": 2,
                "segundo": 2,
                "third": 3,
                "3rd": 3,
                "tercer": 3,
                "fourth": 4,
                "4th": 4,
            }.get(g["n"], -1)
            month = month_of(g["m"])
            year = sent.year
            if not month:
                month = sent.month % 12 + 1 if "next" in g["m"] else sent.month
                year += month == 1 and sent.month == 12 and "next" in g["m"]
            day_found = named_days.nth_weekday(year, month, weekday_of(g["w"]), nth)
            if day_found and day_found < sent:
                day_found = (
                    named_days.nth_weekday(year + 1, month, weekday_of(g["w"]), nth) if month_of(g["m"]) else None
                )
            return on(day_found)
        case "weeks from weekday":
            n = 2 * _amount(None) if "fortnight" in m[0] else _amount(g["n"])
            if "fortnight" not in m[0] and not g["u"]:
                return None
            low = g["w"]
            if low in ("today", "now"):
                return on(sent + 7 * n * DAY)
            if low in ("tomorrow", "tmrw"):
                return on(sent + (7 * n + 1) * DAY)
            return on(coming(weekday_of(low), sent + DAY) + 7 * n * DAY)
        case "weekdays from now":
            return on(coming(weekday_of(g["w"]), sent + DAY) + 7 * (_amount(g["n"]) - 1) * DAY)
        case "weekday week":
            return on(coming(weekday_of(g["w"]), sent + DAY) + 7 * DAY)
        case "weekday after next":
            near = coming(weekday_of(g["w"]), sent + DAY)
            if "this" in m[0]:
                return on(near + 7 * DAY)
            later = next_week(weekday_of(g["w"]), sent) + 7 * DAY
            if later == near + 7 * DAY:
                return on(later)
            name = calendar.day_name[near.weekday()]
            doubt = f"“{name} after next” can be {_short(near + 7 * DAY)} or {_short(later)}"
            return on(near + 7 * DAY, others=((later, later),), doubt=doubt)
        case "weekday the day" | "the day weekday":
            return hanging("ordinal", _ordinal(g["d"]), weekday_of(g["w"]))
        case "the day":
            return hanging("ordinal", _ordinal(g["d"]), -1)
        case "weekend of":
            if g["m"]:
                base = on_or_after(month_of(g["m"]), _ordinal(g["d"]), sent)
            else:
                near_day = ordinal_near(_ordinal(g["d2"]), -1, sent)
                base = near_day[0] if near_day else None
            if not base:
                return None
            if g["wk"] in ("week", "semana"):
                sunday = base - timedelta(days=(base.weekday() + 1) % 7)
                return span(max(sunday, sent), sunday + 6 * DAY, "week")
            saturday = base - DAY if base.weekday() == 6 else coming(5, base)
            return span(saturday, saturday + DAY, "weekend")
        case "this weekend":
            if g["which"] == "that":
                return hanging("weekend")
            saturday = coming(5, sent) if sent.weekday() != 6 else sent - DAY
            if g["which"] == "next":
                later = next_week(5, sent)
                return span(
                    later, later + DAY, "weekend", others=((saturday, saturday + DAY),) if later != saturday else ()
                )
            return span(max(saturday, sent), saturday + DAY, "weekend")
        case "this week":
            sunday = next_week(6, sent)
            if g["which"] in ("this", "esta"):
                return span(sent, sunday - DAY, "week")
            return span(sunday, sunday + 6 * DAY, "week") if g["which"] != "la" else None
        case "next weekday":
            weekday = weekday_of(g["w"])
            if "following" in g["which"] and "next" not in g["which"]:
                return hanging("weekday", weekday, "after")
            later, near = next_week(weekday, sent), coming(weekday, sent + DAY)
            if later == near:
                return on(later)
            first, second = (later, near) if next_weekday == "week after" else (near, later)
            return on(
                first,
                others=((second, second),),
                doubt=f"“next {calendar.day_name[weekday]}” can be {_short(near)} or {_short(later)}",
            )
        case "weekday next week":
            weekday = weekday_of(g["w"])
            this = "this" in g["which"] or "esta" in g["which"]
            return on(coming(weekday, sent) if this else next_week(weekday, sent))
        case "this weekday":
            return on(coming(weekday_of(g["w"]), sent))
        case "weekday":
            return hanging("weekday", weekday_of(g["w"]), "near")
        case "weekday around":
            side = "after" if re.match(r"after|following|despu", g["side"]) else "before"
            return hanging("weekday", weekday_of(g["w"]), side)
        case "that weekday":
            return hanging("weekday", weekday_of(g["w"]), "near")
        case "the one after":
            return hanging("offset", 7)
        case "that day":
            return hanging("offset", 0)
        case "days around":
            n = _amount(g["n"]) * (7 if re.match(r"week|semana", g["u"]) else 1)
            back = not re.match(r"after|later|despu", g["side"])
            if re.match(r"week|semana", g["u"]) and not g["n"]:
                return hanging("week", -1 if back else 1)
            return hanging("offset", -n if back else n)
        case "part of month":
            month, year = month_of(g["m"]), sent.year
            if not month:
                step = 1 if "next" in g["m"] else 0
                year, month = divmod(sent.year * 12 + sent.month - 1 + step, 12)
                month += 1
            elif (month, 28) < (sent.month, sent.day):
                year += 1
            first, last = month_span(year, month)
            p = g["p"]
            if re.match(r"first week", p):
                return span(max(first, sent), first + 6 * DAY, "part")
            if re.match(r"last week", p):
                return span(last - 6 * DAY, last, "part")
            if re.match(r"early|beginning|start|first|a? ?principios", p):
                return span(max(first, sent), first + 9 * DAY, "part")
            if re.match(r"mid|middle|a? ?mediados", p):
                return span(first + 10 * DAY, first + 19 * DAY, "part")
            return span(first + 20 * DAY, last, "part")
        case "in month":
            month = month_of(g["m"])
            if month == 5 and not re.match(r"(?:in|sometime|during|next|en)\b", m[0]):
                return None
            year = sent.year + (month < sent.month)
            first, last = month_span(year, month)
            return span(max(first, sent), last, "month")
        case "relative weeks" | "from now":
            n, unit = _amount(g["n"]), g["u"]
            if re.match(r"mon|mes", unit):
                year, month = divmod(sent.year * 12 + sent.month - 1 + n, 12)
                return on(
                    date(year, month + 1, min(sent.day, calendar.monthrange(year, month + 1)[1])),
                    doubt="about a month away",
                )
            return on(sent + n * DAY * (14 if unit.startswith("fort") else 7 if re.match(r"w|sem", unit) else 1))
        case "today":
            return on(sent)
        case "tomorrow":
            return on(sent + (2 if g["after"] else 1) * DAY)
    raise AssertionError(rule)


def _short(day: date) -> str:
    return f"{day:%a} {day:%b} {day.day}"


_USED_AS_THING = re.compile(
    r"'?s?[ -]*(?:themed?|cookies?|biscuits?|galletas|eggs?|trees?|colou?rs|bunn\w+|set|table|party|style|cards?|designs?"
    r"|shapes?|movie|sweater|ornaments?|goodies|treats|wreath\w*|stockings?|pumpkins?)\b"
)


def _named(low: str, sent: date) -> Iterator[DateSaid]:
    for m in named_days.NAMED.finditer(low):
        day = named_days.day_of(m, sent)
        if not day:
            continue
        thing = bool(_USED_AS_THING.match(low, m.end()))
        name = named_days.name_of(m)
        doubt = f"{name} is observed about then" if named_days.is_estimate(m) else ""
        yield DateSaid(
            m.start(), m.end(), day, day, "named day as a thing" if thing else "named day", named=name, doubt=doubt
        )


def _longest(said: list[DateSaid]) -> list[DateSaid]:
    kept: list[DateSaid] = []
    for d in sorted(said, key=lambda d: (d.start - d.end, d.rule == "weekday", not d.named, d.start)):
        if all(d.end <= k.start or d.start >= k.end for k in kept):
            kept.append(d)
    return sorted(kept, key=lambda d: d.start)


def _joined(low: str, said: list[DateSaid], sent: date) -> list[DateSaid]:
    """ "The saturday before easter": a phrase around a day that is named right behind it is settled by that day."""
    out: list[DateSaid] = []
    for d in said:
        if out and out[-1].anchor and out[-1].anchor[0] in ("offset", "weekday", "week") and d.first and d.last:
            link = low[out[-1].end : d.start]
            if (
                out[-1].anchor[0] == "weekday"
                and d.first == d.last
                and d.first.weekday() == out[-1].anchor[1]
                and re.fullmatch(r"\s*[,(-]\s*(?:the\s+)?", link)
            ):
                out[-1] = d  # "the tuesday before, 11/24": one day said twice
                continue
            around = out[-1].rule in ("days around", "weekday around", "that day")
            if around and re.fullmatch(r"\s*(?:of|on|del?|the|el|la|that|our|,)?\s*(?:the\s+)?", link):
                whole = hang(out[-1], d, sent)
                if whole.first:
                    out[-1] = replace(whole, end=d.end, rule=f"{out[-1].rule} {d.rule}", named=d.named)
                    continue
        out.append(d)
    return out


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
            doubt = "" if agrees else _wrong_weekday(day, calendar.day_name[weekday])
            return replace(said, first=day, last=day, anchor=None, doubt=doubt or said.doubt)
    return said
