"""The files of the house, as the architecture tests walk over them."""

from collections.abc import Iterator
from pathlib import Path

HOUSE = Path(__file__).resolve().parents[2]
ROOMS = ("contractor", "jobs", "estimating", "templates", "static", "tests", ".ci")
ALONE = (
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "manage.py",
    "pyproject.toml",
    "requirements.lock",
    "requirements-dev.lock",
    "Dockerfile",
    "docker-compose.yml",
    ".dockerignore",
    ".env.example",
    ".gitignore",
)
TEXT = {"", ".css", ".csv", ".example", ".html", ".js", ".json", ".lock", ".md", ".py", ".svg", ".toml", ".txt", ".yml"}


def files(*rooms: str, suffixes: set[str]) -> Iterator[Path]:
    """Files of ours under these rooms; what others wrote and we only carry along is left out."""
    for room in rooms:
        for path in sorted((HOUSE / room).rglob("*")):
            ours = not {"vendor", "font", "__pycache__"} & set(path.parts)
            if ours and path.is_file() and path.suffix in suffixes:
                yield path


def texts() -> Iterator[tuple[str, str]]:
    """Name and text of every text file of ours."""
    alone = (HOUSE / name for name in ALONE if (HOUSE / name).exists())
    for path in (*alone, *files(*ROOMS, suffixes=TEXT)):
        yield named(path), path.read_text(encoding="utf-8")


def named(path: Path) -> str:
    return path.relative_to(HOUSE).as_posix()
