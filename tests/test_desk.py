"""The desk: each use case on a real book, with a reader that reads a little language of its own.

A customer's words such as `count=24 theme=unicorns due=2026-03-21 handover=pickup` are those fields; `?` after a value
leaves it to be checked, a later message wins, `|` begins the next order of the message, `intent=ask` is the intent.
"""

from __future__ import annotations

import json
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from intake import record
from intake.desk import Desk
from intake.home import Home
from intake.model import Cell, Clash, Draft, Due, Evidence, Fits, Order, OrdertinError, Reading, Reply, State, Thread

ZONE = ZoneInfo("America/Chicago")
NOW = datetime(2026, 3, 11, 9, tzinfo=ZONE)
FULL = "count=24 theme=unicorns due=2026-03-21 handover=pickup"
RULES = {"baker = \"\"": 'baker = "Nell"', 'timezone = ""': 'timezone = "America/Chicago"'}


def fake_read(thread: Thread, rules: object) -> Reading:
    drafts: list[dict[str, Cell[Any]]] = []
    intent = "chat"
    for message in thread.messages:
        if message.mine:
            continue
        intent, start = "chat", 0
        if "gone" in message.text:
            drafts.clear()
        for place, part in enumerate(message.text.split("|")):
            for word in part.split():
                name, _, said = word.partition("=")
                if not said:
                    continue
                start = message.text.index(word)
                if name == "intent":
                    intent = said
                    continue
                intent = "order" if intent == "chat" else intent
                while len(drafts) <= place:
                    drafts.append({"customer": Cell(thread.customer, True)})
                value = record.value_of(name, said.rstrip("?")) if said != "-" else None
                sure = not said.endswith("?")
                evidence = (Evidence(message.id, start, start + len(word)),)
                drafts[place][name] = Cell(value, sure, evidence, "" if sure else "not plain", rule="fake")
    return Reading(Cell(intent, True), tuple(Draft(**cells) for cells in drafts))


class Clock:
    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def home(tmp_path: Path) -> Home:
    from intake.house import default_text

    text = default_text()
    for was, becomes in RULES.items():
        text = text.replace(was, becomes)
    home = Home.at(tmp_path / "home")
    home.rules.parent.mkdir()
    home.rules.write_text(text)
    return home


@pytest.fixture
def reader(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    reader = ModuleType("intake.reading.pipeline")
    reader.read = fake_read  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "intake.reading.pipeline", reader)
    yield


@pytest.fixture
def desk(reader: None, home: Home, clock: Clock) -> Iterator[Desk]:
    with Desk(home, now=clock) as desk:
        yield desk


class Export:
    """A file of threads, one JSON line each, that grows; each message is an hour after the one before."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._threads: dict[str, list[dict[str, Any]]] = {}
        self._at = NOW - timedelta(days=2)

    def writes(self, who: str, *texts: str, mine: bool = False) -> Export:
        thread = self._threads.setdefault(who, [])
        for text in texts:
            self._at += timedelta(hours=1)
            said = {"from": "Nell" if mine else who, "mine": mine, "at": self._at.isoformat(), "text": text}
            thread.append({"id": f"m{len(thread)}", **said})
        lines = (json.dumps({"id": name, "channel": "chat", "messages": said}) for name, said in self._threads.items())
        self.path.write_text("\n".join(lines))
        return self


@pytest.fixture
def export(tmp_path: Path) -> Export:
    return Export(tmp_path / "chats.jsonl")


Writes = Callable[..., Order]


@pytest.fixture
def writes(desk: Desk, export: Export) -> Writes:
    """A customer writes, the export is taken, and her first order is given."""

    def write(who: str, *texts: str) -> Order:
        report = desk.take([export.writes(who, *texts).path])
        assert not report.problems
        thread = next(w.thread_id for w in desk.waiting() if w.customer == who)
        return next(iter(desk.case(thread).orders), Order(0, thread, 0, State.DRAFT, Draft()))

    return write


def values(order: Order) -> dict[str, Any]:
    return {n: order.draft.cell(n).value for n in ("count", "theme", "due", "handover") if order.draft.cell(n).value}


def everything(desk: Desk) -> Any:
    """The book as the baker can see it, but for the journal."""
    cases = [desk.case(f"t{n}") for n in range(1, 9) if not _missing(desk, n)]
    return cases, desk.waiting(), desk.rack()


def _missing(desk: Desk, number: int) -> bool:
    try:
        desk.case(f"t{number}")
    except OrdertinError:
        return True
    return False


def sent(desk: Desk, order: Order, kind: str = "ask") -> Order:
    return desk.replied(order.id, Reply(kind, order.draft.customer.value or "", "", f"About {kind}?"), "by hand")


def booked(desk: Desk, order: Order) -> Order:
    desk.confirm(order.id)
    desk.quote(order.id)
    return desk.book(order.id)


# Taking


def test_a_take_reads_drafts_and_reports(desk: Desk, export: Export) -> None:
    told: list[tuple[str, int, int]] = []
    export.writes("Dana", FULL).writes("Leo", "count=12 | count=36").writes("Sam", "lovely photos")
    report = desk.take([export.path], progress=lambda *p: told.append(p))
    assert (report.threads_new, report.messages_new, report.messages_known, report.orders_new) == (3, 3, 0, 3)
    assert told == [("chats.jsonl", n, 3) for n in (1, 2, 3)]
    orders = desk.case("t1").orders + desk.case("t2").orders
    assert [(o.id, o.thread_id, o.place, o.state, o.draft.count.value) for o in orders] == [
        (1, "t1", 0, "draft", 24),
        (2, "t2", 0, "draft", 12),
        (3, "t2", 1, "draft", 36),
    ]
    assert desk.case("t3").orders == ()


def test_what_was_read_is_what_the_book_gives(desk: Desk, export: Export) -> None:
    desk.take([export.writes("Dana", "count=24?", "due=2026-03-21T14:00").path])
    case = desk.case("t1")
    assert case.reading == fake_read(case.thread, None)
    assert case.orders[0].draft == case.reading.drafts[0]
    assert [m.at.tzinfo for m in case.thread.messages] == [ZONE, ZONE]


def test_taking_twice_adds_nothing(desk: Desk, export: Export) -> None:
    export.writes("Dana", FULL).writes("Leo", "count=12")
    desk.take([export.path])
    before, version = everything(desk), desk.version()
    report = desk.take([export.path, export.path])
    assert (report.threads_new, report.messages_new, report.messages_known, report.orders_new) == (0, 0, 4, 0)
    assert (everything(desk), desk.version()) == (before, version)


def test_a_file_that_is_no_export_is_a_problem_and_the_rest_goes_on(
    desk: Desk, export: Export, tmp_path: Path
) -> None:
    report = desk.take([tmp_path / "nowhere.json", export.writes("Dana", FULL).path])
    assert (len(report.problems), report.threads_new) == (1, 1)
    assert "nowhere.json" in str(report.problems[0])


def test_messages_put_down_to_the_wrong_side_are_set_right_by_another_take(desk: Desk, export: Export) -> None:
    export.writes("Dana", FULL).writes("Dana", "count=99")
    desk.take([export.path])
    assert desk.order(1).draft.count.value == 99
    export.path.write_text(export.path.read_text().replace('false, "at": "2026-03-09T11', 'true, "at": "2026-03-09T11'))
    desk.take([export.path])
    assert [m.mine for m in desk.case("t1").thread.messages] == [False, True]
    assert desk.order(1).draft.count.value == 24


def test_a_reply_sent_from_here_is_known_when_it_comes_back_in_an_export(desk: Desk, export: Export) -> None:
    desk.take([export.writes("Dana", "count=24").path])
    sent(desk, desk.order(1))
    report = desk.take([export.writes("Dana", "About  ask?\n", mine=True).path])
    assert (report.messages_new, len(desk.case("t1").thread.messages)) == (0, 2)


MAILS = [
    b"From dana@example.org Mon Mar  9 10:00:00 2026\nFrom: Dana <dana@example.org>\nTo: nell@example.com\n"
    b"Subject: %sCookies\nDate: Mon, 9 Mar 2026 1%d:00:00 -0500\nMessage-ID: <%d@example.org>\n\ncount=%d\n\n"
    % (subject, number, number, count)
    for subject, number, count in ((b"", 1, 12), (b"Re: ", 2, 24))
]


def test_a_longer_export_of_the_same_mails_joins_their_conversation(desk: Desk, tmp_path: Path) -> None:
    (tmp_path / "week").write_bytes(MAILS[1])
    (tmp_path / "year").write_bytes(b"".join(MAILS))
    desk.take([tmp_path / "week"])
    report = desk.take([tmp_path / "year"])
    assert (report.threads_new, report.messages_new, report.orders_new) == (0, 1, 0)
    assert [m.text for m in desk.case("t1").thread.messages] == ["count=12", "count=24"]


# Pasting


def test_a_paste_is_a_conversation_and_the_same_paste_is_the_same(desk: Desk, clock: Clock) -> None:
    case = desk.paste(FULL, sender="Dana")
    clock.now += timedelta(days=1)
    again = desk.paste(FULL, sender="Dana")
    assert (case, len(desk.waiting())) == (again, 1)
    assert values(case.orders[0]) == {
        "count": 24,
        "theme": "unicorns",
        "due": Due.on(date(2026, 3, 21)),
        "handover": "pickup",
    }


@pytest.mark.parametrize("text", ["", "  \n", "\0" * 50, "x" * 300_000], ids=["empty", "blank", "file", "long"])
def test_a_paste_with_nothing_to_read_changes_nothing(desk: Desk, text: str) -> None:
    with pytest.raises(OrdertinError):
        desk.paste(text)
    assert (desk.waiting(), desk.undo()) == ((), None)


def test_when_a_pasted_message_was_sent(desk: Desk) -> None:
    case = desk.paste("count=12", at=datetime(2026, 3, 1, 8))
    assert case.thread.messages[0].at == datetime(2026, 3, 1, 8, tzinfo=ZONE)


def test_an_answer_is_pasted_into_its_conversation(desk: Desk, clock: Clock) -> None:
    first = desk.paste("count=24", sender="Dana")
    case = desk.paste("handover=pickup", to=first.thread.id)
    assert desk.paste("handover=pickup", to=first.thread.id) == case
    assert [(m.sender, m.text) for m in case.thread.messages] == [("Dana", "count=24"), ("Dana", "handover=pickup")]
    assert [values(order) for order in case.orders] == [{"count": 24, "handover": "pickup"}]
    clock.now += timedelta(days=1)
    assert len(desk.paste("handover=pickup", to=first.thread.id).thread.messages) == 3


# Reading again


def test_a_later_message_updates_an_open_order(desk: Desk, writes: Writes) -> None:
    writes("Dana", "count=24?")
    order = writes("Dana", "count=36 theme=unicorns")
    assert (order.id, order.place, values(order)) == (1, 0, {"count": 36, "theme": "unicorns"})


# What the reader said, what the baker made of it, what the customer writes next, the cell (value, sure) then.
REREAD = [
    pytest.param("count=24?", {"count": 30}, "thanks", (30, True), id="the baker's word stays"),
    pytest.param("count=24?", {"count": 30}, "count=36", (30, False), id="but is shown to check when they differ"),
    pytest.param("count=24?", {"count": 36}, "count=36", (36, True), id="and not when they agree"),
    pytest.param("count=24", {"count": None}, "thanks", (None, True), id="what the baker cleared stays clear"),
    pytest.param("count=24?", "confirm", "thanks", (24, True), id="what was confirmed stays so"),
    pytest.param("count=24?", "confirm", "count=36?", (36, False), id="until the customer says otherwise"),
    pytest.param("count=24?", "confirm", "count=24?", (24, False), id="or doubts it again"),
    pytest.param("count=24?", "confirm", "count=24", (24, True), id="the same said surely"),
    pytest.param("count=24", {}, "count=-", (None, True), id="what the customer takes back goes"),
    pytest.param("count=24", {"count": 30}, "count=-", (30, True), id="unless the baker has set it"),
]


@pytest.mark.parametrize(("first", "baker", "then", "cell"), REREAD)
def test_what_the_baker_did_and_what_the_customer_writes_next(
    desk: Desk, writes: Writes, first: str, baker: Any, then: str, cell: tuple[Any, bool]
) -> None:
    order = writes("Dana", f"theme=owls due=2026-03-21 handover=pickup {first}")
    if baker == "confirm":
        desk.confirm(order.id)
    else:
        desk.correct(order.id, baker)
    count = writes("Dana", then).draft.count
    assert (count.value, count.sure) == cell
    assert count.sure or count.why


def test_a_booked_order_only_gets_a_note(desk: Desk, writes: Writes) -> None:
    before = booked(desk, writes("Dana", FULL))
    after = writes("Dana", "count=36")
    assert after.draft == before.draft and after.state is State.BOOKED
    assert "36" in after.note and "24" in after.note
    writes("Dana", "thanks")
    assert desk.order(before.id).note == after.note


def test_another_order_beside_a_booked_one_is_drafted(desk: Desk, writes: Writes) -> None:
    first = booked(desk, writes("Dana", FULL))
    writes("Dana", "| count=12 theme=eggs")
    case = desk.case(first.thread_id)
    assert [(o.place, o.state, o.draft.count.value) for o in case.orders] == [(0, "booked", 24), (1, "draft", 12)]


def test_orders_are_told_apart_by_what_is_in_them_and_not_by_their_place(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=24 theme=unicorns").id, {"handover": "ship"})
    writes("Dana", "gone count=12 theme=eggs | count=24 theme=unicorns")
    orders = desk.case(order.thread_id).orders
    assert [(o.id, o.draft.theme.value, o.draft.handover.value) for o in orders] == [
        (order.id, "unicorns", "ship"),
        (order.id + 1, "eggs", None),
    ]


def test_an_untouched_draft_that_the_messages_no_longer_give_is_dropped_with_a_note(
    desk: Desk, writes: Writes
) -> None:
    order = writes("Dana", "count=24")
    writes("Dana", "gone")
    assert desk.order(order.id).state is State.DROPPED and desk.order(order.id).note
    writes("Dana", "count=24")
    assert [o.state for o in desk.case(order.thread_id).orders] == ["dropped", "draft"]


def test_a_draft_that_the_baker_has_worked_on_is_kept_with_a_note(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=24").id, {"theme": "owls"})
    writes("Dana", "gone")
    assert desk.order(order.id).state is State.DRAFT and desk.order(order.id).note


def test_wanting_a_dropped_order_otherwise_is_a_new_order(desk: Desk, writes: Writes) -> None:
    order = desk.drop(writes("Dana", FULL).id)
    writes("Dana", "thanks anyway")
    assert [o.state for o in desk.case(order.thread_id).orders] == ["dropped"]
    writes("Dana", "count=12")
    writes("Dana", "count=18")
    orders = desk.case(order.thread_id).orders
    assert [(o.state, o.draft.count.value) for o in orders] == [("dropped", 24), ("draft", 18)]


def test_after_the_hand_over_a_conversation_is_read_afresh(desk: Desk, writes: Writes) -> None:
    first = booked(desk, writes("Dana", FULL))
    desk.advance(first.id, "handed over")
    writes("Dana", "they were lovely")
    assert [o.id for o in desk.case(first.thread_id).orders] == [first.id]
    writes("Dana", "count=12")
    case = desk.case(first.thread_id)
    assert [(o.state, o.draft.count.value, o.draft.theme.value) for o in case.orders] == [
        ("handed over", 24, "unicorns"),
        ("draft", 12, None),
    ]
    assert len(case.thread.messages) == 3 and case.orders[0].note == ""


def test_an_answer_ends_the_waiting_for_it(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", "count=24")
    assert sent(desk, order).state is State.ASKED
    assert writes("Dana", "theme=owls").state is State.DRAFT


# The waiting list


def test_who_waits_and_why(desk: Desk, export: Export) -> None:
    for who, words in {
        "Sam": "intent=spam",
        "Ada": "count=24? theme=owls due=2026-04-01",
        "Dana": FULL,
        "Past": "count=6 due=2026-02-01",
        "Eve": "hello there\nagain",
    }.items():
        export.writes(who, words)
    desk.take([export.path])
    sent(desk, desk.case("t3").orders[0])
    assert [(w.customer, w.headline, w.state, w.why) for w in desk.waiting()] == [
        ("Ada", "24 owls", "draft", "wants cookies; to check: count; missing: hand-over"),
        ("Sam", "intent=spam", "unread", "looks like spam"),
        ("Eve", "hello there", "unread", "writes, no order in it"),
        ("Dana", "24 unicorns", "asked", "waits for an answer"),
        ("Past", "6 cookies", "draft", "wants cookies; missing: hand-over"),
    ]


def test_the_soonest_day_comes_first(desk: Desk, export: Export) -> None:
    for who, day in {"Ada": "2026-04-02", "Ben": "2026-03-20", "Cy": "2026-03-30"}.items():
        export.writes(who, f"count=12 due={day}")
    desk.take([export.path])
    assert [w.customer for w in desk.waiting()] == ["Ben", "Cy", "Ada"]


def standing(desk: Desk) -> list[tuple[str, str, bool]]:
    return [(w.customer, w.stands, w.theirs) for w in desk.waiting()]


def test_a_price_counts_as_quoted_once_an_answer_has_told_it(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", FULL)
    desk.confirm(order.id)
    desk.quote(order.id)
    assert standing(desk) == [("Dana", "priced", False)]
    sent(desk, order, "quote")
    assert standing(desk) == [("Dana", "quoted", True)]
    desk.paste("sounds good", to=order.thread_id, at=NOW + timedelta(hours=1))
    assert standing(desk) == [("Dana", "quoted", False)]
    desk.correct(order.id, {"count": 48})
    desk.quote(order.id)
    assert standing(desk) == [("Dana", "priced", False)]


def test_no_room_and_a_question_wait_for_the_customer(desk: Desk, writes: Writes) -> None:
    order = sent(desk, writes("Ada", FULL), "no room")
    sent(desk, writes("Ben", FULL), "ask")
    assert standing(desk) == [("Ada", "no room", True), ("Ben", "asked", True)]
    desk.paste("how about a week later", to=order.thread_id, at=NOW + timedelta(hours=1))
    assert standing(desk) == [("Ada", "draft", False), ("Ben", "asked", True)]


def test_what_is_booked_waits_until_it_is_answered(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = booked(desk, writes("Dana", FULL))
    (row,) = desk.waiting()
    assert (row.customer, row.stands, row.state) == ("Dana", "booked, answer not sent", "booked")
    assert (row.headline, row.due) == ("24 unicorns", order.draft.due.value)
    sent(desk, order, "confirm")
    assert desk.waiting() == ()
    desk.paste("can it be 3 dozen?", to=order.thread_id, at=NOW + timedelta(hours=2))
    assert standing(desk) == [("Dana", "booked, wrote again", False)]


@pytest.mark.parametrize("end", ["drop", "hand over"])
def test_what_is_over_leaves_the_list_until_its_customer_writes_again(desk: Desk, writes: Writes, end: str) -> None:
    order = writes("Dana", FULL)
    if end == "drop":
        desk.drop(order.id)
    else:
        booked(desk, order)
        desk.advance(order.id, "handed over")
    assert desk.waiting() == ()
    writes("Dana", "thank you")
    ((customer, stands, _),) = standing(desk)
    assert (customer, stands) == ("Dana", f"{desk.order(order.id).state}, wrote again")
    desk.undo()
    desk.undo()
    assert standing(desk)[0][1] in ("draft", "booked, answer not sent")


def test_setting_aside_lasts_until_the_customer_writes_again(desk: Desk, writes: Writes) -> None:
    thread = writes("Sam", "intent=spam").thread_id
    desk.set_aside(thread)
    assert desk.waiting() == ()
    writes("Sam", "intent=ask")
    assert [w.why for w in desk.waiting()] == ["asks a question"]


def test_a_conversation_with_an_open_order_is_not_set_aside(desk: Desk, writes: Writes) -> None:
    thread = writes("Dana", FULL).thread_id
    with pytest.raises(OrdertinError, match="still open"):
        desk.set_aside(thread)
    assert len(desk.waiting()) == 1


# The slip


def test_a_correction_is_the_bakers_word(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=24? theme=owls").id, {"count": 30, "theme": "owls", "budget": "60"})
    cells = order.draft
    assert [(c.value, c.sure, c.rule) for c in (cells.count, cells.theme, cells.budget)] == [
        (30, True, "baker"),
        ("owls", True, "baker"),
        (Decimal(60), True, "baker"),
    ]
    assert (cells.count.evidence, len(cells.theme.evidence)) == ((), 1)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"cuont": 24}, "Did you mean count"),
        ({"count": "many"}, "count must be a whole number"),
        ({"due": "someday"}, "day must be a day such as"),
        ({"count": 24, "handover": "drone"}, "pickup, ship or deliver"),
    ],
    ids=str,
)
def test_a_wrong_correction_changes_nothing(desk: Desk, writes: Writes, changes: dict[str, Any], said: str) -> None:
    order = writes("Dana", "count=12")
    with pytest.raises(OrdertinError, match=said):
        desk.correct(order.id, changes)
    assert desk.order(order.id) == order


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("theme=owls", "count, day, hand-over missing"),
        ("count=24 theme=owls handover=ship", "day missing"),
        ("count=24 due=2026-03-21 handover=ship", "theme or designs missing"),
        ("count=24? due=2026-03-21? handover=ship? lettering=Leo?", ""),
        ("count=24 due=2026-03-21 handover=ship designs=owls", ""),
    ],
    ids=str,
)
def test_confirming_names_what_is_missing(desk: Desk, writes: Writes, words: str, said: str) -> None:
    order = writes("Dana", words)
    if said:
        with pytest.raises(OrdertinError, match=said):
            desk.confirm(order.id)
    else:
        draft = desk.confirm(order.id).draft
        given = [draft.cell(word.partition("=")[0]) for word in words.split()]
        assert [(c.sure, c.why, c.rule) for c in given] == [(True, "", "fake")] * len(given)


def test_a_window_is_not_confirmed(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", FULL).id, {"due": {"from": "2026-03-20", "to": "2026-03-22"}})
    with pytest.raises(OrdertinError, match="window"):
        desk.confirm(order.id)


def test_what_the_baker_says_in_words(
    monkeypatch: pytest.MonkeyPatch, desk: Desk, writes: Writes
) -> None:
    def corrections(words: str, thread: Thread, order: Order, rules: object, *, at: datetime) -> Any:
        cell = Cell(int(words), True, (Evidence("words", 0, 2),))
        return SimpleNamespace(changes={"count": cell} if words != "0" else {}, answer=f"for {thread.customer}")

    talk = ModuleType("intake.talk")
    talk.corrections = corrections  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "intake.talk", talk)
    order = writes("Dana", "count=24")
    said = desk.say(order.id, "36")
    assert (said.order.draft.count, said.changed, said.answer) == (Cell(36, True, rule="baker"), ("count",), "for Dana")
    assert desk.order(order.id) == said.order
    version = desk.version()
    assert desk.say(order.id, "0").changed == () and desk.version() == version


# Money, room, answers


def test_a_quote_is_kept_with_the_order(desk: Desk, writes: Writes) -> None:
    order = desk.quote(writes("Dana", FULL).id)
    assert order.state is State.QUOTED and order.quote is not None
    assert desk.order(order.id) == order
    assert order.quote.made_on == NOW.date()


def test_what_can_not_be_priced_says_why(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", "theme=owls")
    with pytest.raises(OrdertinError, match=rf"order {order.id} \(Dana\).*missing"):
        desk.quote(order.id)


@pytest.mark.parametrize(
    ("changes", "state"), [({"count": 48}, "draft"), ({"honoree": "Leo"}, "quoted"), ({}, "quoted")], ids=str
)
def test_a_quote_goes_when_the_order_changes_its_price(
    desk: Desk, writes: Writes, changes: dict[str, Any], state: str
) -> None:
    quoted = desk.quote(writes("Dana", FULL).id)
    order = desk.correct(quoted.id, changes)
    assert order.state == state
    assert (order.quote is None) == (state == "draft") == bool(order.note)


def test_a_customer_who_changes_a_quoted_order_has_no_quote(desk: Desk, writes: Writes) -> None:
    quoted = desk.quote(writes("Dana", FULL).id)
    assert writes("Dana", "sounds good").quote == quoted.quote
    order = writes("Dana", "count=48")
    assert (order.state, order.quote) == (State.DRAFT, None)


def test_a_booked_order_keeps_what_was_agreed(desk: Desk, writes: Writes) -> None:
    before = booked(desk, writes("Dana", FULL))
    after = desk.correct(before.id, {"count": 48})
    assert (after.state, after.quote) == (State.BOOKED, before.quote)
    assert "after booking" in after.note
    assert desk.quote(before.id).state is State.BOOKED


def test_room_counts_the_booked_orders_still_ahead(desk: Desk, writes: Writes, clock: Clock) -> None:
    big = booked(desk, writes("Dana", "count=480 theme=owls due=2026-03-15 handover=pickup"))
    order = writes("Leo", "count=240 theme=owls due=2026-03-15 handover=pickup")
    assert isinstance(desk.room(order.id), Clash)
    clock.now += timedelta(days=7)
    desk.correct(order.id, {"due": "2026-03-28", "count": 12})
    assert isinstance(desk.room(order.id), Fits)
    assert desk.order(big.id).state is State.BOOKED


@pytest.mark.parametrize(
    ("words", "kind"), [("count=24", "ask"), (FULL, "quote")], ids=["something missing", "all there"]
)
def test_the_reply_that_fits_best(desk: Desk, writes: Writes, words: str, kind: str) -> None:
    order = writes("Dana", words)
    version = desk.version()
    reply = desk.reply(order.id)
    assert (reply.kind, reply.to, "Dana" in reply.text) == (kind, "Dana", True)
    assert desk.version() == version


def test_an_answer_by_mail_goes_to_where_the_mail_came_from(desk: Desk, tmp_path: Path) -> None:
    mail = tmp_path / "dana.eml"
    mail.write_bytes(
        b"From: Dana Whitlock <dana@example.org>\r\nTo: nell@example.com\r\nSubject: Cookies\r\n"
        b"Date: Mon, 9 Mar 2026 10:00:00 -0500\r\nMessage-ID: <1@example.org>\r\n\r\ncount=24 email=d@example.net\r\n"
    )
    desk.take([mail])
    assert desk.reply(1, "ask").to == "dana@example.org"


def test_a_reply_is_kept_as_the_bakers_message(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", FULL)
    sent(desk, order, "quote")
    last = desk.case(order.thread_id).thread.messages[-1]
    assert (last.sender, last.mine, last.at, last.text) == ("Nell", True, NOW, "About quote?")
    assert desk.order(order.id).state is State.DRAFT


# The order's life


def step(name: str, *args: Any) -> Any:
    return pytest.param(name, args, id=" ".join((name, *map(str, args))))


ALLOWED = {
    "correct": "draft asked quoted booked",
    "confirm": "draft asked quoted booked",
    "quote": "draft asked quoted booked",
    "book": "quoted",
    "drop": "draft asked quoted booked",
    "reopen": "dropped",
    "advance": "booked",
}


@pytest.mark.parametrize(
    ("name", "args"),
    [
        step("correct", {"count": 12}),
        *map(step, ("confirm", "quote", "book", "drop", "reopen")),
        step("advance", "bake"),
    ],
)
@pytest.mark.parametrize("state", list(State), ids=str)
def test_what_may_be_done_in_which_state(desk: Desk, writes: Writes, state: State, name: str, args: Any) -> None:
    order = writes("Dana", FULL)
    ways: dict[State, Callable[[], object]] = {
        State.DRAFT: lambda: None,
        State.ASKED: lambda: sent(desk, order),
        State.QUOTED: lambda: desk.quote(order.id),
        State.BOOKED: lambda: booked(desk, order),
        State.HANDED_OVER: lambda: (booked(desk, order), desk.advance(order.id, "handed over")),
        State.DROPPED: lambda: desk.drop(order.id),
    }
    ways[state]()
    before = desk.order(order.id)
    assert before.state is state
    if state.value in ALLOWED[name].split():
        assert getattr(desk, name)(order.id, *args) == desk.order(order.id)
        return
    with pytest.raises(OrdertinError) as error:
        getattr(desk, name)(order.id, *args)
    assert f"order {order.id} (Dana)" in str(error.value) and error.value.problem.todo
    assert desk.order(order.id) == before


def test_booking_says_what_is_still_open(desk: Desk, writes: Writes, clock: Clock) -> None:
    order = writes("Dana", FULL + " colors=pink? cancelled=yes")
    refusals = [
        ("cancelled", lambda: desk.correct(order.id, {"cancelled": False})),
        ("colors not settled", lambda: desk.confirm(order.id)),
        ("no quote", lambda: desk.quote(order.id)),
    ]
    for said, then in refusals:
        with pytest.raises(OrdertinError, match=said):
            desk.book(order.id)
        then()
    clock.now += timedelta(days=8)
    with pytest.raises(OrdertinError, match="quote held until"):
        desk.book(order.id)
    clock.now = NOW
    after = desk.book(order.id)
    assert (after.state, after.booked_at) == (State.BOOKED, NOW)


def test_a_doubt_about_an_allergy_is_settled_before_booking(desk: Desk, writes: Writes) -> None:
    order = writes("Dana", f"{FULL} dietary=?")
    assert order.draft.dietary.missing and order.draft.dietary.why
    desk.confirm(order.id)
    desk.quote(order.id)
    with pytest.raises(OrdertinError, match="diet not settled"):
        desk.book(order.id)
    desk.correct(order.id, {"dietary": ()})
    assert desk.book(order.id).state is State.BOOKED


def test_the_rack_goes_by_hand_over_day(desk: Desk, writes: Writes) -> None:
    for who, day in {"Ada": "2026-04-02", "Ben": "2026-03-20", "Cy": "2026-03-30"}.items():
        booked(desk, writes(who, f"count=12 theme=owls handover=pickup due={day}"))
    writes("Dana", FULL)
    assert [o.draft.customer.value for o in desk.rack()] == ["Ben", "Cy", "Ada"]


def test_orders_of_one_day_go_by_their_hour(desk: Desk, writes: Writes) -> None:
    for who, at in {"Ada": "", "Ben": "T16:00", "Cy": "T08:30"}.items():
        booked(desk, writes(who, f"count=12 theme=owls handover=pickup due=2026-04-02{at}"))
    assert [o.draft.customer.value for o in desk.rack()] == ["Cy", "Ben", "Ada"]


@pytest.mark.parametrize("way", ["pickup", "ship", "deliver"])
@pytest.mark.parametrize("hour", ["", "T14:00"])
def test_nothing_is_booked_on_the_partys_own_hour_but_what_is_brought_there(
    desk: Desk, writes: Writes, way: str, hour: str
) -> None:
    order = writes("Dana", f"count=24 theme=unicorns due=2026-03-21{hour} due_is=event handover={way} address=here")
    if way == "deliver" and hour:
        assert booked(desk, order).state is State.BOOKED
        return
    desk.quote(order.id)
    for step in (desk.confirm, desk.book):
        with pytest.raises(OrdertinError, match=r"the day is the party's.*pickup the day before at 5.*hand-over"):
            step(order.id)
    desk.correct(order.id, {"due": "2026-03-20 17:00", "due_is": "handover"})
    assert booked(desk, order).state is State.BOOKED


@pytest.mark.parametrize(
    ("said", "question"),
    [
        ("due_is=event", "When before it would you like to have the cookies?"),
        ("due_is=event?", "the day of your event, or the day you would like to have the cookies?"),
        ("due_is=handover?", "the day of your event, or the day you would like to have the cookies?"),
    ],
)
def test_when_she_has_them_is_asked(desk: Desk, writes: Writes, said: str, question: str) -> None:
    order = writes("Dana", f"{FULL} {said}")
    reply = desk.reply(order.id)
    assert (reply.kind, question in reply.text) == ("ask", True)
    assert "ask" in desk.answers(order.id)
    desk.correct(order.id, {"due_is": "handover"})
    assert "ask" not in desk.answers(order.id)


def test_a_doubt_about_the_day_goes_with_the_day(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=12 due=2026-03-21? due_is=handover?").id, {"due": "2026-03-22"})
    assert order.draft.due_is.sure


def test_a_booked_order_goes_through_its_steps(desk: Desk, writes: Writes) -> None:
    order = booked(desk, writes("Dana", FULL))
    assert [desk.advance(order.id, s).step for s in ("dough", "bake", "dough")] == ["dough", "bake", "dough"]
    with pytest.raises(OrdertinError, match="no step"):
        desk.advance(order.id, "fry")
    assert desk.advance(order.id, "handed over").state is State.HANDED_OVER
    assert desk.rack() == ()


@pytest.mark.parametrize(
    "ask",
    [
        lambda desk: desk.case("t9"),
        lambda desk: desk.case("../t"),
        lambda desk: desk.order(9),
        lambda desk: desk.correct(9, {"count": 1}),
        lambda desk: desk.set_aside("t9"),
        lambda desk: desk.reply(9),
        lambda desk: desk.order(10**30),
    ],
    ids=["case", "no name", "order", "correct", "aside", "reply", "too large"],
)
def test_what_is_not_in_the_book(desk: Desk, ask: Callable[[Desk], object]) -> None:
    with pytest.raises(OrdertinError):
        ask(desk)


# Undo


USE_CASES: dict[str, tuple[Callable[[Desk, int], object], str]] = {
    "correct": (lambda desk, n: desk.correct(n, {"count": 48}), "count of order 1 (Dana)"),
    "confirm": (lambda desk, n: desk.confirm(n), "confirmation of order 1 (Dana)"),
    "quote": (lambda desk, n: desk.quote(n), "price of order 1 (Dana)"),
    "replied": (lambda desk, n: sent(desk, desk.order(n)), "answer to order 1 (Dana), by hand"),
    "drop": (lambda desk, n: desk.drop(n), "dropping of order 1 (Dana)"),
    "paste": (lambda desk, n: desk.paste("count=12", sender="Leo"), "message from Leo"),
    "set aside": (lambda desk, n: desk.set_aside("t2"), "setting aside of Sam"),
    "book": (lambda desk, n: desk.book(n), "booking of order 1 (Dana)"),
    "advance": (lambda desk, n: desk.advance(n, "handed over"), "handing over of order 1 (Dana)"),
    "reopen": (lambda desk, n: desk.reopen(n), "bringing back of order 1 (Dana)"),
}
BEFORE = {
    "book": ["confirm", "quote"],
    "advance": ["confirm", "quote", "book"],
    "reopen": ["drop"],
}


@pytest.mark.parametrize("name", USE_CASES)
def test_undo_takes_back_each_use_case(desk: Desk, export: Export, name: str) -> None:
    desk.take([export.writes("Dana", FULL + " colors=pink?").writes("Sam", "intent=ask").path])
    for earlier in BEFORE.get(name, ()):
        USE_CASES[earlier][0](desk, 1)
    before = everything(desk)
    do, what = USE_CASES[name]
    do(desk, 1)
    assert everything(desk) != before
    assert desk.undo() == what
    assert everything(desk) == before


def test_undo_takes_back_a_take_and_what_it_changed(desk: Desk, export: Export) -> None:
    desk.take([export.writes("Dana", FULL).path])
    order = desk.quote(1)
    before = everything(desk)
    desk.take([export.writes("Dana", "count=48").writes("Leo", "count=12").path])
    assert desk.order(order.id).quote is None
    assert desk.undo() == "messages of chats.jsonl"
    assert everything(desk) == before
    report = desk.take([export.path])
    assert (report.messages_new, desk.order(order.id).draft.count.value) == (2, 48)


def test_undo_walks_back_to_an_empty_book(desk: Desk, writes: Writes) -> None:
    booked(desk, writes("Dana", FULL + " colors=pink?"))
    undone = []
    while what := desk.undo():
        undone.append(what.removesuffix(" of order 1 (Dana)"))
    assert undone == ["booking", "price", "confirmation", "messages of chats.jsonl"]
    assert (desk.waiting(), desk.rack()) == ((), ())


# Two windows


def test_two_windows_see_each_others_changes(desk: Desk, home: Home, writes: Writes) -> None:
    order = writes("Dana", FULL)
    with closing(Desk(home, now=lambda: NOW)) as other:
        version = other.version()
        desk.correct(order.id, {"count": 48})
        assert other.version() != version
        assert other.order(order.id).draft.count.value == 48
        version = desk.version()
        other.undo()
        assert desk.version() != version
        assert desk.order(order.id) == order


def test_two_windows_that_take_the_same_file_at_once(reader: None, home: Home, export: Export) -> None:
    for who in "abcdef":
        export.writes(who, FULL)
    desks = [Desk(home, now=lambda: NOW) for _ in range(2)]
    reports: list[Any] = []
    threads = [threading.Thread(target=lambda desk=desk: reports.append(desk.take([export.path]))) for desk in desks]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sum(report.threads_new for report in reports) == sum(report.orders_new for report in reports) == 6
    assert len(desks[0].waiting()) == 6
    for desk in desks:
        desk.close()


LOADS = """
import sys
from pathlib import Path
from intake.desk import Desk
from intake.home import Home
with Desk(Home.at(Path(sys.argv[1]))) as desk:
    desk.waiting(), desk.rack(), desk.version(), desk.undo()
print(sorted({"spacy", "ortools", "jinja2", "textual", "dateparser"} & set(sys.modules)))
"""


def test_looking_at_the_book_loads_no_heavy_part(tmp_path: Path) -> None:
    out = subprocess.run(
        [sys.executable, "-W", "error", "-c", LOADS, str(tmp_path)], capture_output=True, text=True, timeout=60
    )
    assert (out.stdout.strip(), out.stderr) == ("[]", "")


def test_a_time_of_day_comes_back(desk: Desk, writes: Writes) -> None:
    order = desk.correct(writes("Dana", "count=1").id, {"due": Due.on(date(2026, 3, 21), time(14, 30))})
    assert desk.order(order.id).draft.due.value == Due.on(date(2026, 3, 21), time(14, 30))
