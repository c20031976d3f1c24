"""Dock specs: each revision is one whole spec file, kept."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from jobs.records.querysets.specs import SpecRevisionQuerySet


class SpecRevision(models.Model):
    """One revision of a job's dock spec. `document` is the spec file of the estimating engine, as it is exported."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="spec_revisions")
    letter = models.CharField(max_length=3)
    position = models.PositiveSmallIntegerField()
    document = models.JSONField()
    note = models.CharField("note", max_length=200, blank=True)
    frozen = models.BooleanField(default=False)
    frozen_at = models.DateTimeField(null=True, blank=True)
    made_from = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    version = models.PositiveIntegerField(default=1)

    objects = SpecRevisionQuerySet.as_manager()

    class Meta:
        ordering = ["job_id", "position"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "letter"],
                name="spec_letter_once_a_job",
                violation_error_message="This job already has a spec with that letter.",
            ),
            models.UniqueConstraint(
                fields=["job", "position"],
                name="spec_position_once_a_job",
                violation_error_message="This job already has a spec in that place.",
            ),
            models.CheckConstraint(
                condition=models.Q(frozen=False, frozen_at__isnull=True)
                | models.Q(frozen=True, frozen_at__isnull=False),
                name="spec_frozen_has_date",
                violation_error_message="A frozen spec carries the day it was frozen.",
            ),
        ]

    def __str__(self) -> str:
        return f"Spec {self.letter} of {self.job.number}"

    def get_absolute_url(self) -> str:
        return reverse("records:spec", args=[self.job.number, self.letter])

    @property
    def title(self) -> str:
        return str(self.document.get("title", ""))
