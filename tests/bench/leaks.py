"""Hostile messages by every way in to every way out, and files made to choke on: what leaked, how long each took."""

from __future__ import annotations

import asyncio
import io
import json
import os
import tempfile
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from time import monotonic

from intake.desk import Desk
from tests.bench.row import Row
from tests.hostile.book import home_of, made
from tests.hostile.cases import CASES, NOW
from tests.hostile.screens import walk
from tests.hostile.ways_in import WAYS_IN
from tests.hostile.ways_out import OUT

MB = 1_000_000


def leaks() -> Iterator[Row]:
    """The table: cases by ways out, each cell what was looked at, with an ! and how many leaked where any did."""
    found: dict[str, Counter[str]] = {}
    wrong: dict[str, Counter[str]] = {}
    with tempfile.TemporaryDirectory() as folder:
        os.environ["ORDERTIN_NOW"] = NOW.isoformat()
        with made(Path(folder), booked=12) as desk:
            os.environ["ORDERTIN_HOME"] = str(desk.home.book.parent)
            threads = [thread for customer in desk.customers() for thread in customer.threads]
            conversations = len(threads)
            for way, look in OUT.items():
                out = Path(folder, "out", way)
                out.mkdir(parents=True)
                _count(look(desk, out), way, found, wrong)
            for size, part in (((140, 45), threads[::4]), ((80, 24), threads[2::4])):
                _count(iter(asyncio.run(walk(desk, part, size))), "screens", found, wrong)
    ways = (*OUT, "screens")
    print(f"{conversations} conversations by {len(WAYS_IN)} ways in: {', '.join(WAYS_IN)}")
    print(f"{'case':<32}" + "".join(f"{way:>11}" for way in ways))
    for case in (*CASES, ""):
        cells = (f"{found[way][case]}" + (f"!{wrong[way][case]}" if wrong[way][case] else "") for way in ways)
        print(f"{case or '(of all)':<32}" + "".join(f"{cell:>11}" for cell in cells))
    looked = sum(sum(each.values()) for each in found.values())
    leaked = sum(sum(each.values()) for each in wrong.values())
    told = f"{len(CASES)} cases, {len(WAYS_IN)} ways in, {len(ways)} out"
    yield Row(told, f"{looked:,} seen", "", f"{leaked} leaked")


def _count(
    seen: Iterator[tuple[str, str]], way: str, found: dict[str, Counter[str]], wrong: dict[str, Counter[str]]
) -> None:
    found.setdefault(way, Counter())
    wrong.setdefault(way, Counter())
    for case, leak in seen:
        found[way][case] += 1
        if leak:
            wrong[way][case] += 1
            if sum(wrong[way].values()) <= 3:
                print(f"{way}, {case}: {leak}")


def _packed(*parts: tuple[str, bytes]) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in parts:
            packed.writestr(name, content)
    return file.getvalue()


def _nested(depth: int) -> bytes:
    data = _packed(("x.txt", b"0" * MB))
    for _ in range(depth):
        data = _packed(*((f"{n}.zip", data) for n in range(8)))
    return data


LINE = "[11/25/26, 9:05:00 AM] Dana: 2 dozen moons "
HEAVY: dict[str, Callable[[], bytes]] = {
    "one line of 10 MB": lambda: (LINE + "moon " * (2 * MB)).encode(),
    "10 MB without a space": lambda: b"a" * (10 * MB),
    "10 MB of NULs": lambda: b"\0" * (10 * MB),
    "a mail with a line of 10 MB": lambda: b"From: a@example.org\r\nSubject: x\r\n\r\n" + b"dozen" * (2 * MB),
    "a mail with 200,000 heads": lambda: b"From: a@example.org\r\n" + b"X-A: b\r\n" * 200_000 + b"\r\nHi",
    "mails in mails, 400 deep": lambda: b"From: a@example.org\r\nContent-Type: message/rfc822\r\n\r\n" * 400,
    "2,000 parts": lambda: b'From: a@example.org\r\nContent-Type: multipart/mixed; boundary="b"\r\n\r\n'
    + b"--b\r\nContent-Type: text/plain\r\n\r\nhi\r\n" * 2_000,
    "JSON, 200,000 deep": lambda: b"[" * 200_000 + b"]" * 200_000,
    "JSON, a text of 10 MB": lambda: json.dumps(
        [{"sender": "Dana", "time": "2026-11-25T09:05:00", "text": "m" * (10 * MB)}]
    ).encode(),
    "JSON, a number of 1 MB": lambda: b'[{"sender": "D", "time": ' + b"9" * MB + b', "text": "hi"}]',
    "a page, 100,000 tags deep": lambda: b"<!DOCTYPE html><html><body>" + b"<div>" * 100_000 + b"hi",
    "a table with 100,000 columns": lambda: b"Date,Sender,Message" + b",x" * 100_000 + b"\r\n" + b"1" * 1000,
    "an open quote of 10 MB": lambda: b'Date,Time,Sender,Message\n1/2/2026,9:05 AM,Dana,"' + b"x" * (10 * MB),
    "a zip bomb of 1 GB": lambda: _packed(*((f"{n}.txt", b"0" * (100 * MB)) for n in range(10))),
    "zips in zips, 8 to the 4th": lambda: _nested(4),
    "a zip of 20,000 files": lambda: _packed(*((f"{n}.txt", b"hi") for n in range(20_000))),
}  # fmt: skip


def heavy() -> Iterator[Row]:
    for name, make in HEAVY.items():
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder, "export")
            path.write_bytes(make())
            with Desk(home_of(Path(folder)), now=lambda: NOW) as desk:
                begun = monotonic()
                try:
                    report = desk.take([path])
                    told = str(report.problems[0].what) if report.problems else f"{report.messages_new} messages"
                    wrong = ""
                except Exception as fault:
                    told, wrong = type(fault).__name__, "fault"
                yield Row(name, f"{monotonic() - begun:.1f} s", told[:34], wrong)
