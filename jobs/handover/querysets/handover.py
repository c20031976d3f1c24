"""Named questions about hand-overs and the visits after them."""

import datetime

from django.db import models


class HandOverQuerySet(models.QuerySet):
    def newest_first(self):
        return self.order_by("-edition")

    def signed(self):
        return self.filter(signed_on__isnull=False)


class SeasonVisitQuerySet(models.QuerySet):
    def open(self):
        return self.filter(done_on__isnull=True, dropped_why="")

    def due_by(self, day: datetime.date):
        return self.open().filter(due_on__lte=day)

    def in_full(self):
        return self.select_related("job__client", "job__site")
