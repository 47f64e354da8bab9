"""Every way in: the messages of some cases as an export of each kind, or as a paste."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections.abc import Callable, Sequence
from contextlib import suppress
from html import escape
from pathlib import Path

from intake.desk import Desk
from intake.model import OrdertinError
from tests.hostile.cases import at, message, payload, sender

Write = Callable[[Path, Sequence[str]], Path]


def _safe(text: str) -> str:
    """Halves of characters can't be written as UTF-8; a broken program leaves them as they are."""
    return text.encode("utf-8", "surrogatepass").decode("utf-8", "replace")


def _bytes(text: str) -> bytes:
    return text.encode("utf-8", "surrogatepass")


def chat_json(folder: Path, cases: Sequence[str]) -> Path:
    path = folder / "chat.json"
    talks = [
        {
            "title": sender(case),
            "messages": [
                {"sender": sender(case), "time": at(n).isoformat(), "text": message(case), "photos": [payload(case)]}
            ],
        }
        for n, case in enumerate(cases)
    ]
    path.write_text(json.dumps(talks), encoding="utf-8")
    return path


def thread_lines(folder: Path, cases: Sequence[str]) -> Path:
    path = folder / "threads.jsonl"
    lines = (
        {
            "id": payload(case), "channel": "chat", "subject": payload(case),
            "messages": [{
                "id": payload(case), "from": sender(case), "mine": False, "at": at(n).isoformat(),
                "text": message(case), "attachments": [payload(case)],
            }],
        }
        for n, case in enumerate(cases)
    )  # fmt: skip
    path.write_text("\n".join(json.dumps(line) for line in lines), encoding="utf-8")
    return path


def transcript(folder: Path, cases: Sequence[str]) -> Path:
    path = folder / "transcript.txt"
    lines = (f"[{at(n):%-m/%-d/%y, %-I:%M:%S %p}] {sender(case)}: {message(case)}\n" for n, case in enumerate(cases))
    path.write_bytes(_bytes("".join(lines)))
    return path


def table(folder: Path, cases: Sequence[str]) -> Path:
    path, text = folder / "messages.csv", io.StringIO()
    rows = csv.writer(text)
    rows.writerow(["Conversation", "Date", "Time", "Direction", "Sender", "Message"])
    for n, case in enumerate(cases):
        day = at(n)
        rows.writerow([sender(case), f"{day:%m/%d/%Y}", f"{day:%I:%M %p}", "in", sender(case), message(case)])
    path.write_bytes(_bytes(text.getvalue()))
    return path


def mail(folder: Path, cases: Sequence[str]) -> Path:
    """Mails by hand, as a program would write them that checks nothing."""
    into = folder / "mails"
    into.mkdir()
    for n, case in enumerate(cases):
        (into / f"{n}.eml").write_bytes(_mail(n, case))
    return into


def _mail(n: int, case: str) -> bytes:
    head = (
        f"From: {sender(case)} <dana{n}@example.org>\r\nTo: nell@example.com\r\nSubject: {payload(case)}\r\n"
        f"Message-ID: <{n}@example.org>\r\nDate: {at(n):%a, %d %b %Y %H:%M:%S -0600}\r\nMIME-Version: 1.0\r\n"
        'Content-Type: multipart/mixed; boundary="b"\r\n\r\n--b\r\nContent-Type: text/plain; charset=utf-8\r\n\r\n'
    )
    tail = (
        f'\r\n--b\r\nContent-Type: image/png; name="{payload(case)}"\r\n'
        f'Content-Disposition: attachment; filename="{payload(case)}"\r\n\r\nx\r\n--b--\r\n'
    )
    return _bytes(head + message(case) + tail)


def mailbox(folder: Path, cases: Sequence[str]) -> Path:
    path = folder / "mail.mbox"
    mails = (
        f"From dana{n}@example.org {at(n).ctime()}\n".encode() + _mail(n, case).replace(b"\r\n", b"\n") + b"\n"
        for n, case in enumerate(cases)
    )
    path.write_bytes(b"".join(mails))
    return path


def page(folder: Path, cases: Sequence[str]) -> Path:
    into = folder / "pages"
    into.mkdir()
    for n, case in enumerate(cases):
        who, day = escape(_safe(sender(case))), at(n)
        (into / f"{n}.html").write_text(
            f'<!DOCTYPE html><html><head><meta charset="utf-8"><title>Conversation with {who}</title></head><body>'
            f'<h1>{who}</h1><div class="day">{day:%A, %B %-d, %Y}</div><div class="group in"><div class="name">{who}'
            f'</div><div class="bubble"><p>{escape(_safe(message(case)))}</p><span class="time">{day:%-I:%M %p}</span>'
            "</div></div></body></html>",
            encoding="utf-8",
        )
    return into


def raw_page(folder: Path, cases: Sequence[str]) -> Path:
    """The same without anything escaped, as a program that writes pages badly."""
    into = page(folder, cases)
    for n, case in enumerate(cases):
        path = into / f"{n}.html"
        path.write_bytes(path.read_bytes().replace(escape(_safe(message(case))).encode(), _bytes(message(case))))
    return into


def copied(folder: Path, cases: Sequence[str]) -> Path:
    into = folder / "copied"
    into.mkdir()
    for n, case in enumerate(cases):
        who = _safe(sender(case))
        text = f"{who}\nActive 2h ago\n{at(n):%B %-d, %Y, %-I:%M %p}\n{who}\n{_safe(message(case))}\nEnter\n"
        (into / f"{n}.txt").write_text(text, encoding="utf-8")
    return into


def archive(folder: Path, cases: Sequence[str]) -> Path:
    """An archive whose parts are called as the cases say, one of them with a conversation."""
    path = folder / "export.zip"
    with zipfile.ZipFile(path, "w") as packed:
        packed.write(chat_json(folder, cases), "chat.json")
        for case in cases:
            name = _safe(payload(case)).replace("\0", "")[:200] or "x"
            packed.writestr(f"../{name}", "not to be written anywhere")
    return path


EXPORTS: dict[str, Write] = {
    "chat JSON": chat_json,
    "thread lines": thread_lines,
    "transcript": transcript,
    "table": table,
    "mail": mail,
    "mailbox": mailbox,
    "page": page,
    "raw page": raw_page,
    "copied": copied,
    "archive": archive,
}
WAYS_IN = (*EXPORTS, "paste")


def take_in(desk: Desk, way: str, folder: Path, cases: Sequence[str]) -> None:
    """Takes the messages of `cases` in by one way. What can't be read is a problem of the report, never an error."""
    if way == "paste":
        for n, case in enumerate(cases):
            with suppress(OrdertinError):  # such as NULs, which no text holds
                desk.paste(message(case), sender=sender(case), at=at(n))
        return
    folder.mkdir(parents=True)
    desk.take([EXPORTS[way](folder, cases)])
