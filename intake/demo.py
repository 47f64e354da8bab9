"""The demo: six invented weeks of an invented bakery, always as of today, read and booked by the real parts."""

from __future__ import annotations

import json
import os
import re
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from email.message import EmailMessage
from email.policy import SMTP, EmailPolicy
from email.utils import format_datetime
from pathlib import Path
from typing import Any

import intake
from intake.clean import clean
from intake.desk import Desk
from intake.home import Home
from intake.house import default_text
from intake.model import DRAFT_FIELDS, Cell, Order, OrdertinError
from intake.record import value_of

BAKER = "Ottilie"
BAKER_ADDRESS = "ottilie@example.com"

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_DIAS = ("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo")
_MESES = (
    *("enero", "febrero", "marzo", "abril", "mayo", "junio"),
    *("julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"),
)

_OFFSET = re.compile(r"([+-]\d+)([wd]?)")
_WHEN = re.compile(rf"(sat)?((?:{_OFFSET.pattern})*)")
_PLACE = re.compile(r"\{([^{}:]*):([^{}]*)\}")
_WORD = re.compile(r"[A-Za-z]+(?:/[a-z]+)?")
_ANSWERED_AFTER = timedelta(minutes=25)
_SENT = re.compile(r"(?:(?P<days>-\d+)d (?P<hour>\d\d):(?P<minute>\d\d)|-(?P<ago>\d+)m)")


@dataclass(frozen=True, slots=True)
class Line:
    """One message of a demo customer, with its day worked out."""

    at: datetime
    sender: str
    text: str
    photos: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Customer:
    """One demo thread. `expect` holds the orders that a careful baker would write down, in plain form.

    `answer` is the kind of reply that has been sent: `ask`, `quote`, `confirm`, or empty where it waits for one;
    `paid` is how the deposit came, empty where it has not.
    """

    id: str
    sender: str
    channel: str
    address: str
    subject: str
    booked: bool
    answer: str
    paid: str
    lines: tuple[Line, ...]
    intent: str
    expect: tuple[dict[str, Any], ...]
    unclear: tuple[str, ...]


def samples_folder() -> Path:
    """The folder of invented messages: inside the installed package, or beside it in a checkout."""
    package = Path(intake.__file__).parent
    inside = package / "sample_messages"
    return inside if inside.is_dir() else package.parent / "sample_messages"


def render(template: str, today: date) -> str:
    """`template` with each `{when:words}` written out for `today`; other braces are left alone.

    `when` is days from today (`+12`), or `sat`, the Saturday on or after today, with steps such as `+2w-1d`.
    The words are Weekday, Wday, Month, Mon, day, dayth, m/d, iso and dia; in small letters without their capital.
    Raises ValueError for a `when` or a word that is none of these.
    """
    return _PLACE.sub(lambda found: _in_words(_day(found[1], today), found[2]), template)


def _day(when: str, today: date) -> date:
    found = _WHEN.fullmatch(when)
    if not found or not when:
        raise ValueError(f"{when!r} is not a day of the demo")
    day = today + timedelta((5 - today.weekday()) % 7) if found[1] else today
    return day + timedelta(sum(int(n) * (7 if unit == "w" else 1) for n, unit in _OFFSET.findall(found[2])))


def _in_words(day: date, words: str) -> str:
    weekday, month = _WEEKDAYS[day.weekday()], _MONTHS[day.month - 1]
    shown = {
        "Weekday": weekday,
        "Wday": weekday[:3],
        "Month": month,
        "Mon": month[:3],
        "day": str(day.day),
        "dayth": f"{day.day}{_ending(day.day)}",
        "m/d": f"{day.month}/{day.day}",
        "iso": day.isoformat(),
        "dia": f"{_DIAS[day.weekday()]} {day.day} de {_MESES[day.month - 1]}",
    }
    shown |= {word.lower(): text.lower() for word, text in shown.items() if word[0].isupper()}

    def word(found: re.Match[str]) -> str:
        if found[0] not in shown:
            raise ValueError(f"{found[0]!r} is not a way to write a day")
        return shown[found[0]]

    return _WORD.sub(word, words)


def _ending(number: int) -> str:
    if number in (11, 12, 13):
        return "th"
    return {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")


def sent(when: str, now: datetime) -> datetime:
    """The moment of `-3d 18:20` (days before today, clock time) or `-40m` (minutes before now, but today)."""
    found = _SENT.fullmatch(when)
    if not found:
        raise ValueError(f"{when!r} is not a time of the demo")
    if found["ago"]:
        midnight = now.replace(hour=0, minute=0, second=0, microsecond=0)
        return max(midnight, now - timedelta(minutes=int(found["ago"]))).replace(second=0, microsecond=0)
    clock = time(int(found["hour"]), int(found["minute"]), tzinfo=now.tzinfo)
    return datetime.combine(now.date() + timedelta(int(found["days"])), clock)


def customers(now: datetime) -> tuple[Customer, ...]:
    """The demo threads as of `now` (aware), in the order of the sample file."""
    text = (samples_folder() / "demo.toml").read_text(encoding="utf-8")
    return tuple(_customer(table, now) for table in tomllib.loads(text)["thread"])


def _customer(table: dict[str, Any], now: datetime) -> Customer:
    return Customer(
        id=table["id"],
        sender=table["from"],
        channel=table.get("channel", "chat"),
        address=table.get("address", ""),
        subject=table.get("subject", ""),
        booked=table.get("booked", False),
        answer="confirm" if table.get("booked") else table.get("answer", ""),
        paid=table.get("paid", ""),
        lines=tuple(
            Line(sent(when, now), sender, render(text, now.date()), tuple(photos))
            for when, sender, text, *photos in table["messages"]
        ),
        intent=table["intent"],
        expect=tuple(_rendered(order, now.date()) for order in table["expect"]),
        unclear=tuple(table.get("unclear", ())),
    )


def _rendered(value: Any, today: date) -> Any:
    if isinstance(value, str):
        return render(value, today)
    if isinstance(value, list):
        return [_rendered(item, today) for item in value]
    if isinstance(value, dict):
        return {key: _rendered(item, today) for key, item in value.items()}
    return value


def make(folder: Path, *, now: datetime) -> Home:
    """A book of the demo in `folder`, which is made where it is missing; nothing outside it is touched.

    The messages are written as real exports, taken in, and the agreed orders booked. Raises OrdertinError where
    `folder` holds anything already, or can't be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        if any(folder.iterdir()):
            raise OrdertinError(
                "the demo needs an empty folder, and this one holds files", where=str(folder), todo="Name a new folder"
            )
        people = customers(now)
        home = Home.at(folder)
        home.rules.write_text(house_text(now), encoding="utf-8")
        exports = write_exports(folder / "exports", people, now)
    except OSError as error:
        raise OrdertinError(
            f"the demo can't be written: {error.strerror}", where=str(folder), todo="Name a folder you may write in"
        ) from None
    _fill(home, exports, people, now)
    return home


def house_text(now: datetime) -> str:
    """The house rules of the demo bakery: the defaults with its own names, in the time zone of `now`."""
    text = default_text()
    for key, value in {
        "name": "Tansy Lane Cookies",
        "baker": BAKER,
        "place": "3 Tansy Lane",
        "senders": [BAKER, BAKER_ADDRESS],
        "timezone": getattr(now.tzinfo, "key", ""),
    }.items():
        setting = re.compile(rf'^{key} = ("[^"]*"|\[\])', re.MULTILINE)
        text = setting.sub(f"{key} = {json.dumps(value)}", text, count=1)
    return text


def write_exports(folder: Path, people: Sequence[Customer], now: datetime) -> tuple[Path, ...]:
    """Writes the messages as real exports saved at `now`: chats, an mbox of threads, and lone mails."""
    folder.mkdir(parents=True)
    chats = [person for person in people if person.channel == "chat"]
    mails = [person for person in people if person.channel == "mail"]
    box, single = folder / "mail.mbox", [person for person in mails if len(person.lines) == 1]
    chat = folder / "chat.json"
    chat.write_text(json.dumps([_chat(person) for person in chats], ensure_ascii=False, indent=1), encoding="utf-8")
    box.write_bytes(mbox(mail for person in mails if person not in single for mail in _mails(person)))
    paths = [chat, box]
    for person in single:
        paths.append(folder / f"{person.id}.eml")
        paths[-1].write_bytes(next(iter(_mails(person))).as_bytes(policy=SMTP))
    for path in paths:
        os.utime(path, (now.timestamp(), now.timestamp()))  # an export's messages are judged by when it was saved
    return tuple(paths)


def _chat(person: Customer) -> dict[str, Any]:
    return {
        "title": person.sender,
        "messages": [
            {"sender": line.sender, "time": line.at.isoformat(), "text": line.text}
            | ({"photos": list(line.photos)} if line.photos else {})
            for line in person.lines
        ],
    }


def _mails(person: Customer) -> Iterable[EmailMessage]:
    ids: list[str] = []
    policy = EmailPolicy(cte_type="7bit")
    for line in person.lines:
        mine = line.sender == BAKER
        parties = [f"{person.sender} <{person.address}>", f"{BAKER} <{BAKER_ADDRESS}>"]
        mail = EmailMessage(policy=policy)
        mail["From"], mail["To"] = reversed(parties) if mine else parties
        mail["Subject"] = f"Re: {person.subject}" if ids else person.subject
        mail["Date"] = format_datetime(line.at)
        mail["Message-ID"] = f"<{person.id}.{len(ids) + 1}@example.com>"
        if ids:
            mail["In-Reply-To"], mail["References"] = ids[-1], " ".join(ids)
        mail.set_content(line.text)
        ids.append(str(mail["Message-ID"]))
        yield mail


def mbox(mails: Iterable[EmailMessage]) -> bytes:
    """One mbox file of `mails`, as in RFC 4155: a separator line in UTC before each, an empty line after."""
    parts = []
    for mail in mails:
        address = mail["From"].addresses[0].addr_spec
        moment = mail["Date"].datetime.astimezone(UTC)
        parts.append(f"From {address} {moment.ctime()}\n".encode("ascii") + mail.as_bytes() + b"\n")
    return b"".join(parts)


def _fill(home: Home, exports: Sequence[Path], people: Sequence[Customer], now: datetime) -> None:
    moment = now

    def work(until: datetime) -> None:
        # What the plan has put before a moment has been made by then.
        nonlocal moment
        for at, order, task, parts in desk.kitchen.planned_by(until):
            moment = at
            desk.kitchen.tick(desk.order(order), task, parts)

    with Desk(home, now=lambda: moment) as desk:
        desk.take(exports)
        found = {desk.case(waiting.thread_id).thread.customer: waiting.thread_id for waiting in desk.waiting()}
        for person in sorted(people, key=lambda person: person.lines[-1].at):
            if person.answer:
                # Each is served just after it was written, so that quotes and bookings have their own days.
                served = min(now, person.lines[-1].at + _ANSWERED_AFTER)
                work(served)
                moment = served
                orders = desk.case(found[clean(person.sender)]).orders
                for order, expected in zip(orders, person.expect, strict=False):
                    _serve(desk, order, expected, person)
        # The last evening's work has been done and not ticked off yet.
        work(now - timedelta(hours=20))


def _serve(desk: Desk, order: Order, expected: dict[str, Any], person: Customer) -> None:
    """Answers one order, as a baker would: what was read otherwise than it was meant is set right before a quote."""
    if person.answer != "ask":
        meant = {name: value_of(name, expected.get(name)) for name in DRAFT_FIELDS}
        changes = {name: value for name, value in meant.items() if _differs(order.draft.cell(name), value)}
        if changes:
            desk.correct(order.id, changes)
        desk.confirm(order.id)
        desk.quote(order.id)
    if person.booked:
        booked = desk.book(order.id)
        if person.paid and booked.quote:
            desk.till.pay(order.id, booked.quote.deposit, person.paid)
    desk.replied(order.id, desk.reply(order.id, person.answer), f"by {person.channel}")


def _differs(cell: Cell[Any], meant: Any) -> bool:
    """Whether a cell holds other than what was meant, or is a doubt without a value."""
    return (cell.value or None) != meant or (cell.missing and bool(cell.why))
