"""Named questions about jobs."""

from django.db import models
from django.db.models import Q

from .folding import folded


class JobQuerySet(models.QuerySet):
    def open(self):
        return self.filter(ending="")

    def ended(self):
        return self.exclude(ending="")

    def open_first(self):
        """Open jobs before ended ones, newest number first."""
        return self.order_by(
            models.Case(models.When(ending="", then=0), default=1, output_field=models.IntegerField()),
            "-year",
            "-sequence",
        )

    def newest_first(self):
        return self.order_by("-year", "-sequence")

    def in_full(self):
        """With the people and the place every sentence about a job names, without the text searches read."""
        texts = ("find_text", "client__find_text", "site__find_text")
        return self.select_related("client", "site", "owner").defer(*texts)

    def on_the_board(self):
        """With no more of the people and the place than one sentence says."""
        return self.select_related("client", "site", "owner").only(
            *("number", "year", "sequence", "stage", "ending", "called_on", "visit_on", "promised", "owner_id"),
            *("client__filed_under", "client__names", "site__water_body", "owner__name"),
        )

    def found_by(self, typed: str):
        """Every word typed is somewhere in the number, names, place, phones, words or notes of the job."""
        found = self
        for word in folded(typed).split():
            found = found.filter(
                Q(find_text__contains=word) | Q(client__find_text__contains=word) | Q(site__find_text__contains=word)
            )
        return found

    def shown_as(self, shown: str):
        """What a filter of the job list shows: open, ended, all, or open at one stage."""
        sets = {"open": self.open, "ended": self.ended, "all": self.all}
        return sets[shown]() if shown in sets else self.at_stage(shown)

    def at_stage(self, stage: str):
        return self.open().filter(stage=stage)
