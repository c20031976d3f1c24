"""Named questions about quotes."""

from datetime import date

from django.db import models


class QuoteQuerySet(models.QuerySet):
    def drafts(self):
        return self.filter(state="draft")

    def sent(self):
        return self.exclude(state="draft")

    def waiting_for_signature(self, *, on: date):
        return self.filter(state="sent", valid_until__gte=on)

    def run_out(self, *, on: date):
        return self.filter(state="sent", valid_until__lt=on)

    def newest_first(self):
        return self.order_by("-pk")
