"""What each rule of `date_phrases` means: a matched phrase and the day of the message give the day said."""

from __future__ import annotations

import calendar
import re
from datetime import date, timedelta

from intake.reading import named_days, numbers, resolve
from intake.reading.calendar_days import DAY, coming, month_span, next_week, on_or_after, ordinal_near
from intake.reading.date_phrases import ORDINAL_WORDS, RULES, month_of, weekday_of
from intake.reading.date_said import DateSaid, short, wrong_weekday


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


def _month_meant(said: str, sent: date) -> tuple[int, int]:
    """Year and month of a month's name, the next of that name; of "this" or "next month" where it is no name."""
    month = month_of(said)
    if month:
        return sent.year + (month < sent.month), month
    year, month = divmod(sent.year * 12 + sent.month - 1 + ("next" in said), 12)
    return year, month + 1


def _weeks_after(word: str, weeks: int, sent: date) -> date:
    """So many weeks after today, tomorrow, or the next weekday of that name."""
    if word in ("today", "now"):
        return sent + 7 * weeks * DAY
    if word in ("tomorrow", "tmrw"):
        return sent + (7 * weeks + 1) * DAY
    return coming(weekday_of(word), sent + DAY) + 7 * weeks * DAY


def reading_of(rule: str, m: re.Match[str], sent: date, order: str, next_weekday: str) -> DateSaid | None:
    """The day that phrase `m`, found by `rule`, means in a message sent on `sent`; None where it means none.

    `order` and `next_weekday` are the house's habits, as in `dates.find`.
    """
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
        doubt = wrong_weekday(found, said)
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
                and not re.search(r"\b(?:on|by|before|until|after|from|is|for)\s+(?:the )?$", m.string[: m.start()])
            ):
                return None
            phrase = re.sub(r"\s+", " ", g["md"]).replace(g["d"], str(_ordinal(g["d"])))
            found = resolve.month_day(phrase.replace(",", "").replace(".", "")) or (month_of(g["m"]), _ordinal(g["d"]))
            return calendar_day(*found, g.get("y"), g.get("w"), g.get("w2"))
        case "between two days":
            ends = [
                reading_of("slash date", s, sent, order, next_weekday)
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
        case "nth weekend of month":
            year, month = _month_meant(g["m"], sent)
            nth = next((k for k, start in enumerate(("f1p", "2", "3t"), 1) if g["n"][0] in start), -1)
            nth = 2 if g["n"] == "second" else -1 if re.match(r"last|[uú]l", g["n"]) else nth
            saturday = named_days.nth_weekday(year, month, 5, nth)
            return span(saturday, saturday + DAY, "weekend") if saturday and saturday >= sent else None
        case "weeks from weekday" | "weeks today":
            fortnight = "fortnight" in m[0]
            if not fortnight and not g["u"]:
                return None
            return on(_weeks_after(g["w"], 2 if fortnight else _amount(g["n"]), sent))
        case "from this day in eight":
            # Counted with both ends: "in eight" is a week on, "in fifteen" two.
            weeks = 1 if g["n"] in ("ocho", "8") else 2
            if g["w"] in ("hoy", "mañana"):
                return on(sent + (7 * weeks + (g["w"] == "mañana")) * DAY)
            return on(coming(weekday_of(g["w"]), sent) + 7 * weeks * DAY)
        case "last day of month":
            year, month = _month_meant(g["m"], sent)
            return on(month_span(year, month)[1])
        case "day after that":
            return hanging("offset", -1 if re.search(r"\beve of|v[ií]spera|previous|preceding", m[0]) else 1)
        case "weekdays from now":
            return on(coming(weekday_of(g["w"]), sent + DAY) + 7 * (_amount(g["n"]) - 1) * DAY)
        case "weekday week" if g["w"] in ("today", "tomorrow"):
            return on(sent + (7 + (g["w"] == "tomorrow")) * DAY)
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
            doubt = f"“{name} after next” can be {short(near + 7 * DAY)} or {short(later)}"
            return on(near + 7 * DAY, others=((later, later),), doubt=doubt)
        case "weekday the day" | "the day weekday":
            return hanging("ordinal", _ordinal(g["d"]), weekday_of(g["w"]))
        case "the day" | "the day in words":
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
                doubt=f"“next {calendar.day_name[weekday]}” can be {short(near)} or {short(later)}",
            )
        case "weekday next week":
            weekday = weekday_of(g["w"])
            this = "this" in g["which"] or "esta" in g["which"]
            return on(coming(weekday, sent) if this else next_week(weekday, sent))
        case "this weekday":
            return on(coming(weekday_of(g["w"]), sent))
        case "weekday around":
            side = "after" if re.match(r"after|following|despu", g["side"]) else "before"
            return hanging("weekday", weekday_of(g["w"]), side)
        case "weekday" | "that weekday":
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
            which = re.match(r"(first|1st|primera)|(second|2nd|segunda)|(third|3rd|tercera)|(fourth|4th)", p)
            if which and re.search(r"week|semana", p):
                begin = first + 7 * ((which.lastindex or 1) - 1) * DAY
                return span(max(begin, sent), begin + 6 * DAY, "part")
            if re.match(r"last week|[uú]ltima", p):
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
