"""What this machine offers the tests: where PostgreSQL is, and where Chromium is."""

import os
import shutil
import subprocess
from functools import cache
from pathlib import Path

from contractor import env


def postgres_for_tests() -> dict[str, str | int]:
    """Connection words as psycopg spells them, from the WHARFWRIGHT_TEST_DB_ variables."""
    return {
        "host": env.text("WHARFWRIGHT_TEST_DB_HOST", "127.0.0.1"),
        "port": env.whole("WHARFWRIGHT_TEST_DB_PORT", 5432, least=1, most=65535),
        "user": env.text("WHARFWRIGHT_TEST_DB_USER", "wharfwright"),
        "password": env.secret("WHARFWRIGHT_TEST_DB_PASSWORD") or "wharfwright",
    }


def postgres_trouble() -> str:
    """Why the tests cannot use PostgreSQL here; empty if they can."""
    import psycopg

    where = postgres_for_tests()
    question = "SELECT rolcreatedb OR rolsuper FROM pg_roles WHERE rolname = current_user"
    try:
        with psycopg.connect(**where, dbname="postgres", connect_timeout=3) as connection:
            may_create = connection.execute(question).fetchone() == (True,)
    except psycopg.OperationalError as reason:
        return f"{str(reason).strip().splitlines()[0]} (the WHARFWRIGHT_TEST_DB_ variables say where to look)"
    return "" if may_create else f"the role {where['user']} may not create databases"


def chromium_path() -> str | None:
    """The Chromium that WHARFWRIGHT_CHROMIUM names, or else the one on the PATH."""
    named = os.environ.get("WHARFWRIGHT_CHROMIUM")
    return named or shutil.which("chromium") or shutil.which("chromium-browser")


@cache
def chromium_trouble() -> str:
    """Why the tests cannot use Chromium here; empty if they can."""
    if not chromium_path():
        return "it is not on the PATH, and WHARFWRIGHT_CHROMIUM does not name it"
    return _driver_trouble()


def _driver_trouble() -> str:
    # Playwright brings a Node of its own, which wants libatomic from the system.
    import playwright

    node = Path(playwright.__file__).parent / "driver" / ("node.exe" if os.name == "nt" else "node")
    started = subprocess.run([node, "--version"], capture_output=True, text=True)
    return "" if started.returncode == 0 else f"its driver does not start ({started.stderr.strip()})"
