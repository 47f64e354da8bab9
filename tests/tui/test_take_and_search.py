"""Taking an export and searching, from the Counter."""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import count
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from intake import desk_taking
from intake.desk import Desk
from tui.ask import Ask
from tui.search_sheet import SearchSheet

from .conftest import SIZES, Opened, click, counter, press, settle, write
from .seen import screen_text

CHAT = [
    {"from": "Dana", "at": "2026-11-20T10:00", "text": "2 dozen fox cookies, pickup Saturday December 12 please"},
    {"from": "Nell A.", "at": "2026-11-20T11:00", "text": "Lovely! Which colors?"},
]
THREADS = [
    {
        "id": who,
        "channel": "chat",
        "messages": [{"id": "m1", "from": who, "mine": False, "at": f"2026-11-{day}T10:00", "text": text}],
    }
    for who, day, text in (("Ada", 10, "24 fox cookies, pickup December 12"), ("Bea", 12, "36 owls for December 13"))
]


def chat(folder: Path) -> Path:
    path = folder / "chat.json"
    path.write_text(json.dumps(CHAT))
    return path


async def taken_until_asked(pilot: Pilot[int], path: Path) -> None:
    """Begin to take `path`, up to the question who the baker is."""
    await counter(pilot).do("take")
    await settle(pilot)
    pilot.app.screen.query_one(Input).value = str(path)
    await pilot.press("enter")
    while not isinstance(pilot.app.screen, Ask):
        await pilot.pause(0.01)


@SIZES
async def test_an_export_is_taken_and_the_baker_is_asked_who_she_is(
    opened: Opened, desk: Desk, tmp_path: Path, size: tuple[int, int]
) -> None:
    async with opened(size) as pilot:
        await taken_until_asked(pilot, chat(tmp_path))
        assert "2  Nell A." in screen_text(pilot.app)
        await press(pilot, "2")
        await settle(pilot)
        assert "2 new messages in 1 new conversation, 1 new draft" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert counter(pilot).view.case is not None
        assert [m.mine for m in desk.case("t1").thread.messages] == [False, True]
        assert 'senders = ["Nell A."]' in desk.home.rules.read_text()


@pytest.mark.parametrize(
    ("name", "says"),
    [("nowhere.json", "there is no such file"), ("broken.json", "this is not whole JSON"), ("", "Take it")],
    ids=["missing", "broken", "nothing typed"],
)
async def test_what_can_not_be_taken_is_said(opened: Opened, tmp_path: Path, name: str, says: str) -> None:
    (tmp_path / "broken.json").write_text('[{"from"')
    async with opened() as pilot:
        await counter(pilot).do("take")
        await settle(pilot)
        pilot.app.screen.query_one(Input).value = str(tmp_path / name) if name else ""
        await press(pilot, "enter")
        assert says in " ".join(screen_text(pilot.app).replace("│", " ").split())
        await press(pilot, "escape")
        assert counter(pilot) is pilot.app.screen


async def test_a_take_can_be_stopped(opened: Opened, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(paths: object, *, progress: Callable[[str, int, int], None], who: object) -> None:
        for done in count():
            progress("box.mbox", done, 0)

    monkeypatch.setattr(desk, "take", endless)
    async with opened() as pilot:
        await counter(pilot).do("take")
        await settle(pilot)
        pilot.app.screen.query_one(Input).value = "box.mbox"
        await pilot.press("enter")
        while "messages found" not in screen_text(pilot.app):
            await pilot.pause(0.01)
        await press(pilot, "escape")
        assert "Stopped. Nothing was added." in screen_text(pilot.app)
        await press(pilot, "escape")
        assert counter(pilot) is pilot.app.screen


async def test_search_walks_and_opens_with_the_keyboard(opened: Opened, desk: Desk, tmp_path: Path) -> None:
    path = tmp_path / "threads.jsonl"
    path.write_text("\n".join(map(json.dumps, THREADS)))
    desk.take([path])
    async with opened() as pilot:
        await press(pilot, "ctrl+f")
        await write(pilot, "december")
        await settle(pilot)
        assert pilot.app.screen.query_one(OptionList).option_count == 2
        await press(pilot, "down", "enter")
        assert counter(pilot).view.thread_id == "t1"
        await press(pilot, "ctrl+f")
        await write(pilot, "zebra")
        await settle(pilot)
        assert "No message holds all of these words." in screen_text(pilot.app)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, SearchSheet)


async def test_an_old_conversation_is_found_with_the_mouse_and_read(
    opened: Opened, desk: Desk, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(desk_taking, "MOST_READ", 1)
    path = tmp_path / "threads.jsonl"
    path.write_text("\n".join(map(json.dumps, THREADS)))
    desk.take([path])
    async with opened() as pilot:
        await press(pilot, "ctrl+f")
        await write(pilot, "fox")
        await settle(pilot)
        await click(pilot, "#open")
        assert "F4 reads it" in " ".join(screen_text(pilot.app).split())
        await click(pilot, "#cap-read_it")
        order = counter(pilot).view.order
        assert order is not None
        assert order.draft.count.value == 24
        await press(pilot, "f10")
        assert counter(pilot).view.order is None


async def test_keys_on_each_others_heels_and_a_typed_name_choose_nothing_unmeant(
    opened: Opened, desk: Desk, tmp_path: Path
) -> None:
    async with opened() as pilot:
        await taken_until_asked(pilot, chat(tmp_path))
        await pilot.press("x", "enter")
        assert isinstance(pilot.app.screen, Ask)
        await pilot.press("n", "n", "n")
        await settle(pilot)
        assert "senders = []" in desk.home.rules.read_text()
        assert [m.mine for m in desk.case("t1").thread.messages] == [False, False]
