"""`manage.py demo`: a made-up firm on this machine, ready to click through."""

import argparse
import hashlib
import logging
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import BaseCommand, CommandError, call_command
from django.core.servers.basehttp import run
from django.core.wsgi import get_wsgi_application
from django.db import connection

from contractor import env

ADDRESS = "127.0.0.1"


class Command(BaseCommand):
    help = "Serves the app with a made-up firm, on this machine only."

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        port = env.whole("WHARFWRIGHT_PORT", 8000, least=1, most=65535)
        parser.add_argument("--port", type=int, default=port, help="where to serve; 8000 unless given")

    def handle(self, *args: Any, port: int, **options: Any) -> None:
        if connection.vendor != "sqlite":
            raise CommandError("The demo runs on its own SQLite file; take WHARFWRIGHT_DB_HOST out of the environment.")
        call_command("migrate", verbosity=0)
        collect_static_files()
        call_command("load_demo", stdout=self.stdout)
        logging.getLogger("django.server").setLevel(logging.WARNING)
        try:
            run(ADDRESS, port, get_wsgi_application(), threading=True, on_bind=self.say_where)
        except KeyboardInterrupt:
            self.stdout.write("\nStopped. The demo is kept in " + str(settings.DATA_DIR))
        except OSError as reason:
            raise CommandError(
                f"Port {port} cannot be used ({reason.strerror}). Try: manage.py demo --port 8001"
            ) from reason

    def say_where(self, port: int) -> None:
        self.stdout.write(f"Open http://{ADDRESS}:{port}/ in a browser. Ctrl+C stops it.")
        self.stdout.flush()


def collect_static_files() -> None:
    """Hashes and compresses the static files, unless none has changed since the last time."""
    stamp = settings.STATIC_ROOT / ".collected-from"
    now = _dates_of_static_files()
    if stamp.exists() and stamp.read_text(encoding="ascii") == now:
        return
    call_command("collectstatic", interactive=False, clear=True, verbosity=0)
    stamp.write_text(now, encoding="ascii")


def _dates_of_static_files() -> str:
    files = sorted(path for folder in settings.STATICFILES_DIRS for path in Path(folder).rglob("*") if path.is_file())
    dates = "\n".join(f"{path} {path.stat().st_mtime_ns} {path.stat().st_size}" for path in files)
    return hashlib.sha256(dates.encode()).hexdigest()
