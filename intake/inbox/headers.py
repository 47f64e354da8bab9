"""The header fields of a mail, read with forgiveness: nothing here raises.

Fields are RFC 5322, encoded words RFC 2047. Bytes outside ASCII are read as UTF-8 and else by the windows-1252 table,
which the WHATWG Encoding Standard also gives for what calls itself ASCII or Latin-1.
"""

from __future__ import annotations

import binascii
import codecs
import quopri
import re
from collections.abc import Mapping, Sequence
from email.message import Message as RawMail
from email.utils import getaddresses

from intake.clean import clean
from intake.inbox.baker import address_in
from intake.inbox.keys import one_line

# Codecs of Python that are no charset of any mail: some evaluate escapes, some take very long on hostile input.
_NOT_CHARSETS = frozenset(("idna", "punycode", "unicode_escape", "raw_unicode_escape", "undefined", "mbcs", "oem"))
_ENCODED = re.compile(r"=\?([^?*\s]{1,40})(?:\*[^?\s]*)?\?([bq])\?([^?]*)\?=", re.IGNORECASE)
_ID = re.compile(r"<([^<>\s]{1,500})>")
_FOLD = re.compile(r"[\r\n]+[ \t]*")
_FIELD = re.compile(rb"([!-9;-~]+)[ \t]*:([^\r\n]*(?:\r?\n[ \t][^\r\n]*)*)(?:\r?\n|\Z)")
# A name and an address with nothing about them that needs the whole grammar.
_PLAIN = re.compile(
    r"""(?:(?:"([^"\\=]*)"|([\w .'&*+/!-]*))\s*<([\w.+-]+@[\w-]+(?:\.[\w-]+)*)>"""
    r"""|([\w.+-]+@[\w-]+(?:\.[\w-]+)*))""",
    re.ASCII,
)
_LONGEST = 20_000
_MOST = 50

Head = Mapping[str, Sequence[str]]


def decoded(data: bytes, charset: str = "") -> str:
    """`data` as text: by its charset where that is one and fits, else UTF-8, else windows-1252, else Latin-1."""
    for name in (charset, "utf-8", "cp1252"):
        try:
            known = codecs.lookup(name).name.replace("-", "_")
            if known not in _NOT_CHARSETS:
                return data.decode("cp1252" if known == "iso8859_1" else known)
        except (LookupError, ValueError, TypeError, RecursionError):
            continue
    return data.decode("latin-1")


def head_of(data: bytes) -> dict[str, list[str]] | None:
    """The fields of a head by their names in lower case, as they stand; None where a line of it is no field."""
    head: dict[str, list[str]] = {}
    end = 0
    for found in _FIELD.finditer(data):
        if found.start() != end:
            return None
        end = found.end()
        head.setdefault(found[1].decode("ascii").lower(), []).append(found[2].decode("ascii", "surrogateescape"))
    return head if end == len(data) else None


def head_of_mail(mail: RawMail) -> dict[str, list[str]]:
    """The same of a mail, or a part of one, that the standard library has parsed."""
    head: dict[str, list[str]] = {}
    for key, value in mail.raw_items():
        head.setdefault(key.lower(), []).append(str(value))
    return head


def field(head: Head, name: str) -> str:
    """The first field called `name`, unfolded, encoded words left as they are; empty where there is none."""
    values = head.get(name)
    return _unfolded(values[0]) if values else ""


def fields(head: Head, name: str) -> list[str]:
    return [_unfolded(value) for value in head.get(name, ())[:_MOST]]


def _unfolded(text: str) -> str:
    text = text[:_LONGEST]
    if not text.isascii():
        text = decoded(text.encode("utf-8", "surrogateescape"), "utf-8")
    if "\n" in text or "\r" in text:
        text = _FOLD.sub(" ", text)
    return clean(text).strip()


def words(value: str) -> str:
    """`value` with its encoded words decoded. What is not an encoded word, or a broken one, stays."""
    if "=?" not in value:
        return value
    found: list[str | tuple[str, bytes]] = []
    end = 0
    for match in _ENCODED.finditer(value):
        between = value[end : match.start()]
        # Space between two encoded words is not part of the text (RFC 2047 section 6.2).
        if not (found and isinstance(found[-1], tuple) and not between.strip()) and between:
            found.append(between)
        charset, data = match[1].lower(), _bytes_of(match[2].lower(), match[3])
        last = found[-1] if found else ""
        if data is None:
            found.append(match[0])
        elif isinstance(last, tuple) and last[0] == charset:
            # Some writers split a character between two words.
            found[-1] = (charset, last[1] + data)
        else:
            found.append((charset, data))
        end = match.end()
    found.append(value[end:])
    return "".join(part if isinstance(part, str) else decoded(part[1], part[0]) for part in found)


def _bytes_of(encoding: str, text: str) -> bytes | None:
    try:
        if encoding == "q":
            return quopri.decodestring(text.encode("ascii", "replace"), header=True)
        return binascii.a2b_base64(text.rstrip("=") + "=" * (-len(text.rstrip("=")) % 4))
    except (binascii.Error, ValueError):
        return None


def people(head: Head, name: str) -> list[tuple[str, str]]:
    """Display name and address (in lower case) of everyone in the fields called `name`."""
    values = fields(head, name)
    if not values:
        return []
    if len(values) == 1 and (plain := _PLAIN.fullmatch(values[0])):
        title = " ".join((plain[1] or plain[2] or "").split())
        return [(title[:200].strip("'\" "), address_in(plain[3] or plain[4]))]
    try:
        found = [(title, address) for title, address in getaddresses(values) if title or address]
    except (ValueError, IndexError, TypeError, AttributeError, RecursionError):
        found = []
    named = [(one_line(words(title)).strip("'\" "), address_in(address)) for title, address in found]
    if any(address for _, address in named):
        return [(title, address) for title, address in named if address]
    # An address that is not one by the book: the first thing that looks like one, and the rest as the name.
    rest = words(" ".join(values))
    address = address_in(rest)
    title = one_line(re.sub(re.escape(address), "", rest, flags=re.IGNORECASE).strip("<>'\", "))
    return [(title, address)] if title or address else []


def ids(head: Head, name: str) -> tuple[str, ...]:
    """The message ids in the field called `name`, in order; the whole of it where it has none by the book."""
    value = field(head, name)
    found = _ID.findall(value)
    if not found and name == "message-id" and value:
        found = [one_line(value.strip("<>"), 500)]
    return tuple(dict.fromkeys(i for i in found if i))
