"""What the Rack and the Bench print and list: labels, a day's sheet, the calendar's file, what to mix and to buy."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any

from tui import words
from tui.desk_screen import DeskScreen
from tui.page import Page
from tui.plain import joined, plain

TODO = "Look at the folder's permissions, or write it with the ordertin command"


class PapersScreen(DeskScreen):
    """A screen with the papers' actions. `order` is the one that is pointed at, None where there is none."""

    order: Any

    @property
    def chosen(self) -> date:
        """The day that a sheet is for, and the first of a list."""
        raise NotImplementedError

    def action_labels(self) -> None:
        order = self.order
        if order is None:
            self.tell("Point at an order first.")
            return

        def made(desk: Any) -> tuple[Path, Any]:
            pdf, found = desk.papers.labels(order)
            return _written(desk, f"labels-{order.id}.pdf", pdf), found

        def then(both: tuple[Path, Any]) -> None:
            from intake.papers.label import CAUTIONS

            path, found = both
            parts = [plain(f"Written: {path}", "bold")]
            lists = (("Missing, to be told in the house rules", found.missing), ("Note", found.notes))
            for head, lines in (*lists, ("Bear in mind", CAUTIONS)):
                if lines:
                    parts += [plain(" "), plain(head, "bold underline"), *(plain(f"  {line}") for line in lines)]
            self.app.push_screen(Page(joined(*parts, by="\n")))
            self.tell(f"Labels written: {path}")

        self.ask_desk("labels", made, then, busy="Drawing the labels ...", lane="room")

    def action_day_sheet(self) -> None:
        day = self.chosen
        self._write("day sheet", lambda desk: _written(desk, f"day-{day}.pdf", desk.papers.day_sheet(day)))

    def action_calendar_file(self) -> None:
        self._write("calendar", lambda desk: _written(desk, "orders.ics", desk.papers.calendar()))

    def _write(self, what: str, make: Callable[[Any], Path]) -> None:
        self.ask_desk(
            what, make, lambda path: self.tell(f"Written: {path}"), busy=f"Writing the {what} ...", lane="room"
        )

    def action_batch(self) -> None:
        self._list("batch", "To mix and bake", _batch, "No work stands in these days: nothing to mix, bake or pack.")

    def action_shopping(self) -> None:
        none = "Nothing to buy: no work stands in these days, or the pantry has all that it takes."
        self._list("shopping", "To buy", _shopping, none)

    def _list(self, name: str, head: str, lines: Callable[[Any, date, date], Iterator[str]], none: str) -> None:
        from intake.desk_papers import WEEK

        first = self.chosen

        def then(found: list[str]) -> None:
            self.tell("")
            title = plain(f"{head} in the week from {words.day(first)}", "bold underline")
            parts = [title, *(plain(line) for line in found or [none])]
            self.app.push_screen(Page(joined(*parts, by="\n")))

        self.ask_desk(
            name, lambda desk: list(lines(desk, first, first + WEEK)), then, busy="Working it out ...", lane="room"
        )


def _written(desk: Any, name: str, content: bytes) -> Path:
    from intake.papers.files import write

    return write(desk.home.papers / name, content, todo=TODO)


def _batch(desk: Any, first: date, last: date) -> Iterator[str]:
    from intake.papers.session_lines import cautions, session_text

    heap = desk.papers.sessions(first, last)
    if heap.note:
        yield heap.note
    for session in heap.sessions:
        yield " "
        yield from session_text(session, desk.house)
    yield from cautions(desk.house)


def _shopping(desk: Any, first: date, last: date) -> Iterator[str]:
    from intake.papers.shopping_lines import shopping_text

    found, note = desk.papers.shopping(first, last)
    if note:
        yield note
    yield from shopping_text(found, desk.house.house.currency)
