"""Named questions about what the yard holds and how it came and went."""

from django.db import models
from django.db.models import F, Sum


class StockQuerySet(models.QuerySet):
    def in_full(self):
        return self.select_related("item", "item__preferred_supplier")

    def here(self):
        return self.filter(on_hand__gt=0)

    def offcuts(self):
        return self.filter(offcut=True, on_hand__gt=0)

    def low(self):
        """What the shop keeps a least of, and has less of that nobody spoke for."""
        free = F("on_hand") - F("set_aside")
        return (
            self.filter(item__minimum_on_hand__isnull=False, offcut=False)
            .alias(free=free)
            .filter(free__lt=F("item__minimum_on_hand"))
        )

    def by_name(self):
        return self.order_by("item__kind", "item__name", "length_in")


class MovementQuerySet(models.QuerySet):
    def of(self, stock):
        return self.filter(stock=stock)

    def by_shelf(self):
        """(stock id, shelf id, quantity) wherever something lies."""
        sums = self.order_by().values("stock_id", "shelf_id").annotate(lies=Sum("quantity"))
        return sums.exclude(lies=0)

    def newest_first(self):
        return self.order_by("-pk")
