"""The command line: one face of the desk. Nothing heavy is imported before a command needs it."""

from __future__ import annotations

import argparse
import io
import os
import sys

from intake import (
    cli_book,
    cli_completion,
    cli_inbox,
    cli_keep,
    cli_kitchen,
    cli_letters,
    cli_papers,
    cli_read,
    cli_say,
    cli_till,
)
from intake.cli_add import adding, tell

TYPE_CHECKING = False  # as `typing` has it, whose import would cost a tenth of answering `--help`
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from intake.desk import Desk
    from intake.home import Home

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
            tell(error)
        else:
            print(
                f"this should not happen: {type(error).__name__}. Run it again with --debug to see more",
                file=sys.stderr,
            )
        return 2


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="ordertin", description=_ABOUT, epilog="Without a command it opens the Counter."
    )
    parser.add_argument("--debug", action="store_true", help="show where in the program an error came up")
    parser.set_defaults(run=_open)
    commands = parser.add_subparsers(metavar="COMMAND", title="commands")

    cli_read.add_commands(commands, _home)
    add = adding(commands, _desk)
    cli_inbox.add_commands(add)
    cli_book.add_commands(add)
    cli_kitchen.add_commands(add)
    cli_till.add_commands(add)
    cli_papers.add_commands(add)
    cli_letters.add_commands(add)
    cli_say.add_commands(add)
    cli_keep.add_commands(add)

    completion = commands.add_parser("completion", help="print what your shell needs to complete commands")
    completion.add_argument("shell", choices=cli_completion.SHELLS, metavar="SHELL", help="bash, zsh or fish")
    completion.set_defaults(run=_completion)

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


def _open(args: argparse.Namespace) -> int:
    from tui.app import run

    return run(_home(), debug=args.debug)


def _completion(args: argparse.Namespace) -> int:
    print(cli_completion.script(_parser(), args.shell), end="")
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
