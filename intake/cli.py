"""The command line: one face of the desk. Nothing heavy is imported before a command needs it."""

from __future__ import annotations

import argparse
import io
import os
import sys

from intake import cli_kitchen, cli_letters, cli_till

TYPE_CHECKING = False  # as `typing` has it, whose import would cost a tenth of answering `--help`
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import datetime
    from pathlib import Path

    from intake.desk import Desk
    from intake.home import Home
    from intake.house import House, ReadingPart
    from intake.model import Problem, TakeReport, Thread

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
        "take", help="take exported messages into the book: mails and chats, from files, folders and zip archives"
    )
    take.add_argument(
        "paths", nargs="+", metavar="PATH", help="what to take, or - for what is piped in; twice adds nothing"
    )
    take.add_argument("--mine", metavar="NAME", help="the name or address that you go by in them; it is remembered")
    take.add_argument("--strict", action="store_true", help="add nothing of a file with anything wrong in it, and stop")
    take.set_defaults(run=_take)

    search = commands.add_parser("search", help="find the conversations with a message that holds all these words")
    search.add_argument("words", nargs="+", metavar="WORD", help="what was said, or the name of who said it")
    search.set_defaults(run=_search)

    rack = commands.add_parser("rack", help="list the booked orders by hand-over day")
    rack.set_defaults(run=_rack)

    customers = commands.add_parser("customers", help="list the customers, and who may be one and the same")
    ways = customers.add_mutually_exclusive_group()
    ways.add_argument("--join", nargs=2, metavar="WHO", help="make two customers one, such as c3 and t12")
    ways.add_argument("--apart", nargs=2, metavar="WHO", help="two people: don't ask about them again")
    ways.add_argument("--part", metavar="WHO", help="take a customer's conversations apart again, or one from the rest")
    customers.set_defaults(run=_customers)

    cli_kitchen.add_commands(commands)

    words = commands.add_parser("words", help="list what corrections have taught the reader, or forget a word")
    words.add_argument("--forget", metavar="WORD", help="forget what was learnt of this word")
    words.set_defaults(run=_words)

    cli_till.add(commands, _home)

    undo = commands.add_parser("undo", help="take back the last change of the book")
    undo.set_defaults(run=_undo)

    from intake.cli_papers import add_commands

    add_commands(commands, _desk)
    cli_letters.add_commands(commands, _desk)

    demo = commands.add_parser("demo", help="open the program on a throwaway book of invented orders")
    demo.add_argument("--into", metavar="DIR", help="only make that book and its house rules in DIR")
    demo.set_defaults(run=_demo)
    return parser


def _home() -> Home:
    from intake.home import Home

    return Home.find()


def _desk() -> Desk:
    from intake.desk import Desk

    return Desk(_home())


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
    import tempfile
    from pathlib import Path

    from intake.desk import Desk
    from intake.inbox.chat_files import one_message
    from intake.slip_text import take_lines

    with Desk(_home()) as desk, tempfile.TemporaryDirectory(prefix="ordertin-") as passing:
        if args.mine:
            desk.i_am(args.mine)
        paths = [_piped(Path(passing)) if path == "-" else Path(path) for path in args.paths]
        pasted = one_message((Path(passing) / "paste").read_bytes()) if "-" in args.paths else ""
        if pasted:
            paths = [path for path in paths if path.parent != Path(passing)]
        report = desk.take(paths, strict=args.strict, who=_which_is_you, progress=_progress())
        if pasted:
            report = _with_paste(desk, pasted, report)
    print("\n".join(take_lines(report)))
    for problem in report.problems:
        _tell(problem)
    return 2 if report.problems else 0


def _with_paste(desk: Desk, text: str, report: TakeReport) -> TakeReport:
    from dataclasses import replace

    before = desk.version()
    case = desk.paste(text)
    if desk.version() == before:
        return replace(report, messages_known=report.messages_known + 1)
    return replace(
        report,
        threads_new=report.threads_new + 1,
        messages_new=report.messages_new + 1,
        orders_new=report.orders_new + len(case.orders),
    )


def _piped(folder: Path) -> Path:
    """What is piped in, as a file: an export is told by its first bytes, and may have to be gone through twice."""
    import shutil

    if sys.stdin.isatty():
        print("Paste it, then press Ctrl+D on a line of its own:", file=sys.stderr)
    path = folder / "paste"
    with path.open("wb") as file:
        shutil.copyfileobj(sys.stdin.buffer, file)
    return path


def _which_is_you(names: Sequence[str]) -> str:
    """Asks the baker which sender she is, where somebody is there to answer; an empty text where not."""
    from intake.inbox.keys import one_line

    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        return ""
    for number, name in enumerate(names[:9], 1):
        print(f"{number:>3}  {one_line(name)}", file=sys.stderr)
    question = "Which of them is you? Type the number or the name, or Enter for none: "
    for _ in range(3):
        print(question, end="", file=sys.stderr, flush=True)
        answer = " ".join(sys.stdin.readline().split())
        if not answer:
            break
        if answer.isdigit() and 0 < int(answer) <= len(names[:9]):
            return names[int(answer) - 1]
        like = [name for name in names if answer.casefold() in name.casefold()]
        if len(like) == 1:
            return like[0]
        print("That is none of them, or more than one.", file=sys.stderr)
    return ""


def _progress() -> Callable[[str, int, int], None] | None:
    """Tells on the terminal how far a long take is; nothing where none is looking."""
    if not sys.stderr.isatty():
        return None
    from time import monotonic

    begun = told = monotonic()

    def tell(name: str, done: int, of: int) -> None:
        nonlocal told
        now = monotonic()
        if now - begun > 2 and now - told > 0.5:
            told = now
            far = f"{done:,} of {of:,} conversations read" if of else f"{done:,} mails found"
            print(f"{name}: {far}", file=sys.stderr)

    return tell


def _search(args: argparse.Namespace) -> int:
    from intake.desk import Desk

    with Desk(_home()) as desk:
        found = desk.search(" ".join(args.words))
    for hit in found:
        who = hit.customer or "a customer"
        print(f"{hit.thread_id:<7} {hit.at:%Y-%m-%d}  {who:.24}: {'you: ' if hit.mine else ''}{hit.excerpt}")
    if not found:
        print("No message holds all of these words. A part of a word must be its beginning.")
    return 0


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


def _customers(args: argparse.Namespace) -> int:
    from intake.desk import Desk
    from intake.slip_customers import alike_lines, customer_line

    with Desk(_home()) as desk:
        if args.join:
            print(f"One customer now: {customer_line(desk.join(*args.join))}")
        elif args.apart:
            desk.keep_apart(*args.apart)
            print("Two people; they are not proposed again.")
        elif args.part:
            for customer in desk.part(args.part):
                print(customer_line(customer))
        else:
            found = desk.customers()
            print("\n".join((*map(customer_line, found), *alike_lines(desk.alike()))) or "No customers yet.")
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
