"""Answers to customers, and how far a letter has got."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


@dataclass(frozen=True, slots=True)
class Reply:
    """A message ready to be sent. `missing` names the fields the wording needed and the order lacks, `why` is the
    reason for which it is proposed. `notice` says whose words it is in, where they are not those that the baker set,
    `minds` what she should bear in mind of the order: neither is sent."""

    kind: str
    to: str
    subject: str
    text: str
    missing: tuple[str, ...] = ()
    why: str = ""
    notice: str = ""
    minds: tuple[str, ...] = ()


class Fate(StrEnum):
    """How far a letter has got. It is `leaving` from when the server may have it; what comes after is the server's
    last word: it has it, it said no, it was never reached, or nobody here can know."""

    WRITTEN = "written"
    LEAVING = "leaving"
    ACCEPTED = "accepted"
    REFUSED = "refused"
    UNREACHED = "unreached"
    UNKNOWN = "unknown"
