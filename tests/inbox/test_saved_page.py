"""Saved pages: a conversation put into pages of many makes, and the messages that should come of each."""

from __future__ import annotations

import html
import json
import random
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.inbox.baker import Baker
from intake.inbox.saved_page import is_page, talks_of_page
from intake.inbox.shapes import Entry
from intake.inbox.talks import threads_of_talks
from tests.inbox.conftest import ZONE

SAMPLE = Path(__file__).parents[2] / "sample_messages" / "saved_page.html"
AT = datetime(2026, 3, 20, 12, 0, tzinfo=ZONE)
Said = tuple[str, datetime, str]


def entries(source: str, **more: Any) -> list[Entry]:
    talks, _ = talks_of_page(source, ZONE, where="p.html", at=AT, **more)
    return [entry for talk in talks for entry in talk.entries]


def read(source: str) -> list[Said]:
    found = entries(source)
    assert all(entry.at for entry in found)
    return [(e.sender, e.at, e.text) for e in found if e.at]


def shown(at: datetime) -> str:
    return f"{at:%m/%d/%Y %I:%M %p}"


def lines(text: str) -> str:
    return html.escape(text).replace("\n", "<br>")


def each(form: str) -> Callable[[list[Said]], str]:
    """A page of one form, repeated for each message."""

    def page(rows: list[Said]) -> str:
        return "".join(
            form.format(s=html.escape(s), t=shown(at), i=at.isoformat(), w=lines(w), c="out" if s == "Nell" else "in")
            for s, at, w in rows
        )

    return page


def grouped(rows: list[Said]) -> str:
    """The name above the first of several bubbles of one sender only."""
    page, last = [], ""
    for who, at, words in rows:
        if who != last:
            page.append("</div>" if page else "")
            page.append(f'<div class="group"><div class="name">{html.escape(who)}</div>')
        page.append(f'<div class="bubble"><p>{lines(words)}</p><span class="time">{shown(at)}</span></div>')
        last = who
    return "".join(page) + "</div>"


def first_only(rows: list[Said]) -> str:
    """The name within the first of several bubbles of one sender only."""
    page, last = [], ""
    for who, at, words in rows:
        name = f'<span class="author">{html.escape(who)}</span>' if who != last else ""
        page.append(f'<li class="post">{name}')
        page.append(f'<time datetime="{at.isoformat()}">then</time><div class="body">{lines(words)}</div></li>')
        last = who
    return "<ul>" + "".join(page) + "</ul>"


FORMS: dict[str, Callable[[list[Said]], str]] = {
    "divs with classes": each(
        '<div class="msg"><div class="sender">{s}</div><div class="when">{t}</div><div class="text">{w}</div></div>'
    ),
    "divs without classes": each("<div><div>{s}</div><div>{t}</div><div>{w}</div></div>"),
    "nested divs": each(
        '<div class="row"><div class="wrap"><div class="head"><b>{s}</b> <i>{t}</i></div>'
        '<div class="words">{w}</div></div></div>'
    ),
    "both sides": each(
        '<div class="message {c}"><span class="from">{s}</span><p>{w}</p><time datetime="{i}">then</time></div>'
    ),
    "time in a title": each(
        '<div class="message"><span class="from">{s}</span> <span class="ago" title="{t}">2h</span><p>{w}</p></div>'
    ),
    "time and name in attributes": each('<div data-author="{s}" data-time="{i}"><p>{w}</p></div>'),
    "table": lambda rows: (
        "<table><tr><th>Who<th>When<th>What</tr>"
        + each("<tr><td>{s}</td><td>{t}</td><td>{w}</td></tr>")(rows)
        + "</table>"
    ),
    "list": lambda rows: "<ol>" + each("<li><strong>{s}</strong> <em>{t}</em><br>{w}</li>")(rows) + "</ol>",
    "list without end tags": lambda rows: "<ul>" + each("<li><b>{s}</b> ({t})<p>{w}")(rows) + "</ul>",
    "definition list": lambda rows: (
        "<dl>" + each("<dt>{s} <time datetime='{i}'>then</time></dt><dd>{w}</dd>")(rows) + "</dl>"
    ),
    "headings and paragraphs": each("<h4>{s} — {t}</h4><p>{w}</p>"),
    "articles": each('<article><header><a href="#">{s}</a> · {t}</header><div>{w}</div></article>'),
    "grouped bubbles": grouped,
    "name on the first only": first_only,
}

people = ["Dana Reyes", "Nell"]
words = st.lists(
    st.text(st.characters(categories=["L", "Nd"], include_characters="!?.,'&<>\"-"), min_size=1, max_size=9),
    min_size=2,
    max_size=6,
).map(lambda found: "so " + " ".join(found) + " please")
rows_of = st.lists(st.tuples(st.sampled_from(people), st.integers(0, 600), words), min_size=6, max_size=12)


@pytest.mark.parametrize("form", FORMS.values(), ids=FORMS)
@settings(max_examples=30)
@given(rows_of, st.booleans())
def test_any_make_of_page_is_read_back(form: Callable[[list[Said]], str], rows: list[Any], broken: bool) -> None:
    at = datetime(2026, 2, 14, 9, 0, tzinfo=ZONE)
    said: list[Said] = []
    for n, (_, minutes, text) in enumerate(rows):
        at += timedelta(minutes=minutes)
        said.append((people[n % 3 % 2], at, text.replace(" ", "\n", 1) if broken else text))
    page = f"<!doctype html><html><head><title>Kept</title></head><body><main>{form(said)}</main></body></html>"
    assert read(page) == said


def test_a_page_of_something_else() -> None:
    head = "<html><body><h1>Cookies</h1><p>March 14, 2026</p><p>By Nell</p>"
    assert entries(f"{head}<p>Cream the butter.</p><p>Chill for 2 hours.</p></body>") == []


TALK = [
    ("Dana", "3/14/2026 9:05 AM", "2 dozen"),
    ("Nell", "3/14/2026 9:06 AM", "yes"),
    ("Dana", "3/15/2026 1:00 PM", "ok"),
]


def chat(form: str, head: str = "") -> str:
    body = "".join(
        form.format(s=s, t=t, w=w, c="out" if s == "Nell" else "in", n=n) for n, (s, t, w) in enumerate(TALK)
    )
    return f"<html><head>{head}</head><body>{body}</body></html>"


@pytest.mark.parametrize(
    ("classes", "mine"),
    [
        ('"msg {c}"', [False, True, False]),
        ('"msg msg--{c}going"', [False, True, False]),
        ('"msg {c}-bubble"', [False, True, False]),
        ('"msg in"', [None, None, None]),
        ('"msg"', [None, None, None]),
        ('"msg me-2 {c}2"', [None, None, None]),
    ],
)
def test_whose_bubble(classes: str, mine: list[bool | None]) -> None:
    form = f'<div class={classes}><b class="name">{{s}}</b><span class="time">{{t}}</span><p>{{w}}</p></div>'
    assert [entry.mine for entry in entries(chat(form))] == mine


@pytest.mark.parametrize(
    ("inside", "text", "photos"),
    [
        ("<p>{w}</p>", "2 dozen", ()),
        ("<p>{w}</p><blockquote>said before</blockquote>", "2 dozen", ()),
        ('<div class="quoted-message"><b>Nell</b> hi</div><p>{w}</p>', "2 dozen", ()),
        ('<p>{w}</p><img src="files/cat.jpg?size=2">', "2 dozen", ("cat.jpg",)),
        ('<img src="cat.jpg">', "[photo]", ("cat.jpg",)),
        ('<img src="data:image/png;base64,AAAA">', "[photo]", ("photo",)),
        ('<p>{w} <img class="emoji" alt="🎂" src="e.png"></p>', "2 dozen 🎂", ()),
        ('<img class="avatar" alt="D" src="d.png"><p>{w}</p>', "2 dozen", ()),
        ("<p>{w}</p><button>Reply</button><svg><text>x</text></svg>", "2 dozen", ()),
        ("<p>{w}<br>and 3:00 pm</p>", "2 dozen\nand 3:00 pm", ()),
        ("<p>{w}</p><script>var a = '<p>9:05</p>'</script><!-- no -->", "2 dozen", ()),
        ("<p>a &lt;b&gt; &amp; {w}</p>", "a <b> & 2 dozen", ()),
    ],
)
def test_what_is_in_a_bubble(inside: str, text: str, photos: tuple[str, ...]) -> None:
    form = f'<div class="m"><b class="name">{{s}}</b><span class="time">{{t}}</span>{inside}</div>'
    first = entries(chat(form))[0]
    assert (first.sender, first.text, first.attachments) == ("Dana", text, photos)


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("<title>Conversation with Dana Reyes</title>", "Dana Reyes"),
        ("<title>Dana</title>", "Dana"),
        ("<title>Inbox (3)</title>", ""),
        ("", ""),
    ],
)
def test_the_name_of_the_talk(title: str, name: str) -> None:
    form = '<div class="m"><b class="name">{s}</b><span class="time">{t}</span><p>{w}</p></div>'
    [talk], _ = talks_of_page(chat(form, title), ZONE, where="p", at=AT)
    assert talk.name == name


SIDES = '<div class="msg {c}"><p>{w}</p><span class="time">{t}</span></div>'


def test_sides_without_names() -> None:
    found = entries(chat(SIDES, "<title>Chat with Dana Reyes</title>"))
    assert [(e.sender, e.mine, e.to) for e in found] == [
        ("Dana Reyes", False, ""),
        ("", True, "Dana Reyes"),
        ("Dana Reyes", False, ""),
    ]
    assert [e.sender for e in entries(chat(SIDES))] == ["customer", "", "customer"]


DAY = '<div class="day">{}</div>'
BUBBLE = '<div class="msg"><b class="name">{}</b><span class="time">{}</span><p>words {}</p></div>'


@pytest.mark.parametrize(
    ("day", "clock", "expected"),
    [
        ("March 14, 2026", "9:05 PM", "2026-03-14T21:05"),
        ("Saturday, March 14", "21:05", "2026-03-14T21:05"),
        ("14.03.2026", "21:05", "2026-03-14T21:05"),
        ("Today", "9:05 AM", "2026-03-20T09:05"),
        ("Yesterday", "9:05 PM", "2026-03-19T21:05"),
        ("Tuesday", "9:05 PM", "2026-03-17T21:05"),
        ("Dec 30", "9:05 PM", "2025-12-30T21:05"),
        ("Ayer", "21:05", "2026-03-19T21:05"),
    ],
)
def test_days_between_the_bubbles(day: str, clock: str, expected: str) -> None:
    page = f"<body>{DAY.format(day)}" + "".join(
        BUBBLE.format(s, clock, n) for n, s in enumerate(("Dana", "Nell", "Dana"))
    )
    assert [f"{entry.at:%Y-%m-%dT%H:%M}" for entry in entries(page)] == [expected] * 3


def test_a_time_without_a_day_is_the_days_before_the_page_was_saved() -> None:
    page = "<body>" + BUBBLE.format("Dana", "9:05 PM", 1) + BUBBLE.format("Nell", "9:05 AM", 2)
    talks, [problem] = talks_of_page(page, ZONE, where="p", at=AT)
    assert [f"{entry.at:%d %H:%M}" for entry in talks[0].entries] == ["19 21:05", "20 09:05"]
    assert "2 messages show a clock time and no day" in problem.what


@pytest.mark.parametrize(("order", "month"), [("MDY", 3), ("DMY", 4)])
def test_dates_that_can_be_read_in_two_ways(order: str, month: int) -> None:
    page = "<body>" + BUBBLE.format("Dana", "3/4/2026 9:05 PM", 1) + BUBBLE.format("Nell", "3/4/2026 9:06 PM", 2)
    talks, [problem] = talks_of_page(page, ZONE, where="p", at=AT, date_order=order)
    assert [entry.at and entry.at.month for entry in talks[0].entries] == [month] * 2
    assert "two ways" in problem.what


def test_the_same_words_in_one_minute_are_told_apart() -> None:
    page = "<body>" + "".join(BUBBLE.format(s, "3/14/2026 9:05 PM", "x") for s in ("Dana", "Nell", "Dana"))
    assert [entry.nth for entry in entries(page)] == [0, 0, 1]


def test_messages_that_a_script_holds() -> None:
    held = json.dumps({"messages": [{"from": "Dana", "at": "2026-03-14T09:05:00", "text": "2 <b> dozen"}]})
    page = f'<!doctype html><html><body><div id="app"></div><script type="application/json">{held}</script></body>'
    assert [(e.sender, e.text) for e in entries(page)] == [("Dana", "2 <b> dozen")]
    assert entries(page.replace("application/json", "text/javascript")) == []


@pytest.mark.parametrize(
    ("head", "expected"),
    [
        ("<!DOCTYPE html><html>", True),
        ("\ufeff\n<html lang=en>", True),
        ("<!-- kept from a page -->\n<html>", True),
        ('<?xml version="1.0"?><!DOCTYPE html>', True),
        ('<div class="chat">', True),
        ("<?xml version='1.0'?><messages>", False),
        ("<Dana> hi", False),
        ("From: Dana <dana@example.com>\n\n<html>", False),
        ('{"page": "<html>"}', False),
        ("hi <b>there</b>", False),
        ("", False),
    ],
)
def test_is_a_page(head: str, expected: bool) -> None:
    assert is_page(head) == expected


def mutated(source: str, pick: random.Random) -> str:
    for _ in range(pick.randrange(1, 15)):
        at = pick.randrange(len(source) + 1)
        new = pick.choice(
            ("<", ">", '"', "</div>", "<div>", "<!--", "-->", "<script>", "9:05", "&#", "\0", "<td>", "", "'")
        )
        source = source[:at] + new + source[at + pick.choice((0, 0, 1, 7, 60)) :]
    return source


def test_mutations() -> None:
    pick = random.Random(20260314)
    said = [(people[n % 2], datetime(2026, 2, 14, 9, n, tzinfo=ZONE), f"words {n}") for n in range(8)]
    sources = [form(said) for form in FORMS.values()]
    for n in range(300):
        source = mutated(sources[n % len(sources)], pick)
        is_page(source)
        entries(source)


def hostile() -> Iterator[Any]:
    """Parts that a page may hold any number of."""
    for part in (
        *("<div>", "<", "<!--", '<a "', "<a '\"'\"", '<a "<" \'', "<script>", "</div>", "<a", "<title>", "\0", "<br>"),
        *("<div class=a>9:05<b>", "&amp", "9:05 - hi, ", "<script type=application/json>", "<p>9:05</p>", "&nbsp;"),
        *("<dl><dt>D<dd>9:05<dd>x", "<dt>D<dd>9:05", "<table><tr><td>", "<i class=a>x 9:05</i><u class=b>y"),
    ):
        yield pytest.param(part * (200_000 // len(part)), id=part)


@pytest.mark.parametrize("source", hostile())
def test_hostile_pages_end(source: str) -> None:
    assert all(entry.text for entry in entries(source))


def test_the_example() -> None:
    source = SAMPLE.read_text(encoding="utf-8")
    assert is_page(source)
    saved = datetime(2027, 6, 1, 12, 0, tzinfo=ZONE)
    talks, problems = talks_of_page(source, ZONE, where="p", at=saved)
    assert problems == []
    threads, problems = threads_of_talks(talks, baker=Baker(), latest=saved)
    assert problems == []
    assert [(t.customer, [m.mine for m in t.messages]) for t in threads] == [
        ("Thaddeus Birch", [False, False, True, False, True, False])
    ]
