"""Doors and directions: who may import what, and what answering `--help` may load."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
FILES = sorted([*ROOT.glob("intake/**/*.py"), *ROOT.glob("tui/**/*.py")])

#: Each third-party package and the files that may import it.
DOORS: dict[str, set[str]] = {
    "spacy": {"intake/reading/language.py"},
    "dateparser": {"intake/reading/resolve.py"},
    "rapidfuzz": {"intake/reading/fuzzy.py"},
    "phonenumbers": {"intake/reading/contacts.py"},
    "dateutil": {"intake/reading/named_days.py"},
    # One door a part: named feasts in the reader, carriers' days off in the kitchen.
    "holidays": {"intake/reading/named_days.py", "intake/kitchen/carrier_days.py"},
    "sqlite_utils": {"intake/book/store.py"},
    "ortools": {"intake/kitchen/solver.py"},
    "keyring": {"intake/replies/password.py"},
    "jinja2": {"intake/replies/wording.py"},
    # The house rules: one file, and one a subject beside it.
    "pydantic": {
        "intake/house.py", "intake/house_kitchen.py", "intake/house_mail.py", "intake/house_rates.py",
        "intake/house_recipes.py",
    },
    "babel": {"intake/money.py"},
    "tomlkit": {"intake/house_edit.py"},
    "platformdirs": {"intake/home.py"},
    "fpdf": {"intake/papers/paper.py"},
    "icalendar": {"intake/papers/ics.py"},
    "anyascii": {"intake/papers/letters.py"},
}
#: Parts in layers: a file may import its own part, and parts of lower layers.
LAYERS: tuple[tuple[str, ...], ...] = (
    ("intake.model", "intake.clean", "intake"),
    ("intake.clock", "intake.photos", "intake.home", "intake.money", "intake.measures", "intake.counted"),
    ("intake.house_kitchen", "intake.house_mail", "intake.house_rates", "intake.house_recipes"),
    ("intake.house",),
    ("intake.house_edit",),
    ("intake.house_form",),
    ("intake.record",),
    (
        "intake.inbox", "intake.reading", "intake.kitchen",
        "intake.replies", "intake.book", "intake.slip_text",
    ),
    ("intake.pricing",),
    ("intake.papers",),
    ("intake.talk", "intake.desk_reread", "intake.desk_change", "intake.bench_text"),
    ("intake.talk_shapes", "intake.talk_phrases", "intake.talk_known"),
    ("intake.talk_words",),
    ("intake.talk_days", "intake.talk_fields", "intake.talk_near"),
    ("intake.talk_slots",),
    ("intake.talk_doubts",),
    ("intake.talk_meant",),
    ("intake.desk_quote", "intake.desk_waiting", "intake.desk_search", "intake.desk_customers"),
    ("intake.desk_likes",),
    ("intake.desk_taking", "intake.desk_checks", "intake.slip_customers"),
    (
        "intake.desk_keep", "intake.desk_kitchen", "intake.desk_letters", "intake.desk_papers", "intake.desk_till",
        "intake.desk_wording",
    ),
    ("intake.desk_core",),
    ("intake.desk_orders", "intake.desk_people", "intake.desk_slip"),
    ("intake.desk_answers",),
    ("intake.desk",),
    ("intake.desk_talk_lines", "intake.desk_talk_shapes"),
    ("intake.desk_talk_book", "intake.desk_talk_acts", "intake.desk_talk_doing"),
    ("intake.desk_talk_asks",),
    ("intake.desk_talk",),
    ("intake.demo",),
    ("tui",),
    ("intake.cli_add",),
    (
        "intake.cli_book", "intake.cli_completion", "intake.cli_inbox", "intake.cli_keep", "intake.cli_kitchen",
        "intake.cli_letters", "intake.cli_papers", "intake.cli_read", "intake.cli_say", "intake.cli_till",
    ),
    ("intake.cli",),
)  # fmt: skip


def module_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def part_of(module: str) -> str | None:
    known = [part for layer in LAYERS for part in layer if module == part or module.startswith(part + ".")]
    return max(known, key=len) if known else None


def imports_of(path: Path) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            assert node.module
            found.add(node.module)
            found.update(f"{node.module}.{alias.name}" for alias in node.names)
    return found


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_third_party_packages_come_in_by_their_door(path: Path) -> None:
    name = path.relative_to(ROOT).as_posix()
    tops = {module.partition(".")[0] for module in imports_of(path)}
    assert {p for p in tops & DOORS.keys() if name not in DOORS[p]} == set()
    if "textual" in tops or "rich" in tops:
        assert name.startswith("tui/")


@pytest.mark.parametrize("path", FILES, ids=module_of)
def test_imports_run_one_way(path: Path) -> None:
    module = module_of(path)
    own = part_of(module)
    assert own is not None, f"{module} has no place in the layers"
    level = {part: i for i, layer in enumerate(LAYERS) for part in layer}
    for imported in imports_of(path):
        target = part_of(imported)
        if target is None or target == own or (own, target) == ("intake.cli", "tui"):
            continue
        if target == "intake" and imported in ("intake",):
            continue
        assert level[target] < level[own], f"{module} imports {imported}"


@pytest.mark.parametrize("path", [p for p in FILES if "clock" not in p.name], ids=module_of)
def test_only_the_clock_asks_for_the_time(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if (
            isinstance(node, ast.Call)
            and isinstance(node.func, ast.Attribute)
            and isinstance(node.func.value, ast.Name)
        ):
            called = f"{node.func.value.id}.{node.func.attr}"
            assert called not in {"datetime.now", "date.today", "datetime.today", "datetime.utcnow", "time.time"}


@pytest.mark.parametrize(
    "arguments",
    [["--help"], *([command, "--help"] for command in ("read", "take", "demo", "till", "price", "labels", "search"))],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(arguments: list[str]) -> None:
    code = (
        "import sys\n"
        "from intake.cli import main\n"
        "try:\n    main(sys.argv[1:])\nexcept SystemExit as end:\n    assert end.code == 0\n"
        "heavy = {'spacy', 'textual', 'ortools', 'jinja2', 'pydantic', 'sqlite_utils',\n"
        "         'dateparser', 'holidays', 'rapidfuzz', 'sqlite3', 'fpdf', 'icalendar', 'babel'}\n"
        "print(sorted(heavy & set(sys.modules)), file=sys.stderr)\n"
    )
    done = subprocess.run([sys.executable, "-c", code, *arguments], capture_output=True, text=True, cwd=ROOT)
    assert done.returncode == 0, done.stderr
    assert done.stderr.strip() == "[]"
    assert "usage:" in done.stdout
