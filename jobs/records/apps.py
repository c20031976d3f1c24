from django.apps import AppConfig


class RecordsConfig(AppConfig):
    name = "jobs.records"
    verbose_name = "Records"
