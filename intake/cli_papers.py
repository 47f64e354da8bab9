"""The commands that print lists and write papers: batch, shopping, pantry, sheet, labels, calendar."""

from __future__ import annotations

import sys

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse
    from collections.abc import Iterable
    from datetime import date

    from intake.cli_add import Add
    from intake.desk import Desk


_DAY = "a day such as 2027-03-14, today, or friday (today, if not given)"


def add_commands(add: Add) -> None:
    batch = add("batch", "what the orders of the coming days take together: dough, icing, trays, packaging", _batch)
    buy = add("shopping", "what to buy for the coming days, less what is in the pantry", _shopping)
    for parser in (batch, buy):
        parser.add_argument("day", nargs="?", default="", metavar="DAY", help=_DAY)
        parser.add_argument("--to", default="", metavar="DAY", help="the last day (six days later, if not given)")

    pantry = add("pantry", "list what is on the shelf, or put down what there is", _pantry)
    pantry.add_argument("amounts", nargs="*", metavar="AMOUNT", help='such as "5 lb flour" or "400 g vanilla dough"')
    pantry.add_argument("--out", action="append", default=[], metavar="NAME", help="this has run out")

    sheet = add("sheet", "write the sheet of one day at the bench, to print", _sheet)
    sheet.add_argument("day", nargs="?", default="", metavar="DAY", help=_DAY)
    sheet.add_argument("--out", default="", metavar="FILE", help="the PDF to write (day-2027-03-14.pdf, if not given)")

    labels = add("labels", "write a sheet of labels for an order, to print", _labels)
    labels.add_argument("order", type=int, metavar="ORDER", help="its number on the Rack")
    labels.add_argument("--net", default="", metavar="WEIGHT", help='what a package weighs, such as "12 oz"')
    labels.add_argument("--made", default="", metavar="DAY", help="the day they were made (today, if not given)")
    labels.add_argument("--out", default="", metavar="FILE", help="the PDF to write (labels-12.pdf, if not given)")

    calendar = add("calendar", "write hand-overs, posting days and bench sessions as an iCalendar file", _calendar)
    calendar.add_argument("--out", default="", metavar="FILE", help="the file to write (standard output, if not given)")


def _days(desk: Desk, args: argparse.Namespace) -> tuple[date, date]:
    from intake.desk_papers import WEEK
    from intake.model import OrdertinError

    first = day_said(args.day, desk.now().date(), "DAY")
    last = day_said(args.to, first, "--to") if args.to else first + WEEK
    if not first <= last:
        raise OrdertinError(f"{last} is before {first}", where="--to", todo="Give the later day second")
    return first, last


def day_said(text: str, today: date, where: str) -> date:
    """`2027-03-14`, `today`, `tomorrow`, or the next day of that name from `today` on; `today` where nothing is said.

    Raises OrdertinError where it is none of these.
    """
    from datetime import date, timedelta

    from intake.house import WEEKDAYS
    from intake.model import OrdertinError

    said = text.strip().casefold()
    if said in ("", "today"):
        return today
    if said == "tomorrow":
        return today + timedelta(days=1)
    if said in WEEKDAYS:
        return today + timedelta(days=(WEEKDAYS.index(said) - today.weekday()) % 7)
    try:
        day = date.fromisoformat(said)
    except ValueError:
        day = date.min
    if not 2000 <= day.year <= 2100:
        raise OrdertinError(f"“{text:.40}” is not a day", where=where, todo="Write it like 2027-03-14, or friday")
    return day


def _batch(desk: Desk, args: argparse.Namespace) -> int:
    from intake.papers.session_lines import cautions, session_text

    first, last = _days(desk, args)
    heap = desk.papers.sessions(first, last)
    if heap.note:
        print(heap.note, file=sys.stderr)
    for place, session in enumerate(heap.sessions):
        if place:
            print()
        for line in session_text(session, desk.house):
            print(line)
    if not heap.sessions:
        print(f"Nothing to mix or bake from {first} to {last}.")
    for caution in cautions(desk.house):
        print(caution, file=sys.stderr)
    return 0


def _shopping(desk: Desk, args: argparse.Namespace) -> int:
    from intake.papers.shopping_lines import shopping_text

    first, last = _days(desk, args)
    found, note = desk.papers.shopping(first, last)
    if note:
        print(note, file=sys.stderr)
    print(f"For {first} to {last}:")
    for line in shopping_text(found, desk.house.house.currency):
        print(line)
    return 0


def _pantry(desk: Desk, args: argparse.Namespace) -> int:
    from intake.papers.weights import both

    for text in args.amounts:
        stock = desk.papers.stock(text)
        print(f"There is now {stock.typed}, {both(stock.grams)}.")
    for name in args.out:
        print(f"No more {desk.papers.used_up(name).what}.")
    if args.amounts or args.out:
        return 0
    held = desk.papers.pantry()
    for stock in held:
        print(f"{stock.what:<24} {both(stock.grams):<24} {stock.typed}, since {stock.since}")
    if not held:
        print('Nothing put down yet. Say what there is: ordertin pantry "5 lb flour"')
    return 0


def _sheet(desk: Desk, args: argparse.Namespace) -> int:
    day = day_said(args.day, desk.now().date(), "DAY")
    _write(args.out or f"day-{day}.pdf", desk.papers.day_sheet(day))
    return 0


def _labels(desk: Desk, args: argparse.Namespace) -> int:
    from intake.papers.label import CAUTIONS

    made_on = day_said(args.made, desk.now().date(), "--made")
    order = desk.order(args.order)
    pdf, found = desk.papers.labels(order, made_on=made_on, net=args.net)
    _write(args.out or f"labels-{order.id}.pdf", pdf)
    _list("Missing on the labels, to be told in the house rules:", found.missing)
    _list("Note:", found.notes)
    _list("Bear in mind:", CAUTIONS)
    return 0


def _list(head: str, lines: Iterable[str]) -> None:
    held = list(lines)
    if held:
        print(head)
    for line in held:
        print(f"  - {line}")


def _calendar(desk: Desk, args: argparse.Namespace) -> int:
    made = desk.papers.calendar()
    if args.out:
        _write(args.out, made)
    else:
        sys.stdout.flush()
        sys.stdout.buffer.write(made)
    return 0


def _write(name: str, content: bytes) -> None:
    """Writes a file and says where it is. Raises OrdertinError where it can't be written."""
    from pathlib import Path

    from intake.papers.files import write

    print(f"Written: {write(Path(name), content, todo='Name another file with --out')}")
