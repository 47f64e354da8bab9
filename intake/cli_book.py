"""The commands that list what is in the book and take back the last change of it: rack, customers, words, undo."""

from __future__ import annotations

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse

    from intake.cli_add import Add
    from intake.desk import Desk


def add_commands(add: Add) -> None:
    add("rack", "list the booked orders by hand-over day", _rack)

    customers = add("customers", "list the customers, and who may be one and the same", _customers)
    ways = customers.add_mutually_exclusive_group()
    ways.add_argument("--join", nargs=2, metavar="WHO", help="make two customers one, such as c3 and t12")
    ways.add_argument("--apart", nargs=2, metavar="WHO", help="two people: don't ask about them again")
    ways.add_argument("--part", metavar="WHO", help="take a customer's conversations apart again, or one from the rest")

    words = add("words", "list what corrections have taught the reader, or forget a word", _words)
    words.add_argument("--forget", metavar="WORD", help="forget what was learnt of this word")

    add("undo", "take back the last change of the book", _undo)


def _rack(desk: Desk, args: argparse.Namespace) -> int:
    from intake.slip_text import rack_line

    orders = desk.rack()
    for order in orders:
        print(rack_line(order))
    if not orders:
        print("No booked orders yet.")
    return 0


def _customers(desk: Desk, args: argparse.Namespace) -> int:
    from intake.slip_customers import alike_lines, customer_line

    if args.join:
        print(f"One customer now: {customer_line(desk.join(*args.join))}")
    elif args.apart:
        desk.keep_apart(*args.apart)
        print("Two people; they are not proposed again.")
    elif args.part:
        for customer in desk.part(args.part):
            print(customer_line(customer))
    else:
        found = desk.customers()
        print("\n".join((*map(customer_line, found), *alike_lines(desk.alike()))) or "No customers yet.")
    return 0


def _words(desk: Desk, args: argparse.Namespace) -> int:
    from intake.slip_text import word_line

    if args.forget:
        for word in desk.forget_word(args.forget):
            print(f"Forgotten: {word_line(word)}")
        return 0
    words = desk.words()
    for word in words:
        print(word_line(word))
    if not words:
        print("Nothing learnt yet. Correct a theme, a color or a flavor, and it is known the next time.")
    return 0


def _undo(desk: Desk, args: argparse.Namespace) -> int:
    undone = desk.undo()
    print(f"Taken back: {undone}" if undone else "There is nothing to take back.")
    return 0
