"""Bytes of a file as text, where the file doesn't say in which encoding it is."""

from __future__ import annotations

import re

_MARKS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe\0\0", "utf-32"),
    (b"\0\0\xfe\xff", "utf-32"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
_LETTER = re.compile("[\x80-\U0010ffff]")


def decoded(data: bytes) -> tuple[str, str]:
    """The text of `data`, and what is in doubt about it in the baker's words, empty where nothing is.

    By its byte order mark; UTF-16 where every other byte is nothing; UTF-8; where that does not hold throughout,
    windows-1252, unless most letters beyond ASCII do hold.
    """
    for mark, coding in _MARKS:
        if data.startswith(mark):
            return _with_doubt(data.decode(coding, "replace"))
    head = data[:4096]
    even, odd = head[::2].count(0) * 2, head[1::2].count(0) * 2
    if max(even, odd) > len(head) * 0.4 and min(even, odd) < len(head) * 0.1:
        return _with_doubt(data.decode("utf-16-le" if odd > even else "utf-16-be", "replace"))
    try:
        return data.decode("utf-8"), ""
    except UnicodeDecodeError:
        text = data.decode("utf-8", "replace")
    lost = text.count("\ufffd")
    if len(_LETTER.findall(text)) - lost > lost:
        return _with_doubt(text)
    return data.decode("windows-1252", "replace"), "the file is not in UTF-8; it was read as windows-1252"


def _with_doubt(text: str) -> tuple[str, str]:
    return text, "some letters can't be read: the file is not in UTF-8 throughout" if "\ufffd" in text else ""
