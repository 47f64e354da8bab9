"""Taking an export, and pasting a message."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from intake.desk import Desk
from intake.model import Due, OrdertinError
from tests.desk.kit import FULL, ZONE, Clock, Export, everything, fake_read, sent, values


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


COPIED = """Dana Reyes
10:02 AM
count=24
You sent
theme?
Dana Reyes
theme=unicorns
10:15 AM
handover=pickup
Seen by Dana
"""


def test_a_conversation_that_was_copied_is_pasted_as_one(desk: Desk) -> None:
    case = desk.paste(COPIED)
    said = [(m.sender, m.mine, m.text) for m in case.thread.messages]
    assert said[0] == ("Dana Reyes", False, "count=24")
    assert [mine for _, mine, _ in said].count(True) == 1
    assert values(case.orders[0]) == {"count": 24, "theme": "unicorns", "handover": "pickup"}
    assert desk.paste(COPIED) == case
    assert desk.undo() == "messages from Dana Reyes"


def test_a_written_out_chat_is_pasted_into_its_conversation(desk: Desk) -> None:
    first = desk.paste("count=24", sender="Dana")
    text = "[3/10/26, 9:05:00 AM] Dana: theme=unicorns\n[3/10/26, 9:06:00 AM] Nell: when?\n"
    case = desk.paste(text, to=first.thread.id)
    assert [m.text for m in case.thread.messages] == ["theme=unicorns", "when?", "count=24"]
