"""A photo that a message names: found by its bare name where the messages came from, and nowhere else."""

from __future__ import annotations

from pathlib import Path

import pytest

from intake.model import Problem
from intake.photos import find, folders, remember


@pytest.fixture
def export(tmp_path: Path) -> Path:
    folder = tmp_path / "export"
    (folder / "media").mkdir(parents=True)
    (folder / "media" / "cake.jpg").write_bytes(b"x")
    (folder / "run.sh").write_bytes(b"x")
    (tmp_path / "secret.png").write_bytes(b"x")
    (folder / "link.png").symlink_to(tmp_path / "secret.png")
    (folder / "out").symlink_to(tmp_path)
    return folder


def test_a_photo_of_the_export_is_found(export: Path) -> None:
    assert find("cake.jpg", [export]) == (export / "media" / "cake.jpg").resolve()


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("../secret.png", "no plain file name"),
        ("/etc/passwd.png", "no plain file name"),
        ("media/cake.jpg", "no plain file name"),
        ("..\\secret.png", "no plain file name"),
        ("C:cake.jpg", "no plain file name"),
        ("--help.png", "no plain file name"),
        (".png", "no plain file name"),
        ("", "no plain file name"),
        ("run.sh", "neither a picture nor a PDF"),
        ("link.png", "no folder that messages were taken from"),
        ("secret.png", "no folder that messages were taken from"),
        ("other.jpg", "no folder that messages were taken from"),
    ],
)
def test_what_is_not_opened_says_why(export: Path, name: str, what: str) -> None:
    found = find(name, [export])
    assert isinstance(found, Problem)
    assert what in found.what


def test_the_folders_are_remembered_the_newest_first_and_once(tmp_path: Path) -> None:
    kept = tmp_path / "folders.json"
    assert folders(kept) == ()
    one, two = tmp_path / "one", tmp_path / "two"
    one.mkdir()
    two.mkdir()
    (two / "chat.json").write_text("[]")
    for taken in ([one], [two / "chat.json"], [two], [one]):
        remember(kept, taken)
    assert folders(kept) == (one.resolve(), two.resolve())
    assert kept.stat().st_mode & 0o077 == 0
    kept.write_text("{")
    assert folders(kept) == ()
