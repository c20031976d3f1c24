"""What holds a job that no record says by itself."""

from django.conf import settings
from django.db import models
from django.db.models import Q

STAGES = ("layout", "framing", "flotation", "launch", "decking", "anchoring", "handover")


class HoldKind(models.TextChoices):
    CUSTOMER = "customer", "customer’s answer"
    SIGNATURE = "signature", "signature"
    CANCELLATION = "cancellation", "cancellation time"
    DEPOSIT = "deposit", "deposit"
    PERMIT = "permit", "permit"
    DESIGN = "design", "approval of a changed design"
    FLOATS = "floats", "floats"
    HARDWARE = "hardware", "hardware"
    LUMBER = "lumber", "lumber"
    OTHER = "other", "another thing"
    WINDOW = "window", "work window"
    ICE = "ice", "ice"
    WATER = "water", "water level"
    WEATHER = "weather", "weather"
    CREW = "crew", "crew"
    MACHINE = "machine", "boat or machine"
    DEFECTS = "defects", "defects of the stage before"
    INSPECTION = "inspection", "inspection"
    PAYMENT = "payment", "final payment"


# What a record shows when it is there; a hold for anything else is cleared by hand.
KNOWN_KINDS = (
    HoldKind.SIGNATURE,
    HoldKind.DEPOSIT,
    HoldKind.PERMIT,
    HoldKind.FLOATS,
    HoldKind.HARDWARE,
    HoldKind.LUMBER,
)


class Hold(models.Model):
    """Somebody said that this job waits, for what, and who acts. It is cleared with a reason, never deleted."""

    job = models.ForeignKey("records.Job", on_delete=models.PROTECT, related_name="holds")
    kind = models.CharField("waits for", max_length=12, choices=HoldKind)
    words = models.CharField("for what exactly", max_length=200)
    since = models.DateField("since")
    promised_on = models.DateField("promised for", null=True, blank=True)
    who_acts = models.CharField("who acts", max_length=120)
    check_on = models.DateField("look again on", null=True, blank=True)
    ends_itself = models.BooleanField("ends by itself", default=False)
    stages = models.JSONField("stages it blocks", default=list, blank=True)
    set_at = models.DateTimeField(auto_now_add=True)
    set_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="+")
    set_by_name = models.CharField(max_length=150)
    cleared_on = models.DateField("cleared", null=True, blank=True)
    cleared_by_name = models.CharField(max_length=150, blank=True)
    cleared_reason = models.CharField("why it holds no more", max_length=300, blank=True)

    class Meta:
        ordering = ["since", "pk"]
        indexes = [models.Index(fields=["job"], name="hold_standing", condition=Q(cleared_on=None))]
        constraints = [
            models.CheckConstraint(
                condition=~Q(words=""), name="hold_says_what", violation_error_message="Say what the job waits for."
            ),
            models.CheckConstraint(
                condition=Q(cleared_on=None) | ~Q(cleared_reason=""),
                name="hold_cleared_with_reason",
                violation_error_message="Say why it holds no more.",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()}: {self.words}"
