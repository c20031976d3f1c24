"""A price list or catalogue file that someone looks at before it counts."""

from django.conf import settings
from django.db import models
from django.db.models import Q


class ImportState(models.TextChoices):
    WAITING = "waiting", "Waiting for a yes"
    APPLIED = "applied", "Taken in"
    DROPPED = "dropped", "Put aside"


class Import(models.Model):
    """The rows of one uploaded file, as text, with the row and column each cell came from."""

    file_name = models.CharField(max_length=120)
    sheet = models.JSONField()  # emptied once decided
    state = models.CharField(max_length=8, choices=ImportState, default=ImportState.WAITING)
    uploaded_at = models.DateTimeField(auto_now_add=True)
    uploaded_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    outcome = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state=ImportState.WAITING, decided_at=None)
                | (~Q(state=ImportState.WAITING) & Q(decided_at__isnull=False)),
                name="import_decided_once",
            )
        ]

    def __str__(self) -> str:
        return self.file_name
