"""What could not be read or done, as a value and as the end of a command."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be read or done: a value, shown as one line, while the rest goes on."""

    where: str
    what: str
    todo: str = ""
    excerpt: str = ""

    def __str__(self) -> str:
        line = f"{self.where}: {self.what}" if self.where else self.what
        if self.excerpt:
            line += f" ({self.excerpt})"
        stop = "" if line.endswith(("?", ".", "!")) else "."
        return f"{line}{stop} {self.todo}" if self.todo else line


class OrdertinError(Exception):
    """A problem that stops a command. Its text is one line for the baker: where, what, what to do."""

    def __init__(self, what: str, *, where: str = "", todo: str = "", excerpt: str = "") -> None:
        self.problem = Problem(where, what, todo, excerpt)
        super().__init__(str(self.problem))
