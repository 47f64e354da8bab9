"""The commands of answers by mail. Nothing heavy is imported before one of them runs."""

from __future__ import annotations

import sys

from intake.cli_add import number_of

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse

    from intake.cli_add import Add
    from intake.desk import Desk


def add_commands(add: Add) -> None:
    outbox = add("outbox", "list the answers that went by mail, and settle what became of them", _outbox)
    ways = outbox.add_mutually_exclusive_group()
    ways.add_argument("--send", metavar="LETTER", help="send a letter that has not gone, or may not have")
    ways.add_argument("--went", metavar="LETTER", help="you found it among your sent mails")
    ways.add_argument("--lost", metavar="LETTER", help="you found that it has not gone")
    ways.add_argument("--try", action="store_true", dest="trial", help="see whether your account can be reached")
    ways.add_argument("--password", action="store_true", help="keep its password in your system's keyring")


def _outbox(desk: Desk, args: argparse.Namespace) -> int:
    from intake.clean import clean
    from intake.desk_letters import letter_line

    if args.password:
        print(f"Kept in your system's keyring for {desk.letters.keep_password(_password())}.")
    elif args.trial:
        print(f"{desk.letters.try_account()}. Nothing was sent.")
    elif args.send or args.went or args.lost:
        number = number_of(args.send or args.went or args.lost, "a letter", "ordertin outbox lists them")
        letter = (
            desk.letters.send_again(number) if args.send else desk.letters.settle(number, went=bool(args.went))
        )
        print(clean(letter_line(letter)))
        return 0 if letter.state == "accepted" or not args.send else 2
    else:
        letters = desk.outbox()
        for letter in letters:
            print(clean(letter_line(letter)))
        if not letters:
            print("Nothing has gone by mail. F7 at the Counter writes an answer, and F5 there sends it.")
    return 0


def _password() -> str:
    """The password as it is typed, unseen; from what is piped in where nobody is there to type."""
    from intake.model import OrdertinError

    if sys.stdin.isatty():
        from getpass import getpass

        given = getpass("Password of your mail account (it is not shown): ")
    else:
        given = sys.stdin.readline().rstrip("\r\n")
    if not given:
        raise OrdertinError("no password was given", where="outbox", todo="Nothing was changed")
    return given
