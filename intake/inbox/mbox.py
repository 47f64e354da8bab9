"""A mailbox file cut into its mails, one at a time, without holding the file in memory.

A mail begins at a line "From ", an address and a date, at the start of the file or after a blank line, that a header
line follows. Body lines that merely begin with "From " stay in the body. The shape of the line is that of RFC 4155
appendix A; writers differ in the date (a zone, no seconds), so these are taken too.

Writers guard body lines in four ways: `mboxo` puts ">" before "From "; `mboxrd` also before ">From ", ">>From " and
so on; `mboxcl` is `mboxo` with a Content-Length header; `mboxcl2` guards nothing and trusts Content-Length alone.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import BinaryIO

LONGEST_MAIL = 64 * 1024 * 1024
_PIECE = 1024 * 1024
_BLANK = frozenset((b"", b"\n", b"\r\n", b"\r", b"\r\r\n"))

_DAY = rb"(?:mon|tue|wed|thu|fri|sat|sun)[a-z]{0,6},?\s+"
_CLOCK = rb"\s+\d{1,2}:\d\d(?::\d\d)?"
_ZONE = rb"(?:\s+(?:[+-]\d{4}|[a-z]{1,5})){0,2}"
_FROM = re.compile(
    rb'From +(?:"[^"\r\n]{0,200}"(?=[@ ]))?\S*\s+(?P<date>'
    + _DAY
    + rb"(?:[a-z]{3,9}\s+\d{1,2}" + _CLOCK + _ZONE + rb"\s+\d{4}|\d{1,2}\s+[a-z]{3,9}\s+\d{4}" + _CLOCK + rb")"
    + _ZONE
    + rb")(?:\s+remote from \S+)?\s*$",
    re.IGNORECASE,
)
_HEADER = re.compile(rb"[!-9;-~]{1,80}[ \t]*:")
_LENGTH = re.compile(rb"^content-length[ \t]*:[ \t]*(\d{1,12})[ \t]*\r?$", re.IGNORECASE | re.MULTILINE)
_GUARDED = re.compile(rb"^>(>*From )", re.MULTILINE)
_GUARDED_ONCE = re.compile(rb"^>(From )", re.MULTILINE)
_OPEN = re.compile(rb"^From ", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Piece:
    """One mail of a mailbox: `number` counts from 1, `date` is the text of its "From " line, `data` the mail with
    the guards taken off. `cut` where it was longer than LONGEST_MAIL bytes and the rest was left out."""

    number: int
    date: str
    data: bytes
    cut: bool = False


def is_from_line(line: bytes) -> bool:
    """True for a line such as `From dana@example.com Wed Mar 11 14:05:10 2026`."""
    return len(line) < 1000 and line.startswith(b"From ") and _FROM.match(line) is not None


def is_header(line: bytes) -> bool:
    return _HEADER.match(line) is not None


def unguarded(body: bytes, habit: str) -> bytes:
    """`body` as it was before the mailbox writer guarded its "From " lines by `habit`."""
    if habit == "mboxcl2":
        return body
    return (_GUARDED if habit == "mboxrd" else _GUARDED_ONCE).sub(rb"\1", body)


def habit_of(body: bytes, *, counted: bool) -> str:
    """The habit that `body` shows. Without Content-Length `mboxo` and `mboxrd` look alike; `mboxrd` undoes both,
    but for a ">" that the customer wrote before "From " herself."""
    if not counted:
        return "mboxrd"
    return "mboxcl2" if _OPEN.search(body) else "mboxcl"


def pieces(file: BinaryIO) -> Iterator[Piece]:
    """The mails of a mailbox opened in binary at its start. The file must be seekable. Anything before the first
    "From " line is left out."""
    reader = _Reader(file)
    line = reader.next()
    while line and not (reader.fresh and is_from_line(line)):
        line = reader.next()
    number = 0
    while line:
        number += 1
        found = _FROM.match(line)
        date = found["date"].decode("ascii", "replace") if found else ""
        head = reader.head()
        counted = reader.counted(head)
        cut = False
        if counted is None:
            body, cut, line = reader.body()
        else:
            body, line = counted, reader.after_blank()
        body = unguarded(body, habit_of(body, counted=counted is not None))
        yield Piece(number, date, head + b"\n" + body, cut)


class _Reader:
    """Lines of at most _PIECE bytes. `fresh`: the last line given came after a blank line, or first of all."""

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        self._blank = self._whole = self.fresh = True
        if file.read(3) != b"\xef\xbb\xbf":
            file.seek(0)

    def next(self) -> bytes:
        line = self._file.readline(_PIECE)
        self.fresh = self._blank
        self._blank = self._whole and not line.strip(b"\r\n")
        self._whole = line.endswith(b"\n")
        return line

    def starts_mail(self, line: bytes) -> bool:
        """True where `line`, the last one given, begins a mail: then the line after it is a header."""
        if not (self.fresh and is_from_line(line)):
            return False
        here = self._file.tell()
        after = self._file.readline(_PIECE)
        self._file.seek(here)
        return is_header(after)

    def head(self) -> bytes:
        """The header lines up to the blank line."""
        lines: list[bytes] = []
        size = 0
        while (line := self.next()).strip(b"\r\n"):
            size += len(line)
            if size <= LONGEST_MAIL:
                lines.append(line)
        return b"".join(lines)

    def body(self) -> tuple[bytes, bool, bytes]:
        """The lines up to the next mail without the blank line before it; whether it was cut; the "From " line."""
        lines: list[bytes] = []
        size = 0
        # As `next`, in place: a mailbox has some thirty lines a mail, and this is where the time goes.
        readline, blank, whole = self._file.readline, self._blank, self._whole
        while line := readline(_PIECE):
            self.fresh = blank
            whole_before, whole = whole, line[-1:] == b"\n"
            blank = whole_before and line in _BLANK
            if self.fresh and line[:5] == b"From " and self.starts_mail(line):
                break
            size += len(line)
            if size <= LONGEST_MAIL:
                lines.append(line)
        self._blank, self._whole = blank, whole
        if lines and lines[-1] in _BLANK:
            lines.pop()
        return b"".join(lines), size > LONGEST_MAIL, line

    def counted(self, head: bytes) -> bytes | None:
        """The body by its Content-Length, where that is plausible: a mail or the end of the file comes after it."""
        said = _LENGTH.search(head)
        if not said or int(said[1]) > LONGEST_MAIL:
            return None
        start = self._file.tell()
        body = self._file.read(int(said[1]))
        if len(body) == int(said[1]):
            end = self._file.tell()
            line = self._past_blank(self._file.readline)
            if not line or (is_from_line(line) and is_header(self._file.readline(_PIECE))):
                self._file.seek(end)
                return body
        self._file.seek(start)
        return None

    def after_blank(self) -> bytes:
        """The next line that says something, or nothing at the end of the file."""
        return self._past_blank(lambda _: self.next())

    @staticmethod
    def _past_blank(read: Callable[[int], bytes]) -> bytes:
        line = read(_PIECE)
        while line and not line.strip(b"\r\n"):
            line = read(_PIECE)
        return line
