"""What the Counter does beside the road of one order: the welcome of a first run."""

from __future__ import annotations

from tui.counter_post import PostScreen


class MoreScreen(PostScreen):
    """The Counter's sheets that are about no order."""

    def welcome(self, due: bool) -> None:
        """Ask the three questions of a first run, where they are due."""
        if due:
            self.action_welcome()

    def action_welcome(self) -> None:
        from tui.welcome import FIRST_MESSAGE, Welcome

        def answered(kept: bool | None) -> None:
            if kept and self.ordertin.rules:
                self.ordertin.rules.renew(lambda: None, f"Kept in your house rules. {FIRST_MESSAGE}")
            else:
                self.tell(FIRST_MESSAGE if not self.view.waiting else "Nothing was changed.")

        self.app.push_screen(Welcome(self.ordertin.home.rules), answered)
