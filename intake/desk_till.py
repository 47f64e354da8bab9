"""The money side of the desk: terms of a price, payments, what is owed, the till and the ledger.

Each that writes is one change of the book, so that undo takes it back. Nothing that a customer writes books a payment:
what she says is put to the baker, who looks at her account first.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from intake.book import rows
from intake.book.journal import Change
from intake.book.shelf import Shelf
from intake.book.store import Book
from intake.clean import clean
from intake.desk_checks import named, refused
from intake.desk_quote import order_price
from intake.house import House
from intake.model import Order, OrdertinError, Payment, Problem, Quote, State
from intake.money import decimals, shown

if TYPE_CHECKING:
    from intake.pricing.budget import Offer
    from intake.pricing.cost import CostSheet
    from intake.pricing.owed import Owed
    from intake.pricing.till import Till

_AGREED = (State.BOOKED, State.HANDED_OVER)
_WITH_MONEY = (State.QUOTED, *_AGREED)
# Orders handed over so long ago that nobody asks for their money any more are not looked through.
_PATIENCE = timedelta(days=730)
NO_PAYMENT = "none"


@dataclass(frozen=True, slots=True)
class Told:
    """A message that says a payment was sent, what for, and what the baker would book for it if her account agrees.

    `doubt` says what doesn't fit, such as an amount over what is owed; `amount` is then what is owed.
    """

    order: Order
    message: str
    at: datetime
    words: str
    amount: Decimal
    how: str
    doubt: str = ""


class TillDesk:
    """The till of one book. Made by `Desk`, which see for the names of orders and threads."""

    def __init__(
        self,
        book: Book,
        shelf: Shelf,
        house: House,
        now: Callable[[], datetime],
        follow: Callable[[Change, Order, Order], None],
    ) -> None:
        """`follow` is told of an order before and after its terms were changed."""
        self._book, self._shelf, self._house, self._now, self._follow = book, shelf, house, now, follow

    # The price

    def settle(self, order_id: int, words: str) -> Order:
        """Settles something about the price of an order, as the baker types it ("elaborate", "6 miles", "courtesy -5").

        An order that has a price gets it made anew. Raises OrdertinError where the words can't be understood, or the
        price can't be worked out by them.
        """
        from intake.pricing.said import settled

        with self._book.change(f"price of {named(self._shelf.order(order_id))}", self._now()) as change:
            order = self._open(order_id)
            count, sizes = order.draft.count.value or 0, tuple(self._house.cookies.sizes)
            currency = self._currency(order)
            try:
                terms = settled(order.terms, clean(words), count=count, sizes=sizes, currency=currency)
            except ValueError as error:
                raise refused(order, f"expected {error}", "Type it again") from None
            after = replace(order, terms=terms)
            if order.quote:
                after = replace(after, quote=self._priced(after))
            self._shelf.keep_order(change, after)
            self._follow(change, order, after)
        return after

    def _open(self, order_id: int) -> Order:
        order = self._shelf.order(order_id)
        if order.state in (State.HANDED_OVER, State.DROPPED):
            raise refused(order, f"it is {order.state}", "Its price stays as it was")
        return order

    def _currency(self, order: Order) -> str:
        return order.quote.currency if order.quote else self._house.house.currency

    def _priced(self, order: Order) -> Quote:
        quote = order_price(order, self._house, self._now().date())
        if isinstance(quote, Problem):
            raise refused(order, quote.what, quote.todo)
        return quote

    def versions(self, order_id: int) -> tuple[Quote, ...]:
        """Every quote that was made for an order, the oldest first."""
        self._shelf.order(order_id)
        return self._shelf.quotes(order_id)

    def price(self, order_id: int) -> Quote:
        """The quote of an order, or what it would be today; nothing is kept. Raises OrdertinError where it can't be."""
        order = self._shelf.order(order_id)
        return order.quote or self._priced(order)

    def fitting(self, order_id: int, budget: Decimal | None = None) -> tuple[Offer, ...]:
        """The sets that fit a budget, that of the customer where none is given, the nearest first."""
        from intake.pricing.budget import fitting

        order = self._shelf.order(order_id)
        most = order.draft.budget.value if budget is None else budget
        if most is None:
            raise refused(order, "no budget is known", "Give an amount, or ask the customer")
        return fitting(order.draft, self._house, most, today=self._now().date(), terms=order.terms)

    def sheet(self, order_id: int) -> CostSheet:
        """What an order costs the baker and earns her. Raises OrdertinError where that can't be worked out."""
        from intake.pricing.cost import cost_sheet

        order = self._shelf.order(order_id)
        found = cost_sheet(order, self.price(order_id), self._house)
        if isinstance(found, Problem):
            raise refused(order, str(replace(found, todo="")).rstrip("."), found.todo)
        return found

    # Payments

    def pay(
        self,
        order_id: int,
        amount: Decimal,
        how: str = "",
        *,
        on: date | None = None,
        note: str = "",
        message: str = "",
    ) -> Order:
        """Takes money for an order, as `how` says ("cash"), on a day, today where none is given.

        `message` is the customer's that told of it. Raises OrdertinError for an amount that can't be, or is more than
        what is owed, and for an order that has no price or was dropped.
        """
        from intake.pricing.owed import left_of, what_for

        order = self._shelf.order(order_id)
        with self._book.change(f"payment for {named(order)}", self._now()) as change:
            order = self._shelf.order(order_id)
            if order.state is State.DROPPED:
                raise refused(order, "it was dropped", "Bring it back first; what was paid for it can be given back")
            quote = order.quote
            if quote is None:
                raise refused(order, "it has no price yet", "Price it first")
            amount = self._amount(order, amount)
            left = left_of(order)
            if amount > left:
                over, rest = (self._shown(order, each) for each in (amount - max(left, Decimal(0)), left))
                what = f"{self._shown(order, amount)} is {over} more than is left to pay ({rest})"
                raise refused(order, what, "Take what is left, or add a line for the rest to its price")
            what, day = what_for(quote, order.paid, amount), self._day(order, on)
            made = Payment(0, order_id, what, amount, quote.currency, _line(how), day, _line(note), message)
            change.add("payments", [rows.payment_row(made)])
            return self._shelf.order(order_id)

    def refund(
        self, order_id: int, amount: Decimal, how: str = "", *, on: date | None = None, note: str = ""
    ) -> Order:
        """Gives money back. Raises OrdertinError for an amount that can't be, or is more than was paid."""
        order = self._shelf.order(order_id)
        with self._book.change(f"refund for {named(order)}", self._now()) as change:
            order = self._shelf.order(order_id)
            amount = self._amount(order, amount)
            if amount > order.paid:
                paid = self._shown(order, order.paid) if order.paid else "nothing"
                what = f"{self._shown(order, amount)} is more than was paid for it ({paid})"
                raise refused(order, what, "Give back what was paid, or less")
            currency = self._paid_in(order)
            made = Payment(0, order_id, "refund", amount, currency, _line(how), self._day(order, on), _line(note))
            change.add("payments", [rows.payment_row(made)])
            return self._shelf.order(order_id)

    def strike(self, payment_id: int) -> Order:
        """Strikes out a payment that was entered by mistake. It stays in the book and counts for nothing."""
        payment = next((p for p in self.payments() if p.id == payment_id and not p.struck), None)
        if payment is None:
            raise OrdertinError(f"there is no payment {payment_id} in the book", todo="ordertin price ORDER lists them")
        order = self._shelf.order(payment.order_id)
        if payment.what != "refund" and order.paid < payment.amount:
            raise refused(order, "a refund rests on that payment", "Strike the refund out first")
        with self._book.change(f"striking out of a payment for {named(order)}", self._now()) as change:
            change.alter("payments", payment_id, {"struck": 1})
            return self._shelf.order(payment.order_id)

    def _amount(self, order: Order, amount: Decimal) -> Decimal:
        from intake.pricing.said import checked

        try:
            amount = checked(amount, self._currency(order))
        except ValueError as error:
            raise refused(order, f"expected {error}", "Type it again") from None
        return amount.quantize(Decimal(1).scaleb(-decimals(self._currency(order))))

    def _paid_in(self, order: Order) -> str:
        held = self.payments(order.id)
        return held[-1].currency if held else self._currency(order)

    def _day(self, order: Order, on: date | None) -> date:
        today = self._now().date()
        if on and not date(2000, 1, 1) <= on <= today:
            raise refused(order, f"{on} is no day on which money can have come", "Give today or a day before it")
        return on or today

    def _shown(self, order: Order, amount: Decimal) -> str:
        return shown(amount, self._currency(order), self._house.house.locale)

    def payments(self, order_id: int | None = None) -> tuple[Payment, ...]:
        """The payments of one order, or of all, by day; those struck out are among them."""
        return self._shelf.payments(order_id)

    # What customers say

    def told(self) -> tuple[Told, ...]:
        """The messages that say a payment was sent and that the baker has not dealt with, the oldest first.

        One is dealt with once it was taken or put aside, or a payment for its order came on its day or after it.
        """
        from intake.pricing.owed import left_of

        held: dict[int, list[Payment]] = {}
        for payment in self._shelf.payments(every=True):
            if not payment.struck:
                held.setdefault(payment.order_id, []).append(payment)
        found: list[Told] = []
        seen: set[str] = set()
        for order in self._orders():
            if order.thread_id not in seen and order.state is not State.DROPPED and left_of(order) > 0:
                seen.add(order.thread_id)
                found.extend(self._told_in(order, held.get(order.id, [])))
        return tuple(sorted(found, key=lambda each: each.at))

    def _told_in(self, order: Order, held: Sequence[Payment]) -> list[Told]:
        from intake.reading.paid import payments_told

        assert order.quote
        since = min(each.made_on for each in self._shelf.quotes(order.id) or (order.quote,))
        done = {payment.message for payment in held}
        last = max((payment.day for payment in held if payment.what not in ("refund", NO_PAYMENT)), default=date.min)
        found = []
        for each in payments_told(self._shelf.thread(self._shelf.number(order.thread_id))):
            if each.message in done or each.at.date() < since or each.at.date() <= last:
                continue
            amount, doubt = self._meant(order, each.amount, each.part)
            found.append(Told(order, each.message, each.at, each.words, amount, each.how, doubt))
        return found

    def _meant(self, order: Order, said: Decimal | None, part: str) -> tuple[Decimal, str]:
        """What a message's payment most likely is, and what doesn't fit about it."""
        assert order.quote
        left = order.quote.total - order.paid
        deposit = order.quote.deposit - order.paid
        if said is not None and 0 < said <= left:
            return said, ""
        likely = deposit if part == "deposit" and deposit > 0 else left
        if not part and deposit > 0:
            likely = deposit
        if said is not None and said > left:
            return likely, f"the message says {self._shown(order, said)}, and {self._shown(order, left)} is owed"
        return likely, ""

    def take(self, told: Told) -> Order:
        """Books a payment that a message told of, once the baker has seen it in her account."""
        return self.pay(told.order.id, told.amount, told.how, message=told.message)

    def not_paid(self, told: Told) -> None:
        """Puts a message aside that told of no payment; it isn't asked about again."""
        with self._book.change(f"message of {named(told.order)} that is no payment", self._now()) as change:
            currency, day = self._currency(told.order), self._now().date()
            none = Payment(0, told.order.id, NO_PAYMENT, Decimal(0), currency, "", day, "", told.message)
            change.add("payments", [rows.payment_row(none)])

    # The till

    def _orders(self) -> tuple[Order, ...]:
        oldest = self._now().date() - _PATIENCE
        return tuple(
            order
            for order in self._shelf.in_state(*_WITH_MONEY, State.DROPPED, since=oldest)
            if (order.paid if order.state is State.DROPPED else order.quote)
        )

    def owed(self) -> tuple[Owed, ...]:
        """What is owed for booked orders and for those handed over, the longest overdue first."""
        from intake.pricing.owed import owed

        return owed(self._orders(), self._now().date())

    def reminders(self, told: Sequence[Told] | None = None) -> tuple[Owed, ...]:
        """What is worth a word to a customer today; not where she says that she has paid, which is looked up where
        `told` isn't given. Nothing is sent: `Desk.reply(order, "remind")` writes it."""
        from intake.pricing.owed import reminders

        paid = {each.order.id for each in (self.told() if told is None else told)}
        due = reminders(self._orders(), self._now().date())
        return tuple(each for each in due if each.order.id not in paid)

    def till(self, month: date | None = None) -> Till:
        """The till of a month, this one where none is given, and of its year."""
        from intake.pricing.till import first_of, till

        today = self._now().date()
        orders = self._shelf.in_state(*_WITH_MONEY, State.DROPPED)
        return till(orders, self.payments(), self._house, first_of(month or today), today)

    def ledger(self) -> str:
        """Every payment as CSV, see `intake.papers.ledger`."""
        from intake.papers.ledger import ledger

        held = self.payments()
        names = {each: self._shelf.order(each).draft.customer.value or "" for each in {p.order_id for p in held}}
        return ledger(held, names)


def _line(text: str) -> str:
    return " ".join(clean(text).split())[:200]
