"""A disk that fills up, and two programs that write in one book at once: nothing that was confirmed is lost, and
nothing is there twice."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from decimal import Decimal
from functools import partial
from pathlib import Path
from time import monotonic

from intake.home import Home
from intake.model import OrdertinError
from tests.bench.faults import (
    MESSAGE,
    NOW,
    Say,
    asked,
    booked_ones,
    desk_of,
    ended,
    forked,
    fresh,
    home_of,
    kills,
    paid,
    whole_book,
)
from tests.bench.row import Row

SECONDS = int(os.environ.get("ORDERTIN_FAULT_SECONDS", "60"))


def full_disks() -> Iterator[Row]:
    """A disk of so many KB that fills up while payments and messages come; then there is room again."""
    if os.geteuid() or sys.platform != "linux":
        yield Row("full disk", "-", "needs the superuser of a Linux machine")
        return
    told: dict[str, int] = {}
    injected = lost = 0
    with tempfile.TemporaryDirectory() as folder:
        clean = home_of(Path(folder, "clean"))
        booked_ones(clean)
        size = clean.book.stat().st_size // 1024
        for more in range(0, 200, 5):
            disk = Path(folder, "disk")
            disk.mkdir(exist_ok=True)
            subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size + 96 + more}k", "tmpfs", disk], check=True)
            try:
                home = Home.at(disk / "home")
                fresh(clean, home)
                confirmed, said = _until_full(home)
                injected += bool(said)
                told[said] = told.get(said, 0) + 1
                subprocess.run(["mount", "-o", f"remount,size={size + 4000}k", disk], check=True)
                lost += not _right(home, confirmed)
            finally:
                subprocess.run(["umount", disk], check=True)
    for words, count in told.items():
        print(f"  {count:>3} x {words or 'there was room for all of it'}")
    yield Row(f"disk full {injected} times", f"{injected - lost} right", "", f"{lost} wrong")


def _until_full(home: Home) -> tuple[int, str]:
    confirmed = 0
    try:
        with desk_of(home) as desk:
            for n in range(30):
                desk.till.pay(1, Decimal("0.01"), "cash", note=f"{n} " + "x" * 190)
                confirmed += 1
                desk.paste(f"{MESSAGE} {n} " + "sprinkles " * 300, sender=f"Bea {n}", at=NOW)
    except OrdertinError as error:
        return confirmed, error.problem.what
    return confirmed, ""


def _right(home: Home, confirmed: int) -> bool:
    with desk_of(home) as desk:
        whole, before = whole_book(home), paid(home)
        desk.till.pay(1, Decimal("0.01"), "cash", note="after")
    return whole and before == confirmed and paid(home) == confirmed + 1


def _write(home: Home, name: str, say: Say) -> None:
    end, n = monotonic() + SECONDS, 0
    with desk_of(home) as desk:
        while monotonic() < end:
            n += 1
            try:
                if n % 2:
                    desk.till.pay(1, Decimal("0.01"), "cash", note=f"{name}{n}")
                else:
                    desk.paste(f"{MESSAGE} {name} {n}", sender=f"{name} {n}", at=NOW)
            except OrdertinError:
                continue
            say()


def two_writers() -> Iterator[Row]:
    """Two programs that pay, undo nothing and paste for SECONDS; each says what was confirmed."""
    with tempfile.TemporaryDirectory() as folder:
        home = home_of(Path(folder, "home"))
        booked_ones(home)

        started = [forked(partial(_write, home, name)) for name in "ab"]
        said = [ended(*each) for each in started]
        whole = whole_book(home)
        # The four conversations that were there before are not theirs.
        held = paid(home) + asked(home, "SELECT count(*) FROM messages") - 4
        right = whole and held == sum(said)
        told = f"{said[0]:,} and {said[1]:,} confirmed, {held:,} there"
        yield Row(f"two programs writing for {SECONDS} s", "right" if right else "WRONG", told)


def faults() -> Iterator[Row]:
    yield from kills()
    yield from full_disks()
    yield from two_writers()
