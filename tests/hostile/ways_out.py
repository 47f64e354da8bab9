"""Every way out, as the bytes that leave, and what must not be in them."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator
from contextlib import redirect_stderr, redirect_stdout, suppress
from dataclasses import replace
from decimal import Decimal
from email import message_from_bytes, policy
from pathlib import Path

from icalendar import Calendar
from pypdf import PdfReader

from intake.cli import main
from intake.desk import Desk
from intake.model import Order, OrdertinError
from intake.papers.ledger import guarded
from intake.replies.sending import mail_of
from tests.hostile.cases import CASES, NOW, mark

#: What a terminal or a reader of text acts on: C0 but tab and line ends, DEL, C1, bidirectional controls, halves of
#: characters (ECMA-48; Unicode PropList, Bidi_Control).
ACTS = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
# 7191 * 7, and what an evaluated template would show.
WORKED_OUT = ("50337", "__class__'", "<class ")
HEADS = {
    "from", "to", "subject", "date", "message-id", "mime-version", "content-type", "content-transfer-encoding",
    "in-reply-to", "references", "auto-submitted",
}  # fmt: skip
_RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")

#: Of each way out: (case or "" where it is of all, what is wrong or "").
Found = Iterator[tuple[str, str]]


def acts(text: str, *, returns: bool = False) -> str:
    """What in a text would be acted on; `returns` where CR is part of the format."""
    if found := ACTS.search(text):
        return f"U+{ord(found[0]):04X} in {text[max(0, found.start() - 30) : found.end() + 10]!r}"
    if not returns and "\r" in text:
        return "a carriage return"
    return next((f"worked out: {word}" for word in WORKED_OUT if word in text), "")


def case_of(text: str) -> str:
    """The case whose mark stands in a text."""
    return next((case for n, case in enumerate(CASES) if mark(n) in text), "")


def of(order: Order, desk: Desk) -> str:
    thread = desk.case(order.thread_id).thread
    return case_of(f"{thread.subject} {' '.join(m.text for m in thread.messages)} {thread.customer}")


def orders(desk: Desk) -> list[Order]:
    return [order for customer in desk.customers() for order in desk.customer(customer.id).history]


def answers(desk: Desk, folder: Path) -> Found:
    for order in orders(desk):
        for kind in ("ask", "quote", "confirm", "remind", "ready"):
            with suppress(OrdertinError):
                reply = desk.reply(order.id, kind)
                yield of(order, desk), acts(reply.text) or acts(reply.subject) or acts(reply.to)


def mails(desk: Desk, folder: Path) -> Found:
    for order in orders(desk):
        thread = desk.case(order.thread_id).thread
        for kind in ("ask", "quote"):
            with suppress(OrdertinError):
                reply = replace(desk.reply(order.id, kind), to="dana@example.org")
                made = mail_of(reply, thread, name="Nell", address="nell@example.com", mail_id="1@example.com", at=NOW)
                yield of(order, desk), _mail(made.data)
                for hostile in (thread.subject, thread.customer, *(order.draft.lettering.value or ())):
                    made = mail_of(
                        replace(reply, subject=hostile), thread, name=hostile, address="nell@example.com",
                        mail_id="1@example.com", at=NOW,
                    )  # fmt: skip
                    yield of(order, desk), _mail(made.data)


def _mail(data: bytes) -> str:
    head, _, _ = data.partition(b"\r\n\r\n")
    mail = message_from_bytes(data, policy=policy.default)
    if wrong := {name.lower() for name in mail} - HEADS:
        return f"a head of its own: {wrong}"
    lines = data.split(b"\r\n")
    if any(len(line) > 998 or b"\n" in line or b"\r" in line for line in lines):
        return "a line that is none"
    if mail.defects or not head.isascii() or [len(mail.get_all(name, ())) for name in ("from", "to")] != [1, 1]:
        return f"a broken head: {mail.defects}"
    return acts(mail.get_content(), returns=True) or acts("".join(str(value) for value in mail.values()))


def ledger(desk: Desk, folder: Path) -> Found:
    names = {order.id: order.who for order in orders(desk)}
    for row in csv.reader(io.StringIO(desk.till.ledger(), newline="")):
        if row[0] != "payment":
            texts = [cell for n, cell in enumerate(row) if n not in (0, 2, 6)]
            bad = next((cell for cell in texts if cell.lstrip(" ").startswith(_RISKY)), "")
            yield case_of(names.get(int(row[2]), "")), bad or acts("".join(row))


def exported(desk: Desk, folder: Path) -> Found:
    """The tables for spreadsheets. What is kept beside a text as it arrived is JSON there, which escapes."""
    out = folder / "exported"
    desk.keep.export(out)
    csv.field_size_limit(10**8)
    for path in sorted(out.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.reader(file):
                bad = next((cell for cell in row if cell != guarded(cell) and not _number(cell)), "")
                yield case_of(" ".join(row)), f"a formula: {bad:.40}" if bad else acts(" ".join(row))


def _number(cell: str) -> bool:
    return re.fullmatch(r"-?\d+(\.\d+)?", cell) is not None


def papers(desk: Desk, folder: Path) -> Found:
    """Day sheet and labels: their text as another program reads it, and nothing in them that acts."""
    yield "", _pdf(desk.papers.day_sheet(NOW.date()))
    held = orders(desk)
    for order in held[:: max(1, len(held) // 8)]:
        with suppress(OrdertinError):
            pdf, _ = desk.papers.labels(order)
            yield of(order, desk), _pdf(pdf)


def _pdf(data: bytes) -> str:
    reader = PdfReader(io.BytesIO(data))
    text = "\n".join(page.extract_text() for page in reader.pages)
    root = reader.trailer["/Root"]
    if ("/OpenAction" in root and "/JavaScript" in str(root["/OpenAction"])) or "/Names" in root or "/AA" in root:
        return "something that acts"
    if any("/Annots" in page or "/AA" in page for page in reader.pages):
        return "a link"
    return acts(text) or acts("".join(str(value) for value in (reader.metadata or {}).values()))


def calendar(desk: Desk, folder: Path) -> Found:
    data = desk.papers.calendar()
    events = Calendar.from_ical(data).walk("VEVENT")
    text = data.decode()
    if any(len(line) > 75 for line in data.split(b"\r\n")) or text.count("BEGIN:VEVENT") != len(events):
        yield "", "a line that is none"
    for event in events:
        wrong = {"ATTACH", "URL", "X-EVIL"} & set(event)
        told = str(event.get("summary")) + str(event.get("description"))
        evil = "an entry of its own" if str(event.get("summary")) == "evil" else ""
        yield case_of(told), f"a line of its own: {wrong}" if wrong else evil or acts(told) or acts(text, returns=True)


COMMANDS: tuple[tuple[str, ...], ...] = (
    ("rack",), ("customers",), ("till",), ("outbox",), ("words",), ("bench", "--load"), ("batch",), ("shopping",),
    *(("search", mark(n)) for n in range(len(CASES))),
)  # fmt: skip


def commands(desk: Desk, folder: Path) -> Found:
    ids = [order.id for order in orders(desk)]
    for arguments in (*COMMANDS, *(("price", str(number)) for number in ids[:: max(1, len(ids) // 12)])):
        printed = io.StringIO(newline="")
        with redirect_stdout(printed), redirect_stderr(printed):
            main(arguments)
        for line in printed.getvalue().split("\n"):
            yield case_of(line), acts(line)


def untouched(desk: Desk, folder: Path) -> Found:
    """No file was made where a name in a message or an archive pointed, and no thread's attachment is a path."""
    for path in (Path("/etc/cron.d"), Path("/tmp"), folder, folder.parent):
        for n, case in enumerate(CASES):
            held = [each for each in (*path.glob(f"*{mark(n)}*"),) if each.exists()]
            yield case, f"a file was made: {held[0]}" if held else ""


OUT: dict[str, Callable[[Desk, Path], Found]] = {
    "answers": answers,
    "mails": mails,
    "ledger": ledger,
    "export": exported,
    "papers": papers,
    "calendar": calendar,
    "commands": commands,
    "files": untouched,
}


def deal_with(desk: Desk, most: int) -> None:
    """Takes each order as far as its price and a payment, so that it stands in the till, and every so many to the rack,
    the kitchen and the calendar: `most` of them."""
    held = orders(desk)
    for n, order in enumerate(held):
        with suppress(OrdertinError):
            desk.correct(order.id, {"handover": "pickup", "count": 24})
            desk.confirm(order.id)
            desk.quote(order.id)
            if n % max(1, len(held) // most) == 0:
                desk.book(order.id)
            note = " ".join(order.draft.lettering.value or ())
            desk.till.pay(order.id, Decimal(1), order.draft.theme.value or "", note=note)
