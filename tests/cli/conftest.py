"""A command line on a book of its own. It is noon in Chicago on Monday, May 10, 2027."""

from __future__ import annotations

import io
import os
import re
import shutil
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from intake import house
from intake.cli import main
from intake.demo import BAKER, BAKER_ADDRESS, samples_folder

NOW = "2027-05-10T12:00:00-05:00"
ORDER = "Hi! Two dozen cuckoo clock cookies please, pickup Friday May 21 at 4. Thanks, Isolde"
SAMPLES = ("market_week.mbox", "single_order.eml", "chat_export.json")
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where book and rules will be; nothing is there yet. The command runs in the folder above it."""
    monkeypatch.setenv("ORDERTIN_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("ORDERTIN_NOW", NOW)
    monkeypatch.setenv("TZ", "America/Chicago")
    monkeypatch.chdir(tmp_path)
    return tmp_path / "home"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Runs a command line; gives its exit status, what it printed, and what it complained of."""

    def ran(*arguments: str, stdin: bytes = b"") -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin), encoding="utf-8"))
        status = main(arguments)
        out, err = capsys.readouterr()
        return status, out, err

    return ran


def rules(home: Path, **change: str) -> None:
    """House rules that know the baker of the samples, with each line of a key in `change` put in its place."""
    text = house.default_text().replace("senders = []", f'senders = ["{BAKER}", "{BAKER_ADDRESS}"]')
    for key, line in change.items():
        text = re.sub(rf"(?m)^{key} = .*$", line, text)
    home.mkdir(exist_ok=True)
    (home / "house.toml").write_text(text, encoding="utf-8")


def samples(folder: Path) -> list[str]:
    """Copies of the samples, saved in May 2027: how far ahead a message may be dated is judged by that."""
    paths = [folder / name for name in SAMPLES]
    for path in paths:
        shutil.copy(samples_folder() / path.name, path)
        os.utime(path, (1_809_968_400, 1_809_968_400))
    return [str(path) for path in paths]


def kept(folder: Path) -> dict[str, bytes]:
    """Every file below `folder`, byte for byte."""
    return {str(path): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}
