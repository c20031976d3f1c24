"""A work order: one stage of a job as it was printed for the crew."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from jobs.fieldwork.querysets.fieldwork import WorkOrderQuerySet


class WorkStage(models.TextChoices):
    """The stages the crew works through, in the engine's order and words."""

    LAYOUT = "layout", "layout"
    FRAMING = "framing", "framing"
    FLOTATION = "flotation", "flotation"
    LAUNCH = "launch", "launch"
    DECKING = "decking", "decking"
    ANCHORING = "anchoring", "anchoring"
    HANDOVER = "handover", "hand-over"


STAGE_NUMBERS = {stage: number for number, stage in enumerate(WorkStage.values, 1)}


class WorkOrder(models.Model):
    """One sheet: a stage of a job under one revision letter. Printed again, it keeps its number.

    `document` is the spec it was printed from, as it stood then. The level is the one expected on `level_on`.
    """

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="work_orders")
    stage = models.CharField(max_length=10, choices=WorkStage)
    number = models.CharField("sheet", max_length=16)
    letter = models.CharField("revision", max_length=3)
    position = models.PositiveSmallIntegerField()  # of the spec revision: A is 1
    sold = models.BooleanField("from an accepted quote")
    document = models.JSONField()
    level_in = models.FloatField("water level", null=True, blank=True)
    level_on = models.DateField("level of", null=True, blank=True)
    level_words = models.CharField("how the level is known", max_length=200, blank=True)
    printed_at = models.DateTimeField("printed")
    printed_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    version = models.PositiveIntegerField(default=1)

    objects = WorkOrderQuerySet.as_manager()

    class Meta:
        ordering = ["job_id", "number", "position"]
        verbose_name = "work order"
        indexes = [models.Index(fields=["number"], name="work_order_number")]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "stage", "letter"],
                name="work_order_once_a_letter",
                violation_error_message="This stage already has a sheet with that letter.",
            ),
            models.CheckConstraint(
                condition=models.Q(stage__in=WorkStage.values),
                name="work_order_stage_known",
                violation_error_message="Choose a stage.",
            ),
        ]

    def __str__(self) -> str:
        return f"Sheet {self.number} {self.letter}"

    def get_absolute_url(self) -> str:
        return reverse("fieldwork:key_in", args=[self.number, self.letter])
