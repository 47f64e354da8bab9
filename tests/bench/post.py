"""Sending that is killed: whenever it dies, the answer is never lost and never sent twice."""

from __future__ import annotations

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from threading import Timer

from intake.desk import Desk
from intake.home import Home
from intake.house import default_text
from intake.model import Fate
from tests.bench.row import Row
from tests.replies.office import PASSWORD, USER, PostOffice, papers, post_office

TIMES = 50
MAIL = (
    "From: Dana Whitlock <dana@example.org>\r\nTo: nell@example.com\r\nSubject: Cookies\r\n"
    "Message-ID: <1@example.org>\r\nDate: Mon, 23 Nov 2026 10:00:00 -0600\r\n\r\n"
    "Two dozen owl cookies please, pickup December 12 at 2pm.\r\n"
)
SEND = (
    "from intake.desk import Desk; from intake.home import Home\n"
    "with Desk(Home.find()) as desk:\n    desk.send(1, desk.reply(1, 'quote'))\n"
)
# Where in the sending it is killed; `record` is after the server has said yes, while that is being written down.
MOMENTS = ("sender", "recipient", "text", "kept", "record", "any")


def sends() -> Iterator[Row]:
    dice = random.Random(5)
    found: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as folder:
        signed = papers(Path(folder))
        os.environ |= {"SSL_CERT_FILE": str(signed.authority), "ORDERTIN_MAIL_PASSWORD": PASSWORD}
        with post_office(certificate=signed.server) as office:
            clean = Home.at(Path(folder, "clean"))
            _set_up(clean, office.at)
            home = Home.at(Path(folder, "home"))
            for number in range(TIMES):
                shutil.rmtree(home.book.parent, ignore_errors=True)
                shutil.copytree(clean.book.parent, home.book.parent)
                office.mails.clear()
                _killed(home, office, MOMENTS[number % len(MOMENTS)], dice)
                found[_afterwards(home, office)] += 1
    told = ", ".join(f"{count} {what}" for what, count in sorted(found.items()) if what != "wrong")
    yield Row(f"sending killed {TIMES} times", f"{TIMES - found['wrong']} right", told, f"{found['wrong']} wrong")


def _set_up(home: Home, port: int) -> None:
    start, _, rest = default_text().partition("[mail]")
    rest = rest[rest.index("[parcels]") :]
    mail = f'[mail]\nserver = "127.0.0.1"\nsecurity = "starttls"\nport = {port}\nuser = "{USER}"\n'
    home.rules.parent.mkdir(parents=True)
    home.rules.write_text(f'{start}{mail}address = "nell@example.com"\n\n{rest}', encoding="utf-8")
    path = home.rules.with_name("dana.eml")
    path.write_text(MAIL, newline="")
    with Desk(home) as desk:
        desk.take([path])
        desk.reply(1, "quote")


def _killed(home: Home, office: PostOffice, moment: str, dice: random.Random) -> None:
    """Sends from a program of its own, and kills it at a moment of the sending, or a little after."""
    running = subprocess.Popen(
        [sys.executable, "-c", SEND],
        env=os.environ | {"ORDERTIN_HOME": str(home.book.parent)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    seconds = dice.uniform(0, 0.03)

    def seen(what: str) -> None:
        if what == moment:
            running.send_signal(signal.SIGKILL)
        elif (what, moment) in (("kept", "record"), ("sender", "any")):
            Timer(seconds, running.send_signal, [signal.SIGKILL]).start()

    office.seen = seen
    running.wait()
    office.seen = lambda what: None


def _afterwards(home: Home, office: PostOffice) -> str:
    """What the baker finds in the outbox, and does about it; `wrong` unless one mail and one note came of it all."""
    with Desk(home) as desk:
        before = len(office.mails)
        letter = next(iter(desk.outbox()), None)
        state = letter.state if letter else None
        match state:
            case None:
                true = before == 0
                desk.send(1, desk.reply(1, "quote"))
            case Fate.UNKNOWN:
                assert letter
                true = True
                went = any(letter.mail_id.encode() in mail for mail in office.mails)
                desk.letters.settle(letter.id, went=went)
                if not went:
                    desk.letters.send_again(letter.id)
            case Fate.ACCEPTED:
                true = before == 1
            case _:
                assert letter
                true = before == 0
                desk.letters.send_again(letter.id)
        notes = sum(message.mine for message in desk.case("t1").thread.messages)
        states = [each.state for each in desk.outbox()]
    right = true and len(office.mails) == 1 and notes == 1 and states == [Fate.ACCEPTED]
    if not right:
        return "wrong"
    return {None: "not begun", Fate.UNREACHED: "never left", Fate.UNKNOWN: "asked about"}.get(state, "done before")
