"""One whole SQLite file as another, by SQLite's own backup: a writer in between is waited for, never copied half."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing, suppress
from pathlib import Path
from time import monotonic

WAIT_SECONDS = 3.0
_PAUSE_SECONDS = 0.05


def copy(path: Path, to: Path) -> None:
    """A copy of the file in a new one that only its owner can read: whole, or none at all.

    Raises OSError where it can't be made or is there, sqlite3.Error where the file can't be read.
    """
    os.close(os.open(to, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    passing = to.with_name(f".{to.name}.part")
    try:
        # Under another name while it grows: half a copy must never look like one.
        passing.unlink(missing_ok=True)
        os.close(os.open(passing, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
        pour(path, passing)
        os.replace(passing, to)
    except BaseException:
        for made in (passing, to):
            with suppress(OSError):
                made.unlink()
        raise


def pour(path: Path, to: Path) -> None:
    """Puts all that is in `path` in the place of what is in `to`, which other programs may have open: for them it is
    one change. Raises sqlite3.OperationalError (busy) where either is being written for long."""
    begun = monotonic()

    def patient(status: int, remaining: int, total: int) -> None:
        nonlocal begun
        if status not in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            begun = monotonic()
        elif monotonic() - begun > WAIT_SECONDS:
            busy = sqlite3.OperationalError("the file is being written")
            busy.sqlite_errorcode = sqlite3.SQLITE_BUSY
            raise busy

    # A connection of its own: SQLite copies nothing from one that is inside a writing transaction.
    with (
        closing(sqlite3.connect(path, timeout=WAIT_SECONDS)) as source,
        closing(sqlite3.connect(to, timeout=WAIT_SECONDS)) as target,
    ):
        source.backup(target, progress=patient, sleep=_PAUSE_SECONDS)


def unused(path: Path) -> Path:
    """`path`, or the first of its names with a number behind it that is free."""
    number, free = 1, path
    while free.exists():
        number += 1
        free = path.with_name(f"{path.stem}-{number}{path.suffix}")
    return free
