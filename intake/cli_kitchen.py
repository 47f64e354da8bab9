"""The kitchen's commands: the day's work, when there would be room, days off and hours."""

from __future__ import annotations

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse

    from intake.cli_add import Add
    from intake.desk import Desk


def add_commands(add: Add) -> None:
    bench = add("bench", "show a day's work with clock times, and what is late", _bench)
    bench.add_argument("day", nargs="?", default="today", metavar="DAY", help="today, tomorrow, friday or 2027-03-14")
    bench.add_argument("--done", metavar="LINE", help="tick that line of the day off")
    bench.add_argument("--load", action="store_true", help="show how full each day of the next six weeks is")

    when = add("when", "say when so many cookies could be made beside what is booked", _when)
    when.add_argument("count", metavar="COUNT", help="how many cookies")
    when.add_argument("level", nargs="?", default="detailed", metavar="LEVEL", help="plain, detailed or elaborate")
    when.add_argument("--colors", default="0", metavar="N", help="colors of icing (4, if not given)")
    when.add_argument("--lettered", default="0", metavar="N", help="how many carry lettering")
    when.add_argument("--inches", metavar="SIZE", help="the cutter, where it is not the usual one")
    when.add_argument("--ship", action="store_true", help="sent as a parcel: the day is that of arrival")

    hours = add("hours", "list, take or give back days off and hours of one day", _hours)
    hours.add_argument("--off", metavar="DAY", help="a day off")
    hours.add_argument("--until", metavar="DAY", help="with --off: the last day of a break")
    hours.add_argument("--more", nargs=2, metavar=("DAY", "HOURS"), help="hours more, such as saturday 08:00-12:00")
    hours.add_argument("--usual", metavar="DAY", help="forget what was set for a day")


def _number(text: str, of: str) -> int:
    from intake.model import OrdertinError

    if not text.isascii() or not text.isdigit() or len(text) > 6:
        raise OrdertinError(f"“{text:.20}” is no number of {of}", todo="Give it in figures, such as 48")
    return int(text)


def _bench(desk: Desk, args: argparse.Namespace) -> int:
    from intake.bench_text import day_named, day_sheet, load_sheet, names_of
    from intake.kitchen.agenda import agenda
    from intake.model import OrdertinError

    day = day_named(args.day, desk.now().date())
    if args.done is not None:
        lines = agenda(desk.kitchen.bench(), day, desk.kitchen.ticked_on(day))
        done = _number(args.done, "a line")
        line = lines[done - 1] if 0 < done <= len(lines) else None
        if line is None or not line.task:
            raise OrdertinError(f"line {done} of that day is nothing to tick off", todo="See ordertin bench")
        desk.kitchen.tick(desk.order(line.order_id), line.task, line.parts[1])
    sheet = desk.kitchen.bench()
    marks, names = desk.kitchen.ticked_on(day), names_of(desk.rack())
    print(load_sheet(sheet) if args.load else day_sheet(sheet, day, marks, names))
    return 0


def _when(desk: Desk, args: argparse.Namespace) -> int:
    from decimal import Decimal, InvalidOperation

    from intake.kitchen.words import day_words, hours
    from intake.model import OrdertinError

    count, colors, lettered = (
        _number(args.count, "cookies"), _number(args.colors, "colors"), _number(args.lettered, "cookies"),
    )  # fmt: skip
    if not 0 < count <= 10_000 or colors > 100:
        raise OrdertinError(f"{count} cookies in {colors} colors are no order", todo="Give a count such as 48")
    levels = ("plain", "detailed", "elaborate")
    if args.level not in levels:
        raise OrdertinError(f"“{args.level:.20}” is not a level", todo=f"They are {', '.join(levels)}")
    try:
        inches = Decimal(args.inches) if args.inches else None
    except InvalidOperation:
        inches = Decimal(0)
    if inches is not None and not (inches.is_finite() and Decimal("0.5") <= inches <= 12):
        raise OrdertinError(f"“{args.inches:.20}” is no size of a cutter", todo="Give inches, such as 3.5")
    way = "ship" if args.ship else "pickup"
    day, hands = desk.kitchen.when(
        count, args.level, colors=colors, lettered=min(lettered, count), handover=way,
        inches=inches,
    )  # fmt: skip
    caution = desk.kitchen.shipping_caution() if args.ship else ""
    what = f"{count} {args.level} cookies, {hours(hands)} of your hands"
    verb = "arrive" if args.ship else "be handed over"
    print(f"{what}: they could {verb} on {day_words(day)} {day.year}." if day else
          f"{what}: no day of the next sixty has been found for them.")  # fmt: skip
    if caution:
        print(caution)
    return 0


def _hours(desk: Desk, args: argparse.Namespace) -> int:
    from intake.bench_text import day_named, days_sheet

    today = desk.now().date()
    if args.off:
        desk.kitchen.day_off(day_named(args.off, today), day_named(args.until, today) if args.until else None)
    if args.more:
        desk.kitchen.more_hours(day_named(args.more[0], today), args.more[1])
    if args.usual:
        desk.kitchen.usual_hours(day_named(args.usual, today))
    rules = desk.kitchen.days()
    print(days_sheet(rules) or "Every day is as in your house rules.")
    return 0
