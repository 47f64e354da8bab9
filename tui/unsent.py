"""What has been typed and not handed in yet, kept beside the book so that a terminal that is closed doesn't lose it.

One small JSON file, for its owner alone. Losing it harms nothing: a file that can't be read or written is passed over.
"""

from __future__ import annotations

import json
import os
from contextlib import suppress
from pathlib import Path


class Unsent:
    """Named texts, each with what it belongs to: `{"box": {"text", "about"}, "reply": {"text", "about"}}`."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def text(self, name: str, about: str | None = None) -> tuple[str, str]:
        """The text kept under `name` and what it is about; empty where there is none, or it is about another thing."""
        kept = self._kept().get(name, {})
        found = (str(kept.get("text", "")), str(kept.get("about", "")))
        return found if about in (None, found[1]) else ("", "")

    def keep(self, name: str, text: str, about: str) -> None:
        """Keep a text in place of the one before; an empty one takes it away."""
        before = self._kept()
        after = {key: value for key, value in before.items() if key != name}
        if text.strip():
            after[name] = {"text": text, "about": about}
        if after == before:
            return
        with suppress(OSError):
            if not after:
                self._path.unlink(missing_ok=True)
                return
            beside = self._path.with_suffix(".new")
            handle = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
            with os.fdopen(handle, "w", encoding="utf-8", errors="replace") as file:
                json.dump(after, file)
            beside.replace(self._path)

    def _kept(self) -> dict[str, dict[str, str]]:
        with suppress(OSError, ValueError):
            found = json.loads(self._path.read_text(encoding="utf-8"))
            if isinstance(found, dict) and all(isinstance(value, dict) for value in found.values()):
                return found
        return {}
