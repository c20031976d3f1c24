"""Hours: how long one of each task takes, and what the site does to it."""

from django.db import models
from django.db.models import Q


class LabourRate(models.Model):
    """Worker-hours for one unit of a task: the tasks are fixed, the figures the firm's."""

    code = models.CharField(max_length=40, unique=True)
    stage = models.CharField(max_length=20)
    task = models.CharField(max_length=80)
    hours_per_unit = models.DecimalField(max_digits=10, decimal_places=6)
    unit = models.CharField(max_length=40)
    source = models.CharField(max_length=40, default="FIRM")
    position = models.PositiveSmallIntegerField(default=0)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(hours_per_unit__gte=0, hours_per_unit__lte=1000),
                name="labour_rate_sane",
                violation_error_message="Hours are from 0 to 1000 for one.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.task}: {self.hours_per_unit.normalize():f} h per {self.unit}"


class LabourFactor(models.Model):
    """What hours are multiplied by where the site asks for it."""

    when = models.CharField(max_length=40, unique=True)
    name = models.CharField(max_length=80)
    factor = models.DecimalField(max_digits=5, decimal_places=3)
    position = models.PositiveSmallIntegerField(default=0)
    version = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(factor__gte=1, factor__lte=10),
                name="labour_factor_sane",
                violation_error_message="A factor is from 1 (no more hours) to 10.",
            )
        ]

    def __str__(self) -> str:
        return f"{self.name}: {self.factor.normalize():f}"
