"""What a customer wrote, made safe to show: done once, where text enters the program.

Removed: escape sequences, C0 controls but tab and newline, DEL, C1 controls (ECMA-48 5th ed.) and the twelve
bidirectional controls (Unicode PropList, Bidi_Control). Line ends become a newline. Nothing else is changed:
compatibility folding would turn "1½" into "11⁄2".
"""

from __future__ import annotations

import re

_ENDS = re.compile(r"\r\n?")
# Strings (OSC, DCS, APC, PM, SOS) up to their terminator, BEL or the end of the line; CSI; any other escape.
_SEQUENCES = re.compile(
    r"(?:\x1b[\]PX^_]|[\x9d\x90\x98\x9e\x9f])[^\x07\x1b\x9c\n]*(?:\x07|\x1b\\|\x9c)?"
    r"|(?:\x1b\[|\x9b)[0-?]*[ -/]*[@-~]?"
    r"|\x1b[ -/]*[0-~]?"
)
_CONTROLS = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff]")
_LONE = re.compile("[\ud800-\udfff]")
_ANY = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")


def clean(text: str) -> str:
    """`text` without anything a terminal could act on; cleaning twice changes nothing more."""
    if not _ANY.search(text):
        return text
    text = _ENDS.sub("\n", text)
    text = _SEQUENCES.sub("", text)
    return _LONE.sub("\ufffd", _CONTROLS.sub("", text))
