"""Named questions about spec revisions."""

from django.db import models


class SpecRevisionQuerySet(models.QuerySet):
    def newest_first(self):
        return self.order_by("-position")

    def open_to_change(self):
        return self.filter(frozen=False)
