"""Papers as files."""

from __future__ import annotations

from pathlib import Path

from intake.model import OrdertinError


def write(path: Path, content: bytes, *, todo: str) -> Path:
    """Writes a file over an older one of its name; gives where it is. Raises OrdertinError where it can't be written.

    A folder that isn't there yet is made, but not those above it.
    """
    try:
        if path.parent.parent.is_dir():
            path.parent.mkdir(exist_ok=True)
        path.write_bytes(content)
    except OSError as error:
        raise OrdertinError(f"it can't be written: {error.strerror or error}", where=str(path), todo=todo) from None
    return path.resolve()
