"""A mail that keeps the rules of MIME (RFC 2045, 2046) taken apart in one pass; anything else is declined.

The standard library forgives more and takes several times as long, mostly on mails of several parts.
"""

from __future__ import annotations

import base64
import binascii
import re

from intake.inbox import headers
from intake.inbox.html_text import text_of_html
from intake.inbox.keys import one_line

_DEEPEST = 10
_BLANK_LINE = re.compile(rb"\r?\n\r?\n")
_LINE_END = re.compile(rb"\r?\n")
_DELIMITED = re.compile(rb"(--)?[ \t]*(?:\r?\n|\Z)")
_LONE_RETURN = re.compile(rb"\r(?!\n)")
_TYPE = re.compile(
    r"""([\w-]+)/([\w.+-]+)((?:\s*;\s*[\w-]+\s*=\s*(?:"[^"\\]*"|[^\s";*]+))*)\s*;?""", re.IGNORECASE | re.ASCII
)
_PARAMETER = re.compile(r""";\s*([\w-]+)\s*=\s*(?:"([^"\\]*)"|([^\s";]+))""", re.ASCII)
_FLOWED = re.compile(r""";\s*format\s*=\s*"?flowed\b""", re.IGNORECASE)
_PLAIN_NAME = re.compile(r"[^\\/%?*'=]+")

Apart = tuple[list[str], list[tuple[str, str]]]


def taken_apart(data: bytes) -> tuple[headers.Head, str, list[tuple[str, str]]] | None:
    """The head, the words to read, and the attachments as (main type, name); None where a rule is broken."""
    if b"\0" in data or (b"\r" in data and _LONE_RETURN.search(data)):
        return None
    cut = _cut(data)
    found = cut and _apart(*cut, 0)
    return (cut[0], "\n\n".join(found[0]), found[1]) if cut and found else None


def is_flowed(content_type: str) -> bool:
    return _FLOWED.search(content_type) is not None


def readable(text: str, kind: str, flowed: bool) -> str:
    """The words of a text part as they are meant to be read."""
    if kind == "html":
        return text_of_html(text)
    return unflowed(text) if flowed else text


def unflowed(text: str) -> str:
    """Lines that end in a space joined with the next of the same quote depth (RFC 3676 sections 4.2 to 4.5)."""
    lines: list[tuple[int, str, bool]] = []
    for line in text.replace("\r\n", "\n").split("\n"):
        words = line.lstrip(">")
        depth = len(line) - len(words)
        words = words.removeprefix(" ")
        flows = words.endswith(" ") and words != "-- "
        if lines and lines[-1][2] and lines[-1][0] == depth and words != "-- ":
            lines[-1] = (depth, lines[-1][1] + words, flows)
        else:
            lines.append((depth, words, flows))
    return "\n".join((">" * depth + " " if depth else "") + words for depth, words, _ in lines)


def _cut(data: bytes) -> tuple[dict[str, list[str]], bytes] | None:
    """Head and body of a mail or of one part."""
    if first := _LINE_END.match(data):
        return {}, data[first.end() :]
    end = _BLANK_LINE.search(data)
    head = headers.head_of(data[: end.start()] if end else data)
    return None if head is None else (head, data[end.end() :] if end else b"")


def _apart(head: headers.Head, body: bytes, depth: int) -> Apart | None:
    kind = _TYPE.fullmatch(headers.field(head, "content-type") or "text/plain")
    if not kind or depth > _DEEPEST:
        return None
    main, sub = kind[1].lower(), kind[2].lower()
    said = _PARAMETER.findall(kind[3])
    parameters = {name.lower(): quoted or bare for name, quoted, bare in said}
    if len(parameters) < len(said):
        return None
    disposition = headers.field(head, "content-disposition")
    if main == "multipart":
        return _inside(sub, parameters.get("boundary", ""), body, depth)
    if main == "text" and sub in ("plain", "html") and not disposition.lower().startswith("attachment"):
        text = _text(head, sub, kind[3], parameters.get("charset", ""), body)
        return None if text is None else ([text] if text else [], [])
    if main == "message":
        return None
    name = _name(disposition, parameters.get("name", ""))
    return None if name is None else ([], [(main, name or f"{main}/{sub}")])


def _inside(sub: str, boundary: str, body: bytes, depth: int) -> Apart | None:
    parts = _parts(body, boundary) if sub != "digest" else None
    if not parts:
        return None
    if sub == "alternative":
        parts = _chosen(parts)
    texts: list[str] = []
    names: list[tuple[str, str]] = []
    for head, inner in parts or ():
        found = _apart(head, inner, depth + 1)
        if found is None:
            return None
        texts += found[0]
        names += found[1]
    return (texts, names) if parts else None


def _parts(body: bytes, boundary: str) -> list[tuple[dict[str, list[str]], bytes]] | None:
    """What stands between the boundary's lines (RFC 2046 section 5.1.1); None unless the last of them closes it."""
    if not boundary or not boundary.isascii():
        return None
    mark = b"--" + boundary.encode()
    parts = []
    start = -1
    at = 0 if body.startswith(mark) else body.find(b"\n" + mark) + 1 or -1
    while at >= 0:
        line = _DELIMITED.match(body, at + len(mark))
        if line:
            if start >= 0:
                end = at - 1 - (body[at - 2 : at - 1] == b"\r")
                cut = _cut(body[start : max(start, end)])
                if cut is None:
                    return None
                parts.append(cut)
            if line[1]:
                return parts
            start = line.end()
        at = body.find(b"\n" + mark, at + len(mark) - 1 if not line else line.end() - 1) + 1 or -1
    return None


def _chosen(
    parts: list[tuple[dict[str, list[str]], bytes]],
) -> list[tuple[dict[str, list[str]], bytes]] | None:
    """Of alternatives the plain one where it has words, else the last HTML, else what holds parts of its own, else the
    last; None where the choice is not plain."""
    kinds = []
    for head, body in parts:
        kind = headers.field(head, "content-type").partition(";")[0].strip().lower() or "text/plain"
        if headers.field(head, "content-disposition") or kind.count("/") != 1:
            return None
        if kind == "text/plain":
            found = _apart(head, body, 0)
            if found is None:
                return None
            if "".join(found[0]).strip():
                return [(head, body)]
        kinds.append(kind)
    html = [part for part, kind in zip(parts, kinds, strict=True) if kind == "text/html"]
    nested = [part for part, kind in zip(parts, kinds, strict=True) if kind.startswith("multipart/")]
    return (html or nested or parts)[-1:]


def _text(head: headers.Head, sub: str, parameters: str, charset: str, body: bytes) -> str | None:
    match headers.field(head, "content-transfer-encoding").lower():
        case "" | "7bit" | "8bit" | "binary":
            pass
        case "quoted-printable":
            body = binascii.a2b_qp(body)
        case "base64":
            try:
                body = base64.b64decode(b"".join(body.split()), validate=True)
            except ValueError:
                return None
        case _:
            return None
    return readable(headers.decoded(body, charset), sub, is_flowed(parameters))


def plain_name(disposition: str, content_type: str) -> str | None:
    """The file name that two fields of a part give; as for `_name`."""
    kind = _TYPE.fullmatch(content_type)
    said = {name.lower(): quoted or bare for name, quoted, bare in _PARAMETER.findall(kind[3])} if kind else {}
    return _name(disposition, said.get("name", ""))


def _name(disposition: str, name: str) -> str | None:
    """The file name of an attachment, an empty text where it has none, None where reading it takes more rules."""
    if disposition:
        kind = _TYPE.fullmatch(f"x/{disposition}")
        if not kind:
            return None
        said = {key.lower(): quoted or bare for key, quoted, bare in _PARAMETER.findall(kind[3])}
        name = said.get("filename", name)
    return one_line(name) if not name or _PLAIN_NAME.fullmatch(name) else None
