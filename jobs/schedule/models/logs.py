"""What was paid at signing, what the weather took, what delayed a job, and which gate somebody answered for."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from .stages import BuildStage


class Kept(models.Model):
    """Added, never changed: a wrong line is struck out and stays readable."""

    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    by_name = models.CharField(max_length=120)
    struck_out = models.BooleanField(default=False)

    class Meta:
        abstract = True


class DepositIn(Kept):
    """Money of the deposit that has cleared."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="deposits_in")
    amount = models.DecimalField("amount", max_digits=12, decimal_places=2, validators=[MinValueValidator(0)])
    cleared_on = models.DateField("cleared")
    how = models.CharField("how", max_length=80, blank=True)

    class Meta:
        ordering = ["cleared_on", "pk"]
        verbose_name = "deposit"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(amount__gt=0),
                name="deposit_in_above_zero",
                violation_error_message="A payment is more than nothing.",
            )
        ]

    def __str__(self) -> str:
        return f"Deposit of {self.job.number}"


class WaivedGate(models.TextChoices):
    """The gates the owner may answer for. A permit, a window, ice and people on the water are not among them."""

    CANCELLATION = "cancellation", "the time to cancel"
    DEPOSIT = "deposit", "the deposit"
    MATERIALS = "materials", "the materials"


class Waiver(Kept):
    """The owner takes the risk of one gate of one job, with a reason."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="waivers")
    gate = models.CharField("what", max_length=12, choices=WaivedGate)
    stage = models.CharField("for", max_length=10, choices=BuildStage, blank=True)  # empty: every stage
    reason = models.CharField("why", max_length=300)

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name = "risk taken"
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(reason=""), name="waiver_has_reason", violation_error_message="Say why."
            )
        ]

    def __str__(self) -> str:
        return f"{self.get_gate_display()} of {self.job.number}"


class Cause(models.TextChoices):
    WIND = "wind", "wind"
    LIGHTNING = "lightning", "lightning"
    FOG = "fog", "poor visibility"
    RAIN = "rain", "rain"
    ICE = "ice", "ice"
    HIGH_WATER = "high water", "high water"
    LOW_WATER = "low water", "low water"
    COLD = "cold", "cold water or air"
    GOODS = "goods", "goods late"
    PEOPLE = "people", "people missing"
    CUSTOMER = "customer", "the customer asked"
    OTHER = "other", "something else"


WEATHER = (Cause.WIND, Cause.LIGHTNING, Cause.FOG, Cause.RAIN, Cause.ICE, Cause.HIGH_WATER, Cause.LOW_WATER, Cause.COLD)


class WeatherLog(Kept):
    """A day the weather took from a crew, or from all: the evidence for more time."""

    day = models.DateField("day")
    crew = models.ForeignKey(
        "schedule.Crew", on_delete=models.PROTECT, null=True, blank=True, related_name="weather", verbose_name="crew"
    )
    cause = models.CharField("cause", max_length=12, choices=[(cause.value, cause.label) for cause in WEATHER])
    words = models.CharField("what was seen", max_length=300)
    decided_by_name = models.CharField("who decided", max_length=120)
    hours_lost = models.DecimalField(
        "hours lost",
        max_digits=5,
        decimal_places=2,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(200)],
    )

    class Meta:
        ordering = ["-day", "-pk"]
        verbose_name = "weather day"

    def __str__(self) -> str:
        return f"{self.day}: {self.cause}"


class DelayLog(Kept):
    """A stage that moved later: from which day to which, and why."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="delays")
    stage = models.CharField("stage", max_length=10, choices=BuildStage, blank=True)
    was_on = models.DateField("was to start", null=True, blank=True)
    now_on = models.DateField("starts now", null=True, blank=True)
    cause = models.CharField("cause", max_length=12, choices=Cause, default=Cause.OTHER)
    words = models.CharField("what happened", max_length=300)

    class Meta:
        ordering = ["-at", "-pk"]
        verbose_name = "delay"

    def __str__(self) -> str:
        return f"{self.job.number}: {self.words}"[:80]
