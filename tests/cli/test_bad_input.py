"""What the commands say to bad input: one line with what, where and what to do, and nothing lost."""

from __future__ import annotations

import errno
import io
import json
import os
import re
import shlex
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from intake.book import store
from tests.cli.conftest import NOW, ORDER, Run, rules, samples

Made = Callable[[Path, pytest.MonkeyPatch], object]


def holds(name: str, content: bytes | str) -> Made:
    return lambda folder, _: (folder / name).write_bytes(content if isinstance(content, bytes) else content.encode())


def typo(folder: Path, _: pytest.MonkeyPatch) -> None:
    rules(folder / "home", minimum_count="minimun_count = 12")


def newer(folder: Path, _: pytest.MonkeyPatch) -> None:
    rules(folder / "home")
    with closing(store.Book(folder / "home" / "orders.db")) as made:
        made.version()
    with closing(sqlite3.connect(folder / "home" / "orders.db")) as other:
        other.execute(
            "INSERT INTO _sqlite_migrations (migration_set, name, applied_at) VALUES ('ordertin', 'in_a_year', '')"
        )
        other.commit()


def no_book(folder: Path, _: pytest.MonkeyPatch) -> None:
    rules(folder / "home")
    (folder / "home" / "orders.db").write_text("Flour 2 kg, butter 1 kg, and whatever else the week asks for")


def below_a_file(folder: Path, _: pytest.MonkeyPatch) -> None:
    (folder / "home").write_text("mine")


def denied(name: str) -> Made:
    """The system refuses to open what is called `name`, as it would for another's folder."""

    def refuse(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        if name != "house.toml":
            rules(folder / "home")
            (folder / "mine.txt").write_text(ORDER)
        for module in (os, io):
            opened = module.open

            def guarded(path: Any, *rest: Any, opened: Callable[..., Any] = opened, **named: Any) -> Any:
                if str(path).endswith(name):
                    raise PermissionError(errno.EACCES, "Permission denied", str(path))
                return opened(path, *rest, **named)

            monkeypatch.setattr(module, "open", guarded)

    return refuse


A_MILLION = b"two dozen moons, thank you! " * 36_000
NOISE = bytes(range(256)) * 20
GOOD = json.dumps({"id": "a", "messages": [{"from": "Ann", "mine": False, "at": NOW, "text": ORDER}]})
OLD_MAIL = (
    "From ann@example.com Thu Jan  1 00:00:00 1970\nFrom: Ann <ann@example.com>\nTo: me@example.com\n"
    f"Subject: cookies\nDate: Thu, 01 Jan 1970 00:00:00 +0000\n\n{ORDER}\n"
)
OLD_CHAT = json.dumps([{"sender": "Ann", "time": 0, "text": ORDER}])
OLD_LINE = GOOD.replace(NOW, "1970-01-01T00:00:00")

# What is there, the command, how its line begins, what it says to do.
BAD = [
    pytest.param(holds("m", b""), "read m", "m: there are no words in this file", "Copy the", id="an empty file"),
    pytest.param(holds("m", " \n\x1b[2J"), "read -", "paste: nothing was pasted", "Copy the", id="an empty paste"),
    pytest.param(holds("m", "[photo]"), "read m", "m: there is only a photo here", "Type what", id="a photo"),
    pytest.param(holds("m", "IMG_0042.HEIC"), "explain m", "m: there is only a photo", "Type what", id="photo's name"),
    pytest.param(holds("m", A_MILLION), "read m", "m: this is 1,008,000 char", "save the export", id="1 MB of text"),
    pytest.param(holds("m", A_MILLION), "read -", "paste: this is 1,008,000", "save the export", id="1 MB pasted"),
    pytest.param(holds("m", A_MILLION * 3), "read -", "paste: this is more than", "take that", id="3 MB pasted"),
    pytest.param(holds("m", A_MILLION), "take m", "m: this is no export", "paste a single", id="1 MB of text to take"),
    pytest.param(holds("m", NOISE), "read m", "m: this is not text", "Copy the message's words", id="binary"),
    pytest.param(holds("m", NOISE), "explain -", "paste: this is not text", "Copy the", id="binary pasted"),
    pytest.param(holds("m", NOISE), "take m", "m: this file does not hold text", "mbox", id="binary to take"),
    pytest.param(holds("m", ORDER), "read m --at 1970-01-01", "--at: a message of 1970", "the day on", id="sent 1970"),
    pytest.param(holds("m", ORDER), "read m --at 9999-12-31", "--at: a message of 9999", "the day on", id="sent 9999"),
    pytest.param(holds("m", ORDER), "read m --at soon", "--at: “soon” is not a moment", "2027-03-14T1", id="sent soon"),
    pytest.param(holds("m", ORDER), "read .", ".: this is a folder", "Name the file", id="a folder"),
    pytest.param(holds("m", ORDER), "read --jsonl .", ".: this is a folder", "Name the file", id="a folder of lines"),
    pytest.param(holds("m", b""), "take m", "m: this file is empty", "Export it again", id="an empty file to take"),
    pytest.param(holds("m", ORDER), "read n", "n: it can't be read: No such", "Name the file", id="no file"),
    pytest.param(holds("m", ORDER), "read --jsonl n", "n: it can't be read: No such", "Name the file", id="no lines"),
    pytest.param(holds("m", ORDER), "take n", "n: there is no such file", "Check its name", id="no file to take"),
    pytest.param(
        holds("m", ORDER), "take 'a\x1b[2J\nb'", "a b: there is no such file", "Check its name", id="a hostile name"
    ),
    pytest.param(holds("m", '[{"from": "Ann"'), "take m", "m: this is not whole JSON", "Export", id="half a JSON"),
    pytest.param(typo, "read -", "{home}/house.toml, line {line}: `rates.minimun", "minimum_count", id="typo, read"),
    pytest.param(typo, "explain -", "{home}/house.toml, line {line}: `rates.minimun", "Change", id="typo, explain"),
    pytest.param(typo, "take m", "{home}/house.toml, line {line}: `rates.minimun", "Change it", id="typo, take"),
    pytest.param(typo, "rack", "{home}/house.toml, line {line}: `rates.minimun", "Change it", id="typo, rack"),
    pytest.param(typo, "undo", "{home}/house.toml, line {line}: `rates.minimun", "Change it", id="typo, undo"),
    pytest.param(newer, "rack", "{home}/orders.db: this book was last opened by a newer", "Update", id="newer, rack"),
    pytest.param(newer, "undo", "{home}/orders.db: this book was last opened by a newer", "Update", id="newer, undo"),
    pytest.param(no_book, "rack", "{home}/orders.db: this file is not an order book", "Move it", id="no book, rack"),
    pytest.param(no_book, "undo", "{home}/orders.db: this file is not an order book", "Move it", id="no book, undo"),
    pytest.param(below_a_file, "rack", "{home}/house.toml: the house rules can't be", "Check", id="below a file, rack"),
    pytest.param(below_a_file, "take m", "{home}/house.toml: the house rules can't", "Check", id="below a file, take"),
    pytest.param(
        below_a_file, "demo --into home/x", "home/x: the demo can't be written", "Name a", id="below a file, demo"
    ),
    pytest.param(
        denied("house.toml"), "rack", "{home}/house.toml: the house rules can't be", "Check", id="rules denied"
    ),
    pytest.param(
        denied("orders.db"), "rack", "{home}/orders.db: the order book can't be opened", "Check", id="book denied"
    ),
    pytest.param(denied("mine.txt"), "read mine.txt", "mine.txt: it can't be read: Perm", "Name", id="file denied"),
    pytest.param(denied("mine.txt"), "take mine.txt", "mine.txt: this file may not be", "Check", id="export denied"),
]


@pytest.mark.parametrize(("there", "command", "says", "todo"), BAD)
def test_bad_input_is_one_line(
    there: Made, command: str, says: str, todo: str, run: Run, home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patch:
        there(home.parent, patch)
        stdin = (home.parent / "m").read_bytes() if (home.parent / "m").exists() else ORDER.encode()
        before = {path: path.stat().st_mtime_ns for path in home.parent.rglob("*") if path.is_file()}
        status, out, err = run(*shlex.split(command), stdin=stdin)
    line = 0
    if "{line}" in says:
        told = (home / "house.toml").read_text().splitlines()
        line = 1 + next(n for n, text in enumerate(told) if text.startswith("minimun"))
    assert status == 2
    assert err.startswith(says.format(home=home, line=line))
    assert todo in err.rstrip("\n")[len(says) - 10 :]
    assert err.endswith("\n") and err[:-1].isprintable()
    assert "should not happen" not in err and "Traceback" not in err
    assert out in ("", "0 new messages in 0 new conversations, 0 new drafts\n")
    assert {path: path.stat().st_mtime_ns for path in before} == before


@pytest.mark.parametrize(
    ("content", "command", "printed", "says"),
    [
        (OLD_MAIL, "take m", "1 new message in 1 new conversation, 1 new draft", "m, mail 1: .* dated 1970-01-01"),
        (OLD_CHAT, "take m", "1 new message in 1 new conversation, 1 new draft", "m: 1 message dated 1970-01-01"),
        (OLD_LINE, "take m", "1 new message in 1 new conversation, 1 new draft", "m, line 1: .* dated 1970-01-01"),
        (OLD_LINE, "read --jsonl m", '{"id": "a", ', "m, line 1: .* dated 1970-01-01"),
        (f"{{\n{GOOD}", "read --jsonl m", '{"id": "a", ', "m, line 1: this line is not whole JSON"),
        (f"[1]\n{GOOD}", "read --jsonl m", '{"id": "a", ', "m, line 1: this line is not a thread: it needs"),
        (f'{GOOD}\n{{"x\x1b]0;\x07\n', "read --jsonl m", '{"id": "a", ', "m, line 2: this line is not whole JSON"),
        (f"{GOOD}\n{{\n", "take m", "1 new message in 1 new conversation", "m, line 2: this line is not whole JSON"),
    ],
    ids=[
        *("a mail of 1970", "a chat of 1970", "a line of 1970", "a line of 1970, read"),
        *("half a line", "a line of another kind", "half a line with an escape", "half a line, taken"),
    ],
)
def test_what_is_wrong_is_said_and_the_rest_is_done(
    content: str, command: str, printed: str, says: str, run: Run, home: Path
) -> None:
    rules(home)
    (home.parent / "m").write_text(content, encoding="utf-8")
    status, out, err = run(*shlex.split(command))
    assert status == 2
    assert out.startswith(printed) and out.count("\n") == 1
    assert re.match(says, err) and err.endswith("\n") and err[:-1].isprintable()


@pytest.fixture
def locked(home: Path, run: Run, monkeypatch: pytest.MonkeyPatch) -> Iterator[sqlite3.Connection]:
    """Another program in the middle of writing in the book."""
    monkeypatch.setattr(store, "_WAIT_SECONDS", 0.01)
    rules(home)
    run("rack")
    with closing(sqlite3.connect(home / "orders.db")) as other:
        other.execute("BEGIN EXCLUSIVE")
        yield other


@pytest.mark.parametrize("command", ["rack", "undo", "take"])
def test_a_locked_book_is_said_and_works_again_once_free(
    command: str, run: Run, home: Path, tmp_path: Path, locked: sqlite3.Connection
) -> None:
    arguments = [command, *(samples(tmp_path) if command == "take" else [])]
    status, out, err = run(*arguments)
    assert (status, out) == (2, "")
    assert err == (
        f"{home}/orders.db: another window or program is writing in the order book. Wait a moment and try again\n"
    )
    locked.execute("ROLLBACK")
    status, out, err = run(*arguments)
    assert (status, err) == (0, "")
    assert command != "take" or out.startswith("16 new messages")
