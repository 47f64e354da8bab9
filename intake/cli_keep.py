"""The commands that keep the book: backup, restore, export, salvage, forget."""

from __future__ import annotations

import sys

TYPE_CHECKING = False  # as in intake.cli
if TYPE_CHECKING:
    import argparse

    from intake.cli_add import Add
    from intake.desk import Desk

_YES = "don't ask first"


def add_commands(add: Add) -> None:
    backup = add("backup", "make a checked copy of the book", _backup)
    backup.add_argument("path", nargs="?", metavar="PATH", help="a new file, or a folder")

    restore = add("restore", "put a backup or an export in the place of the book, which is kept beside it", _restore)
    restore.add_argument("source", metavar="FROM", help="the file of a backup, or the folder of an export")
    restore.add_argument("--yes", action="store_true", help=_YES)

    export = add("export", "write all of the book as JSON and CSV", _export)
    export.add_argument("folder", metavar="FOLDER", help="a new folder")

    salvage = add("salvage", "save what can be read of a damaged book", _salvage)
    salvage.add_argument("file", nargs="?", metavar="FILE", help="the damaged book (yours, if not given)")

    forget = add("forget", "take a customer out of the book for good; the money of her orders stays", _forget)
    forget.add_argument("who", metavar="WHO", help="such as c3, or t12 for whose conversation that is")
    forget.add_argument("--copies", action="store_true", help="delete the backups that still hold her, too")
    forget.add_argument("--yes", action="store_true", help=_YES)


def _backup(desk: Desk, args: argparse.Namespace) -> int:
    from pathlib import Path

    made = desk.keep.backup(Path(args.path) if args.path else None)
    print(f"Copied and checked: {made.resolve()}")
    print("It holds names, addresses and messages: keep it where only you can read it.")
    return 0


def _restore(desk: Desk, args: argparse.Namespace) -> int:
    from pathlib import Path

    source = Path(args.source)
    desk.keep.check(source)
    if not _sure(f"Put {source} in the place of your book? Yours is kept beside it.", args):
        return 2
    kept = desk.keep.restore(source)
    print(f"{source} is your book now: {desk.home.book}")
    if kept:
        print(f"The one before is kept: {kept}")
    return 0


def _export(desk: Desk, args: argparse.Namespace) -> int:
    from pathlib import Path

    from intake.counted import many

    found = desk.keep.export(Path(args.folder))
    told = ", ".join(many(found[name], name[:-1]) for name in ("messages", "orders", "payments"))
    print(f"Written to {Path(args.folder).resolve()}: {told}, and the rest of the book.")
    print(f"The .csv files are for spreadsheets; ordertin restore {args.folder} makes the book again from the rest.")
    return 0


def _salvage(desk: Desk, args: argparse.Namespace) -> int:
    from pathlib import Path

    to, found = desk.keep.salvage(Path(args.file) if args.file else None)
    for name in ("messages", "orders", "payments", "quotes", "letters"):
        print(f"{found[name]:>7,} {name}")
    if found["lost"]:
        print(f"{found['lost']:>7} conversations or orders put in empty, because theirs is lost")
    print(f"Saved as {to}. Look whether a backup holds more, then: ordertin restore {to}")
    return 0


def _forget(desk: Desk, args: argparse.Namespace) -> int:
    from intake.clean import clean
    from intake.counted import many

    who = desk.keep.who(args.who)
    asked = (
        f"Forget {clean(who.name)} ({who.id}), {many(len(who.threads), 'conversation')}: messages, drafts, names, "
        "addresses, telephone numbers and letters? It can't be undone, nor can anything that you did before it."
    )
    if not _sure(asked, args):
        return 2
    gone = desk.keep.forget(args.who)
    print(f"Forgotten: {many(gone.messages, 'message')}, {many(gone.orders_gone, 'order')} without money.")
    if gone.orders_kept:
        print(
            f"Kept without a name, for your books and taxes: {many(gone.orders_kept, 'order')} with day, count and "
            f"figures, {many(gone.payments_kept, 'payment')}."
        )
    print("Words that your corrections taught stay (ordertin words). Taking in an old export brings her back.")
    copies = desk.keep.copies()
    if args.copies and copies:
        fresh = desk.keep.backup(None)
        for copy in copies:
            copy.unlink(missing_ok=True)
        print(f"{len(copies)} older copies deleted, and a new one made: {fresh}")
    elif copies:
        print("These copies of the book may still hold her; delete them, or say it again with --copies:")
        for copy in copies:
            print(f"  {copy}")
    print("What you have exported, printed or sent is yours to look through.")
    return 0


def _sure(question: str, args: argparse.Namespace) -> bool:
    """Asks, unless it was said before; nobody there to answer is a no."""
    if args.yes:
        return True
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        print(f"{question} Nothing was done: say it again with --yes", file=sys.stderr)
        return False
    print(f"{question} Type yes: ", end="", file=sys.stderr, flush=True)
    if sys.stdin.readline().strip().casefold() in ("yes", "y"):
        return True
    print("Nothing was done.", file=sys.stderr)
    return False
