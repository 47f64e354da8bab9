"""The baker's own wording: looked at, tried, kept and put back, file by file.

What is kept with a mistake in it stays hers to mend; answers are then written with the last of her words that worked,
else with those that came with the program. What goes out of a file's place is kept beside it, so that it can come back.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from intake.clean import clean
from intake.model import OrdertinError
from intake.replies.copies import (
    SOURCE_LIMIT,
    BrokenTemplate,
    Fault,
    before_of,
    file_names,
    good_of,
    language_of,
    own,
    prepare,
    put,
    shipped,
)  # fmt: skip
from intake.replies.wording import filled, keep_good, last_good, tried


@dataclass(frozen=True, slots=True)
class Wording:
    """One template as it stands: `words` are hers (ours where hers can't be read), `ours` those that came with the
    program, `good` those that answers are written with. `before` is whether other words can be brought back."""

    file: str
    words: str
    ours: str
    good: str
    fault: Fault | None = None
    before: bool = False

    @property
    def kind(self) -> str:
        return self.file.partition(".")[0].replace("_", " ")

    @property
    def language(self) -> str:
        return language_of(self.file)

    @property
    def is_hers(self) -> bool:
        return self.words != self.ours


@dataclass(frozen=True, slots=True)
class Seen:
    """An answer as a template makes it now: `text`, by words that work where `fault` says what is wrong with those
    that were given."""

    text: str
    fault: Fault | None = None


def seen(words: str, good: str, values: Mapping[str, Any], language: str) -> Seen:
    """The answer that `words` make of `values`, a dict of fields; by `good` where they have a mistake. The text is
    empty where neither makes one."""
    fault = tried(words, language)
    for source in (words, good) if fault is None else (good,):
        try:
            return Seen(filled(source, dict(values)), fault)
        except BrokenTemplate as broken:
            fault = fault or Fault(str(broken), broken.line)
    return Seen("", fault)


def wording(folder: Path, file: str) -> Wording:
    """One template of the baker's `folder`. Raises OrdertinError for a name that is none."""
    path = _place(folder, file)
    ours = shipped(file)
    with suppress(OSError):
        prepare(folder)
    try:
        words = own(path)
        fault = None if words == ours else tried(words, language_of(file))
    except BrokenTemplate as broken:
        words, fault = ours, Fault(str(broken), broken.line)
    return Wording(file, words, ours, last_good(path) if fault else words, fault, before_of(path).is_file())


def wordings(folder: Path) -> tuple[Wording, ...]:
    """Every template, a language after the other."""
    return tuple(wording(folder, file) for file in file_names())


def keep(folder: Path, file: str, words: str, *, was: str) -> Wording:
    """Puts `words` in the place of a template that she has seen as `was`; gives it as it then stands.

    Words that somebody else has put there meanwhile go aside, to be brought back. Raises OrdertinError where the file
    can't be written, or could not be read again.
    """
    path = _place(folder, file)
    words = f"{clean(words).rstrip()}\n"
    if len(words) > SOURCE_LIMIT:
        raise OrdertinError(
            f"these words are longer than {SOURCE_LIMIT:,} characters",
            where=file,
            todo="Shorten them; they are not kept yet",
        )
    with _written(path):
        if not _is_ours(path, was):
            _aside(path)
        keep_good(path, was)
        keep_good(path, words)
        put(path, words)
    return wording(folder, file)


def put_back(folder: Path, file: str) -> Wording:
    """Puts our words into the place of hers, which go aside. Raises OrdertinError where the file can't be written."""
    path = _place(folder, file)
    with _written(path):
        if not _is_ours(path):
            _aside(path)
        put(path, shipped(file))
        good_of(path).unlink(missing_ok=True)
    return wording(folder, file)


def bring_back(folder: Path, file: str) -> Wording:
    """Exchanges the words of a template with those that went aside. Raises OrdertinError where there are none."""
    path = _place(folder, file)
    try:
        before = before_of(path).read_bytes()
    except OSError:
        raise OrdertinError("no words went aside here", where=file, todo="Nothing was changed") from None
    with _written(path):
        _aside(path)
        put(path, before)
        with suppress(BrokenTemplate):
            keep_good(path, own(path))
    return wording(folder, file)


@contextmanager
def _written(path: Path) -> Iterator[None]:
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        yield
    except OSError as error:
        raise OrdertinError(
            f"this wording can't be written: {error.strerror}", where=str(path), todo="Make the folder writable"
        ) from None


def _place(folder: Path, file: str) -> Path:
    if file not in file_names():
        raise OrdertinError(f'there is no wording called "{file:.40}"', todo=f"Name one of: {', '.join(file_names())}")
    return folder / file


def _is_ours(path: Path, *also: str) -> bool:
    """Whether our words stand at `path`, or one of `also`."""
    with suppress(BrokenTemplate):
        return own(path) in (shipped(path.name), *also)
    return False


def _aside(path: Path) -> None:
    """Keep what stands at `path` beside it. Raises OSError where it can't be kept."""
    if path.is_file():
        put(before_of(path), path.read_bytes())
