"""The demo: its days, its messages, and the book it makes."""

from __future__ import annotations

import json
import mailbox
import re
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from email import message_from_bytes
from email.header import decode_header, make_header
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from intake import demo
from intake.book.unload import load, unload
from intake.clean import clean
from intake.desk import Desk
from intake.home import Home
from intake.house import default_house
from intake.inbox.open_export import open_export
from intake.kitchen.jobs import job_of
from intake.kitchen.plan import decide
from intake.model import DRAFT_FIELDS, Clash, Fits, Job, Order, OrdertinError, State, Thread
from intake.papers.ledger import guarded
from intake.reading.pipeline import read
from intake.record import value_of
from tests.book.full import everything

ZONE = ZoneInfo("America/Chicago")
TODAYS = {
    "a Tuesday at noon": datetime(2026, 3, 10, 12, 0, tzinfo=ZONE),
    "a Saturday just after midnight, before the year's end": datetime(2026, 12, 19, 0, 20, tzinfo=ZONE),
    "a leap day, late at night": datetime(2028, 2, 29, 23, 40, tzinfo=ZONE),
}


@pytest.mark.parametrize(
    ("today", "template", "words"),
    [
        # A calendar of 2026 and 2027 gives the weekdays.
        ("2026-03-10", "by {+12:Weekday Month day}", "by Sunday March 22"),
        ("2026-03-10", "{+4:weekday} {+4:m/d}", "saturday 3/14"),
        ("2026-03-10", "{sat:Wday}, {sat:Mon day}", "Sat, Mar 14"),
        ("2026-03-14", "{sat:iso}", "2026-03-14"),
        ("2026-03-15", "{sat:iso}", "2026-03-21"),
        ("2026-03-10", "{sat+1w-1d:Weekday} the {sat+1w-1d:dayth}", "Friday the 20th"),
        ("2026-03-10", "{+11:dia}", "sábado 21 de marzo"),
        ("2026-12-30", "{+3:Weekday m/d}", "Saturday 1/2"),
        ("2026-03-10", "{-9:dayth} {-8:dayth} {-7:dayth} {-6:dayth}", "1st 2nd 3rd 4th"),
        ("2026-03-10", "{+1:dayth} {+2:dayth} {+3:dayth} {+13:dayth}", "11th 12th 13th 23rd"),
        ("2026-03-10", "{{7*7}} {bold} {} {name}", "{{7*7}} {bold} {} {name}"),
    ],
)
def test_days_are_written_out(today: str, template: str, words: str) -> None:
    assert demo.render(template, date.fromisoformat(today)) == words


@pytest.mark.parametrize("template", ["{+3:wekday}", "{sun+1w:iso}", "{+3x:iso}", "{:iso}", "{sat+1m:iso}"])
def test_a_misspelt_day_is_an_error_and_never_a_message(template: str) -> None:
    with pytest.raises(ValueError, match="day"):
        demo.render(template, date(2026, 3, 10))


def test_weekdays_are_those_of_their_dates_on_every_day_of_a_year() -> None:
    for n in range(366):
        today = date(2027, 12, 1) + timedelta(n)
        for when, least, most in (("+12", 12, 12), ("sat", 0, 6), ("sat+2w-1d", 13, 19), ("sat+1w+1d", 8, 14)):
            weekday, day = demo.render(f"{{{when}:Weekday}}|{{{when}:iso}}", today).split("|")
            written = date.fromisoformat(day)
            assert f"{written:%A}" == weekday
            assert least <= (written - today).days <= most
            if when.startswith("sat"):
                assert weekday == {"sat": "Saturday", "sat+2w-1d": "Friday", "sat+1w+1d": "Sunday"}[when]


@pytest.mark.parametrize("now", TODAYS.values(), ids=TODAYS)
@pytest.mark.parametrize(("when", "day"), [("-3d 18:20", 3), ("-1d 00:00", 1), ("-40m", 0)])
def test_messages_lie_before_now(now: datetime, when: str, day: int) -> None:
    at = demo.sent(when, now)
    assert at <= now
    assert (now.date() - at.date()).days == day


@pytest.mark.parametrize("when", ["18:20", "-3d", "3d 18:20", "-3d 25:00", "-1h"])
def test_a_misspelt_time_is_an_error(when: str) -> None:
    with pytest.raises(ValueError):
        demo.sent(when, TODAYS["a Tuesday at noon"])


def in_every_file() -> Iterator[tuple[str, str]]:
    """Each sample as a reader sees it: mails decoded, the rest as text."""
    for path in sorted(demo.samples_folder().iterdir()):
        if path.suffix == ".mbox":
            box = mailbox.mbox(path, create=False)
            mails = [mail.as_bytes() for mail in box]
            box.close()
        elif path.suffix == ".eml":
            mails = [path.read_bytes()]
        else:
            data = path.read_bytes()
            if path.suffix == ".zip":
                with zipfile.ZipFile(path) as archive:
                    data = b"".join(map(archive.read, archive.namelist()))
            yield path.name, data.decode()
            continue
        for mail in mails:
            read = message_from_bytes(mail)
            heads = "\n".join(str(make_header(decode_header(value))) for name, value in read.items() if name != "Date")
            yield path.name, f"{heads}\n\n{read.get_payload(decode=True).decode('utf-8')}"


# 555-0100 to 555-0199 are set aside for fiction in the North American plan, and 07700 900000 to 900999 by Ofcom;
# example.com, .net and .org by RFC 2606.
INVENTED_PHONE = re.compile(r"(?:\(?555\)? )?555-01\d\d|07700 900\d\d\d")
PHONE = re.compile(r"(?<![\w<.+-])(?:\(?\d{3}\)?[ .-])?\d{3}[ .-]\d{4}\b|\b0\d{4} ?\d{6}\b")
ADDRESS = re.compile(r"[\w.+-]+@([\w.-]+\w)")


@pytest.mark.parametrize(("name", "text"), in_every_file())
def test_phones_and_addresses_are_invented(name: str, text: str) -> None:
    assert [phone for phone in PHONE.findall(text) if not INVENTED_PHONE.fullmatch(phone)] == []
    domains = {domain.lower() for domain in ADDRESS.findall(text.replace("@click", "click"))}
    assert domains <= {"example.com", "example.net", "example.org"}
    assert "http" not in text


def test_the_phone_check_sees_phones() -> None:
    found = PHONE.findall("call 555-0142, (555) 555-0127, 612 555 0142 or 07700 900461, not 2027-05-03 or 84 or 10:30")
    assert found == ["555-0142", "(555) 555-0127", "612 555 0142", "07700 900461"]


@pytest.mark.parametrize("now", TODAYS.values(), ids=TODAYS)
def test_demo_threads_are_well_formed(now: datetime) -> None:
    people = demo.customers(now)
    assert len(people) >= 28
    assert 12 <= sum(len(person.expect) for person in people if person.booked) <= 20
    assert len({person.id for person in people}) == len({person.sender for person in people}) == len(people)
    for person in people:
        assert person.channel in ("chat", "mail"), person.id
        assert (person.channel == "mail") == bool(person.address) == bool(person.subject), person.id
        times = [line.at for line in person.lines]
        assert times == sorted(times), person.id
        assert times[-1] <= now, person.id
        assert {line.sender for line in person.lines} <= {person.sender, demo.BAKER}, person.id
        assert all(line.text.strip() or line.photos for line in person.lines), person.id
        for order in person.expect:
            assert set(order) <= set(DRAFT_FIELDS) - set(person.unclear), person.id
            values = {name: value_of(name, value) for name, value in order.items()}
            assert None not in values.values(), person.id
            if due := values.get("due"):
                assert 0 < (due.first - now.date()).days <= 49, person.id
            if person.booked:
                assert {"customer", "count", "theme", "due", "handover"} <= set(order), person.id


def test_the_demo_holds_the_hard_cases() -> None:
    people = demo.customers(TODAYS["a Tuesday at noon"])
    orders = [order for person in people for order in person.expect]
    intents = {person.intent for person in people}
    assert intents == {"order", "change", "cancel", "confirm", "paid", "ask", "chat", "spam"}
    assert {order.get("handover") for order in orders} == {"pickup", "ship", "deliver", None}
    assert {order["due_is"] for order in orders if "due_is" in order} == {"handover", "arrival", "event"}
    assert any(order.get("cancelled") for order in orders)
    assert any(order.get("dietary") for order in orders)
    assert any(len(person.expect) == 2 for person in people)
    assert {field for person in people for field in person.unclear} >= {"count", "due", "handover"}
    texts = [line.text for person in people for line in person.lines]
    assert "" in texts
    hostile = next(text for text in texts if "{{7*7}}" in text)
    assert all(part in hostile for part in ("[/]", "[@click=app.quit]", "\x1b]0;", "\x1b[31m"))
    assert clean(hostile) != hostile


def test_threads_lines_are_in_the_form_of_the_reader() -> None:
    lines = (demo.samples_folder() / "threads.jsonl").read_text(encoding="utf-8").splitlines()
    threads = [json.loads(line) for line in lines]
    assert len({thread["id"] for thread in threads}) == 10
    for thread in threads:
        assert set(thread) == {"id", "channel", "messages", "gold"}
        assert set(thread["gold"]) == {"intent", "orders", "unclear"}
        for message in thread["messages"]:
            assert set(message) == {"id", "from", "mine", "at", "text"}
        for order in thread["gold"]["orders"]:
            for name, value in order.items():
                assert value_of(name, value) is not None, (thread["id"], name)


@pytest.mark.parametrize(
    ("name", "threads", "messages"),
    [
        ("market_week.mbox", 4, 6),
        ("single_order.eml", 1, 1),
        ("chat_export.json", 3, 9),
        ("threads.jsonl", 10, 17),
        ("chat_transcript.txt", 1, 8),
        ("copied_conversation.txt", 1, 9),
        ("messages_table.csv", 3, 10),
        ("saved_page.html", 1, 6),
        ("chat_and_mail.zip", 2, 6),
    ],
)
def test_every_sample_opens_whole(name: str, threads: int, messages: int) -> None:
    senders = (demo.BAKER, demo.BAKER_ADDRESS)
    now = datetime(2027, 6, 1, tzinfo=ZONE)
    export = open_export(demo.samples_folder() / name, senders=senders, zone=ZONE, now=now)
    assert export.problems == ()
    assert len(export.threads) == threads
    assert sum(len(thread.messages) for thread in export.threads) == messages
    assert all(thread.customer and thread.customer != demo.BAKER for thread in export.threads)


def test_a_stall_owners_three_mails_are_one_thread() -> None:
    path = demo.samples_folder() / "market_week.mbox"
    export = open_export(path, senders=(demo.BAKER_ADDRESS,), zone=ZONE)
    thread = max(export.threads, key=lambda thread: len(thread.messages))
    assert [message.mine for message in thread.messages] == [False, True, False]


NOON = TODAYS["a Tuesday at noon"]


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Thread]:
    """The demo's exports, opened again: each thread by its customer."""
    paths = demo.write_exports(tmp_path_factory.mktemp("written") / "exports", demo.customers(NOON), NOON)
    exports = [open_export(path, senders=(demo.BAKER, demo.BAKER_ADDRESS), zone=ZONE, now=NOON) for path in paths]
    assert [problem for export in exports for problem in export.problems] == []
    return {thread.customer: thread for export in exports for thread in export.threads}


@pytest.mark.parametrize("person", demo.customers(NOON), ids=lambda person: person.id)
def test_every_thread_comes_through_export_and_reader(person: demo.Customer, written: dict[str, Thread]) -> None:
    thread = written[clean(person.sender)]
    assert thread.channel == person.channel
    assert [message.at for message in thread.messages] == [line.at for line in person.lines]
    assert [message.mine for message in thread.messages] == [line.sender == demo.BAKER for line in person.lines]
    drafts = read(thread, default_house().reading).drafts
    assert len(drafts) == len(person.expect)
    for draft, expected in zip(drafts, person.expect, strict=True):
        assert set(expected.get("dietary", ())) <= set(draft.dietary.value or ())
        assert bool(draft.cancelled.value) == expected.get("cancelled", False)


@pytest.fixture(scope="module", params=TODAYS.values(), ids=TODAYS)
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Home, datetime]:
    folder = tmp_path_factory.mktemp("around") / "new" / "demo"
    home = demo.make(folder, now=request.param)
    assert [path.name for path in folder.parent.parent.iterdir()] == ["new"]
    assert [path.name for path in folder.parent.iterdir()] == ["demo"]
    return home, request.param


def test_the_demo_book_is_full(made: tuple[Home, datetime]) -> None:
    home, now = made
    people = demo.customers(now)
    with Desk(home, now=lambda: now) as desk:
        rack, waiting = desk.rack(), desk.waiting()
        agreed = [order for person in people if person.booked for order in person.expect]
        assert len(rack) == len(agreed)
        assert len(waiting) + len({order.thread_id for order in rack}) >= 25
        days = [order.draft.due.value.first for order in rack if order.draft.due.value]
        assert days == sorted(days)
        assert {(day - now.date()).days // 7 for day in days} >= {1, 2, 3, 4}
        booked = {(o.draft.customer.value, o.draft.count.value, o.draft.due.value) for o in rack}
        assert booked == {(e["customer"], e["count"], value_of("due", e["due"])) for e in agreed}
        assert all(order.quote and order.state is State.BOOKED for order in rack)
        assert desk.house.house.name == "Tansy Lane Cookies"
        assert "Ottilie" not in {item.customer for item in waiting}


def test_the_book_comes_back_from_its_export_as_it_was(made: tuple[Home, datetime], tmp_path: Path) -> None:
    home, _ = made
    unload(home.book, tmp_path / "out", guarded)
    load(tmp_path / "out", tmp_path / "again.db")
    before, after = everything(home.book), everything(tmp_path / "again.db")
    assert after == before
    assert min(len(before[name]) for name in ("messages", "orders", "quotes", "payments", "plans", "words")) > 0


def test_what_is_booked_can_be_baked(made: tuple[Home, datetime]) -> None:
    home, now = made
    with Desk(home, now=lambda: now) as desk:
        verdict = decide(jobs(desk, desk.rack()), desk.house, now=now, seconds=5.0)
    assert isinstance(verdict, Fits), verdict


def jobs(desk: Desk, orders: tuple[Order, ...], newest: int = 0) -> list[Job]:
    made = [job_of(order, desk.house, newest=order.id == newest) for order in orders]
    assert all(isinstance(job, Job) for job in made), made
    return [job for job in made if isinstance(job, Job)]


def settled(desk: Desk, sender: str, now: datetime) -> Order:
    """The waiting order of `sender`, with what its customer said set as the baker would."""
    thread_id = next(item.thread_id for item in desk.waiting() if desk.case(item.thread_id).thread.customer == sender)
    (order,) = desk.case(thread_id).orders
    expected = next(person.expect[0] for person in demo.customers(now) if person.sender == sender)
    return desk.correct(order.id, {name: value_of(name, value) for name, value in expected.items()})


def test_the_favors_and_the_retreat_fit_alone_and_not_together(made: tuple[Home, datetime]) -> None:
    home, now = made
    with Desk(home, now=lambda: now) as desk:
        retreat = settled(desk, "Emeric Tate", now)
        favors = next(order for order in desk.rack() if order.draft.customer.value == "Imogen Farr")
        others = tuple(order for order in desk.rack() if order.id != favors.id)
        assert isinstance(decide(jobs(desk, (*others, retreat), retreat.id), desk.house, now=now, seconds=5.0), Fits)
        verdict = decide(jobs(desk, (*others, favors, retreat), retreat.id), desk.house, now=now, seconds=5.0)
        assert isinstance(verdict, Clash), verdict
        assert set(verdict.orders) == {favors.id, retreat.id}
        assert verdict.newest == retreat.id


def test_ten_dozen_in_two_days_can_not_be_made_at_all(made: tuple[Home, datetime]) -> None:
    home, now = made
    with Desk(home, now=lambda: now) as desk:
        rush = settled(desk, "Chip Delgado", now)
        verdict = decide(jobs(desk, (*desk.rack(), rush), rush.id), desk.house, now=now, seconds=5.0)
        assert isinstance(verdict, Clash), verdict
        assert verdict.orders == (rush.id,)


@pytest.mark.parametrize("name", ["orders.db", "house.toml", "notes.txt"])
def test_a_folder_that_holds_anything_is_refused(tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("mine")
    with pytest.raises(OrdertinError, match="empty folder"):
        demo.make(tmp_path, now=TODAYS["a Tuesday at noon"])
    assert [path.name for path in tmp_path.iterdir()] == [name]
    assert (tmp_path / name).read_text() == "mine"


def test_a_file_in_the_folders_place_is_refused(tmp_path: Path) -> None:
    (tmp_path / "demo").write_text("mine")
    with pytest.raises(OrdertinError, match="can't be written"):
        demo.make(tmp_path / "demo", now=TODAYS["a Tuesday at noon"])
