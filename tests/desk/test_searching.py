"""Searching all messages, and the old conversations of a large export that are kept unread."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from intake import desk_taking
from intake.desk import Desk
from intake.desk_search import excerpt
from intake.home import Home
from tests.desk.kit import FULL, Clock, Export, everything


@pytest.fixture
def talks(desk: Desk, export: Export) -> Desk:
    export.writes("Zoë Ortiz", "two dozen café cookies, count=24", "and a cake-topper?")
    export.writes("Dana", 'the ones with "stars" NOT hearts count=12')
    export.writes("Ben", "cookies for a café count=36")
    desk.take([export.path])
    return desk


@pytest.mark.parametrize(
    ("words", "found"),
    [
        pytest.param("cookies", ["Ben", "Zoë Ortiz"], id="newest first"),
        pytest.param("COOKIES dozen", ["Zoë Ortiz"], id="all the words, any case"),
        pytest.param("cafe", ["Ben", "Zoë Ortiz"], id="without the accent"),
        pytest.param("zoe", ["Zoë Ortiz"], id="a name"),
        pytest.param("cake topper", ["Zoë Ortiz"], id="parts of a word with a hyphen"),
        pytest.param("cook", ["Ben", "Zoë Ortiz"], id="the start of a word"),
        pytest.param("dozen coo", ["Zoë Ortiz"], id="the start of the last word"),
        pytest.param("coo doz", ["Zoë Ortiz"], id="the start of each"),
        pytest.param("ookies", [], id="not the end of a word"),
        pytest.param("stars NOT hearts", ["Dana"], id="no operators"),
        pytest.param('"stars', ["Dana"], id="a lone quote"),
        pytest.param("sender:dana OR NEAR(", [], id="no syntax at all"),
        pytest.param("", [], id="nothing"),
        pytest.param("*() -", [], id="no word in it"),
        pytest.param("marzipan", [], id="not said"),
    ],
)
def test_search(talks: Desk, words: str, found: list[str]) -> None:
    assert [hit.customer for hit in talks.search(words)] == found


@settings(max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(words=st.text(max_size=40))
def test_whatever_is_typed_is_no_error(talks: Desk, words: str) -> None:
    talks.search(words)


def test_a_hit_says_who_wrote_and_what(talks: Desk) -> None:
    (hit,) = talks.search("topper")
    assert (hit.thread_id, hit.mine, hit.excerpt) == ("t1", False, "and a cake-topper?")
    assert talks.search("topper", most=0) == ()


def test_what_is_undone_is_not_found_and_what_comes_back_is(talks: Desk, export: Export) -> None:
    assert talks.undo()
    assert talks.search("cookies") == ()
    talks.take([export.path])
    assert len(talks.search("cookies")) == 2


def test_a_pasted_message_is_found(desk: Desk) -> None:
    desk.paste("three dozen gnomes count=36", sender="Lou")
    assert [hit.customer for hit in desk.search("gnomes")] == ["Lou"]


@pytest.mark.parametrize(
    ("text", "words", "expected"),
    [
        ("short one", "one", "short one"),
        ("first\nsecond   third", "third", "first second third"),
        ("a " * 50 + "the crème is here " + "b " * 50, "creme", "… a a a a the crème is here b b b b…"),
        ("word " * 30, "nowhere", "word word word word word word word…"),
        ("x" * 200, "x", "x" * 35 + "…"),
        ("", "x", ""),
    ],
    ids=["whole", "one line", "around the word", "not in it", "one long word", "empty"],
)
def test_excerpt(text: str, words: str, expected: str) -> None:
    found = excerpt(text, words, 36)
    assert found == expected
    assert len(found) <= 36


@pytest.fixture
def old_ones(desk: Desk, export: Export, monkeypatch: pytest.MonkeyPatch) -> Desk:
    """Five conversations of which the two newest are read."""
    monkeypatch.setattr(desk_taking, "MOST_READ", 2)
    for who in ("Ada", "Bea", "Cy", "Dee", "Eve"):
        export.writes(who, FULL)
    return desk


def test_of_a_large_export_the_newest_are_read_and_the_rest_is_kept(old_ones: Desk, export: Export) -> None:
    report = old_ones.take([export.path])
    assert (report.threads_new, report.messages_new, report.orders_new, report.unread) == (5, 5, 2, 3)
    assert [row.customer for row in old_ones.waiting()] == ["Dee", "Eve"]
    assert [hit.customer for hit in old_ones.search("unicorns")] == ["Eve", "Dee", "Cy", "Bea", "Ada"]
    case = old_ones.case("t1")
    assert (case.orders, case.reading.drafts, len(case.thread.messages)) == ((), (), 1)
    before = everything(old_ones)
    assert old_ones.take([export.path]).unread == 0
    assert everything(old_ones) == before


def test_what_was_kept_is_read_when_asked_or_when_its_customer_writes(
    old_ones: Desk, export: Export, clock: Clock
) -> None:
    old_ones.take([export.path])
    assert [order.draft.count.value for order in old_ones.read("t2").orders] == [24]
    assert old_ones.read("t2") == old_ones.case("t2")
    assert old_ones.undo() == "reading of Bea"
    assert old_ones.case("t2").orders == ()
    clock.now += timedelta(days=1)
    report = old_ones.take([export.writes("Ada", "count=36").path])
    assert (report.orders_new, report.unread) == (1, 0)
    assert "Ada" in [row.customer for row in old_ones.waiting()]


def test_who_is_the_baker_is_asked_once_and_kept(home: Home, desk: Desk, tmp_path: object) -> None:
    from pathlib import Path

    path = Path(str(tmp_path)) / "chat.json"
    path.write_text(
        '[{"from": "Dana", "at": "2026-03-09T10:00", "text": "count=24"},'
        ' {"from": "Nell A.", "at": "2026-03-09T11:00", "text": "count=99"}]'
    )
    asked: list[tuple[str, ...]] = []

    def who(names: object) -> str:
        asked.append(tuple(names))  # type: ignore[arg-type]
        return "Nell A."

    report = desk.take([path], who=who)
    assert asked == [("Dana", "Nell A.")]
    assert (report.problems, report.unknown) == ((), ())
    assert [m.mine for m in desk.case("t1").thread.messages] == [False, True]
    text = home.rules.read_text()
    assert 'senders = ["Nell A."]' in text
    assert "# your own names" in text
    with Desk(home) as other:
        assert other.take([path], who=who).messages_known == 2
    assert len(asked) == 1


def test_strict_adds_nothing_of_a_file_with_a_fault(desk: Desk, export: Export, tmp_path: object) -> None:
    export.writes("Dana", FULL)
    with export.path.open("a") as file:
        file.write("\n{broken\n")
    report = desk.take([export.path], strict=True)
    assert (report.messages_new, len(report.problems)) == (0, 1)
    report = desk.take([export.path])
    assert (report.messages_new, len(report.problems)) == (1, 1)


def test_kept_conversations_are_tied_to_their_customers(
    desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(desk_taking, "MOST_READ", 1)
    mails = "".join(
        f"From x@example.com Mon Mar  9 1{n}:00:00 2026\nFrom: {who}\nTo: nell@example.org\nSubject: Order {n}\n"
        f"Date: Mon, {n} Mar 2026 10:00:00 -0500\nMessage-ID: <{n}@x.example>\n\ncount=12\n\n"
        for n, who in enumerate(("Dana <d@example.com>", "<b@example.com>", "D <d@example.com>", "d@example.com"))
    )
    (tmp_path / "box").write_text(mails)
    assert desk.take([tmp_path / "box"]).unread == 3
    assert sorted(len(customer.threads) for customer in desk.customers()) == [1, 3]
    assert desk.undo()
    assert desk.customers() == ()
