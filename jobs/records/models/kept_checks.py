"""Checks of a spec that somebody decided to live with."""

from django.conf import settings
from django.db import models
from django.utils import timezone

from .saying import day_said


class ReasonsStay(TypeError):
    """Why a Check was kept stays as it was written."""


class KeptCheck(models.Model):
    """A Check kept as it is: what it said, and who kept it, when and why. It opens again when the fact changes."""

    revision = models.ForeignKey("records.SpecRevision", on_delete=models.PROTECT, related_name="kept_checks")
    key = models.CharField(max_length=600)  # what the Check says, in engine units
    headline = models.CharField(max_length=600)
    reason = models.CharField("why it is kept", max_length=300)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    by_name = models.CharField(max_length=150)

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(reason=""),
                name="kept_check_has_reason",
                violation_error_message="Say why the Check is kept.",
            )
        ]

    def __str__(self) -> str:
        return self.headline[:60]

    @property
    def words(self) -> str:
        """Who kept it, when and why."""
        return f"{self.by_name}, {day_said(timezone.localtime(self.at).date())}: “{self.reason}”"

    def save(self, *args, **kwargs) -> None:
        if self.pk is not None:
            raise ReasonsStay("A reason stays as it was written. Keep the Check again with another.")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise ReasonsStay("A reason stays as it was written.")
