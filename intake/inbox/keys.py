"""Keys that stay the same when the same messages are exported again."""

from __future__ import annotations

import hashlib
import re

from intake.clean import clean

_REPLY = re.compile(r"\s*(?:re|fwd?|aw|wg|sv|vs|antw|rv|res|tr|rif)\s*(?:\[\d+\]|\(\d+\))?\s*:", re.IGNORECASE)


def key_of(kind: str, *facts: str) -> str:
    """A short key of `facts`; the first letter of `kind` leads it."""
    told = "\x1f".join((kind, *facts)).encode("utf-8", "surrogatepass")
    return kind[0] + hashlib.blake2b(told, digest_size=10).hexdigest()


def one_line(text: str, most: int = 200) -> str:
    """`text` cleaned and on one line: names, subjects, file names."""
    return " ".join(clean(text).split())[:most]


def plain_subject(subject: str) -> tuple[str, bool]:
    """A subject without its reply and forward marks, for comparing, and whether there were any."""
    if ":" not in subject:
        return " ".join(subject.casefold().split()), False
    rest = subject
    while mark := _REPLY.match(rest):
        rest = rest[mark.end() :]
    return " ".join(rest.casefold().split()), rest is not subject
