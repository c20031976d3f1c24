"""Named questions about gauges."""

from django.db import models


class GaugeQuerySet(models.QuerySet):
    def standing(self):
        return self.filter(struck_out=False)

    def measured(self):
        return self.filter(kind="measured")
