"""The commands that take messages into the book and find them there: take, search."""

from __future__ import annotations

import sys

from intake.cli_add import tell

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from intake.cli_add import Add
    from intake.desk import Desk
    from intake.model import TakeReport


def add_commands(add: Add) -> None:
    about = "take exported messages into the book: mails and chats, from files, folders and zip archives"
    take = add("take", about, _take)
    take.add_argument(
        "paths", nargs="+", metavar="PATH", help="what to take, or - for what is piped in; twice adds nothing"
    )
    take.add_argument("--mine", metavar="NAME", help="the name or address that you go by in them; it is remembered")
    take.add_argument("--strict", action="store_true", help="add nothing of a file with anything wrong in it, and stop")

    search = add("search", "find the conversations with a message that holds all these words", _search)
    search.add_argument("words", nargs="+", metavar="WORD", help="what was said, or the name of who said it")


def _take(desk: Desk, args: argparse.Namespace) -> int:
    import tempfile
    from pathlib import Path

    from intake.inbox.chat_files import one_message
    from intake.slip_text import take_lines

    with tempfile.TemporaryDirectory(prefix="ordertin-") as passing:
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
        tell(problem)
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


def _search(desk: Desk, args: argparse.Namespace) -> int:

    found = desk.search(" ".join(args.words))
    for hit in found:
        who = hit.customer or "a customer"
        print(f"{hit.thread_id:<7} {hit.at:%Y-%m-%d}  {who:.24}: {'you: ' if hit.mine else ''}{hit.excerpt}")
    if not found:
        print("No message holds all of these words. A part of a word must be its beginning.")
    return 0
