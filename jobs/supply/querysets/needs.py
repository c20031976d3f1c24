"""Named questions about what jobs need."""

from django.db import models
from django.db.models import F


class NeedQuerySet(models.QuerySet):
    def standing(self):
        return self.filter(cancelled_at=None)

    def missing(self):
        """Needs that the yard has not yet covered."""
        return self.standing().filter(quantity__gt=F("set_aside") + F("issued"))

    def of_sticks(self):
        """Lumber by the stick, offcuts left out."""
        return self.filter(stock__length_in__gt=0, stock__offcut=False)

    def of_open_jobs(self):
        return self.filter(job__ending="")

    def in_full(self):
        return self.select_related("stock__item", "instead_of__item", "job__client")

    def first_needed_first(self):
        """By needed-by date, then by who signed first."""
        return self.order_by("needed_by", "signed_on", "job_id", "pk")
