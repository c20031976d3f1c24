"""Named questions about stages, crews, absences and calendar addresses."""

from datetime import date

from django.db import models


class JobStageQuerySet(models.QuerySet):
    def open(self):
        """Of open jobs, not done."""
        return self.filter(done_on__isnull=True, job__ending="")

    def placed(self):
        return self.filter(starts_on__isnull=False)

    def between(self, first: date, last: date):
        """Standing on at least one of these days."""
        return self.filter(starts_on__lte=last, ends_on__gte=first)

    def in_full(self):
        return self.select_related("job__client", "job__site", "crew")


class CrewQuerySet(models.QuerySet):
    def working(self):
        return self.filter(active=True)


class AbsenceQuerySet(models.QuerySet):
    def between(self, first: date, last: date):
        return self.filter(first_on__lte=last, last_on__gte=first)


class FeedQuerySet(models.QuerySet):
    def open(self):
        return self.filter(revoked_at__isnull=True)
