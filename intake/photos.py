"""Photos that messages name, found where the messages were taken from, and opened in the system's own viewer.

A name in a message is a customer's word and no path: only a bare name is looked for, only in the folders that exports
were taken from, and only a picture or a PDF is opened.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path

from intake.model import Problem

KINDS = frozenset({".jpg", ".jpeg", ".png", ".gif", ".webp", ".heic", ".bmp", ".tif", ".tiff", ".pdf"})
_MOST_FOLDERS = 50
_MOST_FILES = 20_000
_DEEPEST = 4


def folders(kept: Path) -> tuple[Path, ...]:
    """The folders that exports were taken from, the newest first; none where the list can't be read."""
    with suppress(OSError, ValueError):
        found = json.loads(kept.read_text(encoding="utf-8"))
        if isinstance(found, list):
            return tuple(Path(each) for each in found if isinstance(each, str))
    return ()


def remember(kept: Path, taken: Sequence[Path]) -> None:
    """Adds the folders of what was taken to the list. Losing it only means that no photo is found."""
    new = [str((path if path.is_dir() else path.parent).resolve()) for path in taken]
    held = [str(folder) for folder in folders(kept)]
    listed = list(dict.fromkeys([*new, *held]))[:_MOST_FOLDERS]
    if listed != held:
        with suppress(OSError):
            handle = os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
            with os.fdopen(handle, "w", encoding="utf-8") as file:
                json.dump(listed, file)


def find(name: str, within: Sequence[Path]) -> Path | Problem:
    """The file called `name` in one of the folders `within`, or below it; why not, where it can't be opened."""
    shown = name[:80]
    if not name or name != Path(name).name or "\\" in name or ":" in name or name.startswith((".", "-")):
        return Problem(shown, "this is no plain file name, so it is not opened", "Look for it yourself")
    if Path(name).suffix.lower() not in KINDS:
        return Problem(shown, "this is neither a picture nor a PDF, so it is not opened", "Look for it yourself")
    for folder in within:
        for path in _files(folder):
            if path.name == name and path.is_file() and path.resolve().is_relative_to(folder.resolve()):
                return path.resolve()
    where = "in no folder that messages were taken from" if within else "and no folder is known that it may be in"
    return Problem(shown, f"it is {where}", "Unpack the export, photos and all, and take its folder in again (^a)")


def _files(folder: Path) -> Iterator[Path]:
    """The files in and below a folder, to a depth and a number; links to other folders are not followed."""
    seen = 0
    for here, inner, names in os.walk(folder):
        if len(Path(here).relative_to(folder).parts) >= _DEEPEST:
            inner.clear()
        for name in names:
            seen += 1
            if seen > _MOST_FILES:
                return
            yield Path(here) / name


def show(path: Path) -> Problem | None:
    """Has the system's own viewer open a file; a Problem where there is none."""
    way = {"darwin": "open", "win32": "explorer"}.get(sys.platform, "xdg-open")
    try:
        subprocess.Popen(
            [way, str(path)], stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            start_new_session=True,
        )  # fmt: skip
    except OSError:
        return Problem(str(path), "there is no viewer to open it with here", "Open it yourself")
    return None
