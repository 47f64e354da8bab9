"""Exports told apart by shape: each case is what a file says and the threads that should come of it."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.inbox.open_export import Export
from intake.inbox.talks import repaired

Take = Callable[..., Export]
AT = "2026-03-11T14:05:10"


def said(export: Export) -> list[list[tuple[str, bool, str]]]:
    return [[(m.sender, m.mine, m.text) for m in t.messages] for t in export.threads]


@pytest.mark.parametrize(
    "message",
    [
        {"from": "Dana", "at": AT, "text": "2 dozen"},
        {"sender_name": "Dana", "timestamp_ms": 1773255910000, "content": "2 dozen"},
        {"senderName": "Dana", "sentAt": "1773255910", "body": "2 dozen"},
        {"author": {"id": 7, "display_name": "Dana"}, "created_at": AT, "content": "2 dozen"},
        {"user": {"firstName": "Dana", "email": "dana@example.com"}, "ts": "1773255910.000100", "message": "2 dozen"},
        {"From": "Dana <dana@example.com>", "Date": "Wed, 11 Mar 2026 14:05:10 -0500", "Body": "2 dozen"},
        {"name": "Dana", "email": "dana@example.com", "date": "2026-03-11", "time": "14:05:10", "message": "2 dozen"},
        {
            "contact_name": "Dana",
            "address": "+1 312 555 0111",
            "type": "received",
            "date": 1773255910000,
            "body": "2 dozen",
        },
        {
            "from": "Dana",
            "from_id": "u7",
            "date": "2026-03-11T09:00:00",
            "date_unixtime": "1773255910",
            "text": "2 dozen",
        },
        {"from": "Dana", "at": AT, "text": [{"type": "bold", "text": "2 "}, "dozen"]},
        {"from": "Dana", "at": AT, "message": {"type": "text", "parts": ["2 ", "dozen"]}},
        {"from": "Dana", "at": {"$date": "2026-03-11T19:05:10Z"}, "text": {"body": "2 dozen"}},
    ],
    ids=lambda message: " ".join(message),
)
def test_a_message_by_its_shape(message: dict[str, Any], take: Take) -> None:
    export = take(json.dumps([message]))
    assert said(export) == [[("Dana", False, "2 dozen")]]
    assert export.threads[0].messages[0].at.isoformat() == "2026-03-11T14:05:10-05:00"
    assert export.problems == ()


TWO = [{"from": "Dana", "at": AT, "text": "2 dozen"}, {"from": "Nell", "at": AT, "text": "Yes"}]
TALK = [("Dana", False, "2 dozen"), ("Nell", True, "Yes")]


@pytest.mark.parametrize(
    "export",
    [
        pytest.param(TWO, id="list"),
        pytest.param({"messages": TWO}, id="object"),
        pytest.param(
            {"title": "Dana", "participants": [{"name": "Dana"}, {"name": "Nell"}], "messages": TWO}, id="titled"
        ),
        pytest.param({"account": {"name": "Nell"}, "chats": {"list": [{"id": 3, "messages": TWO}]}}, id="nested"),
        pytest.param([[[[{"x": [TWO]}]]]], id="nested without names"),
        pytest.param(
            {"messages": [None, 3, "x", {}, *TWO, {"type": "call", "from": "Dana", "at": AT}]}, id="among others"
        ),
        pytest.param({"messages": TWO + TWO}, id="twice"),
    ],
)
def test_any_nesting(export: Any, take: Take) -> None:
    assert said(take(json.dumps(export))) == [TALK]


def test_one_message_a_line(take: Take) -> None:
    assert said(take("\n".join(json.dumps(message) for message in TWO))) == [TALK]


def test_newest_first_is_turned_round_even_within_one_second(take: Take) -> None:
    listed = [
        {"from": "Dana", "at": f"2026-03-11T14:05:{s}", "text": t} for s, t in (("10", "a"), ("10", "b"), ("11", "c"))
    ]
    assert said(take(json.dumps(listed[::-1]))) == said(take(json.dumps(listed)))


def chat(name: str, *texts: str, **more: Any) -> dict[str, Any]:
    return more | {
        "messages": [{"from": name, "at": f"2026-03-11T14:05:{n:02}", "text": t} for n, t in enumerate(texts)]
    }


def flat(*rows: tuple[str, str], **more: str) -> list[dict[str, str]]:
    return [{"from": who, "at": f"2026-03-11T14:05:{n:02}", "text": text} | more for n, (who, text) in enumerate(rows)]


MIXED = flat(("Dana", "a"), ("Bea", "b"), ("Nell", "c"), ("Dana", "d"))


@pytest.mark.parametrize(
    ("export", "senders", "expected"),
    [
        pytest.param([chat("Dana", "a"), chat("Bea", "b")], ["Nell"], ["a", "b"], id="two conversations"),
        pytest.param([chat("Dana", "a"), chat("Dana", "b")], ["Nell"], ["ab"], id="one in two parts"),
        pytest.param([chat("Dana", "a", id=1), chat("Dana", "b", id=2)], ["Nell"], ["a", "b"], id="two of one name"),
        pytest.param(MIXED, ["Nell"], ["ad", "bc"], id="an inbox in one list: the answer goes to who wrote last"),
        pytest.param(
            [m | ({"to": "Dana"} if m["text"] == "c" else {}) for m in MIXED],
            ["Nell"],
            ["acd", "b"],
            id="the answer says to whom",
        ),
        pytest.param(
            [m | {"thread_id": "xy"[m["text"] in "bc"]} for m in MIXED],
            ["Nell"],
            ["ad", "bc"],
            id="by conversation key",
        ),
        pytest.param([m | {"chat": {"id": 5}} for m in MIXED], ["Nell"], ["abcd"], id="a group by its key"),
        pytest.param({"title": "Shower", "messages": MIXED}, ["Nell"], ["abcd"], id="a group by its title"),
        pytest.param(
            flat(("Dana", "a"), ("Nell", "b")), [], ["ab"], id="nobody known: two people are one conversation"
        ),
        pytest.param(flat(("Dana", "a"), ("Bea", "b")), ["Nell"], ["a", "b"], id="the baker is known and not there"),
        pytest.param(flat(("Dana", "a"), ("Bea", "b"), ("Cy", "c")), [], ["a", "b", "c"], id="nobody known: an inbox"),
    ],
)
def test_conversations(export: Any, senders: list[str], expected: list[str], take: Take) -> None:
    threads = take(json.dumps(export), senders=senders).threads
    assert ["".join(m.text for m in t.messages) for t in threads] == expected
    assert len({t.key for t in threads}) == len(threads)


@pytest.mark.parametrize(
    ("flag", "mine"),
    [
        ({"mine": True}, True),
        ({"is_from_me": 1}, True),
        ({"fromMe": "true"}, True),
        ({"direction": "outbound"}, True),
        ({"type": "sent"}, True),
        ({"is_from_me": False}, False),
        ({"direction": "incoming"}, False),
        ({}, False),
    ],
    ids=str,
)
def test_what_the_export_says_is_the_account_holders_own(flag: dict[str, Any], mine: bool, take: Take) -> None:
    export = take(json.dumps([{"from": "Kitchen", "at": AT, "text": "hi"} | flag]), senders=[])
    assert [m.mine for m in export.threads[0].messages] == [mine]


def test_own_messages_without_a_name_go_to_the_contact(take: Take) -> None:
    rows = [
        {"contact_name": "Dana", "type": "received", "date": 1773255910000, "body": "2 dozen"},
        {"contact_name": "Bea", "type": "received", "date": 1773255920000, "body": "3 dozen"},
        {"contact_name": "Dana", "type": "sent", "date": 1773255930000, "body": "Yes"},
    ]
    export = take(json.dumps(rows), senders=[])
    assert [[m.text for m in t.messages] for t in export.threads] == [["2 dozen", "Yes"], ["3 dozen"]]
    assert [t.customer for t in export.threads] == ["Dana", "Bea"]
    assert export.parties == ("Dana", "Bea")


@pytest.mark.parametrize(
    ("media", "text", "names"),
    [
        ({"photos": [{"uri": "media/cake.jpg"}]}, "[photo]", ("cake.jpg",)),
        ({"photo": "photos/cake.jpg", "text": ""}, "[photo]", ("cake.jpg",)),
        ({"sticker": {"uri": "s.webp"}}, "[photo]", ("s.webp",)),
        ({"media_type": "image"}, "[photo]", ()),
        ({"attachments": [{"type": "image/jpeg"}]}, "[photo]", ()),
        ({"videos": [{"uri": "a/party.mp4"}]}, "[video]", ("party.mp4",)),
        ({"voice": "v/1.ogg"}, "[voice message]", ("1.ogg",)),
        ({"file": "list.pdf"}, "[file]", ("list.pdf",)),
        ({"photos": [{"uri": "cake.jpg"}], "text": "like this"}, "like this", ("cake.jpg",)),
    ],
    ids=str,
)
def test_photos(media: dict[str, Any], text: str, names: tuple[str, ...], take: Take) -> None:
    message = take(json.dumps([{"from": "Dana", "at": AT} | media])).threads[0].messages[0]
    assert (message.text, message.attachments) == (text, names)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("caf\u00c3\u00a9", "café"),
        ("it\u00e2\u0080\u0099s", "it’s"),
        ("itâ€™s", "it’s"),
        ("\u00f0\u009f\u008d\u00aa", "\U0001f36a"),
        ("café", "café"),
        ("it’s", "it’s"),
        ("½ dozen", "½ dozen"),
        ("plain", "plain"),
        ("caf\u00c3\u00a9 日本", "caf\u00c3\u00a9 日本"),
    ],
)
def test_repair(text: str, expected: str) -> None:
    assert repaired(text) == expected


@given(st.text())
def test_repair_undoes_what_the_export_did_and_nothing_else(text: str) -> None:
    spoilt = text.encode("utf-8", "surrogatepass").decode("latin-1")
    if not any("\ud800" <= c <= "\udfff" for c in text):
        assert repaired(spoilt) == text
    if repaired(text) != text:
        assert repaired(text).encode("utf-8") in (_bytes(text, "latin-1"), _bytes(text, "cp1252"))


def _bytes(text: str, table: str) -> bytes:
    return text.encode(table, "ignore")


def test_a_repair_is_kept_beside_the_text(take: Take) -> None:
    (message,) = take(json.dumps([{"from": "Zo\u00c3\u00ab", "at": AT, "text": "caf\u00c3\u00a9"}])).threads[0].messages
    assert (message.sender, message.text, message.raw) == ("Zoë", "café", "caf\u00c3\u00a9")


@pytest.mark.parametrize(
    ("message", "says"),
    [
        ({"from": "Dana", "at": "3/4/26", "text": "x"}, "1 message left out: no time that can be read (x)"),
        ({"from": "Dana", "text": "x"}, "1 message left out: no time"),
        ({"at": AT, "text": "x"}, "1 message left out: no sender is named"),
        ({"from": "Dana", "at": 0, "text": "x"}, "1 message dated 1970-01-01, which can't be right"),
        ({"from": "Dana", "at": "2093-01-01", "text": "x"}, "1 message dated 2093-01-01, which can't be right"),
        ({"from": "Dana", "at": AT, "text": "x" * 200_001}, "only the first 200,000 characters were read"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_a_doubtful_message_is_named_and_the_rest_goes_on(message: dict[str, Any], says: str, take: Take) -> None:
    export = take(json.dumps([*TWO, message]))
    assert [m.text for m in export.threads[0].messages][:2] == ["2 dozen", "Yes"]
    assert len(export.problems) == 1
    assert says in str(export.problems[0])
    assert str(export.problems[0]).startswith("export: ")


def test_ten_thousand_of_one_kind_are_one_line(take: Take) -> None:
    export = take(json.dumps([*TWO, *({"from": "Dana", "text": str(n)} for n in range(10_000))]))
    assert [str(p)[:28] for p in export.problems] == ["export: 10,000 messages left"]


def test_an_unknown_baker_is_asked_for(take: Take) -> None:
    export = take(json.dumps(TWO), senders=["Somebody"])
    assert "none of the senders is known to be you: Dana, Nell" in str(export.problems[0])
    assert set(export.parties) == {"Dana", "Nell"}


def test_json_without_messages_is_a_problem(take: Take) -> None:
    export = take('{"settings": [{"name": "x", "value": 3}]}')
    assert export.threads == ()
    assert "no messages were found" in str(export.problems[0])


@pytest.mark.parametrize("deep", ["[" * 900 + "]" * 900, '{"a":' * 900 + "1" + "}" * 900], ids=["lists", "objects"])
def test_deep_nesting_ends(deep: str, take: Take) -> None:
    assert take(f"[{deep}, {json.dumps(TWO)}]").threads
