"""Defects: what is not as it should be, until somebody signs it off with a reason."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from jobs.fieldwork.querysets.fieldwork import DefectQuerySet

from .orders import WorkStage


class Severity(models.TextChoices):
    SMALL = "small", "small"
    MUST = "must", "must be put right"


class Defect(models.Model):
    """Found by a measure out of its tolerance, or by somebody. While it is open it holds the stage it names."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="defects")
    stage = models.CharField("found in", max_length=10, choices=WorkStage)
    holds_stage = models.CharField("holds", max_length=10, choices=WorkStage, blank=True)
    order = models.ForeignKey(
        "fieldwork.WorkOrder", on_delete=models.PROTECT, null=True, blank=True, related_name="defects"
    )
    key = models.CharField(max_length=60, blank=True)  # the blank that showed it; empty when somebody wrote it
    words = models.CharField("what is wrong", max_length=300)
    place = models.CharField("where", max_length=120, blank=True)
    severity = models.CharField("how bad", max_length=6, choices=Severity, default=Severity.MUST)
    owner = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        verbose_name="who puts it right",
    )
    due_on = models.DateField("by", null=True, blank=True)
    found_at = models.DateTimeField(auto_now_add=True)
    found_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    found_by_name = models.CharField(max_length=120)
    signed_off_at = models.DateTimeField(null=True, blank=True)
    signed_off_by_name = models.CharField("signed off by", max_length=120, blank=True)
    reason = models.CharField("why it may stay, or how it was put right", max_length=300, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = DefectQuerySet.as_manager()

    class Meta:
        ordering = ["-found_at", "-pk"]
        indexes = [models.Index(fields=["job", "signed_off_at"], name="defect_open")]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(words=""),
                name="defect_says_something",
                violation_error_message="Say what is wrong.",
            ),
            models.CheckConstraint(
                condition=models.Q(signed_off_at__isnull=True)
                | (~models.Q(signed_off_by_name="") & ~models.Q(reason="")),
                name="defect_signed_off_with_reason",
                violation_error_message="Whoever signs it off says why.",
            ),
        ]

    def __str__(self) -> str:
        return self.words[:80]

    def get_absolute_url(self) -> str:
        return reverse("fieldwork:defect", args=[self.pk])

    @property
    def is_open(self) -> bool:
        return self.signed_off_at is None
