from django.apps import AppConfig


class ScheduleConfig(AppConfig):
    name = "jobs.schedule"
    verbose_name = "Schedule"
