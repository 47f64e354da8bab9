"""The oldest dependencies that pyproject.toml allows: a fresh environment with each at its lower bound, and the suite
in it, or the part of it that ORDERTIN_OLDEST names."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator
from pathlib import Path
from time import monotonic

from tests.bench.row import Row

ROOT = Path(__file__).parents[2]
#: What has a part of its own for each package; nearly all of the program is loaded by them.
TESTS = os.environ.get("ORDERTIN_OLDEST", "tests/book tests/cli tests/papers tests/replies tests/outside tests/pricing")


def constraints() -> list[str]:
    """`name==bound.*` for each dependency with a lower bound: some have no release of just that number."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    bounds = (re.match(r"([\w-]+)>=([\w.]+)", each) for each in project["dependencies"])
    return [f"{found[1]}=={found[2]}.*" for found in bounds if found]


def oldest() -> Iterator[Row]:
    with tempfile.TemporaryDirectory(prefix="ordertin-oldest-") as folder:
        pins = Path(folder, "constraints.txt")
        pins.write_text("\n".join(constraints()), encoding="utf-8")
        begun = monotonic()
        subprocess.run([sys.executable, "-m", "venv", Path(folder, "env")], check=True)
        python = Path(folder, "env", "bin", "python")
        install = [python, "-m", "pip", "install", "-q", "-c", pins, "-e", f"{ROOT}[test]"]
        done = subprocess.run(install, capture_output=True, text=True)
        if done.returncode:
            print((done.stdout + done.stderr)[-3000:])
            yield Row("oldest dependencies", "can't be installed", "", "fault")
            return
        yield Row("oldest dependencies installed", f"{monotonic() - begun:.0f} s", f"{len(constraints())} bounds")
        tests = [python, "-m", "pytest", "-q", "-n1", "-p", "no:cacheprovider", *TESTS.split()]
        done = subprocess.run(tests, capture_output=True, text=True, cwd=ROOT)
        print("\n".join(done.stdout.splitlines()[-25:]))
        yield Row("tests with them", "pass" if done.returncode == 0 else "FAIL", TESTS[:34])
