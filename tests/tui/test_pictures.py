"""The README's pictures are of the screens as they are, and come out the same each time."""

from __future__ import annotations

import pytest

from intake.desk import Desk
from intake.home import Home

from . import pictures
from .conftest import NOW, booked


def test_each_picture_of_the_readme_is_there_and_fetches_nothing() -> None:
    drawn = {path.stem: path.read_text(encoding="utf-8") for path in pictures.FOLDER.glob("*.svg")}
    assert set(drawn) == {name for name, _ in pictures.SHOTS}
    for svg in drawn.values():
        assert "ordertin" in svg
        assert "url(http" not in svg


async def test_a_picture_is_the_same_twice(home: Home, desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pictures, "NOW", NOW)
    booked(desk)
    first, again = [await pictures.picture(home, "rack", ("f9",)) for _ in range(2)]
    assert first == again
    assert "Whitlock" in first
