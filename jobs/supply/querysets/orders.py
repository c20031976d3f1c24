"""Named questions about orders."""

from django.db import models
from django.db.models import F


class OrderQuerySet(models.QuerySet):
    def drafts(self):
        return self.filter(state="draft")

    def out(self):
        return self.filter(state="sent")

    def in_full(self):
        return self.select_related("supplier", "made_by").prefetch_related(
            "lines__stock__item", "lines__shares__need__job__client"
        )

    def newest_first(self):
        return self.order_by(F("number").desc(nulls_first=True), "-pk")


class OrderLineQuerySet(models.QuerySet):
    def owed(self):
        """Lines of sent orders with something still to come."""
        return self.filter(order__state="sent", quantity__gt=F("accepted") + F("cancelled"))
