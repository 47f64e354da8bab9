"""Any text as one that the type on paper can show. The one file that imports `anyascii`.

The type has Latin, Greek and Cyrillic letters. What it lacks is written in Latin letters by sound, between marks that
say so: `‹Li›`. What has no sound is a question mark.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable

from anyascii import anyascii

OPEN, CLOSE, UNKNOWN = "‹", "›", "?"


def writable(text: str, has: Callable[[str], bool]) -> str:
    """`text` in letters for which `has` is true. What had to be written otherwise stands between ‹ and ›."""
    found: list[str] = []
    for letter in unicodedata.normalize("NFC", text):
        if letter.isspace():
            found.append(" ")
        elif has(letter):
            found.append(letter)
        elif unicodedata.category(letter) in ("Cc", "Cf", "Mn", "Me", "Cs"):
            # Marks and joiners that belong to a letter before them have no place of their own.
            continue
        else:
            found.append(f"{OPEN}{_by_sound(letter)}{CLOSE}")
    return "".join(found).replace(f"{CLOSE}{OPEN}", "")


def _by_sound(letter: str) -> str:
    return anyascii(letter).strip().replace(":", " ").strip() or UNKNOWN


def replaced(text: str) -> bool:
    """Whether a text that `writable` gave has anything in it that was written otherwise."""
    return OPEN in text
