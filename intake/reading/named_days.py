"""Days that have a name, by the year: fixed, the nth weekday of a month, counted from Easter, or looked up.

The moving feasts of other calendars come from the `holidays` library (this file is its only door in the reader).
Each is the day as observed in one country, so it is offered and not promised.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable
from datetime import date, timedelta
from functools import lru_cache

Rule = Callable[[int], date | None]


def nth_weekday(year: int, month: int, weekday: int, nth: int) -> date | None:
    """The `nth` (1 to 5, or -1 for the last) `weekday` (Monday 0) of a month; None where there is no such day."""
    days = [d for d in range(1, calendar.monthrange(year, month)[1] + 1) if date(year, month, d).weekday() == weekday]
    index = nth - 1 if nth > 0 else nth
    return date(year, month, days[index]) if -len(days) <= index < len(days) else None


def easter(year: int) -> date:
    from dateutil.easter import easter as western

    day: date = western(year)
    return day


def _fixed(month: int, day: int) -> Rule:
    return lambda year: date(year, month, day)


def _nth(month: int, weekday: int, nth: int, plus: int = 0) -> Rule:
    def rule(year: int) -> date | None:
        day = nth_weekday(year, month, weekday, nth)
        return day + timedelta(days=plus) if day else None

    return rule


def _easter(plus: int) -> Rule:
    return lambda year: easter(year) + timedelta(days=plus)


def _looked_up(country: str, name: str, plus: int = 0) -> Rule:
    def rule(year: int) -> date | None:
        day = _observed(country, name, year)
        return day + timedelta(days=plus) if day else None

    return rule


@lru_cache(maxsize=256)
def _observed(country: str, name: str, year: int) -> date | None:
    import holidays

    calendar_of = getattr(holidays, country)
    table = calendar_of(years=year, language="en_US", categories=calendar_of.supported_categories)
    return min((day for day, title in table.items() if name in title.lower()), default=None)


_S = r"'?s?'?"
_TABLE: tuple[tuple[str, Rule, str], ...] = (
    (r"christmas eve|xmas eve|x-mas eve|nochebuena|noche buena", _fixed(12, 24), "Christmas Eve"),
    (r"boxing day", _fixed(12, 26), "Boxing Day"),
    (r"christmas(?: day)?|xmas(?: day)?|x-mas|navidad", _fixed(12, 25), "Christmas"),
    (rf"new year{_S} eve|nye|fin de año|año viejo", _fixed(12, 31), "New Year's Eve"),
    (rf"new year{_S}(?: day)?|año nuevo", _fixed(1, 1), "New Year"),
    (r"epiphany|three kings(?: day)?|día de reyes|dia de reyes|reyes magos", _fixed(1, 6), "Epiphany"),
    (r"(?:mlk|martin luther king(?: jr\.?)?)(?: day)?", _nth(1, 0, 3), "Martin Luther King Day"),
    (r"groundhog day", _fixed(2, 2), "Groundhog Day"),
    (r"super ?bowl(?: sunday)?", _nth(2, 6, 2), "the big game"),
    (
        rf"(?:saint |st\.? )?valentine{_S}(?: day)?|v-day|vday|san valent[ií]n|d[ií]a del amor",
        _fixed(2, 14),
        "Valentine's Day",
    ),
    (rf"president{_S} day", _nth(2, 0, 3), "Presidents' Day"),
    (rf"(?:saint|st\.?) pat(?:rick|ty|dy){_S}(?: day)?|paddy{_S} day", _fixed(3, 17), "St Patrick's Day"),
    (r"mardi gras|fat tuesday|shrove tuesday|pancake day", _easter(-47), "Shrove Tuesday"),
    (r"ash wednesday", _easter(-46), "Ash Wednesday"),
    (r"mothering sunday", _easter(-21), "Mothering Sunday"),
    (r"palm sunday|domingo de ramos", _easter(-7), "Palm Sunday"),
    (r"good friday|viernes santo", _easter(-2), "Good Friday"),
    (r"easter monday", _easter(1), "Easter Monday"),
    (r"easter(?: sunday| day)?|pascua|domingo de resurrecci[oó]n", _easter(0), "Easter"),
    (r"pentecost|whit sunday", _easter(49), "Pentecost"),
    (r"earth day", _fixed(4, 22), "Earth Day"),
    (r"anzac day", _fixed(4, 25), "Anzac Day"),
    (r"d[ií]a del niño", _fixed(4, 30), "Día del Niño"),
    (r"cinco de mayo|5 de mayo", _fixed(5, 5), "Cinco de Mayo"),
    (r"d[ií]a de (?:las madres|la madre|las mam[aá]s)", _fixed(5, 10), "Día de las Madres"),
    (rf"mother{_S} day|mum{_S} day|mom{_S} day", _nth(5, 6, 2), "Mother's Day"),
    (r"memorial day", _nth(5, 0, -1), "Memorial Day"),
    (rf"father{_S} day|dad{_S} day|d[ií]a del padre", _nth(6, 6, 3), "Father's Day"),
    (r"juneteenth", _fixed(6, 19), "Juneteenth"),
    (r"canada day", _fixed(7, 1), "Canada Day"),
    (
        r"(?:the )?(?:4th|fourth) of july|independence day|july (?:4th|fourth)|4 de julio",
        _fixed(7, 4),
        "the Fourth of July",
    ),
    (r"labou?r day", _nth(9, 0, 1), "Labor Day"),
    (rf"grandparent{_S} day", _nth(9, 0, 1, plus=6), "Grandparents' Day"),
    (r"(?:columbus|indigenous peoples?'?) day", _nth(10, 0, 2), "Columbus Day"),
    (r"halloween|hallowe'en|noche de brujas", _fixed(10, 31), "Halloween"),
    (r"d[ií]a de (?:los )?muertos|day of the dead", _fixed(11, 2), "Day of the Dead"),
    (r"bonfire night|guy fawkes(?: night)?", _fixed(11, 5), "Bonfire Night"),
    (rf"veteran{_S} day|remembrance day", _fixed(11, 11), "Veterans Day"),
    (r"black friday", _nth(11, 3, 4, plus=1), "Black Friday"),
    (r"thanksgiving(?: day)?|acci[oó]n de gracias", _nth(11, 3, 4), "Thanksgiving"),
    (r"(?:lunar|chinese) new year|tet|seollal", _looked_up("SG", "chinese new year"), "Lunar New Year"),
    (r"diwali|deepavali", _looked_up("SG", "diwali"), "Diwali"),
    (r"eid al[- ]adha", _looked_up("SG", "eid al-adha"), "Eid al-Adha"),
    (r"eid(?: al[- ]fitr| ul[- ]fitr)?", _looked_up("SG", "eid al-fitr"), "Eid"),
    (r"hanukk?ah?|chanuk+ah?|januc[aá]", _looked_up("IL", "hanukkah", plus=-1), "Hanukkah"),
    (r"rosh hashana[h]?", _looked_up("IL", "rosh hashanah"), "Rosh Hashanah"),
    (r"passover|pesach", _looked_up("IL", "pesach"), "Passover"),
)
NAMED = re.compile(r"\b(?:" + "|".join(f"(?P<d{i}>{p})" for i, (p, _, _) in enumerate(_TABLE)) + r")(?![\w'])")


def name_of(match: re.Match[str]) -> str:
    """The plain name of the day that `NAMED` has matched."""
    return _TABLE[_index(match)][2]


def is_estimate(match: re.Match[str]) -> bool:
    """Whether the day follows another calendar, or the customs of one country."""
    return _index(match) >= len(_TABLE) - 7 or name_of(match) == "the big game"


def day_of(match: re.Match[str], on_or_after: date) -> date | None:
    """The first such day on or after a day; None where it is not known."""
    rule = _TABLE[_index(match)][1]
    for year in (on_or_after.year, on_or_after.year + 1):
        day = rule(year)
        if day and day >= on_or_after:
            return day
    return None


def _index(match: re.Match[str]) -> int:
    return int((match.lastgroup or "d0")[1:])
