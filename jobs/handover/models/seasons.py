"""Visits after the hand-over: the first check, out in autumn, in in spring."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse

from jobs.handover.querysets.handover import SeasonVisitQuerySet


class VisitKind(models.TextChoices):
    FIRST_CHECK = "first", "first-season check"
    HAUL_OUT = "out", "haul-out"
    PUT_IN = "in", "put-in"


class SeasonDates(models.Model):
    """When the firm's season begins and ends; one row, the firm's own figures."""

    first_check_weeks = models.PositiveSmallIntegerField(
        "weeks to the first check", default=6, validators=[MinValueValidator(1), MaxValueValidator(52)]
    )
    out_month = models.PositiveSmallIntegerField("haul-out, month", default=10, validators=[MaxValueValidator(12)])
    out_day = models.PositiveSmallIntegerField("haul-out, day", default=15, validators=[MaxValueValidator(31)])
    in_month = models.PositiveSmallIntegerField("put-in, month", default=5, validators=[MaxValueValidator(12)])
    in_day = models.PositiveSmallIntegerField("put-in, day", default=1, validators=[MaxValueValidator(31)])
    remind_days = models.PositiveSmallIntegerField(
        "days of warning", default=30, validators=[MinValueValidator(1), MaxValueValidator(180)]
    )
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = "dates of the season"
        constraints = [
            models.CheckConstraint(condition=models.Q(pk=1), name="season_dates_one_row"),
        ]

    def __str__(self) -> str:
        return "Dates of the season"

    def get_absolute_url(self) -> str:
        return reverse("handover:season")


class SeasonVisit(models.Model):
    """One visit to a dock. What was found is written when it is done; the next one of its kind follows a year later."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="season_visits")
    kind = models.CharField(max_length=5, choices=VisitKind)
    due_on = models.DateField("due")
    done_on = models.DateField("done", null=True, blank=True)
    done_by_name = models.CharField("done by", max_length=150, blank=True)
    level_in = models.FloatField("water level", null=True, blank=True)
    measured = models.JSONField("measured", default=dict, blank=True)
    found = models.TextField("what was found", blank=True)
    storage = models.CharField("where it is stored", max_length=200, blank=True)
    dropped_why = models.CharField("why it is not done", max_length=200, blank=True)
    version = models.PositiveIntegerField(default=1)

    objects = SeasonVisitQuerySet.as_manager()

    class Meta:
        ordering = ["due_on", "pk"]
        verbose_name = "season visit"
        indexes = [models.Index(fields=["done_on", "due_on"], name="season_visit_due")]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "kind", "due_on"],
                name="season_visit_once",
                violation_error_message="This visit is on the list already.",
            ),
            models.CheckConstraint(
                condition=models.Q(done_on__isnull=True) | ~models.Q(done_by_name=""),
                name="season_visit_done_by_somebody",
                violation_error_message="A visit is done by somebody.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.job.number} {self.get_kind_display()}"

    def get_absolute_url(self) -> str:
        return reverse("handover:visit", args=[self.pk])

    @property
    def is_open(self) -> bool:
        return self.done_on is None and not self.dropped_why
