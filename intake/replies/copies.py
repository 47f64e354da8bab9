"""The files of wording: those that come with the program, and the baker's own copies of them."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from intake.replies.words import LANGUAGES, SUBJECTS

SOURCE_LIMIT = 20_000


class BrokenTemplate(Exception):
    """A template that can't be used: what is wrong, and the line from 1, or 0 where it can't be told."""

    def __init__(self, what: str, line: int = 0) -> None:
        super().__init__(what)
        self.line = line


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with a template; `line` counts from 1, 0 where it can't be told."""

    what: str
    line: int = 0

    @property
    def told(self) -> str:
        return f"line {self.line}: {self.what}" if self.line else self.what


def file_of(name: str, language: str) -> str:
    return f"{name}.txt" if language == "en" else f"{name}.{language}.txt"


def file_names() -> tuple[str, ...]:
    return tuple(file_of(name, language) for language in LANGUAGES for name in SUBJECTS[language])


def shipped(file: str) -> str:
    return files("intake.replies").joinpath("templates", file).read_text(encoding="utf-8")


def language_of(file: str) -> str:
    return next((language for language in LANGUAGES if file.endswith(f".{language}.txt")), "en")


def good_of(path: Path) -> Path:
    """Where the last words that worked are kept, beside the baker's own copy at `path`."""
    return path.with_name(f"{path.name}.last-good")


def before_of(path: Path) -> Path:
    """Where the words are kept that stood at `path` before they were put aside."""
    return path.with_name(f"{path.name}.before")


def own(path: Path) -> str:
    """The baker's copy at `path`; raises BrokenTemplate where it can't be read."""
    try:
        if not path.is_file():
            raise BrokenTemplate("this is not a file that can be read")
        with path.open(encoding="utf-8-sig") as file:
            source = file.read(SOURCE_LIMIT + 1)
    except OSError as error:
        raise BrokenTemplate(f"this can't be read: {error.strerror}") from None
    except UnicodeDecodeError:
        raise BrokenTemplate("this is not a text file in UTF-8") from None
    if len(source) > SOURCE_LIMIT:
        raise BrokenTemplate(f"this is longer than {SOURCE_LIMIT:,} characters")
    return source


def prepare(templates: Path) -> None:
    """Put the shipped wording into `templates` where a file is not there yet. Raises OSError where it can't."""
    templates.mkdir(parents=True, exist_ok=True, mode=0o700)
    for name in file_names():
        if not os.path.lexists(templates / name):
            _create(templates / name, shipped(name))


def put(path: Path, text: str | bytes) -> None:
    """Put `text` in the place of `path`, whole or not at all. A link is followed. Raises OSError where it can't."""
    path = path.resolve()
    handle, passing = tempfile.mkstemp(dir=path.parent, prefix=".")
    try:
        with open(handle, "wb") as file:
            file.write(text.encode() if isinstance(text, str) else text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(passing, path)
    except BaseException:
        with suppress(OSError):
            os.unlink(passing)
        raise


def _create(path: Path, text: str) -> None:
    """Write `path` whole or not at all, and never over a file that is there."""
    handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".")
    try:
        with open(handle, "w", encoding="utf-8") as file:
            file.write(text)
        with suppress(FileExistsError):
            _name(temporary, path, text)
    finally:
        os.unlink(temporary)


def _name(temporary: str, path: Path, text: str) -> None:
    try:
        os.link(temporary, path)
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
