"""Makes `.venv` hold exactly what the lock files name, then hands the command over to it. Standard library only."""

from __future__ import annotations

import hashlib
import importlib.util
import os
import shutil
import subprocess
import sys
from pathlib import Path

HOUSE = Path(__file__).resolve().parent.parent
VENV = HOUSE / ".venv"
VENV_PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
LOCKS = {
    "use": [HOUSE / "requirements.lock"],
    "tests": [HOUSE / "requirements.lock", HOUSE / "requirements-dev.lock"],
}
COMMANDS_OF_THE_TESTS = {"test", "lint"}
OLDEST_PYTHON = (3, 11)
PAPER_PACKAGES = ["libpango-1.0-0", "libpangoft2-1.0-0", "libharfbuzz-subset0", "fonts-dejavu-core"]


def ready_environment(command: str) -> None:
    """Returns if this Python can run the command; otherwise prepares `.venv` and starts the command again in it."""
    if sys.version_info < OLDEST_PYTHON:
        stop(f"Wharfwright needs Python 3.11 or newer; this is {sys.version.split()[0]}.")
    if os.environ.get("WHARFWRIGHT_NO_BOOTSTRAP") == "1":
        return
    purpose = "tests" if command in COMMANDS_OF_THE_TESTS else "use"
    at_home = Path(sys.prefix).resolve() == VENV.resolve()
    if not at_home and sys.prefix != sys.base_prefix and satisfies(LOCKS[purpose]):
        return
    if not is_ready(purpose):
        prepare(purpose)
    elif at_home:
        return
    hand_over()


def satisfies(locks: list[Path]) -> bool:
    """Whether this Python already has every pinned version."""
    from importlib import metadata  # a tenth of a second that a ready environment need not wait for

    for name, version in pins(locks):
        try:
            if metadata.version(name) != version:
                return False
        except metadata.PackageNotFoundError:
            return False
    return True


def pins(locks: list[Path]) -> list[tuple[str, str]]:
    lines = [line for lock in locks for line in lock.read_text(encoding="utf-8").split()]
    return [(name, version) for name, _, version in (line.partition("==") for line in lines)]


def is_ready(purpose: str) -> bool:
    stamp = stamp_of(purpose)
    return VENV_PYTHON.exists() and stamp.exists() and stamp.read_text(encoding="ascii") == fingerprint(purpose)


def stamp_of(purpose: str) -> Path:
    return VENV / f"ready-for-{purpose}"


def fingerprint(purpose: str) -> str:
    """Changes when a lock file does, or when `.venv` was made anew from another Python."""
    files = [VENV / "pyvenv.cfg", *LOCKS[purpose]]
    return hashlib.sha256(b"\0".join(file.read_bytes() for file in files)).hexdigest()


def prepare(purpose: str) -> None:
    if not works(VENV_PYTHON):
        make_venv()
    say(f"Installing {len(pins(LOCKS[purpose]))} packages into .venv. The first time takes a minute or two.")
    install = [VENV_PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-input"]
    if run([*install, *(part for lock in LOCKS[purpose] for part in ("-r", lock))]):
        stop("The packages could not be installed; the lines above say why. Nothing else was changed.")
    provide_paper()
    for name, locks in LOCKS.items():
        if set(locks) <= set(LOCKS[purpose]):
            stamp_of(name).write_text(fingerprint(name), encoding="ascii")
    say("The packages are in place.")


def works(python: Path) -> bool:
    """Whether `.venv` was made to the end: its Python starts, is new enough, and has pip."""
    question = f"import sys, pip; sys.exit(sys.version_info < {OLDEST_PYTHON})"
    return python.exists() and subprocess.run([python, "-c", question], capture_output=True).returncode == 0


def make_venv() -> None:
    if importlib.util.find_spec("ensurepip") is None:
        package = "python{}.{}-venv".format(*sys.version_info[:2])
        provide([package], "Python's own venv and ensurepip modules")
    say(f"Making .venv with Python {sys.version.split()[0]}.")
    if run([sys.executable, "-m", "venv", "--clear", VENV]):
        stop("Python could not make .venv; the lines above say why.")


def provide_paper() -> None:
    """The PDF pages need Pango and at least one font, which no Python package brings along."""
    if paper_loads():
        return
    provide(PAPER_PACKAGES, "Pango (with HarfBuzz and Fontconfig) and at least one font, to write PDF pages")
    if not paper_loads():
        stop("Pango and fonts were installed, but WeasyPrint still does not load. Try: .venv/bin/weasyprint --info")


def paper_loads() -> bool:
    # WeasyPrint warns when Fontconfig knows no font at all.
    question = [VENV_PYTHON, "-W", "error::UserWarning", "-c", "import weasyprint"]
    return subprocess.run(question, capture_output=True).returncode == 0


def provide(packages: list[str], need: str) -> None:
    """Installs Debian packages when it may; otherwise says what is needed and stops."""
    if shutil.which("apt-get") is None:
        stop(f"Missing on this machine: {need}. Install it with the system's package manager, then start again.")
    install = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    if os.geteuid() != 0:
        command = f"sudo apt-get update && sudo {' '.join(install)}"
        stop(f"Missing on this machine: {need}. Run this, then start again:\n\n    {command}\n")
    say(f"Missing on this machine: {need}. Installing {' '.join(packages)}.")
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    if run(["apt-get", "update", "-q"], env=quiet) or run([*install, "-q"], env=quiet):
        stop("The system packages could not be installed; the lines above say why.")


def run(command: list[str | Path], env: dict[str, str] | None = None) -> int:
    # What is said here must not mix with what the command itself prints.
    return subprocess.run(command, stdin=subprocess.DEVNULL, stdout=sys.stderr, env=env).returncode


def hand_over() -> None:
    command = [str(VENV_PYTHON), *sys.argv]
    if os.name == "nt":
        sys.exit(subprocess.run(command).returncode)
    os.execv(command[0], command)


def say(sentence: str) -> None:
    print(sentence, file=sys.stderr, flush=True)


def stop(sentence: str) -> None:
    say(sentence)
    sys.exit(1)
