"""Two looks, warm and quiet: paper by day, a lamp-lit kitchen in the evening."""

from __future__ import annotations

from collections.abc import Mapping

from textual.theme import Theme

EVENING = Theme(
    name="evening",
    primary="#d9b27c",
    secondary="#9cb7a4",
    accent="#d9b27c",
    warning="#e3b65b",
    error="#e58a76",
    success="#a3c48a",
    foreground="#ece4d8",
    background="#1d1b19",
    surface="#262320",
    panel="#34302b",
    dark=True,
)
MORNING = Theme(
    name="morning",
    primary="#7a4f1d",
    secondary="#3f6652",
    accent="#7a4f1d",
    warning="#805300",
    error="#9c2f22",
    success="#37662a",
    foreground="#2c2721",
    background="#f4eee4",
    surface="#fdf9f1",
    panel="#e7dccb",
    dark=False,
)


def first_theme(environ: Mapping[str, str]) -> str:
    """The look to begin with: the terminal's own where it tells its colours (`COLORFGBG`), else the evening."""
    background = environ.get("COLORFGBG", "").rpartition(";")[2]
    return MORNING.name if background in {"7", "15"} else EVENING.name
