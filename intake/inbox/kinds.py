"""What kind of file this is, told by its first bytes rather than by its name."""

from __future__ import annotations

import re
from dataclasses import dataclass

from intake.inbox import mbox

HEAD = 64 * 1024

_MAIL_FIELD = re.compile(
    rb"^(?:from|date|received|message-id|return-path|mime-version|delivered-to|subject)[ \t]*:", re.I | re.M
)
_KINDS = (
    (b"PK\x03\x04", "an archive inside an archive", "Unpack it and take the folder"),
    (b"\x1f\x8b", "a packed file", "Unpack it and take the file inside"),
    (b"7z\xbc\xaf", "a packed file", "Unpack it and take the file inside"),
    (b"Rar!", "a packed file", "Unpack it and take the file inside"),
    (b"%PDF", "a PDF", "Copy the customer's words out of it and paste them"),
    (b"\x89PNG", "a picture", "Type what it says and paste that"),
    (b"\xff\xd8\xff", "a picture", "Type what it says and paste that"),
    (b"GIF8", "a picture", "Type what it says and paste that"),
    (b"SQLite format 3", "a database", "Export the messages as JSON or as a mailbox first"),
    (b"\xd0\xcf\x11\xe0", "an office document", "Copy the customer's words out of it and paste them"),
)
# What lies beside the messages of an export and is no loss.
_BESIDE = re.compile(
    r"\.(?:jpe?g|png|gif|webp|heic|bmp|svg|mp4|mov|avi|3gp|webm|mp3|m4a|ogg|opus|aac|amr|wav|pdf|docx?|xlsx?|vcf|ics|css|js|toml|ini|md"
    r"|ico|woff2?|ttf)$|(?:^|[/ ])(?:\.[^/]*|dovecot[^/]*|maildir(?:size|folder)|subscriptions|thumbs\.db)$",
    re.IGNORECASE,
)
READS = (
    "A mailbox (mbox), saved mails, chats as JSON, as a table (CSV), as plain text or as a saved page can be taken, "
    "also in a folder or a zip archive; paste a single message"
)


@dataclass(frozen=True, slots=True)
class Other:
    """A file that holds no messages: what is wrong with it and what to do."""

    what: str
    todo: str


def kind_of(head: bytes) -> str | Other:
    """`mailbox`, `mail`, `json` or `text`, by the first HEAD bytes of a file."""
    for sign, what, todo in _KINDS:
        if head.startswith(sign):
            return Other(f"this is {what}, not an export of messages", todo)
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        start = head.decode("utf-16", "replace").lstrip().encode("utf-8", "replace")
    else:
        start = head.removeprefix(b"\xef\xbb\xbf").lstrip(b" \t\r\n")
    if not start:
        return Other("this file holds nothing but blanks", "Export it again")
    line, _, rest = start.partition(b"\n")
    if mbox.is_from_line(line):
        return "mailbox"
    if start[:1] == b"{" or (start[:1] == b"[" and _LIST.match(start)):
        return "json"
    first = rest if line.startswith((b"From ", b">From ")) else start
    block = re.split(rb"\r?\n\r?\n", first, maxsplit=1)[0]
    if mbox.is_header(first) and len(_MAIL_FIELD.findall(block)) >= 2:
        return "mail"
    if b"\0" in start and not _is_wide(start):
        return Other("this file does not hold text", READS)
    return "text"


# A list of JSON, not a time in brackets.
_LIST = re.compile(rb"\[\s*(?:$|[\[{\"\]tfn-]|\d+\s*[,\]]|\d{5})")


def _is_wide(start: bytes) -> bool:
    """Text of two bytes a letter without a mark at its start."""
    sample = start[:2000]
    return max(sample[::2].count(0), sample[1::2].count(0)) * 10 > len(sample) * 4


def lies_beside(name: str) -> bool:
    """True for photos, papers and the like, which exports hold beside the messages."""
    return _BESIDE.search(name) is not None
