from django.apps import AppConfig


class FieldworkConfig(AppConfig):
    name = "jobs.fieldwork"
    verbose_name = "Fieldwork"
