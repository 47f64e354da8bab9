"""Words with more than one meaning: they are asked about, and each meaning is offered as it would be typed."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal

from intake.money import shown
from intake.talk import Correction
from intake.talk_shapes import Act, Ask, Days, Hand, Meant, Unclear
from intake.talk_slots import Slots
from intake.talk_words import phrased

# Done on the days that are named: a wrong guess takes the wrong day off.
_BY_DAY = ("off", "on", "hours")


def doubt(words: str, found: Meant, hand: Hand, said: Slots) -> Unclear | None:
    """What to ask before `found` is taken for the meaning of `words`; None where it is plain."""
    if isinstance(found, Ask | Act) and len(said.who) > 1:
        name = said.text.count("<who>") and next(iter(said.who)).split()[0]
        return Unclear(f"Which {name}?", tuple(_named(words, name or "", full) for full in said.who[:4]))
    if isinstance(found, Act) and found.what in _BY_DAY:
        return _day(words, said, unsure=not hand.knows_next) or _no_day(found, hand)
    if isinstance(found, Act) and found.what == "paid":
        return _how_much(found, hand)
    if isinstance(found, Correction) and "due" in found.changes:
        return _day(words, said, unsure=not hand.knows_next)
    return None


def _named(words: str, first: str, full: str) -> str:
    at = words.lower().find(first.lower())
    return words if at < 0 else f"{words[:at]}{full}{words[at + len(first):]}"


def _day(words: str, said: Slots, *, unsure: bool) -> Unclear | None:
    """ "The 5th or the 15th", "next Friday": days of which one is meant."""
    text = phrased(said.text)
    if len(said.days) == 2 and "<day> or <day>" in text.replace("or on", "or").replace("or the", "or"):
        start, end = said.days[0].start, said.days[1].end
        ways = [said.days[0].days, said.days[1].days]
    elif said.days and said.days[0].others and unsure:
        start, end = said.days[0].start, said.days[0].end
        ways = sorted([said.days[0].days, *said.days[0].others])
    else:
        return None
    ways = list(dict.fromkeys(ways))
    return Unclear(
        f"{' or '.join(spoken(way) for way in ways)}?",
        tuple(f"{words[:start]}{typed(way)}{words[end:]}" for way in ways),
    )


def _no_day(act: Act, hand: Hand) -> Unclear | None:
    """Days are needed, and none are named."""
    if act.days:
        return None
    today = hand.at.date()
    saturday = today + timedelta(days=(5 - today.weekday()) % 7)
    verb = {"off": "block", "on": "work as usual on", "hours": "add hours 8am to 12pm on"}[act.what]
    ways = [(today + timedelta(days=1),) * 2, (saturday, saturday + timedelta(days=1))]
    return Unclear("Which days?", tuple(f"{verb} {typed((first, last))}" for first, last in ways))


def _how_much(act: Act, hand: Hand) -> Unclear | None:
    """Money has come, and the deposit or the whole may be meant."""
    order = hand.order
    if act.amount is not None or act.kind or act.who or order is None or order.quote is None:
        return None
    quote = order.quote
    left, deposit = quote.total - order.paid, quote.deposit - order.paid
    if not 0 < deposit < left:
        return None
    told = " or ".join(shown(amount, quote.currency, quote.locale) for amount in (deposit, left))
    ways = (f"she paid {_figure(amount)} {act.how}".strip() for amount in (deposit, left))
    return Unclear(f"How much: {told}?", tuple(ways))


def _figure(amount: Decimal) -> str:
    return f"{amount.normalize():f}" if amount == amount.to_integral_value() else f"{amount}"


def how_many(said: Slots) -> Unclear | None:
    """ "2 or 3 dozen": how many is meant."""
    if len(said.counts) != 1 or said.counts[0][0] == said.counts[0][1]:
        return None
    low, high = said.counts[0]
    return Unclear(f"{low} or {high}?", (f"make it {low}", f"make it {high}"))


def spoken(days: Days) -> str:
    """`Sat 5 Dec`, `Sat 5 Dec to Sun 6 Dec`."""
    first, last = (f"{day:%a} {day.day} {day:%b}" for day in days)
    return first if first == last else f"{first} to {last}"


def typed(days: Days) -> str:
    """`december 5`, `december 5 to december 6`: as it is read back."""
    first, last = (f"{day:%B} {day.day}".lower() for day in days)
    return first if first == last else f"{first} to {last}"
