"""Replies in the baker's words: a template filled with the plain values of an order. The one file that imports jinja2.

The words that come with the program are copied once into the baker's folder, where she can change them. A copy with a
mistake is passed over for the last of hers that worked, else for the original, and the answer says so; `check` says
which file and line. What a template may do is little, so
that a slip of the pen costs neither time nor memory: it prints the values it was given, asks whether one is there, and
goes through a list. Customers' words are values only: nothing in them is read as a template.
"""

from __future__ import annotations

import re
import traceback
from collections.abc import Iterator
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Any

from jinja2 import StrictUndefined, Template, TemplateSyntaxError, nodes
from jinja2.runtime import LoopContext
from jinja2.sandbox import SandboxedEnvironment

from intake.clean import clean
from intake.house import House, default_house
from intake.model import Order, OrdertinError, Problem, Reply, Verdict
from intake.replies.copies import (
    SOURCE_LIMIT,
    BrokenTemplate,
    Fault,
    file_names,
    file_of,
    good_of,
    language_of,
    own,
    prepare,
    put,
    shipped,
)  # fmt: skip
from intake.replies.faults import in_plain_words
from intake.replies.fields import fields_of
from intake.replies.questions import plain
from intake.replies.sample import samples
from intake.replies.words import LANGUAGES, SUBJECTS

KINDS = tuple(name.replace("_", " ") for name in SUBJECTS["en"])

_TEXT_LIMIT = 20_000
_DEEPEST_LOOP = 2
_FILTERS = {"join", "length", "upper", "lower", "title", "capitalize", "trim", "first", "last", "default"}
_NODES = (
    nodes.Template,
    nodes.Output,
    nodes.TemplateData,
    nodes.Name,
    nodes.Const,
    nodes.List,
    nodes.Tuple,
    nodes.If,
    nodes.For,
    nodes.CondExpr,
    nodes.Filter,
    nodes.Test,
    nodes.Getattr,
    nodes.Compare,
    nodes.Operand,
    nodes.And,
    nodes.Or,
    nodes.Not,
    nodes.Concat,
)
_NEEDED = {
    "quote": ("count", "due"),
    "confirm": ("count", "due", "handover"),
    "no_room": ("due",),
    "ask": (),
    "remind": (),
    "change": ("count", "due", "handover"),
    "deposit": (),
    "ready": ("handover",),
    "sent": ("address",),
    "thanks": (),
    "cancelled": (),
}


class _Sandbox(SandboxedEnvironment):
    """A sandbox where a dot reaches the parts of a list entry and the place in a loop, and nothing else."""

    def getattr(self, obj: Any, attribute: str) -> Any:
        if isinstance(obj, dict) and attribute in obj:
            return obj[attribute]
        if isinstance(obj, LoopContext) and attribute in ("first", "last", "index", "length"):
            return getattr(obj, attribute)
        raise BrokenTemplate(f"nothing here has a part called `{attribute}`")


_SANDBOX = _Sandbox(undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True, keep_trailing_newline=False)


def write(
    kind: str,
    order: Order,
    house: House,
    *,
    templates: Path | None,
    verdict: Verdict | None = None,
    language: str = "",
) -> Reply:
    """The reply of `kind` (one of KINDS) to `order`, ready to be read over and sent.

    `templates` is the baker's folder of wording, None for the words that come with the program. `language` is `en` or
    `es`; empty or unknown, it is the house's. Raises OrdertinError for an unknown kind.
    """
    name = kind.strip().replace(" ", "_")
    if name not in SUBJECTS["en"]:
        raise OrdertinError(
            f'there is no reply called "{kind}"' if name else "this order needs no reply",
            where="reply",
            todo=f"Name one of: {', '.join(KINDS)}",
        )
    if language not in LANGUAGES:
        language = house.house.language
    values = fields_of(order, house, verdict, language)
    try:
        text, notice = _worded(file_of(name, language), values, templates)
    except BrokenTemplate as broken:
        raise OrdertinError(f"the reply can't be written: {broken}", where="reply", todo="Shorten the order") from None
    draft = order.draft
    return Reply(
        kind=name.replace("_", " "),
        to=plain(clean(draft.email.value or draft.phone.value or draft.customer.value or "")),
        subject=SUBJECTS[language][name],
        text=text,
        missing=_missing(name, order),
        notice=notice,
    )


def check(templates: Path) -> tuple[Problem, ...]:
    """What is wrong with the baker's wording: one Problem a file, with its line. Each is tried on made-up orders."""
    try:
        prepare(templates)
    except OSError as error:
        what = f"the wording can't be put here: {error.strerror}"
        return (Problem(str(templates), what, "Check the folder's permissions"),)
    found = []
    for name in file_names():
        fault = own_fault(templates / name)
        if fault:
            line = f", line {fault.line}" if fault.line else ""
            todo = f"Mend it, or take ours again; {_stand_in(templates / name)[1]} are used meanwhile"
            found.append(Problem(f"{templates / name}{line}", fault.what, todo))
    return tuple(found)


def tried(source: str, language: str) -> Fault | None:
    """What is wrong with a template, told on made-up orders; None where nothing is."""
    if len(source) > SOURCE_LIMIT:
        return Fault(f"this is longer than {SOURCE_LIMIT:,} characters")
    try:
        for order, verdict in samples():
            filled(source, fields_of(order, default_house(), verdict, language))
    except BrokenTemplate as broken:
        return Fault(str(broken), broken.line)
    return None


def own_fault(path: Path) -> Fault | None:
    """What is wrong with the baker's copy at `path`."""
    try:
        return tried(own(path), language_of(path.name))
    except BrokenTemplate as broken:
        return Fault(str(broken), broken.line)


def last_good(path: Path) -> str:
    """The words that stand in for the baker's copy at `path` while that has a mistake."""
    return _stand_in(path)[0]


def _stand_in(path: Path) -> tuple[str, str]:
    with suppress(BrokenTemplate):
        source = own(good_of(path))
        if tried(source, language_of(path.name)) is None and source != shipped(path.name):
            return source, "your last words that worked"
    return shipped(path.name), "the words that came with the program"


def _worded(file: str, values: dict[str, Any], templates: Path | None) -> tuple[str, str]:
    """The answer by the baker's own copy, else by what stands in for it, with a sentence that says so. Raises
    BrokenTemplate where the order is too long for any."""
    if templates is not None:
        with suppress(OSError):
            prepare(templates)
    if templates is None or not (templates / file).exists():
        return filled(shipped(file), values), ""
    path = templates / file
    try:
        source = own(path)
        text = filled(source, values)
    except BrokenTemplate as broken:
        words, whose = _stand_in(path)
        fault = Fault(str(broken), broken.line)
        notice = f"Your own words have a mistake ({file}, {fault.told}), so this is in {whose}."
        with suppress(BrokenTemplate):
            return filled(words, values), notice
        return filled(shipped(file), values), notice
    with suppress(OSError):
        keep_good(path, source)
    return text, ""


def keep_good(path: Path, source: str) -> None:
    """Keep `source` as the last words that worked for `path`, where it works. Raises OSError where it can't be kept."""
    good = good_of(path)
    try:
        held = own(good)
    except BrokenTemplate:
        held = shipped(path.name)
    if source != held and tried(source, language_of(path.name)) is None:
        put(good, source)


def filled(source: str, values: dict[str, Any]) -> str:
    """`source` filled with `values`, cleaned; raises BrokenTemplate."""
    template = _compiled(source, frozenset(values))
    parts, size = [], 0
    try:
        for part in template.generate(values):
            size += len(part)
            if size > _TEXT_LIMIT:
                raise BrokenTemplate(f"the reply it makes is longer than {_TEXT_LIMIT:,} characters")
            parts.append(part)
    except Exception as error:  # the words of a template may fail in any way that an expression can
        what = in_plain_words(str(error) or type(error).__name__)
        raise BrokenTemplate(what, getattr(error, "line", 0) or _line_of(error)) from None
    text = re.sub(r"[ \t]+\n", "\n", clean("".join(parts)))
    text = re.sub(r"\n{3,}", "\n\n", text).strip()
    if not text:
        raise BrokenTemplate("the reply it makes is empty")
    return text


@lru_cache(maxsize=8)
def _compiled(source: str, names: frozenset[str]) -> Template:
    try:
        tree = _SANDBOX.parse(source)
        for node in _all(tree):
            if what := _refused(node):
                raise BrokenTemplate(what, node.lineno)
        _check_names(tree, names, depth=0)
        return _SANDBOX.from_string(tree)
    except TemplateSyntaxError as error:
        what, line = in_plain_words(error.message or ""), error.lineno
        if opened := _left_open(source):
            what = f"this `{opened[0]}` is never closed: put {{% end{opened[0]} %}} where it ends"
            line = opened[1]
        raise BrokenTemplate(what, line) from None
    except (RecursionError, MemoryError, SyntaxError, ValueError):
        raise BrokenTemplate("this is too tangled to be read as a template") from None


def _left_open(source: str) -> tuple[str, int] | None:
    """The innermost `if` or `for` that is open where the template ends, and its line; nothing where none is, or where
    the template can't be taken apart."""
    open_yet: list[tuple[str, int]] = []
    with suppress(TemplateSyntaxError):
        before = ""
        for line, kind, word in _SANDBOX.lex(source):
            if kind == "name" and before == "block_begin":
                if word in ("if", "for"):
                    open_yet.append((word, line))
                elif word in ("endif", "endfor"):
                    if not open_yet or open_yet[-1][0] != word[3:]:
                        return None
                    open_yet.pop()
            before = before if kind == "whitespace" else kind
        return open_yet[-1] if open_yet else None
    return None


def _all(node: nodes.Node) -> Iterator[nodes.Node]:
    yield node
    for child in node.iter_child_nodes():
        yield from _all(child)


def _refused(node: nodes.Node) -> str:
    if not isinstance(node, _NODES):
        return f"a template can't use `{type(node).__name__.lower()}`: only names, if and for"
    if isinstance(node, nodes.Filter) and node.name not in _FILTERS:
        return f"there is no filter `{node.name}`: use one of {', '.join(sorted(_FILTERS))}"
    if isinstance(node, nodes.For) and not isinstance(node.iter, nodes.Name):
        return "`for` goes through a list by its name only"
    return ""


def _check_names(node: nodes.Node, names: frozenset[str], depth: int) -> None:
    """Every name must be a field, or the entry of a loop around it."""
    if isinstance(node, nodes.Name) and node.ctx == "load" and node.name not in names:
        raise BrokenTemplate(f"there is no field called `{node.name}`", node.lineno)
    if isinstance(node, nodes.For):
        if depth == _DEEPEST_LOOP or node.recursive:
            raise BrokenTemplate("loops can't stand this deep in one another", node.lineno)
        depth += 1
        names |= {"loop"} | _targets(node.target)
    for child in node.iter_child_nodes():
        _check_names(child, names, depth)


def _targets(target: nodes.Node) -> set[str]:
    return {node.name for node in _all(target) if isinstance(node, nodes.Name)}


def _line_of(error: BaseException) -> int:
    frames = traceback.extract_tb(error.__traceback__)
    return next((frame.lineno or 0 for frame in reversed(frames) if frame.filename == "<template>"), 0)


def _missing(name: str, order: Order) -> tuple[str, ...]:
    draft = order.draft
    lacks = [field for field in _NEEDED[name] if draft.cell(field).missing]
    if name in ("confirm", "change"):
        if draft.theme.missing and draft.designs.missing and draft.lettering.missing:
            lacks.append("theme")
        if draft.handover.value in ("ship", "deliver") and draft.address.missing:
            lacks.append("address")
    if name in ("quote", "confirm", "remind", "change") and order.quote is None:
        lacks.append("quote")
    return tuple(lacks)
