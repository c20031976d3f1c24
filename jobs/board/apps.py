from django.apps import AppConfig


class BoardConfig(AppConfig):
    name = "jobs.board"
    verbose_name = "Board"
