"""Spoilt exports of every format: each must give threads or a word to the baker, no exception, no hang."""

from __future__ import annotations

import os
import random
import signal
import tempfile
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from time import monotonic
from types import FrameType
from zoneinfo import ZoneInfo

from intake.demo import samples_folder
from intake.inbox.open_export import open_export
from intake.model import OrdertinError
from tests.bench.row import Row

TIMES = int(os.environ.get("ORDERTIN_FUZZ", "20000"))
LONGEST = 20  # seconds for one export of at most 8 KB; beyond that it hangs
ZONE = ZoneInfo("America/Chicago")
WORKERS = 2
BITS = [
    *(b"\0", b"\n", b"\n\n", b"\r\n", b'"', b'""', b"'", b"{", b"}", b"[", b"]", b":", b",", b";", b"\t"),
    *(b"|", b"<", b">", b"</div>", b"<br>", b"<!--", b"&#", b"null", b"-1", b"1e999"),
    *(b"PK\x03\x04", b"\xff", b"\xc3", b"\x80"),
    *(b"From ", b"\nFrom a@b Wed Mar 11 19:05:10 2026\n", b": ", b"name*", b"; x=", b"=?utf-8?b?"),
    *(b"=\n", b"boundary=", b"--b\n", b"[3/14/26, 9:05 AM] Dana: ", b"You sent\n", b"Seen by Dana\n", b"9:05 PM\n"),
    *("\u202f\t\u200e\t\u202e\t\x1b]0;x\x07\t\ufeff\té\t🍪".encode().split(b"\t")),
    *(b"a" * 300, b"9" * 40, b"13/13/2026", b"2026-03-14T09:05:00", b"31/12/2026"),
]


def seeds() -> dict[str, bytes]:
    """The beginning of every sample, by its name: enough for a few messages, short enough to be read often."""
    return {
        path.name: path.read_bytes()[:8192]
        for path in sorted(samples_folder().iterdir())
        if path.suffix != ".toml" and path.is_file()
    }


def spoilt(data: bytes, other: bytes, dice: random.Random) -> bytes:
    """`data` with one to eight faults; now and then a piece of another format in the middle."""
    made = bytearray(data)
    for _ in range(dice.randint(1, 8)):
        at = dice.randrange(len(made) + 1)
        match dice.randrange(6):
            case 0:
                made[at : at + 1] = bytes([dice.randrange(256)])
            case 1 | 2:
                made[at:at] = dice.choice(BITS)
            case 3:
                del made[at : at + dice.randint(1, 60)]
            case 4:
                start = dice.randrange(len(made) + 1)
                made[at:at] = made[start : start + dice.randint(1, 200)]
            case _ if dice.random() < 0.2:
                start = dice.randrange(len(other) + 1)
                made[at:at] = other[start : start + 400]
    return bytes(made[:10_000])


def _hangs(signum: int, frame: FrameType | None) -> None:
    raise TimeoutError


def _share(arguments: tuple[int, int]) -> tuple[Counter[str], list[str]]:
    """One worker's part; what came of each, and the faults."""
    seed, times = arguments
    dice = random.Random(seed)
    known = seeds()
    names = list(known)
    came: Counter[str] = Counter()
    faults: list[str] = []
    signal.signal(signal.SIGALRM, _hangs)
    with tempfile.TemporaryDirectory(dir="/dev/shm" if Path("/dev/shm").is_dir() else None) as folder:
        path = Path(folder, "export")
        for number in range(times):
            name = dice.choice(names)
            data = spoilt(known[name], known[dice.choice(names)], dice)
            path.write_bytes(data)
            signal.alarm(LONGEST)
            try:
                export = open_export(path, senders=["Ottilie"], zone=ZONE)
                came["threads" if len(export.threads) else "a word only"] += 1
                for thread in export.threads:
                    moments = [message.at for message in thread.messages]
                    ids = {message.id for message in thread.messages}
                    assert moments == sorted(moments)
                    assert len(ids) == len(moments) > 0
            except OrdertinError:
                came["a word only"] += 1
            except Exception as fault:
                faults.append(f"{name}, seed {seed}, number {number}: {type(fault).__name__} {fault!s:.80}")
            finally:
                signal.alarm(0)
    return came, faults


def exports() -> Iterator[Row]:
    """ORDERTIN_FUZZ of them (20,000 where it isn't set), seeded."""
    begun = monotonic()
    came: Counter[str] = Counter()
    faults: list[str] = []
    with ProcessPoolExecutor(WORKERS) as pool:
        for part, wrong in pool.map(_share, [(seed, TIMES // WORKERS) for seed in range(WORKERS)]):
            came += part
            faults += wrong
    for fault in faults[:20]:
        print(fault)
    told = ", ".join(f"{count:,} gave {what}" for what, count in came.most_common())
    count = came.total() + len(faults)
    yield Row(f"{count:,} spoilt exports, {monotonic() - begun:.0f} s", f"{len(faults)} faults", told)
