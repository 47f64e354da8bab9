"""The welcome of a first run: three questions, each of which may be skipped, kept in the house rules."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Button, Input, Static

from intake.house import WEEKDAYS, default_text
from intake.house_form import Field, Refusal, changed, put, read, sections
from intake.model import OrdertinError
from tui.form_row import FormRow
from tui.plain import joined, plain

FIRST_MESSAGE = (
    "Now the first message: copy what a customer wrote, paste it below and press Enter; ^a takes in a whole export. "
    "To look around first, close (^q) and type: ordertin demo"
)


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked, why, and the house rules that it is about, each with its words here and a note."""

    asks: str
    why: str
    rules: tuple[tuple[tuple[str, ...], str, str], ...]


QUESTIONS: tuple[Question, ...] = (
    Question(
        "What is your shop called, and you?",
        "Answers to customers are signed with it.",
        (
            (("house", "name"), "your shop", "as customers know it"),
            (("house", "baker"), "you", "how you sign, such as Nell; may stay empty"),
            (("house", "place"), "picked up at", "where customers fetch their cookies"),
        ),
    ),
    Question(
        "What does a dozen cost?",
        "Every price is worked out from this, and you see why, line by line.",
        (
            (("house", "currency"), "currency", "three letters: USD, CAD, EUR, GBP, ..."),
            (("rates", "per_dozen", "plain"), "plain", "one dozen: a shape and a flood of icing"),
            (("rates", "per_dozen", "detailed"), "detailed", "one dozen: several colors and some piping"),
            (("rates", "per_dozen", "elaborate"), "elaborate", "one dozen: all that you can do"),
        ),
    ),
    Question(
        "When are your hands free to bake?",
        "Hours such as 18:00-21:30, a semicolon between two; empty is a day off.",
        tuple((("hours", day), day.capitalize(), "") for day in WEEKDAYS),
    ),
)


def is_first(desk: Any) -> bool:
    """Whether nothing has been taken into the book, and the house rules are as they came."""
    return read(desk.home.rules) == default_text() and not desk.customers()


class Welcome(ModalScreen[bool]):
    """Asks one question after another; gives whether anything was put into the house rules."""

    BINDINGS: ClassVar = [("escape", "skip", "Skip")]

    def __init__(self, rules: Path) -> None:
        super().__init__()
        self._rules = rules
        self._seen = self._text = read(rules)
        self._at = 0

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet welcome"):
            yield Static(plain(""), id="welcome-asks")
            yield VerticalScroll(id="welcome-form", can_focus=False)
            with Horizontal(classes="answers"):
                yield Button(joined(plain("Enter", "bold"), plain("Go on"), by="  "), id="go-on", compact=True)
                yield Button(joined(plain("Esc", "bold"), plain("Skip this"), by="  "), id="skip", compact=True)
                yield Button(plain("Skip all"), id="skip-all", compact=True)

    async def on_mount(self) -> None:
        await self._ask()

    @property
    def rows(self) -> list[FormRow]:
        return list(self.query(FormRow))

    async def _ask(self) -> None:
        question = QUESTIONS[self._at]
        hello = "Welcome to ordertin. " if self._at == 0 else ""
        head = plain(f"{hello}{self._at + 1} of {len(QUESTIONS)}  {question.asks}", "bold")
        self.query_one("#welcome-asks", Static).update(joined(head, plain(question.why, "italic"), by="\n"))
        fields = {field.path: field for section in sections(self._text) for field in section.fields}
        form = self.query_one("#welcome-form")
        await form.remove_children()
        rows = [FormRow(_bare(fields[path]), called=label, note=note) for path, label, note in question.rules]
        await form.mount(*rows)
        rows[0].begin()

    @on(Input.Submitted)
    async def _entered(self, event: Input.Submitted) -> None:
        """Enter goes from line to line, and from the last one on."""
        event.stop()
        lines = [row.query_one(Input) for row in self.rows]
        place = lines.index(event.input)
        if place + 1 < len(lines):
            self.rows[place + 1].begin()
        else:
            await self._keep()

    @on(Button.Pressed, "#go-on")
    async def _keep(self) -> None:
        rows = self.rows
        for row in rows:
            row.refuse("")
        after = changed(self._text, {row.field.path: row.typed for row in rows})
        if isinstance(after, Refusal):
            wrong = next((row for row in rows if row.field.path == after.path), rows[0])
            wrong.refuse(after.what)
            wrong.begin()
            return
        self._text = after
        await self._on()

    @on(Button.Pressed, "#skip")
    async def action_skip(self) -> None:
        await self._on()

    @on(Button.Pressed, "#skip-all")
    def _skip_all(self) -> None:
        self._close()

    async def _on(self) -> None:
        self._at += 1
        if self._at < len(QUESTIONS):
            await self._ask()
        else:
            self._close()

    def _close(self) -> None:
        if self._text == self._seen:
            self.dismiss(False)
            return
        try:
            put(self._rules, self._seen, self._text)
        except OrdertinError as error:
            self.query_one("#welcome-asks", Static).update(plain(f"! {error}", "bold"))
            self._seen = read(self._rules)
            self._at = len(QUESTIONS) - 1
            return
        self.dismiss(True)

    def on_key(self, event: events.Key) -> None:
        """Up and down walk the lines."""
        if event.key in ("up", "down"):
            event.stop()
            (self.focus_previous if event.key == "up" else self.focus_next)()


def _bare(field: Field) -> Field:
    """The field without the words that the question above it says already."""
    from dataclasses import replace

    return replace(field, kind="words", note="", choices=())
