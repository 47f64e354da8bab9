"""The commands of money: price, pay, till. Nothing heavy is imported before one of them runs."""

from __future__ import annotations

from intake.cli_add import number_of

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse
    from datetime import date

    from intake.cli_add import Add
    from intake.desk import Desk


def add_commands(add: Add) -> None:
    price = add("price", "print an order's quote, or settle something about it", _price)
    price.add_argument("order", metavar="ORDER", help="its number")
    price.add_argument(
        "words", nargs="*", metavar="WORDS", help='such as elaborate, mini, "6 miles", "4 lettered" or "courtesy -5"'
    )
    price.add_argument("--cost", action="store_true", help="also what it costs you, and what an hour of it earns")
    price.add_argument("--versions", action="store_true", help="every quote that was made for it")

    pay = add("pay", "enter money taken for an order, or given back", _pay)
    pay.add_argument("order", metavar="ORDER", help="its number")
    pay.add_argument("words", nargs="+", metavar="WORDS", help='such as "36 cash", "back 10 card" or "strike 3"')
    pay.add_argument("--on", metavar="DAY", help="when it came, such as 2027-03-14 (today, if not given)")
    pay.add_argument("--note", metavar="TEXT", default="", help="a word on it, for the ledger")

    till = add("till", "money of a month and its year, what is owed, and the ledger", _till)
    till.add_argument("--month", metavar="MONTH", help="such as 2027-03 (this one, if not given)")
    till.add_argument("--ledger", metavar="FILE", help="write every payment to FILE as CSV, or - to print it")


def _price(desk: Desk, args: argparse.Namespace) -> int:
    from intake.pricing.printed import cost_lines, payment_line, quote_lines

    number = number_of(args.order, "an order", "ordertin rack lists them")
    if args.words:
        desk.till.settle(number, " ".join(args.words))
    order, quote = desk.order(number), desk.till.price(number)
    versions = desk.till.versions(number)
    if args.versions:
        for place, each in enumerate(versions, 1):
            _print(quote_lines(order, each, place, why=False))
    kept = order.quote is not None
    _print(quote_lines(order, quote, len(versions) if kept else len(versions) + 1))
    for payment in desk.till.payments(number):
        if not payment.struck:
            _print([payment_line(payment)])
    if not kept:
        print("  This is what it would be today; it is not kept until you price the order.")
    if args.cost:
        _print(cost_lines(desk.till.sheet(number)))
    return 0


def _pay(desk: Desk, args: argparse.Namespace) -> int:
    from intake.model import OrdertinError
    from intake.pricing.owed import left_of
    from intake.pricing.said import payment

    number = number_of(args.order, "an order", "ordertin rack lists them")
    if args.words[0] == "strike":
        return _strike(desk, args.words[1:])
    try:
        amount, how, back = payment(" ".join(args.words))
    except ValueError as error:
        raise OrdertinError(f"expected {error}", where="pay", todo="Type it again") from None
    day = _day(args.on)
    do = desk.till.refund if back else desk.till.pay
    order = do(number, amount, how, on=day, note=args.note)
    made = max(desk.till.payments(number), key=lambda payment: payment.id)
    quote = desk.till.price(number)
    from intake.money import shown

    who = order.who
    total = shown(made.amount, made.currency, quote.locale)
    left = left_of(order)
    rest = f"{shown(left, quote.currency, quote.locale)} left to pay" if left > 0 else "all is paid"
    print(f"{who}: {made.what} {total}{f', {made.how}' if made.how else ''}; {rest}.")
    return 0


def _strike(desk: Desk, words: list[str]) -> int:
    from intake.model import OrdertinError

    given = " ".join(words)
    if not (given.isascii() and given.isdigit() and len(given) < 16):
        what = f"expected the number of a payment, such as “strike 3”; it is “{given:.40}”"
        raise OrdertinError(what, where="pay", todo="ordertin price ORDER lists them")
    order = desk.till.strike(int(given))
    print(f"Payment {given} of order {order.id} is struck out. ordertin undo brings it back.")
    return 0


def _day(given: str | None) -> date | None:
    from datetime import date

    from intake.model import OrdertinError

    try:
        return date.fromisoformat(given) if given else None
    except ValueError:
        raise OrdertinError(f"“{given:.40}” is not a day", where="--on", todo="Write it like 2027-03-14") from None


def _month(given: str | None) -> date | None:
    from datetime import date

    from intake.model import OrdertinError

    try:
        return date.fromisoformat(f"{given}-01") if given else None
    except ValueError:
        raise OrdertinError(f"“{given:.40}” is not a month", where="--month", todo="Write it like 2027-03") from None


def _till(desk: Desk, args: argparse.Namespace) -> int:
    from intake.papers.till_text import till_lines

    month = _month(args.month)
    if args.ledger:
        return _ledger(desk, args.ledger)
    _print(till_lines(desk.till.till(month), desk.now().date()))
    told = desk.till.told()
    due = desk.till.reminders(told)
    if told:
        print("\nThey say they have paid; look at your account first")
    for each in told:
        who = each.order.draft.customer.value or "a customer"
        doubt = f" ({each.doubt})" if each.doubt else ""
        print(f"  {each.at:%Y-%m-%d} {who}: {each.words}{doubt}")
        print(f"    if it is there: ordertin pay {each.order.id} {each.amount} {each.how}".rstrip())
    if due:
        print("\nWorth a word (the Till and the Counter write it, nothing is sent)")
    for owed in due:
        from intake.papers.till_text import owed_line

        print(f"  {owed_line(owed)}")
    return 0


def _ledger(desk: Desk, name: str) -> int:
    import sys

    from intake.papers.ledger import save

    text = desk.till.ledger()
    if name == "-":
        sys.stdout.write(text)
        return 0
    count = text.count("\r\n") - 1
    save(text, name)
    print(f"{count} payment{'' if count == 1 else 's'} written to {name}")
    return 0


def _print(lines: list[str]) -> None:
    from intake.clean import clean

    for line in lines:
        print(clean(line))
