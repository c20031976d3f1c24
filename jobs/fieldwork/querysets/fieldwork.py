"""Named questions about sheets, what was keyed in, defects and photos."""

from django.db import models


class WorkOrderQuerySet(models.QuerySet):
    def in_full(self):
        """With the job, the client and the place every sheet names."""
        return self.select_related("job__client", "job__site", "job__owner")

    def newest_first(self):
        """The last letter first, then the last printed."""
        return self.order_by("-position", "-printed_at")

    def of_number(self, number: str):
        return self.filter(number=number)


class EntryQuerySet(models.QuerySet):
    def newest_first(self):
        return self.order_by("-at", "-pk")

    def of_job(self, job):
        return self.filter(order__job=job)

    def hours(self):
        return self.filter(kind="hours")


class DefectQuerySet(models.QuerySet):
    def open(self):
        return self.filter(signed_off_at__isnull=True)

    def holding(self, stage: str):
        return self.open().filter(holds_stage=stage)
