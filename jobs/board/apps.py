from django.apps import AppConfig


class BoardConfig(AppConfig):
    name = "jobs.board"
    verbose_name = "Board"

    def ready(self) -> None:
        from jobs.board.standings import refined
        from jobs.records.services import refine_standing

        refine_standing(refined)
