"""Photos from the work, made anew from their dots alone."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from .orders import WorkStage


class Photo(models.Model):
    """A photo of a job. The file is our own JPEG of what came in: place, camera and time went with the original."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="photos")
    stage = models.CharField(max_length=10, choices=WorkStage)
    order = models.ForeignKey(
        "fieldwork.WorkOrder", on_delete=models.PROTECT, null=True, blank=True, related_name="photos"
    )
    defect = models.ForeignKey(
        "fieldwork.Defect", on_delete=models.PROTECT, null=True, blank=True, related_name="photos"
    )
    file = models.FileField(upload_to="photos/%Y/%m/")
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    caption = models.CharField("what it shows", max_length=200, blank=True)
    sha256 = models.CharField(max_length=64)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    by_name = models.CharField(max_length=120)

    class Meta:
        ordering = ["at", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "sha256"],
                name="photo_once_a_job",
                violation_error_message="This photo is here already.",
            ),
        ]

    def __str__(self) -> str:
        return self.caption or f"Photo {self.pk} of {self.job}"

    def get_absolute_url(self) -> str:
        return reverse("fieldwork:photo", args=[self.pk])
