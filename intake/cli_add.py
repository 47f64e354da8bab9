"""Adding a command to the program's parser; what all commands share."""

from __future__ import annotations

import sys

TYPE_CHECKING = False  # as `typing` has it, whose import would cost a tenth of answering `--help`
if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable
    from typing import Any, TypeAlias

    from intake.desk import Desk
    from intake.model import Problem

    Run: TypeAlias = Callable[[Desk, argparse.Namespace], int]
    #: Adds a command: its name, what it does in a line, what runs it on the open desk.
    Add: TypeAlias = Callable[[str, str, Run], argparse.ArgumentParser]


def adding(commands: Any, desk: Callable[[], Desk]) -> Add:
    """What adds commands to a parser's `commands`, each run on the desk that `desk` opens."""

    def add(name: str, about: str, run: Run) -> argparse.ArgumentParser:
        parser: argparse.ArgumentParser = commands.add_parser(name, help=about)

        def opened(args: argparse.Namespace) -> int:
            with desk() as opened_desk:
                status = run(opened_desk, args)
                if word := opened_desk.keep.weekly():
                    tell(word)
                return status

        parser.set_defaults(run=opened)
        return parser

    return add


def number_of(given: str, what: str, todo: str) -> int:
    """A number such as `12` or `#12`. Raises OrdertinError saying that it is not the number of `what`."""
    digits = given.strip().removeprefix("#")
    if digits.isascii() and digits.isdigit() and len(digits) < 16:
        return int(digits)
    from intake.model import OrdertinError

    raise OrdertinError(f"“{given:.40}” is not the number of {what}", todo=todo)


def tell(problem: Problem | Exception | str) -> None:
    """One line on standard error. File names and excerpts come from outside, so it is cleaned as a whole."""
    from intake.inbox.keys import one_line

    print(one_line(str(problem), 2000), file=sys.stderr)
