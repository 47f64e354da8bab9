"""What a screen shows, as text."""

from __future__ import annotations

from textual.app import App
from textual.content import Content
from textual.pilot import Pilot
from textual.widget import Widget
from textual.widgets import Static

from tui.notice import Notice
from tui.slip import Row


def screen_text(app: App[int]) -> str:
    """Every character on the screen, line by line."""
    lines = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in line).rstrip() for line in lines)


def text_of(widget: Widget) -> str:
    """All the text that a widget and those in it hold, in sight or scrolled away."""
    held = [widget] if isinstance(widget, Static) else list(widget.query(Static))
    return "\n".join(each.content.plain for each in held if isinstance(each.content, Content) and each.display)


def notice(pilot: Pilot[int]) -> str:
    return pilot.app.screen.query_one(Notice).text


def row(pilot: Pilot[int], field: str) -> str:
    """A row of the slip on one line: `● ok count 24 (2 dozen)`."""
    return " ".join(text_of(pilot.app.screen.query_one(f"#row-{field}", Row)).split())
