"""`manage.py test` and `manage.py lint`: which steps run, on which database, and what is missing on this machine."""

import os
import subprocess
import sys
from pathlib import Path

from tests.machine import chromium_trouble, postgres_trouble

HOUSE = Path(__file__).resolve().parent.parent
NOTHING_COLLECTED = 5
LINTERS = (["ruff", "check", "."], ["ruff", "format", "--check", "."], ["lint-imports", "--no-cache"])


def run_tests(arguments: list[str]) -> int:
    """The suite on SQLite and what only PostgreSQL can show; with --all the suite on both, then the browser.

    Everything else that is typed after `test` goes to pytest. Returns the exit code.
    """
    asked = [argument for argument in arguments if argument != "--all"]
    missing = {"PostgreSQL": postgres_trouble(), "Chromium": chromium_trouble()}
    if "--all" not in arguments:
        return _run_what_can_run(missing, asked)
    if any(missing.values()):
        _say(f"test --all needs PostgreSQL and Chromium. {_sentences(missing)}")
        return 2
    return _run_everything(asked)


def run_linters() -> int:
    """Ruff, its formatter and the import walls; returns the exit code."""
    tools = Path(sys.executable).parent
    return max(subprocess.run([tools / name, *rest], cwd=HOUSE).returncode for name, *rest in LINTERS)


def _run_everything(asked: list[str]) -> int:
    return max(
        _pytest("The suite on SQLite", "sqlite", ["-m", "not browser", *asked]),
        _pytest("The suite on PostgreSQL", "postgres", ["-m", "not browser", *asked]),
        _pytest("The pages in Chromium", "sqlite", ["-m", "browser", *asked]),
    )


def _run_what_can_run(missing: dict[str, str], asked: list[str]) -> int:
    codes = [_pytest("The suite on SQLite", "sqlite", asked)]
    if not missing["PostgreSQL"]:
        codes.append(_pytest("What only PostgreSQL can show", "postgres", ["-m", "postgres", *asked]))
    if any(missing.values()):
        _say(f"Some tests were skipped. {_sentences(missing)}")
    ran = [code for code in codes if code != NOTHING_COLLECTED]
    return max(ran, default=NOTHING_COLLECTED)


def _pytest(title: str, database: str, arguments: list[str]) -> int:
    _say(title)
    several = ["-n", str(min(os.cpu_count() or 1, 4)), "--dist", "worksteal"]
    # Asserts are rewritten once and kept for the next run, whatever this shell says of keeping bytecode.
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment = {**kept, "WHARFWRIGHT_TEST_DATABASE": database}
    command = [sys.executable, "-m", "pytest", "-q", "-rs", *several, *arguments]
    return subprocess.run(command, cwd=HOUSE, env=environment).returncode


def _sentences(missing: dict[str, str]) -> str:
    return " ".join(f"{name} cannot be used: {trouble}." for name, trouble in missing.items() if trouble)


def _say(sentence: str) -> None:
    print(f"\n{sentence}", flush=True)
