from django.apps import AppConfig


class ScheduleConfig(AppConfig):
    name = "jobs.schedule"
    verbose_name = "Schedule"

    def ready(self) -> None:
        from jobs.records.services import refine_standing
        from jobs.schedule.services.spine import with_days

        refine_standing(with_days)
