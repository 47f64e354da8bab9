"""Taking an export into the book: choose a file or a folder, see how far it is, read what came of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from threading import Event
from time import monotonic
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Button, DirectoryTree, Input, ProgressBar, Static

from intake.model import OrdertinError, TakeReport
from tui.plain import joined, plain

if TYPE_CHECKING:
    from tui.app import OrdertinApp

TOLD_EVERY = 0.1
_READS = "A mailbox, mails, a chat as JSON, CSV, text or a saved page; a folder or a zip of them. Twice adds nothing."
_MOST_NAMES = 9
STOPPED = "Stopped. Nothing was added."


class Stopped(Exception):
    """The baker has stopped a take before anything was written."""


class Files(DirectoryTree):
    """The folders of this machine, without what is hidden."""

    def filter_paths(self, paths: Iterable[Path]) -> Iterable[Path]:
        return [path for path in paths if not path.name.startswith(".")]


class TakeSheet(ModalScreen[str]):
    """Gives one line of what was taken, empty where nothing was."""

    BINDINGS: ClassVar = [("escape", "leave", "Back")]

    def __init__(self, folder: Path) -> None:
        """`folder` is where the choosing begins."""
        super().__init__()
        self._folder = folder
        self._stop = Event()
        self._working = False
        self._said = ""
        self._told = 0.0

    @property
    def ordertin(self) -> OrdertinApp:
        return self.app  # type: ignore[return-value]

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet take"):
            yield Static(plain("Take messages into the book", "bold"))
            yield Static(plain(_READS, "italic"), classes="hint")
            yield Input(placeholder="type, drop or choose a file or folder", id="take-path")
            yield Files(self._folder, id="take-files")
            yield ProgressBar(id="take-far", show_eta=False)
            with VerticalScroll(id="take-said", can_focus=True):
                yield Static(plain(""))
            with Horizontal(classes="answers"):
                yield Button(joined(plain("Enter", "bold"), plain("Take it"), by=" "), id="take-it", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Back"), by=" "), id="back", compact=True)

    def on_mount(self) -> None:
        self.query_one("#take-far").display = False
        self.query_one("#take-said").display = False
        self.query_one(Input).focus()

    @on(DirectoryTree.FileSelected)
    @on(DirectoryTree.DirectorySelected)
    def _chosen(self, event: DirectoryTree.FileSelected | DirectoryTree.DirectorySelected) -> None:
        self.query_one(Input).value = str(event.path)

    @on(Input.Submitted)
    def _typed(self) -> None:
        self._take()

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        if event.button.id == "take-it" and not self._said:
            self._take()
        else:
            self.action_leave()

    def action_leave(self) -> None:
        """Stop what is under way, or close."""
        if self._working:
            self._stop.set()
            self._tell("Stopping ...")
        else:
            self.dismiss(self._said)

    def _take(self) -> None:
        from tui.lane import Job

        # A file that is dropped on a terminal comes with quotes around its name, or with its blanks guarded.
        typed = self.query_one(Input).value.strip().strip("'\"")
        path = Path(typed).expanduser()
        if not typed or self._working:
            return
        if not path.exists() and "\\ " in typed:
            path = Path(typed.replace("\\ ", " ")).expanduser()
        self._working, self._said = True, ""
        self._stop.clear()
        self.query_one(Files).display = False
        self.query_one("#take-far").display = True
        self._tell(f"Opening {path.name} ...")

        def work(desk: Any) -> TakeReport:
            report: TakeReport = desk.take([path], progress=self._far, who=self._who)
            return report

        self.ordertin.lanes["desk"].put(Job("take", work, self._done, self._failed))

    # In the thread of the work

    def _far(self, name: str, done: int, of: int) -> None:
        if self._stop.is_set():
            raise Stopped
        if monotonic() - self._told < TOLD_EVERY and done != of:
            return
        self._told = monotonic()
        self.app.call_from_thread(self._show, name, done, of)

    def _who(self, names: Sequence[str]) -> str:
        """The baker's answer to which sender she is; the work waits for it."""
        given: list[str] = []
        answered = Event()

        def then(name: str) -> None:
            given.append(name)
            answered.set()

        self.app.call_from_thread(self._ask_who, names, then)
        while not answered.wait(0.2):
            if self._stop.is_set() or not self.app.is_running:
                raise Stopped
        return given[0]

    # Among the app's handlers

    def _ask_who(self, names: Sequence[str], then: Callable[[str], None]) -> None:
        from tui.ask import Answer, Ask

        shown = names[:_MOST_NAMES]
        choices = [Answer(str(number), name) for number, name in enumerate(shown, 1)] + [Answer("n", "none of them")]
        question = plain("Which of these senders is you? Press the key; it is remembered in your house rules.")
        self.app.push_screen(
            Ask(question, choices, first=False), lambda key: then(shown[int(key) - 1] if key and key.isdigit() else "")
        )

    def _show(self, name: str, done: int, of: int) -> None:
        self.query_one(ProgressBar).update(total=of or None, progress=done if of else 0)
        self._tell(f"{name}: {done:,} of {of:,} conversations read" if of else f"{name}: {done:,} messages found")

    def _tell(self, *lines: str) -> None:
        said = self.query_one("#take-said")
        said.display = True
        said.query_one(Static).update(joined(*(plain(line) for line in lines), by="\n"))

    def _done(self, report: TakeReport) -> None:
        from intake.slip_text import take_lines

        self._working = False
        lines = take_lines(report)
        self._said = lines[0]
        problems = [f"! {problem}" for problem in report.problems]
        self._close(*lines, *(["", f"What could not be read ({len(problems)}):", *problems] if problems else []))

    def _failed(self, error: BaseException) -> None:
        self._working = False
        if isinstance(error, Stopped):
            self._said = STOPPED
            self._close(STOPPED)
        elif isinstance(error, OrdertinError):
            self._close(f"! {error}")
        else:
            self.dismiss("")
            self.ordertin.counter.problem(error)

    def _close(self, *lines: str) -> None:
        self.query_one("#take-far").display = False
        self._tell(*lines)
        button = self.query_one("#take-it", Button)
        button.display = not self._said
        self.query_one(Files).display = not self._said
        self.query_one("#back").focus()
