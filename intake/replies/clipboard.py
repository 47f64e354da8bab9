"""Taking a reply out of the program: to the terminal's clipboard, to the machine's, or to a file."""

from __future__ import annotations

import base64
import os
import shutil
import subprocess
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from intake.model import OrdertinError

# Terminals that follow OSC 52 (xterm control sequences, "Manipulate Selection Data") may take no more than this.
_TERMINAL_LIMIT = 74_994

# What each helper needs besides being installed: the variables of a display that it can reach.
_HELPERS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("wl-copy",), "WAYLAND_DISPLAY"),
    (("xclip", "-selection", "clipboard"), "DISPLAY"),
    (("xsel", "--clipboard", "--input"), "DISPLAY"),
    (("pbcopy",), ""),
    (("clip.exe",), ""),
)


def osc52(text: str) -> str:
    """The control sequence that asks a terminal to put `text` on its clipboard: plain ASCII, `text` in base64.

    Raises OrdertinError where that would be longer than terminals take.
    """
    packed = base64.b64encode(text.encode()).decode("ascii")
    if len(packed) > _TERMINAL_LIMIT:
        raise OrdertinError("this is too long for a terminal's clipboard", where="copy", todo="Save it to a file")
    return f"\x1b]52;c;{packed}\x07"


def copy(text: str, *, terminal: Path = Path("/dev/tty"), seconds: float = 2.0) -> str:
    """Copy `text` by every way there is, and say honestly where it went, as one sentence."""
    sent = ""
    try:
        if _write(terminal, osc52(text)):
            sent = "sent to the terminal's clipboard (it does not confirm)"
        lack = "there is no terminal and no clipboard program here"
    except OrdertinError as error:
        lack = error.problem.what
    helper = _help(text, os.environ, seconds)
    if helper and sent:
        return f"copied with {helper}, and {sent}"
    if helper:
        return f"copied with {helper}"
    return sent or f"not copied: {lack}. Save it to a file instead"


def save(text: str, path: Path, *, force: bool = False) -> Path:
    """Write `text` to `path`, whole or not at all; over a file that is there only with `force`.

    Raises OrdertinError where the file is there, or can't be written.
    """
    text = text if text.endswith("\n") else f"{text}\n"
    return save_bytes(text.replace("\n", os.linesep).encode(), path, force=force)


def save_bytes(data: bytes, path: Path, *, force: bool = False) -> Path:
    """The same of bytes as they stand."""
    try:
        handle, temporary = tempfile.mkstemp(dir=path.parent, prefix=".")
        try:
            with open(handle, "wb") as file:
                file.write(data)
            if not force:
                _claim(path)
            os.replace(temporary, path)
        finally:
            with suppress(FileNotFoundError):
                os.unlink(temporary)
    except FileExistsError:
        raise OrdertinError(
            "this file is already there", where=str(path), todo="Name another, or say that it may be overwritten"
        ) from None
    except OSError as error:
        raise OrdertinError(
            f"this file can't be written: {error.strerror}", where=str(path), todo="Name a folder that you can write to"
        ) from None
    return path


def _claim(path: Path) -> None:
    """Take the name `path`; raises FileExistsError where something has it."""
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))


def _write(terminal: Path, sequence: str) -> bool:
    try:
        handle = os.open(terminal, os.O_WRONLY | getattr(os, "O_NOCTTY", 0))
    except OSError:
        return False
    with open(handle, "wb", buffering=0) as tty:
        try:
            if not tty.isatty():
                return False
            data = sequence.encode("ascii")
            while data:
                data = data[tty.write(data) or 0 :]
        except OSError:
            return False
    return True


def _help(text: str, environ: Mapping[str, str], seconds: float) -> str:
    """The clipboard program that took `text`, or an empty text; none over SSH, where it is the wrong machine's."""
    if environ.get("SSH_CONNECTION") or environ.get("SSH_TTY"):
        return ""
    for command, display in _HELPERS:
        program = shutil.which(command[0])
        if not program or (display and not environ.get(display)):
            continue
        # clip.exe reads anything but UTF-16 in the machine's old code page.
        data = text.encode("utf-16" if command[0] == "clip.exe" else "utf-8")
        with suppress(OSError, subprocess.SubprocessError):
            done = subprocess.run(
                [program, *command[1:]],
                input=data,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                timeout=seconds,
                check=False,
            )
            if done.returncode == 0:
                return command[0]
    return ""
