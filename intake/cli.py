"""The command line: one face of the desk. Nothing heavy is imported before a command needs it."""

from __future__ import annotations

import argparse
import io
import os
import sys

TYPE_CHECKING = False  # as `typing` has it, whose import would cost a tenth of answering `--help`
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import datetime

    from intake.home import Home
    from intake.house import House, ReadingPart
    from intake.model import Problem, Thread

_ABOUT = "Turns the messages customers send to a home cookie baker into priced, planned and answered orders."


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command. Exit status: 0 done, 2 something could not be read or done (it was said which), 130 stopped."""
    args = _parser().parse_args(argv)
    run: Callable[[argparse.Namespace], int] = args.run
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")  # a terminal that lacks a letter shows a question mark for it
    try:
        status = run(args)
        sys.stdout.flush()
        return status
    except KeyboardInterrupt:
        print("stopped; nothing half done was kept", file=sys.stderr)
        return 130
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as error:
        from intake.model import OrdertinError

        if args.debug:
            raise
        if isinstance(error, OrdertinError):
            _tell(error)
        else:
            print(
                f"this should not happen: {type(error).__name__}. Run it again with --debug to see more",
                file=sys.stderr,
            )
        return 2


def _tell(problem: Problem | Exception) -> None:
    """One line on standard error. File names and excerpts come from outside, so it is cleaned as a whole."""
    from intake.inbox.keys import one_line

    print(one_line(str(problem), 2000), file=sys.stderr)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="ordertin", description=_ABOUT, epilog="Without a command it opens the Counter."
    )
    parser.add_argument("--debug", action="store_true", help="show where in the program an error came up")
    parser.set_defaults(run=_open)
    commands = parser.add_subparsers(metavar="COMMAND", title="commands")

    read = commands.add_parser("read", help="draft an order from a customer's message, without keeping it")
    read.add_argument(
        "file", nargs="?", default="-", metavar="FILE", help="a text file, or - for what is pasted or piped in"
    )
    read.add_argument("--at", metavar="DATETIME", help="when it was sent, such as 2027-03-14T18:30 (now, if not given)")
    read.add_argument("--json", action="store_true", help="print the draft as JSON")
    read.add_argument(
        "--jsonl", metavar="FILE", help="read many conversations, one JSON object a line, and print one reading a line"
    )
    read.set_defaults(run=_read)

    explain = commands.add_parser("explain", help="read a message and say what was found, what won and why")
    explain.add_argument(
        "file", nargs="?", default="-", metavar="FILE", help="a text file, or - for what is pasted or piped in"
    )
    explain.add_argument("--at", metavar="DATETIME", help="when it was sent")
    explain.set_defaults(run=_explain)

    take = commands.add_parser(
        "take", help="take exported messages into the book: an mbox, a mail file, a chat as JSON"
    )
    take.add_argument("paths", nargs="+", metavar="FILE", help="what to take; taking it twice adds nothing")
    take.set_defaults(run=_take)

    rack = commands.add_parser("rack", help="list the booked orders by hand-over day")
    rack.set_defaults(run=_rack)

    from intake.cli_kitchen import add_commands

    add_commands(commands)

    words = commands.add_parser("words", help="list what corrections have taught the reader, or forget a word")
    words.add_argument("--forget", metavar="WORD", help="forget what was learnt of this word")
    words.set_defaults(run=_words)

    undo = commands.add_parser("undo", help="take back the last change of the book")
    undo.set_defaults(run=_undo)

    demo = commands.add_parser("demo", help="open the program on a throwaway book of invented orders")
    demo.add_argument("--into", metavar="DIR", help="only make that book and its house rules in DIR")
    demo.set_defaults(run=_demo)
    return parser


def _home() -> Home:
    from intake.home import Home

    return Home.find()


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


def _open(args: argparse.Namespace) -> int:
    from tui.app import run

    return run(_home(), debug=args.debug)


def _read(args: argparse.Namespace) -> int:
    from intake.reading.pipeline import read

    rules = _house(_home())
    if args.jsonl:
        return _read_lines(args.jsonl, rules)
    from intake.slip_text import slip

    thread = _pasted(args, rules)
    reading = read(thread, _reading_rules(_home(), rules))
    if args.json:
        import json

        from intake.record import reading_plain

        print(json.dumps(reading_plain(thread.id, reading), ensure_ascii=False, indent=1))
    else:
        print(slip(thread, reading))
    return 0


def _read_lines(name: str, rules: House) -> int:
    import json

    from intake.inbox.thread_lines import threads_of_lines
    from intake.reading.pipeline import read
    from intake.record import reading_plain

    text = _text_of(name, limit=500_000_000)
    threads, problems = threads_of_lines(text, rules.zone, name)
    words = _reading_rules(_home(), rules)
    for thread in threads:
        print(json.dumps(reading_plain(thread.id, read(thread, words)), ensure_ascii=False))
    for problem in problems:
        _tell(problem)
    return 2 if problems else 0


def _explain(args: argparse.Namespace) -> int:
    from intake.reading.pipeline import read
    from intake.slip_text import trail

    rules = _house(_home())
    thread = _pasted(args, rules)
    print(trail(read(thread, _reading_rules(_home(), rules))))
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


def _take(args: argparse.Namespace) -> int:
    from pathlib import Path

    from intake.desk import Desk

    with Desk(_home()) as desk:
        report = desk.take([Path(p) for p in args.paths])
    known = f"; {report.messages_known} were there already" if report.messages_known else ""
    print(
        f"{_many(report.messages_new, 'new message')} in {_many(report.threads_new, 'new conversation')}, "
        f"{_many(report.orders_new, 'new draft')}{known}"
    )
    for problem in report.problems:
        _tell(problem)
    return 2 if report.problems else 0


def _many(count: int, thing: str) -> str:
    return f"{count} {thing}{'' if count == 1 else 's'}"


def _rack(args: argparse.Namespace) -> int:
    from intake.desk import Desk
    from intake.slip_text import rack_line

    with Desk(_home()) as desk:
        orders = desk.rack()
    for order in orders:
        print(rack_line(order))
    if not orders:
        print("No booked orders yet.")
    return 0


def _words(args: argparse.Namespace) -> int:
    from intake.desk import Desk
    from intake.slip_text import word_line

    with Desk(_home()) as desk:
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


def _undo(args: argparse.Namespace) -> int:
    from intake.desk import Desk

    with Desk(_home()) as desk:
        undone = desk.undo()
    print(f"Taken back: {undone}" if undone else "There is nothing to take back.")
    return 0


def _demo(args: argparse.Namespace) -> int:
    import shlex
    import tempfile
    from pathlib import Path

    from intake import clock, demo

    now = clock.now(clock.zone_of(""))
    if args.into:
        made = demo.make(Path(args.into), now=now)
        folder = shlex.quote(str(made.book.parent))
        print(f"The demo's book is {made.book}. Open it with: ORDERTIN_HOME={folder} ordertin")
        return 0
    from tui.app import needs_terminal, run

    needs_terminal()
    with tempfile.TemporaryDirectory(prefix="ordertin-demo-") as throwaway:
        return run(demo.make(Path(throwaway) / "book", now=now), demo=True, debug=args.debug)
