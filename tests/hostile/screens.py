"""The screens as a way out: what is drawn, and what a click on it would do."""

from __future__ import annotations

from collections.abc import Iterator

from textual.pilot import Pilot
from textual.strip import Strip

from intake.desk import Desk
from tests.hostile.ways_out import acts, case_of
from tests.tui.conftest import press, settle
from tui.app import OrdertinApp

_OURS = ("@click", "link")


def drawn(pilot: Pilot[int]) -> list[Strip]:
    return pilot.app.screen._compositor.render_strips()


def leaks(strips: list[Strip]) -> Iterator[tuple[str, str]]:
    """Of each line of the screen: its case, what is wrong."""
    for strip in strips:
        text = "".join(segment.text for segment in strip)
        wrong = acts(text)
        for segment in strip:
            style = segment.style
            if style is not None and style.link:
                wrong = f"a link to {style.link}"
            if style is not None and "app.quit" in str(style.meta):
                wrong = "a click that acts"
        yield case_of(text), wrong


async def walk(desk: Desk, threads: list[str], size: tuple[int, int] = (140, 45)) -> list[tuple[str, str]]:
    """Opens each conversation at the Counter, then the other screens; one app for all."""
    found: list[tuple[str, str]] = []
    app = OrdertinApp(desk.home, desk=desk)
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        for thread in threads:
            app.open_at_counter(thread)
            await settle(pilot)
            found += leaks(drawn(pilot))
        for screen in ("rack", "bench", "till"):
            app.action_go(screen)
            await settle(pilot)
            found += leaks(drawn(pilot))
            await press(pilot, "down", "pagedown")
            found += leaks(drawn(pilot))
            app.action_go("counter")
            await settle(pilot)
        assert app.is_running
    return found
