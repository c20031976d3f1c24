"""The hand-over of a job, as it was put on paper."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from estimating.quotes.models import AcceptedBy
from jobs.handover.querysets.handover import HandOverQuerySet


class PackageStays(TypeError):
    """A hand-over is added, never taken away."""


class HandOver(models.Model):
    """One edition of a job's hand-over package. `record` holds its figures; once signed it never changes."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="hand_overs")
    edition = models.PositiveSmallIntegerField()
    letter = models.CharField("spec revision", max_length=3)
    open_why = models.CharField("why with open defects", max_length=200, blank=True)
    record = models.JSONField()
    pdf = models.BinaryField()
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    made_by_name = models.CharField(max_length=150)
    signed_by_name = models.CharField("signed by", max_length=160, blank=True)
    signed_on = models.DateField("signed on", null=True, blank=True)
    signed_how = models.CharField("how", max_length=10, choices=AcceptedBy, blank=True)
    scan = models.FileField("signed page", upload_to="hand-overs/scans/", blank=True)
    note = models.CharField("what was agreed", max_length=300, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = HandOverQuerySet.as_manager()

    class Meta:
        ordering = ["job_id", "-edition"]
        verbose_name = "hand-over"
        constraints = [
            models.UniqueConstraint(fields=["job", "edition"], name="hand_over_edition_once"),
            models.UniqueConstraint(
                fields=["job"],
                condition=models.Q(signed_on__isnull=False),
                name="hand_over_signed_once",
                violation_error_message="This dock was handed over and signed for already.",
            ),
            models.CheckConstraint(
                condition=models.Q(signed_on__isnull=True, signed_by_name="")
                | (models.Q(signed_on__isnull=False) & ~models.Q(signed_by_name="")),
                name="hand_over_signature_whole",
                violation_error_message="A signature has a name and a day.",
            ),
        ]

    def __str__(self) -> str:
        return f"Hand-over {self.job.number}, edition {self.edition}"

    def get_absolute_url(self) -> str:
        return reverse("handover:job", args=[self.job.number])

    def delete(self, *args, **kwargs):
        raise PackageStays("A hand-over stays. Make another edition.")

    @property
    def is_signed(self) -> bool:
        return self.signed_on is not None
