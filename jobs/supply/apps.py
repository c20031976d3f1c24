from django.apps import AppConfig


class SupplyConfig(AppConfig):
    name = "jobs.supply"
    verbose_name = "Supply"
