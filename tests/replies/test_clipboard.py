"""Copies and files."""

from __future__ import annotations

import base64
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from intake.model import OrdertinError
from intake.replies.clipboard import copy, osc52, save

NOWHERE = Path("/nonexistent/tty")


# xterm control sequences, OSC 52: ESC ] 52 ; Pc ; Pd BEL, with Pd in base64 (RFC 4648).
@pytest.mark.parametrize(
    ("text", "expected"),
    [("", "\x1b]52;c;\x07"), ("foobar", "\x1b]52;c;Zm9vYmFy\x07"), ("fo", "\x1b]52;c;Zm8=\x07")],
)
def test_the_sequence(text: str, expected: str) -> None:
    assert osc52(text) == expected


@given(st.text(max_size=200))
def test_the_sequence_carries_any_text_and_nothing_else(text: str) -> None:
    sequence = osc52(text)
    assert base64.b64decode(sequence[7:-1], validate=True).decode() == text
    assert sequence.count("\x1b") == 1


def test_too_long_for_a_terminal() -> None:
    assert osc52("x" * 56_000)
    with pytest.raises(OrdertinError, match="too long"):
        osc52("x" * 57_000)
    assert "too long" in copy("x" * 57_000, terminal=NOWHERE)


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A machine with one folder of programs, empty, no display, and not over SSH."""
    for name in ("SSH_CONNECTION", "SSH_TTY", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    programs = tmp_path / "bin"
    programs.mkdir()
    monkeypatch.setenv("PATH", str(programs))
    return programs


@pytest.fixture
def pty() -> Iterator[tuple[int, Path]]:
    ours, theirs = os.openpty()
    yield ours, Path(os.ttyname(theirs))
    os.close(ours)
    os.close(theirs)


def program(folder: Path, name: str, does: str) -> Path:
    """A real program called `name` that keeps what it is given in the file returned, then does `does`."""
    kept = folder / f"{name}.kept"
    file = folder / name
    file.write_text(f"#!/bin/sh\n/bin/cat > '{kept}'\n{does}\n")
    file.chmod(0o755)
    return kept


def test_nowhere_to_copy_to(bare: Path) -> None:
    said = copy("hello", terminal=NOWHERE)
    assert said.startswith("not copied")
    assert "Save it to a file" in said


def test_a_terminal_does_not_confirm(bare: Path, pty: tuple[int, Path]) -> None:
    ours, theirs = pty
    assert copy("hello", terminal=theirs) == "sent to the terminal's clipboard (it does not confirm)"
    assert os.read(ours, 100).decode() == osc52("hello")


def test_a_file_is_not_a_terminal(bare: Path, tmp_path: Path) -> None:
    file = tmp_path / "tty"
    file.write_text("")
    assert copy("hello", terminal=file).startswith("not copied")
    assert file.read_text() == ""


HELPERS = [
    ("wl-copy", {"WAYLAND_DISPLAY": "wayland-0"}, True),
    ("wl-copy", {}, False),
    ("xclip", {"DISPLAY": ":0"}, True),
    ("xclip", {}, False),
    ("xsel", {"DISPLAY": ":0"}, True),
    ("pbcopy", {}, True),
    ("pbcopy", {"SSH_CONNECTION": "192.0.2.1 1 192.0.2.2 22"}, False),
    ("xclip", {"DISPLAY": ":0", "SSH_TTY": "/dev/pts/9"}, False),
]


@pytest.mark.skipif(os.name == "nt", reason="the stand-ins are shell scripts")
@pytest.mark.parametrize(("name", "variables", "works"), HELPERS)
def test_helpers(
    name: str, variables: dict[str, str], works: bool, bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for variable, value in variables.items():
        monkeypatch.setenv(variable, value)
    kept = program(bare, name, "exit 0")
    said = copy("héllo", terminal=NOWHERE)
    assert (said == f"copied with {name}") is works
    assert (kept.exists() and kept.read_text(encoding="utf-8") == "héllo") is works


@pytest.mark.skipif(os.name == "nt", reason="the stand-ins are shell scripts")
def test_both_ways_are_named(bare: Path, pty: tuple[int, Path]) -> None:
    program(bare, "pbcopy", "exit 0")
    assert copy("hello", terminal=pty[1]).startswith("copied with pbcopy, and sent to the terminal")


@pytest.mark.skipif(os.name == "nt", reason="the stand-ins are shell scripts")
@pytest.mark.parametrize("does", ["exit 1", "exec /bin/sleep 30"], ids=["fails", "hangs"])
def test_a_helper_that_does_not_help(does: str, bare: Path) -> None:
    program(bare, "pbcopy", does)
    assert copy("hello", terminal=NOWHERE, seconds=0.2).startswith("not copied")


def test_a_file_is_written_once(tmp_path: Path) -> None:
    path = tmp_path / "reply.txt"
    assert save("first", path) == path
    assert path.read_text(encoding="utf-8") == "first\n"
    with pytest.raises(OrdertinError, match="already there"):
        save("second", path)
    assert path.read_text(encoding="utf-8") == "first\n"
    save("second\n", path, force=True)
    assert path.read_text(encoding="utf-8") == "second\n"
    assert [entry.name for entry in tmp_path.iterdir()] == ["reply.txt"]


@pytest.mark.parametrize("force", [False, True])
def test_a_file_that_cannot_be_written(tmp_path: Path, force: bool) -> None:
    with pytest.raises(OrdertinError, match=r"can't be written|already there"):
        save("text", tmp_path, force=force)
    with pytest.raises(OrdertinError, match="can't be written"):
        save("text", tmp_path / "none" / "reply.txt", force=force)
