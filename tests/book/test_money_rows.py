"""What was settled, quoted and paid, in the book and out of it; and an older book that knew nothing of it."""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, date, datetime
from decimal import Decimal
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from intake.book import migrations, rows
from intake.book.shelf import Shelf
from intake.book.store import Book
from intake.model import Draft, Order, OrdertinError, Payment, Quote, QuoteLine, State, Terms

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)
ZONE = ZoneInfo("America/Chicago")
DAY = date(2026, 3, 11)
D = Decimal
QUOTE = Quote((QuoteLine("24 cookies", D("72.00"), "why"),), D(72), D(36), D(36), "USD", "plain", DAY, DAY)
TERMS = Terms("plain", "mini", 4, D("2.5"), (D(12), D(10), D("6.5")), None, (QuoteLine("Gift", D("-5"), "", "edit"),))


def filled(book: Book, *, before: int | None = None) -> None:
    """A book with one quoted order; as it was before the step of so many."""
    with book.change("took chats.json", AT) as change:
        thread = change.add("threads", [{"key": "dana", "channel": "chat", "subject": ""}])
        row = rows.order_row(Order(0, "", 0, State.QUOTED, Draft(), quote=QUOTE))
        held = {name: value for name, value in row.items() if before is None or name not in ("terms", "tracking")}
        change.add("orders", [{**held, "thread": thread, "place": 0, "as_read": rows.draft_text(Draft())}])


def test_an_older_book_keeps_its_quotes_as_first_versions(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    earlier = migrations.STEPS[: migrations.STEPS.index(migrations.money)]
    with monkeypatch.context() as patch, closing(Book(path)) as book:
        patch.setattr(migrations, "STEPS", earlier)
        filled(book, before=len(earlier))
    with closing(Book(path)) as book:
        shelf = Shelf(book, ZONE)
        order = shelf.order(1)
        assert (order.terms, order.paid, order.quote) == (Terms(), 0, QUOTE)
        assert shelf.quotes(1) == (QUOTE,)


def test_terms_come_back(book: Book) -> None:
    filled(book)
    shelf = Shelf(book, ZONE)
    with book.change("terms", AT) as change:
        shelf.keep_order(change, Order(1, "t1", 0, State.QUOTED, Draft(), quote=QUOTE, terms=TERMS))
    assert shelf.order(1).terms == TERMS
    book.undo(AT)
    assert shelf.order(1).terms == Terms()


def paid(book: Book, *payments: Payment) -> None:
    with book.change("payment", AT) as change:
        change.add("payments", [rows.payment_row(payment) for payment in payments])


@pytest.mark.parametrize(
    ("currency", "amounts", "expected"),
    [
        ("USD", [("deposit", "36.00")], "36.00"),
        ("USD", [("deposit", "36.00"), ("balance", "36.50"), ("refund", "10.25")], "62.25"),
        ("JPY", [("in full", "7200")], "7200"),
        ("KWD", [("deposit", "5.125"), ("refund", "0.001")], "5.124"),
        ("USD", [], "0"),
    ],
)
def test_what_is_paid_for_an_order(book: Book, currency: str, amounts: list[tuple[str, str]], expected: str) -> None:
    filled(book)
    made = [Payment(0, 1, what, D(amount), currency, "cash", DAY, "note", "m1") for what, amount in amounts]
    if made:
        paid(book, *made)
    shelf = Shelf(book, ZONE)
    assert shelf.order(1).paid == D(expected)
    back = [rows.payment_of(row) for row in book.rows("SELECT * FROM payments ORDER BY id")]
    assert [(p.what, p.amount, p.signed, p.currency, p.how, p.day, p.message) for p in back] == [
        (p.what, p.amount, p.signed, p.currency, p.how, p.day, p.message) for p in made
    ]


def test_what_is_struck_out_is_not_paid(book: Book) -> None:
    filled(book)
    paid(book, Payment(0, 1, "deposit", D(36), "USD", "cash", DAY))
    with book.change("striking", AT) as change:
        change.alter("payments", 1, {"struck": 1})
    assert Shelf(book, ZONE).order(1).paid == 0
    book.undo(AT)
    assert Shelf(book, ZONE).order(1).paid == 36


@pytest.mark.parametrize("spoilt", [{"day": "soon"}, {"minor": "x"}, {"day": None}], ids=str)
def test_a_payment_that_another_program_has_spoilt_is_named(book: Book, spoilt: dict[str, object]) -> None:
    filled(book)
    paid(book, Payment(0, 1, "deposit", D(36), "USD", "cash", DAY))
    (row,) = book.rows("SELECT * FROM payments")
    with pytest.raises(OrdertinError, match="payment 1"):
        rows.payment_of({**row, **spoilt})
