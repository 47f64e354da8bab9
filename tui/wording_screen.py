"""The words of the answers: choose one, change it, and see at once the answer that it makes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Container, Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, OptionList, Static, TextArea
from textual.widgets.option_list import Option

from intake.model import Order, OrdertinError, Verdict
from tui.plain import joined, plain
from tui.words import ANSWERS

if TYPE_CHECKING:
    from intake.desk_wording import Tried
    from intake.replies.own_words import Wording
    from tui.app import OrdertinApp

LANGUAGES = {"en": "English", "es": "Spanish"}
# Key, action, what its button says.
KEYS = (
    ("f4", "keep", "Keep"),
    ("f6", "fields", "Fields"),
    ("f7", "other_order", "Sample"),
    ("f8", "ours", "Ours"),
    ("f10", "swap", "Undo"),
    ("escape", "leave", "Back"),
)
NO_CHANGE = "Nothing to keep: these words are kept as they stand."


class WordingScreen(ModalScreen[None]):
    BINDINGS: ClassVar = [
        *(Binding(key, action, label, show=False, priority=True) for key, action, label in KEYS),
        Binding("f3", "mistake", "To the mistake", show=False, priority=True),
    ]

    def __init__(
        self,
        found: Sequence[Wording],
        file: str,
        *,
        order: Order | None = None,
        verdict: Verdict | None = None,
        whose: str = "",
    ) -> None:
        """`file` is the one to begin with. `order` is the one at hand, `whose` its name."""
        super().__init__()
        self._found = {each.file: each for each in found}
        self._file = file if file in self._found else next(iter(self._found))
        self._order, self._verdict, self._whose = order, verdict, whose
        self._sample = order is None
        self._typed: dict[str, str] = {}
        self._line = 0
        self._fields: tuple[tuple[str, str, str, str], ...] = ()

    @property
    def ordertin(self) -> OrdertinApp:
        return self.app  # type: ignore[return-value]

    @property
    def at_hand(self) -> Wording:
        return self._found[self._file]

    @property
    def changed(self) -> tuple[str, ...]:
        """The files whose words have been changed and not kept."""
        return tuple(file for file, words in self._typed.items() if words.rstrip() != self._found[file].words.rstrip())

    def compose(self) -> ComposeResult:
        with Vertical(classes="sheet wording"):
            yield Static(id="wording-title")
            with Horizontal(id="wording-body"):
                yield OptionList(id="wording-list")
                with Container(id="wording-both"):
                    with Vertical(id="wording-work"):
                        yield TextArea(
                            id="wording-text",
                            soft_wrap=True,
                            compact=True,
                            show_line_numbers=True,
                            tab_behavior="focus",
                        )
                        yield Static(id="wording-fault")
                    with Vertical(id="wording-side"):
                        yield Static(id="wording-whose")
                        with VerticalScroll(id="wording-view", can_focus=True):
                            yield Static(id="wording-answer")
                        yield OptionList(id="wording-fields")
            yield Static(id="wording-said")
            with Horizontal(classes="answers"):
                for key, action, label in KEYS:
                    name = {"escape": "Esc"}.get(key, key.upper())
                    face = joined(plain(name, "bold"), plain(label), by=" ")
                    yield Button(face, id=f"do-{action}", compact=True)

    def on_mount(self) -> None:
        if self._order is None:
            self.query_one("#do-other_order").display = False
        self._list()
        self._open(self._file)
        self.query_one(TextArea).focus()

    # What is on the screen

    def _list(self) -> None:
        listed = self.query_one("#wording-list", OptionList)
        listed.clear_options()
        for language, name in LANGUAGES.items():
            listed.add_options([Option(plain(name, "bold"), disabled=True)])
            files = [each for each in self._found.values() if each.language == language]
            listed.add_options(Option(self._face(each), id=each.file) for each in files)
        listed.highlighted = listed.get_option_index(self._file)

    def _face(self, wording: Wording) -> Content:
        sign = "▲" if wording.fault else "*" if wording.file in self.changed else " "
        return joined(plain(f"{sign} {wording.kind}"), plain("yours" if wording.is_hers else "", "italic"), by="  ")

    def _mark(self) -> None:
        """The line above and the list, as things stand."""
        here = self.at_hand
        state = "your words" if here.is_hers else "our words, as they came"
        if here.file in self.changed:
            state = "changed, not kept yet"
        name = f"Words of: {ANSWERS.get(here.kind, here.kind)}, {LANGUAGES[here.language]}"
        self.query_one("#wording-title", Static).update(
            joined(plain(name, "bold"), plain(state), plain(here.file, "dim"), by="  ")
        )
        listed = self.query_one("#wording-list", OptionList)
        for each in self._found.values():
            listed.replace_option_prompt(each.file, self._face(each))

    def _open(self, file: str) -> None:
        """Lay out the words of one template, the first line below its note in sight."""
        self._file = file
        text = self.query_one(TextArea)
        typed = self.ordertin.unsent.text(f"wording {file}", self.at_hand.words)[0]
        if typed:
            self._typed.setdefault(file, typed)
        text.load_text(self._typed.get(file, self.at_hand.words))
        first = next((n + 1 for n, line in enumerate(text.text.split("\n")) if line.rstrip().endswith("#}")), 0)
        text.move_cursor((first, 0))
        self.call_after_refresh(self._show_from, first)
        self._mark()
        self._try()

    def _show_from(self, line: int) -> None:
        text = self.query_one(TextArea)
        text.scroll_to(y=text.wrapped_document.location_to_offset((line, 0)).y, animate=False)

    @on(OptionList.OptionHighlighted, "#wording-list")
    def _chosen(self, event: OptionList.OptionHighlighted) -> None:
        if event.option_id and event.option_id != self._file:
            self._open(event.option_id)

    @on(OptionList.OptionSelected, "#wording-list")
    def _taken(self) -> None:
        self.query_one(TextArea).focus()

    @on(TextArea.Changed)
    def _changed(self) -> None:
        text = self.query_one(TextArea).text
        if text != self._typed.get(self._file, self.at_hand.words):
            self._typed[self._file] = text
            self._mark()
            self._try()

    def _try(self) -> None:
        """Have the words tried, and show the answer that they make."""
        here, words = self.at_hand, self.query_one(TextArea).text
        order, verdict = (None, None) if self._sample else (self._order, self._verdict)

        def work(desk: Any) -> Tried:
            tried: Tried = desk.wording.tried(here, words, order, verdict)
            return tried

        def then(tried: Tried) -> None:
            if self.is_attached and self.query_one(TextArea).text == words and self._file == here.file:
                self._show(tried)

        self._ask("try wording", work, then)

    def _ask(self, name: str, work: Callable[[Any], Any], then: Callable[[Any], None]) -> None:
        from tui.lane import Job

        self.ordertin.lanes["desk"].put(Job(name, work, then, self._failed, fresh=name == "try wording"))

    def _failed(self, error: BaseException) -> None:
        if not isinstance(error, OrdertinError):
            self.dismiss()
            self.ordertin.counter.problem(error)
        elif self.is_attached:
            self._tell(f"{error}")

    def _tell(self, said: str) -> None:
        self.query_one("#wording-said", Static).update(plain(said))

    def _let_go(self, file: str) -> None:
        """Forget what was typed and not kept."""
        self._typed.pop(file, None)
        self.ordertin.unsent.keep(f"wording {file}", "", "")

    def _show(self, tried: Tried) -> None:
        fault = tried.seen.fault
        if self._file in self.changed:
            self.ordertin.unsent.keep(f"wording {self._file}", self._typed[self._file], self.at_hand.words)
        self._line = fault.line if fault else 0
        told = "● No mistake in it."
        if fault:
            there = ". F3 goes there." if fault.line else ""
            told = f"▲ {fault.told[:1].upper()}{fault.told[1:]}{there}"
        self.query_one("#wording-fault", Static).update(plain(told, "bold $text-warning" if fault else ""))
        whose = "An invented order" if self._sample else self._whose
        as_if = f"{whose}, meanwhile in {self._stand_in()}:" if fault else f"{whose} would be answered:"
        self.query_one("#wording-whose", Static).update(plain(as_if, "bold"))
        self.query_one("#wording-answer", Static).update(plain(tried.seen.text))
        if tried.fields != self._fields:
            self._fields = tried.fields
            listed = self.query_one("#wording-fields", OptionList)
            at = listed.highlighted or 0
            listed.clear_options()
            listed.add_options(
                joined(plain(name, "bold"), plain(f"  {says}: "), plain(value, "italic"))
                for name, says, _, value in tried.fields
            )
            listed.highlighted = at

    def _stand_in(self) -> str:
        return "our words" if self.at_hand.good == self.at_hand.ours else "your last words that worked"

    # What can be done

    def action_keep(self) -> None:
        if self._file not in self.changed:
            self._tell(NO_CHANGE)
            return
        words = self.query_one(TextArea).text
        self._change(lambda desk, here: desk.wording.keep(here, words), self._said_of_kept)

    def _said_of_kept(self, kept: Wording) -> str:
        if kept.fault is None:
            return "Kept. Answers are in these words from now on."
        return f"Kept for you to mend. Until then answers are in {self._stand_in()}, and say so."

    def action_ours(self) -> None:
        here, words = self.at_hand, self.query_one(TextArea).text
        if not here.is_hers and not here.fault and here.file not in self.changed:
            self._tell("These are our words already.")
            return
        told = "Our words again. Yours are kept aside: F10 brings them back."
        self._change(lambda desk, here: desk.wording.put_back(here, words), lambda _: told)

    def action_swap(self) -> None:
        words = self.query_one(TextArea).text
        self._change(
            lambda desk, here: desk.wording.bring_back(here, words),
            lambda kept: "Your words are back." if kept.is_hers else "Our words are back.",
        )

    def _change(self, call: Callable[[Any, Wording], Wording], said: Callable[[Wording], str]) -> None:
        here = self.at_hand

        def then(kept: Wording) -> None:
            self._found[kept.file] = kept
            self._let_go(kept.file)
            if not self.is_attached:
                return
            text = self.query_one(TextArea)
            if self._file == kept.file and text.text.rstrip() != kept.words.rstrip():
                self._open(kept.file)
            self._mark()
            self._try()
            self._tell(said(kept))

        self._ask("wording", lambda desk: call(desk, here), then)

    @on(events.Click, "#wording-fault")
    def action_mistake(self) -> None:
        if self._line:
            text = self.query_one(TextArea)
            text.move_cursor((self._line - 1, 0), center=True)
            text.focus()

    def action_fields(self) -> None:
        """Show the fields in the place of the answer where there is no room for both, and go there."""
        fields = self.query_one("#wording-fields")
        there = self.focused is fields
        self.set_class(not there, "fields")
        (self.query_one(TextArea) if there else fields).focus()

    @on(OptionList.OptionSelected, "#wording-fields")
    def _field(self, event: OptionList.OptionSelected) -> None:
        text = self.query_one(TextArea)
        text.insert(self._fields[event.option_index][2])
        self.remove_class("fields")
        text.focus()

    def action_other_order(self) -> None:
        """Change between the order at hand and an invented one."""
        if self._order is not None:
            self._sample = not self._sample
            label = f"Order {self._order.id}" if self._sample else "Sample"
            face = joined(plain("F7", "bold"), plain(label), by=" ")
            self.query_one("#do-other_order", Button).label = face
            self._try()

    def action_leave(self) -> None:
        if self.has_class("fields"):
            self.action_fields()
            return
        if not self.changed:
            self.dismiss()
            return
        from tui.ask import Answer, Ask

        names = ", ".join(sorted({self._found[file].kind for file in self.changed}))
        choices = (Answer("k", "keep them"), Answer("l", "let them go"), Answer("g", "go on with them"))
        self.app.push_screen(Ask(plain(f"You changed the words of: {names}. Keep them?"), choices), self._left)

    def _left(self, key: str | None) -> None:
        if key == "l":
            for file in self.changed:
                self._let_go(file)
            self.dismiss()
        elif key == "k":
            typed = [(self._found[file], self._typed[file]) for file in self.changed]
            self._ask(
                "wording",
                lambda desk: [desk.wording.keep(here, words) for here, words in typed],
                lambda _: self._left("l"),
            )

    @on(Button.Pressed)
    async def _pressed(self, event: Button.Pressed) -> None:
        await self.run_action((event.button.id or "").removeprefix("do-"))
