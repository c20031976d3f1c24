"""The stages of a job as they stand on the board: hours, crew, days, what is done and what is held."""

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.urls import reverse

from jobs.schedule.querysets.schedule import JobStageQuerySet


class BuildStage(models.TextChoices):
    """The six stages and launch, in the engine's order and words."""

    LAYOUT = "layout", "layout"
    FRAMING = "framing", "framing"
    FLOTATION = "flotation", "flotation"
    LAUNCH = "launch", "launch"
    DECKING = "decking", "decking"
    ANCHORING = "anchoring", "anchoring"
    HANDOVER = "handover", "hand-over"


class Weight(models.IntegerChoices):
    """How much a late day at this job counts beside one elsewhere."""

    USUAL = 1, "as any other"
    MORE = 2, "twice"
    MOST = 4, "four times"


class JobPlan(models.Model):
    """How one job is to be built, as far as its days depend on it."""

    job = models.OneToOneField("records.Job", on_delete=models.PROTECT, related_name="plan")
    built_in_yard = models.BooleanField("layout and framing in the yard", default=True)
    launch_first = models.BooleanField("launched before the boards are on", default=True)
    weight = models.PositiveSmallIntegerField("a late day counts", choices=Weight, default=Weight.USUAL)
    quote_letter = models.CharField(max_length=3, blank=True)  # the accepted quote its hours came from
    version = models.PositiveIntegerField(default=1)

    class Meta:
        verbose_name = "plan of a job"

    def __str__(self) -> str:
        return f"Plan of {self.job.number}"


class JobStage(models.Model):
    """One stage of one job. Crew and days are all set or all empty; a pinned stage stays where the owner put it."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="build_stages")
    stage = models.CharField("stage", max_length=10, choices=BuildStage)
    position = models.PositiveSmallIntegerField()
    planned_hours = models.DecimalField(
        "planned hours", max_digits=7, decimal_places=2, validators=[MinValueValidator(0)]
    )
    crew = models.ForeignKey(
        "schedule.Crew", on_delete=models.PROTECT, null=True, blank=True, related_name="stages", verbose_name="crew"
    )
    starts_on = models.DateField("starts", null=True, blank=True)
    ends_on = models.DateField("ends", null=True, blank=True)
    pinned = models.BooleanField("stays where it is", default=False)
    done_on = models.DateField("done", null=True, blank=True)
    done_by_name = models.CharField("done by", max_length=120, blank=True)
    held_why = models.CharField("held", max_length=300, blank=True)
    held_since = models.DateField("held since", null=True, blank=True)
    held_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    version = models.PositiveIntegerField(default=1)

    objects = JobStageQuerySet.as_manager()

    class Meta:
        ordering = ["job_id", "position"]
        verbose_name = "stage"
        indexes = [models.Index(fields=["starts_on", "ends_on"], name="job_stage_days")]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "stage"],
                name="job_stage_once",
                violation_error_message="This job has that stage already.",
            ),
            models.CheckConstraint(
                condition=models.Q(crew__isnull=True, starts_on__isnull=True, ends_on__isnull=True, pinned=False)
                | models.Q(crew__isnull=False, starts_on__isnull=False, ends_on__gte=models.F("starts_on")),
                name="job_stage_days_whole",
                violation_error_message="A planned stage has a crew, a first and a last day, in that order.",
            ),
            models.CheckConstraint(
                condition=models.Q(planned_hours__gte=0),
                name="job_stage_hours",
                violation_error_message="Hours are zero or more.",
            ),
            models.CheckConstraint(
                condition=models.Q(held_why="", held_since__isnull=True)
                | (~models.Q(held_why="") & models.Q(held_since__isnull=False)),
                name="job_stage_hold_whole",
                violation_error_message="A hold says why and since when.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.job.number} {self.get_stage_display()}"

    def get_absolute_url(self) -> str:
        return reverse("schedule:job", args=[self.job.number])

    @property
    def is_done(self) -> bool:
        return self.done_on is not None

    @property
    def is_placed(self) -> bool:
        return self.starts_on is not None

    @property
    def key(self) -> str:
        return f"{self.job.number}/{self.stage}"
