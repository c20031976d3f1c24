"""`manage.py load_demo`: the made-up firm, into an empty SQLite database only."""

from typing import Any

from django.core.management import BaseCommand, CommandError
from django.db import connection
from django.utils import timezone

from jobs.board import demo, demo_jobs


class Command(BaseCommand):
    help = "Loads a made-up firm with jobs in every state. Does nothing twice; refuses a real firm's database."

    def handle(self, *args: Any, **options: Any) -> None:
        if connection.vendor != "sqlite":
            raise CommandError("The demo goes into a SQLite file of its own, never into a firm's database.")
        try:
            if not demo.demo_is_loaded():
                self.stdout.write("Loading a made-up firm ...")
                demo.load_demo(on=timezone.localdate())
        except demo.NotForTheDemo as firm:
            raise CommandError(f"This database belongs to {firm}. The demo wants one of its own.") from firm
        logins = ", ".join(f"{person['login']} ({person['role'].replace('_', ' ')})" for person in demo_jobs.PEOPLE)
        self.stdout.write(f"Log in as {demo_jobs.OWNER['login']} (owner), {logins}.")
        self.stdout.write(f"Everybody's password in the demo: {demo_jobs.PASSWORD}")
