"""The ledger: every payment as a line of CSV, for a bookkeeper's own program.

RFC 4180: CRLF after each record, a quote inside a field doubled, the same fields in each. A spreadsheet runs what
begins with = + - @, a tab or a line break as a formula (OWASP, CSV Injection), so that a text that begins so gets an
apostrophe before it, inside its quotes. Amounts are written by the program and by nobody else: they stay numbers, a
refund below zero too, so that a column of them can be summed.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from decimal import Decimal
from pathlib import Path

from intake.model import OrdertinError, Payment
from intake.money import decimals

FIELDS = ("payment", "date", "order", "customer", "what", "how", "amount", "currency", "note")
# The full-width forms count as the plain ones in some programs.
_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def ledger(payments: Iterable[Payment], customers: Mapping[int, str]) -> str:
    """Payments as CSV, in their order; those struck out are left out. `customers` are names by order number."""
    records = [",".join(_text(name) for name in FIELDS)]
    for each in payments:
        if each.struck:
            continue
        fields = (
            str(each.id),
            _text(each.day.isoformat()),
            str(each.order_id),
            _text(customers.get(each.order_id, "")),
            _text(each.what),
            _text(each.how),
            _number(each.signed, each.currency),
            _text(each.currency),
            _text(each.note),
        )
        records.append(",".join(fields))
    return "".join(f"{record}\r\n" for record in records)


def save(text: str, name: str) -> None:
    """Writes a ledger to the file `name`, for its owner alone; an earlier ledger there is replaced.

    Raises OrdertinError where it can't be written, or where the file is something else.
    """
    path = Path(name)
    head = text.partition("\r\n")[0]
    try:
        if path.exists():
            with path.open(encoding="utf-8", errors="replace", newline="") as file:
                if file.read(len(head)) != head:
                    what, todo = "there is another file of that name, and it is no ledger", "Choose another name"
                    raise OrdertinError(what, where=name, todo=todo)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with open(handle, "w", encoding="utf-8", newline="") as file:
            file.write(text)
    except OSError as error:
        what = f"the ledger can't be written: {error.strerror}"
        raise OrdertinError(what, where=name, todo="Choose a folder you may write in") from None


def guarded(text: str) -> str:
    """`text` with an apostrophe before it where a spreadsheet would run it."""
    return f"'{text}" if text.lstrip(" ").startswith(_RISKY) else text


def _text(text: str) -> str:
    return '"' + guarded(text).replace('"', '""') + '"'


def _number(amount: Decimal, currency: str) -> str:
    return f"{amount:.{decimals(currency)}f}"
