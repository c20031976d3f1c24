"""What the crew wrote on a sheet: added, never overwritten."""

from django.conf import settings
from django.db import models

from jobs.fieldwork.querysets.fieldwork import EntryQuerySet


class EntryKind(models.TextChoices):
    LENGTH = "length", "length"
    SMALL = "small", "freeboard or gap"
    LEVEL = "level", "level or depth"
    COUNT = "count", "count"
    TICK = "tick", "tick"
    WORDS = "words", "words"
    HOURS = "hours", "hours"


class Source(models.TextChoices):
    PHONE = "phone", "on the phone"
    PAPER = "paper", "from the paper"


class EntriesStay(TypeError):
    """An entry is added, never changed or taken away."""


class Entry(models.Model):
    """One blank of a sheet as one person gave it. `number` is in engine units: inches, hours, or a count."""

    order = models.ForeignKey("fieldwork.WorkOrder", on_delete=models.PROTECT, related_name="entries")
    batch = models.UUIDField()  # what was kept with one press
    key = models.CharField(max_length=60)
    label = models.CharField(max_length=120)
    kind = models.CharField(max_length=8, choices=EntryKind)
    number = models.FloatField(null=True, blank=True)
    words = models.TextField(blank=True)
    expected = models.FloatField(null=True, blank=True)
    day = models.DateField()  # the day it was measured or worked
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="hours_worked"
    )
    person_name = models.CharField(max_length=120, blank=True)  # whose hours; need not be somebody who signs in
    source = models.CharField(max_length=6, choices=Source, default=Source.PHONE)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    by_name = models.CharField(max_length=120)

    objects = EntryQuerySet.as_manager()

    class Meta:
        ordering = ["at", "pk"]
        verbose_name_plural = "entries"
        indexes = [models.Index(fields=["order", "key"], name="entry_by_blank")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(number__isnull=False) | ~models.Q(words=""),
                name="entry_says_something",
                violation_error_message="Write a figure or words.",
            ),
            models.CheckConstraint(
                condition=~models.Q(kind="hours")
                | (~models.Q(person_name="") & models.Q(number__gte=0, number__lte=24)),
                name="entry_hours_of_somebody",
                violation_error_message="Hours are somebody’s, from 0 to 24 in a day.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.label} of {self.order}"

    def save(self, *args, **kwargs) -> None:
        if self.pk is not None:
            raise EntriesStay("An entry stays as it was written. Add another.")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise EntriesStay("An entry stays as it was written. Add another.")
