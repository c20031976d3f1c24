"""A search for a plan: what it was asked, how far it came, the best it found."""

from django.conf import settings
from django.db import models
from django.urls import reverse


class RunState(models.TextChoices):
    RUNNING = "running", "still looking"
    DONE = "done", "finished"
    STOPPED = "stopped", "stopped"
    FAILED = "failed", "broke off"
    FIXED = "fixed", "on the board"


class PlanRun(models.Model):
    """`standing` is a mark of the board it started from: a plan for another board is refused."""

    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    started_at = models.DateTimeField(auto_now_add=True)
    first_day = models.DateField()
    seconds = models.PositiveSmallIntegerField(default=10)
    state = models.CharField(max_length=8, choices=RunState, default=RunState.RUNNING)
    stop_asked = models.BooleanField(default=False)
    standing = models.CharField(max_length=64)
    best_cost = models.FloatField(null=True, blank=True)
    bound = models.FloatField(null=True, blank=True)
    words = models.CharField(max_length=300, blank=True)
    answer = models.JSONField(default=dict, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-started_at", "-pk"]
        verbose_name = "search for a plan"

    def __str__(self) -> str:
        return f"Plan from {self.first_day}"

    def get_absolute_url(self) -> str:
        return reverse("schedule:run", args=[self.pk])

    @property
    def is_running(self) -> bool:
        return self.state == RunState.RUNNING
