"""The pantry and the calendar's entries in the book, and an older book that has neither."""

from __future__ import annotations

from contextlib import closing
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from intake.book import migrations
from intake.book.pantry import Given, Pantry, Stock
from intake.book.store import Book

AT = datetime(2026, 3, 11, 9, tzinfo=ZoneInfo("America/Chicago"))
FLOUR = Stock("flour", "5 lb flour", 2267.96185, date(2026, 3, 11))


def put(book: Book, *stocks: Stock) -> None:
    for stock in stocks:
        with book.change(f"pantry, {stock.what}", AT) as change:
            Pantry(book).put(change, stock)


def test_what_is_put_down_last_is_what_there_is(book: Book) -> None:
    put(book, FLOUR, Stock("butter", "1 lb butter", 453.6, FLOUR.since), Stock("flour", "1 kg flour", 1000, AT.date()))
    assert [(stock.what, stock.grams) for stock in Pantry(book).stock()] == [("butter", 453.6), ("flour", 1000)]


def test_what_has_run_out_is_not_there(book: Book) -> None:
    put(book, FLOUR, Stock("flour", "", 0, AT.date()))
    assert Pantry(book).stock() == ()


def test_each_step_can_be_taken_back(book: Book) -> None:
    put(book, FLOUR, Stock("flour", "", 0, AT.date()))
    assert book.undo(AT) == "pantry, flour"
    assert Pantry(book).stock() == (FLOUR,)
    assert book.undo(AT) == "pantry, flour"
    assert Pantry(book).stock() == ()
    assert book.undo(AT) is None


def test_the_calendar_is_kept_and_is_no_change_to_take_back(book: Book) -> None:
    put(book, FLOUR)
    before = book.version()
    given = Given("order-1@x", "{}", 0, AT.isoformat())
    changed = Given("order-1@x", '{"a": 1}', 1, AT.isoformat(), gone=True)
    for each in (given, changed):
        with book.change("calendar", AT) as change:
            Pantry(book).give(change, [each])
    assert Pantry(book).given() == (changed,)
    assert book.version() == before
    assert book.undo(AT) == "pantry, flour"


def test_nothing_of_a_calendar_that_failed_is_kept(book: Book) -> None:
    with pytest.raises(RuntimeError), book.change("calendar", AT) as change:
        Pantry(book).give(change, [Given("order-1@x", "{}", 0, AT.isoformat())])
        raise RuntimeError
    assert Pantry(book).given() == ()


def test_a_book_keeps_its_name_and_another_has_another(book: Book, tmp_path: Path) -> None:
    name = Pantry(book).name()
    book.close()
    with closing(Book(tmp_path / "other.db")) as other:
        assert Pantry(other).name() != name
    assert Pantry(book).name() == name


def test_an_older_book_is_brought_up_to_date(book: Book, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    steps = migrations.STEPS
    place = steps.index(migrations.pantry_and_calendar)
    with monkeypatch.context() as patch:
        patch.setattr(migrations, "STEPS", steps[:place])
        with book.change("a thread", AT) as change:
            change.add("threads", [{"key": "chat:dana", "channel": "chat", "subject": ""}])
        book.close()
    put(book, FLOUR)
    assert Pantry(book).stock() == (FLOUR,)
    assert [row["key"] for row in book.rows("SELECT key FROM threads")] == ["chat:dana"]
    assert book.undo(AT) == "pantry, flour"
    assert book.undo(AT) == "a thread"
