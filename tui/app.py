"""The screens' wiring: opens the desk in a thread, owns the lanes of work, and goes between screens.

What the first paint does without (the Rack, the sheets over a screen) is imported when it is opened.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.app import App, SystemCommand
from textual.binding import BindingType
from textual.content import Content
from textual.worker import Worker, WorkerState

from intake.home import Home
from intake.model import Message, OrdertinError, Thread
from tui import words
from tui.actions import ACTIONS, ANYWHERE, BENCH, COUNTER, RACK, RULES, TILL, bindings
from tui.counter import Counter
from tui.counter_post import unknown
from tui.desk_screen import DeskScreen
from tui.lane import Job, Lane
from tui.look import look
from tui.plain import joined, plain
from tui.road import View
from tui.rules_watch import RulesWatch
from tui.themes import EVENING, MORNING, first_theme
from tui.unsent import Unsent

if TYPE_CHECKING:
    from textual.screen import Screen

PEEK_EVERY = 1.0
STOPPED = (
    "The screens stopped, and it is the program's fault. What you did is in the book. "
    "Run ordertin again; with --debug it shows where the fault is."
)


class OrdertinApp(App[int]):
    CSS_PATH = Path(__file__).with_name("ordertin.tcss")
    BINDINGS: ClassVar[list[BindingType]] = bindings(ANYWHERE)
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [  # type: ignore[misc]
        (0, "-narrow"),
        (110, "-wide"),
    ]
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = [  # type: ignore[misc]
        (0, "-short"),
        (20, "-tall"),
    ]

    def __init__(self, home: Home, *, demo: bool = False, debug: bool = False, desk: Any = None) -> None:
        """`desk` stands in for the one that would be opened on `home`."""
        super().__init__()
        self.home, self.demo = home, demo
        self.debugging = debug
        self.desk: Any = None
        self.opened = False
        self.unsent = Unsent(home.book.with_name("unsent.json"))
        self.lanes = {name: Lane(self, name) for name in ("desk", "room", "post")}
        self.rules: RulesWatch | None = None
        self._given = desk
        self._opening: Worker[Any] | None = None
        self.register_theme(EVENING)
        self.register_theme(MORNING)
        self.theme = first_theme(os.environ)

        self.counter = Counter(View(today=date.min))

    def get_default_screen(self) -> Counter:
        return self.counter

    def on_mount(self) -> None:
        self.call_after_refresh(self._open)

    async def on_event(self, event: events.Event) -> None:
        """What is typed at the Counter goes to its box, from wherever the arrows stand: the box has the focus before
        the letter is sent on, so that letters and the Enter after them keep their order."""
        typed = isinstance(event, events.Key) and event.is_printable and not event.is_forwarded
        if typed and self.screen_stack and self.screen is self.counter:
            self.counter.typing()
        here = bool(self.screen_stack) and self.screen is self.counter and self.counter.is_mounted
        if here and isinstance(event, events.Key) and not event.is_forwarded and self.counter.puts_off(event):
            return
        await super().on_event(event)

    async def on_key_in_turn(self, event: events.Key) -> None:
        """A key that had to wait, as if it were pressed now."""
        await super().on_event(event)

    def _open(self) -> None:
        """Begin to open the desk, once the screen has been drawn."""
        self._opening = self.run_worker(
            self._make_desk, name="open", group="open", thread=True, exclusive=True, exit_on_error=False
        )

    def _make_desk(self) -> Any:
        from intake.desk import Desk

        if self._given:
            return self._given
        desk = Desk(self.home)
        if not self.demo:
            desk.keep.weekly()
        return desk

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.worker is not self._opening:
            any(lane.ended(event.worker) for lane in self.lanes.values())
        elif event.state is WorkerState.SUCCESS:
            self._desk_is_open(event.worker.result)
        elif event.state is WorkerState.ERROR and event.worker.error is not None:
            self.counter.problem(event.worker.error)

    def _desk_is_open(self, desk: Any) -> None:
        self.desk, self.rules = desk, RulesWatch(self)
        counter = self.counter

        def seen(found: Any) -> None:
            self.opened = True
            counter.begin(found)

        self.lanes["desk"].put(Job("look", lambda desk: look(desk, ""), seen, counter.problem))
        self.lanes["desk"].put(Job("first", _is_first, counter.welcome, counter.problem))
        self.lanes["desk"].put(Job("outbox", unknown, counter.left_open, counter.problem))
        self.lanes["desk"].put(Job("warm", _warm, lambda _: None, counter.problem))
        for lane in self.lanes.values():
            lane.open(desk)
        self.set_interval(PEEK_EVERY, self._peek)

    def _peek(self) -> None:
        """See whether another window has changed the book, or the day is another; not while there is work under way."""
        screen = self.desk_screen()
        if screen is None or not self.lanes["desk"].idle:
            return
        if self.rules:
            self.rules.peek()

        def then(seen: object) -> None:
            if seen != screen.seen:
                screen.reload()

        self.lanes["desk"].put(Job("peek", lambda desk: (desk.version(), desk.now().date()), then, screen.problem))

    def desk_screen(self) -> DeskScreen | None:
        return next((screen for screen in reversed(self.screen_stack) if isinstance(screen, DeskScreen)), None)

    @property
    def idle(self) -> bool:
        """Whether no work is under way."""
        begun = self._opening is not None and self._opening.is_finished
        return begun and all(lane.idle for lane in self.lanes.values())

    def top_words(self, today: date) -> Content:
        day = plain(words.day(today) if today != date.min else "")
        return joined(plain("demo book", "bold") if self.demo else plain(""), day, by="  ")

    def open_at_counter(self, thread_id: str) -> None:
        """Go to the Counter with one conversation open."""
        self.action_go(COUNTER)
        self.counter.open(thread_id)

    def action_go(self, screen: str) -> None:
        """Go to the Rack, the Bench or the Till, one at a time over the Counter, or back to it."""
        if screen == COUNTER:
            if self.screen is not self.counter:
                self.pop_screen()
            return
        to: DeskScreen
        if screen == RACK:
            from tui.rack import Rack

            to = Rack()
        elif screen == BENCH:
            from tui.bench import Bench

            to = Bench(back=COUNTER if self.screen is self.counter else RACK)
        elif screen == TILL:
            from tui.till import TillScreen

            to = TillScreen()
        elif screen == RULES:
            from tui.rules import Rules

            to = Rules()
        if self.screen is self.counter:
            self.push_screen(to)
        elif type(self.screen) is not type(to):
            self.switch_screen(to)

    def action_help(self) -> None:
        from tui.page import Page, help_text

        self.push_screen(Page(help_text(self.home)))

    def action_light(self) -> None:
        self.theme = MORNING.name if self.current_theme.dark else EVENING.name

    def action_help_quit(self) -> None:
        """Ctrl+c copies marked text; where there is none it is most likely meant to close."""
        if (screen := self.desk_screen()) is not None:
            screen.tell("^q closes. What you did is in the book already.")

    def _fatal_error(self) -> None:
        """A fault of the screens themselves: one plain line, the trace where debugging is on."""
        if self.debugging:
            super()._fatal_error()
        else:
            self.panic(STOPPED)

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """The palette: the same table as the keys."""
        here = screen.place if isinstance(screen, DeskScreen) else COUNTER
        for action in ACTIONS:
            if {here, ANYWHERE} & set(action.on) and action.name != "more":
                yield SystemCommand(action.label, action.says, lambda name=action.name: self._do(screen, name))

    async def _do(self, screen: Screen[Any], action: str) -> None:
        if isinstance(screen, DeskScreen):
            await screen.do(action)


def _is_first(desk: Any) -> bool:
    """Whether the welcome is due."""
    from tui.welcome import is_first

    return is_first(desk)


def _warm(desk: Any) -> None:
    """Have the reader loaded before the first message needs it."""
    from intake.reading.pipeline import read

    # Most of it is loaded by the first words and the first day that are read.
    message = Message("warm", "", False, desk.now(), "2 dozen stars by Saturday at 3, pickup")
    read(Thread("warm", "chat", (message,)), desk.house.reading)


def needs_terminal() -> None:
    """Raises OrdertinError where there is no keyboard to read from or no terminal to draw on."""
    if not all(stream.isatty() for stream in (sys.stdin, sys.stdout, sys.stderr)):
        raise OrdertinError(
            "the screens need a terminal with a keyboard, and something is piped in or out",
            todo="To read a message from a pipe: ordertin read -",
        )


def run(home: Home, *, demo: bool = False, debug: bool = False) -> int:
    """Show the screens until they are closed; gives the exit status. `debug` shows where a fault of ours came up.

    Raises OrdertinError where there is no terminal.
    """
    needs_terminal()
    app = OrdertinApp(home, demo=demo, debug=debug)
    try:
        app.run()
    finally:
        if app.desk is not None:
            app.desk.close()
        if app.rules is not None:
            app.rules.close()
    return app.return_code or 0
