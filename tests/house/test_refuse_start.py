import os
import subprocess
import sys
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
KEY = "Pier-of-cedar-and-hemlock-19-laid-on-the-lee-shore-74-in-spring"
PRODUCTION = {
    "WHARFWRIGHT_DB_HOST": "db.example",
    "WHARFWRIGHT_DB_PASSWORD": "given",
    "WHARFWRIGHT_SECRET_KEY": KEY,
    "WHARFWRIGHT_HOSTS": "dock.example",
    "WHARFWRIGHT_BEHIND_PROXY": "yes",
    "WHARFWRIGHT_TIME_ZONE": "America/Halifax",
}


def start(data: Path, *command: str, **variables: str) -> subprocess.CompletedProcess[str]:
    plain = {name: value for name, value in os.environ.items() if not name.startswith(("WHARFWRIGHT_", "DJANGO_"))}
    plain |= {"DJANGO_SETTINGS_MODULE": "contractor.settings", "WHARFWRIGHT_NO_BOOTSTRAP": "1"}
    return subprocess.run(
        [sys.executable, *command],
        cwd=HOUSE,
        env=plain | {"WHARFWRIGHT_DATA": str(data)} | variables,
        capture_output=True,
        text=True,
    )


def check(data: Path, **variables: str) -> subprocess.CompletedProcess[str]:
    return start(data, "manage.py", "check", "--deploy", "--fail-level", "WARNING", **variables)


def read_settings(data: Path, **variables: str) -> subprocess.CompletedProcess[str]:
    return start(data, "-c", "import contractor.settings", **variables)


def test_it_starts_clean_with_the_settings_of_production(tmp_path: Path):
    started = check(tmp_path, **PRODUCTION)
    assert started.returncode == 0, started.stderr
    assert not (tmp_path / "secret.key").exists()


def test_it_warns_of_an_endless_way_in_and_of_a_clock_that_is_not_set(tmp_path: Path):
    warned = check(tmp_path, **PRODUCTION | {"WHARFWRIGHT_BEHIND_PROXY": "no", "WHARFWRIGHT_TIME_ZONE": ""})
    assert warned.returncode != 0
    assert "contractor.W001" in warned.stderr and "contractor.W002" in warned.stderr


@pytest.mark.parametrize(
    "changed, sentence",
    [
        ({"WHARFWRIGHT_SECRET_KEY": ""}, "WHARFWRIGHT_SECRET_KEY is not set"),
        ({"WHARFWRIGHT_SECRET_KEY": "changeme"}, "WHARFWRIGHT_SECRET_KEY must be at least 50 characters long"),
        ({"WHARFWRIGHT_DB_PASSWORD": ""}, "WHARFWRIGHT_DB_PASSWORD is not set"),
        ({"WHARFWRIGHT_HTTPS": "maybe"}, "WHARFWRIGHT_HTTPS must be yes or no"),
        ({"WHARFWRIGHT_DB_PORT": "five"}, "WHARFWRIGHT_DB_PORT must be a whole number"),
    ],
)
def test_it_refuses_production_with_a_sentence(changed: dict[str, str], sentence: str, tmp_path: Path):
    refused = read_settings(tmp_path, **PRODUCTION | changed)
    assert refused.returncode != 0
    assert sentence in refused.stderr


def test_it_makes_its_own_key_on_sqlite(tmp_path: Path):
    assert read_settings(tmp_path).returncode == 0
    assert (tmp_path / "secret.key").exists()
