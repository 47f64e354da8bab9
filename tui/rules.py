"""The house rules as a screen: sections on the left, a form on the right, kept in the file with its notes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from intake import house, house_form
from intake.house_form import Field, Refusal, Section
from intake.model import OrdertinError
from tui.actions import RULES, bindings
from tui.actions import on as actions_on
from tui.caps import Caps
from tui.desk_screen import DeskScreen
from tui.form_row import FormRow
from tui.notice import Notice
from tui.plain import joined, plain
from tui.top import Top

HOW = "Choose a section, Enter to its form. F4 keeps what you typed. Nothing holds before that."
_FOUND = "found"
Path = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Kept:
    """The file before and after the last time something was kept."""

    before: str
    after: str


class SectionList(OptionList):
    BINDINGS: ClassVar = [("enter,right", "screen.to_form", "To its form")]


class Rules(DeskScreen):
    place: ClassVar[str] = RULES
    BINDINGS: ClassVar = [*bindings(RULES), ("escape", "step_out", "Back")]
    #: What undo takes back; it outlives the screen, and only as long as the program is open.
    last: ClassVar[dict[str, Kept]] = {}

    def __init__(self) -> None:
        super().__init__()
        self._text = ""
        self._sections: tuple[Section, ...] = ()
        self._shown = ""
        self._typed: dict[Path, str] = {}
        self._wrong: dict[Path, str] = {}
        self._today = date.min
        self._version: object = None

    def compose(self) -> ComposeResult:
        yield Top("House rules", RULES, demo=self.ordertin.demo)
        with Horizontal(id="body"):
            with Vertical(id="rules-left"):
                yield Input(placeholder="find a rule", id="rules-find", compact=True)
                yield SectionList(id="rules-sections")
            yield VerticalScroll(id="rules-form", can_focus=False)
        yield Notice(id="notice")
        yield Caps((action for action in actions_on(RULES) if action.bar == "foot"), id="foot")

    async def on_mount(self) -> None:
        self.query_one("#rules-sections").focus()
        await self._read()
        if self._sections:
            self.tell(HOW)

    @property
    def seen(self) -> object:
        return self._version, self._today

    def reload(self) -> None:
        def looked(found: tuple[object, date]) -> None:
            self._version, self._today = found
            self.query_one(Top).say(self.ordertin.top_words(self._today))
            self.call_later(self._read_again)

        self.ask_desk("rules", lambda desk: (desk.version(), desk.now().date()), looked, fresh=True)

    def on_screen_resume(self) -> None:
        self.reload()

    # What is on the screen

    async def _read_again(self) -> None:
        """Take up a change of the file; what she has typed stays typed."""
        if self._file() not in ("", self._text):
            await self._read()
            self.tell("The file was changed elsewhere, and has been read again. What you typed is still here.")

    def _file(self) -> str:
        try:
            return house_form.read(self.ordertin.home.rules)
        except OrdertinError as error:
            self.tell(str(error), "problem")
            return ""

    async def _read(self) -> None:
        self._text = self._file()
        try:
            house.parse(self._text)
            self._sections = house_form.sections(self._text)
        except OrdertinError as error:
            self.tell(f"{error} Until then no form can be shown.", "problem")
            return
        first = self._sections[0].name if self._sections else ""
        self._list()
        if self._shown == _FOUND:
            await self._show_found()
        else:
            await self._show(self._shown or first)

    def _list(self) -> None:
        touched = {path[0] for path in self._typed}
        wrong = {path[0] for path in self._wrong}
        found = self.query_one("#rules-sections", OptionList)
        rows = []
        for section in self._sections:
            sign = "!" if section.name in wrong else "*" if section.name in touched else " "
            rows.append(Option(joined(plain(sign, "bold"), plain(section.title), by=" "), id=section.name))
        with self.prevent(OptionList.OptionHighlighted):
            here = found.highlighted
            found.set_options(rows)
            names = [section.name for section in self._sections]
            found.highlighted = names.index(self._shown) if self._shown in names else here or 0

    async def _show(self, name: str, fields: tuple[Field, ...] | None = None) -> None:
        """Lay out one section, or the `fields` that were found."""
        self._shown = name
        section = next((each for each in self._sections if each.name == name), None)
        listed = fields if fields is not None else section.fields if section else ()
        form = self.query_one("#rules-form")
        await form.remove_children()
        title = section.title if section and fields is None else f"{len(listed)} rules found"
        note = section.note if section and fields is None else ""
        head = joined(plain(title, "bold underline"), plain(note, "italic"), by="\n")
        rows = [FormRow(each, self._typed.get(each.path), called=self._label(each, fields)) for each in listed]
        await form.mount(Static(head, classes="form-head"), *rows)
        form.scroll_home(animate=False)
        for row in rows:
            if row.field.path in self._wrong:
                row.refuse(self._wrong[row.field.path])
        self._show_caps()

    def _label(self, field: Field, found: object) -> str:
        if found is None:
            return field.label
        return f"{house_form.TITLES.get(field.path[0], field.path[0])}: {field.label}"

    def _show_caps(self) -> None:
        off = set() if self._typed else {"keep_rules"}
        off |= set() if self.last.get(str(self.ordertin.home.rules)) else {"undo"}
        self.query_one(Caps).show("keep_rules" if self._typed else "", frozenset(off))

    # Moving about

    @on(OptionList.OptionHighlighted, "#rules-sections")
    async def _pointed_at(self, event: OptionList.OptionHighlighted) -> None:
        if event.option_id and event.option_id != self._shown:
            await self._show(event.option_id)

    @on(OptionList.OptionSelected, "#rules-sections")
    def action_to_form(self) -> None:
        for row in self.query(FormRow):
            if row.query(Input):
                row.begin()
                return

    def on_key(self, event: events.Key) -> None:
        """Up and down walk the lines of a form."""
        inside = isinstance(self.focused, Input)
        if inside and event.key in ("up", "down"):
            event.stop()
            (self.focus_previous if event.key == "up" else self.focus_next)()

    async def action_step_out(self) -> None:
        """From the form to the sections, from those to the Counter."""
        found = self.query_one("#rules-find", Input)
        if found.value:
            found.value = ""
            await self._show(self._sections[0].name if self._sections else "")
        if isinstance(self.focused, Input):
            self.query_one("#rules-sections").focus()
        else:
            await self.action_go_counter()

    @on(Input.Changed, "#rules-find")
    async def _show_found(self) -> None:
        wanted = self.query_one("#rules-find", Input).value.casefold().split()
        if wanted:
            every = (field for section in self._sections for field in section.fields)
            hits = [each for each in every if all(word in _all_words(each) for word in wanted)]
            await self._show(_FOUND, tuple(hits[:30]))

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        """Enter goes on to the next line; from the search to what was found."""
        event.stop()
        if event.input.id == "rules-find":
            self.action_to_form()
        else:
            self.focus_next()

    @on(Input.Changed, ".form-typed")
    def _changed(self, event: Input.Changed) -> None:
        row = next(node for node in event.input.ancestors if isinstance(node, FormRow))
        before = set(self._typed), set(self._wrong)
        if event.value == row.field.typed:
            self._typed.pop(row.field.path, None)
        else:
            self._typed[row.field.path] = event.value
        if self._wrong.pop(row.field.path, ""):
            row.refuse("")
        if before != (set(self._typed), set(self._wrong)):
            self._list()
            self._show_caps()

    # Keeping

    async def action_keep_rules(self) -> None:
        if not self._typed:
            self.tell("Nothing has been changed.")
            return
        after = house_form.changed(self._text, self._typed)
        if isinstance(after, Refusal):
            await self._refuse(after)
            return
        await self._put(self._text, after, len(self._typed))

    async def _put(self, before: str, after: str, rules: int) -> None:
        """Write the file, and have the program go by it."""
        try:
            house_form.put(self.ordertin.home.rules, before, after)
        except OrdertinError as error:
            await self._read()
            self.tell(str(error), "problem")
            return
        self._text, self._typed, self._wrong = after, {}, {}
        held = str(self.ordertin.home.rules)
        self.last.pop(held, None)
        if rules:
            self.last[held] = Kept(before, after)
        many = f"{rules} rule{'' if rules == 1 else 's'} kept. F10 takes it back." if rules else "Taken back."
        if self.ordertin.rules:
            self.ordertin.rules.renew(lambda: None, f"{many} It holds from now on; what is booked keeps its price.")
        await self._read()

    async def _refuse(self, refused: Refusal) -> None:
        """Go to the field that is at fault, and say what is wrong beside it."""
        self._wrong = {refused.path: refused.what} if refused.path else {}
        if refused.path and not any(row.field.path == refused.path for row in self.query(FormRow)):
            await self._show(refused.path[0])
        for row in self.query(FormRow):
            row.refuse(self._wrong.get(row.field.path, ""))
            if row.field.path in self._wrong:
                row.begin()
                row.scroll_visible(animate=False)
        self._list()
        self.tell(f"Nothing was kept. {refused.what}", "problem")

    async def action_undo(self) -> None:
        kept = self.last.get(str(self.ordertin.home.rules))
        if kept is None:
            self.tell("Nothing was kept here that could be taken back.")
        elif self._file() != kept.after:
            self.tell("The file has been changed elsewhere since: nothing was taken back.", "problem")
        else:
            await self._put(kept.after, kept.before, 0)

    async def action_go_counter(self) -> None:
        await self._leave("counter")

    async def action_go_rack(self) -> None:
        await self._leave("rack")

    async def _leave(self, to: str) -> None:
        if not self._typed:
            await self.app.run_action(f"app.go('{to}')")
            return
        from tui.ask import Answer, Ask

        choices = (Answer("s", "stay"), Answer("k", "keep it"), Answer("t", "throw it away"))

        async def settle(key: str) -> None:
            if key == "k":
                await self.action_keep_rules()
            else:
                self._typed = {}
            if not self._typed:
                await self.app.run_action(f"app.go('{to}')")

        def answered(key: str | None) -> None:
            if key in ("k", "t"):
                self.call_later(settle, key)

        many = f"{len(self._typed)} rule{'' if len(self._typed) == 1 else 's'}"
        self.app.push_screen(Ask(plain(f"You have changed {many}, and not kept it yet."), choices), answered)


def _all_words(field: Field) -> str:
    title = house_form.TITLES.get(field.path[0], "")
    return f"{title} {field.label} {field.note} {' '.join(field.path)} {field.typed}".casefold()
