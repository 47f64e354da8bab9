"""The commands that keep the book: backup, restore, export, salvage, forget."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.book.full import everything
from tests.cli.conftest import ORDER, Run, rules

OTHER = "Hello, one dozen fern cookies for May 25 please, pickup at noon. Rosamund"


@pytest.fixture
def book(home: Path, run: Run) -> Path:
    """A book with one conversation, closed."""
    rules(home)
    run("take", "-", stdin=ORDER.encode())
    return home / "orders.db"


def more(run: Run) -> None:
    assert run("take", "-", stdin=OTHER.encode())[0] == 0


@pytest.mark.parametrize("where", ["", "new.db", "folder"])
def test_a_backup_is_made_and_brought_back(run: Run, book: Path, tmp_path: Path, where: str) -> None:
    (tmp_path / "folder").mkdir()
    before = everything(book)
    status, out, err = run("backup", *filter(None, [where]))
    assert (status, err) == (0, "")
    made = Path(out.partition("Copied and checked: ")[2].splitlines()[0])
    assert made.parent == (book.parent / "backups" if not where else tmp_path / ("folder" if where == "folder" else ""))
    more(run)
    assert everything(book) != before
    status, out, err = run("restore", str(made), "--yes")
    assert (status, err) == (0, "")
    assert everything(book) == before
    assert "before-restoring" in out


def test_an_export_is_written_and_brought_back(run: Run, book: Path, tmp_path: Path) -> None:
    before = everything(book)
    status, out, _ = run("export", "all")
    assert status == 0 and "1 message, 1 order" in out
    assert {path.stat().st_mode & 0o077 for path in (tmp_path / "all").iterdir()} == {0}
    more(run)
    assert run("restore", "all", "--yes")[0] == 0
    assert everything(book) == before


@pytest.mark.parametrize("arguments", [["restore", "all"], ["forget", "c1"]], ids=lambda a: a[0])
def test_what_can_not_be_taken_back_asks_first(run: Run, book: Path, arguments: list[str]) -> None:
    run("export", "all")
    before = everything(book)
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert "say it again with --yes" in err
    assert everything(book) == before


@pytest.mark.parametrize("copies", [False, True])
def test_a_customer_is_forgotten_and_what_still_holds_her_is_named(run: Run, book: Path, copies: bool) -> None:
    more(run)
    status, out, _ = run("forget", "t1", "--yes", *(["--copies"] if copies else []))
    assert status == 0
    held = [path for path in book.parent.rglob("*.db") if b"Isolde" in path.read_bytes()]
    assert [path.parent.name for path in held] == ([] if copies else ["backups"])
    assert all(str(path) in out for path in held)
    assert "Isolde" not in run("customers")[1]


def test_a_damaged_book_says_what_to_do_and_is_saved(run: Run, book: Path, tmp_path: Path) -> None:
    run("backup")
    data = book.read_bytes()
    (tmp_path / "whole.db").write_bytes(data)
    book.write_bytes(data[:100] + b"\xff" * (len(data) - 100))
    status, _, err = run("rack")
    assert status == 2 and "damaged" in err and "ordertin salvage" in err and "ordertin restore" in err
    status, _, err = run("salvage")
    assert status == 2 and "nothing can be read" in err
    status, out, _ = run("salvage", "whole.db")
    assert status == 0 and "1 messages" in out
    saved = out.partition("Saved as ")[2].partition(". Look")[0]
    assert run("restore", saved, "--yes")[0] == 0
    assert "Isolde" in run("customers")[1]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["backup", "house.toml"], "File exists"),
        (["backup", "nowhere/new.db"], "No such file"),
        (["restore", "nothing.db"], "no such file"),
        (["restore", "notes.txt"], "not an order book"),
        (["restore", "."], "can't be read"),
        (["restore", "home/orders.db", "--yes"], "the book itself"),
        (["export", "."], "holds files"),
        (["export", "nowhere/all"], "can't be written"),
        (["salvage", "nothing.db"], "no such file"),
        (["forget", "Isolde"], "is no customer"),
        (["forget", "c7"], "no customer c7"),
    ],
    ids=" ".join,
)
def test_what_can_not_be_done_is_one_line(
    run: Run, book: Path, tmp_path: Path, arguments: list[str], said: str
) -> None:
    (tmp_path / "notes.txt").write_text("Dear diary, " * 20)
    (tmp_path / "house.toml").write_text("")
    before = everything(book)
    status, _, err = run(*arguments)
    assert status == 2
    assert said in err and err.count("\n") == 1
    assert everything(book) == before


@pytest.mark.parametrize("command", [["backup"], ["export", "all"], ["salvage"]], ids=" ".join)
def test_without_a_book_there_is_nothing_to_keep(run: Run, home: Path, command: list[str]) -> None:
    status, _, err = run(*command)
    assert status == 2 and err.count("\n") == 1
    assert not (home / "orders.db").exists()


def test_this_weeks_copy_is_made_by_whatever_is_done_first(run: Run, book: Path) -> None:
    for _ in range(2):
        run("rack")
    assert [path.name for path in (book.parent / "backups").iterdir()] == ["orders-2027-05-10.db"]


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_copy_that_can_not_be_made_keeps_nobody_from_working(run: Run, book: Path) -> None:
    book.parent.chmod(0o500)
    try:
        status, _, err = run("rack")
    finally:
        book.parent.chmod(0o700)
    assert status == 0
    assert "could not be made" in err
