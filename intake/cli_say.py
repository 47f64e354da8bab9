"""The command that says something to the assistant: say."""

from __future__ import annotations

import sys

from intake.cli_add import number_of

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse

    from intake.cli_add import Add
    from intake.desk import Desk
    from intake.desk_talk import Plan


def add_commands(add: Add) -> None:
    say = add("say", "ask something, correct an order or have something done, in your own words", _say)
    say.add_argument("words", nargs="+", metavar="WORDS", help='such as "who hasn\'t paid?" or "make it 3 dozen"')
    say.add_argument("--about", metavar="ORDER", help="the number of the order that is meant")
    say.add_argument("--yes", action="store_true", help="do it without asking first")


def _say(desk: Desk, args: argparse.Namespace) -> int:
    from intake.desk_talk import hear

    number = number_of(args.about, "an order", "ordertin rack lists them") if args.about else 0
    found = hear(desk, " ".join(args.words), order_id=number)
    print(found.answer)
    for choice in found.choices:
        print(f"  {choice}")
    if found.go and found.go.reply:
        print(f"\n{found.go.reply.text}")
    if found.plan:
        return _do(desk, found.plan, args.yes)
    return 0 if found.understood and not found.refused and not found.choices else 2


def _do(desk: Desk, made: Plan, yes: bool) -> int:
    from intake.desk_talk import do

    if not (yes or _agreed(made)):
        print("Nothing was changed.")
        return 2
    print(do(desk, made).answer)
    return 0


def _agreed(made: Plan) -> bool:
    """Whether she says yes; nobody is asked where no terminal is there to ask at."""
    if not sys.stdin.isatty():
        return False
    sure = "" if made.careful else ", or Enter"
    try:
        said = input(f"y: yes, {made.yes}{sure}; n: no. ").strip().lower()
    except EOFError:
        return False
    return said in ("y", "yes") or (not said and not made.careful)
