from django.apps import AppConfig


class SupplyConfig(AppConfig):
    name = "jobs.supply"
    verbose_name = "Supply"

    def ready(self) -> None:
        from jobs.records.models.quoted import when_accepted
        from jobs.records.services import when_permitted
        from jobs.supply.services import needs_from_quote, permit_came, signature_came

        when_accepted(needs_from_quote)
        when_accepted(signature_came)
        when_permitted(permit_came)
