"""Who waits: one narrow list, the soonest day first."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from textual import events, on
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from intake.desk_waiting import TO_ACCEPT, UNREAD
from tui import words
from tui.plain import joined, plain

if TYPE_CHECKING:
    from intake.desk_waiting import Waiting


def line(waiting: Waiting, today: date, *, here: bool) -> Content:
    """Three short lines for one conversation: sign and name, how it stands, day and what it is about. What waits for
    its customer is dim."""
    sign = words.STATE_SIGNS.get("change" if waiting.stands == TO_ACCEPT else waiting.state, "○")
    when = "" if waiting.state == UNREAD else "no day yet"
    if waiting.due:
        when = words.due(replace(waiting.due, time=None), today)
    about = waiting.headline or waiting.why
    parts = (
        joined(
            plain("▸" if here else " ", "bold"),
            plain(f"{sign} {waiting.customer or 'no name'}", "dim" if waiting.theirs else "bold"),
        ),
        plain(f"   {waiting.stands}", "dim" if waiting.theirs else ""),
        plain(f"   {when}: {about}" if when else f"   {about}", "dim"),
    )
    return joined(*(part.truncate(WIDTH, ellipsis=True) for part in parts), by="\n")


def one_line(waiting: tuple[Waiting, ...], today: date) -> Content:
    """The tray where there is no room for it: how many wait for the baker, and who comes first."""
    hers = [each for each in waiting if not each.theirs]
    if not hers:
        return plain(f"Nobody waits for you; {len(waiting)} for their customers." if waiting else "Nobody waits.")
    first = hers[0]
    when = f" for {words.due(first.due, today)}" if first.due else ""
    return joined(plain(f"{len(hers)} waiting for you:", "bold"), plain(f"{first.customer or 'no name'}{when}"), by=" ")


# The open conversation shows in full beside the list, so a line of it may end in an ellipsis.
WIDTH = 28


class WhoLine(Static):
    """The one line, which opens the list."""

    class Clicked(Message):
        pass

    def on_click(self, event: events.Click) -> None:
        event.stop()
        self.post_message(self.Clicked())


class Tray(OptionList):
    class Chosen(Message):
        def __init__(self, thread_id: str) -> None:
            super().__init__()
            self.thread_id = thread_id

    def show(self, waiting: tuple[Waiting, ...], current: str, today: date) -> None:
        """Fill the list; the conversation `current` stays the one pointed at."""
        keys = [each.thread_id for each in waiting]
        with self.prevent(OptionList.OptionHighlighted):
            self.set_options([Option(line(each, today, here=each.thread_id == current)) for each in waiting])
            self._keys = keys
            self.highlighted = keys.index(current) if current in keys else None

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        self.post_message(self.Chosen(self._keys[event.option_index]))
