"""Keeping the book from the desk: a customer taken out of it for good, copies, export and back."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from intake.book.store import Book
from intake.desk import Desk
from intake.home import Home
from intake.model import OrdertinError, Reply, State
from tests.book.full import everything
from tests.desk.kit import FULL, Clock, Export, Writes, booked, sent

#: What nobody else says, to be looked for in the bytes of every file.
HERS = ("Quillfeather", "zephyrine", "5550147", "quill@example.org", "9400zq55")


@pytest.fixture
def customer(desk: Desk, writes: Writes, export: Export) -> int:
    """A customer with words of her own everywhere: messages, a draft, a paid order handed over, a letter, undo."""
    order = writes("Ada Quillfeather", f"{FULL} lettering=zephyrine phone=(217)5550147 email=quill@example.org")
    booked(desk, order)
    desk.till.pay(order.id, Decimal(20), "cash", note="from Quillfeather")
    desk.papers.calendar()
    sent(desk, order, "confirm")
    desk.track(order.id, "9400ZQ55")
    desk.advance(order.id, "handed over")
    desk.take([export.writes("Ada Quillfeather", "hello zephyrine").path])
    return order.id


def test_a_forgotten_customer_is_nowhere_and_her_money_stays(
    desk: Desk, writes: Writes, customer: int, home: Home
) -> None:
    other = writes("Leo Banks", FULL)
    before = desk.till.till()
    assert all(word.lower().encode() in home.book.read_bytes().lower() for word in HERS)
    gone = desk.keep.forget(desk.order(customer).thread_id)
    assert (gone.orders_kept, gone.payments_kept) == (1, 1)
    assert gone.messages >= 2
    desk.close()
    held = home.book.read_bytes().lower()
    assert [word for word in HERS if word.lower().encode() in held] == []
    assert not any(word in term for term in words(home.book) for word in ("quillfeather", "zephyrine"))
    after = desk.till.till()
    assert replace(after, owed=()) == replace(before, owed=())
    assert [(owed.order.id, owed.left) for owed in after.owed] == [(owed.order.id, owed.left) for owed in before.owed]
    kept = desk.order(customer)
    assert (kept.state, kept.paid, kept.draft.customer.value) == (State.HANDED_OVER, Decimal(20), None)
    assert [(each.order_id, each.amount, each.note) for each in desk.till.payments()] == [(customer, Decimal(20), "")]
    assert desk.search("zephyrine") == ()
    assert [hit.customer for hit in desk.search("unicorns")] == ["Leo Banks"]
    assert desk.order(other.id).draft.customer.value == "Leo Banks"
    assert [waiting.customer for waiting in desk.waiting()] == ["Leo Banks"]


def words(path: Path) -> set[str]:
    return {row[0] for row in everything(path)["words"]}


def test_forgetting_can_not_be_undone_and_what_comes_later_can(desk: Desk, writes: Writes, customer: int) -> None:
    desk.keep.forget("c1")
    assert desk.undo() is None
    order = writes("Leo Banks", FULL)
    desk.drop(order.id)
    assert desk.undo()
    assert desk.order(order.id).state is State.DRAFT


def test_another_window_sees_that_something_has_happened(desk: Desk, customer: int) -> None:
    before = desk.version()
    desk.keep.forget("c1")
    assert desk.version() > before


def test_her_old_export_brings_her_back_as_a_new_customer(
    desk: Desk, writes: Writes, customer: int, export: Export
) -> None:
    desk.keep.forget("c1")
    report = desk.take([export.path])
    assert (report.threads_new, report.problems) == (1, ())
    assert "Ada Quillfeather" in [customer.name for customer in desk.customers()]


@pytest.mark.parametrize("state", ["booked", "a letter that may have gone"])
def test_who_is_still_to_be_served_is_not_forgotten(
    desk: Desk, customer: int, export: Export, home: Home, state: str
) -> None:
    if state == "booked":
        desk.take([export.writes("Ada Quillfeather", FULL).path])
        booked(desk, desk.case("t1").orders[-1])
    else:
        with closing(Book(home.book)) as book, book.change("", desk.now()) as change:
            change.db.execute(
                "INSERT INTO letters (order_id, kind, sender, recipient, subject, text, mail_id, mail, state, at)"
                " VALUES (?, '', '', '', '', '', 'x', '', 'unknown', '2026-03-11T09:00:00')",
                (customer,),
            )
    before = everything(home.book)
    with pytest.raises(OrdertinError, match=r"booked|may have gone"):
        desk.keep.forget("c1")
    assert everything(home.book) == before


def test_who_only_asked_leaves_nothing(desk: Desk, writes: Writes, home: Home) -> None:
    order = writes("Ada Quillfeather", FULL)
    desk.replied(order.id, Reply("ask", "Ada", "", "Which day, zephyrine?"), "by hand")
    gone = desk.keep.forget(order.thread_id)
    assert (gone.orders_gone, gone.orders_kept, gone.conversations) == (1, 0, 1)
    held = everything(home.book)
    assert [name for name in ("threads", "orders", "messages", "ties", "words") if held[name]] == []


class TestExportAndBack:
    @pytest.fixture
    def out(self, desk: Desk, customer: int, tmp_path: Path) -> Iterator[Path]:
        desk.keep.export(tmp_path / "out")
        yield tmp_path / "out"

    def test_nothing_is_changed(self, desk: Desk, out: Path, home: Home) -> None:
        before = everything(home.book)
        desk.keep.restore(out)
        desk.close()
        assert everything(home.book) == before

    def test_undo_goes_on_where_it_was(self, desk: Desk, out: Path, customer: int) -> None:
        desk.keep.restore(out)
        while desk.undo():
            pass
        assert desk.customers() == ()

    def test_what_was_done_since_is_kept_beside_it(self, desk: Desk, out: Path, writes: Writes) -> None:
        writes("Leo Banks", FULL)
        aside = desk.keep.restore(out)
        assert "Leo Banks" not in [customer.name for customer in desk.customers()]
        assert aside is not None
        desk.keep.restore(aside)
        assert "Leo Banks" in [customer.name for customer in desk.customers()]


def test_the_clock_decides_when_a_copy_is_due(desk: Desk, writes: Writes, clock: Clock) -> None:
    from datetime import timedelta

    writes("Leo Banks", FULL)
    assert (desk.keep.weekly(), len(desk.keep.copies())) == ("", 1)
    clock.now += timedelta(days=6)
    assert (desk.keep.weekly(), len(desk.keep.copies())) == ("", 1)
    clock.now += timedelta(days=1)
    assert (desk.keep.weekly(), len(desk.keep.copies())) == ("", 2)
