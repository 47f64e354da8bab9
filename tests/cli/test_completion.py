"""Completion in a real shell, from the commands as they are."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from intake.cli import _parser
from intake.cli_completion import SHELLS, commands, script


@pytest.mark.parametrize(
    ("typed", "given"),
    [("", "take"), ("ta", "take"), ("take --", "--mine"), ("zzz", "")],
    ids=["every command", "a beginning", "options", "nothing such"],
)
def test_bash_completes(typed: str, given: str) -> None:
    words = ["ordertin", *typed.split(" ")]
    ask = (
        f"COMP_WORDS=({' '.join(repr(word) for word in words)}); COMP_CWORD={len(words) - 1}; "
        '_ordertin; printf "%s\\n" "${COMPREPLY[@]}"'
    )
    done = subprocess.run(
        ["bash", "-c", script(_parser(), "bash") + ask], capture_output=True, text=True, check=True, cwd="/"
    )
    assert done.stderr == ""
    found = done.stdout.split()
    assert given in found if given else found == []
    assert typed != "ta" or all(word.startswith("ta") for word in found)


@pytest.mark.parametrize("shell", SHELLS)
def test_every_command_is_completed_and_the_shell_can_read_it(shell: str) -> None:
    text = script(_parser(), shell)
    assert all(name in text for name in commands(_parser()))
    if found := shutil.which(shell):
        assert subprocess.run([found, "-n"], input=text, capture_output=True, text=True).returncode == 0
