"""Text from outside reaches a widget through `plain` alone: the source of the screens is searched for other ways."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

import pytest
from textual.app import App, ComposeResult
from textual.widgets import Static

import tui
from tui.plain import joined, marked, plain

FILES = sorted(Path(tui.__file__).parent.glob("*.py"))
# What puts its first value on the screen, and what would read it as markup if it were a str.
SINKS = {"Static", "Label", "Button", "Option", "Checkbox", "update", "add_option", "add_row", "mount_label"}
BANNED = {"notify", "from_markup", "from_text", "escape", "add_row", "add_rows"}
TITLES = {"border_title", "border_subtitle", "tooltip", "placeholder", "title", "sub_title"}
HOSTILE = (
    "[/",
    "[/]",
    "price [$45]",
    "hi [Sam] [b",
    "[red]stop[/red]",
    "[@click=app.quit()]free cookies[/]",
    "{0} %s {name}",
    "\\[escaped\\]",
)


@cache
def functions_giving_content() -> set[str]:
    trees = [ast.parse(file.read_text(encoding="utf-8")) for file in FILES]
    return {
        node.name
        for tree in trees
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef) and ast.unparse(node.returns or ast.Constant("")) == "Content"
    }


class Search(ast.NodeVisitor):
    """Collects the places of one file where something else than a Content, or our own words, is put on the screen."""

    def __init__(self, safe: set[str]) -> None:
        self.safe, self.found = safe, list[str]()
        self._names: set[str] = set()

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        before = set(self._names)
        for arg in (*node.args.args, *node.args.kwonlyargs):
            if arg.annotation and ast.unparse(arg.annotation) == "Content":
                self._names.add(arg.arg)
        self.generic_visit(node)
        self._names = before | {name for name in self._names if name.startswith("self.")}

    visit_AsyncFunctionDef = visit_FunctionDef  # type: ignore[assignment]

    def visit_Assign(self, node: ast.Assign) -> None:
        self.generic_visit(node)
        pairs = [(target, node.value) for target in node.targets]
        if isinstance(node.targets[0], ast.Tuple) and isinstance(node.value, ast.Tuple):
            pairs = list(zip(node.targets[0].elts, node.value.elts, strict=True))
        for target, value in pairs:
            if self.is_content(value):
                self._names.add(ast.unparse(target))
            name = target.attr if isinstance(target, ast.Attribute) else ""
            if name in TITLES and not self.is_content(value):
                self.found.append(f"{ast.unparse(node)} (line {node.lineno})")

    def visit_Call(self, node: ast.Call) -> None:
        self.generic_visit(node)
        called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        shown = node.args[:1] if called in SINKS else []
        shown += [word.value for word in node.keywords if word.arg in {*TITLES, "label", "prompt"}]
        if called in BANNED or not all(self.is_content(value) for value in shown):
            self.found.append(f"{ast.unparse(node)} (line {node.lineno})")

    def is_content(self, node: ast.expr) -> bool:
        match node:
            case ast.Constant(str(text)):
                return "[" not in text
            case ast.IfExp():
                return self.is_content(node.body) and self.is_content(node.orelse)
            case ast.Call(ast.Attribute(value, name)):
                return name in self.safe or self.is_content(value)
            case ast.Call(ast.Name(name)):
                return name in self.safe
            case ast.Name() | ast.Attribute():
                return ast.unparse(node) in self._names or getattr(node, "id", "").isupper()
        return False


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_every_text_on_a_screen_is_a_content(file: Path) -> None:
    search = Search(functions_giving_content())
    search.visit(ast.parse(file.read_text(encoding="utf-8")))

    assert search.found == []


@pytest.mark.parametrize(
    ("source", "caught"),
    [
        ("Static(message.text)", True),
        ('Static(f"from {name}")', True),
        ('Static("from %s" % name)', True),
        ("Static(name)", True),
        ('self.query_one(Static).update("a" + name)', True),
        ("box.border_title = name", True),
        ("app.notify(name)", True),
        ("Option(str(name))", True),
        ("Content.from_markup(name)", True),
        ("Static('[b]ours[/b]')", True),
        ("Static(plain(name))", False),
        ("Static('ours')", False),
        ("def f(c: Content) -> None:\n    Static(c)", False),
        ("c = plain(name)\nStatic(c)", False),
    ],
)
def test_the_search_itself(source: str, caught: bool) -> None:
    search = Search({"plain"})
    search.visit(ast.parse(source))

    assert bool(search.found) is caught


@pytest.mark.parametrize("text", HOSTILE)
async def test_a_hostile_text_is_shown_letter_by_letter(text: str) -> None:
    class One(App[None]):
        def compose(self) -> ComposeResult:
            yield Static(plain(text), id="one")

    async with One().run_test(size=(80, 5)) as pilot:
        strip = pilot.app.screen.query_one("#one").render_line(0)

        assert strip.text.rstrip() == text
        assert await pilot.click("#one", offset=(3, 0))
        assert pilot.app.is_running


@pytest.mark.parametrize("escape", ["\x1b]52;c;aGk=\x07", "\x1b[31m", "\x9b31m", "\u202e", "\x07"])
def test_what_a_terminal_would_act_on_is_gone(escape: str) -> None:
    assert plain(f"a{escape}b").plain == "ab"


@pytest.mark.parametrize(
    ("spans", "marked_text"),
    [(((0, 2),), "ab"), (((1, 99),), "bcd"), (((-5, 1),), "a"), (((9, 12),), ""), (((2, 2),), ""), ((), "")],
)
def test_marks_stay_within_the_text(spans: tuple[tuple[int, int], ...], marked_text: str) -> None:
    content = marked("abcd", spans, "reverse")

    assert content.plain == "abcd"
    assert "".join(content.plain[span.start : span.end] for span in content.spans) == marked_text


def test_empty_parts_leave_no_gap() -> None:
    assert joined(plain("a"), plain(""), plain("b"), by=", ").plain == "a, b"
