"""The house rules of the open program: a change of their file, from here or by another hand, holds from then on."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from tui.actions import RULES
from tui.lane import Job

if TYPE_CHECKING:
    from tui.app import OrdertinApp

CHANGED = "The house rules were changed; they hold from now on."


class RulesWatch:
    """Looks after the file, and has the desk begin anew with it once it has changed."""

    def __init__(self, app: OrdertinApp) -> None:
        self._app = app
        self._mark = self._look()
        self._old: list[Any] = []

    def _look(self) -> object:
        with suppress(OSError):
            found = self._app.home.rules.stat()
            return found.st_mtime_ns, found.st_size, found.st_ino
        return None

    def peek(self) -> None:
        """Take up a change of the file by another hand."""
        if self._look() != self._mark:
            self.renew(lambda: None, CHANGED)

    def renew(self, then: Callable[[], None], said: str = "") -> None:
        """Have the desk begin anew; what was under way ends with the rules that it began with."""
        self._mark = self._look()
        app = self._app

        def begun(desk: Any) -> None:
            self._old.append(app.desk)
            app.desk = desk
            for lane in app.lanes.values():
                lane.desk = desk
            then()
            screen = app.desk_screen()
            if screen is not None:
                screen.reload()
                if said and (said != CHANGED or screen.place != RULES):
                    screen.tell(said)

        def failed(error: BaseException) -> None:
            screen = app.desk_screen()
            if screen is not None:
                screen.problem(error)

        app.lanes["desk"].put(Job("rules", lambda desk: desk.again(), begun, failed))

    def close(self) -> None:
        """Close the desks that have been left."""
        while self._old:
            self._old.pop().close()
