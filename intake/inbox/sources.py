"""The files behind what the baker names: a file, all that is in a folder, all that is in a zip archive.

Nothing is unpacked beside the book. What can't be taken is a Problem, and the rest goes on.
"""

from __future__ import annotations

import os
import shutil
import stat
import tempfile
import zipfile
import zlib
from collections.abc import Generator, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import IO, BinaryIO, cast
from zoneinfo import ZoneInfo

from intake.inbox.keys import one_line
from intake.model import OrdertinError, Problem

LARGEST_FILE = 2 * 1024**3
MOST_FILES = 200_000
# An archive that grows beyond both of these is made to fill a disk: text packs some ten times (common practice, no
# source).
LARGEST_GROWTH = 200
HARMLESS = 32 * 1024**2

_IN_MEMORY = 8 * 1024**2
_PIECE = 1024**2


@dataclass(frozen=True, slots=True)
class Source:
    """One file to read. `name` is for the baker; `size` in bytes; `saved` is when it was last written."""

    name: str
    size: int
    saved: datetime
    path: Path
    inside: str = ""
    # The archive while it is gone through: to open it for each part would list all of them again for each.
    archive: zipfile.ZipFile | None = field(default=None, compare=False, repr=False)

    @contextmanager
    def open(self) -> Iterator[BinaryIO]:
        """The file in binary, at its start, seekable. Raises OSError, and OrdertinError for a part of an archive that
        is damaged or longer than it says."""
        if not self.inside:
            with self.path.open("rb") as file:
                yield file
            return
        with tempfile.SpooledTemporaryFile(_IN_MEMORY) as out:
            try:
                with self._archive() as archive, archive.open(self.inside) as packed:
                    _copy(packed, cast(BinaryIO, out), self)
            except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, ValueError):
                raise _damaged(self.name) from None
            out.seek(0)
            yield cast(BinaryIO, out)


    @contextmanager
    def _archive(self) -> Iterator[zipfile.ZipFile]:
        if self.archive is not None and self.archive.fp is not None:
            yield self.archive
            return
        with zipfile.ZipFile(self.path) as archive:
            yield archive


def sources_of(path: Path, zone: ZoneInfo) -> Generator[Source | Problem]:
    """The files at `path`. Raises OrdertinError where there is nothing to read there at all."""
    facts = _facts(path)
    if stat.S_ISDIR(facts.st_mode):
        yield from _of_folder(path, zone)
        return
    if not stat.S_ISREG(facts.st_mode):
        raise OrdertinError("this is not a file that can be read", where=path.name, todo="Choose an export file")
    source = _of_file(path, path.name, zone)
    if isinstance(source, Problem):
        raise OrdertinError(source.what, where=source.where, todo=source.todo)
    if _is_archive(path):
        yield from _of_archive(path, source, zone)
    else:
        yield source


def unreadable(where: str, error: Exception) -> OrdertinError:
    if isinstance(error, FileNotFoundError):
        return OrdertinError("there is no such file", where=where, todo="Check its name and folder")
    if isinstance(error, PermissionError):
        return OrdertinError("this file may not be read", where=where, todo="Check its permissions")
    reason = error.strerror if isinstance(error, OSError) and error.strerror else "its name or place is not valid"
    return OrdertinError(f"this file can't be read: {reason}", where=where, todo="Copy it elsewhere and try again")


def _facts(path: Path) -> os.stat_result:
    try:
        return path.stat()
    except (OSError, ValueError) as error:
        raise unreadable(str(path), error) from None


def _of_file(path: Path, name: str, zone: ZoneInfo) -> Source | Problem:
    try:
        facts = path.stat()
        saved = datetime.fromtimestamp(facts.st_mtime, zone).replace(microsecond=0)
    except (OSError, ValueError, OverflowError) as error:
        return unreadable(name, error).problem
    if not facts.st_size:
        return Problem(name, "this file is empty", "Export it again")
    if facts.st_size > LARGEST_FILE:
        most = LARGEST_FILE // 1024**3
        what = f"this file is {facts.st_size / 1024**3:.1f} GB, and {most} GB is the most that is read"
        return Problem(name, what, "Export a shorter time, or one folder at a time")
    return Source(name, facts.st_size, saved, path)


def _of_folder(folder: Path, zone: ZoneInfo) -> Iterator[Source | Problem]:
    """Every file below `folder`, by name; a Maildir is a folder too. Links are not followed: they may go round."""
    count = 0
    rest = [folder]
    while rest:
        here = rest.pop()
        try:
            inside = sorted(here.iterdir())
        except OSError as error:
            yield unreadable(_shown(here, folder), error).problem
            continue
        # Mails on their way into a Maildir are in its `tmp`, half written.
        maildir = {"cur", "new", "tmp"} <= {path.name for path in inside}
        for path in inside:
            if path.is_symlink() or (maildir and path.name == "tmp"):
                continue
            if path.is_dir():
                rest.append(path)
            elif path.is_file():
                count += 1
                if count > MOST_FILES:
                    what = f"only the first {MOST_FILES:,} files of this folder were read"
                    yield Problem(folder.name, what, "Take its folders one at a time")
                    return
                name = _shown(path, folder)
                source = _of_file(path, name, zone)
                if isinstance(source, Source) and _is_archive(path):
                    yield from _of_archive(path, source, zone)
                else:
                    yield source
    if not count:
        raise OrdertinError("this folder is empty", where=folder.name or str(folder), todo="Choose another one")


def _shown(path: Path, folder: Path) -> str:
    return one_line(path.relative_to(folder.parent).as_posix(), 300)


def _is_archive(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            return file.read(4) == b"PK\x03\x04"
    except OSError:
        return False


def _of_archive(path: Path, source: Source, zone: ZoneInfo) -> Iterator[Source | Problem]:
    try:
        archive = zipfile.ZipFile(path)
    except (zipfile.BadZipFile, OSError, ValueError, EOFError, NotImplementedError, RuntimeError, UnicodeError):
        yield _damaged(source.name).problem
        return
    with archive:
        yield from _parts(archive, source, zone)


def _parts(archive: zipfile.ZipFile, source: Source, zone: ZoneInfo) -> Iterator[Source | Problem]:
    parts = [part for part in archive.infolist() if not part.filename.endswith("/")]
    whole = [part for part in parts if not _refused(part)]
    total, packed = sum(part.file_size for part in whole), sum(part.compress_size for part in whole)
    if len(parts) > MOST_FILES or total > LARGEST_FILE or _grows(total, min(packed, source.size)):
        what = f"this archive would unpack to {total / 1024**2:,.0f} MB in {len(parts):,} files, and was not opened"
        yield Problem(source.name, what, "If it is your own export, unpack it and take the folder")
        return
    for part in sorted(parts, key=lambda part: part.filename):
        name = f"{source.name}: {one_line(part.filename, 200)}"
        if why := _refused(part):
            yield Problem(name, why, "It was left out")
        elif part.file_size:
            yield Source(name, part.file_size, _saved(part, source.saved, zone), source.path, part.filename, archive)


def _refused(part: zipfile.ZipInfo) -> str:
    """Why a part of an archive is not read, or an empty text."""
    if not part.filename:
        return "it has no name"
    steps = part.filename.replace("\\", "/").split("/")
    if ".." in steps or steps[0] == "" or ":" in steps[0] or "\0" in part.orig_filename:
        return "its name points outside the archive"
    if part.flag_bits & 0x1:
        return "it is locked with a password"
    if part.filename.lower().endswith((".zip", ".7z", ".rar", ".gz", ".tgz", ".bz2", ".xz", ".tar")):
        return "it is an archive inside an archive"
    if _grows(part.file_size, part.compress_size):
        return f"it would unpack to {part.file_size / 1024**2:,.0f} MB out of {part.compress_size / 1024:,.0f} KB"
    return ""


def _grows(size: int, packed: int) -> bool:
    return size > HARMLESS and size > LARGEST_GROWTH * max(packed, 1)


def _saved(part: zipfile.ZipInfo, otherwise: datetime, zone: ZoneInfo) -> datetime:
    try:
        return datetime(*part.date_time, tzinfo=zone)
    except ValueError:
        return otherwise


def _copy(packed: IO[bytes], out: BinaryIO, source: Source) -> None:
    """What the archive says of a part's size is not believed: a lie ends the copying."""
    size = 0
    while piece := packed.read(_PIECE):
        size += len(piece)
        if size > source.size:
            raise _damaged(source.name)
        out.write(piece)


def _damaged(name: str) -> OrdertinError:
    return OrdertinError(
        "this archive is damaged", where=name, todo="Export it again, or unpack it and take the folder"
    )


def copied_in(stream: BinaryIO) -> Path:
    """Standard input as a file that the caller removes. Raises OSError."""
    with tempfile.NamedTemporaryFile("wb", prefix="ordertin-", delete=False) as out:
        shutil.copyfileobj(stream, out, _PIECE)
    return Path(out.name)
