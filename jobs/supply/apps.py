from django.apps import AppConfig


class SupplyConfig(AppConfig):
    name = "jobs.supply"
    verbose_name = "Supply"

    def ready(self) -> None:
        from jobs.records.models.quoted import when_accepted
        from jobs.records.services import refine_standing
        from jobs.supply.services import needs_from_quote
        from jobs.supply.services.waiting import refined

        when_accepted(needs_from_quote)
        refine_standing(refined)
