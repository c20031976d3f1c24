"""The app's own settings in a scratch folder, on SQLite or, with WHARFWRIGHT_TEST_DATABASE=postgres, on PostgreSQL."""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

from contractor import env
from tests.machine import postgres_for_tests

SCRATCH = Path(tempfile.mkdtemp(prefix="wharfwright-tests-"))
atexit.register(shutil.rmtree, SCRATCH, ignore_errors=True)

for name in [name for name in os.environ if name.startswith("WHARFWRIGHT_") and "_TEST_" not in name]:
    if name != "WHARFWRIGHT_CHROMIUM":
        del os.environ[name]
os.environ["WHARFWRIGHT_DATA"] = str(SCRATCH)
os.environ["WHARFWRIGHT_HTTPS"] = "no"

from contractor.settings import *  # noqa: E402, F403
from contractor.settings import DATABASES, STORAGES  # noqa: E402

TEST_DATABASE = env.text("WHARFWRIGHT_TEST_DATABASE", "sqlite", among=("sqlite", "postgres"))
if TEST_DATABASE == "postgres":
    where = {key.upper(): value for key, value in postgres_for_tests().items()}
    DATABASES["default"] = {"ENGINE": "django.db.backends.postgresql", "NAME": "wharfwright", **where}
    # Nobody needs these rows after a power cut.
    DATABASES["default"]["OPTIONS"] = {"options": "-c synchronous_commit=off"}
else:
    # A file, not memory: races between threads must meet the same locks as in the office.
    DATABASES["default"]["TEST"] = {"NAME": str(SCRATCH / "test.sqlite3")}
    DATABASES["default"]["OPTIONS"]["init_command"] = (
        "PRAGMA journal_mode=WAL; PRAGMA synchronous=OFF; PRAGMA foreign_keys=ON"
    )
STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
WHITENOISE_USE_FINDERS = True
WHITENOISE_AUTOREFRESH = True
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
