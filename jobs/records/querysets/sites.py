"""Named questions about sites."""

from django.db import models

from .folding import folded


class SiteQuerySet(models.QuerySet):
    def found_by(self, typed: str):
        """Every word typed is somewhere in the water, the road or the address."""
        found = self
        for word in folded(typed).split():
            found = found.filter(find_text__contains=word)
        return found

    def of_client(self, client_id: int):
        return self.filter(jobs__client_id=client_id).distinct()

    def waters(self):
        """Names of the waters we have been on."""
        return self.order_by("water_body").values_list("water_body", flat=True).distinct()
