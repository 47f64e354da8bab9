"""The commands that read a message without keeping it: read, explain. No desk is opened: reading leaves no trace."""

from __future__ import annotations

import sys

from intake.cli_add import tell

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable
    from datetime import datetime
    from typing import Any

    from intake.home import Home
    from intake.house import House, ReadingPart
    from intake.model import Thread


def add_commands(commands: Any, home: Callable[[], Home]) -> None:
    """`home` finds the baker's folders."""
    read = commands.add_parser("read", help="draft an order from a customer's message, without keeping it")
    read.add_argument(
        "file", nargs="?", default="-", metavar="FILE", help="a text file, or - for what is pasted or piped in"
    )
    read.add_argument("--at", metavar="DATETIME", help="when it was sent, such as 2027-03-14T18:30 (now, if not given)")
    read.add_argument("--json", action="store_true", help="print the draft as JSON")
    read.add_argument(
        "--jsonl", metavar="FILE", help="read many conversations, one JSON object a line, and print one reading a line"
    )
    read.set_defaults(run=lambda args: _read(args, home()))

    explain = commands.add_parser("explain", help="read a message and say what was found, what won and why")
    explain.add_argument(
        "file", nargs="?", default="-", metavar="FILE", help="a text file, or - for what is pasted or piped in"
    )
    explain.add_argument("--at", metavar="DATETIME", help="when it was sent")
    explain.set_defaults(run=lambda args: _explain(args, home()))


def _read(args: argparse.Namespace, home: Home) -> int:
    from intake.reading.pipeline import read

    rules = _house(home)
    if args.jsonl:
        return _read_lines(args.jsonl, home, rules)
    from intake.slip_text import slip

    thread = _pasted(args, rules)
    reading = read(thread, _reading_rules(home, rules))
    if args.json:
        import json

        from intake.record import reading_plain

        print(json.dumps(reading_plain(thread.id, reading), ensure_ascii=False, indent=1))
    else:
        print(slip(thread, reading))
    return 0


def _read_lines(name: str, home: Home, rules: House) -> int:
    import json

    from intake.inbox.thread_lines import threads_of_lines
    from intake.reading.pipeline import read
    from intake.record import reading_plain

    text = _text_of(name, limit=500_000_000)
    threads, problems = threads_of_lines(text, rules.zone, name)
    words = _reading_rules(home, rules)
    for thread in threads:
        print(json.dumps(reading_plain(thread.id, read(thread, words)), ensure_ascii=False))
    for problem in problems:
        tell(problem)
    return 2 if problems else 0


def _explain(args: argparse.Namespace, home: Home) -> int:
    from intake.reading.pipeline import read
    from intake.slip_text import trail

    rules = _house(home)
    thread = _pasted(args, rules)
    print(trail(read(thread, _reading_rules(home, rules))))
    return 0


def _pasted(args: argparse.Namespace, rules: House) -> Thread:
    from intake.inbox.paste import thread_of_paste
    from intake.model import OrdertinError

    at = _moment(args.at, rules)
    try:
        return thread_of_paste(_text_of(args.file), at=at)
    except OrdertinError as error:
        if error.problem.where != "paste" or args.file == "-":
            raise
        what = error.problem.what.replace("nothing was pasted", "there are no words in this file")
        raise OrdertinError(what, where=args.file, todo=error.problem.todo) from None


def _moment(given: str | None, rules: House) -> datetime:
    from intake import clock

    if given is None:
        return clock.now(rules.zone)
    from datetime import datetime

    from intake.model import OrdertinError

    try:
        at = datetime.fromisoformat(given)
    except ValueError:
        raise OrdertinError(
            f"“{given:.40}” is not a moment", where="--at", todo="Write it like 2027-03-14T18:30"
        ) from None
    if not 2000 <= at.year <= 2100:
        raise OrdertinError(
            f"a message of {at.year} can't be a customer's", where="--at", todo="Give the day on which it was sent"
        )
    return at.astimezone(rules.zone) if at.tzinfo else at.replace(tzinfo=rules.zone)


def _text_of(name: str, limit: int = 2_000_000) -> str:
    """The text of a file, or of standard input for "-". Raises OrdertinError for a folder, no file, or no text."""
    from pathlib import Path

    from intake.model import OrdertinError

    try:
        if name == "-":
            if sys.stdin.isatty():
                print("Paste the message, then press Ctrl+D on a line of its own.", file=sys.stderr)
            raw = sys.stdin.buffer.read(limit + 1)
        else:
            with Path(name).open("rb") as file:
                raw = file.read(limit + 1)
    except OSError as error:
        what = (
            "this is a folder, not a file"
            if isinstance(error, IsADirectoryError)
            else f"it can't be read: {error.strerror}"
        )
        raise OrdertinError(what, where=name, todo="Name the file that holds the message") from None
    if len(raw) > limit:
        raise OrdertinError(
            f"this is more than {limit:,} bytes",
            where="paste" if name == "-" else name,
            todo="Save it as an export and take that",
        )
    for encoding in ("utf-8-sig", "utf-16") if raw[:2] in (b"\xff\xfe", b"\xfe\xff") else ("utf-8-sig", "cp1252"):
        try:
            return raw.decode(encoding)
        except UnicodeDecodeError:
            continue
    return raw.decode("latin-1")


def _house(home: Home) -> House:
    """The house rules, without making a file of them: reading alone leaves no trace."""
    from intake import house

    try:
        made = home.rules.exists()
    except OSError:
        made = True  # loading them says what is wrong
    return house.load(home.rules) if made else house.default_house()


def _reading_rules(home: Home, house: House) -> ReadingPart:
    """The rules for reading, with the words that corrections in the book have taught, where there is a book."""
    from intake.reading.house_words import with_words

    if not home.book.is_file():
        return house.reading
    from intake.book.shelf import Shelf
    from intake.book.store import Book

    book = Book(home.book)
    try:
        return with_words(house.reading, Shelf(book, house.zone).words())
    finally:
        book.close()
