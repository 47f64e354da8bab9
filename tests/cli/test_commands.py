"""The commands, through `main` and, where a process of its own matters, through one."""

from __future__ import annotations

import json
import os
import re
import shlex
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Sequence
from contextlib import closing
from importlib.metadata import entry_points
from pathlib import Path
from typing import Any

import pytest

from intake.cli import main
from intake.demo import samples_folder
from tests.cli.conftest import NOW, ORDER, SAMPLES, Run, kept, rules, samples

WEEKDAY = "2 dozen moon cookies, pickup friday at 4pm"


def rows(out: str) -> dict[str, tuple[str, str]]:
    """Of each row of a slip: its name, then its word and its value without the words it came from."""
    row = re.compile(r"  [+?-] (\w+) +(the day is|[\w-]+) +(.*?)(?:   “.*)?$", re.MULTILINE)
    return {name: (word, value) for word, name, value in row.findall(out)}


def process(arguments: Sequence[str], **how: Any) -> subprocess.CompletedProcess[str]:
    code = "import sys; from intake.cli import main; sys.exit(main())"
    how = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "encoding": "utf-8", "check": False} | how
    return subprocess.run([sys.executable, "-c", code, *arguments], **how)


# Reading alone


@pytest.mark.parametrize("way", ["file", "pipe", "pipe by default"])
def test_a_message_becomes_a_slip_and_nothing_is_kept(way: str, run: Run, home: Path, tmp_path: Path) -> None:
    (tmp_path / "message.txt").write_text(ORDER, encoding="utf-8")
    arguments = {"file": ["message.txt"], "pipe": ["-"], "pipe by default": []}[way]
    status, out, err = run("read", *arguments, stdin=ORDER.encode())
    assert (status, err) == (0, "")
    assert rows(out) == {
        "customer": ("sure", "Isolde"),
        "cookies": ("sure", "24"),
        "theme": ("sure", "cuckoo clock"),
        "lettering": ("none", "nothing said of it"),
        "due": ("sure", "Fri 21 May 2027, 16:00"),
        "the day is": ("sure", "hand-over"),
        "hand-over": ("sure", "pickup"),
    }
    assert not home.exists()


@pytest.mark.parametrize(
    ("at", "day"),
    [
        ([], "Fri 14 May 2027"),
        (["--at", "2027-05-03"], "Fri 7 May 2027"),
        (["--at", "2027-05-17T18:30"], "Fri 21 May 2027"),
        (["--at", "2027-05-14T23:30:00+00:00"], "Fri 21 May 2027"),
    ],
    ids=["now", "a day", "a moment", "a moment elsewhere"],
)
def test_days_are_counted_from_when_it_was_sent(at: list[str], day: str, run: Run) -> None:
    status, out, _ = run("read", "-", *at, stdin=WEEKDAY.encode())
    assert status == 0
    assert rows(out)["due"][1].startswith(day)


@pytest.mark.parametrize(
    "raw",
    [
        ORDER.encode("utf-8-sig"),
        ORDER.encode("utf-16"),
        ORDER.replace("!", "\x92s").encode("latin-1"),
        ORDER.replace(". ", ".\r\n").encode(),
    ],
    ids=["UTF-8 with a mark", "UTF-16", "windows-1252", "CRLF"],
)
def test_other_ways_to_write_a_file_read_alike(raw: bytes, run: Run) -> None:
    status, out, err = run("read", "-", stdin=raw)
    assert (status, err) == (0, "")
    assert rows(out)["cookies"] == ("sure", "24")


def test_json_holds_values_and_the_words_they_came_from(run: Run) -> None:
    status, out, _ = run("read", "-", "--json", stdin=ORDER.encode())
    order = json.loads(out)["orders"][0]
    assert status == 0
    assert order["count"]["value"] == 24
    assert order["due"]["value"] == {"date": "2027-05-21", "time": "16:00"}
    (found,) = order["count"]["evidence"]
    assert ORDER[found["start"] : found["end"]] == "Two dozen"


def test_lines_of_conversations_give_lines_of_readings(run: Run) -> None:
    path = samples_folder() / "threads.jsonl"
    status, out, err = run("read", "--jsonl", str(path))
    given = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
    read = [json.loads(line) for line in out.splitlines()]
    assert (status, err) == (0, "")
    assert [thread["id"] for thread in read] == [thread["id"] for thread in given]
    assert all({"value", "sure", "evidence", "why"} == set(thread["intent"]) for thread in read)


def test_explain_says_what_was_found_and_by_which_rule(run: Run, home: Path) -> None:
    status, out, err = run("explain", "-", stdin=ORDER.encode())
    assert (status, err) == (0, "")
    assert re.search(r"^count +“Two dozen” -> 24 +\[.+: stands\]$", out, re.MULTILINE)
    assert re.search(r"^due +“Friday May 21” -> 2027-05-21 ", out, re.MULTILINE)
    assert not home.exists()


# The book


def test_exports_are_taken_once(run: Run, home: Path, tmp_path: Path) -> None:
    rules(home)
    paths = samples(tmp_path)
    status, out, err = run("take", *paths)
    assert (status, err) == (0, "")
    assert out.startswith("16 new messages in 8 new conversations, ")
    with closing(sqlite3.connect(home / "orders.db")) as book:
        before = list(book.iterdump())
    status, out, err = run("take", *reversed(paths))
    assert (status, err) == (0, "")
    assert out == "0 new messages in 0 new conversations, 0 new drafts; 16 were there already\n"
    with closing(sqlite3.connect(home / "orders.db")) as book:
        assert list(book.iterdump()) == before


def test_a_file_that_can_not_be_read_does_not_stop_the_others(run: Run, home: Path, tmp_path: Path) -> None:
    rules(home)
    mbox, mail, chat = samples(tmp_path)
    status, out, err = run("take", mbox, "nowhere.mbox", mail, chat)
    assert status == 2
    assert out.startswith("16 new messages")
    assert err == "nowhere.mbox: there is no such file. Check its name and folder\n"


def test_undo_goes_back_change_by_change(run: Run, home: Path, tmp_path: Path) -> None:
    rules(home)
    paths = samples(tmp_path)
    run("take", *paths)
    for name in reversed(SAMPLES):
        status, out, err = run("undo")
        assert (status, err) == (0, "")
        assert out.startswith("Taken back: ") and name in out
    assert run("undo") == (0, "There is nothing to take back.\n", "")
    assert run("take", *paths)[1].startswith("16 new messages in 8 new conversations")


def test_an_empty_rack_says_so(run: Run) -> None:
    assert run("rack") == (0, "No booked orders yet.\n", "")


def test_customers_are_listed_joined_and_taken_apart(run: Run, tmp_path: Path) -> None:
    assert run("customers") == (0, "No customers yet.\n", "")
    wrote = (("Dana Reyes", "217-555-0142"), ("Dana  Reyes", "217-555-0143"), ("Bea Ortiz", "(217) 555-0142"))
    message = {"id": "m1", "mine": False, "at": NOW, "text": ORDER}
    lines = [
        json.dumps({"id": phone, "channel": "chat", "messages": [{**message, "from": who, "address": phone}]})
        for who, phone in wrote
    ]
    (tmp_path / "all.jsonl").write_text("\n".join(lines))
    assert run("take", "all.jsonl")[0] == 0

    listed = run("customers")[1]
    assert re.search(r"(?m)^c1 .* 2 orders .* t1 \(chat\), t3 \(chat\)$", listed)
    assert "--join c1 c2" in listed
    assert run("customers", "--join", "c1", "t2")[1].startswith("One customer now: c1")
    assert "--join" not in run("customers")[1]
    assert len(run("customers", "--part", "c1")[1].splitlines()) == 2
    assert run("customers", "--apart", "c1", "c2")[0] == 0
    assert "--join" not in run("customers")[1]
    for wrong in (("--join", "c1", "c9"), ("--part", "c2"), ("--apart", "c1", "t3")):
        status, out, err = run("customers", *wrong)
        assert (status, out) == (2, "") and len(err.splitlines()) == 1


def test_the_demo_goes_where_it_is_told_and_fills_the_rack(
    run: Run, home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "my demo"
    status, out, err = run("demo", "--into", str(folder))
    assert (status, err) == (0, "")
    assert not home.exists()
    setting, command = shlex.split(out.partition("Open it with: ")[2])
    assert (setting, command) == (f"ORDERTIN_HOME={folder}", "ordertin")

    monkeypatch.setenv(*setting.split("=", 1))
    status, out, err = run("rack")
    booked = re.findall(r"(?m)^\w{3} \d+ \w{3} 2027.* \d+  .* (?:pickup|ship|deliver) +(?:not begun|[a-z]+)$", out)
    assert (status, err) == (0, "")
    assert len(booked) == len(out.splitlines()) >= 12

    before = kept(folder)
    status, out, err = run("demo", "--into", str(folder))
    assert (status, out) == (2, "")
    assert err == f"{folder}: the demo needs an empty folder, and this one holds files. Name a new folder\n"
    assert kept(folder) == before


# A process of its own


def test_the_installed_command_is_this_one() -> None:
    (found,) = entry_points(group="console_scripts", name="ordertin")
    assert found.load() is main


def test_the_screens_want_a_keyboard() -> None:
    done = process([], stdin=subprocess.DEVNULL)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "the screens need a terminal with a keyboard, and something is piped in or out. "
        "To read a message from a pipe: ordertin read -\n"
    )


def test_letters_that_the_terminal_lacks_stop_nothing() -> None:
    words = "24 crème brûlée cookies 🎂 pickup friday. Thanks, Zoë"
    done = process(["explain", "-"], input=words, env={**os.environ, "PYTHONIOENCODING": "ascii"})
    assert (done.returncode, done.stderr) == (0, "")
    assert "Zo?" in done.stdout


def test_a_reader_that_has_gone_is_no_fault() -> None:
    """As `ordertin rack | head -0`: the pipe is shut before anything is written."""
    outlet, inlet = os.pipe()
    os.close(outlet)
    with open(inlet, "wb") as gone:
        done = process(["rack"], stdout=gone)
    assert (done.returncode, done.stderr) == (0, "")


# Faults and stops


def failing(error: BaseException) -> Callable[..., Any]:
    def fails(*_: object, **__: object) -> Any:
        raise error

    return fails


def test_a_fault_of_the_program_is_one_line_unless_asked_for(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("intake.reading.pipeline.read", failing(RuntimeError("gears\nand springs")))
    status, out, err = run("read", "-", stdin=ORDER.encode())
    assert (status, out) == (2, "")
    assert err == "this should not happen: RuntimeError. Run it again with --debug to see more\n"
    with pytest.raises(RuntimeError, match="gears"):
        run("--debug", "read", "-", stdin=ORDER.encode())


def test_stopping_by_the_keyboard_is_said(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("intake.desk.Desk.take", failing(KeyboardInterrupt()))
    assert run("take", "mail.mbox") == (130, "", "stopped; nothing half done was kept\n")




def test_what_is_piped_in_may_be_one_message_or_an_export(run: Run) -> None:
    status, out, err = run("take", "-", stdin=ORDER.encode())
    assert (status, out, err) == (0, "1 new message in 1 new conversation, 1 new draft\n", "")
    assert run("take", "-", stdin=ORDER.encode())[1].endswith("; 1 were there already\n")
    export = (samples_folder() / "messages_table.csv").read_bytes()
    assert run("take", "-", stdin=export)[1] == "10 new messages in 3 new conversations, 3 new drafts\n"


def test_search_says_where_and_what(run: Run) -> None:
    run("take", "-", stdin=ORDER.encode())
    status, out, _ = run("search", "cuckoo", "CLOCK")
    assert status == 0
    assert out.startswith("t1 ")
    assert "cuckoo clock cookies" in out
    assert run("search", "marzipan")[1].startswith("No message holds all of these words.")


def test_her_name_is_told_once(run: Run, home: Path, tmp_path: Path) -> None:
    path = str(samples_folder() / "chat_transcript.txt")
    _, _, err = run("take", path)
    assert "none of the senders is known to be you: Marisol Teague, Ottilie" in err
    status, _, err = run("take", "--mine", "Ottilie", path)
    assert (status, err) == (0, "")
    assert 'senders = ["Ottilie"]' in (home / "house.toml").read_text()
