from django.apps import AppConfig


class HandoverConfig(AppConfig):
    name = "jobs.handover"
    verbose_name = "Handover"
