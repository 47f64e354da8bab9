"""What the desk makes of the baker's words: an answer, something to say yes to, words to choose from, a place to go."""

from __future__ import annotations

from dataclasses import dataclass

from intake.model import Reply
from intake.talk_shapes import Act


@dataclass(frozen=True, slots=True)
class Plan:
    """What would be done with a yes. `asks` says what it changes, `yes` what the yes is; a `careful` one is not to be
    taken by Enter alone. `order` is the number of the order it is about, 0 where it is about none."""

    act: Act
    order: int
    thread: str
    asks: str
    yes: str
    careful: bool = False


@dataclass(frozen=True, slots=True)
class Go:
    """Where to go: `thread` (a conversation), `next`, `reply` (with what to send), or a screen by its name."""

    where: str
    thread: str = ""
    order: int = 0
    reply: Reply | None = None


@dataclass(frozen=True, slots=True)
class Heard:
    """What came of the words. `changed` names the fields that a correction has changed, `change` that change as undo
    does. Not `understood`: nothing was done, and the answer says what can be; `refused`: the answer says why not."""

    answer: str
    changed: tuple[str, ...] = ()
    change: str = ""
    plan: Plan | None = None
    choices: tuple[str, ...] = ()
    go: Go | None = None
    understood: bool = True
    refused: bool = False


@dataclass(frozen=True, slots=True)
class Done:
    """What a yes has done, and the name of the change as undo does; `undone` names one that it has taken back."""

    answer: str
    change: str = ""
    undone: str = ""
