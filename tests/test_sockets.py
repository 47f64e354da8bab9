"""Nothing calls out but the mail that the baker sends: every way to the network is watched by Python's own audit events
(docs.python.org/3/library/audit_events.html), in a process of its own. And the password stays where it belongs."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from intake.demo import samples_folder
from intake.house import default_text

#: A package that spaCy brings along looks, as it is loaded, whether the machine knows IPv6: it binds a port that the
#: system chooses to the loopback address, which reaches nobody.
LOOKS_WITHIN = re.compile(r"socket\.bind \('::1', 0\)$")
PASSWORD = "oven-glove-7-secret"
#: Runs each line of standard input as a command of the program; a line for each way to the network that was tried.
WATCHED = """
import sys, traceback
NETWORK = ("socket.connect", "socket.bind", "socket.sendto", "socket.sendmsg", "socket.getaddrinfo",
           "socket.gethostbyname", "socket.gethostbyaddr", "socket.getnameinfo", "urllib.Request",
           "http.client.connect", "ftplib.connect", "imaplib.open", "poplib.connect", "nntplib.connect",
           "telnetlib.Telnet.open", "webbrowser.open", "subprocess.Popen", "os.system", "os.exec", "os.posix_spawn")
called = []
def watch(event, arguments):
    if event in NETWORK:
        called.append((event, arguments))
sys.addaudithook(watch)
def tell(what, before):
    for event, arguments in called[before:]:
        told = arguments[1] if event in ("socket.connect", "socket.bind") else arguments
        print(f"NETWORK {what} {event} {told}", file=sys.stderr)
import shlex
from intake.cli import main
for line in sys.stdin.read().splitlines():
    before = len(called)
    try:
        main(shlex.split(line))
    except SystemExit:
        pass
    tell(line.split()[0], before)
"""
SCREENS = """
import asyncio
from datetime import datetime
from intake.desk import Desk
from intake.home import Home
from tests.tui.conftest import press, settle
from tui.app import OrdertinApp
async def look():
    with Desk(Home.find()) as desk:
        app = OrdertinApp(desk.home, desk=desk)
        async with app.run_test(size=(100, 30)) as pilot:
            await settle(pilot)
            for screen in ("rack", "bench", "till", "counter"):
                app.action_go(screen)
                await settle(pilot)
            await press(pilot, "f7")
before = len(called)
asyncio.run(look())
tell("screens", before)
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    home = tmp_path / "home"
    home.mkdir()
    text = default_text().replace('timezone = ""', 'timezone = "America/Chicago"')
    (home / "house.toml").write_text(text.replace("senders = []", 'senders = ["Ottilie", "ottilie@example.com"]'))
    return home


def watched(home: Path, *lines: str, then: str = "") -> tuple[list[str], str]:
    """What was tried on the network, and all that was printed."""
    done = subprocess.run(
        [sys.executable, "-c", WATCHED + then],
        input="\n".join(lines),
        capture_output=True,
        text=True,
        timeout=120,
        cwd=home.parent,
        env=os.environ
        | {
            "ORDERTIN_HOME": str(home), "ORDERTIN_NOW": "2027-05-16T12:00:00-05:00", "ORDERTIN_MAIL_PASSWORD": PASSWORD,
            "PYTHONPATH": str(Path(__file__).parents[1]),
        },
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found = re.findall(r"^NETWORK (.*)$", done.stderr, re.MULTILINE)
    return [line for line in found if not LOOKS_WITHIN.search(line)], done.stdout + done.stderr


def test_a_days_work_calls_nobody(home: Path) -> None:
    samples = samples_folder()
    called, printed = watched(
        home,
        f"take {samples / 'market_week.mbox'} {samples / 'single_order.eml'}",
        "price 1", "rack", "customers", "search cookies", "bench", "shopping", "sheet --out s.pdf",
        "labels 1 --out l.pdf", "calendar --out c.ics", "till", "till --ledger l.csv", "words", "outbox", "undo",
        "backup", "export all", "explain l.csv", f"read --jsonl {samples / 'threads.jsonl'}",
        then=SCREENS,
    )  # fmt: skip
    assert called == []
    assert (home.parent / "s.pdf").exists() and (home.parent / "c.ics").exists(), printed


def test_mail_calls_the_server_of_the_house_rules_and_nobody_else(home: Path) -> None:
    rules = (home / "house.toml").read_text()
    start, _, rest = rules.partition("[mail]")
    mail = '[mail]\nserver = "127.0.0.1"\nsecurity = "starttls"\nport = 9\nuser = "nell"\naddress = "a@example.com"\n'
    (home / "house.toml").write_text(f"{start}{mail}\n{rest[rest.index('[parcels]') :]}")
    called, printed = watched(home, "outbox --try", "outbox")
    assert {line.split(" ", 2)[1] for line in called} <= {"socket.getaddrinfo", "socket.connect"}
    assert called and all("127.0.0.1" in line and "9" in line for line in called), printed
    assert PASSWORD not in printed
    held = [path for path in home.rglob("*") if path.is_file() and PASSWORD.encode() in path.read_bytes()]
    assert held == []


def test_the_watch_sees_a_call(home: Path) -> None:
    called, _ = watched(
        home,
        then="\nimport socket\ntry:\n    socket.create_connection(('127.0.0.1', 9), 1)\nexcept OSError:\n    pass\n"
        "print('NETWORK', *[event for event, _ in called], file=sys.stderr)\n",
    )  # fmt: skip
    assert called and "socket.connect" in called[0]
