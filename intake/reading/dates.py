"""Every date phrase of a text, with all its readings: the grammar of days is ours."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from intake.reading import fuzzy, named_days
from intake.reading.date_anchors import hang
from intake.reading.date_phrases import RULES
from intake.reading.date_rules import reading_of
from intake.reading.date_said import DateSaid


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
        if (d := reading_of(rule, m, sent, order, next_weekday))
    ]
    said.extend(_named(low, sent))
    said = _longest([d for d in said if not any(d.start < e and d.end > s for s, e in taken)])
    return _joined(low, said, sent)


_USED_AS_THING = re.compile(
    r"'?s?[ -]*(?:themed?|cookies?|biscuits?|galletas|eggs?|trees?|colou?rs|bunn\w+|set|table|party|style|cards?|designs?"
    r"|shapes?|movie|sweater|ornaments?|goodies|treats|presents?|gifts?|surprise|wreath\w*|stockings?|pumpkins?)\b"
)


#: Names of days that are long enough to be known by a slip of the pen.
_LONG_NAMES = ("thanksgiving", "halloween", "christmas", "valentine's", "valentines", "hanukkah", "juneteenth")


def _misspelt(low: str) -> Iterator[tuple[int, int, re.Match[str]]]:
    """(start, end, the match of the name meant) of each misspelt name of a day."""
    for m in re.finditer(r"[a-z']{7,14}", low):
        if (name := fuzzy.nearest(m[0], _LONG_NAMES)) and name != m[0] and (meant := named_days.NAMED.match(name)):
            yield m.start(), m.end(), meant


def _named(low: str, sent: date) -> Iterator[DateSaid]:
    for start, end, m in (*((m.start(), m.end(), m) for m in named_days.NAMED.finditer(low)), *_misspelt(low)):
        day = named_days.day_of(m, sent)
        if not day:
            continue
        thing = bool(_USED_AS_THING.match(low, end))
        name = named_days.name_of(m)
        doubt = f"{name} is observed about then" if named_days.is_estimate(m) else ""
        yield DateSaid(
            start, end, day, day, "named day as a thing" if thing else "named day", named=name, doubt=doubt
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
        if (
            out
            and out[-1].first
            and d.last
            and out[-1].first < d.last
            and re.fullmatch(r"\s*(?:and|to|through|thru|till|until|-)\s*(?:the )?", low[out[-1].end : d.start])
            and re.search(r"\b(?:between|from|anytime|any time|any day)\s+(?:the )?$", low[max(0, out[-1].start - 16) : out[-1].start])
        ):
            out[-1] = replace(out[-1], end=d.end, last=d.last, rule="between two days", grain="range", doubt="")
            continue
        if (
            out
            and out[-1].first
            and out[-1].first == out[-1].last
            and d.anchor
            and d.anchor[0] == "weekday"
            and d.anchor[1] == out[-1].first.weekday()
            and re.fullmatch(r"\s*,?\s*(?:that'?s|thats|it'?s|its|which is|this is|es)\s*(?:on )?(?:a |an |un )?", low[out[-1].end : d.start])
        ):
            out[-1] = replace(out[-1], end=d.end)  # "the 2nd of August, that's a Sunday"
            continue
        if (
            out
            and out[-1].anchor
            and out[-1].anchor[0] == "ordinal"
            and out[-1].anchor[2] == -1
            and d.anchor
            and d.anchor[0] == "weekday"
            and re.fullmatch(r"\s*[,(-]?\s*(?:(?:that'?s|it'?s|its|which is|is|es) )?(?:an? |un )\s*", low[out[-1].end : d.start])
        ):
            # "The 24th, a saturday": the weekday tells the month.
            out[-1] = replace(out[-1], end=d.end, anchor=("ordinal", out[-1].anchor[1], d.anchor[1]))
            continue
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
