from django.apps import AppConfig


class SupplyConfig(AppConfig):
    name = "jobs.supply"
    verbose_name = "Supply"

    def ready(self) -> None:
        from jobs.records.models.quoted import when_accepted
        from jobs.supply.services import needs_from_quote

        when_accepted(needs_from_quote)
