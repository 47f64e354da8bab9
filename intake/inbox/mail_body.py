"""What a mail says: its head, its words and the names of its attachments. Never raises.

Mails by the book are taken apart by `mime_parts`; the rest by the standard library, which forgives more.
"""

from __future__ import annotations

import re
from email import message_from_bytes
from email.message import Message as RawMail

from intake.inbox import headers, mime_parts
from intake.inbox.keys import one_line
from intake.inbox.mime_parts import readable

_DEEPEST = 30
_MOST_PARTED = 60
_HEAD_END = re.compile(rb"\r?\n[ \t]*\r?\n")
_CONTENT = re.compile(rb"^content-(?:type|disposition):[^\r\n]*(?:\r?\n[ \t][^\r\n]*)*", re.IGNORECASE | re.MULTILINE)
_NEEDED = re.compile(rb"\b(?:boundary|charset) *= *(?:\"[^\"\r\n]{0,200}\"|[^\s;\"]{1,200})", re.IGNORECASE)
_SPACED_NAME = re.compile(rb"^([!-9;-~]+)[ \t]+:", re.MULTILINE)  # obsolete: RFC 5322 section 4.5
_HEADER = re.compile(rb"([!-9;-~]+)[ \t]*:[ \t]?(.*)", re.DOTALL)


def taken_apart(data: bytes) -> tuple[headers.Head, str, list[tuple[str, str]]]:
    """The head, the words to read, and the attachments as (main type, name)."""
    return mime_parts.taken_apart(data) or forgiven(data)


def forgiven(data: bytes) -> tuple[headers.Head, str, list[tuple[str, str]]]:
    """The same by the standard library, whatever the mail is like."""
    mail = _parsed(data)
    return (headers.head_of_mail(mail), *_body(mail))


def _parsed(data: bytes) -> RawMail:
    end = _HEAD_END.search(data)
    cut = end.start() if end else len(data)
    data = _SPACED_NAME.sub(rb"\1:", data[:cut]) + data[cut:]
    if data.count(b"boundary=") > _MOST_PARTED:
        # The parser tries every open boundary at every line.
        return _salvaged(data)
    try:
        # The newer policies raise on header fields that real mails have; this one leaves them as they are.
        return message_from_bytes(data)
    except Exception:  # the parser raises all sorts on broken parameters and endless nesting
        pass
    try:
        return message_from_bytes(_CONTENT.sub(_plainer, data))
    except Exception:  # as above
        return _salvaged(data)


def _plainer(found: re.Match[bytes]) -> bytes:
    """A Content-Type or Content-Disposition field with no parameters but those that the words depend on."""
    name, value = found[0].split(b":", 1)
    return b":".join((name, b";".join((value.split(b";", 1)[0].rstrip(), *_NEEDED.findall(value)))))


def _salvaged(data: bytes) -> RawMail:
    """The fields that matter, each as it stands, and everything after the blank line as plain text."""
    end = _HEAD_END.search(data)
    head, body = (data[: end.start()], data[end.end() :]) if end else (data, b"")
    mail: RawMail = RawMail()
    for line in re.split(rb"\r?\n(?![ \t])", head):
        if (said := _HEADER.match(line)) and not said[1].lower().startswith(b"content-"):
            mail[said[1].decode("ascii", "replace")] = headers.decoded(said[2])
    mail.set_payload(body.decode("ascii", "surrogateescape"))
    return mail


def _body(mail: RawMail) -> tuple[str, list[tuple[str, str]]]:
    """The words to read and the attachments as (main type, name). Of alternatives the plain one is read."""
    texts: list[str] = []
    names: list[tuple[str, str]] = []
    rest: list[tuple[RawMail, int]] = [(mail, 0)]
    while rest:
        part, depth = rest.pop()
        main, kind = _type(part)
        inside = part.get_payload() if part.is_multipart() else None
        if isinstance(inside, list) and main != "message" and depth < _DEEPEST:
            children = [child for child in inside if isinstance(child, RawMail)]
            if kind == "alternative":
                children = _chosen(children)
            rest.extend((child, depth + 1) for child in reversed(children))
        elif main == "multipart" or (main == "text" and kind in ("plain", "html") and not _attached(part)):
            if words := _words(part, kind):
                texts.append(words)
        else:
            names.append((main, _name(part, main, kind)))
    return "\n\n".join(texts), names


def _chosen(children: list[RawMail]) -> list[RawMail]:
    """The plain alternative where it has words, else the last one: writers put the fullest last."""
    for child in children:
        if _type(child) == ("text", "plain") and _words(child, "plain").strip():
            return [child]
    nested = [child for child in children if _type(child)[0] == "multipart"]
    html = [child for child in children if _type(child) == ("text", "html")]
    return (html or nested or children)[-1:]


def _type(part: RawMail) -> tuple[str, str]:
    try:
        main, _, kind = part.get_content_type().partition("/")
        return main, kind
    except Exception:  # a broken parameter: see cpython #151857 and its like
        return "text", "plain"


def _attached(part: RawMail) -> bool:
    return _field(part, "content-disposition").lower().startswith("attachment")


def _field(part: RawMail, name: str) -> str:
    return headers.field(headers.head_of_mail(part), name)


def _words(part: RawMail, kind: str) -> str:
    try:
        charset = part.get_content_charset() or ""
    except Exception:  # as above
        charset = ""
    try:
        data = part.get_payload(decode=True)
        # Nothing at all comes of what is not in the encoding that it claims.
        text = headers.decoded(data, charset) if data and isinstance(data, bytes) else str(part.get_payload())
    except Exception:  # a transfer encoding that is not what it says
        text = str(part.get_payload())
    return readable(text, kind, mime_parts.is_flowed(_field(part, "content-type")))


def _name(part: RawMail, main: str, kind: str) -> str:
    if main == "message":
        inside = part.get_payload()
        first = inside[0] if isinstance(inside, list) and inside else None
        subject = headers.words(_field(first, "subject")) if isinstance(first, RawMail) else ""
        return one_line(f"forwarded mail: {subject}" if subject else "forwarded mail")
    try:
        name = str(part.get_filename() or "")
    except Exception:  # as above
        name = ""
    if "\ufffd" in name:  # letters of no encoding, which the standard library gives up
        name = mime_parts.plain_name(_field(part, "content-disposition"), _field(part, "content-type")) or name
    return one_line(re.split(r"[/\\]", headers.words(name))[-1]) or one_line(f"{main}/{kind}")
